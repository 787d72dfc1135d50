package passage_test

import (
	"math"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

var (
	nan = math.NaN()
	inf = math.Inf(1)
)

var foulingNow = time.Date(2026, 6, 12, 8, 0, 0, 0, time.UTC)

// daysAgo is a reading at 2100 rpm, where she does 5.6 kn clean.
func daysAgo(days float64, share float64) passage.SpeedSeen {
	return passage.SpeedSeen{
		At:  foulingNow.Add(-time.Duration(days * 24 * float64(time.Hour))),
		RPM: 2100, Speed: quantity.Speed(5.6 * share), UnderWay: true, SailsDown: true,
	}
}

func TestFoulingIsTheMedianOfTheLastFive(t *testing.T) {
	// All by the definition in the design; arithmetic.
	bad := func(change func(*passage.SpeedSeen)) passage.SpeedSeen {
		s := daysAgo(1, 0.5)
		change(&s)
		return s
	}
	rows := []struct {
		name string
		seen []passage.SpeedSeen
		want float64
		n    int
	}{
		{"none", nil, 1, 0},
		{"one", []passage.SpeedSeen{daysAgo(1, 0.9)}, 0.9, 1},
		{"two: the mean", []passage.SpeedSeen{daysAgo(1, 0.9), daysAgo(2, 0.8)}, 0.85, 2},
		{"three: the middle", []passage.SpeedSeen{daysAgo(1, 0.9), daysAgo(2, 0.5), daysAgo(3, 0.8)}, 0.8, 3},
		{"the sixth is forgotten, whatever the order", []passage.SpeedSeen{
			daysAgo(6, 0.1), daysAgo(1, 0.99), daysAgo(2, 0.91), daysAgo(5, 0.94), daysAgo(3, 0.92), daysAgo(4, 0.93)}, 0.93, 5},
		{"never above 1", []passage.SpeedSeen{daysAgo(1, 1.2)}, 1, 1},
		{"60 days count", []passage.SpeedSeen{daysAgo(60, 0.9)}, 0.9, 1},
		{"more do not", []passage.SpeedSeen{daysAgo(60.001, 0.9)}, 1, 0},
		{"a reading of tomorrow does not", []passage.SpeedSeen{daysAgo(-0.01, 0.9)}, 1, 0},
		{"at anchor", []passage.SpeedSeen{bad(func(s *passage.SpeedSeen) { s.UnderWay = false })}, 1, 0},
		{"sails up", []passage.SpeedSeen{bad(func(s *passage.SpeedSeen) { s.SailsDown = false })}, 1, 0},
		{"outside the curve", []passage.SpeedSeen{bad(func(s *passage.SpeedSeen) { s.RPM = 1700 })}, 1, 0},
		{"no speed", []passage.SpeedSeen{bad(func(s *passage.SpeedSeen) { s.Speed = 0 })}, 1, 0},
		{"nonsense", []passage.SpeedSeen{bad(func(s *passage.SpeedSeen) { s.Speed = quantity.Speed(nan) })}, 1, 0},
		{"what does not count takes no place of the five", []passage.SpeedSeen{
			daysAgo(9, 0.8), bad(func(s *passage.SpeedSeen) { s.RPM = 1700 }), daysAgo(5, 0.8), daysAgo(6, 0.8),
			daysAgo(7, 0.9), daysAgo(8, 0.9)}, 0.8, 5},
	}
	for _, r := range rows {
		f, n := passage.Fouling(twoRows(), r.seen, foulingNow, time.Time{})
		assert.InDelta(t, r.want, f, 1e-12, r.name)
		assert.Equal(t, r.n, n, r.name)
	}
}

func TestFoulingCountsFrom1500RPM(t *testing.T) {
	e := passage.Engine{Curve: []passage.CurveRow{{RPM: 1000, Speed: 4}, {RPM: 2000, Speed: 4}}}
	for rpm, want := range map[int]int{1499: 0, 1500: 1} {
		s := daysAgo(1, 0.5)
		s.RPM = rpm
		_, n := passage.Fouling(e, []passage.SpeedSeen{s}, foulingNow, time.Time{})
		assert.Equal(t, want, n, rpm)
	}
}

func TestAScrubForgetsWhatWasBefore(t *testing.T) {
	seen := []passage.SpeedSeen{daysAgo(3, 0.7), daysAgo(2, 0.8), daysAgo(1, 0.9)}
	f, n := passage.Fouling(twoRows(), seen, foulingNow, seen[1].At)
	assert.InDelta(t, 0.85, f, 1e-12)
	assert.Equal(t, 2, n, "the moment of the service itself counts")
	f, n = passage.Fouling(twoRows(), seen, foulingNow, foulingNow)
	assert.Equal(t, 1.0, f)
	assert.Zero(t, n)
}

func TestFoulingWithoutACurveIsOne(t *testing.T) {
	f, n := passage.Fouling(passage.Engine{}, []passage.SpeedSeen{daysAgo(1, 0.5)}, foulingNow, time.Time{})
	assert.Equal(t, 1.0, f)
	assert.Zero(t, n)
	still := passage.Engine{Curve: []passage.CurveRow{{RPM: 2000}, {RPM: 2200}}}
	_, n = passage.Fouling(still, []passage.SpeedSeen{daysAgo(1, 0.5)}, foulingNow, time.Time{})
	assert.Zero(t, n, "a curve without speeds")
}

// underEngine is 200 nm under engine alone at 2400 rpm, where she does v clean.
func underEngine(t *testing.T, v quantity.Speed, burn quantity.Flow, f float64) (litres float64) {
	t.Helper()
	e := passage.Engine{CruiseRPM: 2400, Curve: []passage.CurveRow{{RPM: 1000, Speed: 3, Burn: 1}, {RPM: 2400, Speed: v, Burn: burn}}}
	p := passage.Plan{Legs: []passage.Leg{{Distance: 200}}, Cases: map[passage.CaseName]passage.Case{
		passage.Slow: {Speed: 1, Motor: 1, Power: 1}}}
	voyage := passage.Run(p, e, passage.Slow, foulingNow, passage.Trim{Fouling: f})
	require.True(t, voyage.Made())
	b, _, ok := e.BurnUnderWay(voyage.Spans[0].RPM)
	require.True(t, ok)
	return voyage.Hours * float64(b)
}

func TestADirtyBottomCostsFuelByTheMile(t *testing.T) {
	// Source: arithmetic. 6.0 clean, 5.4 kn seen at 2.4 L/h: 0.400 -> 0.444 L/nm, x1.111; 200 nm
	// cost 88.9 L instead of 80.0.
	clean, dirty := underEngine(t, 6, 2.4, 1), underEngine(t, 6, 2.4, 0.9)
	assert.InDelta(t, 80.0, clean, 0.1)
	assert.InDelta(t, 88.9, dirty, 0.1)
	assert.InDelta(t, 0.444, dirty/200, 0.001)
	assert.InDelta(t, 1.111, dirty/clean, 0.001)
}

func TestHeavyFouling(t *testing.T) {
	// Source: Schultz, Biofouling 23 (2007) 331-341: 10.7 % speed lost to heavy calcareous
	// fouling at constant power: factor 0.893, fuel per mile x1.120.
	f, _ := passage.Fouling(twoRows(), []passage.SpeedSeen{daysAgo(1, 1-0.107)}, foulingNow, time.Time{})
	assert.InDelta(t, 0.893, f, 0.001)
	assert.InDelta(t, 1.120, underEngine(t, 6, 2.4, f)/underEngine(t, 6, 2.4, 1), 0.001)
}

func TestFoulingIsAlwaysAFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := anEngine(t)
		var seen []passage.SpeedSeen
		for range rapid.IntRange(0, 12).Draw(t, "readings") {
			s := daysAgo(rapid.Float64Range(-5, 80).Draw(t, "days"), rapid.Float64Range(-0.1, 1.5).Draw(t, "share"))
			s.RPM = rapid.IntRange(0, 4000).Draw(t, "rpm")
			s.UnderWay = rapid.Bool().Draw(t, "under way")
			seen = append(seen, s)
		}
		before := append([]passage.SpeedSeen(nil), seen...)
		f, n := passage.Fouling(e, seen, foulingNow, time.Time{})
		require.True(t, f > 0 && f <= 1, f)
		require.True(t, n >= 0 && n <= 5, n)
		require.Equal(t, before, seen, "the readings stay as they were")
		if n == 0 {
			require.Equal(t, 1.0, f)
		}
	})
}
