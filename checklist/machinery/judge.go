package machinery

import (
	"fmt"
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Limits is from where on a reading is told. A field left at 0 takes its default.
// All are common practice, no source, but RawOutMost.
type Limits struct {
	Settle      time.Duration        // at the same revs before a reading is judged
	Look        Degrees              // coolant above the curve: worth a look
	Unexplained Degrees              // above the curve and beyond a warmer sea: limit
	LiftUp      Degrees              // raw-water lift above the curve's: worth a look
	RawOutMost  quantity.Temperature // raw water leaving hotter than this lays down scale: worth a look
	OilLook     quantity.Pressure    // oil below the curve: worth a look
	OilLimit    quantity.Pressure    // oil below the curve: limit
	SpeedLook   quantity.Share       // of the curve's speed lost: worth a look
	Charging    quantity.Voltage     // below it, of 12 V, nothing is charging: worth a look
	Overcharged quantity.Voltage     // above it, of 12 V: limit
	Month       time.Duration        // what "last month" is
	MonthLeast  int                  // so many readings make a month
}

// DefaultLimits are those of a small marine diesel whose maker says nothing else.
func DefaultLimits() Limits {
	return Limits{
		Settle:      15 * time.Minute,
		Look:        2.5,
		Unexplained: 6,
		LiftUp:      3,
		// RawOutMost is 130 °F: above it scale forms faster. Source: NAVEDTRA 14075 p. 3-12.
		RawOutMost:  (130 - 32) / 1.8,
		OilLook:     0.5,
		OilLimit:    1,
		SpeedLook:   0.10,
		Charging:    13.2,
		Overcharged: 15,
		Month:       30 * 24 * time.Hour,
		MonthLeast:  3,
	}
}

// OrDefaults is l with the defaults in place of what is 0 or cannot be.
func (l Limits) OrDefaults() Limits {
	usual := DefaultLimits()
	return Limits{
		Settle:      positive(l.Settle, usual.Settle),
		Look:        positive(l.Look, usual.Look),
		Unexplained: positive(l.Unexplained, usual.Unexplained),
		LiftUp:      positive(l.LiftUp, usual.LiftUp),
		RawOutMost:  positive(l.RawOutMost, usual.RawOutMost),
		OilLook:     positive(l.OilLook, usual.OilLook),
		OilLimit:    positive(l.OilLimit, usual.OilLimit),
		SpeedLook:   positive(l.SpeedLook, usual.SpeedLook),
		Charging:    positive(l.Charging, usual.Charging),
		Overcharged: positive(l.Overcharged, usual.Overcharged),
		Month:       positive(l.Month, usual.Month),
		MonthLeast:  positive(l.MonthLeast, usual.MonthLeast),
	}
}

func positive[T ~int | ~int64 | ~float64](v, usual T) T {
	if v > 0 {
		return v
	}
	return usual
}

// Level is how a reading is judged; a higher one is worse.
type Level int

// The levels. What is not settled or cannot be judged is no better than normal.
const (
	LevelNormal Level = iota
	LevelSettling
	LevelUnjudged
	LevelLook
	LevelLimit
	LevelStop
)

var levelNames = [...]string{
	LevelNormal: "normal", LevelSettling: "not settled yet", LevelUnjudged: "cannot be judged",
	LevelLook: "worth a look", LevelLimit: "limit", LevelStop: "stop",
}

// String is the level in words.
func (l Level) String() string {
	if l < 0 || int(l) >= len(levelNames) {
		return levelNames[LevelUnjudged]
	}
	return levelNames[l]
}

// MarshalText is String.
func (l Level) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// Signature is what the gauges together point at.
type Signature string

// The signatures; "" where nothing is out of the way.
const (
	SignatureFlow      Signature = "raw-water flow"
	SignatureExchanger Signature = "exchanger, thermostat or coolant"
	SignatureSea       Signature = "warmer sea"
	SignatureLoad      Signature = "load"
	SignatureUnclear   Signature = "not to be told apart"
)

// Finding is what one gauge says.
type Finding struct {
	Gauge Gauge
	Level Level
	Words string // with the units asked for; does not name the gauge
	cause cause
}

// Figures are the differences from the clean curve at these revs; nil where they
// cannot be told. They stand whether or not the reading has settled.
type Figures struct {
	Rise        *Degrees // coolant above the curve; below zero: under it
	SeaExplains *Degrees // as much of the rise as a warmer sea may explain
	Unexplained *Degrees // the rest of the rise, never below 0
	AboveMonth  *Degrees // the rise above the median rise of the last month
	Lift        *Degrees // raw water out less sea
	LiftUp      *Degrees // lift above the curve's
	OilBelow    *quantity.Pressure
	SpeedLost   *quantity.Share // of the curve's speed; below zero: faster
	FuelMore    *quantity.Share // more fuel a mile at the curve's burn
}

// Judgement is what a reading is worth.
type Judgement struct {
	Level     Level     // the worst of the findings
	Findings  []Finding // worst first
	Signature Signature
	First     []string // what to look at, quickest and likeliest first
	Cautions  []string // to be read before any of it
	Figures   Figures
	Wrong     []error // what about the reading cannot be right; each a *quantity.Error
}

// Judge compares a reading with the engine's clean curve, which stays what the skipper
// made it; the readings of the month before, in any order, only tell how far it moved.
// Coolant, oil, speed and volts are judged after 15 min at the same revs; what is hot,
// without oil or without water is told at once. Revs outside the curve cannot be judged.
func Judge(engine passage.Engine, g Gauges, past []Gauges, limits Limits, units quantity.System) Judgement {
	j := judging{engine: engine, g: g.credible(units), past: earlier(past, g.At), limits: limits.OrDefaults(), units: units}
	j.compare()
	j.signature = j.pointsAt()

	j.judgeImpossible(g)
	j.judgeRevs()
	j.judgeCoolant()
	j.judgeRawWater()
	j.judgeOil()
	j.judgeSpeed()
	j.judgeVolts()
	j.judgeWater()
	j.judgeSmoke()

	result := j.result()
	result.Wrong = Mistakes(engine, g, past, units)
	return result
}

// judging is one reading while it is judged.
type judging struct {
	engine    passage.Engine
	g         Gauges // only what can be
	past      []Gauges
	limits    Limits
	units     quantity.System
	figures   Figures
	signature Signature
	findings  []Finding
}

func (j *judging) add(of Gauge, level Level, why cause, words string) {
	j.findings = append(j.findings, Finding{Gauge: of, Level: level, Words: words, cause: why})
}

func (j *judging) result() Judgement {
	slices.SortStableFunc(j.findings, func(a, b Finding) int { return int(b.Level) - int(a.Level) })
	result := Judgement{Level: LevelUnjudged, Findings: j.findings, Signature: j.signature, Figures: j.figures}
	if len(j.findings) > 0 {
		result.Level = j.findings[0].Level
	}
	result.First, result.Cautions = whatToLookAt(j.findings)
	return result
}

// settled says that the engine ran long enough at these revs to be judged.
func (j *judging) settled() bool { return j.g.AtRevs >= j.limits.Settle }

// unsettled is why not, in words that follow the value.
func (j *judging) unsettled() string {
	least := quantity.Rough(j.limits.Settle)
	if j.g.AtRevs <= 0 {
		return "not settled yet: say how long at these revs, from " + least + " on it is judged"
	}
	return fmt.Sprintf("not settled yet: %s at these revs, from %s on it is judged", quantity.Rough(j.g.AtRevs), least)
}

// compare fills in the figures.
func (j *judging) compare() {
	f := &j.figures
	if j.g.RawOut != nil && j.g.Sea != nil {
		f.Lift = new(Degrees(*j.g.RawOut - *j.g.Sea))
	}
	if j.g.RPM == nil {
		return
	}
	rpm := *j.g.RPM
	f.Rise = riseOf(j.engine, j.g)
	f.SeaExplains, f.Unexplained = j.share(f.Rise)
	f.AboveMonth = j.aboveMonth(f.Rise)
	f.LiftUp = liftUpOf(j.engine, j.g)
	if oil, known := j.engine.OilAt(rpm); known && j.g.Oil != nil {
		f.OilBelow = new(oil - *j.g.Oil)
	}
	f.SpeedLost, f.FuelMore = speedLostOf(j.engine, j.g)
}

// riseOf is coolant less the curve's at the reading's revs.
func riseOf(engine passage.Engine, g Gauges) *Degrees {
	if g.RPM == nil || g.Coolant == nil || math.IsInf(float64(*g.Coolant), 0) {
		return nil
	}
	normal, known := engine.CoolantAt(*g.RPM)
	if !known {
		return nil
	}
	return new(Degrees(*g.Coolant - normal))
}

// liftUpOf is the lift of the raw water less the curve's.
func liftUpOf(engine passage.Engine, g Gauges) *Degrees {
	if g.RPM == nil || g.RawOut == nil || g.Sea == nil {
		return nil
	}
	out, knownOut := engine.RawOutAt(*g.RPM)
	sea, knownSea := engine.SeaAt(*g.RPM)
	if !knownOut || !knownSea {
		return nil
	}
	return new(Degrees((*g.RawOut - *g.Sea) - (out - sea)))
}

// speedLostOf is the share of the curve's speed that is lost, and what that costs in
// fuel a mile at the same burn. It is told under way and with the sails down alone.
func speedLostOf(engine passage.Engine, g Gauges) (lost, fuel *quantity.Share) {
	if g.RPM == nil || g.Speed == nil || g.Moored || g.Sails != SailsDown {
		return nil, nil
	}
	clean, known := engine.SpeedAt(*g.RPM)
	if !known || !(clean > 0) {
		return nil, nil
	}
	lost = new(quantity.Share(1 - float64(*g.Speed/clean)))
	if *g.Speed > 0 {
		fuel = new(quantity.Share(float64(clean / *g.Speed) - 1))
	}
	return lost, fuel
}

// seaWarmer is how much warmer the sea is than when the curve was measured; below
// zero: colder. nil: one of the two was not read.
func (j *judging) seaWarmer() *Degrees {
	normal, known := j.engine.SeaAt(*j.g.RPM)
	if !known || j.g.Sea == nil {
		return nil
	}
	return new(Degrees(*j.g.Sea - normal))
}

// share parts the rise: a warmer sea explains at most as much as it is warmer.
func (j *judging) share(rise *Degrees) (sea, rest *Degrees) {
	if rise == nil {
		return nil, nil
	}
	most := Degrees(0)
	if warmer := j.seaWarmer(); warmer != nil {
		most = max(0, *warmer)
	}
	explained := min(max(0, *rise), most)
	return new(explained), new(max(0, *rise-explained))
}

// aboveMonth compares the rise with the month before: readings that had settled,
// moored if this one is, under way if this one is.
func (j *judging) aboveMonth(rise *Degrees) *Degrees {
	if rise == nil {
		return nil
	}
	var rises []float64
	for _, g := range j.past {
		g = g.comparable()
		if j.g.At.Sub(g.At) > j.limits.Month || g.AtRevs < j.limits.Settle || g.Moored != j.g.Moored {
			continue
		}
		if then := riseOf(j.engine, g); then != nil {
			rises = append(rises, float64(*then))
		}
	}
	if len(rises) < j.limits.MonthLeast {
		return nil
	}
	return new(*rise - Degrees(median(rises)))
}

// pointsAt is the signature. What was seen at the exhaust goes before the lift, and
// nothing is made of differences that have not settled.
func (j *judging) pointsAt() Signature {
	f, l := j.figures, j.limits
	if j.g.stands() {
		return unclearIf(j.tooHot())
	}
	if j.g.Water == WaterNone || j.g.Water == WaterLittle || j.g.Water == WaterSteam {
		return SignatureFlow
	}
	isHot := j.tooHot() || j.settled() && f.Rise != nil && atLeast(*f.Rise, l.Look)
	if !j.settled() {
		return unclearIf(isHot)
	}

	isSlow := f.SpeedLost != nil && atLeast(*f.SpeedLost, l.SpeedLook)
	isLiftUp := f.LiftUp != nil && atLeast(*f.LiftUp, l.LiftUp)
	switch {
	case isSlow && (isLiftUp || j.g.Smoke == SmokeBlack):
		return SignatureLoad
	case isLiftUp:
		return SignatureFlow
	case !isHot || f.LiftUp == nil || f.Rise == nil:
		return unclearIf(isHot)
	case !atLeast(*f.Unexplained, l.Look) && *f.SeaExplains >= *f.Unexplained:
		return SignatureSea
	}
	return SignatureExchanger
}

func unclearIf(isHot bool) Signature {
	if isHot {
		return SignatureUnclear
	}
	return ""
}

// atLeast is v >= limit, forgiving the crumbs of floating point.
func atLeast[T ~float64](v, limit T) bool { return float64(v) >= float64(limit)-1e-9 }

// tooHot says that the coolant is where the engine must not be.
func (j *judging) tooHot() bool {
	return j.g.Coolant != nil && j.engine.CoolantMax > 0 && atLeast(*j.g.Coolant, j.engine.CoolantMax)
}

// judgeImpossible keeps a value that cannot be from passing for normal by being left out.
func (j *judging) judgeImpossible(whole Gauges) {
	for _, m := range whole.beyond(j.units) {
		if m.of != GaugeCoolant || j.g.Coolant == nil {
			j.add(m.of, LevelUnjudged, causeNone, m.err.Problem)
		}
	}
}

// judgeRevs says why nothing can be compared, where that is so.
func (j *judging) judgeRevs() {
	g := j.g
	if g.Coolant == nil && g.Oil == nil && g.Speed == nil && g.RawOut == nil {
		return
	}
	if g.RPM == nil {
		j.add(GaugeRPM, LevelUnjudged, causeNone, "not read: without the revs nothing says what is normal")
		return
	}
	if g.stands() {
		j.add(GaugeRPM, LevelUnjudged, causeNone, "the engine stands: a reading is judged with it running")
		return
	}
	if !j.engine.HasCurve() {
		j.add(GaugeRPM, LevelUnjudged, causeNone, "there is no curve: measure what is normal once, clean and in smooth water")
		return
	}
	if _, known := j.engine.CoolantAt(*g.RPM); !known {
		curve := j.engine.Curve
		j.add(GaugeRPM, LevelUnjudged, causeNone, fmt.Sprintf("%d rpm is outside the curve, which has %d to %d rpm: what is normal there is not known; compare at revs within it",
			*g.RPM, curve[0].RPM, curve[len(curve)-1].RPM))
	}
}

func (j *judging) judgeCoolant() {
	if j.g.Coolant == nil {
		return
	}
	told := j.g.Coolant.In(j.units)
	rise := j.figures.Rise
	switch {
	case j.tooHot():
		j.add(GaugeCoolant, LevelStop, j.hotCause(), fmt.Sprintf("%s, and %s is where she must be stopped%s", told, j.engine.CoolantMax.In(j.units), j.riseWords()))
	case j.g.stands():
		return
	case rise == nil:
		if level, why := j.hotAnywhere(); level > LevelNormal {
			j.add(GaugeCoolant, level, j.hotCause(), told+", "+why)
		}
	case !j.settled():
		j.add(GaugeCoolant, LevelSettling, causeNone, told+", "+j.unsettled()+j.alreadyWords())
	default:
		j.add(GaugeCoolant, j.coolantLevel(), j.hotCause(), told+j.riseWords()+j.seaWords()+j.coldWords()+j.nearWords())
	}
}

// coolantLevel is that of a coolant that has settled. Much too cold is worth a look as
// well. Common practice, no source.
func (j *judging) coolantLevel() Level {
	switch {
	case atLeast(*j.figures.Unexplained, j.limits.Unexplained):
		return LevelLimit
	case atLeast(*j.figures.Rise, j.limits.Look), atLeast(-*j.figures.Rise, j.limits.Unexplained):
		return LevelLook
	}
	return LevelNormal
}

// nearStop says that so little as is worth a look brings her to where she must be stopped.
func (j *judging) nearStop() bool {
	most := j.engine.CoolantMax
	return most > 0 && atLeast(Degrees(*j.g.Coolant-most)+j.limits.Look, 0)
}

// nearWords are said whatever the sea explains: what it explains does not cool her.
func (j *judging) nearWords() string {
	if !j.nearStop() {
		return ""
	}
	return fmt.Sprintf("; %s under where she must be stopped: ease her", Degrees(j.engine.CoolantMax-*j.g.Coolant).In(j.units))
}

// hotAnywhere judges a coolant at revs for which nothing says what is normal: by the
// stop, and by what is normal at the hottest revs that are known.
func (j *judging) hotAnywhere() (Level, string) {
	if j.nearStop() {
		return LevelLimit, fmt.Sprintf("and %s is where she must be stopped: ease her", j.engine.CoolantMax.In(j.units))
	}
	if !j.engine.HasCurve() {
		return LevelNormal, ""
	}
	hottest := j.engine.Curve[0].Coolant
	for _, row := range j.engine.Curve {
		hottest = max(hottest, row.Coolant)
	}
	over := Degrees(*j.g.Coolant - hottest)
	why := fmt.Sprintf("%s above the hottest that is normal at any revs of the curve", over.In(j.units))
	switch {
	case atLeast(over, j.limits.Unexplained):
		return LevelLimit, why + ": ease her"
	case atLeast(over, j.limits.Look):
		return LevelLook, why
	}
	return LevelNormal, ""
}

// riseWords is ", 4 °C above clean at 2200 rpm, 1 °C above last month".
func (j *judging) riseWords() string {
	rise, month := j.figures.Rise, j.figures.AboveMonth
	if rise == nil {
		return ""
	}
	said := fmt.Sprintf(", %s at %d rpm", aboveWords(*rise, clean, j.units), *j.g.RPM)
	if month != nil {
		said += ", " + aboveWords(*month, lastMonth, j.units)
	}
	return said
}

var asWords = map[string]string{clean: "when clean", lastMonth: lastMonth}

const (
	clean     = "clean"
	lastMonth = "last month"
)

func aboveWords(d Degrees, what string, units quantity.System) string {
	size := Degrees(math.Abs(float64(d))).In(units)
	switch {
	case d.isNought(units):
		return "as " + asWords[what]
	case d < 0:
		return size + " below " + what
	}
	return size + " above " + what
}

// seaWords says how much of a rise that is worth a look the sea may explain.
func (j *judging) seaWords() string {
	if !atLeast(*j.figures.Rise, j.limits.Look) {
		return ""
	}
	warmer := j.seaWarmer()
	sea, rest := *j.figures.SeaExplains, *j.figures.Unexplained
	switch {
	case warmer == nil:
		return "; without the sea's temperature, here and in the curve, nobody can say how much of it a warmer sea explains"
	case sea.isNought(j.units):
		return "; the sea is no warmer than in the curve and explains nothing of it"
	case rest.isNought(j.units):
		return fmt.Sprintf("; the sea is %s warmer than in the curve and may explain all of it", warmer.In(j.units))
	}
	return fmt.Sprintf("; the sea is %s warmer than in the curve and may explain as much, %s stays unexplained", warmer.In(j.units), rest.In(j.units))
}

func (j *judging) coldWords() string {
	if !atLeast(-*j.figures.Rise, j.limits.Unexplained) {
		return ""
	}
	return "; running cold, if it lasts: a thermostat that does not shut, or the gauge"
}

// alreadyWords warns of a coolant that is high before it had time to settle.
func (j *judging) alreadyWords() string {
	if !atLeast(*j.figures.Rise, j.limits.Look) {
		return ""
	}
	return fmt.Sprintf("; already %s: ease the revs and read again in five minutes", aboveWords(*j.figures.Rise, clean, j.units))
}

// judgeRawWater looks at the raw water after the exchanger and at its lift.
func (j *judging) judgeRawWater() {
	if j.g.RawOut == nil || j.g.stands() {
		return
	}
	told := j.g.RawOut.In(j.units)
	if *j.g.RawOut > j.limits.RawOutMost {
		j.add(GaugeRawOut, LevelLook, j.unlessLoad(causeFlow), fmt.Sprintf("%s leaving: above %s sea water lays down scale", told, j.limits.RawOutMost.In(j.units)))
	}
	up := j.figures.LiftUp
	if up == nil {
		return
	}
	if !j.settled() {
		j.add(GaugeRawOut, LevelSettling, causeNone, told+", "+j.unsettled())
		return
	}
	level := LevelNormal
	if atLeast(*up, j.limits.LiftUp) {
		level = LevelLook
	}
	j.add(GaugeRawOut, level, j.unlessLoad(causeFlow), fmt.Sprintf("the raw water gains %s, %s at %d rpm", j.figures.Lift.In(j.units), aboveWords(*up, clean, j.units), *j.g.RPM))
}
