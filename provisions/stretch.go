package provisions

import (
	"sort"

	"boat/hoveshort/provisions/passage"
)

// crumb is what float sums may be out by, in litres, kilograms or person-days:
// a short below it is none, and a rounding for people does not move by it.
const crumb = 1e-6

// nearly is the relative difference within which two needs are equal.
const nearly = 1e-9

// section is a run of legs, both ends included, between two places that surely
// give a thing.
type section struct {
	first, last int
}

// sections cuts the passage at every stop that surely gives t.
func sections(plan passage.Plan, t passage.Thing) []section {
	return cutAt(len(plan.Legs)-1, func(leg int) bool { return plan.Legs[leg].Gives(t) })
}

// cutAt cuts a passage that ends with leg last after every leg that gives.
func cutAt(last int, gives func(leg int) bool) []section {
	list := make([]section, 0, min(last+1, 8))
	first := 0
	for i := range last + 1 {
		if i == last || gives(i) {
			list = append(list, section{first, i})
			first = i + 1
		}
	}
	return list
}

// part is the piece of a course that lies in a section: the legs, and the stays
// and waits at stops inside it. The stay and the wait at its end belong to no
// section: the tank is topped up before leaving.
type part struct {
	spans []passage.Span
	uses  []use
	once  []once // used at the beginning of each span; nil: none
}

func (c course) part(s section) part {
	from, to := s.within(c.voyage.Spans)
	if from >= to {
		return part{}
	}
	p := part{spans: c.voyage.Spans[from:to], uses: c.uses[from:to]}
	if c.once != nil {
		p.once = c.once[from:to]
	}
	if len(c.planned) > 0 {
		p = p.with(c.occasions(s))
	}
	return p
}

// within is where the section's spans begin and end; it may end before it begins
// where there are none. Spans come in the order of their legs.
func (s section) within(spans []passage.Span) (from, to int) {
	from = sort.Search(len(spans), func(i int) bool { return spans[i].Leg >= s.first })
	to = sort.Search(len(spans), func(i int) bool {
		return spans[i].Leg > s.last || spans[i].Leg == s.last && spans[i].Kind != passage.AtSea
	})
	return from, to
}

// hours is how long the part takes.
func (p part) hours() float64 {
	sum := 0.0
	for _, s := range p.spans {
		sum += s.Hours
	}
	return sum
}

// need is what the part uses of t, and the same before anything is made aboard.
func (p part) need(t passage.Thing) (net, gross float64) {
	for i, u := range p.uses {
		net += u.of(t) * p.spans[i].Hours
		gross += u.grossOf(t) * p.spans[i].Hours
	}
	atOnce := p.usedOnce(t)
	return net + atOnce, gross + atOnce
}

// lasts is the time in days until more than budget of t is used: along the
// part, beyond its end at its mean daily use, in which one-off uses are not: they
// do not come again. It ends at the last moment at which the budget still holds, so
// that time in which nothing is used after the last drop of it counts, and before a
// one-off use that it does not hold. Where nothing is used by the hour it never
// ends, but for a budget already overdrawn.
func (p part) lasts(t passage.Thing, budget float64) Days {
	if budget < -crumb {
		return Days{}
	}
	budget = max(0, budget)

	hours, used := 0.0, 0.0
	for i, span := range p.spans {
		used += p.onceAt(i).of(t)
		if used > budget*(1+nearly) {
			return Days{Days: hours / dayHours}
		}
		rate := p.uses[i].of(t)
		spends := rate * span.Hours
		if used+spends > budget*(1+nearly) {
			return Days{Days: (hours + max(0, budget-used)/rate) / dayHours}
		}
		hours += span.Hours
		used += spends
	}
	steady := used - p.usedOnce(t)
	if steady <= 0 || hours <= 0 {
		return Days{Never: true}
	}
	mean := steady / hours
	return Days{Days: (hours + max(0, budget-used)/mean) / dayHours}
}

// hardest is the case that needs most of t on the section, of equals the
// longest, of equals again the first in the fixed order.
func hardest(courses []course, s section, t passage.Thing) (name passage.CaseName, hard part) {
	var most, longest float64
	for _, c := range courses {
		p := c.part(s)
		need, _ := p.need(t)
		hours := p.hours()
		if name == "" || over(need, most) || !over(most, need) && over(hours, longest) {
			name, hard, most, longest = c.voyage.Case, p, need, hours
		}
	}
	return name, hard
}

// over says whether a is more than b by more than float crumbs.
func over(a, b float64) bool {
	return a > b+nearly*max(1, b)
}

// held is the amount held back: the largest of what is given. Steady is the need
// without one-off uses, which no day has on the mean.
// Formula and rows R3, R4 of the reference: max(days*mean daily use,
// share of need*need, share of capacity*capacity, amount).
func (r Reserve) held(need, steady, days float64, usable Amount) Amount {
	if r.None {
		return 0
	}
	held := max(r.Amount, Amount(r.ShareOfCapacity)*usable, Amount(float64(r.ShareOfNeed)*need))
	if days > 0 {
		held = max(held, Amount(r.Days*steady/days))
	}
	return held
}

// stretch is a thing from tanks against one section.
func (b Boat) stretch(plan passage.Plan, courses []course, s section, t passage.Thing, available Amount) Stretch {
	name, hard := hardest(courses, s, t)
	out := begin(plan, s, name, hard)
	need, gross := hard.need(t)

	out.Need = Amount(need)
	out.Reserve = b.Rates.Reserve[t].held(gross, gross-hard.usedOnce(t), out.Length, b.usable(t))
	out.Available = available
	out.Endurance = hard.lasts(t, float64(available-out.Reserve))
	out.LastDrop = hard.lasts(t, float64(available))
	out.Margin = out.Endurance.less(out.Length)
	out.Short = short(out.Need, out.Reserve, available)
	return out
}

// begin fills in where and when a stretch is.
func begin(plan passage.Plan, s section, name passage.CaseName, hard part) Stretch {
	out := Stretch{
		From:   plan.Legs[s.first].From,
		To:     plan.Legs[s.last].To,
		Hard:   name,
		Length: hard.hours() / dayHours,
	}
	if len(hard.spans) > 0 {
		out.Start = hard.spans[0].Start
	}
	return out
}

// short is what is missing for the stretch with its reserve untouched.
func short(need, reserve, available Amount) Amount {
	missing := need + reserve - available
	if missing < crumb {
		return 0
	}
	return missing
}

// less is d shortened by so many days; never stays never.
func (d Days) less(days float64) Days {
	if d.Never {
		return d
	}
	return Days{Days: d.Days - days}
}

// Verdict is how the stretch ends: it runs out where the need is above what is
// available, and goes into the reserve where it is short. Food that is bought
// on the way is not judged.
func (s Stretch) Verdict() Verdict {
	switch {
	case s.Bought:
		return Holds
	case s.Need > s.Available+crumb:
		return RunsOut
	case s.Short > 0:
		return IntoReserve
	}
	return Holds
}

// Verdict is the worst of the stretches'; "" where there is none.
func (r Resource) Verdict() Verdict {
	var worst Verdict
	for _, s := range r.Stretches {
		worst = Worse(worst, s.Verdict())
	}
	return worst
}

// Worse is the worse of two verdicts; "" is better than any.
func Worse(a, b Verdict) Verdict {
	if badness(b) > badness(a) {
		return b
	}
	return a
}

func badness(v Verdict) int {
	switch v {
	case Holds:
		return 1
	case IntoReserve:
		return 2
	case RunsOut:
		return 3
	}
	return 0
}
