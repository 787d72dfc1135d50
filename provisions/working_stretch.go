package provisions

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// stretchSlate is the slate of one stretch, with all that it was reckoned from.
type stretchSlate struct {
	slate
	situation Situation
	reckoning Reckoning
	stretch   Stretch
	cut       section
	home      household
	course    course // in the hard case
	part      part   // of it
	first     bool   // it lives on what is aboard
	galley    galley
}

// ExplainStretch is the working of a thing's stretch i: its need, reserve, what is
// available, how long that lasts and what is short.
func (s Situation) ExplainStretch(r Reckoning, t passage.Thing, i int, units quantity.System) Working {
	stretches, cuts := r.Resources[t].Stretches, sections(s.Plan, t)
	if len(stretches) == 0 || i < 0 || i >= min(len(stretches), len(cuts)) {
		return nothingToExplain(heading(string(t)), noCase)
	}

	w := s.stretchSlate(r, t, i, units)
	w.write()
	if !w.stretch.Bought {
		w.verdict()
	}
	return Working{
		Title: fmt.Sprintf("%s, %s to %s, %s case", heading(string(t)), w.stretch.From, w.stretch.To, w.stretch.Hard),
		Lines: w.lines,
	}
}

// stretchSlate is a slate for a stretch that is there.
func (s Situation) stretchSlate(r Reckoning, t passage.Thing, i int, units quantity.System) *stretchSlate {
	w := &stretchSlate{
		slate: slate{thing: t, units: units}, situation: s, reckoning: r,
		stretch: r.Resources[t].Stretches[i], cut: sections(s.Plan, t)[i],
		home: newHousehold(s.Boat, s.Plan), first: i == 0,
	}
	w.course = w.home.follow(r.Cases[w.stretch.Hard].Voyage)
	w.part = w.course.part(w.cut)
	return w
}

func (w *stretchSlate) write() {
	w.hardCase()
	w.use()
	w.need()
	w.reserve()
	if w.stretch.Bought {
		w.putf("available", "not judged", "it is bought at %s, as much as is needed with the reserve", w.stretch.From)
		return
	}
	w.available()
	w.lasts()
}

// hardCase compares the three cases, and takes the time apart.
func (w *stretchSlate) hardCase() {
	var needs []string
	for _, name := range passage.CaseNames {
		made := w.reckoning.Cases[name]
		if !made.Voyage.Made() {
			needs = append(needs, string(name)+" does not make every leg")
			continue
		}
		need, _ := w.home.follow(made.Voyage).part(w.cut).need(w.thing)
		needs = append(needs, string(name)+" "+w.exact(Amount(need)))
	}
	w.put("hard case", string(w.stretch.Hard), "the one that needs most, of equals the longest: "+strings.Join(needs, ", "))
	w.put("time", DaysUp(w.stretch.Length), w.hoursOf())
}

// hoursOf tells the time by what she does in it.
func (w *stretchSlate) hoursOf() string {
	var words []string
	for _, kind := range spanKinds {
		if h := w.part.hoursIn(kind); h > 0 {
			words = append(words, hoursText(h)+" "+kindWord(kind))
		}
	}
	how := strings.Join(words, " + ")
	if w.cut.last < len(w.situation.Plan.Legs)-1 {
		how += fmt.Sprintf("; %s gives %s, so the stay and wait there use none of it", w.stretch.To, w.thing)
	}
	return how
}

// spanKinds are the kinds of a span in the order in which they are told.
var spanKinds = [...]passage.SpanKind{passage.AtSea, passage.Stay, passage.Wait}

func kindWord(kind passage.SpanKind) string {
	switch kind {
	case passage.Stay:
		return "in stays"
	case passage.Wait:
		return "in waits"
	}
	return "at sea"
}

func (p part) hoursIn(kind passage.SpanKind) float64 {
	sum := 0.0
	for _, span := range p.spans {
		if span.Kind == kind {
			sum += span.Hours
		}
	}
	return sum
}

// need is the sum of its components.
func (w *stretchSlate) need() {
	for _, c := range w.components() {
		w.put(c.what, w.exact(Amount(c.amount)), c.how)
	}
	w.putf("need", w.stretch.Need.Up(w.thing, w.units), "all of this, to %s", w.stretch.To)
}

// reserve tells each of those given, and the largest.
func (w *stretchSlate) reserve() {
	given := w.situation.Boat.Rates.Reserve[w.thing]
	if given.None {
		w.put("reserve", "none", "none is held back, on purpose")
		return
	}
	if w.thing == passage.Food {
		w.putf("reserve", w.stretch.Reserve.Up(w.thing, w.units), "%s x %s", daysText(given.Days), persons(w.situation.Plan.Crew))
		return
	}
	for _, c := range w.heldBack(given) {
		w.put(c.what, w.exact(Amount(c.amount)), c.how)
	}
	w.put("reserve", w.stretch.Reserve.Up(w.thing, w.units), "the largest of these")
}

// heldBack are the ways of holding back that are given, each reckoned alone.
func (w *stretchSlate) heldBack(given Reserve) []component {
	_, gross := w.part.need(w.thing)
	steady := gross - w.part.usedOnce(w.thing)
	usable := w.situation.Boat.usable(w.thing)
	before := ""
	if w.thing == passage.Water && w.home.maker != nil {
		before = " before the watermaker"
	}

	var list []component
	add := func(what, how string, alone Reserve) {
		list = append(list, component{what, how, float64(alone.held(gross, steady, w.stretch.Length, usable))})
	}
	if given.Days > 0 && w.stretch.Length > 0 {
		add("reserve by days", fmt.Sprintf("%s x %s, the mean%s", daysText(given.Days), w.aDay(steady/w.stretch.Length), before), Reserve{Days: given.Days})
	}
	if given.ShareOfNeed > 0 {
		add("reserve by need", fmt.Sprintf("%s of %s%s", percent(float64(given.ShareOfNeed)), w.exact(Amount(gross)), before), Reserve{ShareOfNeed: given.ShareOfNeed})
	}
	if given.ShareOfCapacity > 0 {
		add("reserve by capacity", fmt.Sprintf("%s of %s, the unsealed tanks above their pick-ups", percent(float64(given.ShareOfCapacity)), w.exact(usable)), Reserve{ShareOfCapacity: given.ShareOfCapacity})
	}
	if given.Amount > 0 {
		add("reserve by amount", "", Reserve{Amount: given.Amount})
	}
	return list
}

// lasts is how long what is available lasts.
func (w *stretchSlate) lasts() {
	s := w.stretch
	if w.thing == passage.Food {
		w.foodLasts()
	} else {
		w.put("to the reserve", lastsUntil(s.Endurance, s.Start), w.until(s.Available-s.Reserve, fmt.Sprintf("(%s - %s)", w.exact(s.Available), w.exact(s.Reserve))))
		w.put("to the last drop", lastsUntil(s.LastDrop, s.Start), w.until(s.Available, w.exact(s.Available)))
	}

	if s.Margin.Never {
		w.put("margin", s.Margin.String(), "none is used")
	} else {
		w.putf("margin", s.Margin.String(), "%s - %s", daysText(s.Endurance.Days), daysText(s.Length))
	}
	short := "none"
	if s.Short > 0 {
		short = s.Short.Up(w.thing, w.units)
	}
	w.putf("short", short, "%s + %s - %s, not below nothing", w.exact(s.Need), w.exact(s.Reserve), w.exact(s.Available))
}

// until is how an endurance comes about: budget is what may be used up, told as a sum.
func (w *stretchSlate) until(budget Amount, told string) string {
	walk := w.part.walk(w.thing, float64(budget))
	rate := w.aDay(walk.rate * dayHours)
	switch {
	case walk.overdrawn:
		return told + " is less than nothing"
	case walk.never:
		return "none is used"
	case walk.atOnce > 0:
		return fmt.Sprintf("%s: %s of it go in the first %s; the %s that are then used at once are more than is left",
			told, w.exact(Amount(walk.used)), daysText(walk.hours/dayHours), w.exact(Amount(walk.atOnce)))
	case walk.hours == 0 && walk.used == 0 || w.part.isSteady(w.thing):
		return fmt.Sprintf("%s / %s", told, rate)
	case walk.beyond:
		return fmt.Sprintf("%s: %s of it go to %s in %s, the rest at the mean of %s",
			told, w.exact(Amount(walk.used)), w.stretch.To, daysText(walk.hours/dayHours), rate)
	}
	return fmt.Sprintf("%s: %s of it go in the first %s, the rest at %s",
		told, w.exact(Amount(walk.used)), daysText(walk.hours/dayHours), rate)
}

// isSteady says whether as much is used in every hour, and nothing at once.
func (p part) isSteady(t passage.Thing) bool {
	if p.usedOnce(t) > 0 {
		return false
	}
	for _, u := range p.uses {
		if u.of(t) != p.uses[0].of(t) {
			return false
		}
	}
	return true
}

// walk is where lasts ends: so much is used after so many hours, and the rest of the
// budget at a rate.
type walk struct {
	hours, used float64
	rate        float64 // an hour
	atOnce      float64 // a one-off use that is more than is left ends it; 0: none does
	beyond      bool    // the part's end
	never       bool
	overdrawn   bool
}

// walk goes the way of lasts, and stops where it turns from spans to one last rate.
func (p part) walk(t passage.Thing, budget float64) walk {
	if budget < -crumb {
		return walk{overdrawn: true}
	}
	budget = max(0, budget)

	w := walk{}
	for i, span := range p.spans {
		atOnce := p.onceAt(i).of(t)
		if w.used+atOnce > budget*(1+nearly) {
			w.atOnce = atOnce
			return w
		}
		w.used += atOnce
		rate := p.uses[i].of(t)
		spends := rate * span.Hours
		if w.used+spends > budget*(1+nearly) {
			w.rate = rate
			return w
		}
		w.hours += span.Hours
		w.used += spends
	}
	steady := w.used - p.usedOnce(t)
	if steady <= 0 || w.hours <= 0 {
		w.never = true
		return w
	}
	w.beyond, w.rate = true, steady/w.hours
	return w
}

// days is how long the budget lasts by the walk.
func (w walk) days(budget float64) Days {
	switch {
	case w.overdrawn:
		return Days{}
	case w.never:
		return Days{Never: true}
	case w.atOnce > 0:
		return Days{Days: w.hours / dayHours}
	}
	return Days{Days: (w.hours + max(0, max(0, budget)-w.used)/w.rate) / dayHours}
}

func (w *stretchSlate) verdict() {
	w.put("verdict", string(w.stretch.Verdict()), "runs out where the need is above what is available, into the reserve where it is short, else it holds")
}

// addOnce keeps the order of the first appearance.
func addOnce[T comparable](list []T, v T) []T {
	if slices.Contains(list, v) {
		return list
	}
	return append(list, v)
}
