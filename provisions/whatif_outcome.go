package provisions

import (
	"slices"

	"boat/hoveshort/provisions/passage"
)

// outcome is what becomes of her in a contingency, and what a cure is looked for in.
type outcome struct {
	change    *change
	reckoning *Reckoning
	failing   []failure
	unmade    lostLegs

	closed int      // nothing is to be had where this leg ends; -1: no such
	last   int      // the leg with which the passage ends
	end    string   // where it then does; "": as planned
	made   []course // nil: not asked for yet

	lost *TankFigures // the tank that is lost; nil: none
	kept *basis       // all that was not reckoned anew is as in it; nil: all was
	dry  []thirst     // of water, what was
}

// lostLegs are legs that she makes in a case as planned and now does not.
type lostLegs struct {
	name passage.CaseName // the first such case
	legs []int
}

func unmadeSince(planned []passage.Voyage, r *Reckoning) lostLegs {
	for _, before := range planned {
		var legs []int
		for _, leg := range r.Cases[before.Case].Voyage.Unmade {
			if !slices.Contains(before.Unmade, leg) {
				legs = append(legs, leg)
			}
		}
		if len(legs) > 0 {
			return lostLegs{before.Case, legs}
		}
	}
	return lostLegs{}
}

// keep takes over what failed of t on the stretches from one to before another.
func (o *outcome) keep(failing []failure, t passage.Thing, from, before int) {
	for i := range failing {
		if f := &failing[i]; f.thing == t && f.index >= from && f.index < before {
			o.failing = append(o.failing, *f)
		}
	}
}

// judge reckons one section anew.
func (o *outcome) judge(t passage.Thing, index int, s section) {
	if _, reckoned := o.reckoning.Resources[t]; !reckoned {
		return
	}
	if t == passage.Water {
		o.dry = append(o.dry, thirst{s, index})
	}
	if f, fails := newFailure(o.reckoning.Depart, t, index, s, o.stretch(o.courses(), t, s, index == 0)); fails {
		o.failing = append(o.failing, f)
	}
}

// stretch is a section of such courses; first says that she lives on what is aboard.
func (o *outcome) stretch(courses []course, t passage.Thing, s section, first bool) Stretch {
	var out Stretch
	c := o.change
	switch {
	case t == passage.Food:
		out = c.Boat.foodStretch(c.Plan, courses, s, first, c.meals.fed)
	case first:
		out = c.Boat.stretch(c.Plan, courses, s, t, o.aboard(t))
	default:
		out = c.Boat.stretch(c.Plan, courses, s, t, c.Boat.usable(t))
	}
	if s.last == o.last && o.end != "" {
		out.To = o.end
	}
	return out
}

// aboard is what may be planned on at departure.
func (o *outcome) aboard(t passage.Thing) Amount {
	first, _ := o.reckoning.Resources[t].First()
	return first.Available
}

func (o *outcome) courses() []course {
	if o.made == nil {
		o.made = o.change.courses()
	}
	return o.made
}

// sections cuts the passage as it is in this outcome.
func (o *outcome) sections(t passage.Thing) []section {
	return cutAt(o.last, func(leg int) bool { return leg != o.closed && o.change.Plan.Legs[leg].Gives(t) })
}

// spans are those of a case that makes every leg.
func (o *outcome) spans(name passage.CaseName) []passage.Span {
	for _, c := range o.made {
		if c.voyage.Case == name {
			return c.voyage.Spans
		}
	}
	return o.reckoning.Cases[name].Voyage.Spans
}
