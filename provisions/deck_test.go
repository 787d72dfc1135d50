package provisions

import (
	"math/bits"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
)

// fuelBoat has a big and a day tank and cans, all empty.
func fuelBoat(cans int) Boat {
	b := Boat{Tanks: []Tank{
		{Name: "day tank", Holds: passage.Fuel, Capacity: 30, Level: amount(0)},
		{Name: "main diesel", Holds: passage.Fuel, Capacity: 100, Level: amount(0)},
	}}
	for range cans {
		b.Tanks = append(b.Tanks, Tank{Name: "can", Holds: passage.Fuel, Capacity: 20, Can: true, Level: amount(0)})
	}
	return b
}

func tanksOf(deck []Filling) (names []string) {
	for _, f := range deck {
		names = append(names, f.Tank)
	}
	return names
}

// Worked by hand.
func TestDeckIsWholeTanksThenWholeCans(t *testing.T) {
	for _, c := range []struct {
		need Amount
		want []string
	}{
		{10, []string{"day tank"}},    // not a can, though it would take less
		{30, []string{"day tank"}},    // takes least
		{31, []string{"main diesel"}}, // one filling, not two
		{100, []string{"main diesel"}},
		{101, []string{"day tank", "main diesel"}},
		{131, []string{"day tank", "main diesel", "can"}},
		{150.5, []string{"day tank", "main diesel", "can", "can"}},
		{171, []string{"day tank", "main diesel", "can", "can", "can"}},
		{500, []string{"day tank", "main diesel", "can", "can", "can"}},
		{0, nil},
	} {
		s, r := chain(passage.Fuel, fuelBoat(3), c.need)
		assert.Equal(t, c.want, tanksOf(s.Loads(r)[0].Deck), "%v", c.need)
	}
}

func TestFewCansLeaveOutATankThatIsNotNeeded(t *testing.T) {
	// 115 L: without cans both tanks; the day tank's place is not worth a can.
	s, r := chain(passage.Fuel, fuelBoat(1), 115)
	assert.Equal(t, []string{"day tank", "main diesel"}, tanksOf(s.Loads(r)[0].Deck))

	// With the day tank at 28 of 30 L, 102 L more are both tanks, 103 L one can and the main tank.
	b := fuelBoat(1)
	b.Tanks[0].Level = amount(28)
	s, r = chain(passage.Fuel, b, 28+102)
	assert.Equal(t, []string{"day tank", "main diesel"}, tanksOf(s.Loads(r)[0].Deck))
	s, r = chain(passage.Fuel, b, 28+103)
	assert.Equal(t, []string{"main diesel", "can"}, tanksOf(s.Loads(r)[0].Deck))
}

func TestOneFillingComesBeforeTwoThatTakeLess(t *testing.T) {
	b := fuelBoat(0)
	b.Tanks = append(b.Tanks, Tank{Name: "keel tank", Holds: passage.Fuel, Capacity: 30, Level: amount(0)})
	for _, c := range []struct {
		need Amount
		want []string
	}{
		{55, []string{"main diesel"}},
		{125, []string{"day tank", "main diesel"}},
		{131, []string{"day tank", "main diesel", "keel tank"}},
	} {
		s, r := chain(passage.Fuel, b, c.need)
		assert.Equal(t, c.want, tanksOf(s.Loads(r)[0].Deck), "%v", c.need)
	}
}

// A filling to the brim takes the gauge's error away. Worked by hand: 150 L read
// in 200 with 10 L of error and 5 below the pick-up count 135; full they count
// 195: 60 more, and no more than 60 go in. Two such tanks: one is enough for 60.
func TestFillingToTheBrimAlsoGainsTheGaugeError(t *testing.T) {
	tank := Tank{Name: "port water", Holds: passage.Water, Capacity: 200, Unusable: 5, GaugeError: 0.05, Level: amount(150)}
	other := tank
	other.Name = "starboard water"
	for _, c := range []struct {
		more Amount
		want int
	}{{55, 1}, {60, 1}, {60.1, 2}, {120, 2}} {
		s, r := chain(passage.Water, Boat{Tanks: []Tank{tank, other}}, 270+c.more)
		l := s.Loads(r)[0]
		require.Len(t, l.Deck, c.want, "%v", c.more)
		assert.Equal(t, Amount(60), l.Deck[0].Takes)
		assert.Zero(t, l.Lacks)
	}
}

func TestSealedCansAndTanksThatNeverCountAreNotFilled(t *testing.T) {
	b := Boat{Tanks: []Tank{
		{Name: "sealed", Holds: passage.Water, Capacity: 20, Sealed: true, Level: amount(0)},
		{Name: "all sump", Holds: passage.Water, Capacity: 20, Unusable: 20, Level: amount(0)},
		{Name: "diesel", Holds: passage.Fuel, Capacity: 20, Level: amount(0)},
		{Name: "water", Holds: passage.Water, Capacity: 20, Level: amount(0)},
		{Name: "full", Holds: passage.Water, Capacity: 20, Level: Level{Kind: Brim}},
	}}
	s, r := chain(passage.Water, b, 100)
	l := s.Loads(r)[0]
	assert.Equal(t, []string{"water"}, tanksOf(l.Deck))
	assert.Equal(t, Amount(20), l.Amount)
	assert.Equal(t, Amount(60), l.Lacks)
	assert.Equal(t, 2, l.Fixed)
}

// What was used since the sounding came out of some tank, nobody knows which:
// two tanks full yesterday, 9 L used, 195 of 200 L needed: both are topped up.
func TestUseSinceTheSoundingIsMadeGoodByFillingAll(t *testing.T) {
	b := cruiser()
	b.Rates.Water = WaterRates{Boat: 9}
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 195 - 9}
	b.Tanks = []Tank{
		{Name: "port", Holds: passage.Water, Capacity: 150},
		{Name: "starboard", Holds: passage.Water, Capacity: 50},
	}
	yesterday := Held{Level: Level{Kind: Brim}, At: sails.Add(-24 * time.Hour)}
	a := Aboard{Tanks: map[string]Held{"port": yesterday, "starboard": yesterday}}
	plan := one(2)
	plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	s := Situation{Boat: b, Plan: plan, Aboard: a}
	r := reckoned(b, plan, a, days(1), galley{})

	l := s.Loads(r)[0]
	assert.InDelta(t, 4, float64(l.Amount), 1e-9, "191 counted at departure")
	assert.InDelta(t, 9, float64(l.Room), 1e-9)
	assert.False(t, l.Full)
	require.Equal(t, []string{"port", "starboard"}, tanksOf(l.Deck))
	assert.InDelta(t, 6.75, float64(l.Deck[0].Takes), 1e-9)
	assert.InDelta(t, 2.25, float64(l.Deck[1].Takes), 1e-9)
	assert.Equal(t, "fill both water tanks (9.0 L)", l.Words(0))
}

// 5 L counted a day ago, and 9 used since: more than 5 cannot have gone out above the
// pick-up. Whatever else went out is only known to be made good when all is filled.
func TestMoreUsedThanCountedMakesNoTankTakeMoreThanItHolds(t *testing.T) {
	b := cruiser()
	b.Rates.Water = WaterRates{Boat: 9}
	b.Rates.Reserve[passage.Water] = Reserve{Amount: 43}
	b.Tanks = []Tank{
		{Name: "port", Holds: passage.Water, Capacity: 60, Unusable: 5},
		{Name: "starboard", Holds: passage.Water, Capacity: 52},
	}
	a := Aboard{Tanks: map[string]Held{
		"port":      {Level: amount(10), At: sails.Add(-24 * time.Hour)},
		"starboard": {Level: amount(0), At: sails.Add(-24 * time.Hour)},
	}}
	plan := one(2)
	plan.Fill = []passage.Giving{{Thing: passage.Water, Sure: true}}
	s := Situation{Boat: b, Plan: plan, Aboard: a}
	l := s.Loads(reckoned(b, plan, a, days(1), galley{}))[0]

	assert.InDelta(t, 52, float64(l.Amount), 1e-9)
	require.Equal(t, []string{"port", "starboard"}, tanksOf(l.Deck), "one of them has 52 to give, but 4 may be owed")
	assert.InDelta(t, 60-10+5, float64(l.Deck[0].Takes), 1e-9)
	assert.InDelta(t, 52, float64(l.Deck[1].Takes), 1e-9)
}

// Against all choices of tanks there are: fewest cans, then fewest fillings, then least.
func TestDeckIsTheBestOfAllChoices(t *testing.T) {
	several := 0
	untilMet(t, func() bool { return several > 0 }, func(t *rapid.T) {
		tanks, a := anyTanks(t)
		b := Boat{Tanks: tanks}
		r := Reckoning{Depart: sails, Tanks: b.tankFigures(Aboard{})}
		if rapid.Bool().Draw(t, "as sounded") {
			r.Tanks = b.tankFigures(a)
		}
		h := Situation{Boat: b}.hold(r, passage.Water)
		counts := Amount(rapid.IntRange(1, 2000).Draw(t, "counts")) / 4
		deck := h.deck(counts)

		var open []refill
		all := Amount(0)
		for _, tank := range h.tanks {
			if tank.takes() >= crumb {
				open = append(open, tank)
				all += tank.gains()
			}
		}
		if all < counts {
			if len(deck) != len(open) {
				t.Fatalf("%v of %v are filled, and all do not reach", len(deck), len(open))
			}
			return
		}
		best := cost{99}
		for set := range uint(1) << len(open) {
			var sum Amount
			var c cost
			for i, tank := range open {
				if set>>i&1 == 0 {
					continue
				}
				sum += tank.gains()
				if tank.tank.Can {
					c[0]++
				}
				c[2] += tank.takes()
			}
			c[1] = Amount(bits.OnesCount(set))
			if sum >= counts-crumb && c.isUnder(best) {
				best = c
			}
		}
		var got cost
		for _, f := range deck {
			if f.Can {
				got[0]++
			}
			got[1]++
			got[2] += f.Takes
		}
		if best.isUnder(got) || got.isUnder(best) {
			t.Fatalf("%v, best is %v", got, best)
		}
		if len(deck) > 1 {
			several++
		}
	})
}

func TestCheaperCostIsFoundByItsFirstFigureThatDiffers(t *testing.T) {
	assert.True(t, cost{1, 9, 9}.isUnder(cost{2, 0, 0}))
	assert.True(t, cost{1, 1, 9}.isUnder(cost{1, 2, 0}))
	assert.True(t, cost{1, 1, 1}.isUnder(cost{1, 1, 2}))
	assert.False(t, cost{1, 1, 1}.isUnder(cost{1, 1, 1}))
	assert.False(t, cost{1, 1, 1}.isUnder(cost{1, 1, 1 + 1e-9}), "a crumb is no difference")
}

// Twelve tanks that all lack something else below their pick-ups, against all choices.
func TestCoveringIsExactForTwelveTanks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pieces []piece
		var all Amount
		for range 12 {
			p := piece{
				gains: Amount(rapid.IntRange(1, 400).Draw(t, "gains")) / 4,
				cost:  cost{Amount(rapid.IntRange(1, 100).Draw(t, "below")) / 4, 1, 0},
			}
			all += p.gains
			pieces = append(pieces, p)
		}
		want := Amount(rapid.IntRange(1, int(all*4)).Draw(t, "want")) / 4

		best := cost{all * 1000}
		for set := range 1 << len(pieces) {
			var sum Amount
			var c cost
			for i, p := range pieces {
				if set>>i&1 == 1 {
					sum, c = sum+p.gains, c.plus(p.cost)
				}
			}
			if sum >= want && c.isUnder(best) {
				best = c
			}
		}
		var got cost
		for _, i := range cover(pieces, want) {
			got = got.plus(pieces[i].cost)
		}
		if got != best {
			t.Fatalf("%v, best is %v", got, best)
		}
	})
}

// Far more tanks than can be tried: it ends, and what it finds covers.
func TestCoveringOfManyPiecesEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var pieces []piece
		var all Amount
		for range rapid.IntRange(30, 60).Draw(t, "pieces") {
			p := piece{
				gains: Amount(rapid.IntRange(1, 4000).Draw(t, "gains")) / 4,
				cost:  cost{Amount(rapid.IntRange(0, 100).Draw(t, "below")) / 4, 1, 0},
			}
			all += p.gains
			pieces = append(pieces, p)
		}
		want := Amount(rapid.IntRange(1, int(all*4)).Draw(t, "want")) / 4
		var sum Amount
		for _, i := range cover(pieces, want) {
			sum += pieces[i].gains
		}
		if sum < want-crumb {
			t.Fatalf("%v of %v", sum, want)
		}
	})
}
