package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// TurnState is how a leg stands to the last moment for turning back.
type TurnState string

// The states.
const (
	TurnOnLeg  TurnState = "on this leg"      // After and At say where
	TurnBeyond TurnState = "none on this leg" // she can turn back all along it
	TurnPassed TurnState = "passed before"    // it lies on an earlier leg, or she cannot go back even from its beginning
	TurnNoWay  TurnState = "no way home"      // she makes no way back on this leg, or on one between it and that place
)

// Turning is the last moment on a leg at which going back to the last place that
// gives a thing still ends with the reserve whole.
type Turning struct {
	Leg   int
	Thing passage.Thing
	Case  passage.CaseName // the hard case of the stretch
	To    string           // the place to go back to
	State TurnState
	After quantity.Distance // from the leg's beginning; this and the next two where State is TurnOnLeg, else zero
	At    time.Time         // in the hard case
	Back  float64           // hours that going back from there takes
	Guess bool              // no `home` is given for a leg on the way back: half the speed under sail and the case's share under engine
}

// OnOrBack is the point of a leg from which going on and going back to its beginning take the same time.
type OnOrBack struct {
	Leg    int
	Case   passage.CaseName // the slow case where it makes every leg, else the first that does
	Known  bool             // false: she makes no way home
	To     string           // back there: the leg's beginning, or under way where she left
	Passed bool             // under way: on is the shorter in time already
	After  quantity.Distance
	At     time.Time
	Out    quantity.Speed // made good, on and back
	Home   quantity.Speed
	Guess  bool // no `home` is given: half the speed under sail and the case's share under engine
}

// turning is the last moment for turning back, leg by leg and thing by thing in the
// fixed order. Food that is bought on the way has none: how much is bought is not known.
func (s Situation) turning(r Reckoning) []Turning {
	h := newHousehold(s.Boat, s.Plan)
	courses := make(map[passage.CaseName]course, len(passage.CaseNames))
	for name, f := range r.Cases {
		courses[name] = h.follow(f.Voyage)
	}

	var list []Turning
	for leg := range s.Plan.Legs {
		for _, t := range passage.Things {
			stretch, cut, ok := s.stretchOf(r, t, leg)
			if !ok || stretch.Bought {
				continue
			}
			if cut.first == 0 && s.hasNoWayBack() {
				continue
			}
			back := s.goingBack(h, courses[stretch.Hard], cut, leg)
			turn := back.turn(t, stretch)
			if cut.first == 0 && len(s.Behind) > 0 {
				turn.To = s.Behind[0].From
			}
			list = append(list, turn)
		}
	}
	return list
}

// stretchOf is the stretch of t that a leg lies on.
func (s Situation) stretchOf(r Reckoning, t passage.Thing, leg int) (Stretch, section, bool) {
	stretches := r.Resources[t].Stretches
	for i, cut := range sections(s.Plan, t) {
		if i < len(stretches) && leg <= cut.last {
			return stretches[i], cut, true
		}
	}
	return Stretch{}, section{}, false
}

// bothWays is a leg sailed out and home in one case.
type bothWays struct {
	distance  float64 // nautical miles
	out, home float64 // knots made good; 0: she makes no way
	uses      use     // an hour on the way out
	usesHome  use     // an hour on the way home
	guess     bool    // home is guessed
}

// goingBack is a leg of a voyage with what lies between it and the place to go back to.
type goingBack struct {
	leg    int
	this   bothWays
	behind []bothWays // the legs from that place to this leg's beginning
	done   part       // the way from there, stays and waits on it included
	begins time.Time  // this leg
	once   []milestone
}

// milestone is what is used once when she is so many miles out on the leg.
type milestone struct {
	miles float64
	use   once
}

// goingBack is a leg of a course and the way behind it to the beginning of the section.
func (s Situation) goingBack(h household, c course, cut section, leg int) goingBack {
	g := goingBack{
		leg:    leg,
		this:   s.bothWays(h, c.voyage.Case, s.Plan.Legs[leg]),
		begins: c.voyage.Depart,
	}
	way := c.part(cut)
	g.done = way.before(leg)
	g.once = way.milestones(leg, g.this.out)
	if cut.first == 0 {
		for _, sailed := range s.Behind {
			g.behind = append(g.behind, s.bothWays(h, c.voyage.Case, sailed))
		}
	}
	for i := cut.first; i < leg; i++ {
		g.behind = append(g.behind, s.bothWays(h, c.voyage.Case, s.Plan.Legs[i]))
	}
	for _, span := range c.voyage.Spans {
		if span.Leg < leg {
			g.begins = span.End()
		}
	}
	return g
}

// before is the piece of the part that lies before a leg begins.
func (p part) before(leg int) part {
	for i, span := range p.spans {
		if span.Leg >= leg {
			b := part{spans: p.spans[:i], uses: p.uses[:i]}
			if p.once != nil {
				b.once = p.once[:i]
			}
			return b
		}
	}
	return p
}

// milestones are the one-off uses on a leg that is sailed at so many knots.
func (p part) milestones(leg int, knots float64) (list []milestone) {
	hours := 0.0
	for i, span := range p.spans {
		if span.Leg != leg || span.Kind != passage.AtSea {
			continue
		}
		if o := p.onceAt(i); o != (once{}) {
			list = append(list, milestone{hours * knots, o})
		}
		hours += span.Hours
	}
	return list
}

// bothWays is one leg in a case. A way on which it is not known what she burns is none.
func (s Situation) bothWays(h household, name passage.CaseName, l passage.Leg) bothWays {
	c := s.Plan.Cases[name]
	w := bothWays{distance: float64(l.Distance), guess: l.HomeIsGuessed()}
	w.out, w.uses = h.under(l.MadeGood(h.engine, c, s.Trim))
	w.home, w.usesHome = h.under(l.MadeGoodHome(h.engine, c, s.Trim))
	return w
}

// under is how fast she goes and what is used an hour at sea; 0 where she makes no way,
// or it is not known what she burns.
func (h household) under(made passage.MadeGood, ok bool) (knots float64, u use) {
	if !ok {
		return 0, use{}
	}
	u, ok = h.in(passage.Span{Kind: passage.AtSea, Power: made.Power, RPM: made.RPM})
	if !ok {
		return 0, use{}
	}
	return float64(made.Speed), u
}

// turn is the last moment for turning back on the leg.
//
// What may be used up, B, is what is available at the stretch's beginning less its
// reserve, less what was used from there to the leg's beginning and what going home
// from it uses. With the speeds made good O out and H home and the uses an hour u and v,
// x miles out and home use x*(u/O + v/H), so that x = B/(u/O + v/H). Source: the point
// of no return for unequal burn, notes of a retired air force navigator; with u = v and
// B = u*E it is the published x = E*O*H/(O+H), reached after t = E*H/(O+H).
//
// Going home takes no stays, and the same household lives aboard. A one-off use counts
// once she has gone on beyond where it is planned; going home she does without.
func (g goingBack) turn(t passage.Thing, stretch Stretch) Turning {
	out := Turning{Leg: g.leg, Thing: t, Case: stretch.Hard, To: stretch.From, Guess: g.isGuess()}
	if !g.canReturn() {
		out.State = TurnNoWay
		return out
	}

	used, _ := g.done.need(t)
	budget := float64(stretch.Available-stretch.Reserve) - used - g.homeUse(t)
	if budget < -crumb {
		out.State = TurnPassed
		return out
	}
	budget = max(0, budget)

	miles, beyond := g.farthest(t, budget)
	if beyond {
		out.State = TurnBeyond
		return out
	}

	out.State = TurnOnLeg
	out.After = quantity.Distance(miles)
	out.At = g.at(miles)
	out.Back = g.homeHours() + miles/g.this.home
	return out
}

// aMile is what a mile out and home uses.
func (g goingBack) aMile(t passage.Thing) float64 {
	return g.this.uses.of(t)/g.this.out + g.this.usesHome.of(t)/g.this.home
}

// farthest is how many miles out on the leg she may go with so much for out and back, the
// one-off uses on the way taken off it; beyond: farther than its end.
func (g goingBack) farthest(t passage.Thing, budget float64) (miles float64, beyond bool) {
	passed, stops := g.passed(t, budget)
	if stops {
		return passed[len(passed)-1].miles, false
	}
	for _, m := range passed {
		budget -= m.use.of(t)
	}
	aMile := g.aMile(t)
	if aMile <= 0 || budget > aMile*g.this.distance {
		return 0, true
	}
	return budget / aMile, false
}

// passed are the one-off uses of t that she goes beyond. Where the last of them is more
// than is left there she turns before it: it stops her.
func (g goingBack) passed(t passage.Thing, budget float64) (list []milestone, stops bool) {
	aMile := g.aMile(t)
	for _, m := range g.once {
		amount := m.use.of(t)
		switch {
		case amount <= 0:
			continue
		case budget < aMile*m.miles:
			return list, false
		case budget-amount < aMile*m.miles-crumb:
			return append(list, m), true
		}
		list = append(list, m)
		budget -= amount
	}
	return list, false
}

// at is when she is so many miles out on the leg.
func (g goingBack) at(miles float64) time.Time {
	return g.begins.Add(time.Duration(miles / g.this.out * float64(time.Hour)))
}

// canReturn says whether she makes way home along all of it.
func (g goingBack) canReturn() bool {
	for _, w := range g.behind {
		if w.home <= 0 {
			return false
		}
	}
	return g.this.home > 0 && g.this.out > 0
}

func (g goingBack) isGuess() bool {
	for _, w := range g.behind {
		if w.guess {
			return true
		}
	}
	return g.this.guess
}

// homeHours is how long going home from the leg's beginning takes.
func (g goingBack) homeHours() float64 {
	sum := 0.0
	for _, w := range g.behind {
		sum += w.distance / w.home
	}
	return sum
}

// homeUse is what that uses of t.
func (g goingBack) homeUse(t passage.Thing) float64 {
	sum := 0.0
	for _, w := range g.behind {
		sum += w.distance / w.home * w.usesHome.of(t)
	}
	return sum
}

// onOrBack is for each leg the point from which on and back take the same time:
// x = D*H/(O+H). Source: CASA (Australia) AC 91-15 v1.2, Annex B. Under way, B hours from
// where she left by the way home, it is (D/O - B)/(1/O + 1/H) from here.
func (s Situation) onOrBack(r Reckoning) []OnOrBack {
	v, ok := r.slowest()
	if !ok {
		return nil
	}
	h := newHousehold(s.Boat, s.Plan)
	c := h.follow(v)
	list := make([]OnOrBack, 0, len(s.Plan.Legs))
	for leg := range s.Plan.Legs {
		if leg == 0 && s.hasNoWayBack() {
			continue
		}
		g := s.goingBack(h, c, section{leg, leg}, leg)
		p := OnOrBack{Leg: leg, Case: v.Case, To: s.Plan.Legs[leg].From, Out: quantity.Speed(g.this.out), Guess: g.this.guess}
		if leg == 0 && len(s.Behind) > 0 {
			p.To = s.Behind[0].From
		}
		if g.canReturn() {
			p.Known, p.Home = true, quantity.Speed(g.this.home)
			miles := (g.this.distance/g.this.out - g.homeHours()) / (1/g.this.out + 1/g.this.home)
			p.Passed = miles < 0
			p.After, p.At = quantity.Distance(max(0, miles)), g.at(max(0, miles))
		}
		list = append(list, p)
	}
	return list
}

// slowest is the first voyage in the fixed order of the cases, which begins with the
// slow one, that makes every leg.
func (r Reckoning) slowest() (passage.Voyage, bool) {
	for _, name := range passage.CaseNames {
		if f, ok := r.Cases[name]; ok && f.Voyage.Made() {
			return f.Voyage, true
		}
	}
	return passage.Voyage{}, false
}

// hasNoWayBack says that she is under way and it is not known what lies behind her.
func (s Situation) hasNoWayBack() bool { return s.UnderWay && len(s.Behind) == 0 }
