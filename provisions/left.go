package provisions

import (
	"slices"

	"boat/hoveshort/provisions/passage"
)

// Left is what is left of a thing along one case: straight lines between points.
type Left struct {
	Thing    passage.Thing
	Case     passage.CaseName
	Points   []LeftPoint // of rising hours; two at the same hour where it is filled up, or used at once
	Floor    []Floor     // the reserve, stretch by stretch
	Arrivals []float64   // hours from departure, one a leg
}

// LeftPoint is what is left at a moment.
type LeftPoint struct {
	Hours  float64 // from departure
	Amount Amount  // never below 0
}

// Floor is the reserve of one stretch.
type Floor struct {
	From, To float64 // hours from departure
	Amount   Amount
}

// Ends is the hour of the last point.
func (l Left) Ends() float64 {
	if len(l.Points) == 0 {
		return 0
	}
	return l.Points[len(l.Points)-1].Hours
}

// At is what is left at an hour: where it is filled up then, or used at once, before it is. It is not
// known before the first point and after the last.
func (l Left) At(hours float64) (left Amount, known bool) {
	for i, p := range l.Points {
		switch {
		case p.Hours == hours:
			return p.Amount, true
		case p.Hours > hours && i == 0:
			return 0, false
		case p.Hours > hours:
			from := l.Points[i-1]
			share := Amount((hours - from.Hours) / (p.Hours - from.Hours))
			return from.Amount + (p.Amount-from.Amount)*share, true
		}
	}
	return 0, false
}

// Touched are the moments at which the reserve is first touched and at which the last
// drop is gone, each at most once a stretch.
func (l Left) Touched() (reserve, nothing []LeftPoint) {
	for _, f := range l.Floor {
		if p, ok := l.falls(f, f.Amount); ok && f.Amount > 0 {
			reserve = append(reserve, p)
		}
		if p, ok := l.falls(f, 0); ok {
			nothing = append(nothing, p)
		}
	}
	return reserve, nothing
}

// falls is the moment of a stretch from which there is less than level, or for 0 the one
// at which there is nothing. What is just enough to its end is not touched.
func (l Left) falls(f Floor, level Amount) (LeftPoint, bool) {
	under := func(p LeftPoint) bool { return p.Amount < level-crumb || level == 0 && p.Amount <= 0 }
	for i, p := range l.Points {
		if p.Hours > f.To {
			break
		}
		filledUp := i+1 < len(l.Points) && l.Points[i+1].Hours == f.From
		if p.Hours < f.From || p.Hours == f.From && filledUp || !under(p) {
			continue
		}
		if i == 0 || p.Hours == f.From || level == 0 {
			return p, true
		}
		from := l.Points[i-1]
		if from.Amount <= level {
			return from, true
		}
		share := float64((from.Amount - level) / (from.Amount - p.Amount))
		return LeftPoint{from.Hours + (p.Hours-from.Hours)*share, level}, true
	}
	return LeftPoint{}, false
}

// left follows each thing along the slow and the expected case; where she cannot make
// it in the slow one, along those in which she can.
func (s Situation) left(r Reckoning) []Left {
	h := newHousehold(s.Boat, s.Plan)
	var courses []course
	for _, name := range r.shown() {
		courses = append(courses, h.follow(r.Cases[name].Voyage))
	}

	var list []Left
	for _, t := range passage.Things {
		resource, reckoned := r.Resources[t]
		if !reckoned || len(resource.Stretches) == 0 {
			continue
		}
		for _, c := range courses {
			list = append(list, s.leftOf(resource, c))
		}
	}
	return list
}

// shown are the cases of which it is told what is left.
func (r Reckoning) shown() []passage.CaseName {
	names := []passage.CaseName{passage.Slow, passage.Expected}
	if !r.Cases[passage.Slow].Voyage.Made() {
		names = passage.CaseNames[:]
	}
	return slices.DeleteFunc(slices.Clone(names), func(n passage.CaseName) bool {
		made, named := r.Cases[n]
		return !named || !made.Voyage.Made()
	})
}

// leftOf follows one thing along one course. At the last leg's end nothing is filled:
// the passage is over, and what is left then is what is asked.
func (s Situation) leftOf(resource Resource, c course) Left {
	t := resource.Thing
	f := trace{Left: Left{Thing: t, Case: c.voyage.Case}}
	for i, cut := range sections(s.Plan, t) {
		stretch := resource.Stretches[i]
		if i == 0 {
			f.fill(stretch.Available)
		} else {
			f.fill(s.boughtUp(stretch, t))
		}
		f.level(c, cut.first-1)
		p := c.part(cut)

		floor := Floor{From: f.hours, Amount: stretch.Reserve}
		for leg := cut.first; leg <= cut.last; leg++ {
			f.run(p, leg, passage.AtSea)
			f.Arrivals = append(f.Arrivals, f.hours)
			if leg < cut.last {
				f.run(p, leg, passage.Stay)
				f.run(p, leg, passage.Wait)
			}
		}
		floor.To = f.hours
		f.Floor = append(f.Floor, floor)
	}
	return f.Left
}

// boughtUp is what is aboard on leaving a place that gives t: full tanks, or food for
// the stretch with its reserve.
func (s Situation) boughtUp(stretch Stretch, t passage.Thing) Amount {
	if t == passage.Food {
		return stretch.Need + stretch.Reserve
	}
	return s.Boat.usable(t)
}

// trace is a Left that is being followed.
type trace struct {
	Left
	hours float64
	now   Amount
}

func (f *trace) point() {
	f.Points = append(f.Points, LeftPoint{f.hours, f.now})
}

// fill brings it up to an amount, or leaves it where there is more.
func (f *trace) fill(to Amount) {
	if len(f.Points) > 0 && to <= f.now {
		return
	}
	f.now = max(to, 0)
	f.point()
}

// level lets the stay and the wait pass after a leg whose end gives it.
func (f *trace) level(c course, leg int) {
	before := f.hours
	for _, span := range c.voyage.Spans {
		if span.Leg == leg && span.Kind != passage.AtSea {
			f.hours += span.Hours
		}
	}
	if f.hours > before {
		f.point()
	}
}

// run uses what a leg's spans of one kind use.
func (f *trace) run(p part, leg int, kind passage.SpanKind) {
	for i, span := range p.spans {
		if span.Leg != leg || span.Kind != kind {
			continue
		}
		if atOnce := Amount(p.onceAt(i).of(f.Thing)); atOnce > 0 {
			f.now = max(0, f.now-atOnce)
			f.point()
		}
		rate := p.uses[i].of(f.Thing)
		used := Amount(rate * span.Hours)
		if used > f.now && f.now > 0 {
			f.Points = append(f.Points, LeftPoint{f.hours + float64(f.now)/rate, 0})
		}
		f.hours += span.Hours
		f.now = max(0, f.now-used)
		f.point()
	}
}
