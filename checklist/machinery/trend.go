package machinery

import (
	"fmt"
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Off is a value of a trend: the reading less the clean curve at its revs. Coolant and
// raw-water lift are in °C, oil in bar, speed as a share of the clean speed; volts,
// which have no curve, are the volts themselves.
type Off float64

// Trended are the gauges that have a trend. GaugeRawOut stands for the raw water's lift.
var Trended = []Gauge{GaugeCoolant, GaugeRawOut, GaugeOil, GaugeSpeed, GaugeVolts}

// Side is where a gauge goes when something is wrong. Source: reference, one-sided
// for temperature (high) and oil pressure (low), two-sided for volts; common practice.
type Side int

// The sides.
const (
	SideBoth Side = iota
	SideHigh
	SideLow
)

func (s Side) watches(sign float64) bool {
	return s == SideBoth || s == SideHigh && sign > 0 || s == SideLow && sign < 0
}

// Charting is how a trend is drawn. A field left at 0 takes its default.
type Charting struct {
	Since    time.Time     // the last service that began a new series; earlier readings are left out
	Baseline int           // the first so many readings make the limits; left out: 8
	Lambda   float64       // weight of the newest reading in the running mean, 0 to 1; left out: 0.2
	Division Off           // the smallest division of the gauge; left out: what is usual
	Settle   time.Duration // at the same revs before a reading counts; left out: 15 min
}

const (
	// baselineLeast readings make limits: the least of the 8 to 10 that the reference
	// asks for. Common practice, no source.
	baselineLeast = 8
	// lambdaUsual is the low end of 0.2 to 0.3. Source: NIST/SEMATECH 6.3.2.4.
	lambdaUsual = 0.2
	// movingRange turns a mean moving range of two into a standard deviation: d2 = 1.128.
	// Source: NIST/SEMATECH 6.3.2.2.
	movingRange = 1.128
	// sigmas is how wide the limits are. Source: NIST/SEMATECH 6.3.2.2 and 6.3.2.4.
	sigmas = 3
	// The cumulated sum: half the shift that is sought, and from where on it signals,
	// in standard deviations. Source: NIST/SEMATECH 6.3.2.3; Page (1954).
	cusumSlack, cusumLimit = 0.5, 5
)

// divisions are those of usual gauges. Common practice, no source.
var divisions = map[Gauge]Off{GaugeCoolant: 1, GaugeRawOut: 1, GaugeOil: 0.2, GaugeSpeed: 0.02, GaugeVolts: 0.1}

var sides = map[Gauge]Side{GaugeCoolant: SideHigh, GaugeRawOut: SideHigh, GaugeOil: SideLow, GaugeSpeed: SideLow}

func (c Charting) orDefaults(of Gauge) Charting {
	c.Baseline = max(c.Baseline, 0)
	if c.Baseline == 0 {
		c.Baseline = baselineLeast
	}
	c.Baseline = max(c.Baseline, 2)
	if !(c.Lambda > 0 && c.Lambda <= 1) {
		c.Lambda = lambdaUsual
	}
	c.Division = positive(c.Division, divisions[of])
	c.Settle = positive(c.Settle, DefaultLimits().Settle)
	return c
}

// Flag is a rule that a point broke.
type Flag string

// The flags. Beyond and Cumulated want an act, the others a look.
const (
	FlagBeyond     Flag = "beyond three sigma"
	FlagTwoOfThree Flag = "two of three beyond two sigma"
	FlagFourOfFive Flag = "four of five beyond one sigma"
	FlagEight      Flag = "eight in a row on one side"
	FlagMean       Flag = "running mean beyond its limits"
	FlagCumulated  Flag = "cumulated sum beyond its limit"
)

// Point is one reading of a trend. Limited is false while the trend is learning: there
// are no limits then, and nothing is flagged.
type Point struct {
	At        time.Time
	Hours     *float64 // of the hour-meter, where it was read
	Value     Off
	Centre    Off
	Lower     Off
	Upper     Off
	Mean      Off // exponentially weighted; the centre within the baseline
	MeanLower Off
	MeanUpper Off
	Limited   bool
	Flags     []Flag
}

// Trend is how a gauge moved since its last service.
type Trend struct {
	Of     Gauge
	Wanted int // readings still wanted before there are limits; 0: there are
	Centre Off
	Sigma  Off
	Points []Point // oldest first
	Level  Level   // unjudged while learning; worth a look where the newest point is flagged and a gauge division off
	Acts   bool    // the newest point wants an act, not just a look
	Words  string  // one sentence
}

// TrendOf charts one gauge by the individuals chart and the exponentially weighted
// moving average, with the run rules and the cumulated sum beside them. The first
// readings since the last service make the centre and the limits, and later ones never
// move them, so that a fault is not averaged in. Sigma is never below half a gauge
// division. It tells a slow drift before Judge's limits are reached; those always win.
// Readings may be in any order; moored ones count for volts alone. Sources:
// NIST/SEMATECH e-Handbook 6.3.2.2, 6.3.2.3 and 6.3.2.4; Western Electric rules.
func TrendOf(engine passage.Engine, readings []Gauges, of Gauge, charting Charting, units quantity.System) Trend {
	charting = charting.orDefaults(of)
	series := seriesOf(engine, readings, of, charting)
	trend := Trend{Of: of, Level: LevelUnjudged, Wanted: max(0, charting.Baseline-len(series))}
	for _, s := range series {
		trend.Points = append(trend.Points, Point{At: s.At, Hours: s.Hours, Value: s.value})
	}
	if trend.Wanted > 0 {
		trend.Words = fmt.Sprintf("%s: %d of the %d readings that make its limits", trendName(of), len(series), charting.Baseline)
		return trend
	}

	chart := newChart(series, of, charting)
	chart.draw(trend.Points)
	trend.Centre, trend.Sigma, trend.Level = Off(chart.centre), Off(chart.sigma), LevelNormal
	flags := trend.Points[len(series)-1].Flags
	if len(flags) > 0 && chart.isSeen() {
		trend.Level = LevelLook
	}
	trend.Acts = trend.Level == LevelLook && (slices.Contains(flags, FlagBeyond) || slices.Contains(flags, FlagCumulated))
	trend.Words = chart.words(flags, units)
	return trend
}

// seen is a reading with its value in the trend.
type seen struct {
	Gauges
	value Off
}

func seriesOf(engine passage.Engine, readings []Gauges, of Gauge, charting Charting) []seen {
	var series []seen
	for _, g := range readings {
		g = g.comparable()
		if g.At.Before(charting.Since) || g.AtRevs < charting.Settle || g.stands() {
			continue
		}
		if value, known := offOf(engine, g, of); known {
			series = append(series, seen{g, value})
		}
	}
	slices.SortStableFunc(series, func(a, b seen) int { return a.At.Compare(b.At) })
	return series
}

func offOf(engine passage.Engine, g Gauges, of Gauge) (Off, bool) {
	if of == GaugeVolts {
		return offIf(g.Volts)
	}
	if g.Moored || g.RPM == nil {
		return 0, false
	}
	switch of {
	case GaugeCoolant:
		return offIf(riseOf(engine, g))
	case GaugeRawOut:
		return offIf(liftUpOf(engine, g))
	case GaugeSpeed:
		lost, _ := speedLostOf(engine, g)
		v, known := offIf(lost)
		return -v, known
	case GaugeOil:
		normal, known := engine.OilAt(*g.RPM)
		if !known || g.Oil == nil {
			return 0, false
		}
		return Off(*g.Oil - normal), true
	}
	return 0, false
}

func offIf[T ~float64](v *T) (Off, bool) {
	if v == nil {
		return 0, false
	}
	return Off(*v), true
}

// chart is a series with its limits.
type chart struct {
	of            Gauge
	series        []seen
	values        []float64
	charting      Charting
	centre, sigma float64
	flagged       float64 // the side on which the newest point is flagged: 1 or -1; 0: it is not
}

func newChart(series []seen, of Gauge, charting Charting) *chart {
	c := &chart{of: of, series: series, charting: charting}
	for _, s := range series {
		c.values = append(c.values, float64(s.value))
	}
	c.centre, c.sigma = individuals(c.values[:charting.Baseline])
	c.sigma = max(c.sigma, float64(charting.Division)/2)
	return c
}

// draw gives the points their limits and flags. The rules that look back begin with
// the first reading after the baseline; a window that is not full yet still counts.
func (c *chart) draw(points []Point) {
	width := meanWidth(c.sigma, c.charting.Lambda)
	means := runningMean(c.fresh(), c.centre, c.charting.Lambda)
	for i := range points {
		p := &points[i]
		p.Limited = true
		p.Centre, p.Lower, p.Upper = Off(c.centre), Off(c.centre-sigmas*c.sigma), Off(c.centre+sigmas*c.sigma)
		p.Mean, p.MeanLower, p.MeanUpper = Off(c.centre), Off(c.centre-width), Off(c.centre+width)
		if at := i - c.charting.Baseline; at >= 0 {
			p.Mean = Off(means[at])
		}
	}
	last := &points[len(points)-1]
	for _, sign := range c.signs() {
		before := len(last.Flags)
		c.flag(points, means, sign)
		if len(last.Flags) > before {
			c.flagged = sign
		}
	}
}

// fresh are the values after the baseline.
func (c *chart) fresh() []float64 { return c.values[c.charting.Baseline:] }

// signs are the sides that the gauge is watched on.
func (c *chart) signs() []float64 {
	return slices.DeleteFunc([]float64{1, -1}, func(sign float64) bool { return !sides[c.of].watches(sign) })
}

func (c *chart) flag(points []Point, means []float64, sign float64) {
	for i := range c.charting.Baseline {
		if isBeyond(c.sigmasOff(c.values[i], sign), sigmas) {
			points[i].Flags = append(points[i].Flags, FlagBeyond)
		}
	}

	fresh := c.fresh()
	off := make([]float64, len(fresh))
	for i, v := range fresh {
		off[i] = c.sigmasOff(v, sign)
	}
	sums := cumulated(off, 0, cusumSlack)
	width := meanWidth(c.sigma, c.charting.Lambda)
	for i := range fresh {
		p := &points[c.charting.Baseline+i]
		p.Flags = append(p.Flags, runRules(off[:i+1])...)
		if isBeyond(sign*(means[i]-c.centre), width) {
			p.Flags = append(p.Flags, FlagMean)
		}
		if isBeyond(sums[i], cusumLimit) {
			p.Flags = append(p.Flags, FlagCumulated)
		}
	}
}

func (c *chart) sigmasOff(v, sign float64) float64 { return sign * (v - c.centre) / c.sigma }

// individuals is the centre and the sigma of single readings: their mean, and the mean
// moving range over 1.128. Source: NIST/SEMATECH 6.3.2.2. There are two values or more.
func individuals(values []float64) (centre, sigma float64) {
	ranges := 0.0
	for i, v := range values {
		centre += v
		if i > 0 {
			ranges += math.Abs(v - values[i-1])
		}
	}
	return centre / float64(len(values)), ranges / float64(len(values)-1) / movingRange
}

// runningMean is z = lambda*x + (1-lambda)*z, beginning at start. Source: NIST/SEMATECH 6.3.2.4.
func runningMean(values []float64, start, lambda float64) []float64 {
	means := make([]float64, len(values))
	z := start
	for i, v := range values {
		z = lambda*v + (1-lambda)*z
		means[i] = z
	}
	return means
}

// meanWidth is how far the running mean may be off: 3*s*sqrt(lambda/(2-lambda)).
// Source: NIST/SEMATECH 6.3.2.4.
func meanWidth(sigma, lambda float64) float64 {
	return sigmas * sigma * math.Sqrt(lambda/(2-lambda))
}

// cumulated is the upper cumulated sum, max(0, S + x - target - k). Of the negated
// values it is the lower one. Source: NIST/SEMATECH 6.3.2.3; Page (1954).
func cumulated(values []float64, target, k float64) []float64 {
	sums := make([]float64, len(values))
	s := 0.0
	for i, v := range values {
		s = max(0, s+v-target-k)
		sums[i] = s
	}
	return sums
}

// runRules are the Western Electric rules for the newest of the values, in sigmas to
// the side that is watched. Source: Western Electric, as told in NIST/SEMATECH 6.3.2.
func runRules(off []float64) []Flag {
	var flags []Flag
	newest := off[len(off)-1]
	for _, rule := range []struct {
		flag        Flag
		of, many    int
		beyondSigma float64
	}{
		{FlagBeyond, 1, 1, 3},
		{FlagTwoOfThree, 3, 2, 2},
		{FlagFourOfFive, 5, 4, 1},
		{FlagEight, 8, 8, 0},
	} {
		if isBeyond(newest, rule.beyondSigma) && countBeyond(off, rule.of, rule.beyondSigma) >= rule.many {
			flags = append(flags, rule.flag)
		}
	}
	return flags
}

// countBeyond counts the newest n values that are beyond the limit.
func countBeyond(off []float64, n int, limit float64) int {
	count := 0
	for _, v := range off[max(0, len(off)-n):] {
		if isBeyond(v, limit) {
			count++
		}
	}
	return count
}

// isBeyond is strict: on the limit is within. It forgives the crumbs of floating point.
func isBeyond(v, limit float64) bool { return v > limit+1e-9 }

// words is the trend in one sentence.
func (c *chart) words(flags []Flag, units quantity.System) string {
	if len(flags) == 0 {
		return fmt.Sprintf("%s has kept within its own limits over %s", trendName(c.of), counted(len(c.series), "reading"))
	}
	sign := c.flagged
	moved, readings := c.moved(), c.running(sign)
	if !c.isSeen() {
		return fmt.Sprintf("%s lies %s %s its usual, less than its gauge shows: nothing to look at yet", trendName(c.of), c.told(moved, units), overUnder(moved))
	}
	if readings <= odd || !(sign*moved > 0) {
		last := c.values[len(c.values)-1] - c.centre
		return fmt.Sprintf("%s stands out, %s %s its usual: read it again, then look%s", trendName(c.of), c.told(last, units), overUnder(last), c.seaMoved(units))
	}
	when := "look before it is a limit"
	if slices.Contains(flags, FlagCumulated) || slices.Contains(flags, FlagBeyond) {
		when = "look now, before it is a limit"
	}
	return fmt.Sprintf("%s has %s %s over the last %d readings: %s%s", trendName(c.of), crept(sign), c.told(moved, units), readings, when, c.seaMoved(units))
}

// isSeen says that it moved by a division of its gauge or more, all together or the
// newest reading alone: what is less, eight readings' limits may call out of the way by
// chance, and nobody could read it off. Common practice, no source.
func (c *chart) isSeen() bool {
	division := float64(c.charting.Division)
	last := c.values[len(c.values)-1] - c.centre
	return atLeast(c.flagged*c.moved(), division) || c.running(c.flagged) <= odd && atLeast(c.flagged*last, division)
}

// odd readings at most stand out; more of them have crept.
const odd = 2

// newest values tell how far it moved: of three the middle one, so that one odd
// reading does not tell the tale. Common practice, no source.
const newest = 3

func (c *chart) moved() float64 {
	tail := c.values[max(c.charting.Baseline, len(c.values)-newest):]
	if len(tail) == 0 {
		tail = c.values[len(c.values)-1:]
	}
	return median(tail) - c.centre
}

// running is for how many readings it has been moving: since the cumulated sum was
// last nought, or since it lay on the other side of the centre, whichever is longer.
// Source for the first: Page (1954), the usual estimate of when a change began.
func (c *chart) running(sign float64) int {
	var off []float64
	for _, v := range c.fresh() {
		off = append(off, c.sigmasOff(v, sign))
	}
	sums := cumulated(off, 0, cusumSlack)
	return max(positiveTail(sums), positiveTail(off))
}

// positiveTail counts the values above nought at the end.
func positiveTail(values []float64) int {
	n := 0
	for n < len(values) && values[len(values)-1-n] > 0 {
		n++
	}
	return n
}

// seaMoved says how much warmer the sea is than in the baseline, where that may
// explain a coolant that crept up.
func (c *chart) seaMoved(units quantity.System) string {
	if c.of != GaugeCoolant {
		return ""
	}
	before, known := seaOf(c.series[:c.charting.Baseline])
	now, knownNow := seaOf(c.series[max(c.charting.Baseline, len(c.series)-newest):])
	if warmer := now - before; known && knownNow && atLeast(warmer, 1) {
		return fmt.Sprintf("; the sea is %s warmer than when it began and may explain as much", warmer.In(units))
	}
	return ""
}

func seaOf(series []seen) (Degrees, bool) {
	var seas []float64
	for _, s := range series {
		if s.Sea != nil {
			seas = append(seas, float64(*s.Sea))
		}
	}
	if len(seas) == 0 {
		return 0, false
	}
	return Degrees(median(seas)), true
}

func trendName(of Gauge) string {
	switch of {
	case GaugeRawOut:
		return "raw-water lift"
	case GaugeVolts:
		return "voltage"
	}
	return string(of)
}

func crept(sign float64) string {
	if sign < 0 {
		return "fallen"
	}
	return "crept up"
}

func overUnder(v float64) string {
	if v < 0 {
		return "below"
	}
	return "above"
}

// told is the size of a difference in the gauge's own unit.
func (c *chart) told(v float64, units quantity.System) string {
	v = math.Abs(v)
	switch c.of {
	case GaugeOil:
		return quantity.Pressure(v).In(units)
	case GaugeSpeed:
		return quantity.Share(v).In(units) + " of clean speed"
	case GaugeVolts:
		return quantity.Voltage(v).In(units)
	}
	return Degrees(v).In(units)
}
