package provisions

import (
	"cmp"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Contingency is something that may go wrong.
type Contingency string

// The contingencies, in the order in which equals are told.
const (
	FullestTankLost Contingency = "fullest water tank lost"
	WatermakerDead  Contingency = "watermaker dead"
	NoWind          Contingency = "no wind"
	NoEngine        Contingency = "no engine"
	FifthSlower     Contingency = "a fifth slower"
	OneMoreAboard   Contingency = "one more aboard"
	NothingAt       Contingency = "nothing at"
	FridgeDead      Contingency = "fridge dead"
	GasGone         Contingency = "gas gone"
	DivertTo        Contingency = "divert to"
)

// WhatIf is the passage with one thing gone wrong, reckoned in full.
type WhatIf struct {
	Kind    Contingency
	Place   string // of NothingAt and DivertTo; of FullestTankLost the tank; else ""
	Leg     int    // of NothingAt the leg that ends there, of DivertTo the leg that is left; else -1
	Verdict Verdict
	Worse   bool // than the plan's own verdict

	// What fails, where it does not hold. Where a leg is no longer made Thing is "",
	// Unmade says which, and Day and At are zero.
	Thing    passage.Thing
	Unmade   []int
	Case     passage.CaseName  // the hard case of the stretch that fails, or the first in the fixed order that no longer makes the leg
	From, To string            // of the stretch that fails, or of the leg
	Day      int               // the n-th 24 h from departure on the hard case's clock; 0: none
	At       time.Time         // the moment at which it runs out, or the reserve is touched
	Miles    quantity.Distance // from where it runs out to the end of the stretch; 0 unless it runs out
	Missing  Amount            // of Thing: to the need where it runs out, with the reserve where that is touched
	Sealed   Amount            // of Thing in sealed cans: what is left then
	Rationed Amount            // of WatermakerDead: water a person and day from the departure on; 0: as planned

	// Cures are what would make it hold again, cheapest first, each reckoned; none
	// where it holds or nothing was found. Only reckoned where it is Worse.
	Cures []Cure
}

// Name is what it is called: "no engine", "nothing at Halfway Bay".
func (w WhatIf) Name() string {
	switch w.Kind {
	case NothingAt, DivertTo:
		return string(w.Kind) + " " + w.Place
	}
	return string(w.Kind)
}

// WhatIfs are all contingencies that make sense for her, worst first.
type WhatIfs struct {
	List    []WhatIf
	LeftOut []string // what was not asked and why, in words: "fullest water tank lost: there is one water tank alone"
}

// CureKind is what would help.
type CureKind string

// The cures, from what costs least to what costs most.
const (
	CureLoad   CureKind = "load"   // into the tanks there are, where the thing is had
	CureSlower CureKind = "slower" // the engine at other revs
	CureStop   CureKind = "stop"   // at a place on the way that may give it
	CureCans   CureKind = "cans"   // more than the tanks hold
	CureRation CureKind = "ration" // use less from a day on: of water, what must be drunk
)

// Cure is something that would make a shortage good; it was reckoned and does.
type Cure struct {
	Kind    CureKind
	Thing   passage.Thing
	Amount  Amount // Load and Cans: so much more, least; below the pick-ups included
	Keeps   string // Load: what sort of food alone helps, "needing no stove"; "": any
	Cans    int    // Cans: so many
	Can     Amount // Cans: of this size
	Full    bool   // Cans: and the tanks full, which they are not now
	Trips   int    // Cans: ashore and back, see cansATrip
	RPM     int    // Slower
	Instead int    // Slower: of these revs; 0: the legs have different ones
	From    int    // Ration: from this day on, the n-th 24 h from departure
	Each    Amount // Ration: per person and day, all told
	Place   string // Load and Cans: where, of Cans "" for the departure; Stop: the place
}

// WhatIfs reckons every contingency for the situation that r was reckoned for, worst
// first. There is none where no case makes every leg.
func (s Situation) WhatIfs(r Reckoning) WhatIfs {
	if r.Verdict == "" {
		return WhatIfs{}
	}
	b := newBasis(s, &r)
	questions, leftOut := b.questions()
	list := make([]WhatIf, 0, len(questions))
	for _, q := range questions {
		list = append(list, b.answer(q))
	}
	slices.SortStableFunc(list, worstFirst)
	return WhatIfs{List: list, LeftOut: leftOut}
}

// worstFirst orders by the verdict; then legs not made, then what fails earliest.
// Equals stay as they are: in the order of the contingencies.
func worstFirst(a, b WhatIf) int {
	return cmp.Or(
		cmp.Compare(badness(b.Verdict), badness(a.Verdict)),
		cmp.Compare(min(1, len(b.Unmade)), min(1, len(a.Unmade))),
		a.At.Truncate(time.Second).Compare(b.At.Truncate(time.Second)), // sums of hours miss by crumbs
	)
}

// answer is what becomes of her, and what would help.
func (b *basis) answer(q question) WhatIf {
	o := b.ask(q)
	w := WhatIf{Kind: q.kind, Place: q.place, Leg: q.leg, Verdict: Holds}
	if q.kind == WatermakerDead {
		w.Rationed = Amount(b.plain.Boat.Rates.Water.Rationed)
	}
	o.tell(&w)
	w.Worse = badness(w.Verdict) > badness(b.reckoning.Verdict)
	if w.Worse {
		w.Cures = b.curesOf(q, o)
	}
	return w
}

// tell fills in what fails, if anything does.
func (o *outcome) tell(w *WhatIf) {
	if len(o.unmade.legs) > 0 {
		leg := o.change.Plan.Legs[o.unmade.legs[0]]
		w.Verdict, w.Case, w.Unmade, w.From, w.To = RunsOut, o.unmade.name, o.unmade.legs, leg.From, leg.To
		return
	}
	f := o.worst()
	if f == nil {
		return
	}
	w.Verdict, w.Thing, w.Case, w.From, w.To = f.verdict, f.thing, f.stretch.Hard, f.stretch.From, f.stretch.To
	w.Day, w.At = f.day, after(o.reckoning.Depart, f.after)
	w.Missing = f.stretch.Short
	if f.verdict == RunsOut {
		w.Missing = f.stretch.Need - f.stretch.Available
		w.Miles = o.milesToGo(f)
	}
	w.Sealed = sealed(o.reckoning.Tanks, f.thing)
}

// sealed is what is in sealed cans of t.
func sealed(tanks []TankFigures, t passage.Thing) (sum Amount) {
	for _, f := range tanks {
		if f.Tank.Sealed && f.Tank.Holds == t {
			sum += max(0, f.Level-f.Error)
		}
	}
	return sum
}
