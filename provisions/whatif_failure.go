package provisions

import (
	"cmp"
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// failure is a stretch on which a thing does not hold.
type failure struct {
	thing   passage.Thing
	index   int // of the stretch
	section section
	stretch Stretch
	verdict Verdict
	after   float64 // hours from departure, on the hard case's clock, to where it runs out or the reserve is touched
	day     int     // the n-th 24 h from departure in which that is
}

// newFailure is not ok where the stretch holds.
func newFailure(depart time.Time, t passage.Thing, index int, s section, st Stretch) (f failure, fails bool) {
	verdict := st.Verdict()
	if verdict == Holds {
		return failure{}, false
	}
	f = failure{thing: t, index: index, section: s, stretch: st, verdict: verdict}
	lasts := st.Endurance
	if verdict == RunsOut {
		lasts = st.LastDrop
	}
	if !st.Start.IsZero() {
		f.after = hoursBetween(depart, st.Start)
	}
	f.after += lasts.Days * dayHours
	f.day = dayAfter(f.after)
	return f, true
}

// dayAfter is the n-th 24 h in which a moment lies that is so many hours after
// departure. What is a crumb before a day's end is its end, and so the next day.
func dayAfter(hours float64) int {
	return int(min(math.Floor(hours/dayHours+crumb), math.MaxInt32)) + 1
}

// appendFailures adds those stretches of t that do not hold, in their order.
func appendFailures(list []failure, r *Reckoning, t passage.Thing, cuts []section) []failure {
	for i, st := range r.Resources[t].Stretches {
		if f, fails := newFailure(r.Depart, t, i, cuts[i], st); fails {
			list = append(list, f)
		}
	}
	return list
}

// worst is what is told of all that fails: the worst verdict, then the earliest day,
// then water, fuel, food, gas. It is nil where all holds.
func (o *outcome) worst() *failure {
	var worst *failure
	for i := range o.failing {
		if f := &o.failing[i]; worst == nil || f.compare(worst) < 0 {
			worst = f
		}
	}
	return worst
}

func (f *failure) compare(g *failure) int {
	order := func(t passage.Thing) int { return slices.Index(passage.Things[:], t) }
	return cmp.Or(
		cmp.Compare(badness(g.verdict), badness(f.verdict)),
		cmp.Compare(f.day, g.day),
		cmp.Compare(order(f.thing), order(g.thing)),
		cmp.Compare(f.index, g.index),
	)
}

// milesToGo are the sea miles from where it runs out to the end of the stretch.
func (o *outcome) milesToGo(f *failure) quantity.Distance {
	spans := o.spans(f.stretch.Hard)
	from, to := f.section.within(spans)
	out, now, miles := f.stretch.LastDrop.Days*dayHours, 0.0, 0.0
	for i := from; i < to; i++ {
		end := now + spans[i].Hours
		miles += spans[i].Speed * max(0, end-max(now, out))
		now = end
	}
	return quantity.Distance(miles)
}
