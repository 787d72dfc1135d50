package checklist

import (
	"fmt"
	"iter"
	"slices"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// walkPause is the longest pause that still belongs to a walk. Design, section 5.
const walkPause = 10 * time.Minute

// rounds judges the rounds; critical checks of the sign rounds stand in the way.
func (g *gate) rounds() {
	j := judge{
		definitions: g.definitions, state: g.state, now: g.now, conditions: g.assessment.Conditions,
		automatic: g.automatic, limits: g.limits,
	}
	a := g.assessment
	a.Rounds = j.rounds()
	critical := 0
	for c := range a.signChecks() {
		switch {
		case !c.Applies:
		case c.IsCritical:
			critical++
			g.blockCheck(*c)
		case c.looked():
		default:
			a.NotLooked = append(a.NotLooked, *c)
		}
	}
	if critical == 0 {
		g.block(Blocker{
			Matter: MatterRound, Name: "sign", Title: "round before signing", Takes: takesWriting,
			Why:    `no critical check of a round for = "sign" applies to this passage`,
			Clears: "write what must be right before she goes in rounds/*.toml", Where: "at the chart table",
		})
	}
	for c := range a.checksOf(ForWeigh) {
		if c.Applies && c.IsCritical && c.Status != StatusRight && (c.Automatic == nil || !g.toldBy(*c.Automatic)) {
			a.Weighing = append(a.Weighing, checkBlocker(*c))
		}
	}
	a.Uncovered = a.uncovered()
	a.Walk = a.walk()
}

// looked says that somebody, or the program, has an answer to a check that is not critical.
func (c CheckView) looked() bool {
	return slices.Contains([]Status{StatusRight, StatusNotRight, StatusOutside, StatusNotAboard}, c.Status)
}

// signChecks are the checks of the rounds for = "sign", in walking order.
func (a Assessment) signChecks() iter.Seq[*CheckView] { return a.checksOf(ForSign) }

// checksOf are the checks of the rounds that are walked for something, in walking order.
func (a Assessment) checksOf(purpose Purpose) iter.Seq[*CheckView] {
	return func(yield func(*CheckView) bool) {
		for _, r := range a.Rounds {
			if r.For != purpose {
				continue
			}
			for _, s := range r.Sections {
				for i := range s.Checks {
					if !yield(&s.Checks[i]) {
						return
					}
				}
			}
		}
	}
}

// blockCheck puts a critical check in the way, unless the very thing that the
// program answers there stands in the way already.
func (g *gate) blockCheck(c CheckView) {
	if c.Status == StatusRight || c.Automatic != nil && g.toldBy(*c.Automatic) {
		return
	}
	g.block(checkBlocker(c))
}

func checkBlocker(c CheckView) Blocker {
	return Blocker{
		Matter: MatterCheck, Name: c.ID, Title: c.Ask, Why: c.Why, Stale: c.Aged,
		Takes: takesCheck, Clears: clearsCheck(c), Where: "in " + c.Section,
	}
}

func clearsCheck(c CheckView) string {
	if c.Automatic != nil {
		return "the program answers it, once what it looks at is right"
	}
	return "right: " + c.Right
}

// matterOf is what an automatic check looks at, as a blocker names it.
var matterOf = map[string]Matter{
	"endurance": MatterEndurance, "service": MatterService, "spares": MatterSpare, "dated": MatterDated,
	"defects": MatterDefect, "soundings": MatterSounding, "season": MatterSeason,
}

// toldBy says that what the automatic check looks at stands in the way by itself.
func (g *gate) toldBy(of Automatic) bool {
	matter, known := matterOf[of.Of]
	return known && slices.ContainsFunc(g.assessment.Blockers, func(b Blocker) bool {
		return b.Matter == matter && (of.Name == "" || of.Name == All || b.Name == of.Name)
	})
}

// All names every one of a kind in an automatic check.
const All = "all"

// automatic answers a check from the boat's own files and record. "all" asks for the
// critical ones, which are those that stand in the way; a name asks for that one.
func (g *gate) automatic(of Automatic) (right bool, why string) {
	switch of.Of {
	case "endurance":
		s, short := g.short(passage.Thing(of.Name))
		if !short || !g.assessment.Stretches {
			return true, ""
		}
		return false, fmt.Sprintf("%s short from %s to %s", s.Short.Up(passage.Thing(of.Name), g.definitions.Boat.Units), s.From, s.To)
	case "service":
		return g.everyService(of.Name)
	case "spares":
		return g.everySpare(of.Name)
	case "dated":
		return g.everyDated(of.Name)
	case "daylight":
		if len(g.dark) == 0 {
			return true, ""
		}
		return false, g.dark[0].place + ": " + g.dark[0].why
	case "season":
		ends, why := g.seasonEnds()
		return !ends, why
	default:
		return !g.blocked(matterOf[of.Of]), "see what stands in the way"
	}
}

func (g *gate) blocked(m Matter) bool {
	return slices.ContainsFunc(g.assessment.Blockers, func(b Blocker) bool { return b.Matter == m })
}

func (g *gate) everyService(name string) (bool, string) {
	for _, s := range g.definitions.Services {
		if s.Name != name && (name != All || !s.Critical) {
			continue
		}
		if m := g.service(s); m.stops(s) {
			return false, s.Name + " " + m.why
		}
	}
	return true, ""
}

func (g *gate) everySpare(name string) (bool, string) {
	for _, s := range g.definitions.Spares {
		if s.Name != name && (name != All || !s.Critical) {
			continue
		}
		if why, lacks := g.spareLacks(s); lacks {
			return false, s.Name + ": " + why
		}
	}
	return true, ""
}

func (g *gate) everyDated(name string) (bool, string) {
	for _, d := range g.definitions.Dated {
		if d.Name != name && (name != All || !d.Critical) {
			continue
		}
		if why, ends := g.datedEnds(d); ends {
			return false, d.Name + ": " + why
		}
	}
	return true, ""
}

// darkArrival is a place that is not reached by day.
type darkArrival struct {
	place, why string
	in         passage.CaseName
}

// darkArrivals are the places that the expected or the slow case reaches otherwise
// than by day; a place whose position is not known is not judged.
func (g *gate) darkArrivals() []darkArrival {
	var dark []darkArrival
	for i, leg := range g.definitions.Plan.Legs {
		for _, name := range [...]passage.CaseName{passage.Expected, passage.Slow} {
			arrivals := g.assessment.Reckoning.Cases[name].Voyage.Arrivals
			if i >= len(arrivals) {
				continue
			}
			if at := passage.ArrivalAt(leg, arrivals[i]); at.Known && !at.ByDay {
				dark = append(dark, darkArrival{in: name, place: leg.To, why: fmt.Sprintf("%s case arrives %s, not by day", name, g.definitions.moment(arrivals[i]))})
				break
			}
		}
	}
	return dark
}

// limits are what a reading must lie within; those of the curve where it says so.
func (g *gate) limits(r Range) (lo, hi *quantity.Any) {
	if !r.Normal {
		return r.Min, r.Max
	}
	e := g.definitions.Boat.Engine
	switch r.Of {
	case "coolant":
		if normal, known := e.CoolantAt(e.CruiseRPM); known {
			return nil, anyOf(quantity.OfTemperature, min(float64(normal)+coolantLimit, float64(e.CoolantMax)))
		}
		return nil, anyOf(quantity.OfTemperature, float64(e.CoolantMax))
	case "oil":
		if normal, known := e.OilAt(e.CruiseRPM); known && e.OilMinIdle == 0 {
			return anyOf(quantity.OfPressure, oilLimit*float64(normal)), nil
		}
		return anyOf(quantity.OfPressure, float64(e.OilMinIdle)), nil
	}
	return r.Min, r.Max
}

// coolantLimit is how far above its normal a coolant reading may be, in °C. Common
// practice, no source; design, section 4.13.
const coolantLimit = 6

// oilLimit is the share of the curve's oil pressure that a reading must reach where
// the engine's least pressure at idle is not written. Common practice, no source.
const oilLimit = 0.75

func anyOf(d quantity.Dimension, v float64) *quantity.Any {
	return &quantity.Any{Dimension: d, Value: v}
}

func (a Assessment) uncovered() []string {
	covered := map[string]bool{}
	for c := range a.signChecks() {
		covered[c.Covers] = covered[c.Covers] || c.Applies
	}
	var missing []string
	for _, topic := range Topics {
		if !covered[topic] {
			missing = append(missing, topic)
		}
	}
	return missing
}

// walk is how many critical checks of the sign rounds were answered by hand, and in
// what time, longer pauses left out.
func (a Assessment) walk() Walk {
	var moments []time.Time
	for c := range a.signChecks() {
		if c.Applies && c.IsCritical && c.Answer != nil {
			moments = append(moments, c.Answer.At)
		}
	}
	slices.SortFunc(moments, time.Time.Compare)
	w := Walk{Critical: len(moments)}
	for i := 1; i < len(moments); i++ {
		if pause := moments[i].Sub(moments[i-1]); pause <= walkPause {
			w.Took += pause
		}
	}
	return w
}

// String tells the walk: "11 critical checks in 19 s".
func (w Walk) String() string {
	took := quantity.Rough(w.Took)
	if w.Took < time.Second {
		took = "less than 1 s"
	}
	return fmt.Sprintf("%d critical %s in %s", w.Critical, plural(w.Critical, "check"), took)
}

func plural(n int, word string) string {
	if n == 1 {
		return word
	}
	return word + "s"
}

// grade of the defect that an answer opens: a critical check's stops her.
func gradeOf(c CheckView, asked machinery.Grade) machinery.Grade {
	if c.IsCritical {
		return machinery.Stop
	}
	if asked == "" {
		return machinery.Note
	}
	return asked
}
