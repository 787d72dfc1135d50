package provisions

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// ExplainWhatIf is the working of a what-if: what was changed, the stretch that fails
// as it is reckoned then, and what would help.
func (s Situation) ExplainWhatIf(r Reckoning, w WhatIf, units quantity.System) Working {
	changed, reckoned, ok := s.reckonWhatIf(r, w)
	if !ok {
		return nothingToExplain(heading(w.Name()), "it is no question for this boat and passage")
	}
	out := &whatIfSlate{slate: slate{thing: w.Thing, units: units}, situation: s, planned: r, whatIf: w, changed: changed, reckoned: reckoned}
	out.put("changed", w.Name(), out.change())
	switch {
	case len(w.Unmade) > 0:
		out.unmade()
	case w.Verdict != Holds:
		out.failing()
	default:
		out.holding()
	}
	out.verdict()
	out.cures()
	return Working{Title: "What if: " + w.Name(), Lines: out.lines}
}

// holding tells what each thing comes to where all hold.
func (w *whatIfSlate) holding() {
	for _, t := range passage.Things {
		if w.isIgnored(t) {
			continue
		}
		of := slate{thing: t, units: w.units}
		for _, s := range w.reckoned.Resources[t].Stretches {
			if s.Bought {
				continue
			}
			w.putf(string(t), s.Margin.over(), "%s to %s, %s case: need %s, reserve %s, available %s",
				s.From, s.To, s.Hard, of.exact(s.Need), of.exact(s.Reserve), of.exact(s.Available))
		}
	}
}

// isIgnored says that the contingency does not judge a thing.
func (w *whatIfSlate) isIgnored(t passage.Thing) bool {
	switch w.whatIf.Kind {
	case NoWind, NoEngine:
		return t == passage.Fuel
	case GasGone:
		return t == passage.Gas
	}
	return false
}

// over is a margin that is left.
func (d Days) over() string {
	if d.Never {
		return "nothing is used"
	}
	return d.String() + " to spare"
}

// whatIfSlate is the slate of one what-if.
type whatIfSlate struct {
	slate
	situation Situation
	planned   Reckoning
	whatIf    WhatIf
	changed   Situation
	reckoned  Reckoning
}

// change is what was changed, in words with the numbers of this boat.
func (w *whatIfSlate) change() string {
	boat, plan := w.situation.Boat, w.situation.Plan
	switch w.whatIf.Kind {
	case FullestTankLost:
		return fmt.Sprintf("%s, the water tank most counted on, is empty from the departure on, for good: %s less", w.whatIf.Place, w.lost())
	case WatermakerDead:
		return w.dry()
	case NoWind:
		return fmt.Sprintf("for the first %s at sea she goes under engine until the fuel less its reserve is gone, and drifts for the rest of them; then as planned. Fuel is not judged", daysText(calmHours/dayHours))
	case NoEngine:
		return "no time under engine, no charging, nothing made by what the engine drives. Fuel is not judged"
	case FifthSlower:
		return fmt.Sprintf("the speeds under sail and under engine x %s in every case; the current is not slower", number(fifthLess, nearest))
	case OneMoreAboard:
		return fmt.Sprintf("%s in place of %s", persons(plan.Crew+1), persons(plan.Crew))
	case NothingAt:
		return fmt.Sprintf("%s does not give %s", plan.Legs[w.whatIf.Leg].To, inARow(surely(plan.Legs[w.whatIf.Leg].Fill)))
	case FridgeDead:
		return "from the departure on chilled food keeps as long as it does warm, or else for the first day: " + inARow(boat.named(func(f Food) bool { return f.Chilled }))
	case GasGone:
		return fmt.Sprintf("from the departure on only what needs no stove is eaten, and a day is fed from %s of the energy on. Gas is not judged. Not eaten: %s",
			percent(coldShare), inARow(boat.named(func(f Food) bool { return f.Cook })))
	case DivertTo:
		return w.diversion()
	}
	return ""
}

// lost is what the lost tank counts for.
func (w *whatIfSlate) lost() string {
	water := slate{thing: passage.Water, units: w.units}
	for _, f := range w.planned.Tanks {
		if f.Tank.Name == w.whatIf.Place {
			return water.exact(f.Counted)
		}
	}
	return water.exact(0)
}

func (w *whatIfSlate) dry() string {
	water := slate{thing: passage.Water, units: w.units}
	rates := w.situation.Boat.Rates.Water
	if rates.Rationed <= 0 {
		return "nothing is made; water is used as planned, for no rationed use is written"
	}
	return "nothing is made; water at the rationed use, all told: " + water.exact(Amount(rates.Rationed)) + " a person a day"
}

func surely(fill []passage.Giving) (things []string) {
	for _, g := range fill {
		if g.Sure {
			things = append(things, string(g.Thing))
		}
	}
	return things
}

func (b Boat) named(is func(Food) bool) (names []string) {
	for _, f := range b.Foods {
		if is(f) {
			names = append(names, f.Name)
		}
	}
	return names
}

func (w *whatIfSlate) diversion() string {
	leg := w.changed.Plan.Legs[w.whatIf.Leg]
	for _, a := range leg.Alternates {
		if a.Name == leg.To && a.After+a.Distance == leg.Distance {
			return fmt.Sprintf("%s of leg %d, then %s to %s at the leg's speed and current, ending there",
				miles(a.After), w.whatIf.Leg+1, miles(a.Distance), a.Name)
		}
	}
	return fmt.Sprintf("leg %d is %s and ends at %s", w.whatIf.Leg+1, miles(leg.Distance), leg.To)
}

func (w *whatIfSlate) unmade() {
	var legs []string
	for _, leg := range w.whatIf.Unmade {
		legs = append(legs, fmt.Sprint(leg+1))
	}
	w.putf("not made", "leg "+strings.Join(legs, ", "), "in the %s case less than 0.5 kn is made good there, and as planned she makes it", w.whatIf.Case)
}

// failing is the stretch that fails, with its own working.
func (w *whatIfSlate) failing() {
	of := w.whatIf
	at := slices.IndexFunc(w.reckoned.Resources[of.Thing].Stretches, of.failsOn)
	if at < 0 {
		return
	}
	w.putf("what fails", string(of.Thing), "%s to %s, in the %s case; of several the worst, then the earliest", of.From, of.To, of.Case)
	stretch := w.changed.stretchSlate(w.reckoned, of.Thing, at, w.units)
	stretch.galley = of.galley()
	stretch.write()
	w.lines = append(w.lines, stretch.lines...)
	w.short(stretch.stretch)
}

// failsOn says whether it is this stretch that fails: places may be made for twice.
func (w WhatIf) failsOn(s Stretch) bool {
	missing := s.Short
	if w.Verdict == RunsOut {
		missing = s.Need - s.Available
	}
	return s.From == w.From && s.To == w.To && s.Hard == w.Case && s.Verdict() == w.Verdict && math.Abs(float64(missing-w.Missing)) < crumb
}

// galley is how food is kept and cooked then.
func (w WhatIf) galley() galley {
	return galley{fridgeDead: w.Kind == FridgeDead, gasGone: w.Kind == GasGone}
}

// short is what is missing, when and how far from where it is needed.
func (w *whatIfSlate) short(s Stretch) {
	of := w.whatIf
	missing, when := fmt.Sprintf("%s needed + %s reserve - %s available", w.exact(s.Need), w.exact(s.Reserve), w.exact(s.Available)), "the reserve is touched"
	if of.Verdict == RunsOut {
		missing, when = fmt.Sprintf("%s needed - %s available", w.exact(s.Need), w.exact(s.Available)), "the last drop is gone"
	}
	w.put("missing", of.Missing.Up(of.Thing, w.units), missing)
	w.putf("on", fmt.Sprintf("day %d, %s", of.Day, of.At.In(w.planned.Depart.Location()).Format(moment)), "%s; day %d is the %s 24 h from departure", when, of.Day, ordinal(of.Day))
	if of.Verdict == RunsOut {
		w.putf("short of", of.Miles.Up(w.units), "the miles from there to %s", of.To)
	}
	if of.Sealed > 0 {
		w.put("then", of.Sealed.Down(of.Thing, w.units)+" sealed", "what is in sealed cans: never planned on")
	}
}

func ordinal(n int) string {
	ending := "th"
	switch {
	case n%100 >= 11 && n%100 <= 13:
	case n%10 == 1:
		ending = "st"
	case n%10 == 2:
		ending = "nd"
	case n%10 == 3:
		ending = "rd"
	}
	return fmt.Sprint(n) + ending
}

const verdictRule = "runs out where the need of any thing is above what is available, or a leg is no longer made; into the reserve where it is short; else it holds"

func (w *whatIfSlate) verdict() {
	w.put("verdict", string(w.whatIf.Verdict), verdictRule)
	told := "no worse"
	if w.whatIf.Worse {
		told = "worse"
	}
	w.putf("than planned", told, "as planned: %s", w.planned.Verdict)
}

// cures are each reckoned in full: with it the passage holds.
func (w *whatIfSlate) cures() {
	for i, c := range w.whatIf.Cures {
		w.put(fmt.Sprintf("cure %d", i+1), c.Words(w.units), cureWords(c))
	}
}

// cureWords is what a cure does.
func cureWords(c Cure) string {
	how := "reckoned: with it this holds"
	switch c.Kind {
	case CureLoad:
		return how + "; as much as goes into the tanks there are"
	case CureSlower:
		return how + "; the engine burns less a mile, and the passage takes longer"
	case CureRation:
		return how + "; the latest day from which it does"
	case CureStop:
		return how + "; it is not sure that the place gives it"
	case CureCans:
		return how + fmt.Sprintf("; more than the tanks hold, %d cans carried at a time", cansATrip)
	}
	return how
}

// ExplainLoad is the working of what to load.
func (s Situation) ExplainLoad(r Reckoning, l Load, units quantity.System) Working {
	title := fmt.Sprintf("%s to load at %s", heading(string(l.Thing)), l.At)
	cuts, stretches := sections(s.Plan, l.Thing), r.Resources[l.Thing].Stretches
	for i, cut := range cuts {
		if i < len(stretches) && cut.first-1 == l.Leg {
			w := &loadSlate{slate: slate{thing: l.Thing, units: units}, load: l, stretch: stretches[i]}
			w.write(s.prices(l.Leg))
			return Working{Title: title, Lines: w.lines}
		}
	}
	return nothingToExplain(title, "no stretch begins there")
}

// loadSlate is the slate of one loading.
type loadSlate struct {
	slate
	load    Load
	stretch Stretch
}

func (w *loadSlate) write(prices map[passage.Thing]float64) {
	l, s := w.load, w.stretch
	w.putf("need", s.Need.Up(l.Thing, w.units), "to %s in the %s case: see the working of that stretch", s.To, s.Hard)
	w.put("reserve", s.Reserve.Up(l.Thing, w.units), "to be whole on arrival")
	left := "what is left on arrival in the hard case"
	if l.Leg < 0 {
		left = "what is available at departure"
	}
	w.put("left there", l.Left.Down(l.Thing, w.units), left)
	missing := short(s.Need, s.Reserve, l.Left)
	w.putf("missing", orNothing(missing, w.exact), "%s + %s - %s, not below nothing", w.exact(s.Need), w.exact(s.Reserve), w.exact(l.Left))
	w.amounts(missing)
	w.price(prices)
	for _, f := range l.Deck {
		w.putf("fill "+f.Tank, f.Takes.Up(l.Thing, w.units), "to the brim; the most that goes in, what the gauge may be out by included")
	}
	for i, c := range l.Cures {
		w.put(fmt.Sprintf("cure %d", i+1), c.Words(w.units), cureWords(c))
	}
}

// orNothing is an amount in words.
func orNothing(v Amount, told func(Amount) string) string {
	if v == 0 {
		return "nothing"
	}
	return told(v)
}

// amounts are what goes in, and what does not.
func (w *loadSlate) amounts(missing Amount) {
	l := w.load
	up := func(v Amount) string { return v.Up(l.Thing, w.units) }
	if l.Thing == passage.Food {
		w.put("to load", orNothing(l.Amount, up), "all that is missing; the shopping list puts it into packs")
		return
	}
	if below := l.Amount - (missing - l.Lacks); below > crumb {
		w.put("below the pick-ups", w.exact(below), "what must go in first before any of it counts")
	}
	how := "the least: what is missing"
	if l.Full {
		how = "all tanks full"
	}
	w.put("to load", orNothing(l.Amount, up), how)
	if l.Amount == 0 && l.Lacks == 0 {
		return
	}
	w.put("room for it", l.Room.Down(l.Thing, w.units), "what goes into the tanks above what is left")
	if l.Lacks > 0 {
		w.putf("beyond the tanks", up(l.Lacks), "%s missing - what the tanks can add to what counts", w.exact(missing))
	}
}

func (w *loadSlate) price(prices map[passage.Thing]float64) {
	if !w.load.Priced || w.load.Amount == 0 {
		return
	}
	unit := "L"
	if w.load.Thing == passage.Gas {
		unit = "kg"
	}
	w.putf("price", number(w.load.Price, roundUp), "%s %s x %s", number(float64(w.load.Amount), nearest), unit, number(prices[w.load.Thing], nearest))
}
