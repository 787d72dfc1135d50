package machinery

import (
	"math"
	"slices"
	"testing"
	"time"

	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Source: NIST/SEMATECH e-Handbook 6.3.2.2, the flow rates of ten batches.
func TestIndividualsChartAgreesWithTheHandbook(t *testing.T) {
	values := []float64{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	centre, sigma := individuals(values)
	assert.InDelta(t, 50.81, centre, 1e-9)
	assert.InDelta(t, 1.8778, sigma*movingRange, 5e-5)
	assert.InDelta(t, 1.66470, sigma, 5e-6)
	assert.InDelta(t, 55.8041, centre+sigmas*sigma, 5e-5)
	assert.InDelta(t, 45.8159, centre-sigmas*sigma, 5e-5)
	for _, v := range values {
		assert.False(t, isBeyond(math.Abs(v-centre), sigmas*sigma), "no point outside")
	}
}

// Source: NIST/SEMATECH e-Handbook 6.3.2.4.
func TestRunningMeanAgreesWithTheHandbook(t *testing.T) {
	values := []float64{52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1}
	want := []float64{50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99}
	got := runningMean(values, 50, 0.3)
	require.Len(t, got, len(want))
	width := meanWidth(2.0539, 0.3)
	for i := range want {
		assert.InDelta(t, want[i], got[i], 0.006, i+1)
		assert.False(t, isBeyond(math.Abs(got[i]-50), width), "no signal")
	}
	assert.InDelta(t, 52.5884, 50+width, 1e-4)
	assert.InDelta(t, 47.4115, 50-width, 1e-4)
}

// Source: NIST/SEMATECH e-Handbook 6.3.2.3.
func TestCumulatedSumAgreesWithTheHandbook(t *testing.T) {
	const target, k, h = 325, 0.3175, 4.1959
	values := []float64{
		324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
		324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
	}
	high := []float64{0, 0, 0, 0, 0.0325, 0, 0, 0, 0, 0, 0, 0, 3.0075, 4.9400, 7.4475, 10.6300, 11.9875, 14.4450, 16.0025, 19.0350}
	low := []float64{0, 0.0075, 0, 0.3325, 0, 0, 0.5575, 0.7150, 0.1725, 0.2550, 0.3125, 0, 0, 0, 0, 0, 0, 0, 0, 0}
	up, down := cumulated(values, target, k), cumulated(negated(values), -target, k)
	for i := range values {
		assert.InDelta(t, high[i], up[i], 0.005, i+1)
		assert.InDelta(t, low[i], down[i], 0.005, i+1)
		assert.Equal(t, i+1 >= 14, isBeyond(up[i], h), "signals from the 14th on: %d", i+1)
		assert.False(t, isBeyond(down[i], h))
	}
}

// Source: Montgomery and Runger, Applied Statistics and Probability for Engineers, ex. 16-6.
func TestCumulatedSumStaysQuietAsInTheTextbook(t *testing.T) {
	values := []float64{102.0, 94.8, 98.3, 98.4, 102.0, 98.5, 99.0, 97.7, 100.0, 98.1, 101.3, 98.7, 101.1, 98.4, 97.0, 96.7, 100.3, 101.4, 97.2, 101.0}
	high := []float64{2.0, 0, 0, 0, 2.0, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1.0}
	low := []float64{0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1.0, 2.3, 0, 0, 0.8, 0}
	assert.InDeltaSlice(t, high, cumulated(values, 99, 1), 1e-9)
	assert.InDeltaSlice(t, low, cumulated(negated(values), -99, 1), 1e-9)
}

func negated(values []float64) []float64 {
	out := make([]float64, len(values))
	for i, v := range values {
		out[i] = -v
	}
	return out
}

// firstFlags is at which value each rule first holds.
func firstFlags(off []float64) map[Flag]int {
	first := map[Flag]int{}
	for i := range off {
		for _, flag := range runRules(off[:i+1]) {
			if first[flag] == 0 {
				first[flag] = i + 1
			}
		}
	}
	return first
}

// Rows of the reference, checks 7.5: the Western Electric rules, centre 0, sigma 1.
func TestRunRules(t *testing.T) {
	repeat := func(v float64, n int, then ...float64) []float64 {
		return append(slices.Repeat([]float64{v}, n), then...)
	}
	for _, row := range []struct {
		values []float64
		want   map[Flag]int
	}{
		{[]float64{0.2, -0.5, 3.1}, map[Flag]int{FlagBeyond: 3}},
		{[]float64{3.0}, map[Flag]int{}},
		{[]float64{2.1, 0.3, 2.2}, map[Flag]int{FlagTwoOfThree: 3}},
		{[]float64{2.1, 0.3, -2.2}, map[Flag]int{}},
		{[]float64{1.2, 1.1, 0.4, 1.3, 1.5}, map[Flag]int{FlagFourOfFive: 5}},
		{repeat(0.1, 8), map[Flag]int{FlagEight: 8}},
		{repeat(0.1, 7, -0.1, 0.1), map[Flag]int{}},
	} {
		assert.Equal(t, row.want, firstFlags(row.values), row.values)
	}
}

// readingsOf are readings at 2200 rpm, where 80 °C is clean, a day apart.
func readingsOf(coolant ...float64) []Gauges {
	var all []Gauges
	for i, v := range coolant {
		all = append(all, steady(coolantOf(quantity.Temperature(v)), func(g *Gauges) { g.At = noonOfReading.AddDate(0, 0, i) }))
	}
	return all
}

func coolantTrend(charting Charting, readings []Gauges) Trend {
	return TrendOf(trialEngine(), readings, GaugeCoolant, charting, quantity.Metric)
}

// at is the first reading after the baseline, from 1, at which a flag is up; 0: never.
func (t Trend) at(baseline int, flag Flag) int {
	for i, p := range t.Points[baseline:] {
		if slices.Contains(p.Flags, flag) {
			return i + 1
		}
	}
	return 0
}

var coolantBaseline = []float64{78, 79, 78.5, 78, 78.5, 79, 78, 78.5, 78.5, 79}

// Rows of the reference, checks 7.6. The chart is of the rise, so 80 °C lower.
func TestCoolantExampleOfTheReference(t *testing.T) {
	ten := Charting{Baseline: 10}
	crept := coolantTrend(ten, readingsOf(append(slices.Clone(coolantBaseline), 79.5, 79.5, 80, 80.5, 81)...))
	require.Len(t, crept.Points, 15)
	assert.InDelta(t, 78.5-80, float64(crept.Centre), 1e-9)
	assert.InDelta(t, 0.49251, individualsSigma(coolantBaseline), 5e-6)
	assert.InDelta(t, 0.5, float64(crept.Sigma), 1e-9, "half a division of the gauge")

	// With a finer gauge, the figures of the reference.
	fine := Charting{Baseline: 10, Division: 0.5}
	crept = coolantTrend(fine, readingsOf(append(slices.Clone(coolantBaseline), 79.5, 79.5, 80, 80.5, 81)...))
	last := crept.Points[14]
	assert.InDelta(t, 77.0225-80, float64(last.Lower), 5e-5)
	assert.InDelta(t, 79.9775-80, float64(last.Upper), 5e-5)
	assert.Equal(t, 3, crept.at(10, FlagBeyond))
	assert.Equal(t, 2, crept.at(10, FlagTwoOfThree))
	assert.Equal(t, 4, crept.at(10, FlagFourOfFive))
	assert.Equal(t, 3, crept.at(10, FlagCumulated))
	sigma := float64(crept.Sigma)
	sums := cumulated([]float64{79.5, 79.5, 80, 80.5, 81}, 78.5, cusumSlack*sigma)
	assert.InDeltaSlice(t, []float64{0.754, 1.507, 2.761, 4.515, 6.769}, sums, 5e-4)
	assert.InDelta(t, 2.4626, cusumLimit*sigma, 5e-5)

	hovers := []float64{78.5, 79, 79, 79, 79.5, 79, 79, 79.5}
	slow := coolantTrend(fine, readingsOf(append(slices.Clone(coolantBaseline), hovers...)...))
	assert.Zero(t, slow.at(10, FlagBeyond))
	assert.Zero(t, slow.at(10, FlagTwoOfThree))
	assert.Equal(t, 5, slow.at(10, FlagFourOfFive))
	assert.Equal(t, 8, slow.at(10, FlagCumulated))
	assert.InDelta(t, 2.776, cumulated(hovers, 78.5, cusumSlack*sigma)[7], 5e-4)

	same := coolantTrend(ten, readingsOf(append(slices.Repeat([]float64{78}, 10), 78.5)...))
	assert.InDelta(t, 0.5, float64(same.Sigma), 1e-9, "sigma 0 becomes half a division")
	assert.Empty(t, same.Points[10].Flags)
	assert.Equal(t, LevelNormal, same.Level)
}

func individualsSigma(values []float64) float64 {
	_, sigma := individuals(values)
	return sigma
}

// 8 to 10 readings before there are limits. Source: reference, checks 5.3; common practice.
func TestTrendLearnsForEightReadings(t *testing.T) {
	seven := coolantTrend(Charting{}, readingsOf(80, 81, 80, 80, 81, 80, 99))
	assert.Equal(t, 1, seven.Wanted)
	assert.Equal(t, LevelUnjudged, seven.Level)
	assert.Equal(t, "coolant: 7 of the 8 readings that make its limits", seven.Words)
	require.Len(t, seven.Points, 7)
	assert.False(t, seven.Points[6].Limited)
	assert.Empty(t, seven.Points[6].Flags)

	eight := coolantTrend(Charting{}, readingsOf(80, 81, 80, 80, 81, 80, 80, 81))
	assert.Zero(t, eight.Wanted)
	assert.Equal(t, LevelNormal, eight.Level)
	assert.Equal(t, "coolant has kept within its own limits over 8 readings", eight.Words)
	assert.True(t, eight.Points[0].Limited)
	assert.Equal(t, noonOfReading, eight.Points[0].At)
	assert.InDelta(t, 1, float64(eight.Points[1].Value), 1e-9)

	odd := coolantTrend(Charting{}, readingsOf(80, 80, 80, 80, 80, 80, 80, 90))
	assert.Equal(t, []Flag{FlagBeyond}, odd.Points[7].Flags, "an odd reading among the eight stands out at once")
	assert.Equal(t, "coolant stands out, 8.8 °C above its usual: read it again, then look", odd.Words)
	assert.True(t, odd.Acts)
	assert.Equal(t, LevelUnjudged, coolantTrend(Charting{}, nil).Level)
}

func TestSlowDriftIsToldBeforeAnyLimitIsReached(t *testing.T) {
	values := []float64{80, 80.5, 80, 79.5, 80, 80.5, 79.5, 80}
	told := 0
	for i := 1; i <= 9; i++ {
		values = append(values, 80+float64(i)/3)
		readings := readingsOf(values...)
		newest := readings[len(readings)-1]
		assert.Less(t, judged(newest, readings...).Level, LevelLimit)
		if trend := coolantTrend(Charting{}, readings); trend.Level == LevelLook && told == 0 {
			told = i
			assert.Equal(t, LevelNormal, judged(newest, readings...).Level, "before it is even worth a look")
		}
	}
	assert.Equal(t, 4, told, "at 1.3 °C of rise")

	trend := coolantTrend(Charting{}, readingsOf(values...))
	assert.True(t, trend.Acts)
	assert.Equal(t, "coolant has crept up 2.7 °C over the last 9 readings: look now, before it is a limit", trend.Words)
	assert.Equal(t, "coolant has crept up 5 °F over the last 9 readings: look now, before it is a limit",
		TrendOf(trialEngine(), readingsOf(values...), GaugeCoolant, Charting{}, quantity.US).Words)

	early := coolantTrend(Charting{}, readingsOf(values[:12]...))
	assert.False(t, early.Acts)
	assert.Equal(t, "coolant has crept up 1 °C over the last 4 readings: look before it is a limit", early.Words)
}

func TestRunningMeanTellsADriftThatNoRunDoes(t *testing.T) {
	third := 1.0 / 3
	trend := coolantTrend(Charting{}, readingsOf(80, 80.5, 80, 79.5, 80, 80.5, 79.5, 80, 80+third, 80+2*third, 81, 81+third))
	last := trend.Points[len(trend.Points)-1]
	assert.Equal(t, []Flag{FlagMean}, last.Flags)
	assert.Greater(t, last.Mean, last.MeanUpper)
	assert.Equal(t, LevelLook, trend.Level)
	assert.False(t, trend.Acts)
}

func TestLessThanAGaugeDivisionIsNothingToLookAt(t *testing.T) {
	values := append([]float64{80, 80.5, 80, 79.5, 80, 80.5, 79.5, 80}, slices.Repeat([]float64{80.5}, 8)...)
	trend := coolantTrend(Charting{}, readingsOf(values...))
	assert.Equal(t, []Flag{FlagEight}, trend.Points[15].Flags, "told on the chart all the same")
	assert.Equal(t, LevelNormal, trend.Level)
	assert.Equal(t, "coolant lies 0.5 °C above its usual, less than its gauge shows: nothing to look at yet", trend.Words)
	assert.Equal(t, LevelLook, coolantTrend(Charting{Division: 0.5}, readingsOf(values...)).Level)
}

func TestServiceBeginsANewSeries(t *testing.T) {
	readings := readingsOf(80, 80, 80, 80, 80, 80, 80, 80, 84, 84, 84, 84, 84, 84, 84, 84, 84)
	assert.Equal(t, LevelLook, coolantTrend(Charting{}, readings).Level)
	after := coolantTrend(Charting{Since: readings[8].At}, readings)
	assert.Len(t, after.Points, 9, "the reading of that moment counts")
	assert.Equal(t, LevelNormal, after.Level)
	assert.InDelta(t, 4, float64(after.Centre), 1e-9)
}

func TestFaultIsNotAveragedIntoTheBaseline(t *testing.T) {
	values := slices.Repeat([]float64{80}, 8)
	before := coolantTrend(Charting{}, readingsOf(values...))
	for range 40 {
		values = append(values, 90)
	}
	after := coolantTrend(Charting{}, readingsOf(values...))
	assert.Equal(t, before.Centre, after.Centre)
	assert.Equal(t, before.Sigma, after.Sigma)
	assert.Equal(t, LevelLook, after.Level)
}

func TestOnlyComparableReadingsMakeATrend(t *testing.T) {
	good := readingsOf(80, 80, 80, 80, 80, 80, 80, 80)
	trend := coolantTrend(Charting{}, good)
	for name, change := range map[string]func(*Gauges){
		"moored": moored, "not settled": heldFor(14 * time.Minute), "outside the curve": revsOf(1000), "no revs": noRevs,
		"standing": revsOf(0), "no coolant": noCoolant, "no number": coolantOf(quantity.Temperature(math.NaN())), "without end": coolantOf(quantity.Temperature(math.Inf(1))),
	} {
		other := steady(coolantOf(120), change, func(g *Gauges) { g.At = noonOfReading.AddDate(0, 1, 0) })
		assert.Equal(t, trend, coolantTrend(Charting{}, append(slices.Clone(good), other)), name)
	}
}

func TestEachGaugeIsWatchedOnItsOwnSide(t *testing.T) {
	series := func(usual, now Gauges) []Gauges {
		var all []Gauges
		for i := range 12 {
			g := usual
			if i >= 8 {
				g = now
			}
			g.At = noonOfReading.AddDate(0, 0, i)
			all = append(all, g)
		}
		return all
	}
	trendOf := func(of Gauge, usual, now Gauges) Trend {
		return TrendOf(trialEngine(), series(usual, now), of, Charting{}, quantity.Metric)
	}

	usual := steady(oilOf(3.6), speedOf(6), voltsOf(13.8), rawOutOf(40))
	for _, row := range []struct {
		of    Gauge
		now   Gauges
		level Level
		words string
	}{
		{GaugeCoolant, steady(coolantOf(76)), LevelNormal, ""},
		{GaugeCoolant, steady(coolantOf(84)), LevelLook, "coolant has crept up 4 °C over the last 4 readings: look now, before it is a limit"},
		{GaugeCoolant, steady(coolantOf(84), seaAt(24)), LevelLook, "coolant has crept up 4 °C over the last 4 readings: look now, before it is a limit; the sea is 6 °C warmer than when it began and may explain as much"},
		{GaugeRawOut, steady(rawOutOf(46)), LevelLook, "raw-water lift has crept up 6 °C over the last 4 readings: look now, before it is a limit"},
		{GaugeOil, steady(oilOf(4)), LevelNormal, ""},
		{GaugeOil, steady(oilOf(3.2)), LevelLook, "oil has fallen 0.4 bar over the last 4 readings: look now, before it is a limit"},
		{GaugeSpeed, steady(speedOf(6.6)), LevelNormal, ""},
		{GaugeSpeed, steady(speedOf(5.4)), LevelLook, "speed has fallen 10 % of clean speed over the last 4 readings: look now, before it is a limit"},
		{GaugeVolts, steady(voltsOf(13.2)), LevelLook, "voltage has fallen 0.60 V over the last 4 readings: look now, before it is a limit"},
		{GaugeVolts, steady(voltsOf(14.4)), LevelLook, "voltage has crept up 0.60 V over the last 4 readings: look now, before it is a limit"},
	} {
		trend := trendOf(row.of, usual, row.now)
		assert.Equal(t, row.level, trend.Level, trend.Words)
		if row.words != "" {
			assert.Equal(t, row.words, trend.Words)
		}
	}
	for _, gauge := range Trended {
		assert.Equal(t, LevelNormal, trendOf(gauge, usual, usual).Level, gauge)
	}
	assert.Equal(t, LevelUnjudged, trendOf(GaugeHours, usual, usual).Level, "what is not trended has no series")
}

func TestTrendTakesWhateverItIsGiven(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		readings := rapid.SliceOfN(anyGauges(), 0, 30).Draw(t, "readings")
		charting := Charting{
			Baseline: rapid.IntRange(-3, 12).Draw(t, "baseline"), Lambda: rapid.Float64().Draw(t, "lambda"),
			Division: Off(rapid.Float64().Draw(t, "division")), Settle: time.Minute,
		}
		for _, gauge := range Trended {
			trend := TrendOf(trialEngine(), readings, gauge, charting, quantity.US)
			assert.NotEmpty(t, trend.Words)
			assert.True(t, slices.IsSortedFunc(trend.Points, func(a, b Point) int { return a.At.Compare(b.At) }))
			assert.Equal(t, trend.Wanted > 0, trend.Level == LevelUnjudged)
			for _, p := range trend.Points {
				assert.Equal(t, trend.Wanted == 0, p.Limited)
				assert.False(t, math.IsNaN(float64(p.Value+p.Mean+p.Upper)))
			}
		}
	})
}
