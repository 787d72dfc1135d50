package provisions

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// larderOf is a boat for one person with nothing but food. Energies in kcal per
// 100 g are of the USDA National Nutrient Database, Release 28, unless a test
// makes up its own.
func larderOf(energy quantity.Energy, foods []Food, rations []Ration, lots ...Lot) Boat {
	return Boat{
		Foods: foods,
		Lots:  lots,
		Rates: Rates{
			Energy: energy, Rations: rations,
			Reserve: map[passage.Thing]Reserve{passage.Food: {Days: 2}},
		},
	}
}

// eaten is the reckoning for so many people and days.
func eaten(b Boat, crew int, length float64) Reckoning {
	return reckoned(b, one(crew), Aboard{}, days(length), galley{})
}

func fedDays(b Boat) float64 { return eaten(b, 1, 3).first(passage.Food).LastDrop.Days }

// plain is a food of 100 kcal per 100 g in packs of 100 g: a pack is 100 kcal.
func plain(name string) Food { return Food{Name: name, Pack: 0.1, Kcal: 100} }

func packs(food string, n float64, bestBefore int) Lot {
	l := Lot{Food: food, Packs: n}
	if bestBefore > 0 {
		l.BestBefore = day(1).AddDays(bestBefore - 1)
	}
	return l
}

// Row F1 of the reference.
func dayOfF1() ([]Food, []Ration) {
	var (
		foods   []Food
		rations []Ration
	)
	for _, f := range []struct {
		name  string
		kcal  float64
		grams quantity.Mass
	}{
		{"rice", 365, 80},
		{"pasta", 371, 100},
		{"oats", 379, 60},
		{"peanut butter", 598, 30},
		{"olive oil", 884, 25},
		{"sugar", 387, 40},
		{"milk", 61, 250},
		{"dark chocolate", 598, 30},
		{"lentils", 352, 60},
		{"tuna in oil", 198, 60},
		{"bread", 266, 100},
	} {
		foods = append(foods, Food{Name: f.name, Kcal: f.kcal, Pack: 1})
		rations = append(rations, Ration{Food: f.name, Each: f.grams / 1000})
	}
	return foods, rations
}

func TestRationsAddUpToTheirEnergy(t *testing.T) {
	foods, rations := dayOfF1()
	r := Rates{Rations: rations}
	assert.InDelta(t, 2373.5, float64(r.DailyEnergy(foods)), 0.5, "F1, SR28")

	r.Rations = append(r.Rations, Ration{Food: "ambrosia", Each: 1})
	assert.InDelta(t, 2373.5, float64(r.DailyEnergy(foods)), 0.5, "an unknown food adds nothing")
}

// Row F2 of the reference: 94.9 % of 2500 kcal is a day, 87.9 % of 2700 is none.
func TestDayOfF1IsEnoughFor2500AndNotFor2700(t *testing.T) {
	foods, rations := dayOfF1()
	lots := make([]Lot, 0, len(foods))
	for _, f := range foods {
		lots = append(lots, Lot{Food: f.Name, Packs: 1})
	}

	enough := eaten(larderOf(2500, foods, rations, lots...), 1, 3)
	assert.True(t, enough.FoodDays[0].Enough)
	assert.InDelta(t, 0.949, float64(enough.FoodDays[0].Eaten/enough.FoodDays[0].Wanted), 0.001)

	short := eaten(larderOf(2700, foods, rations, lots...), 1, 3)
	require.Len(t, short.FoodDays, 1)
	assert.False(t, short.FoodDays[0].Enough)
	assert.InDelta(t, 0.879, float64(short.FoodDays[0].Eaten/short.FoodDays[0].Wanted), 0.001)
	assert.Zero(t, short.first(passage.Food).LastDrop.Days)
}

// Rows E1 and E2: total expenditures of FAO/WHO/UNU, Human Energy Requirements,
// 2001 (5.4.1 and chapter 5), as the energy wanted; nine tenths of it is a day.
func TestNineTenthsOfPublishedEnergyIsADay(t *testing.T) {
	for _, c := range []struct {
		name          string
		bmr, pal, tee float64
		within        float64
	}{
		{"E1, woman of 25 y, 55 kg: 14.818*55 + 486.6", 14.818*55 + 486.6, 1.85, 2410, 3},
		{"E2, man of 22 y, 70 kg: 15.057*70 + 692.2", 15.057*70 + 692.2, 2.25, 3925, 5},
	} {
		require.InDelta(t, c.tee, c.bmr*c.pal, c.within, c.name)
		for _, edge := range []struct {
			share float64
			fed   float64
		}{{0.8999, 0}, {0.9, 10}, {0.9001, 10}, {1, 10}} {
			ration := quantity.Mass(c.tee * edge.share / 1000) // of 100 kcal in 100 g: kg
			b := larderOf(quantity.Energy(c.tee), []Food{plain("hash")}, []Ration{{"hash", ration}},
				packs("hash", 10*float64(ration)/0.1, 0))
			assert.Equal(t, edge.fed, fedDays(b), "%s, %v of it", c.name, edge.share)
		}
	}
}

// Rows F3 to F5 of the reference.
func TestPackEnergyLeavesOutTheRefuse(t *testing.T) {
	for _, c := range []struct {
		name   string
		food   Food
		packs  float64
		want   float64
		within float64
	}{
		{"F3, potatoes, SR28 11352", Food{Pack: 2, Kcal: 77, Refuse: 0.25}, 1, 1155, 1},
		{"F4, eggs, SR28 01123", Food{Pack: 0.05, Kcal: 143, Refuse: 0.12}, 12, 755, 1},
		{"F5, oranges, SR28 09200", Food{Pack: 1, Kcal: 47, Refuse: 0.27}, 1, 343, 1},
	} {
		assert.InDelta(t, c.want, float64(c.food.PackEnergy())*c.packs, c.within, c.name)

		// All of it eaten on the one day it is enough for.
		c.food.Name = "it"
		b := larderOf(quantity.Energy(c.want), []Food{c.food}, []Ration{{"it", 10}}, Lot{Food: "it", Packs: c.packs})
		assert.InDelta(t, c.want, float64(eaten(b, 1, 3).FoodDays[0].Eaten), c.within, c.name)
	}
}

// Row F6 of the reference: 80 g of rice (365) is replaced by 78.7 g of pasta (371).
func TestInsteadIsEatenByEqualEnergy(t *testing.T) {
	rice := Food{Name: "rice", Pack: 1, Kcal: 365, Instead: "pasta"}
	pasta := Food{Name: "pasta", Pack: 1, Kcal: 371, Instead: "oats"}
	oats := Food{Name: "oats", Pack: 1, Kcal: 379}
	foods := []Food{rice, pasta, oats}
	rations := []Ration{{"rice", 0.08}}

	p := stock(larderOf(292, foods, rations, Lot{Food: "pasta", Packs: 1}), Aboard{}, 1, sails, galley{})
	assert.InDelta(t, 292, p.eat(0), 1e-9)
	assert.InDelta(t, 78.7, 1000-p.shelves[1].batches[0].grams, 0.1, "F6")

	half := stock(larderOf(292, foods, rations, Lot{Food: "rice", Packs: 0.04}, Lot{Food: "pasta", Packs: 1}), Aboard{}, 1, sails, galley{})
	assert.InDelta(t, 292, half.eat(0), 1e-9)
	assert.InDelta(t, 78.7/2, 1000-half.shelves[1].batches[0].grams, 0.1, "only what is missing")

	one := stock(larderOf(292, foods, rations, Lot{Food: "oats", Packs: 1}), Aboard{}, 1, sails, galley{})
	assert.Zero(t, one.eat(0), "one step only")
}

func TestInsteadComesBeforeTheNextRation(t *testing.T) {
	a, b := plain("a"), plain("b")
	a.Instead = "b"
	// A is gone: its 100 g come from B, and B's own ration finds 50 of its 100 g.
	p := stock(larderOf(200, []Food{a, b}, []Ration{{"a", 0.1}, {"b", 0.1}}, packs("b", 1.5, 0)), Aboard{}, 1, sails, galley{})
	assert.InDelta(t, 150, p.eat(0), 1e-9)
	assert.Zero(t, p.shelves[1].batches[0].grams)
}

func TestInsteadThatIsNoRationFillsNothing(t *testing.T) {
	a, b, c := plain("a"), plain("b"), plain("c")
	a.Instead = "c"
	foods := []Food{a, b, c}
	rations := []Ration{{"a", 0.1}, {"b", 0.1}}

	// B is gone and has no instead; a fills up at most as much again, C nothing.
	p := stock(larderOf(200, foods, rations, packs("a", 1, 0), packs("c", 9, 0)), Aboard{}, 1, sails, galley{})
	assert.InDelta(t, 100, p.eat(0), 1e-9)
	assert.InDelta(t, 900, p.shelves[2].batches[0].grams, 1e-9)
	assert.InDelta(t, 100, p.eat(1), 1e-9, "then it stands for A, and still not for B")
}

func TestWhatIsMissingIsFilledUpToTwiceTheRation(t *testing.T) {
	foods := []Food{plain("a"), plain("b"), plain("c")}
	rations := []Ration{{"a", 0.1}, {"b", 0.1}, {"c", 0.2}}

	for _, c := range []struct {
		name     string
		lots     []Lot
		eaten    float64
		leftOf   int
		leftover float64
	}{
		{"C gone: A and B give as much again", []Lot{packs("a", 9, 0), packs("b", 9, 0)}, 400, 0, 700},
		{"B and C gone: A gives no more than that", []Lot{packs("a", 9, 0)}, 200, 0, 700},
		{"soonest date first", []Lot{packs("a", 9, 20), packs("b", 9, 10), packs("c", 1.5, 9)}, 400, 1, 750},
		{"of equal dates the rations' order", []Lot{packs("a", 9, 9), packs("b", 9, 9), packs("c", 1.5, 9)}, 400, 0, 750},
		{"no date last", []Lot{packs("a", 9, 0), packs("b", 9, 30), packs("c", 1.5, 9)}, 400, 1, 750},
	} {
		p := stock(larderOf(400, foods, rations, c.lots...), Aboard{}, 1, sails, galley{})
		assert.InDelta(t, c.eaten, p.eat(0), 1e-9, c.name)
		assert.InDelta(t, c.leftover, p.shelves[c.leftOf].batches[0].grams, 1e-9, c.name)
	}
}

func TestFillingIsMeasuredOverAllLotsOfAFood(t *testing.T) {
	foods := []Food{plain("a"), plain("gone")}
	b := larderOf(400, foods, []Ration{{"a", 0.1}, {"gone", 0.3}}, packs("a", 1.5, 5), packs("a", 9, 6))
	p := stock(b, Aboard{}, 1, sails, galley{})
	assert.InDelta(t, 200, p.eat(0), 1e-9)
	assert.InDelta(t, 850, p.shelves[0].batches[1].grams, 1e-9, "100 g filled in: 50 of each lot")
}

func TestWhatHasNoEnergyStandsForNothing(t *testing.T) {
	tea := Food{Name: "tea", Pack: 0.1}
	a := plain("a")
	a.Instead = "tea"
	b := larderOf(100, []Food{a, tea}, []Ration{{"a", 0.1}, {"tea", 0.01}}, packs("tea", 1, 0))
	p := stock(b, Aboard{}, 1, sails, galley{})
	assert.Zero(t, p.eat(0))
	assert.InDelta(t, 90, p.shelves[1].batches[0].grams, 1e-9, "its own ration and no more")
}

func TestInsteadThatIsNotThereIsNothing(t *testing.T) {
	a, b := plain("a"), plain("b")
	b.Instead = "ambrosia"
	p := stock(larderOf(100, []Food{a, b}, []Ration{{"b", 0.1}}, packs("a", 9, 0)), Aboard{}, 1, sails, galley{})
	assert.Zero(t, p.eat(0))
}

func TestFillingIsMeasuredAnewEachDay(t *testing.T) {
	foods := []Food{plain("a"), plain("b")}
	b := larderOf(200, foods, []Ration{{"a", 0.1}, {"b", 0.1}}, packs("a", 10, 0))
	assert.Equal(t, 5.0, fedDays(b), "200 g of A a day")
}

func TestTwoRationsOfOneFoodCountTogether(t *testing.T) {
	foods := []Food{plain("a"), plain("b")}
	b := larderOf(300, foods, []Ration{{"a", 0.05}, {"a", 0.1}, {"b", 0.15}}, packs("a", 12, 0))
	assert.Equal(t, 4.0, fedDays(b), "300 g of A a day, of it 150 filled in")
}

// Rows L1 to L3 of the reference: lots A 300 g to 10 June, B 500 g to 5 June,
// C 200 g to 20 June, from 1 June.
func firstExpiredFirstOut(ration quantity.Mass) Boat {
	return larderOf(quantity.Energy(ration*1000), []Food{plain("it")}, []Ration{{"it", ration}},
		packs("it", 3, 10), packs("it", 5, 5), packs("it", 2, 20))
}

func TestSoonestDateFirstWastesNothing(t *testing.T) {
	p := stock(firstExpiredFirstOut(0.1), Aboard{}, 1, sails, galley{})
	left := func() (grams [3]float64) { // B, A, C: by date
		for i, b := range p.shelves[0].batches {
			grams[i] = b.grams
		}
		return grams
	}
	want := map[int][3]float64{1: {400, 300, 200}, 5: {0, 300, 200}, 8: {0, 0, 200}, 10: {0, 0, 0}}
	for day := range 10 {
		assert.InDelta(t, 100, p.eat(day), 1e-9)
		if w, ok := want[day+1]; ok {
			assert.InDeltaSlice(t, w[:], func() []float64 { l := left(); return l[:] }(), 1e-9, "after day %d", day+1)
		}
	}

	r := eaten(firstExpiredFirstOut(0.1), 1, 3)
	assert.Equal(t, 10.0, r.first(passage.Food).LastDrop.Days, "L1, WHO Annex 5: last day fed 10 June")
	assert.Equal(t, day(10), r.FoodDays[9].Date)
	assert.True(t, r.FoodDays[9].Enough)
	assert.Equal(t, day(11), r.FoodDays[10].Date)
	assert.False(t, r.FoodDays[10].Enough)
	require.Len(t, r.FoodDays, 11)
	for _, lot := range r.Stock {
		assert.Zero(t, lot.Wasted, "L1")
	}
}

func TestWhatGoesOffBeforeItIsEatenIsTold(t *testing.T) {
	r := eaten(firstExpiredFirstOut(0.06), 1, 3)
	require.Len(t, r.Stock, 3)
	assert.Equal(t, day(5), r.Stock[0].Ends.Written)
	assert.InDelta(t, 2, r.Stock[0].Wasted, 1e-9, "L2: 200 g of B in packs of 100")
	assert.Zero(t, r.Stock[1].Wasted, "L2: A is eaten up by 10 June")
	assert.Zero(t, r.Stock[2].Wasted)
	assert.Equal(t, 13.0, r.first(passage.Food).LastDrop.Days, "L2: C from 11 June, 3 1/3 days")
}

// Two packs feed 1 and 2 June; jam is no ration.
func TestWasteIsWhatEndsBeforeTheFoodDoes(t *testing.T) {
	for date, want := range map[int]float64{1: 5, 2: 5, 3: 0, 0: 0} {
		b := larderOf(100, []Food{plain("it"), plain("jam")}, []Ration{{"it", 0.1}}, packs("it", 2, 0), packs("jam", 5, date))
		r := eaten(b, 1, 3)
		assert.InDelta(t, want, r.Stock[1].Wasted, 1e-9, "jam of %d June", date)
	}
}

func TestFirstInFirstOutWouldWaste(t *testing.T) {
	p := stock(firstExpiredFirstOut(0.1), Aboard{}, 1, sails, galley{})
	s := &p.shelves[0]
	s.batches[0], s.batches[1] = s.batches[1], s.batches[0] // A, B, C as in row L3
	for day := range 5 {
		assert.InDelta(t, 100, s.take(100, day), 1e-9)
	}
	assert.InDelta(t, 300, s.batches[1].grams, 1e-9, "L3: 300 g of B is left after its last day")
	assert.InDelta(t, 100, s.take(100, 5), 1e-9)
	assert.InDelta(t, 300, s.batches[1].grams, 1e-9, "and is not eaten")
}

func TestLotEnds(t *testing.T) {
	food := Food{Keeps: quantity.Period{Rest: 10 * 24 * time.Hour}, Grace: quantity.Period{Months: 1}}
	july := quantity.Date{Year: 2026, Month: time.July, Day: 5}
	for _, c := range []struct {
		name string
		food Food
		lot  Lot
		want DateEnd
	}{
		{"no date", food, Lot{}, DateEnd{}},
		{"best before, with its grace", food, Lot{BestBefore: day(5)}, DateEnd{Written: day(5), Last: july}},
		{"best before without grace", Food{}, Lot{BestBefore: day(5)}, DateEnd{Written: day(5), Last: day(5)}},
		{"use by has no grace", food, Lot{UseBy: day(5)}, DateEnd{Written: day(5), Last: day(5), Safety: true}},
		{"bought and keeps is a use-by", food, Lot{Bought: day(5)}, DateEnd{Written: day(15), Last: day(15), Safety: true}},
		{"bought of a food without keeps", Food{}, Lot{Bought: day(5)}, DateEnd{}},
		{"of two the one that ends it first", food, Lot{BestBefore: day(1), UseBy: day(20)}, DateEnd{Written: day(20), Last: day(20), Safety: true}},
		{"of two, the other way", Food{}, Lot{BestBefore: day(1), UseBy: day(20)}, DateEnd{Written: day(1), Last: day(1)}},
	} {
		assert.Equal(t, c.want, c.food.End(c.lot), c.name)
	}
}

// The day itself counts, the next does not; a day's ration is a pack of ten.
func TestLotCountsToItsLastDay(t *testing.T) {
	grace := plain("it")
	grace.Grace = quantity.Period{Rest: 2 * 24 * time.Hour}
	for _, c := range []struct {
		name string
		food Food
		lot  Lot
		want float64
	}{
		{"best before the day before she leaves", plain("it"), Lot{BestBefore: quantity.Date{Year: 2026, Month: time.May, Day: 31}}, 0},
		{"best before the day she leaves", plain("it"), Lot{BestBefore: day(1)}, 1},
		{"the day after", plain("it"), Lot{BestBefore: day(2)}, 2},
		{"with two days' grace", grace, Lot{BestBefore: day(2)}, 4},
		{"two days past, on the last of its grace", grace, Lot{BestBefore: quantity.Date{Year: 2026, Month: time.May, Day: 30}}, 1},
		{"three days past", grace, Lot{BestBefore: quantity.Date{Year: 2026, Month: time.May, Day: 29}}, 0},
		{"use by, no grace", grace, Lot{UseBy: day(2)}, 2},
		{"no date", plain("it"), Lot{}, 10},
	} {
		c.lot.Food, c.lot.Packs = "it", 10
		assert.Equal(t, c.want, fedDays(larderOf(100, []Food{c.food}, []Ration{{"it", 0.1}}, c.lot)), c.name)
	}
}

// A best-before of 1 June with a month's grace comes first, and outlasts a use-by of 2 June.
func TestLotThatEndsBehindOneThatStillCounts(t *testing.T) {
	food := plain("it")
	food.Grace = quantity.Period{Months: 1}
	b := larderOf(100, []Food{food}, []Ration{{"it", 0.1}},
		packs("it", 5, 1), Lot{Food: "it", Packs: 4, UseBy: day(2)}, packs("it", 2, 9))
	r := eaten(b, 1, 3)
	assert.Equal(t, Days{Days: 7}, r.first(passage.Food).LastDrop)
	assert.InDelta(t, 4, r.Stock[1].Wasted, 1e-9)

	p := stock(b, Aboard{}, 1, sails, galley{})
	assert.InDelta(t, 700, p.shelves[0].take(1000, 2), 1e-9, "on 3 June the one in the middle is passed over")
	assert.InDelta(t, 400, p.shelves[0].batches[1].grams, 1e-9)
}

func TestLotWithoutADateComesLastAndSaysSo(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, packs("it", 3, 0), packs("it", 2, 2))
	r := eaten(b, 1, 3)
	assert.Equal(t, 5.0, r.first(passage.Food).LastDrop.Days)
	assert.False(t, r.Stock[0].NoDate)
	assert.True(t, r.Stock[1].NoDate)
}

func TestFoodFiguresOfTheStretch(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, packs("it", 21, 0))
	r := eaten(b, 2, 7.25) // 21 packs feed two for ten days, and a half day more
	got := r.first(passage.Food)
	assert.InDelta(t, 14.5, float64(got.Need), 1e-9, "2*7.25, not rounded")
	assert.InDelta(t, 4, float64(got.Reserve), 1e-9)
	assert.InDelta(t, 20, float64(got.Available), 1e-9, "whole days")
	assert.Equal(t, Days{Days: 10}, got.LastDrop)
	assert.Equal(t, Days{Days: 8}, got.Endurance)
	assert.InDelta(t, 0.75, got.Margin.Days, 1e-9)
	assert.Zero(t, got.Short)
	assert.Equal(t, Holds, r.Verdict)

	got = eaten(b, 2, 8).first(passage.Food)
	assert.Zero(t, got.Short, "exactly")
	assert.Equal(t, Holds, got.Verdict())
	got = eaten(b, 2, 8.5).first(passage.Food)
	assert.InDelta(t, 1, float64(got.Short), 1e-9)
	assert.Equal(t, IntoReserve, got.Verdict())
	assert.Equal(t, IntoReserve, eaten(b, 2, 10).Verdict)
	assert.Equal(t, RunsOut, eaten(b, 2, 10.25).Verdict)
}

func TestReserveOfFoodLongerThanTheFood(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, packs("it", 1, 0))
	got := eaten(b, 1, 1).first(passage.Food)
	assert.Equal(t, Days{}, got.Endurance, "never negative")

	b.Rates.Reserve[passage.Food] = Reserve{None: true, Days: 2}
	got = eaten(b, 1, 1).first(passage.Food)
	assert.Equal(t, Days{Days: 1}, got.Endurance)
	assert.Zero(t, got.Reserve)
	assert.Equal(t, Holds, got.Verdict())
}

func TestFoodIsBoughtOnTheWay(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, packs("it", 30, 0))
	b.Engine = cruiser().Engine
	r := reckoned(b, outAndOn(), Aboard{}, handVoyages(), galley{})
	list := r.Resources[passage.Food].Stretches
	require.Len(t, list, 2)
	assert.False(t, list[0].Bought)
	assert.InDelta(t, 6, float64(list[0].Need), 1e-9)

	want := Stretch{
		From: "Middle Island", To: "Far Harbour", Start: sails.Add(96 * time.Hour),
		Hard: passage.Slow, Length: 4, Need: 12, Reserve: 6, Bought: true,
	}
	sameStretch(t, want, list[1])
}

func TestFoodIsNotComputedOnPurpose(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, nil, packs("it", 3, 0))
	b.Rates.Reserve[passage.Food] = Reserve{None: true}
	r := eaten(b, 1, 3)
	_, ok := r.Resources[passage.Food]
	assert.False(t, ok)
	assert.Empty(t, r.FoodDays)
	require.Len(t, r.Stock, 1, "what is aboard is listed all the same")
	assert.InDelta(t, 3, r.Stock[0].Packs, 1e-9)

	b.Rates.Reserve[passage.Food] = Reserve{Days: 1}
	_, ok = eaten(b, 1, 3).Resources[passage.Food]
	assert.True(t, ok)
}

func TestEatingEnds(t *testing.T) {
	huge := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, packs("it", 1e9, 0))
	assert.Equal(t, 3650.0, fedDays(huge))

	water := Food{Name: "tea", Pack: 1}
	nothing := larderOf(0, []Food{water}, []Ration{{"tea", 0.1}}, Lot{Food: "tea", Packs: 1})
	assert.Equal(t, 3650.0, fedDays(nothing), "no energy wanted")

	fedOnTea := larderOf(100, []Food{water}, []Ration{{"tea", 0.1}}, Lot{Food: "tea", Packs: 1})
	assert.Equal(t, 0.0, fedDays(fedOnTea))
}

func TestUnknownFoodsDoNotCount(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, []Ration{{"ambrosia", 1}, {"it", 0.1}}, packs("it", 3, 0), packs("nectar", 9, 0))
	r := reckoned(b, one(1), Aboard{Stock: map[string]Stock{"manna": {Lots: []Lot{packs("manna", 9, 0)}}}}, days(3), galley{})
	assert.Equal(t, Days{Days: 3}, r.first(passage.Food).LastDrop)
	assert.Len(t, r.Stock, 1)
}

// Rations are taken continuously from the count to the departure: 100 g a day for each.
func TestRationsAreTakenOffSinceTheCount(t *testing.T) {
	foods := []Food{plain("it"), plain("jam")}
	b := larderOf(200, foods, []Ration{{"it", 0.1}}, packs("it", 99, 0), packs("jam", 2, 0))
	for _, c := range []struct {
		name string
		at   time.Time
		lots []Lot
		want []float64
	}{
		{"opening lots are as of departure", time.Time{}, []Lot{packs("it", 5, 9)}, []float64{5}},
		{"a day and a half, two people", hoursBefore(36), []Lot{packs("it", 5, 9)}, []float64{2}},
		{"soonest date first", hoursBefore(36), []Lot{packs("it", 5, 9), packs("it", 2, 8)}, []float64{0, 4}},
		{"no date last", hoursBefore(12), []Lot{packs("it", 5, 0), packs("it", 2, 8)}, []float64{1, 5}},
		{"more than there is", hoursBefore(999), []Lot{packs("it", 5, 9)}, []float64{0}},
		{"counted after departure", sails.Add(time.Hour), []Lot{packs("it", 5, 9)}, []float64{5}},
		// Leaves 1 June 05:30; the count is of 30 May 05:30. The lot of 30 May is good for 18.5 h, 1.5417
		// packs; the rest of the 4 packs comes from the other.
		{
			"a lot is eaten until its last day is over", hoursBefore(48),
			[]Lot{{Food: "it", Packs: 9, BestBefore: quantity.Date{Year: 2026, Month: time.May, Day: 30}}, packs("it", 9, 9)},
			[]float64{9 - 18.5/12, 9 - (4 - 18.5/12)},
		},
		{
			"what was off when it was counted is not eaten", hoursBefore(24),
			[]Lot{{Food: "it", Packs: 9, BestBefore: quantity.Date{Year: 2026, Month: time.May, Day: 30}}, packs("it", 9, 9)},
			[]float64{9, 7},
		},
	} {
		a := Aboard{Stock: map[string]Stock{"it": {Lots: c.lots, Counted: c.at}}}
		r := reckoned(b, one(2), a, days(3), galley{})
		require.Len(t, r.Stock, len(c.want)+1, c.name)
		for i, w := range c.want {
			assert.InDelta(t, w, r.Stock[i].Packs, 1e-6, c.name)
			assert.Equal(t, c.at, r.Stock[i].Counted, c.name)
		}
		assert.InDelta(t, 2, r.Stock[len(c.want)].Packs, 1e-9, "no ration, nothing taken: %s", c.name)
	}
}

func TestCountOfNothingIsNothing(t *testing.T) {
	b := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, packs("it", 99, 0))
	a := Aboard{Stock: map[string]Stock{"it": {Counted: hoursBefore(1)}}}
	r := reckoned(b, one(1), a, days(3), galley{})
	assert.Zero(t, r.first(passage.Food).LastDrop.Days)
	assert.Empty(t, r.Stock)
}

func TestFridgeDead(t *testing.T) {
	for _, c := range []struct {
		name string
		food Food
		lot  Lot
		want float64
	}{
		{"not chilled", Food{}, Lot{}, 9},
		{"chilled: the first day only", Food{Chilled: true}, Lot{}, 1},
		{"three days: to 4 June", Food{Chilled: true, KeepsWarm: quantity.Period{Rest: 72 * time.Hour}}, Lot{}, 4},
		{"its own date is sooner", Food{Chilled: true, KeepsWarm: quantity.Period{Rest: 72 * time.Hour}}, Lot{UseBy: day(2)}, 2},
		{"its own date is later", Food{Chilled: true, KeepsWarm: quantity.Period{Rest: 72 * time.Hour}}, Lot{BestBefore: day(8)}, 4},
	} {
		c.food.Name, c.food.Pack, c.food.Kcal = "it", 0.1, 100
		c.lot.Food, c.lot.Packs = "it", 9
		b := larderOf(100, []Food{c.food}, []Ration{{"it", 0.1}}, c.lot)
		r := reckoned(b, one(1), Aboard{}, days(3), galley{fridgeDead: true})
		assert.Equal(t, c.want, r.first(passage.Food).LastDrop.Days, c.name)
		assert.Equal(t, c.food.End(c.lot), r.Stock[0].Ends, "the written end stays: %s", c.name)
	}
}

func TestWarmFoodFillsUpFirst(t *testing.T) {
	cheese, rice, gone := plain("cheese"), plain("rice"), plain("gone")
	cheese.Chilled = true
	cheese.KeepsWarm = quantity.Period{Rest: 24 * time.Hour}
	b := larderOf(300, []Food{rice, cheese, gone}, []Ration{{"rice", 0.1}, {"cheese", 0.1}, {"gone", 0.1}},
		packs("rice", 9, 5), packs("cheese", 9, 20))
	p := stock(b, Aboard{}, 1, sails, galley{fridgeDead: true})
	p.eat(0)
	assert.InDelta(t, 700, p.shelves[1].batches[0].grams, 1e-9)
	p = stock(b, Aboard{}, 1, sails, galley{})
	p.eat(0)
	assert.InDelta(t, 800, p.shelves[1].batches[0].grams, 1e-9)
}

func TestGasGoneLeavesWhatNeedsNoStove(t *testing.T) {
	rice, biscuit := plain("rice"), plain("biscuit")
	rice.Cook = true
	gone := galley{gasGone: true}
	fed := func(b Boat) float64 {
		return reckoned(b, one(1), Aboard{}, days(3), gone).first(passage.Food).LastDrop.Days
	}
	foods := []Food{rice, biscuit}

	// Biscuits fill up to twice their ration: 100 of 200 kcal, half, is enough.
	b := larderOf(200, foods, []Ration{{"rice", 0.15}, {"biscuit", 0.05}}, packs("rice", 99, 0), packs("biscuit", 4, 0))
	assert.Equal(t, 4.0, fed(b))
	b.Rates.Energy = 200.1
	assert.Equal(t, 0.0, fed(b), "just below half")
	assert.Equal(t, 0.5, galley{gasGone: true}.enough())
	assert.Equal(t, 0.9, galley{}.enough())

	rice.Instead = "biscuit"
	b = larderOf(200, []Food{rice, biscuit}, []Ration{{"rice", 0.2}}, packs("rice", 99, 0), packs("biscuit", 4, 0))
	assert.Equal(t, 2.0, fed(b), "biscuits for rice")
}

// Against every order in which whole rations can be taken from small lots:
// soonest date first loses no day.
func TestSoonestDateFirstLosesNoDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lots := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Lot {
			return packs("it", float64(rapid.IntRange(1, 3).Draw(t, "packs")), rapid.IntRange(0, 7).Draw(t, "date"))
		}), 0, 4).Draw(t, "lots")
		b := larderOf(100, []Food{plain("it")}, []Ration{{"it", 0.1}}, lots...)
		want := mostDays(lots, day(1))
		if got := fedDays(b); got != float64(want) {
			t.Fatalf("fed %v days, %d can be fed from %v", got, want, lots)
		}
	})
}

// mostDays tries every order.
func mostDays(lots []Lot, date quantity.Date) int {
	most := 0
	for i := range lots {
		bad := !lots[i].BestBefore.IsZero() && lots[i].BestBefore.Before(date)
		if lots[i].Packs < 1 || bad {
			continue
		}
		lots[i].Packs--
		most = max(most, 1+mostDays(lots, date.AddDays(1)))
		lots[i].Packs++
	}
	return most
}

// What is eaten and what is left is what there was; nothing is eaten twice, and
// no day eats more than is planned.
func TestNoFoodIsMadeOrEatenTwice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyLarder(t)
		p := stock(b, Aboard{}, 2, sails, galley{})
		total := func() (kcal float64) {
			for i := range p.shelves {
				for _, batch := range p.shelves[i].batches {
					if batch.grams < 0 {
						t.Fatalf("%v g of %s", batch.grams, batch.lot.Food)
					}
					kcal += batch.grams * p.shelves[i].density
				}
			}
			return kcal
		}
		for n := range 12 {
			before := total()
			got := p.eat(n)
			if diff := before - total() - got; diff > 1e-6 || diff < -1e-6 {
				t.Fatalf("day %d ate %v kcal, but %v is gone", n, got, before-total())
			}
			if got > p.planned*(1+1e-9) {
				t.Fatalf("day %d ate %v of planned %v", n, got, p.planned)
			}
		}
	})
}

// anyLarder is a small larder of up to four foods, some instead of others.
func anyLarder(t *rapid.T) Boat {
	names := []string{"a", "b", "c", "d"}[:rapid.IntRange(1, 4).Draw(t, "foods")]
	var (
		foods   []Food
		rations []Ration
		lots    []Lot
	)
	for _, name := range names {
		f := plain(name)
		f.Kcal = float64(rapid.IntRange(0, 4).Draw(t, "kcal") * 100)
		f.Instead = rapid.SampledFrom(append([]string{""}, names...)).Draw(t, "instead")
		if f.Instead == name {
			f.Instead = ""
		}
		foods = append(foods, f)
		if rapid.Bool().Draw(t, "is a ration") {
			rations = append(rations, Ration{name, quantity.Mass(rapid.IntRange(1, 3).Draw(t, "each")) / 20})
		}
		for range rapid.IntRange(0, 3).Draw(t, "lots") {
			lots = append(lots, packs(name, float64(rapid.IntRange(0, 20).Draw(t, "packs")), rapid.IntRange(0, 12).Draw(t, "date")))
		}
	}
	b := larderOf(0, foods, rations, lots...)
	b.Rates.Energy = b.Rates.DailyEnergy(foods)
	return b
}

// One more aboard is never fed longer, whatever is eaten instead of what.
func TestMoreCrewIsNotFedLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := anyLarder(t)
		crew := rapid.IntRange(1, 5).Draw(t, "crew")
		few := b.feed(Aboard{}, crew, sails, galley{}).fed
		if more := b.feed(Aboard{}, crew+1, sails, galley{}).fed; more > few {
			t.Fatalf("%d are fed %d days, one more %d", crew, few, more)
		}
	})
}

func TestPackOfNothingButRefuseStaysAPack(t *testing.T) {
	shells := plain("shells")
	shells.Refuse = 1
	r := eaten(larderOf(100, []Food{shells}, []Ration{{"shells", 0.1}}, packs("shells", 3, 0)), 1, 1)
	assert.Equal(t, 3.0, r.Stock[0].Packs)
	assert.Zero(t, r.first(passage.Food).LastDrop.Days)
}
