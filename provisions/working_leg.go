package provisions

import (
	"fmt"
	"strings"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// ExplainLeg is the working of a leg's time in a case.
func (s Situation) ExplainLeg(r Reckoning, leg int, c passage.CaseName, units quantity.System) Working {
	if leg < 0 || leg >= len(s.Plan.Legs) {
		return nothingToExplain("leg", "there is no such leg")
	}
	l := s.Plan.Legs[leg]
	w := &legSlate{slate: slate{units: units}, situation: s, leg: l, name: c, bent: s.Plan.Cases[c]}
	title := fmt.Sprintf("Leg %d, %s to %s, %s case", leg+1, l.From, l.To, c)
	w.distance()
	w.underSail()
	w.underEngine()
	w.madeGood()

	voyage := r.Cases[c].Voyage
	if !voyage.Made() || leg >= len(voyage.Arrivals) {
		w.put("time", "not made", notMade(voyage, leg))
		return Working{Title: title, Lines: w.lines}
	}
	w.times(voyage, leg)
	w.arrives(voyage.Arrivals[leg])
	return Working{Title: title, Lines: w.lines}
}

// notMade is why there is no time of a leg.
func notMade(v passage.Voyage, leg int) string {
	var others []string
	for _, unmade := range v.Unmade {
		if unmade == leg {
			return "she cannot make this leg: less than 0.5 kn made good, or no speed is known at these revs"
		}
		others = append(others, fmt.Sprint(unmade+1))
	}
	return "she cannot make leg " + strings.Join(others, ", ") + ", so that no time of this case is told"
}

// legSlate is the slate of one leg in one case.
type legSlate struct {
	slate
	situation Situation
	leg       passage.Leg
	name      passage.CaseName
	bent      passage.Case
	sail      float64 // knots, what counts of the speed under sail
	motor     float64 // likewise under engine
}

func (w *legSlate) distance() {
	how := "as written"
	if n := len(w.leg.Route); n > 0 {
		how = fmt.Sprintf("the sum of the great circles along the %d points of the route", n)
	}
	w.put("distance", number(float64(w.leg.Distance), nearest)+" nm", how)
	w.rhumb()
}

// rhumb tells the route as it is steered by compass, a steady course from point to point.
func (w *legSlate) rhumb() {
	route := w.leg.Route
	if len(route) < 2 {
		return
	}
	var sum quantity.Distance
	for i := 1; i < len(route); i++ {
		d, _ := passage.Rhumb(route[i-1], route[i])
		sum += d
	}
	_, steady := passage.Rhumb(route[0], route[1])
	w.put("by rhumb lines", number(float64(sum), nearest)+" nm", "the same points, a steady course from each to the next; not used")
	if first, ok := passage.InitialCourse(route[0], route[1]); ok {
		w.put("first course, true", first.String(), fmt.Sprintf("of the great circle; the rhumb line's is %s", steady))
	}
}

// alone is what one way of going counts for, before it is shared and without the
// current. An ample current is put in and taken off again, so that no speed is too
// small to be told.
func (w *legSlate) alone(c passage.Case) (v float64, rpm int, ok bool) {
	const ample = 1000
	l := w.leg
	l.Current, l.Distance = ample, 0
	made, ok := l.MadeGood(w.situation.Boat.Engine, c, w.situation.Trim)
	return float64(made.Speed) - ample, made.RPM, ok
}

// fouled is the factor of the bottom in words; "" where she is taken as clean.
func (w *legSlate) fouled() string {
	if f := w.situation.Trim.Fouling; f > 0 && f < 1 {
		return " x " + number(f, nearest) + " for the bottom"
	}
	return ""
}

func (w *legSlate) factor(f float64) string {
	return fmt.Sprintf(" x %s in the %s case", number(f, nearest), w.name)
}

func (w *legSlate) underSail() {
	v, _, ok := w.alone(passage.Case{Speed: w.bent.Speed})
	if !ok {
		return
	}
	w.sail = v
	bottom := w.fouled()
	if w.leg.AsIs {
		bottom = " as she goes now"
	}
	w.put("under sail", number(v, nearest)+" kn", knots(float64(w.leg.Sail))+bottom+w.factor(w.bent.Speed))
}

func (w *legSlate) underEngine() {
	if w.bent.Power <= 0 {
		return
	}
	v, rpm, ok := w.alone(passage.Case{Motor: w.bent.Motor, Power: 1})
	if !ok {
		w.put("under engine", "not known", "no speed is known at these revs")
		return
	}
	w.motor = v
	w.put("under engine", number(v, nearest)+" kn", w.motoring(rpm)+w.fouled()+w.factor(w.bent.Motor))
}

// motoring is where the speed under engine comes from.
func (w *legSlate) motoring(rpm int) string {
	e := w.situation.Boat.Engine
	at := fmt.Sprintf("at %d rpm ", rpm)
	if limit := w.situation.Trim.RPMCap; limit > 0 && limit == rpm {
		at = fmt.Sprintf("at %d rpm, the most that a defect allows, ", rpm)
	}
	if !e.HasCurve() {
		return at + knots(float64(w.leg.Power)) + " as written"
	}
	if first := e.Curve[0]; rpm < first.RPM {
		return at + fmt.Sprintf("%s x %d/%d, in proportion below the curve's first row", knots(float64(first.Speed)), rpm, first.RPM)
	}
	clean, _ := e.SpeedAt(rpm)
	return at + fmt.Sprintf("%s (%s)", knots(float64(clean)), w.onCurve(e, rpm, func(r passage.CurveRow) string { return knots(float64(r.Speed)) }))
}

// made is the speed made good by the shares; madeGood tells it.
func (w *legSlate) made() float64 {
	power := float64(w.bent.Power)
	return power*w.motor + (1-power)*w.sail + float64(w.leg.Current)
}

func (w *legSlate) madeGood() {
	power := float64(w.bent.Power)
	how := knots(w.sail)
	if power > 0 {
		how = fmt.Sprintf("%s of the time under engine x %s + %s under sail x %s", percent(power), knots(w.motor), percent(1-power), knots(w.sail))
	}
	switch {
	case w.leg.Current > 0:
		how += " + " + knots(float64(w.leg.Current)) + " of fair current"
	case w.leg.Current < 0:
		how += " - " + knots(-float64(w.leg.Current)) + " of foul current"
	}
	w.put("made good", number(w.made(), nearest)+" kn", how)
}

// times are when she leaves and how long it takes.
func (w *legSlate) times(v passage.Voyage, leg int) {
	leaves, how := v.Depart, "the departure"
	hours, speed := 0.0, 0.0
	if leg > 0 {
		leaves, how = v.Arrivals[leg-1], "the arrival at "+w.leg.From
	}
	for _, span := range v.Spans {
		switch {
		case span.Leg == leg && span.Kind == passage.AtSea:
			hours, speed = span.Hours, span.Speed
		case span.Leg == leg-1 && span.Kind == passage.Stay:
			leaves, how = span.End(), how+" + a stay of "+hoursText(span.Hours)
		case span.Leg == leg-1 && span.Kind == passage.Wait:
			leaves, how = span.End(), how+" + a wait of "+hoursText(span.Hours)
		}
	}
	w.put("leaves", leaves.Format(moment), how)
	w.putf("time", number(hours, roundUp)+" h", "%s / %s", miles(w.leg.Distance), knots(speed))
	w.putf("arrives", v.Arrivals[leg].Format(moment), "%s later", DaysUp(hours/dayHours))
}

const byDayIs = "by day is from an hour after sunrise to two hours before sunset"

// arrives judges the arrival by the daylight.
func (w *legSlate) arrives(at time.Time) {
	arrival := passage.ArrivalAt(w.leg, at)
	result := "not by day"
	switch {
	case !arrival.Known:
		w.put("daylight", "not known", "no position of "+w.leg.To+" is written")
		return
	case arrival.ByDay:
		result = "by day"
	}
	how := byDayIs
	if !arrival.FirstLight.IsZero() && !arrival.LastLight.IsZero() {
		zone := at.Location()
		how += fmt.Sprintf(": %s to %s", upToMinute(arrival.FirstLight).In(zone).Format("15:04"), arrival.LastLight.In(zone).Format("15:04"))
	}
	w.put("daylight", result, how)
}

// upToMinute is the next whole minute, where a moment is one from which on.
func upToMinute(t time.Time) time.Time {
	if whole := t.Truncate(time.Minute); whole.Before(t) {
		return whole.Add(time.Minute)
	}
	return t
}

// ExplainWindow is the working of when to leave for arriving by day.
func (s Situation) ExplainWindow(r Reckoning, win Window, units quantity.System) Working {
	if win.Leg < 0 || win.Leg >= len(s.Plan.Legs) {
		return nothingToExplain("when to leave", "there is no such leg")
	}
	w := slate{units: units}
	to := s.Plan.Legs[win.Leg].To
	names := r.inWindow(win.Leg)
	if len(names) == 0 {
		return nothingToExplain("When to leave for "+to, "neither the expected nor the slow case makes every leg")
	}
	for _, name := range names {
		v := r.Cases[name].Voyage
		w.putf(string(name)+" takes", quantity.RoughUp(v.Arrivals[win.Leg].Sub(v.Depart)), "from the departure to %s, stays and waits included; it does not hang on when she leaves", to)
	}
	from := later(r.Depart.Add(-aroundDeparture), s.Now).In(r.Depart.Location())
	w.put("looked at", from.Format(moment)+" to "+r.Depart.Add(aroundDeparture).Format(moment), "a day before the departure to a day after, not before now")
	for _, open := range win.Open {
		w.put("leave", upToMinute(open.From).Format(moment)+" to "+open.To.Format(moment), r.thereBy(names, win.Leg, open))
	}
	if len(win.Open) == 0 {
		w.put("leave", "no time", "at no time of these does she arrive by day in "+inARow(caseWords(names))+"; "+byDayIs)
	}
	return Working{Title: "When to leave for " + to + " by day", Lines: w.lines}
}

// inWindow are the cases of which a window is told.
func (r Reckoning) inWindow(leg int) (names []passage.CaseName) {
	for _, name := range []passage.CaseName{passage.Expected, passage.Slow} {
		if leg < len(r.Cases[name].Voyage.Arrivals) {
			names = append(names, name)
		}
	}
	return names
}

func caseWords(names []passage.CaseName) []string {
	words := make([]string, 0, len(names))
	for _, name := range names {
		words = append(words, "the "+string(name)+" case")
	}
	return words
}

// thereBy is between which moments she is then there.
func (r Reckoning) thereBy(names []passage.CaseName, leg int, open Opening) string {
	var words []string
	for _, name := range names {
		v := r.Cases[name].Voyage
		takes := v.Arrivals[leg].Sub(v.Depart)
		words = append(words, fmt.Sprintf("%s is then there %s to %s", name, upToMinute(open.From.Add(takes)).Format(moment), open.To.Add(takes).Format(moment)))
	}
	return strings.Join(words, ", ") + ": " + byDayIs
}

func later(a, b time.Time) time.Time {
	if b.After(a) {
		return b
	}
	return a
}
