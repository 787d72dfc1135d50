package provisions

import (
	"cmp"
	"math"
	"slices"

	"boat/hoveshort/provisions/passage"
)

// basis is the passage from which contingencies start: as planned, or for a cure at
// other revs.
type basis struct {
	reckoning *Reckoning
	planned   []passage.Voyage // what the plan itself makes; beside it legs are no longer made
	plain     change           // nothing changed
	cuts      [len(passage.Things)][]section
	failing   []failure // as it is

	followed []course       // of the cases that make every leg, once they were asked for
	short    shortened      // the same, cut short by a diversion
	slower   map[int]*basis // at other revs, once they were asked for
	fragile  []thirst       // stretches of water, once they were looked for
	looked   bool
	room     []course // for rationing
}

func newBasis(s Situation, r *Reckoning) *basis {
	b := &basis{reckoning: r}
	voyages := make([]passage.Voyage, 0, len(passage.CaseNames))
	for _, name := range passage.CaseNames {
		voyages = append(voyages, r.Cases[name].Voyage)
	}
	b.planned = voyages
	b.plain = change{Situation: s.asUsed(r.Tanks, r.Depart), voyages: voyages, meals: r.meals}
	for i, t := range passage.Things {
		b.cuts[i] = sections(s.Plan, t)
		b.failing = appendFailures(b.failing, r, t, b.cuts[i])
	}
	return b
}

func (b *basis) meals() meals { return b.reckoning.meals }

// courses are those of the cases that make every leg.
func (b *basis) courses() []course {
	if b.followed == nil {
		b.followed = b.plain.courses()
	}
	return b.followed
}

// ask reckons what becomes of her. The outcome of a diversion is good until the
// next one is asked.
func (b *basis) ask(q question) *outcome {
	switch q.kind {
	case NothingAt:
		return b.nothingAt(q.leg)
	case DivertTo:
		if o := b.divert(q); o != nil {
			return o
		}
	}
	return b.askInFull(q)
}

// askInFull reckons the whole changed passage.
func (b *basis) askInFull(q question) *outcome {
	c := b.change(q, b.feedFor)
	r := reckon(c.Boat, c.Plan, c.Aboard, c.voyages, c.meals)
	o := &outcome{change: &c, reckoning: &r, closed: -1, last: len(c.Plan.Legs) - 1, unmade: unmadeSince(b.planned, &r)}
	if q.kind == FullestTankLost {
		o.lost = &b.reckoning.Tanks[q.tank]
	}
	for _, t := range passage.Things {
		if t != c.ignored {
			o.failing = appendFailures(o.failing, &r, t, sections(c.Plan, t))
		}
	}
	return o
}

// nothingAt reckons anew where a leg ends and nothing is to be had: the two
// stretches that met there are one. All others are as they were, and are not
// reckoned again: a passage of many stops would take as many times as long.
func (b *basis) nothingAt(leg int) *outcome {
	o := &outcome{kept: b, change: &b.plain, reckoning: b.reckoning, closed: leg, last: len(b.plain.Plan.Legs) - 1, made: b.courses()}
	for i, t := range passage.Things {
		cuts := b.cuts[i]
		at := sectionOf(cuts, leg)
		if !b.plain.Plan.Legs[leg].Gives(t) {
			o.keep(b.failing, t, 0, len(cuts))
			continue
		}
		o.keep(b.failing, t, 0, at)
		o.judge(t, at, section{cuts[at].first, cuts[at+1].last})
		o.keep(b.failing, t, at+2, len(cuts))
	}
	return o
}

// divert reckons anew from the last place before the leg that gives a thing to where
// she then ends. It is nil where that is not enough: where a case does not make every
// leg, it may make those up to there.
func (b *basis) divert(q question) *outcome {
	to := b.plain.Plan.Legs[q.leg].Alternates[q.alternate]
	if len(b.courses()) < len(b.planned) || !b.short.cut(b.courses(), q.leg, float64(to.After+to.Distance)) {
		return nil
	}
	o := &outcome{kept: b, change: &b.plain, reckoning: b.reckoning, closed: -1, last: q.leg, end: to.Name, made: b.short.courses}
	for i, t := range passage.Things {
		at := sectionOf(b.cuts[i], q.leg)
		o.keep(b.failing, t, 0, at)
		o.judge(t, at, section{b.cuts[i][at].first, q.leg})
	}
	return o
}

// sectionOf is the one in which the leg lies.
func sectionOf(cuts []section, leg int) int {
	at, _ := slices.BinarySearchFunc(cuts, leg, func(s section, leg int) int { return cmp.Compare(s.last, leg) })
	return at
}

// shortened are courses that end on some leg, in spans of their own.
type shortened struct {
	courses []course
	whole   []course
	at      []int // the span that was changed last
}

// longHours is beyond any passage: what takes longer is reckoned in full, which
// knows what she cannot make.
const longHours = 100_000

// cut lets the courses end so many miles along a leg, in place: the one span that
// is changed is put back when the next cut comes. It is not ok where the leg is not
// one span under way.
func (c *shortened) cut(whole []course, leg int, miles float64) bool {
	if c.whole == nil {
		c.copyOf(whole)
	}
	for i, course := range c.whole {
		spans := course.voyage.Spans
		from, to := section{leg, leg}.within(spans)
		if to-from != 1 || !(miles >= 0 && miles <= longHours*spans[from].Speed) {
			return false
		}
		own := c.courses[i].voyage.Spans[:cap(c.courses[i].voyage.Spans)]
		own[c.at[i]] = spans[c.at[i]]
		c.at[i] = from
		own[from].Hours = miles / own[from].Speed
		if own[from].Hours > 0 {
			from++
		}
		c.courses[i].voyage.Spans, c.courses[i].uses = own[:from], course.uses[:from]
	}
	return true
}

func (c *shortened) copyOf(whole []course) {
	c.whole, c.courses, c.at = whole, slices.Clone(whole), make([]int, len(whole))
	for i := range c.courses {
		v := &c.courses[i].voyage
		v.Spans = slices.Clone(v.Spans)
	}
}

// feedFor feeds them as long as it matters on the way to the first place that gives food.
func (b *basis) feedFor(crew int, g galley) meals {
	first := b.cuts[slices.Index(passage.Things[:], passage.Food)][0]
	hours := 0.0
	for _, c := range b.courses() {
		hours = max(hours, c.part(first).hours())
	}
	days := hours/dayHours + max(0, b.plain.Boat.Rates.Reserve[passage.Food].daysHeld())
	return b.meals().larder.feedFor(int(min(longestEating, math.Ceil(days)+1)), crew, g)
}

// reckonWhatIf is a what-if of this situation reckoned anew in full: the situation as
// far as boat and plan are changed, and what is to be said of it. It is not ok where
// it is none of hers.
func (s Situation) reckonWhatIf(r Reckoning, w WhatIf) (changed Situation, reckoned Reckoning, ok bool) {
	if r.Verdict == "" {
		return s, Reckoning{}, false
	}
	b := newBasis(s, &r)
	questions, _ := b.questions()
	at := slices.IndexFunc(questions, func(q question) bool { return q.kind == w.Kind && q.place == w.Place && q.leg == w.Leg })
	if at < 0 {
		return s, Reckoning{}, false
	}
	c := b.change(questions[at], b.meals().larder.feed)
	return c.Situation, reckon(c.Boat, c.Plan, c.Aboard, c.voyages, c.meals), true
}
