package checklist

import (
	"slices"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// WayChart is what is left of a thing from the departure on: as it was promised, as it was
// sounded, and as it goes on from where she was last. Hours are from the departure.
type WayChart struct {
	Depart  time.Time
	Planned []provisions.LeftPoint // the hard case as it was frozen; none: not frozen, or bought on the way
	Facts   []provisions.LeftPoint // what could be counted on when all of its tanks were sounded
	Left    []provisions.Left
}

// WayChart puts what is left from now on beside what was promised and what was found; ok is
// false while she is not under way.
func (a Assessment) WayChart(t passage.Thing, left []provisions.Left) (c WayChart, ok bool) {
	w := a.Way
	if w == nil || !a.situation.UnderWay {
		return WayChart{}, false
	}
	c = WayChart{Depart: w.Voyage.Depart.At, Planned: planned(w.Voyage.Depart.Depart, t), Facts: w.Facts[t]}
	since := a.Reckoning.Depart.Sub(c.Depart).Hours()
	for _, l := range left {
		if l.Thing == t {
			c.Left = append(c.Left, shifted(l, since))
		}
	}
	return c, true
}

// planned is the first stretch of a thing as it was frozen on leaving.
func planned(d Depart, t passage.Thing) []provisions.LeftPoint {
	i := slices.IndexFunc(d.Resources, func(r SignedResource) bool { return r.What == string(t) })
	if i < 0 || d.Resources[i].Bought {
		return nil
	}
	r := d.Resources[i]
	days := r.Endurance - r.Margin // how long the stretch was to take
	if r.Endurance < 0 || r.Margin == -1 || days <= 0 {
		return nil
	}
	return []provisions.LeftPoint{
		{Hours: 0, Amount: provisions.Amount(r.Available)},
		{Hours: days * 24, Amount: provisions.Amount(max(0, r.Available-r.Need))},
	}
}

func shifted(l provisions.Left, hours float64) provisions.Left {
	l.Points, l.Floor, l.Arrivals = slices.Clone(l.Points), slices.Clone(l.Floor), slices.Clone(l.Arrivals)
	for i := range l.Points {
		l.Points[i].Hours += hours
	}
	for i := range l.Floor {
		l.Floor[i].From += hours
		l.Floor[i].To += hours
	}
	for i := range l.Arrivals {
		l.Arrivals[i] += hours
	}
	return l
}

// facts are what could be counted on of a thing each time that all of its tanks were sounded
// since she left.
func (g *gate) facts(t passage.Thing, left time.Time) []provisions.LeftPoint {
	tanks := g.definitions.planned(t)
	if len(tanks) == 0 {
		return nil
	}
	var points []provisions.LeftPoint
	for _, round := range g.state.soundedRounds(tanks) {
		if round.at.Before(left) || round.at.After(g.now) {
			continue
		}
		var sum provisions.Amount
		for i, tank := range tanks {
			level, err := provisions.ParseLevel(g.state.Tanks[tank.Name].History[round.in[i]].Level, tank.Holds)
			if err == nil {
				sum += tank.Counted(level)
			}
		}
		points = append(points, provisions.LeftPoint{Hours: round.at.Sub(left).Hours(), Amount: sum})
	}
	return points
}

// planned are the tanks of a thing that are planned on.
func (d Definitions) planned(t passage.Thing) []provisions.Tank {
	var tanks []provisions.Tank
	for _, tank := range d.Boat.Tanks {
		if tank.Holds == t && !tank.Sealed {
			tanks = append(tanks, tank)
		}
	}
	return tanks
}
