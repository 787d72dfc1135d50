package checklist

import (
	"slices"
	"strings"
	"testing"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// made is a boat that left on some miles and told after a while how many are to go.
func made(t require.TestingT, whole, toGo float64, after time.Duration) *Way {
	d, l := left(t)
	d.Plan.Legs[0].Distance = quantity.Distance(whole)
	at := evening.Add(after)
	l.add(at, Noon{To: "There", ToGo: toGo})
	w := l.assess(d, at).Way
	require.NotNil(t, w)
	return w
}

// Source: NGA Pub. 9 (American Practical Navigator), 2024, vol. II, table 11, printed to 0.1 nm.
func TestPaceIsMilesByHours(t *testing.T) {
	for _, r := range []struct{ minutes, knots, miles float64 }{{60, 12, 12.0}, {45, 8.5, 6.4}, {7, 40, 4.7}} {
		w := made(t, 100, 100-r.miles, time.Duration(r.minutes)*time.Minute)
		assert.InDelta(t, r.miles, float64(w.Done), 1e-9)
		assert.InDelta(t, r.knots, float64(w.Pace), 0.05/(r.minutes/60)+1e-9, "%v nm in %v min", r.miles, r.minutes)
	}
}

// Sources: 13 nm at 5 kn from 10:30 are over at 13:06 (Cruising Odyssey, "Nav 101: how to find
// time, distance, speed", 2022); 9.2 nm at 7 kn take 1 h 19 min (Ocean Navigator, "The heart of
// dead reckoning"); 8.7 nm at 5.8 kn from 08:00 are over at 09:30 (Nauticando, an Italian course
// of chart work, exercises within 12 miles, 18). The pace is made in the ten hours before.
func TestSheComesInAtThePaceSeen(t *testing.T) {
	for _, r := range []struct {
		knots, toGo float64
		takes       time.Duration
	}{
		{5, 13, 2*time.Hour + 36*time.Minute},
		{7, 9.2, time.Hour + 19*time.Minute},
		{5.8, 8.7, time.Hour + 30*time.Minute},
	} {
		w := made(t, 10*r.knots+r.toGo, r.toGo, 10*time.Hour)
		assert.InDelta(t, r.knots, float64(w.Pace), 1e-9)
		assert.WithinDuration(t, w.Fix.At.Add(r.takes), w.AtPace, 30*time.Second, "%v nm at %v kn", r.toGo, r.knots)
	}
}

// Source: NGA Pub. 9, 2024, art. 910, the two places of example 1; the great circle between
// them, 536.28 nm, is arithmetic.
func TestMilesToGoOfANoonAreAlongTheGreatCircle(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Distance = 600
	d.Plan.Legs[0].Position = &passage.Position{Lat: 36 + 58.7/60, Lon: -(75 + 42.2/60)}
	n, err := NewNoon(d, Fold(l), day(1), NoonTold{Position: "32 14.7 N, 66 28.9 W"})
	require.NoError(t, err)
	assert.InDelta(t, 536.28, n.ToGo, 0.05)
}

func TestAQuestionWaitsUntilItIsAnswered(t *testing.T) {
	d, l := left(t)
	d.Plan.Limits.Wind = 25
	tell := func(at float64, told NoonTold) {
		n, err := NewNoon(d, Fold(l), day(at), told)
		require.NoError(t, err)
		l.add(day(at), n)
	}
	waiting := func(at float64) []DecisionPoint { // but about turning back
		return slices.DeleteFunc(l.assess(d, day(at)).Way.Points, func(p DecisionPoint) bool { return !strings.HasPrefix(p.Point, "wind") })
	}
	tell(1, NoonTold{ToGo: "300 nm", Wind: "30 kn NE"})
	require.Len(t, waiting(1), 1)
	tell(1.1, NoonTold{Sleep: "4"}) // another matter: it goes on waiting
	require.Len(t, waiting(1.2), 1)
	point := waiting(1.2)[0].Point
	assert.Equal(t, "wind 30 kn NE, over your limit of 25.0 kn", point)
	tell(1.2, NoonTold{Decided: []DecisionAnswered{{Point: point, GoOn: true, Why: "it eases tonight"}}})
	assert.Empty(t, waiting(1.3))
	tell(1.5, NoonTold{Wind: "30 kn NE"})
	assert.Len(t, waiting(1.5), 1, "told anew it is asked anew")
	tell(1.6, NoonTold{Wind: "25 kn"})
	assert.Empty(t, waiting(1.6), "the limit itself is not over it")
}

// On 1200 nm turning back ends on the way; see TestTurningBackUnderWayIsWhereItWasWhenAllWentAsPlanned
// for where. It is asked about within a day of it, once a day, and never once it is over.
func TestTurningBackIsAskedAboutOnTheDayBeforeItEnds(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Distance = 1200
	first := firstTurning(l.assess(d, evening).Way.Turning)
	require.NotNil(t, first)
	require.True(t, first.At.After(day(1)))
	about := func(at time.Time) int { return len(l.assess(d, at).Way.Points) }
	assert.Zero(t, about(first.At.Add(-24*time.Hour)))
	assert.Equal(t, 1, about(first.At.Add(-24*time.Hour+time.Second)))
	assert.Equal(t, 1, about(first.At.Add(-time.Second)))
	assert.Zero(t, about(first.At.Add(time.Second)))

	asked := first.At.Add(-20 * time.Hour)
	point := l.assess(d, asked).Way.Points[0]
	assert.True(t, strings.HasPrefix(point.Point, "turning back to Here ends "), point.Point)
	n, err := NewNoon(d, Fold(l), asked, NoonTold{Decided: []DecisionAnswered{{Point: point.Point, GoOn: true, Why: "all well"}}})
	require.NoError(t, err)
	l.add(asked, n)
	assert.Zero(t, about(asked.Add(time.Hour)))
}

func TestTurningBackIsToldInWords(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Distance = 120
	a := l.assess(d, evening)
	told := func(a Assessment) string { return a.Way.turningWords(a) }
	assert.Equal(t, "to Here from anywhere on this leg with every reserve whole; the way back is a guess: no `home` is written", told(a))
	at := evening.Add(30 * time.Hour)
	a.Way.Turning = []provisions.Turning{
		{Thing: passage.Water, To: "Here", State: provisions.TurnBeyond},
		{Thing: passage.Fuel, To: "Here", State: provisions.TurnOnLeg, At: at, After: 90},
		{Thing: passage.Food, To: "Here", State: provisions.TurnOnLeg, At: at.Add(time.Hour), After: 95},
	}
	assert.Equal(t, "to Here until Sat 13 Jun 00:00 with every reserve whole, 90 nm on from here (fuel ends it)", told(a))
	a.Now = at.Add(time.Minute)
	assert.Equal(t, "too late for Here since Sat 13 Jun 00:00 with the reserve whole of fuel", told(a))
	a.Way.Turning = []provisions.Turning{{Thing: passage.Water, To: "Here", State: provisions.TurnPassed}, {Thing: passage.Gas, To: "Here", State: provisions.TurnPassed}}
	assert.Equal(t, "too late for Here with the reserve whole of water, gas", told(a))
	a.Way.Turning = append(a.Way.Turning, provisions.Turning{Thing: passage.Food, To: "Here", Case: passage.Slow, State: provisions.TurnNoWay})
	assert.Equal(t, "she makes no way back to Here (slow case)", told(a))
	a.Way.Turning = nil
	assert.Empty(t, told(a))
}

func TestOneLineTellsTheStageAndWhatIsDue(t *testing.T) {
	d, l := left(t)
	d.Plan.Legs[0].Distance = 120
	a := walked().assess(d, evening)
	brief, due := a.WayBrief()
	assert.Empty(t, brief)
	assert.False(t, due)
	brief, due = l.assess(d, day(0.5)).WayBrief()
	assert.Equal(t, "UNDER WAY: day 1; 120 nm to There", brief)
	assert.False(t, due)
	brief, due = l.assess(d, day(1.1)).WayBrief()
	assert.Equal(t, "UNDER WAY: noon due; day 2; 120 nm to There", brief)
	assert.True(t, due)
	a = l.assess(d, day(1.1))
	a.Way.Proofs = []DefectDue{{Defect: 12, Deadline: evening}, {Defect: 13, Missed: true}}
	a.Way.Points = []DecisionPoint{{Point: "p"}, {Point: "ahead", ToGo: 20}}
	a.Way.Warns = []string{"water RUNS OUT"}
	brief, _ = a.WayBrief()
	assert.Equal(t, "UNDER WAY: 1 NOT PROVED; prove defect 12 by 18:00; beware; noon due; 1 to decide; day 2; 120 nm to There", brief)
}

func TestADecisionIsReadFromOneLine(t *testing.T) {
	for text, want := range map[string]DecisionAnswered{
		"1016 and steady":  {Point: "p", GoOn: true, Why: "1016 and steady"},
		"No, it falls":     {Point: "p", Why: "it falls"},
		"no,it falls":      {Point: "p", Why: "it falls"},
		"nothing is wrong": {Point: "p", GoOn: true, Why: "nothing is wrong"},
		"n":                {Point: "p", GoOn: true, Why: "n"},
	} {
		got, given := ParseDecision("p", text)
		assert.True(t, given, text)
		assert.Equal(t, want, got, text)
	}
	for _, text := range []string{"", " ", "no,", "no, "} {
		_, given := ParseDecision("p", text)
		assert.False(t, given, text)
	}
}

// What was told is told again: the position and the sleep too.
func TestANoonIsToldInWords(t *testing.T) {
	sleep := 4.5
	words := Definitions{}.passageWords(Noon{
		To: "There", ToGo: 240, Position: &passage.Position{Lat: -16, Lon: -175}, Wind: "18 kn", Sleep: &sleep, Pressure: "1013 hPa",
	})
	assert.Equal(t, "noon, 240 nm to go to There, at "+passage.Position{Lat: -16, Lon: -175}.String()+", wind 18 kn, 1013 hPa, slept 4.5 h of the last 24", words)
}
