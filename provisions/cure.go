package provisions

import (
	"math"
	"slices"

	"boat/hoveshort/provisions/passage"
)

const (
	// cansATrip is how many cans one carries ashore and back at a time. Common practice, no source.
	cansATrip = 2

	// usualCan is the can of a boat that has none of her own, 20 L. Common practice, no source.
	usualCan = 20
)

// curesFor is what would make stretch i of t hold that is short in r, reckoned for the
// situation as it is: cheapest first, at most one of a kind, and none that would make
// any other stretch end worse. There are none where it is not short.
func (s Situation) curesFor(r Reckoning, t passage.Thing, i int) []Cure {
	if i < 0 || i >= len(r.Resources[t].Stretches) {
		return nil
	}
	b := newBasis(s, &r)
	at := slices.IndexFunc(b.failing, func(f failure) bool { return f.thing == t && f.index == i })
	if at < 0 {
		return nil
	}
	o := &outcome{
		change: &b.plain, reckoning: &r, closed: -1, last: len(s.Plan.Legs) - 1,
		failing: b.failing[at : at+1], made: b.courses(),
	}
	return b.cures(o, remedy{
		atRevs: func(b *basis) *outcome { return &outcome{failing: b.failing} },
		mayEnd: func(of passage.Thing, at int) Verdict {
			if of == t && at == i {
				return Holds
			}
			return r.Resources[of].Stretches[at].Verdict()
		},
	})
}

// curesOf is what would make the passage hold in a contingency. Where legs are not
// made nothing is known that would.
func (b *basis) curesOf(q question, o *outcome) []Cure {
	if len(o.unmade.legs) > 0 || len(o.failing) == 0 {
		return nil
	}
	return b.cures(o, remedy{
		galley: galley{fridgeDead: q.kind == FridgeDead, gasGone: q.kind == GasGone},
		atRevs: func(b *basis) *outcome { return b.ask(q) },
		mayEnd: func(passage.Thing, int) Verdict { return Holds },
	})
}

// remedy is how a cure is tried.
type remedy struct {
	galley galley
	atRevs func(*basis) *outcome            // the same with the passage at other revs
	mayEnd func(passage.Thing, int) Verdict // how a stretch may end with the cure
}

// cures tries each kind. One that makes good a single stretch is none where several
// fail, nor is one of a thing where others fail as well.
func (b *basis) cures(o *outcome, how remedy) []Cure {
	var list []Cure
	add := func(c Cure, cures bool) {
		if cures {
			list = append(list, c)
		}
	}
	f := o.worst()
	alone := len(o.failing) == 1
	if alone {
		add(o.loading(f, how.galley))
	}
	if o.failsOnly(passage.Fuel) {
		add(b.slowing(how))
	}
	if alone {
		add(o.stopping(f))
		add(o.carrying(f, b.plain.Boat))
	}
	if o.failsOnly(passage.Water) {
		add(b.rationing(o, how))
	}
	return list
}

func (o *outcome) failsOnly(t passage.Thing) bool {
	return !slices.ContainsFunc(o.failing, func(f failure) bool { return f.thing != t })
}

// with is the stretch with so much more to begin with. Need and reserve do not hang on that.
func (s Stretch) with(more Amount) Stretch {
	s.Available += more
	s.Short = short(s.Need, s.Reserve, s.Available)
	return s
}

// loading is more at the departure, as much as the tanks take.
func (o *outcome) loading(f *failure, g galley) (c Cure, cures bool) {
	if f.index > 0 || !o.change.Plan.Gives(f.thing) {
		return Cure{}, false
	}
	if f.thing == passage.Food {
		return o.buying(f, g)
	}

	// What was used since the soundings may be more than they count: that much of
	// what is loaded does not count either.
	tanks := o.change.hold(*o.reckoning, f.thing)
	l := Load{Left: f.stretch.Available}
	counts := tanks.load(&l, f.stretch.Short+tanks.over) - tanks.over
	c = Cure{Kind: CureLoad, Thing: f.thing, Amount: l.Amount, Place: f.stretch.From}
	return c, f.stretch.with(counts).Verdict() == Holds && o.staysFullest(l.Amount)
}

// staysFullest says that so much more water in the others makes none of them fuller
// than the lost tank: else that would be the one that is lost.
func (o *outcome) staysFullest(more Amount) bool {
	return o.lost == nil || o.noneHolds(o.lost.Counted, more)
}

// isLargest says that of full tanks the lost one holds most.
func (o *outcome) isLargest() bool {
	return o.lost == nil || o.noneHolds(o.lost.Tank.Capacity-o.lost.Tank.Unusable, Amount(math.Inf(1)))
}

// noneHolds says that no water tank left counts more than an amount once so much more
// is in it. One that is filled to the brim has no error any more.
func (o *outcome) noneHolds(than, more Amount) bool {
	return !slices.ContainsFunc(o.reckoning.Tanks, func(f TankFigures) bool {
		counts := f.Counted + more
		if f.Level+more >= f.Tank.Capacity*(1-fullWithin) {
			counts = f.Tank.Capacity - f.Tank.Unusable
		}
		return f.Tank.Holds == passage.Water && !f.Tank.Sealed && counts > than+crumb
	})
}

// carrying is cans beyond full tanks, filled where the stretch begins.
func (o *outcome) carrying(f *failure, boat Boat) (c Cure, cures bool) {
	first := f.index == 0
	if f.thing != passage.Water && f.thing != passage.Fuel || first && !o.change.Plan.Gives(f.thing) {
		return Cure{}, false
	}
	c = Cure{Kind: CureCans, Thing: f.thing, Amount: f.stretch.Short, Can: boat.can(f.thing)}
	if first {
		l := Load{Left: f.stretch.Available}
		o.change.hold(*o.reckoning, f.thing).load(&l, f.stretch.Short)
		c.Amount, c.Full = l.Lacks, l.Amount > 0
	} else {
		c.Place = f.stretch.From
	}
	if c.Amount <= 0 || c.Full && !o.isLargest() {
		return Cure{}, false
	}
	c.Cans = int(min(math.Ceil(float64((c.Amount-crumb)/c.Can)), math.MaxInt32))
	c.Trips = (c.Cans + cansATrip - 1) / cansATrip
	brings := f.stretch.Short - c.Amount + Amount(c.Cans)*c.Can
	return c, f.stretch.with(brings).Verdict() == Holds
}

// can is her own size of cans for t, the largest, or the usual one.
func (b Boat) can(t passage.Thing) Amount {
	var size Amount
	for _, tank := range b.Tanks {
		if tank.Holds == t && tank.Can && !tank.Sealed {
			size = max(size, tank.Capacity)
		}
	}
	if size <= 0 {
		return usualCan
	}
	return size
}

// stopping is the first place on the stretch that may give it, taken as one that does.
func (o *outcome) stopping(f *failure) (c Cure, cures bool) {
	for leg := f.section.first; leg < f.section.last; leg++ {
		if leg == o.closed || !mayGive(o.change.Plan.Legs[leg].Fill, f.thing) {
			continue
		}
		to := o.stretch(o.courses(), f.thing, section{f.section.first, leg}, f.index == 0)
		on := o.stretch(o.courses(), f.thing, section{leg + 1, f.section.last}, false)
		if to.Verdict() == Holds && on.Verdict() == Holds {
			return Cure{Kind: CureStop, Thing: f.thing, Place: to.To}, true
		}
	}
	return Cure{}, false
}

func mayGive(fill []passage.Giving, t passage.Thing) bool {
	return slices.Contains(fill, passage.Giving{Thing: t})
}

// slowing is the least slowing down of the engine, to one row of her curve for every
// leg: the fastest row under the revs as planned with which all else holds as well.
func (b *basis) slowing(how remedy) (c Cure, cures bool) {
	engine := b.plain.Boat.Engine
	if !engine.HasCurve() {
		return Cure{}, false
	}
	fastest, same := b.revs()
	for i := len(engine.Curve) - 1; i >= 0; i-- {
		rpm := engine.Curve[i].RPM
		if rpm >= fastest || !b.holdsAt(rpm, how) {
			continue
		}
		c = Cure{Kind: CureSlower, Thing: passage.Fuel, RPM: rpm}
		if same {
			c.Instead = fastest
		}
		return c, true
	}
	return Cure{}, false
}

// revs are those under engine as planned: the fastest of all legs, and whether all are the same.
func (b *basis) revs() (fastest int, same bool) {
	same = true
	for i := range b.plain.Plan.Legs {
		rpm := b.plain.Plan.Legs[i].RPM
		if rpm == 0 {
			rpm = b.plain.Boat.Engine.CruiseRPM
		}
		if limit := b.plain.Trim.RPMCap; limit > 0 {
			rpm = min(rpm, limit)
		}
		same = same && (i == 0 || rpm == fastest)
		fastest = max(fastest, rpm)
	}
	return fastest, same
}

// holdsAt asks the same of the passage with every leg at these revs.
func (b *basis) holdsAt(rpm int, how remedy) bool {
	at := b.atRevs(rpm)
	if len(unmadeSince(b.planned, at.reckoning).legs) > 0 {
		return false
	}
	o := how.atRevs(at)
	return len(o.unmade.legs) == 0 && !slices.ContainsFunc(o.failing, func(f failure) bool {
		return badness(f.verdict) > badness(how.mayEnd(f.thing, f.index))
	})
}

// atRevs is the passage with every leg at these revs. It is reckoned once.
func (b *basis) atRevs(rpm int) *basis {
	if at := b.slower[rpm]; at != nil {
		return at
	}
	s := b.plain.Situation
	s.Plan.Legs = slices.Clone(s.Plan.Legs)
	for i := range s.Plan.Legs {
		s.Plan.Legs[i].RPM = rpm
	}
	r := reckon(s.Boat, s.Plan, s.Aboard, run(s.Plan, s.Boat.Engine, b.reckoning.Depart, s.Trim), b.meals())
	at := newBasis(s, &r)
	at.planned = b.planned
	if b.slower == nil {
		b.slower = make(map[int]*basis)
	}
	b.slower[rpm] = at
	return at
}
