package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// fullWithin is the share of the capacity by which float sums may miss the brim.
const fullWithin = 1e-9

// figures is the tank as it stands now. A level that the tank cannot hold or
// turn into an amount counts as nothing, and Problem says why.
func (t Tank) figures(h Held) TankFigures {
	f := TankFigures{Tank: t, Held: h}
	level, err := t.AmountAt(h.Level)
	if err != nil {
		f.Problem = err
		return f
	}
	f.Level = min(max(0, level+h.Added), t.Capacity)
	f.Error = t.errorAt(f.Level, h.Level.Kind)
	if !t.Sealed {
		f.Counted = max(0, f.Level-f.Error-t.Unusable)
	}
	return f
}

// errorAt is what the level may be out by. A level equal to the capacity is
// filled to the brim and has no error, also when a fill brought it there.
func (t Tank) errorAt(level Amount, kind LevelKind) Amount {
	if level >= t.Capacity*(1-fullWithin) {
		return 0
	}
	return Amount(t.ErrorOf(kind)) * t.Capacity
}

// ErrorOf is the share of its capacity by which a level told in this way may be out, where it
// is not at the brim.
func (t Tank) ErrorOf(kind LevelKind) quantity.Share {
	if kind == ByDip {
		return t.DipError
	}
	return t.GaugeError
}

// Counted is what may be planned on of a level that the tank was found at: less what the
// reading may be out by, and less what lies below the pick-up. A level it cannot have is nothing.
func (t Tank) Counted(l Level) Amount { return t.figures(Held{Level: l}).Counted }

// usable is what the unsealed tanks of t hold above their pick-ups when full.
func (b Boat) usable(t passage.Thing) Amount {
	var sum Amount
	for _, tank := range b.Tanks {
		if tank.Holds == t && !tank.Sealed {
			sum += max(0, tank.Capacity-tank.Unusable)
		}
	}
	return sum
}

// tankFigures are all tanks in file order.
func (b Boat) tankFigures(a Aboard) []TankFigures {
	figures := make([]TankFigures, len(b.Tanks))
	for i, tank := range b.Tanks {
		held, told := a.Tanks[tank.Name]
		if !told {
			held = Held{Level: tank.Level}
		}
		figures[i] = tank.figures(held)
	}
	return figures
}

// available is what may be planned on at departure: what the unsealed tanks
// count, less what is used from the sounding to the departure.
func (h household) available(t passage.Thing, tanks []TankFigures, a Aboard, depart time.Time) Amount {
	var counted Amount
	for _, f := range tanks {
		if f.Tank.Holds == t && !f.Tank.Sealed {
			counted += f.Counted
		}
	}
	return max(0, counted-h.usedSinceSounding(t, tanks, a, depart))
}

// usedSinceSounding is what is used of t from the sounding to the departure. Where
// tanks were sounded at different times it is from the earliest on: on the safe side.
// An opening level is one as of departure.
func (h household) usedSinceSounding(t passage.Thing, tanks []TankFigures, a Aboard, depart time.Time) Amount {
	if a.spent != nil {
		return a.spent[t]
	}
	earliest := earliestSounding(t, tanks)
	if earliest.IsZero() {
		return 0
	}
	return h.usedBetween(t, a.Meter, earliest, depart)
}

// earliestSounding is that of the unsealed tanks of t; zero: none was sounded.
func earliestSounding(t passage.Thing, tanks []TankFigures) (earliest time.Time) {
	for _, f := range tanks {
		at := f.Held.At
		if f.Tank.Holds == t && !f.Tank.Sealed && !at.IsZero() && (earliest.IsZero() || at.Before(earliest)) {
			earliest = at
		}
	}
	return earliest
}

// AsUsed is the situation in which what is used before the departure is settled: by
// those who live aboard as it is. Whatever is changed of it begins with the departure.
func (s Situation) AsUsed() Situation {
	return s.asUsed(s.Boat.tankFigures(s.Aboard), departure(s.Plan, s.Now))
}

func (s Situation) asUsed(tanks []TankFigures, depart time.Time) Situation {
	h := newHousehold(s.Boat, s.Plan)
	spent := make(map[passage.Thing]Amount, len(tanked))
	for _, t := range tanked {
		spent[t] = h.usedSinceSounding(t, tanks, s.Aboard, depart)
	}
	s.Aboard.spent = spent
	return s
}

// usedBetween is what is used of t from a sounding to the departure: water and
// gas at their daily rate at anchor, fuel as fuelBetween says.
func (h household) usedBetween(t passage.Thing, meter []Meter, from, to time.Time) Amount {
	if t == passage.Fuel {
		return h.fuelBetween(meter, from, to)
	}
	return Amount(h.atAnchor().of(t) * hoursBetween(from, to))
}

// fuelBetween is the fuel burnt at cruise revs for the hours which the
// hour-meter ran, as far as it was read, and by charging for the time after the
// last reading; the heater burns all the time. A meter that was never read
// before is taken from the opening hours, which can only count too much; one
// that ran backwards is not known.
func (h household) fuelBetween(meter []Meter, from, to time.Time) Amount {
	charging := h.chargingBurn * h.charging / dayHours
	heater := h.heater / dayHours * hoursBetween(from, to)

	ran, until, known := h.meterBetween(meter, from, to)
	burn, _, ok := h.engine.BurnAt(h.engine.CruiseRPM)
	if !known || !ok {
		return Amount(charging*hoursBetween(from, to) + heater)
	}
	return Amount(ran*float64(burn) + charging*hoursBetween(until, to) + heater)
}

// meterBetween is how many hours the meter ran from before from until its last reading.
func (h household) meterBetween(meter []Meter, from, to time.Time) (ran float64, until time.Time, known bool) {
	begin := h.engine.Hours
	var last Meter
	for _, m := range meter {
		switch {
		case !m.At.After(from):
			begin = m.Hours
		case !m.At.After(to):
			last, known = m, true
		}
	}
	ran = last.Hours - begin
	return ran, last.At, known && ran >= 0
}

// hoursBetween is never negative.
func hoursBetween(from, to time.Time) float64 {
	return max(0, to.Sub(from).Hours())
}
