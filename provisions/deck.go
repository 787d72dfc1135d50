package provisions

import (
	"cmp"
	"slices"

	"boat/hoveshort/provisions/passage"
)

// refill is a tank as it may be filled to the brim at the departure.
type refill struct {
	tank    Tank
	held    Amount // surely in it: level less what gauge or dip may be out by
	counted Amount // of it, above the pick-up
	used    Amount // its part of what was used since the sounding
}

// usable is what counts of it when it is full.
func (r refill) usable() Amount { return r.tank.Capacity - r.tank.Unusable }

// gains is what a filling to the brim adds to what counts. It takes the gauge's
// error away too: that much more counts than is poured by the gauge.
func (r refill) gains() Amount { return r.usable() - r.counted }

// below is what must be poured before any of it counts; where it stands above its pick-up, not above 0.
func (r refill) below() Amount { return r.tank.Unusable - r.held }

// takes is the most that goes in.
func (r refill) takes() Amount { return r.tank.Capacity - r.held + r.used }

func (r refill) filling() Filling {
	return Filling{Tank: r.tank.Name, Can: r.tank.Can, Holds: r.tank.Capacity, Takes: r.takes()}
}

// refills are the unsealed tanks of t of which anything can count, in file order.
func refills(tanks []TankFigures, t passage.Thing) (list []refill) {
	for _, f := range tanks {
		if f.Tank.Holds == t && !f.Tank.Sealed && f.Tank.Capacity-f.Tank.Unusable >= crumb {
			list = append(list, refill{tank: f.Tank, held: max(0, f.Level-f.Error), counted: f.Counted})
		}
	}
	return list
}

// hold is where a thing goes along the passage. A tank that stands below its
// pick-up must be filled to there before any of it counts, and is that only once.
type hold struct {
	tanks []refill // all, as at the departure
	open  Amount   // usable of the tanks that stand at their pick-up or above
	low   []refill // the tanks that do not
	over  Amount   // by how much the use since the soundings is more than what they count
}

func (s Situation) hold(r Reckoning, t passage.Thing) *hold {
	h := &hold{tanks: refills(r.Tanks, t)}
	h.draw(s.usedSinceSounding(r, t))
	for _, tank := range h.tanks {
		if tank.below() < crumb {
			h.open += tank.usable()
		} else {
			h.low = append(h.low, tank)
		}
	}
	return h
}

// usedSinceSounding is what is used of t from the earliest sounding of a tank of
// it to the departure, as in what is available then.
func (s Situation) usedSinceSounding(r Reckoning, t passage.Thing) Amount {
	return newHousehold(s.Boat, s.Plan).usedSinceSounding(t, r.Tanks, s.Aboard, r.Depart)
}

// draw takes what was used out of the tanks in parts as they count.
func (h *hold) draw(used Amount) {
	var counted Amount
	for _, tank := range h.tanks {
		counted += tank.counted
	}
	h.over = max(0, used-counted)
	for i := range h.tanks {
		if counted > 0 {
			h.tanks[i].used = min(used, counted) * h.tanks[i].counted / counted
		}
	}
}

// load fills in how much of what is missing goes in beside what is left, and
// says how much of it counts.
func (h *hold) load(l *Load, missing Amount) (counts Amount) {
	room, below := h.open-l.Left, Amount(0)
	for _, tank := range h.low {
		room += tank.usable()
		below += tank.below()
	}
	room = max(0, room)

	for _, tank := range h.tanks {
		if !tank.tank.Can {
			l.Fixed++
		}
	}
	counts = min(missing, room)
	l.Room = room + below
	l.Lacks = short(missing, 0, room)
	l.Full = missing > 0 && missing >= room-crumb
	if counts > 0 {
		l.Amount = counts + h.lift(counts-(h.open-l.Left))
	}
	return counts
}

// lift brings so many tanks above their pick-ups that beyond, which the others
// cannot take, has room, and says what that costs: the least there is.
func (h *hold) lift(beyond Amount) (below Amount) {
	if beyond <= crumb {
		return 0
	}
	pieces := make([]piece, len(h.low))
	for i, tank := range h.low {
		pieces[i] = piece{gains: tank.usable(), cost: cost{tank.below(), 1, -tank.usable()}}
	}
	lifted := cover(pieces, beyond)

	kept := h.low[:0:0]
	for i, tank := range h.low {
		if slices.Contains(lifted, i) {
			below += tank.below()
			h.open += tank.usable()
		} else {
			kept = append(kept, tank)
		}
	}
	h.low = kept
	return below
}

// deck is which tanks to fill to the brim so that at least counts more counts:
// cans last, for they are carried by hand, then few, then those that take least.
// Nobody knows which tank gave what was used since the soundings, nor whether one
// that seems empty gave more than it counted. So as long as one of them is not
// filled, all of it stays taken off.
func (h *hold) deck(counts Amount) []Filling {
	if counts <= 0 {
		return nil
	}
	var (
		open   []refill
		pieces []piece
	)
	for _, tank := range h.tanks {
		if tank.takes() < crumb {
			continue
		}
		open = append(open, tank)
		p := piece{gains: tank.gains(), cost: cost{0, 1, tank.takes()}}
		if tank.tank.Can {
			p.cost[0] = 1
		}
		pieces = append(pieces, p)
	}

	list := make([]Filling, 0, len(open))
	for _, i := range cover(pieces, counts+h.over) {
		list = append(list, open[i].filling())
	}
	return list
}

// piece is something that adds to a sum and costs something.
type piece struct {
	gains Amount
	cost  cost
}

// cost is compared from its first figure to its last; none but the last may be negative.
type cost [3]Amount

func (c cost) plus(d cost) cost {
	for i := range c {
		c[i] += d[i]
	}
	return c
}

func (c cost) isUnder(d cost) bool {
	for i := range c {
		if c[i] < d[i]-crumb || c[i] > d[i]+crumb {
			return c[i] < d[i]
		}
	}
	return false
}

// mostSteps is how long a covering is looked for. It is enough to try every
// choice of 14 pieces that are all different, and of far more that are alike.
const mostSteps = 1 << 15

// cover is the cheapest choice of pieces that adds up to want, in rising order;
// all of them where they do not reach it. With more different pieces than
// mostSteps allows for it is the cheapest that was found by then: the search
// begins with the biggest of the cheapest kind, so that it is one with few.
func cover(pieces []piece, want Amount) []int {
	order := make([]int, len(pieces))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		a, b := pieces[i], pieces[j]
		return cmp.Or(cmp.Compare(a.cost[0], b.cost[0]), cmp.Compare(b.gains, a.gains), cmp.Compare(a.cost[2], b.cost[2]))
	})

	s := covering{steps: mostSteps, pieces: make([]piece, len(order)), rest: make([]Amount, len(order)+1)}
	for i := len(order) - 1; i >= 0; i-- {
		s.pieces[i] = pieces[order[i]]
		s.rest[i] = s.rest[i+1] + s.pieces[i].gains
	}
	s.from(0, want, cost{})
	if !s.found {
		slices.Sort(order)
		return order
	}

	chosen := make([]int, 0, len(s.best))
	for _, i := range s.best {
		chosen = append(chosen, order[i])
	}
	slices.Sort(chosen)
	return chosen
}

// covering is the search: a piece is taken or left. Where it is left so are those
// after it that bring the same, for they cost no less.
type covering struct {
	pieces []piece
	rest   []Amount // what the pieces from here on add up to
	steps  int

	taken []int
	best  []int
	least cost
	found bool
}

func (s *covering) from(i int, want Amount, so cost) {
	switch {
	case s.steps <= 0 || s.found && !so.isUnder(s.least):
		return
	case want <= crumb:
		s.found, s.best, s.least = true, slices.Clone(s.taken), so
		return
	case i == len(s.pieces) || s.rest[i] < want-crumb:
		return
	}
	s.steps--

	s.taken = append(s.taken, i)
	s.from(i+1, want-s.pieces[i].gains, so.plus(s.pieces[i].cost))
	s.taken = s.taken[:len(s.taken)-1]

	next := i + 1
	for next < len(s.pieces) && s.pieces[next].gains == s.pieces[i].gains {
		next++
	}
	s.from(next, want, so)
}
