package checklist

import (
	"math"
	"slices"
	"testing"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func onDay(month time.Month, day int) quantity.Date {
	return quantity.Date{Year: 2026, Month: month, Day: day}
}

// lockers is a boat with lots in four places; today is 11 June 2026.
func lockers() Definitions {
	d := fitBoat()
	d.Boat.Foods = []provisions.Food{
		{Name: "biscuit", Pack: 1, Kcal: 400, Grace: quantity.Period{Months: 1}},
		{Name: "onion", Pack: 1, Kcal: 40, Keeps: quantity.Period{Months: 1}},
		{Name: "salt", Pack: 1, Kcal: 0},
	}
	d.Boat.Lots = []provisions.Lot{
		{Food: "biscuit", Packs: 20, BestBefore: onDay(12, 1), Place: "saloon"},
		{Food: "biscuit", Packs: 4, BestBefore: onDay(6, 1), Place: "galley"},
		{Food: "biscuit", Packs: 2, UseBy: onDay(6, 10), Place: "galley"},
		{Food: "onion", Packs: 3, Bought: onDay(5, 17), Place: "cockpit / net"},
		{Food: "salt", Packs: 1},
	}
	d.Boat.Consumables = []provisions.Consumable{{Name: "engine oil", Unit: "L", Aboard: 5}}
	return d
}

func (l *log) stocked(t *testing.T, d Definitions, at time.Time, c Count) Count {
	t.Helper()
	act, err := d.NewStocked(Fold(*l), l.assess(d, at), c)
	require.NoError(t, err)
	l.add(at, act)
	return act
}

// anew is the record of the walk.
func anew() *log {
	l := walked()
	return &l
}

func stockNow(l *log, d Definitions, at time.Time) []StockLine {
	return Stock(d, Fold(*l), l.assess(d, at))
}

// The dates say what they say: today is 11 June; a month of grace; onions keep a month.
func TestStockIsToldByItsDates(t *testing.T) {
	d, l := lockers(), anew()
	var told []Freshness
	for _, line := range stockNow(l, d, evening) {
		told = append(told, line.Fresh)
	}
	assert.Equal(t, []Freshness{Keeps, Older, GoneOff, Soon, NoEnd, NoEnd}, told)

	first := EatFirst(stockNow(l, d, evening))
	require.Len(t, first, 3)
	assert.Equal(t, []string{"biscuit", "onion", "biscuit"}, []string{first[0].Lot.Food, first[1].Lot.Food, first[2].Lot.Food}, "soonest end first")
	assert.Equal(t, GoneOff, first[0].Fresh)
	assert.Equal(t, onDay(6, 17), first[1].Ends.Last)
	assert.Equal(t, onDay(7, 1), first[2].Ends.Last, "with its grace")
}

func TestStockTakingGoesPlaceByPlace(t *testing.T) {
	d, l := lockers(), anew()
	places := StockTaking(stockNow(l, d, evening))
	var names []string
	for _, p := range places {
		names = append(names, p.Place)
	}
	assert.Equal(t, []string{"cockpit / net", "galley", "saloon", ""}, names)
	require.Len(t, places[1].Lines, 2)
	assert.False(t, places[1].Lines[0].IsTaken(evening))
	assert.Equal(t, "engine oil", places[3].Lines[1].Lot.Food)

	l.stocked(t, d, evening, places[1].Lines[0].Count(0))
	places = StockTaking(stockNow(l, d, evening.Add(time.Hour)))
	require.Len(t, places[1].Lines, 2, "counted today: it stays in the list until tomorrow")
	assert.True(t, places[1].Lines[0].IsTaken(evening.Add(time.Hour)))
	assert.False(t, places[1].Lines[1].IsTaken(evening.Add(time.Hour)), "the lot beside it was not")
	assert.Len(t, StockTaking(stockNow(l, d, evening.Add(25*time.Hour)))[1].Lines, 1)
}

// Two eat a pack of a kilogram in a day: 0.5 kg a person.
func TestBoughtUsedAndThrownAwayCount(t *testing.T) {
	d, l := lockers(), anew()
	got := l.stocked(t, d, evening, Count{Food: "biscuit", Packs: 3, Did: PacksBought, BestBefore: onDay(12, 1)})
	assert.Equal(t, Count{Food: "biscuit", Packs: 23, Of: 3, Did: PacksBought, BestBefore: onDay(12, 1), Place: "saloon"}, got, "where most of it lies")
	assert.Equal(t, "biscuit: 3 packs bought, now 23 packs, best before 2026-12-01, in saloon", d.Words(got))

	got = l.stocked(t, d, evening.Add(12*time.Hour), Count{Food: "biscuit", Packs: 1, Did: PacksThrown, Place: "galley"})
	assert.InDelta(t, 4-0.5-1, got.Packs, 1e-6, "of the one that is eaten first: half a day of rations, and one")
	assert.Equal(t, onDay(6, 1), got.BestBefore)

	got = l.stocked(t, d, evening.Add(24*time.Hour), Count{Food: "biscuit", Packs: 1, Did: PacksUsed, BestBefore: onDay(6, 1)})
	assert.InDelta(t, 2.5-0.5-1, got.Packs, 1e-6, "half a day more, and one more")

	got = l.stocked(t, d, evening, Count{Food: "onion", Packs: 2, Did: PacksBought})
	assert.Equal(t, onDay(6, 11), got.Bought, "today")
	assert.Equal(t, "cockpit / net", got.Place)
	assert.InDelta(t, 2, got.Packs, 0, "a lot of its own")

	got = l.stocked(t, d, evening, Count{Food: "engine oil", Packs: 4, Did: PacksBought})
	assert.Equal(t, "engine oil: 4 L bought, now 9 L", d.Words(got))
	got = l.stocked(t, d, evening, Count{Food: "engine oil", Packs: 2.5, Did: PacksUsed})
	assert.InDelta(t, 6.5, got.Packs, 1e-9)
}

func TestWhatCannotBeBoughtOrUsedIsRefused(t *testing.T) {
	d, l := lockers(), anew()
	for _, c := range []struct {
		count Count
		says  string
	}{
		{Count{Food: "biscuit", Packs: 1, Did: PacksBought, BestBefore: onDay(6, 10)}, "its best-before, 2026-06-10, lies before the day it was bought; look at the date on the pack again"},
		{Count{Food: "biscuit", Packs: 1, Did: PacksBought, UseBy: onDay(6, 10)}, "its use-by, 2026-06-10, lies before the day it was bought: it must not be eaten; look at the date on the pack again"},
		{Count{Food: "onion", Packs: 1, Did: PacksBought, Bought: onDay(6, 12)}, "2026-06-12 is not come yet; write the day on which it was bought"},
		{Count{Food: "salt", Packs: 1, Did: PacksBought}, "nothing tells this lot from the others; give its best-before or use-by date, or the place where it is stowed"},
		{Count{Food: "biscuit", Packs: 0, Did: PacksBought}, `none of it came or went; write how many, as "2"`},
		{Count{Food: "biscuit", Packs: -1, Did: PacksUsed}, "-1 packs cannot be there; count again: none is 0"},
		{Count{Food: "biscuit", Packs: 1, Did: "eaten"}, `"eaten" is nothing that is done with packs; bought, used or thrown away`},
		{Count{Food: "onion", Packs: 1, Did: PacksUsed, Place: "galley"}, "no such lot of onion is aboard by the record; count it first"},
		{Count{Food: "onion", Packs: 3.5, Did: PacksThrown}, "of that lot there are 3 by the record (3 packs, bought 2026-05-17, in cockpit / net); name the lot by its date or place, write fewer, or count it first"},
		{Count{Food: "engine oil", Packs: 6, Did: PacksUsed}, "there are 5 of engine oil by the record; count it first, or write fewer"},
	} {
		_, err := d.NewStocked(Fold(*l), l.assess(d, evening), c.count)
		refused(t, err, c.says)
	}
}

// What came and what went adds up: buying packs of a lot and throwing the same away leaves what
// was there, whatever else lies aboard.
func TestBoughtAndThrownAwayLeavesWhatWas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, l := lockers(), anew()
		sum := func() (n float64) {
			for _, line := range stockNow(l, d, evening) {
				if line.Lot.Food == "biscuit" {
					n += line.Lot.Packs
				}
			}
			return n
		}
		before := sum()
		moves := rapid.SliceOfN(rapid.Float64Range(0.01, 50), 1, 6).Draw(t, "packs")
		for _, did := range []CountWord{PacksBought, PacksThrown} {
			for _, n := range moves {
				act, err := d.NewStocked(Fold(*l), l.assess(d, evening), Count{Food: "biscuit", Packs: n, Did: did, UseBy: onDay(9, 9), Place: "bilge"})
				if err != nil && did == PacksBought {
					t.Fatal(err)
				}
				if err == nil {
					l.add(evening, act)
				}
			}
		}
		if got := sum(); math.Abs(got-before) > 0.01 {
			t.Fatalf("%v packs before, %v after", before, got)
		}
	})
}

// The longest list of a week is in the order in which it ends; nothing without a date is in it.
func TestEatFirstIsInTheOrderOfItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := lockers()
		d.Boat.Lots = nil
		for range rapid.IntRange(0, 12).Draw(t, "lots") {
			d.Boat.Lots = append(d.Boat.Lots, provisions.Lot{
				Food: "biscuit", Packs: 1, Place: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "place"),
				BestBefore: onDay(6, 11).AddDays(rapid.IntRange(-60, 60).Draw(t, "day")),
			})
		}
		list := EatFirst(stockNow(anew(), d, evening))
		if !slices.IsSortedFunc(list, func(a, b StockLine) int { return a.Ends.Last.Compare(b.Ends.Last) }) {
			t.Fatalf("%v", list)
		}
		for _, line := range list {
			if line.Fresh == Keeps && line.Wasted < 0.1 || line.Fresh == NoEnd {
				t.Fatalf("%v is not to be eaten first", line)
			}
		}
	})
}
