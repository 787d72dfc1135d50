package provisions

import (
	"math"
	"sort"

	"boat/hoveshort/provisions/passage"
)

// rationing is a passage on which water is rationed from a day on.
type rationing struct {
	o     *outcome
	house household // with the rationed use
	room  []course  // spans are cut into these, again and again
}

// rationing is water at the rationed use from the latest day on with which it holds.
func (b *basis) rationing(o *outcome, how remedy) (c Cure, cures bool) {
	each := o.change.Boat.Rates.Water.Rationed
	r := rationing{o: o, house: newHousehold(o.change.Boat, o.change.Plan)}
	daily := float64(each) * r.house.crew
	if each <= 0 || daily >= r.house.water {
		return Cure{}, false
	}
	r.house.water = daily
	r.room = b.roomFor(len(o.courses()))

	from := math.MaxInt
	for i := range o.failing {
		day, holds := r.latest(o.failing[i].section, o.failing[i].index, from)
		if !holds {
			return Cure{}, false
		}
		from = min(from, day)
	}
	c = Cure{Kind: CureRation, Thing: passage.Water, From: from, Each: Amount(each)}
	return c, r.holds(from, how)
}

// roomFor is room for so many courses, the same for every rationing.
func (b *basis) roomFor(n int) []course {
	for len(b.room) < n {
		b.room = append(b.room, course{})
	}
	return b.room[:n]
}

// latest is the last day, not after one, from which a section holds on rations. It
// looks between the section's first day and its end: rations before are of no use to
// it, nor are those after. Where it begins after that day it is not looked at: it is
// on rations all along.
func (r *rationing) latest(s section, index, notAfter int) (day int, holds bool) {
	first, end := math.Inf(1), 0.0
	for _, c := range r.o.courses() {
		p := c.part(s)
		if len(p.spans) == 0 {
			continue
		}
		begins := hoursBetween(c.voyage.Depart, p.spans[0].Start)
		first, end = min(first, begins), max(end, begins+p.hours())
	}
	if math.IsInf(first, 1) {
		return 0, false
	}
	from := dayAfter(first)
	if from > notAfter {
		return notAfter, true
	}
	later := sort.Search(dayAfter(end)-from+1, func(days int) bool {
		return r.stretch(s, index, from+days).Verdict() != Holds
	})
	return from + later - 1, later > 0
}

// holds reckons with rations from a day on all that might not hold with them: what
// failed without, and more. A case that makes more water under engine may become the
// one that needs less, and the hard case then be one with a larger reserve.
func (r *rationing) holds(from int, how remedy) bool {
	for _, w := range r.o.fragile() {
		ends := r.stretch(w.section, w.index, from).Verdict()
		if badness(ends) > badness(how.mayEnd(passage.Water, w.index)) {
			return false
		}
	}
	return true
}

// stretch is a stretch of water with rations from a day on.
func (r *rationing) stretch(s section, index, from int) Stretch {
	for i, c := range r.o.courses() {
		r.cut(&r.room[i], c, s, from)
	}
	return r.o.stretch(r.room, passage.Water, s, index == 0)
}

// cut makes the part of a course in a section one with rations from a day on. A span
// in which that day begins becomes two. One-off uses stay as they are planned.
func (r *rationing) cut(into *course, c course, s section, from int) {
	p := c.part(s)
	begins := after(c.voyage.Depart, float64(from-1)*dayHours)
	into.voyage.Case, into.voyage.Depart = c.voyage.Case, c.voyage.Depart
	into.voyage.Spans, into.uses = into.voyage.Spans[:0], into.uses[:0]
	into.once = into.once[:0]
	for i, span := range p.spans {
		before := min(span.Hours, hoursBetween(span.Start, begins))
		if before > 0 {
			free := span
			free.Hours = before
			into.add(free, p.uses[i], p.onceAt(i))
		}
		if before >= span.Hours {
			continue
		}
		atOnce := p.onceAt(i)
		if before > 0 {
			span.Start = begins
			span.Hours -= before
			atOnce = once{}
		}
		u, _ := r.house.in(span)
		into.add(span, u, atOnce)
	}
}

func (c *course) add(s passage.Span, u use, atOnce once) {
	c.voyage.Spans, c.uses, c.once = append(c.voyage.Spans, s), append(c.uses, u), append(c.once, atOnce)
}

// thirst is a section of water, and which stretch it is.
type thirst struct {
	section section
	index   int
}

// fragile are the stretches of water that do not hold, or of which it does not follow
// that with rations from whatever day they do: those not robust.
func (o *outcome) fragile() (list []thirst) {
	if o.kept != nil {
		for _, w := range o.kept.fragileWater() {
			if o.isKept(w) {
				list = append(list, w)
			}
		}
	}
	for _, w := range o.anew() {
		if !o.isRobust(w) {
			list = append(list, w)
		}
	}
	return list
}

// isKept says that a stretch of the basis is still one.
func (o *outcome) isKept(w thirst) bool {
	for _, d := range o.dry {
		if w.section.first <= d.section.last && w.section.last >= d.section.first {
			return false
		}
	}
	return w.section.last <= o.last
}

// anew are the stretches of water that are not as they were in the basis.
func (o *outcome) anew() (list []thirst) {
	if o.kept != nil {
		return o.dry
	}
	for i, s := range o.sections(passage.Water) {
		list = append(list, thirst{s, i})
	}
	return list
}

// isRobust says that the largest need and the largest reserve of any cases fit
// together. With less use both are smaller, whichever case is then the hard one.
func (o *outcome) isRobust(w thirst) bool {
	var need float64
	var reserve Amount
	usable := o.change.Boat.usable(passage.Water)
	for _, c := range o.courses() {
		p := c.part(w.section)
		net, gross := p.need(passage.Water)
		need = max(need, net)
		reserve = max(reserve, o.change.Boat.Rates.Reserve[passage.Water].held(gross, gross-p.usedOnce(passage.Water), p.hours()/dayHours, usable))
	}
	available := usable
	if w.index == 0 {
		available = o.aboard(passage.Water)
	}
	return short(Amount(need), reserve, available) == 0
}

// fragileWater are the fragile stretches of the passage as it is in the basis.
func (b *basis) fragileWater() []thirst {
	if !b.looked {
		o := outcome{change: &b.plain, reckoning: b.reckoning, closed: -1, last: len(b.plain.Plan.Legs) - 1, made: b.courses()}
		b.fragile, b.looked = o.fragile(), true
	}
	return b.fragile
}
