package provisions

import (
	"math"
	"testing"
	"time"

	"boat/hoveshort/provisions/passage"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By definition 7 of Hyndman and Fan: of n values the place of p is p*(n-1) from the least,
// linear between. Worked by hand.
func TestQuartilesAreThoseOfThePublishedDefinition(t *testing.T) {
	for _, c := range []struct {
		values            []float64
		low, median, high float64
	}{
		{[]float64{4, 1, 3, 2}, 1.75, 2.5, 3.25},
		{[]float64{1, 2, 3, 4, 5}, 2, 3, 4},
		{[]float64{7}, 7, 7, 7},
		{[]float64{10, 20}, 12.5, 15, 17.5},
		{[]float64{4.0, 4.2, 4.1, 40}, 4.075, 4.15, 13.15}, // one bad reading moves the median by little
	} {
		low, median, high := Quartiles(c.values)
		assert.InDelta(t, c.low, low, 1e-12)
		assert.InDelta(t, c.median, median, 1e-12)
		assert.InDelta(t, c.high, high, 1e-12)
	}
	_, none, _ := Quartiles(nil)
	assert.True(t, math.IsNaN(none))
}

func TestQuartilesLieInOrderWithinTheValues(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOfN(rapid.Float64Range(-1e6, 1e6), 1, 30).Draw(t, "values")
		low, median, high := Quartiles(values)
		require.LessOrEqual(t, low, median)
		require.LessOrEqual(t, median, high)
		again, _, _ := Quartiles(append(values, math.Inf(1)))
		require.GreaterOrEqual(t, again, low-1e-6, "a larger value lowers no quartile")
	})
}

func learners() (Boat, passage.Plan) {
	s := threePlaces()
	s.Boat.Rates.Water = WaterRates{Drinking: 3, Cooking: 1, HotWeather: 1}
	s.Plan.Crew, s.Plan.Climate = 2, passage.Temperate
	return s.Boat, s.Plan
}

func lasting(days, used float64) Interval {
	from := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	return Interval{From: from, To: from.Add(time.Duration(days * 24 * float64(time.Hour))), Used: Amount(used), Crew: 2, AtSea: true, Hours: -1}
}

// Two aboard at 3 + 1 L: 4 L planned a person and day. 9, 18 in two days, and 10 L a day are
// 4.5, 4.5 and 5 L each: median 4.5, 12.5 % above.
func TestARateIsLearntFromIntervals(t *testing.T) {
	b, plan := learners()
	intervals := []Interval{lasting(1, 9), lasting(2, 18), lasting(1, 10)}
	l, ok := b.Learn(plan, passage.Water, intervals, true)
	require.True(t, ok)
	assert.InDelta(t, 4.5, l.Median, 1e-12)
	assert.InDelta(t, 4, l.Planned, 1e-12)
	assert.Equal(t, 3, l.N)
	assert.InDelta(t, 4, l.Days, 1e-12)
	assert.True(t, l.IsAbove())
	assert.InDelta(t, 1.125, l.Factor(), 1e-12)

	l, _ = b.Learn(plan, passage.Water, intervals[:2], true)
	assert.False(t, l.IsAbove(), "two intervals are not enough")
	_, ok = b.Learn(plan, passage.Water, intervals, false)
	assert.False(t, ok, "at anchor nothing was seen")
	l, _ = b.Learn(plan, passage.Water, []Interval{lasting(1, 8.8), lasting(1, 8.8), lasting(1, 8.8)}, true)
	assert.False(t, l.IsAbove(), "a tenth above is not more than a tenth")
	more := b.Used(Learnt{Thing: passage.Water, N: 3, Median: 5, Planned: 4})
	assert.InDelta(t, 3.75, float64(more.Rates.Water.Drinking), 1e-12)
	assert.InDelta(t, 1.25, float64(more.Rates.Water.Cooking), 1e-12)
}

func TestFuelIsLearntByTheHour(t *testing.T) {
	b, plan := learners()
	burn, _, ok := b.Engine.BurnAt(b.Engine.CruiseRPM)
	require.True(t, ok)
	run := func(hours, times float64) Interval {
		i := lasting(1, hours*times*float64(burn))
		i.Hours = hours
		return i
	}
	short := run(1, 9)
	l, ok := b.Learn(plan, passage.Fuel, []Interval{run(4, 1.2), run(8, 1.2), run(6, 1.3), short, lasting(1, 50)}, true)
	require.True(t, ok)
	assert.Equal(t, 3, l.N, "an hour, and hours not known, tell no burn")
	assert.InDelta(t, 1.2, l.Factor(), 1e-9)
	assert.InDelta(t, float64(b.Engine.Curve[0].Burn)*1.2, float64(b.Used(l).Engine.Curve[0].Burn), 1e-9)

	_, doubted := b.FuelDoubted(plan, []Interval{run(20, 1.2)})
	assert.False(t, doubted)
	d, doubted := b.FuelDoubted(plan, []Interval{run(20, 1), run(20, 1.3)})
	require.True(t, doubted)
	assert.InDelta(t, 20*float64(burn), float64(d.Explained), 1e-9)
	_, doubted = b.FuelDoubted(plan, []Interval{run(20, 1.3), run(20, 1)})
	assert.False(t, doubted, "the last one counts")
	_, doubted = b.FuelDoubted(plan, []Interval{run(20, 0.7)})
	assert.True(t, doubted, "too little gone is as odd")
	b.Heater = &Heater{Burn: 0.25, Run: 6 * time.Hour}
	plan.Climate = passage.Cold
	_, doubted = b.FuelDoubted(plan, []Interval{run(20, 1.3)})
	assert.False(t, doubted, "what the heater burnt is not known")
}
