package provisions

import (
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
)

// A one-off use is taken all at once, as soon as it may happen: on its day, at that day's
// first moment on the stretch, and at a stop on arrival there. That is on the safe side:
// it is gone before what is used by the hour. A day that lies on two stretches counts on
// the earlier one; what falls before the departure, after the last arrival, or into a
// stay where the thing is surely given, is used of no tank that is reckoned.

// once is what is used at one moment: litres, of gas kilograms.
type once struct {
	water, fuel, gas float64
}

func (o once) of(t passage.Thing) float64 {
	switch t {
	case passage.Water:
		return o.water
	case passage.Fuel:
		return o.fuel
	case passage.Gas:
		return o.gas
	case passage.Food:
	}
	return 0
}

func (o once) and(u passage.Use) once {
	switch u.What {
	case passage.Water:
		o.water += u.Amount
	case passage.Fuel:
		o.fuel += u.Amount
	case passage.Gas:
		o.gas += u.Amount
	case passage.Food:
	}
	return o
}

// planned is a one-off use whose day or stop is known.
type planned struct {
	use          passage.Use
	begins, ends time.Time // its day
	stop         int       // the leg that ends at its stop; -1: it has a day
}

// plannedUses are those of a plan that can fall on any voyage.
func plannedUses(plan passage.Plan) []planned {
	var list []planned
	for _, u := range plan.Uses {
		switch leg, isStop := plan.Stop(u.At); {
		case !(u.Amount > 0):
		case !u.On.IsZero():
			zone := plan.Depart.Location()
			list = append(list, planned{use: u, begins: u.On.In(zone), ends: u.On.End(zone), stop: -1})
		case isStop:
			list = append(list, planned{use: u, stop: leg})
		}
	}
	return list
}

// occasion is a one-off use with the moment at which it is counted.
type occasion struct {
	use passage.Use
	at  time.Time
}

// occasions are the one-off uses that are counted in a section, in the order of time.
func (c course) occasions(s section) []occasion {
	from, to := s.within(c.voyage.Spans)
	if from >= to || len(c.planned) == 0 {
		return nil
	}
	var list []occasion
	for _, p := range c.planned {
		at, falls := p.onDay(c.voyage.Spans, from, to)
		if p.stop >= 0 {
			at, falls = p.atStop(c.voyage.Spans, s)
		}
		if falls {
			list = append(list, occasion{p.use, at})
		}
	}
	slices.SortStableFunc(list, func(a, b occasion) int { return a.at.Compare(b.at) })
	return list
}

// onDay is the first moment of its day in the spans from one to before another. A day on
// which she was still under way to where these spans begin was counted there.
func (p planned) onDay(spans []passage.Span, from, to int) (at time.Time, falls bool) {
	starts := spans[from].Start
	if !p.begins.Before(spans[to-1].End()) || !p.ends.After(starts) {
		return time.Time{}, false
	}
	came := from
	for came > 0 && spans[came-1].Kind != passage.AtSea {
		came--
	}
	if came > 0 && p.begins.Before(spans[came].Start) {
		return time.Time{}, false
	}
	if p.begins.Before(starts) {
		return starts, true
	}
	return p.begins, true
}

// atStop is the arrival at its stop, where that lies inside the section.
func (p planned) atStop(spans []passage.Span, s section) (at time.Time, falls bool) {
	if p.stop < s.first || p.stop >= s.last {
		return time.Time{}, false
	}
	next := slices.IndexFunc(spans, func(span passage.Span) bool {
		return span.Leg > p.stop || span.Leg == p.stop && span.Kind != passage.AtSea
	})
	if next < 0 {
		return time.Time{}, false
	}
	return spans[next].Start, true
}

// with is the part with its spans cut at the occasions, which lie in it.
func (p part) with(list []occasion) part {
	if len(list) == 0 {
		return p
	}
	out := part{}
	add := func(s passage.Span, u use, atOnce once) {
		out.spans, out.uses, out.once = append(out.spans, s), append(out.uses, u), append(out.once, atOnce)
	}
	for i, span := range p.spans {
		var atOnce once
		for len(list) > 0 && list[0].at.Before(span.End()) {
			if at := list[0].at; at.After(span.Start) {
				before := span
				before.Hours = min(span.Hours, hoursBetween(span.Start, at))
				add(before, p.uses[i], atOnce)
				atOnce = once{}
				span.Start = at
				span.Hours -= before.Hours
			}
			atOnce = atOnce.and(list[0].use)
			list = list[1:]
		}
		add(span, p.uses[i], atOnce)
	}
	return out
}

// onceAt is what is used at the beginning of a span.
func (p part) onceAt(span int) once {
	if p.once == nil {
		return once{}
	}
	return p.once[span]
}

// usedOnce is what of t is used once in the part.
func (p part) usedOnce(t passage.Thing) float64 {
	sum := 0.0
	for _, o := range p.once {
		sum += o.of(t)
	}
	return sum
}

// usedOnce are the one-off uses of the whole voyage, those of stays included in which the
// thing is given.
func (c course) usedOnce() once {
	var sum once
	if n := len(c.voyage.Spans); n > 0 {
		for _, o := range c.occasions(section{0, c.voyage.Spans[n-1].Leg}) {
			sum = sum.and(o.use)
		}
	}
	return sum
}
