package checklist

import (
	"testing"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// logged are soundings of the water a day apart under way, from 200 L on leaving.
func logged(t *testing.T, levels ...string) (Definitions, log) {
	t.Helper()
	d, l := left(t)
	for i, level := range levels {
		l.add(day(float64(i+1)), Sound{"water", level})
	}
	return d, l
}

// 200 L on leaving, then 190, 181, 171: 10, 9 and 10 L a day for two, 5, 4.5 and 5 each;
// planned 3 + 1 L. The first interval begins
// with the sounding an hour before she left: 25 h, of which 24 at sea are 96 %, and its 10 L are
// 4.8 each a day. The middle half of 4.5, 4.8 and 5 by definition 7 is 4.65 to 4.9.
func TestMoreUsedThanPlannedIsACaution(t *testing.T) {
	d, l := logged(t, "190 L", "181 L", "171 L")
	a := l.assess(d, day(3))
	uses, doubt := Learnt(d.AsSailed(Fold(l)), Fold(l), a)
	require.Len(t, uses, 1)
	assert.Nil(t, doubt)
	u := uses[0]
	assert.Equal(t, 3, u.N)
	assert.InDelta(t, 4.65, u.Low, 1e-9)
	assert.InDelta(t, 4.8, u.Median, 1e-9, "10 L in 25 h are 4.8 each a day, between 4.5 and 5")
	assert.Equal(t, []string{"# rates.toml, [water]", `washing = "0.8 L"`}, u.Lines)
	require.NotNil(t, u.Margin)
	plain, _ := a.Reckoning.Resources[passage.Water].First()
	assert.Less(t, u.Margin.Days, plain.Margin.Days)

	i := 0
	for ; i < len(a.Cautions) && a.Cautions[i].ID() != "use:water"; i++ {
	}
	require.Less(t, i, len(a.Cautions), "it wants a reason")
	assert.Contains(t, a.Cautions[i].Why, "4.8 L per person and day at sea (middle half 4.7 to 4.9 L, seen 3 times), planned 4.0 L; with it the margin is")

	d, l = logged(t, "190 L", "181 L")
	for _, c := range l.assess(d, day(3)).Cautions {
		assert.NotEqual(t, "use:water", c.ID(), "twice is not enough")
	}
	d, l = logged(t, "192 L", "184 L", "176 L", "168 L")
	for _, c := range l.assess(d, day(4)).Cautions {
		assert.NotEqual(t, "use:water", c.ID(), "as planned")
	}
}

func TestFillsBetweenSoundingsCount(t *testing.T) {
	d, l := logged(t, "190 L")
	l.add(day(1.5), Fill{Tank: "water", Amount: "20 L"})
	l.add(day(2), Sound{"water", "200 L"})
	assert.Equal(t, []float64{10, 10}, usedEach(d, Fold(l), passage.Water))

	l.add(day(2.5), Fill{Tank: "water", Amount: Full})
	l.add(day(3), Sound{"water", "190 L"})
	l.add(day(4), Sound{"water", "180 L"})
	assert.Equal(t, []float64{10, 10, 10}, usedEach(d, Fold(l), passage.Water), "how much it took to the brim is not known")
}

func usedEach(d Definitions, s State, t passage.Thing) []float64 {
	var used []float64
	for _, i := range d.intervals(s, t) {
		used = append(used, float64(i.Used))
	}
	return used
}

// Of two tanks both must be sounded within six hours, or what is aboard is not known.
func TestAnIntervalWantsAllTanksOfAThing(t *testing.T) {
	d, l := logged(t)
	port := d.Boat.Tanks[0]
	port.Name = "port water"
	d.Boat.Tanks = append(d.Boat.Tanks, port)
	l.add(day(0.1), Sound{"port water", "100 L"}, Sound{"water", "199 L"})
	l.add(day(1), Sound{"water", "190 L"})
	l.add(day(2), Sound{"water", "185 L"})
	l.add(day(2.2), Sound{"port water", "96 L"})
	intervals := d.intervals(Fold(l), passage.Water)
	require.Len(t, intervals, 1)
	assert.InDelta(t, 14+4, float64(intervals[0].Used), 1e-9)
	assert.InDelta(t, 2.1, intervals[0].Days(), 1e-9)
	assert.True(t, intervals[0].AtSea)
}

func TestAnIntervalAcrossLeavingTellsNeither(t *testing.T) {
	d := fitBoat()
	var l log
	l.add(day(-3), Sound{"water", "190 L"})
	l.add(day(-2), Sound{"water", "180 L"})
	l.add(day(0), Depart{Passage: d.Plan.Name, To: "There", Crew: 3})
	l.add(day(1), Sound{"water", "150 L"})
	l.add(day(2), Sound{"water", "138 L"})
	l.add(day(2.1), Arrive{Place: "There"})
	l.add(day(3.5), Sound{"water", "120 L"})
	intervals := d.intervals(Fold(l), passage.Water)
	require.Len(t, intervals, 3)
	assert.False(t, intervals[0].AtSea)
	assert.Equal(t, 2, intervals[0].Crew)
	assert.True(t, intervals[1].AtSea)
	assert.Equal(t, 3, intervals[1].Crew, "those aboard then")
	assert.False(t, intervals[2].AtSea)
}

// 20 L gone in 4 engine hours at 2.1 L/h (the curve at 2000 rpm: halfway between 1.2 and 3)
// explain 8.4 L.
func TestFuelGoneThatTheHoursDoNotExplainIsAsked(t *testing.T) {
	d, l := left(t)
	meter := func(at, hours float64) {
		l.add(day(at), Reading{Values: []ReadingValue{{"hours", counted(hours)}}})
	}
	meter(0.01, 1000)
	l.add(day(0.02), Sound{"diesel", "120 L"})
	meter(1, 1004)
	l.add(day(1.05), Sound{"diesel", "100 L"})
	uses, doubt := Learnt(d, Fold(l), l.assess(d, day(1.1)))
	require.NotNil(t, doubt)
	assert.Equal(t, "20.0 L gone in 4.0 engine hours that explain 8.4 L: gauge, leak or burn?", DoubtWords(*doubt, quantity.Metric))
	require.Len(t, uses, 1)
	assert.InDelta(t, 5, uses[0].Median, 1e-9)
	assert.Equal(t, "5.0 L per engine hour (middle half 5.0 to 5.0 L, seen once), planned 2.1 L", uses[0].Words(quantity.Metric))
	less := provisions.Doubt{Interval: provisions.Interval{Used: 1, Hours: 4}, Explained: 8.4}
	assert.Contains(t, DoubtWords(less, quantity.US), "gauge, hour-meter or burn?")
}

func TestOldSoundingsAreLetGo(t *testing.T) {
	var l log
	for i := range 40 {
		l.add(evening.Add(time.Duration(i)*time.Hour), Sound{"water", "100 L"}, Fill{Tank: "water", Amount: "1 L"})
	}
	history := Fold(l).Tanks["water"].History
	assert.Len(t, history, 2*mostSoundings)
	assert.Equal(t, "100 L", history[0].Level)
}
