package provisions

import (
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
)

const (
	// calmHours is how long there is no wind, at sea: five days.
	calmHours = 5 * dayHours

	// fifthLess is what a fifth slower leaves of a speed.
	fifthLess = 0.8
)

// change is the passage with something gone wrong.
type change struct {
	Situation
	voyages []passage.Voyage // in the cases' fixed order
	meals   meals
	ignored passage.Thing // not judged; "": all are
}

// courses are those of the cases that make every leg.
func (c *change) courses() []course {
	h := newHousehold(c.Boat, c.Plan)
	made := make([]course, 0, len(c.voyages))
	for _, v := range c.voyages {
		if f := h.follow(v); f.voyage.Made() {
			made = append(made, f)
		}
	}
	return made
}

// change is what goes wrong, and nothing else. feed says how they eat then.
func (b *basis) change(q question, feed func(crew int, g galley) meals) change {
	c := b.plain
	switch q.kind {
	case FullestTankLost:
		c.Boat.Tanks = slices.Delete(slices.Clone(c.Boat.Tanks), q.tank, q.tank+1)
	case WatermakerDead:
		c.Boat = c.Boat.WithoutWatermaker()
	case NoWind:
		c.ignored = passage.Fuel
		c.voyages = b.becalmed()
	case NoEngine:
		c.ignored = passage.Fuel
		// Without charging, and with no time under engine, what she drives makes nothing.
		c.Boat.Engine.Charging = 0
		c.Plan = bent(c.Plan, func(k passage.Case) passage.Case { k.Power = 0; return k })
		c.voyages = b.sail(c)
	case FifthSlower:
		c.Plan = bent(c.Plan, func(k passage.Case) passage.Case {
			k.Speed *= fifthLess
			k.Motor *= fifthLess
			return k
		})
		c.voyages = b.sail(c)
	case OneMoreAboard:
		c.Plan.Crew++
		c.meals = feed(c.Plan.Crew, galley{})
	case NothingAt:
		c.Plan.Legs = slices.Clone(c.Plan.Legs)
		c.Plan.Legs[q.leg].Fill = nil
	case FridgeDead:
		c.meals = feed(c.Plan.Crew, galley{fridgeDead: true})
	case GasGone:
		c.ignored = passage.Gas
		c.meals = feed(c.Plan.Crew, galley{gasGone: true})
	case DivertTo:
		c.Plan.Legs = slices.Clone(c.Plan.Legs[:q.leg+1])
		leg := &c.Plan.Legs[q.leg]
		to := leg.Alternates[q.alternate]
		leg.To, leg.Distance, leg.Fill = to.Name, to.After+to.Distance, nil
		c.voyages = b.sail(c)
	}
	return c
}

// sail runs the changed plan.
func (b *basis) sail(c change) []passage.Voyage {
	return run(c.Plan, c.Boat.Engine, b.reckoning.Depart, b.plain.Trim)
}

// bent is the plan with every case bent.
func bent(plan passage.Plan, bend func(passage.Case) passage.Case) passage.Plan {
	cases := make(map[passage.CaseName]passage.Case, len(plan.Cases))
	for name, c := range plan.Cases {
		cases[name] = bend(c)
	}
	plan.Cases = cases
	return plan
}

// becalmed are the voyages without wind for the first days at sea: under engine
// until the fuel less its reserve is gone, then adrift, then on as planned.
func (b *basis) becalmed() []passage.Voyage {
	budgets := make([]float64, 0, 4)
	for _, s := range b.reckoning.Resources[passage.Fuel].Stretches {
		budgets = append(budgets, float64(max(0, s.Available-s.Reserve)))
	}
	house := newHousehold(b.plain.Boat, b.plain.Plan)
	list := make([]passage.Voyage, 0, len(b.plain.voyages))
	for _, v := range b.plain.voyages {
		c := calm{
			plan: &b.plain.Plan, trim: b.plain.Trim, house: house,
			budgets: b.lessOnce(budgets, house.follow(v)), left: calmHours, out: passage.Voyage{Case: v.Case, Depart: v.Depart},
		}
		if v.Made() {
			v = c.bend(v)
		}
		list = append(list, v)
	}
	return list
}

// lessOnce are the budgets of fuel, a stretch each, less its one-off uses: they are kept
// for what they are planned for.
func (b *basis) lessOnce(budgets []float64, c course) []float64 {
	if len(c.planned) == 0 {
		return budgets
	}
	cuts := b.cuts[slices.Index(passage.Things[:], passage.Fuel)]
	kept := slices.Clone(budgets)
	for i := range min(len(kept), len(cuts)) {
		kept[i] = max(0, kept[i]-c.part(cuts[i]).usedOnce(passage.Fuel))
	}
	return kept
}

// calm bends one voyage.
type calm struct {
	plan    *passage.Plan
	trim    passage.Trim
	house   household
	budgets []float64 // of fuel, a stretch each: what there is less the reserve

	fuel float64 // that may still be used
	left float64 // hours at sea without wind still to come
	out  passage.Voyage
}

func (c *calm) bend(v passage.Voyage) passage.Voyage {
	c.out.Spans = make([]passage.Span, 0, len(v.Spans)+8)
	c.out.Arrivals = make([]time.Time, 0, len(c.plan.Legs))
	c.fillUp()
	spans := v.Spans
	for leg := range c.plan.Legs {
		for len(spans) > 0 && spans[0].Leg == leg && spans[0].Kind == passage.AtSea {
			c.sail(spans[0])
			spans = spans[1:]
		}
		c.out.Arrivals = append(c.out.Arrivals, after(c.out.Depart, c.out.Hours))
		toppedUp := leg < len(c.plan.Legs)-1 && c.plan.Legs[leg].Gives(passage.Fuel)
		if toppedUp {
			c.fillUp()
		}
		for len(spans) > 0 && spans[0].Leg == leg {
			c.lie(spans[0], toppedUp)
			spans = spans[1:]
		}
	}
	return c.out
}

// fillUp is a new stretch.
func (c *calm) fillUp() {
	c.fuel = 0
	if len(c.budgets) > 0 {
		c.fuel, c.budgets = c.budgets[0], c.budgets[1:]
	}
}

// lie is a stay or a wait; where fuel is given she is topped up before she leaves.
func (c *calm) lie(s passage.Span, toppedUp bool) {
	c.add(s)
	if !toppedUp {
		c.fuel -= c.house.atAnchor().fuel * s.Hours
	}
}

// sail is a span under way: what the calm leaves of it is sailed as planned.
func (c *calm) sail(s passage.Span) {
	miles := s.Speed * s.Hours
	if c.left > 0 {
		miles = c.motor(s, miles)
	}
	if miles > 0 && c.left > 0 {
		c.add(passage.Span{Kind: passage.AtSea, Leg: s.Leg, Hours: c.left})
		c.left = 0
	}
	if miles > 0 {
		s.Hours = miles / s.Speed
		c.add(s)
	}
}

// motor takes her along under engine alone, and gives the miles that are left. It
// ends with the leg, the calm or the fuel. Where the engine makes no way of its own,
// or nobody knows what it burns, she does not move.
func (c *calm) motor(s passage.Span, miles float64) (left float64) {
	bent := c.plan.Cases[c.out.Case]
	bent.Power = 1
	made, makesWay := c.plan.Legs[s.Leg].MadeGood(c.house.engine, bent, c.trim)
	under := passage.Span{Kind: passage.AtSea, Leg: s.Leg, Power: made.Power, RPM: made.RPM, Speed: float64(made.Speed)}
	use, known := c.house.in(under)
	if !makesWay || !known || c.fuel <= 0 {
		return miles
	}

	arrives := miles / under.Speed
	under.Hours = min(arrives, c.left)
	if use.fuel*under.Hours > c.fuel {
		under.Hours = c.fuel / use.fuel
		c.fuel = 0
	} else {
		c.fuel -= use.fuel * under.Hours
	}
	c.left -= under.Hours
	c.add(under)
	if under.Hours == arrives {
		return 0
	}
	return miles - under.Hours*under.Speed
}

// add appends a span that begins where the last one ended.
func (c *calm) add(s passage.Span) {
	s.Start = after(c.out.Depart, c.out.Hours)
	c.out.Spans = append(c.out.Spans, s)
	c.out.Hours += s.Hours
}

// after is the moment so many hours after another; what a duration cannot hold is its longest.
func after(t time.Time, hours float64) time.Time {
	ns := math.Round(hours * float64(time.Hour))
	if ns >= math.MaxInt64 {
		return t.Add(math.MaxInt64)
	}
	return t.Add(time.Duration(ns))
}
