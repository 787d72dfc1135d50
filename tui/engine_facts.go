package tui

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// engineFacts are the engine as screen 5 tells it.
type engineFacts struct {
	checklist.Engine
	isKnown   bool        // false: screen 5 is not shown, and all is empty
	gauges    []gaugeRow  // of the latest reading, the worst first
	atOnce    string      // what comes before anything is looked at; "": nothing
	first     []string    // what to look at, after that
	notJudged string      // why a later reading is not the latest; "": there is none
	bottom    bottomFacts // what is lost by a foul bottom
	caps      []string    // open defects that limit the revs
	offered   string      // the fault card that fits the latest reading, if no defect is open with it; "": none
	stops     string      // where she must be stopped; "": not given
}

// bottomFacts is what the speed that was seen tells of the bottom.
type bottomFacts struct {
	words  string
	isFoul bool
}

// gaugeRow is one gauge of a reading, and what is normal at its revs.
type gaugeRow struct {
	name, read, normal string
	level              machinery.Level
	words              []string // of the findings, those that are worse than normal first
}

// lookAtEngine judges the engine from what is known.
func lookAtEngine(f facts) engineFacts {
	e := engineFacts{Engine: checklist.LookAtEngine(f.definitions, f.state, f.assessment), isKnown: true}
	e.bottom = bottomOf(f.assessment)
	for _, v := range f.assessment.Defects {
		if v.Cap > 0 {
			e.caps = append(e.caps, fmt.Sprintf("Defect %d caps the revs at %d: %s", v.Seq, v.Cap, v.What))
		}
	}
	e.stops = stopsAt(f)
	e.notJudged = notJudged(f, e.Latest)
	if e.Latest == nil {
		return e
	}
	e.gauges = gaugeRows(f, e.Latest.Reading, e.Judgement)
	e.atOnce, e.first = parted(e.Judgement)
	e.offered = offeredCard(f, e.Judgement)
	return e
}

// offeredCard is the fault card that fits, unless a defect is open with it.
func offeredCard(f facts, j machinery.Judgement) string {
	card := f.definitions.CardFor(j)
	if slices.ContainsFunc(f.assessment.Defects, func(v checklist.DefectView) bool { return v.Card == card }) {
		return ""
	}
	return card
}

// parted takes what must be done at once from what is to be looked at: to stop her, or to
// ease the revs. Of volts alone nothing is eased.
func parted(j machinery.Judgement) (atOnce string, first []string) {
	eases := slices.ContainsFunc(j.Findings, func(f machinery.Finding) bool {
		return f.Level == machinery.LevelLimit && f.Gauge != machinery.GaugeVolts
	})
	if len(j.First) > 0 && (j.Level == machinery.LevelStop || j.Level == machinery.LevelLimit && eases) {
		return j.First[0], j.First[1:]
	}
	return "", j.First
}

// notJudged tells of the newest reading where it is not the one that is judged.
func notJudged(f facts, latest *checklist.ReadingState) string {
	readings := f.state.Readings
	if len(readings) == 0 {
		return ""
	}
	newest := readings[len(readings)-1]
	switch {
	case latest != nil && newest.Seq == latest.Seq:
		return ""
	case newest.Doubtful:
		return fmt.Sprintf("Entry %d was read while the clock was in doubt, and is not judged.", newest.Seq)
	case newest.At.After(f.now):
		return fmt.Sprintf("Entry %d is dated later than now, and is not judged.", newest.Seq)
	}
	return ""
}

// shownGauges are the gauges in the order in which they are read and shown.
var shownGauges = []struct{ of, name string }{
	{"rpm", "revs"}, {"coolant", "coolant"}, {"oil", "oil pressure"}, {"volts", "volts"}, {"sea", "sea"}, {"raw_out", "raw water out"},
	{"speed", "speed"}, {"water", "exhaust water"}, {"smoke", "smoke"}, {"hours", "hour-meter"}, {"minutes", "minutes"},
}

func gaugeRows(f facts, r checklist.Reading, j machinery.Judgement) []gaugeRow {
	units := f.assessment.Units
	read, lead := map[string]string{"water": r.Water, "smoke": r.Smoke}, map[string]string{}
	for _, v := range r.Values {
		read[v.Of], lead[v.Of] = v.Value.Told(units), v.Value.In(units)
	}
	normal := normalAt(f, r)
	var rows []gaugeRow
	for _, g := range shownGauges {
		row := gaugeRow{name: g.name, read: read[g.of], normal: normal[g.of]}
		for _, found := range j.Findings {
			if string(found.Gauge) == g.of {
				row.level, row.words = max(row.level, found.Level), append(row.words, withoutLead(found.Words, lead[g.of]))
			}
		}
		if row.read != "" || len(row.words) > 0 {
			rows = append(rows, row)
		}
	}
	slices.SortStableFunc(rows, func(a, b gaugeRow) int { return int(b.level) - int(a.level) })
	return rows
}

// normalAt is what each gauge shows at the reading's revs when all is clean; what the
// curve does not tell is left out.
func normalAt(f facts, r checklist.Reading) map[string]string {
	units, curve := f.assessment.Units, f.definitions.Boat.Engine
	normal := map[string]string{"water": string(machinery.WaterUsual), "smoke": string(machinery.SmokeNone)}
	normal["volts"] = chargingVolts(r)
	revs := revsOf(r)
	if revs == 0 {
		return normal
	}
	if v, known := curve.CoolantAt(revs); known {
		normal["coolant"] = v.In(units)
	}
	if v, known := curve.OilAt(revs); known {
		normal["oil"] = v.In(units)
	}
	if v, known := curve.SeaAt(revs); known {
		normal["sea"] = v.In(units)
	}
	if v, known := curve.RawOutAt(revs); known {
		normal["raw_out"] = v.In(units)
	}
	if v, known := curve.SpeedAt(revs); known {
		normal["speed"] = v.In(units)
	}
	return normal
}

// withoutLead is what is said of a gauge without what it shows, which stands beside it.
func withoutLead(words, shows string) string {
	for _, lead := range []string{shows + ", ", shows + ": "} {
		if rest, led := strings.CutPrefix(words, lead); led && shows != "" && !strings.HasPrefix(rest, "and ") {
			return rest
		}
	}
	return words
}

// most12 is as much as a battery of 12 V is ever read to have. Common practice, no source.
const most12 = 17

// chargingVolts is what a battery of 12 V is charged at; of others it is not told here.
func chargingVolts(r checklist.Reading) string {
	limits := machinery.DefaultLimits()
	for _, v := range r.Values {
		if v.Of == "volts" && v.Value.Value <= most12 {
			return fmt.Sprintf("%g-%g V", float64(limits.Charging), float64(limits.Overcharged))
		}
	}
	return ""
}

// revsOf is the revs of a reading; 0: not read, or the engine stood.
func revsOf(r checklist.Reading) int {
	for _, v := range r.Values {
		if v.Of == "rpm" {
			return int(v.Value.Value)
		}
	}
	return 0
}

// stopsAt is where she must be stopped, whatever the revs.
func stopsAt(f facts) string {
	engine, units := f.definitions.Boat.Engine, f.assessment.Units
	switch {
	case engine.CoolantMax > 0 && engine.OilMinIdle > 0:
		return fmt.Sprintf("Stop her at %s of coolant, or under %s of oil.", engine.CoolantMax.In(units), engine.OilMinIdle.In(units))
	case engine.CoolantMax > 0:
		return fmt.Sprintf("Stop her at %s of coolant.", engine.CoolantMax.In(units))
	case engine.OilMinIdle > 0:
		return fmt.Sprintf("Stop her under %s of oil.", engine.OilMinIdle.In(units))
	}
	return ""
}

// bottomOf tells what is lost, rounded up: of the speed at the same revs, and in fuel a
// mile at the same burn, 1/f - 1.
func bottomOf(a checklist.Assessment) bottomFacts {
	f, seen := a.Fouling, "reading"
	if a.FoulingSeen != 1 {
		seen = fmt.Sprintf("%d readings", a.FoulingSeen)
	}
	switch {
	case a.FoulingSeen == 0 || !(f > 0):
		return bottomFacts{words: "Bottom: no reading of the speed tells; taken as clean."}
	case percentUp(1-f) == 0:
		return bottomFacts{words: "Bottom: no speed lost, by her last " + seen + "."}
	}
	words := fmt.Sprintf("Foul bottom: %d %% of speed, %d %% more fuel a mile, by her last %s.", percentUp(1-f), percentUp(1/f-1), seen)
	return bottomFacts{words, true}
}

// percentUp is a share in whole percent, rounded up but for the crumbs of floating point.
func percentUp(share float64) int {
	const crumb = 1e-6
	return int(math.Ceil(share*100 - crumb))
}
