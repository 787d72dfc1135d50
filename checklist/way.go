package checklist

import (
	"fmt"
	"math"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Way is how a passage goes that she is on: plan against fact. What is reckoned hangs on
// what was told last; nothing is told of what nobody read.
type Way struct {
	Voyage   Voyage
	Fix      Fix
	Day      int                                      // from 1, of 24 h from the departure
	Done     quantity.Distance                        // along the plan, of the legs from the one she left on; where she makes for another place: 0
	Planned  quantity.Distance                        // those legs
	Hours    float64                                  // from the departure to the fix
	Pace     quantity.Speed                           // made good from the departure to the fix; 0: not known
	LastPace quantity.Speed                           // made good since the fix before; 0: not known
	Signed   map[passage.CaseName]time.Time           // arrivals as they were promised on leaving
	AtPace   time.Time                                // the arrival at the pace seen; zero: not known
	Facts    map[passage.Thing][]provisions.LeftPoint // what could be counted on when its tanks were sounded, hours from the departure
	Ends     []Ending                                 // in the order of the things
	Proofs   []DefectDue                              // repairs to be proved under way, the first deadline first
	Points   []DecisionPoint                          // those that came up and wait for an answer, then those ahead
	Turning  []provisions.Turning                     // the last moment for turning back on the leg she is on, thing by thing; none: what lies behind her is not known
	Warns    []string                                 // fact has left the plan by more than was allowed for; the worst first
	NoonAge  time.Duration                            // since the fix
	NoonDue  bool                                     // a day has passed since it
}

// Ending is when a thing ends, by the plan's use, by the use seen and by rations.
type Ending struct {
	Thing   passage.Thing
	Planned Ends
	Seen    *Ends   // nil: not seen for long enough
	Use     float64 // a day as seen, in L or kg; 0: not known
	UsePlan float64 // a day, as planned
	Over    float64 // days that the use was seen for
	Out     float64 // what the soundings may be out by, together, in L or kg
	Rations *Ends   // water; nil: no ration is written
}

// Ends are the moments at which the reserve is touched, and at which nothing is left; zero: never.
type Ends struct{ Reserve, Nothing time.Time }

// DefectDue is a repair that is to be proved under way.
type DefectDue struct {
	Defect   int
	Title    string
	Wants    string    // "45 min at 2300 rpm or more, coolant at or below 84 °C"
	Deadline time.Time // zero: none
	Else     string    // what is done when it is not passed
	Missed   bool      // or failed: the defect is open again
}

// DecisionPoint is a point at which the skipper promised to think again.
type DecisionPoint struct {
	Point  string            // as it is put
	ToGo   quantity.Distance // to it; 0: it came up
	GoOnIf string
	Else   string
}

// seenLeast is how long a use must have been seen to say anything, in days.
const seenLeast = 0.75

// noonDueAfter is a day and an hour: a noon told an hour late is not late.
const noonDueAfter = 25 * time.Hour

// way is how the passage goes; nil: she is not under way, or not on the passage that passage.toml holds.
func (g *gate) way() *Way {
	if !g.state.Voyage.UnderWay() {
		return nil
	}
	v := *g.state.Voyage
	w := &Way{Voyage: v, Day: 1 + int(max(0, g.now.Sub(v.Depart.At))/(24*time.Hour)), Signed: map[passage.CaseName]time.Time{}}
	for _, c := range v.Depart.Cases {
		if c.Made {
			w.Signed[passage.CaseName(c.Case)] = c.Arrive
		}
	}
	w.Proofs = g.assessment.proofsDue()
	if g.definitions.sailed == nil { // passage.toml holds another passage
		w.Fix = Fix{At: v.Depart.At, To: v.Depart.To}
		w.Warns = []string{fmt.Sprintf("passage.toml does not hold %s, which she left on: what is left is not reckoned", v.Depart.Passage)}
		return w
	}
	whole := g.definitions.Whole()
	w.Fix = g.state.fix(whole)
	w.NoonAge = max(0, g.now.Sub(w.Fix.At))
	w.NoonDue = w.NoonAge >= noonDueAfter
	g.pace(w, whole)
	for _, t := range passage.Things {
		if e, told := g.ending(t); told {
			w.Ends = append(w.Ends, e)
		}
	}
	w.Facts = map[passage.Thing][]provisions.LeftPoint{}
	for _, t := range tanked {
		if facts := g.facts(t, w.Voyage.Depart.At); facts != nil {
			w.Facts[t] = facts
		}
	}
	w.Turning = g.turning()
	w.Points = g.points(w, whole.Plan.Legs)
	w.Warns = g.warns(w)
	return w
}

// pace is the way made good against the plan.
func (g *gate) pace(w *Way, whole Definitions) {
	first := max(0, legTo(whole.Plan.Legs, w.Voyage.Depart.To, 0))
	for _, leg := range whole.Plan.Legs[first:] {
		w.Planned += leg.Distance
	}
	w.Hours = w.Fix.At.Sub(w.Voyage.Depart.At).Hours()
	var left quantity.Distance
	for _, leg := range g.definitions.Plan.Legs {
		left += leg.Distance
	}
	if !w.Fix.Told || w.Fix.Other || w.Hours <= 0 || w.Planned <= left {
		return
	}
	w.Done = w.Planned - left
	w.Pace = quantity.Speed(float64(w.Done) / w.Hours)
	if before := g.state.fixBefore(whole); before.Told && before.Leg == w.Fix.Leg && !before.Other && before.ToGo > w.Fix.ToGo && w.Fix.At.After(before.At) {
		w.LastPace = quantity.Speed(float64(before.ToGo-w.Fix.ToGo) / w.Fix.At.Sub(before.At).Hours())
	}
	stays := 0.0
	for _, span := range g.slow.Spans {
		if span.Kind != passage.AtSea {
			stays += span.Hours
		}
	}
	if hours := float64(left)/float64(w.Pace) + stays; hours < 24*366 {
		w.AtPace = w.Fix.At.Add(time.Duration(hours * float64(time.Hour)))
	}
}

// fixBefore is where she was before the last that was told.
func (s State) fixBefore(d Definitions) Fix {
	v := *s.Voyage
	if n := len(v.Noons); n > 0 {
		v.Noons = v.Noons[:n-1]
	}
	s.Voyage = &v
	return s.fix(d)
}

// ending is when a thing ends. Told is false where it is not reckoned.
func (g *gate) ending(t passage.Thing) (e Ending, told bool) {
	s, reckoned := g.assessment.Reckoning.Resources[t].First()
	if !reckoned || s.Bought {
		return e, false
	}
	from := g.assessment.Reckoning.Depart
	e = Ending{Thing: t, Planned: Ends{after(from, s.Endurance), after(from, s.LastDrop)}}
	if s.Length > 0 {
		e.UsePlan = float64(s.Need) / s.Length
	}
	if t == passage.Food {
		return e, true
	}
	if use, days, seen := g.useSeen(t); seen {
		e.Use, e.Over = use, days
		e.Seen = g.endsAt(s, from, use)
		for _, tank := range g.definitions.Boat.Tanks {
			if tank.Holds == t && !tank.Sealed {
				e.Out += float64(tank.ErrorOf(provisions.ByShare)) * float64(tank.Capacity)
			}
		}
	}
	if each := float64(g.definitions.Boat.Rates.Water.Rationed); t == passage.Water && each > 0 {
		e.Rations = g.endsAt(s, from, each*float64(g.definitions.Plan.Crew))
	}
	return e, true
}

// after is a time of days from a moment; zero: it does not end.
func after(from time.Time, d provisions.Days) time.Time {
	if d.Never || d.Days > 366*10 {
		return time.Time{}
	}
	return from.Add(time.Duration(d.Days * 24 * float64(time.Hour)))
}

// endsAt is when what is available ends at a use a day.
func (g *gate) endsAt(s provisions.Stretch, from time.Time, use float64) *Ends {
	if use <= 0 {
		return &Ends{}
	}
	days := func(a provisions.Amount) provisions.Days { return provisions.Days{Days: max(0, float64(a)) / use} }
	return &Ends{after(from, days(s.Available-s.Reserve)), after(from, days(s.Available))}
}

// useSeen is what was used of a thing a day since the departure, by the first and the last
// sounding of each tank since then, fills in between counted. Tanks that were not sounded
// twice tell nothing: then nothing is seen.
func (g *gate) useSeen(t passage.Thing) (use, days float64, seen bool) {
	var used float64
	var from, to time.Time
	for _, tank := range g.definitions.Boat.Tanks {
		if tank.Holds != t || tank.Sealed {
			continue
		}
		u, begin, end, told := g.usedFrom(tank)
		if !told {
			return 0, 0, false
		}
		used += u
		if from.IsZero() || begin.Before(from) {
			from = begin
		}
		if end.After(to) {
			to = end
		}
	}
	days = to.Sub(from).Hours() / 24
	if days < seenLeast || used < 0 {
		return 0, days, false
	}
	return used / days, days, true
}

// lastBefore is how long before the departure a sounding may lie and still be the level she left with.
const lastBefore = 24 * time.Hour

// usedFrom is what was drawn from a tank between its level on leaving, or the last filling to
// the brim since, and its last sounding.
func (g *gate) usedFrom(tank provisions.Tank) (used float64, from, to time.Time, told bool) {
	left := g.state.Voyage.Depart.At
	history := g.state.Tanks[tank.Name].History
	first, last := -1, -1
	for i, h := range history {
		if h.Level == "" || h.Doubtful || h.At.Before(left.Add(-lastBefore)) {
			continue
		}
		if first < 0 || !h.At.After(left) || h.Level == Full {
			first = i
		}
		last = i
	}
	if first < 0 || last == first {
		return 0, from, to, false
	}
	used, told = usedBetween(tank, history[first:last+1])
	return used, latest(history[first].At, left), history[last].At, told
}

func levelIn(tank provisions.Tank, text string) (float64, bool) {
	level, err := provisions.ParseLevel(text, tank.Holds)
	if err != nil {
		return 0, false
	}
	amount, err := tank.AmountAt(level)
	return float64(amount), err == nil
}

func movedIn(tank provisions.Tank, g Gauging) float64 {
	amount, err := provisions.ParseAmount(g.Amount, tank.Holds)
	switch {
	case err != nil:
		return 0
	case g.Out:
		return -float64(amount)
	}
	return float64(amount)
}

// warns are where fact has left the plan by more than it allowed for.
func (g *gate) warns(w *Way) []string {
	var warns []string
	for _, e := range w.Ends {
		s, _ := g.assessment.Reckoning.Resources[e.Thing].First()
		if warn := endWarns(e, s); warn != "" {
			warns = append(warns, warn)
		}
	}
	promised, told := w.Signed[passage.Slow]
	if at := w.arrival(g); told && at.Sub(promised) >= time.Minute {
		warns = append(warns, fmt.Sprintf("she comes in %s, later than the slow case that she left with (%s): tell the person ashore",
			g.definitions.moment(at), g.definitions.moment(promised)))
	}
	return warns
}

// arrival is when she comes in at the pace seen, or as the slow case now has it where that is later.
func (w *Way) arrival(g *gate) time.Time {
	at := g.slow.Arrive()
	if w.AtPace.After(at) {
		return w.AtPace
	}
	return at
}

// endWarns is what a thing comes to by the slow arrival, by the use seen or, where none was, the plan's.
func endWarns(e Ending, s provisions.Stretch) string {
	if how := endsHow(e.UsePlan, s); how != "" {
		return fmt.Sprintf("%s %s before the slow arrival, at the planned use", e.Thing, how)
	}
	if e.Seen == nil {
		return ""
	}
	if how := endsHow(e.Use-e.Out/e.Over, s); how != "" {
		return fmt.Sprintf("%s %s before the slow arrival, at the use seen", e.Thing, how)
	}
	if how := endsHow(e.Use, s); how != "" {
		return fmt.Sprintf("%s perhaps %s before the slow arrival, at the use seen in %.1f days; the gauges may be out by %.0f: sound again",
			e.Thing, how, e.Over, math.Ceil(e.Out))
	}
	return ""
}

// endsHow is what comes of a use a day until the slow arrival; "": it lasts.
func endsHow(use float64, s provisions.Stretch) string {
	left := float64(s.Available) - use*s.Length
	switch {
	case left < -wayCrumb:
		return "RUNS OUT"
	case left < float64(s.Reserve)-wayCrumb:
		return "goes into the reserve"
	}
	return ""
}

// wayCrumb is what float sums may miss, in L or kg.
const wayCrumb = 1e-6
