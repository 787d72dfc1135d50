package provisions

import (
	"fmt"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// ExplainTurning is the working of the last moment for turning back.
func (s Situation) ExplainTurning(r Reckoning, t Turning, units quantity.System) Working {
	title := heading(string(t.Thing)) + ": the last moment for turning back"
	if t.Leg < 0 || t.Leg >= len(s.Plan.Legs) {
		return nothingToExplain(title, "there is no such leg")
	}
	stretch, cut, ok := s.stretchOf(r, t.Thing, t.Leg)
	if !ok {
		return nothingToExplain(title, noCase)
	}

	w := &turnSlate{slate: slate{thing: t.Thing, units: units}, stretch: stretch, turning: t}
	home := newHousehold(s.Boat, s.Plan)
	w.ways = s.goingBack(home, home.follow(r.Cases[t.Case].Voyage), cut, t.Leg)
	leg := s.Plan.Legs[t.Leg]
	w.putf("case", string(t.Case), "the hard case from %s to %s: back to %s, the last place that gives %s", stretch.From, stretch.To, t.To, t.Thing)
	if t.State == TurnNoWay {
		w.put("last moment", string(t.State), "against the wind and the current she makes less than 0.5 kn home, or no speed or burn is known")
	} else {
		w.budget(leg)
		w.aMile()
		w.turn(leg)
	}
	return Working{Title: fmt.Sprintf("%s on leg %d, %s to %s", title, t.Leg+1, leg.From, leg.To), Lines: w.lines}
}

// turnSlate is the slate of one last moment.
type turnSlate struct {
	slate
	stretch Stretch
	turning Turning
	ways    goingBack
}

// behind is what goes before the leg's beginning: used on the way there, and going home from it.
func (w *turnSlate) behind() (used, home Amount) {
	out, _ := w.ways.done.need(w.thing)
	return Amount(out), Amount(w.ways.homeUse(w.thing))
}

// free is what is left for going out on the leg and back to its beginning.
func (w *turnSlate) free() Amount {
	used, home := w.behind()
	return w.stretch.Available - w.stretch.Reserve - used - home
}

func (w *turnSlate) budget(leg passage.Leg) {
	s := w.stretch
	w.putf("may be used", w.exact(s.Available-s.Reserve), "%s available at %s - %s reserve", w.exact(s.Available), s.From, w.exact(s.Reserve))
	if len(w.ways.behind) == 0 {
		return
	}
	used, home := w.behind()
	if len(w.ways.done.spans) > 0 {
		w.putf("used to the leg", w.exact(used), "in %s from %s to %s, stays and waits included", hoursText(w.ways.done.hours()), s.From, leg.From)
	}
	w.putf("home from its beginning", w.exact(home), "in %s back to %s, without a stay", hoursText(w.ways.homeHours()), w.turning.To)
	w.putf("for out and back", w.exact(w.free()), "%s - %s - %s", w.exact(s.Available-s.Reserve), w.exact(used), w.exact(home))
}

// aMile is what a mile out and home uses.
func (w *turnSlate) aMile() {
	this := w.ways.this
	w.put("made good", knots(this.out)+" out, "+knots(this.home)+" home", homeWords(w.turning.Guess)+"; the current turned round, the same bottom and case")
	out, home := this.uses.of(w.thing), this.usesHome.of(w.thing)
	w.putf("a mile out and home", w.small(w.perMile(), roundUp),
		"%s an hour / %s + %s an hour / %s", w.small(out, nearest), knots(this.out), w.small(home, nearest), knots(this.home))
}

func (w *turnSlate) perMile() float64 { return w.ways.aMile(w.thing) }

// onTheWay are the one-off uses on the leg that she goes beyond, and what is left of the
// budget without them. Where the last of them is more than is left she turns before it:
// that one stops her, and is not in them.
func (w *turnSlate) onTheWay() (used, left Amount, stop *milestone) {
	passed, stops := w.ways.passed(w.thing, float64(max(0, w.free())))
	if stops {
		stop = &passed[len(passed)-1]
		passed = passed[:len(passed)-1]
	}
	for _, m := range passed {
		used += Amount(m.use.of(w.thing))
	}
	return used, max(0, w.free()) - used, stop
}

func homeWords(guess bool) string {
	if guess {
		return "no speed for going home is written: half the speed under sail, the case's share under engine"
	}
	return "home as written for the leg"
}

func (w *turnSlate) turn(leg passage.Leg) {
	t := w.turning
	used, left, stop := w.onTheWay()
	if t.State != TurnPassed && used > 0 {
		w.putf("one-off uses", w.exact(used), "planned for before there on this leg; %s are left for out and back", w.exact(left))
	}
	switch t.State {
	case TurnPassed:
		w.putf("last moment", string(t.State), "%s: already at %s going back would touch the reserve", w.exact(w.free()), leg.From)
	case TurnBeyond:
		w.putf("last moment", string(t.State), "%s would take her farther than the leg's %s", w.exact(left), miles(leg.Distance))
	case TurnOnLeg:
		if stop != nil {
			w.putf("after", t.After.Down(w.units), "%s are planned to be used at once there, more than can then be spared", w.exact(Amount(stop.use.of(w.thing))))
		} else {
			w.putf("after", t.After.Down(w.units), "%s / %s a mile", w.exact(left), w.small(w.perMile(), nearest))
		}
		w.putf("last moment", t.At.Format(moment), "%s / %s after %s", miles(t.After), knots(w.ways.this.out), leg.From)
		w.put("the way back", number(t.Back, roundUp)+" h", w.wayBack(leg))
	}
}

func (w *turnSlate) wayBack(leg passage.Leg) string {
	how := fmt.Sprintf("%s / %s", miles(w.turning.After), knots(w.ways.this.home))
	if len(w.ways.behind) > 0 {
		how += fmt.Sprintf(", and %s from %s home", hoursText(w.ways.homeHours()), leg.From)
	}
	return how
}

// ExplainOnOrBack is the working of the point from which on and back take the same time.
func (s Situation) ExplainOnOrBack(r Reckoning, p OnOrBack, units quantity.System) Working {
	if p.Leg < 0 || p.Leg >= len(s.Plan.Legs) {
		return nothingToExplain("On or back", "there is no such leg")
	}
	leg := s.Plan.Legs[p.Leg]
	w := slate{units: units}
	title := fmt.Sprintf("On or back in the same time, leg %d, %s to %s", p.Leg+1, leg.From, leg.To)
	w.putf("made good out", number(float64(p.Out), nearest)+" kn", "in the %s case: see the working of the leg", p.Case)
	if !p.Known {
		w.put("made good home", "none", "against the wind and the current she makes less than 0.5 kn home, or no speed is known")
		return Working{Title: title, Lines: w.lines}
	}
	w.put("made good home", number(float64(p.Home), nearest)+" kn", homeWords(p.Guess)+"; the current turned round")
	behind := 0.0
	if p.Leg == 0 && len(s.Behind) > 0 {
		home := newHousehold(s.Boat, s.Plan)
		behind = s.goingBack(home, home.follow(r.Cases[p.Case].Voyage), section{}, 0).homeHours()
		w.putf("back from here", hoursText(behind), "home to %s", s.Behind[0].From)
	}
	if p.Passed {
		w.putf("after", "none", "on from here takes %s, less than back", hoursText(float64(leg.Distance)/float64(p.Out)))
		return Working{Title: title, Lines: w.lines}
	}
	if behind > 0 {
		w.putf("after", p.After.In(units), "(%s / %s - %s) / (1 / %s + 1 / %s)", miles(leg.Distance), knots(float64(p.Out)), hoursText(behind), knots(float64(p.Out)), knots(float64(p.Home)))
	} else {
		w.putf("after", p.After.In(units), "%s x %s / (%s + %s)", miles(leg.Distance), knots(float64(p.Home)), knots(float64(p.Out)), knots(float64(p.Home)))
	}
	w.putf("at", p.At.Format(moment), "%s / %s after %s", miles(p.After), knots(float64(p.Out)), leg.From)
	w.putf("on from there", number(float64((leg.Distance-p.After)/quantity.Distance(p.Out)), roundUp)+" h", "%s / %s", miles(leg.Distance-p.After), knots(float64(p.Out)))
	w.putf("back from there", number(behind+float64(p.After/quantity.Distance(p.Home)), roundUp)+" h", "%s / %s%s", miles(p.After), knots(float64(p.Home)), andHours(behind))
	return Working{Title: title, Lines: w.lines}
}

// ExplainRange is the working of the range at one row of the curve.
func (s Situation) ExplainRange(r Reckoning, row RangeRow, units quantity.System) Working {
	title := fmt.Sprintf("Range under engine at %d rpm", row.RPM)
	fuel, ok := r.Resources[passage.Fuel].First()
	if !ok {
		return nothingToExplain(title, noCase)
	}
	w := &rangeSlate{slate: slate{thing: passage.Fuel, units: units}, situation: s, row: row, fuel: fuel}
	w.speed()
	w.burns()
	w.miles()
	w.passage(r)
	return Working{Title: title, Lines: w.lines}
}

// rangeSlate is the slate of one row of the range.
type rangeSlate struct {
	slate
	situation Situation
	row       RangeRow
	fuel      Stretch
}

func (w *rangeSlate) speed() {
	clean, _ := w.situation.Boat.Engine.SpeedAt(w.row.RPM)
	how := knots(float64(clean)) + " by the curve"
	if f := w.situation.Trim.Fouling; f > 0 && f < 1 {
		how += " x " + number(f, nearest) + " for the bottom"
	}
	w.put("speed", number(float64(w.row.Speed), nearest)+" kn", how+"; smooth water, no current")
}

// hourly is what is burnt an hour under way, the heater counted where it runs.
func (w *rangeSlate) hourly() float64 {
	return float64(w.row.Burn) + newHousehold(w.situation.Boat, w.situation.Plan).heater/dayHours
}

func (w *rangeSlate) burns() {
	how := w.flow(float64(w.row.Burn)) + " by the curve"
	if heater := w.hourly() - float64(w.row.Burn); heater > 0 {
		how += " + " + w.flow(heater) + " for the heater, all round the clock"
	}
	w.put("burn", w.flow(w.hourly()), how)
}

func (w *rangeSlate) miles() {
	f, an := w.fuel, fmt.Sprintf("/ %s x %s", w.flow(w.hourly()), knots(float64(w.row.Speed)))
	w.putf("with the reserve whole", w.row.Whole.Down(w.units), "(%s available - %s reserve) %s", w.exact(f.Available), w.exact(f.Reserve), an)
	w.putf("to the last drop", w.row.LastDrop.Down(w.units), "%s %s", w.exact(f.Available), an)
	if further := w.row.Further; !w.row.Cruise && further != 0 {
		told := percent(further) + " farther"
		if further < 0 {
			told = percent(-further) + " less far"
		}
		w.putf("against cruise revs", told, "miles a litre here and at %d rpm", w.situation.Boat.Engine.CruiseRPM)
	}
}

// passage tells the passage with every leg at these revs.
func (w *rangeSlate) passage(r Reckoning) {
	revs := "every leg at these revs, slow case"
	if w.row.Capped {
		revs = fmt.Sprintf("a defect allows %d rpm and no more: every leg at those, slow case", w.situation.Trim.RPMCap)
	}
	if !w.row.Made {
		w.put("the passage so", "not made", revs)
		return
	}
	w.put("the passage so", w.row.Arrive.Format(moment), "the arrival with "+revs)
	if planned := r.Cases[passage.Slow].Voyage; planned.Made() {
		told := quantity.RoughUp(w.row.Later) + " later"
		if w.row.Later < 0 {
			told = quantity.RoughDown(-w.row.Later) + " earlier"
		}
		w.put("against the plan", told, "than "+planned.Arrive().Format(moment)+", the slow case as planned")
	}
	w.put("fuel for it", w.row.Fuel.Up(passage.Fuel, w.units), "engine, charging and heater, to the last arrival")
	if !w.row.InHand.Never {
		w.putf("in hand", w.row.InHand.String(), "to the beginning of %s, by which she must be in", w.situation.Plan.Before)
	}
}

// andHours is what comes to a way back from where she is now.
func andHours(behind float64) string {
	if behind <= 0 {
		return ""
	}
	return " and " + hoursText(behind) + " from here"
}
