package checklist

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Stage is how far a passage has come.
type Stage string

// The stages of a passage.
const (
	StagePlanned     Stage = "planned"
	StageSigned      Stage = "signed"
	StageConditional Stage = "conditional" // signed; a repair is still to be proved under way
	StageUnderWay    Stage = "under way"
	StageArrived     Stage = "arrived" // and not closed yet
	StageClosed      Stage = "closed"  // and passage.toml still holds it
)

// Fix is the last that was told of where she is: at a noon, a change of plan, or the departure.
type Fix struct {
	At       time.Time
	Leg      int               // of the plan's legs, from 0
	To       string            // the end of the leg she is on
	ToGo     quantity.Distance // to there
	Position *passage.Position // nil: not told
	Other    bool              // she makes for a place that the plan does not name
	Told     bool              // false: nothing was told since the departure
}

// AsSailed is the definitions for what is left of the passage: under way the leg she is on
// from where she was last, and those after it, with nothing to be filled up before; lying at
// a stop, the legs from there. Applied twice it changes nothing more.
func (d Definitions) AsSailed(s State) Definitions {
	if d.sailed != nil || !s.isOf(d) {
		return d
	}
	whole := d.Plan
	d.sailed = &whole
	if d.underWay = s.Voyage.UnderWay(); d.underWay {
		return d.fromFix(s.fix(d))
	}
	return d.fromStop(s.stop(d))
}

// stop is the leg at whose end she came in; -1: the plan does not name the place.
func (s State) stop(d Definitions) (leg int, in ArriveState) {
	v, legs := s.Voyage, d.Plan.Legs
	left := max(0, legTo(legs, v.Depart.To, 0))
	return max(legTo(legs, v.Arrived.Place, left), legTo(legs, v.Arrived.Place, 0)), *v.Arrived
}

// isOf says that the last departure was on the passage that passage.toml holds, and not on
// an earlier one of the same name.
func (s State) isOf(d Definitions) bool {
	v := s.Voyage
	switch {
	case v == nil || v.Depart.Passage != d.Plan.Name || len(d.Plan.Legs) == 0:
		return false
	case v.UnderWay():
		return true
	}
	return !d.Plan.Depart.After(v.Arrived.Moment())
}

// legTo is the leg that ends at a place, from one on; -1: none does.
func legTo(legs []passage.Leg, place string, from int) int {
	for i := from; i < len(legs); i++ {
		if legs[i].To == place {
			return i
		}
	}
	return -1
}

// fix is where she was last.
func (s State) fix(d Definitions) Fix {
	v, legs := s.Voyage, d.Plan.Legs
	leg := max(0, legTo(legs, v.Depart.To, 0))
	f := Fix{At: v.Depart.At, Leg: leg, To: legs[leg].To, ToGo: legs[leg].Distance}
	if legs[leg].To != v.Depart.To && v.Depart.To != "" { // the plan was written anew since
		f.To, f.Other = v.Depart.To, true
	}
	noons, changes := v.Noons, v.Changes
	for len(noons)+len(changes) > 0 {
		if len(changes) == 0 || len(noons) > 0 && noons[0].Seq < changes[0].Seq {
			f.noon(noons[0], legs)
			noons = noons[1:]
			continue
		}
		f.change(changes[0], legs)
		changes = changes[1:]
	}
	return f
}

func (f *Fix) noon(n NoonState, legs []passage.Leg) {
	if n.ToGo <= 0 {
		return // a noon without miles moves nothing
	}
	f.head(n.To, legs)
	f.At, f.ToGo, f.Position, f.Told = n.At, quantity.Distance(n.ToGo), n.Position, true
}

func (f *Fix) change(c ChangeState, legs []passage.Leg) {
	if c.To == "" || c.ToGo <= 0 {
		return
	}
	f.head(c.To, legs)
	f.At, f.ToGo, f.Position, f.Told = c.At, quantity.Distance(c.ToGo), nil, true
}

// head is the place that she makes for; one the plan does not name is at the end of a leg
// that is sailed like the one she is on.
func (f *Fix) head(to string, legs []passage.Leg) {
	if to == "" {
		return
	}
	f.To = to
	i := max(legTo(legs, to, f.Leg), legTo(legs, to, 0)) // of two that end there the one ahead
	f.Other = i < 0
	if i >= 0 {
		f.Leg = i
	}
}

// fromFix is the plan from where she was last.
func (d Definitions) fromFix(f Fix) Definitions {
	legs := slices.Clone(d.Plan.Legs[f.Leg:])
	first := legs[0]
	done := first.Distance - f.ToGo
	if f.Other {
		first = passage.Leg{To: f.To, Sail: first.Sail, AsIs: first.AsIs, RPM: first.RPM, Power: first.Power, Current: 0, Home: first.Home}
		legs, done = legs[:1], 0
	}
	first.Distance = f.ToGo
	if f.Told {
		first.From = "at sea"
	}
	if end, known := first.End(); known {
		first.Position = &end
	}
	first.Route = nil
	if f.Position != nil && first.Position != nil {
		first.Route = []passage.Position{*f.Position, *first.Position}
	}
	first.Alternates = ahead(first.Alternates, done, func(a *passage.Alternate) *quantity.Distance { return &a.After })
	first.Decisions = ahead(first.Decisions, done, func(p *passage.Decision) *quantity.Distance { return &p.At })
	legs[0] = first
	d.Plan.Legs = legs
	d.Plan.Fill, d.Plan.Price = nil, nil
	d.Plan.Depart = f.At.In(d.Plan.Depart.Location())
	return d
}

// behind is the way back to where she left: the legs she sailed, and what she made of the one
// she is on. None where that is not known: she makes for a place that the plan does not name.
func (s State) behind(whole Definitions) []passage.Leg {
	f, legs := s.fix(whole), whole.Plan.Legs
	first := max(0, legTo(legs, s.Voyage.Depart.To, 0))
	if f.Other || f.Leg < first {
		return nil
	}
	way := slices.Clone(legs[first : f.Leg+1])
	this := &way[len(way)-1]
	this.Distance -= f.ToGo
	if this.Distance < 0 {
		return nil // set back beyond where the leg begins
	}
	return way
}

// ahead are the points of a leg that are not passed yet, from where she is.
func ahead[T any](points []T, done quantity.Distance, at func(*T) *quantity.Distance) []T {
	var left []T
	for _, p := range points {
		from := at(&p)
		if *from > done {
			*from -= max(0, done)
			left = append(left, p)
		}
	}
	return left
}

// fromStop is the plan from the stop at which she lies. Where she came in at its end, or at
// a place that it does not name, it stays whole.
func (d Definitions) fromStop(i int, a ArriveState) Definitions {
	if i < 0 || i == len(d.Plan.Legs)-1 {
		return d
	}
	stop := d.Plan.Legs[i]
	d.Plan.Legs = slices.Clone(d.Plan.Legs[i+1:])
	d.Plan.Fill, d.Plan.Price = stop.Fill, stop.Price
	d.Plan.Depart = a.Moment().Add(stop.Stay).In(d.Plan.Depart.Location())
	return d
}

// sailedAlready is why the plan is no plan any more: she came in at its end, or elsewhere.
func (g *gate) sailedAlready() {
	d, s := g.definitions.Whole(), g.state
	if !s.isOf(d) || s.Voyage.UnderWay() || d.Moved {
		return
	}
	i, in := s.stop(d)
	switch {
	case i >= 0 && i < len(d.Plan.Legs)-1:
		return // she lies at a stop, and the rest is the plan
	case i < 0 && d.Plan.Legs[0].From == in.Place:
		return // the plan was written anew from there
	}
	g.block(Blocker{
		Matter: MatterPlan, Name: d.Plan.Name, Title: "the passage is sailed", Takes: takesWriting,
		Why:    fmt.Sprintf("%s: she came in at %s on %s", d.Plan.Name, orElse(in.Place, "her berth"), d.moment(in.Moment())),
		Clears: "write the next passage in passage.toml, with its departure", Where: "at the chart table",
	})
}

// stage is how far the passage has come.
func (g *gate) stage() Stage {
	v, a := g.state.Voyage, g.assessment
	switch {
	case v.UnderWay():
		return StageUnderWay
	case v != nil && v.Closed == nil:
		return StageArrived
	case a.SignOff.InForce && a.isConditional():
		return StageConditional
	case a.SignOff.InForce:
		return StageSigned
	case g.state.isOf(g.definitions.Whole()) && !g.definitions.Moved:
		return StageClosed
	}
	return StagePlanned
}

// isConditional says that she may go, and that a repair is still to be proved under way.
func (a Assessment) isConditional() bool {
	return slices.ContainsFunc(a.Defects, func(v DefectView) bool { return v.State == DefectToProve && v.Proving.Conditional })
}

// proofsDue are the repairs that are still to be proved under way, the first deadline first;
// and while she is out those whose proof was missed or failed.
func (a Assessment) proofsDue() []DefectDue {
	var due []DefectDue
	for _, v := range a.Defects {
		for i, p := range v.Proofs {
			if p.At != machinery.ProofAtSea || i >= len(v.Proving.Outcomes) {
				continue
			}
			o := v.Proving.Outcomes[i]
			lost := o.Standing == machinery.ProofMissed || o.Standing == machinery.ProofFailed
			if o.Standing == machinery.ProofWaiting && v.State == DefectToProve || lost && a.situation.UnderWay {
				due = append(due, DefectDue{Defect: v.Seq, Title: v.Title(), Wants: p.Wants(a.Units), Deadline: o.Deadline, Else: p.Else, Missed: lost})
			}
		}
	}
	slices.SortStableFunc(due, func(a, b DefectDue) int { return a.Deadline.Compare(b.Deadline) })
	return due
}
