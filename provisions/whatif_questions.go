package provisions

import (
	"fmt"
	"slices"

	"boat/hoveshort/provisions/passage"
)

// question is a contingency that makes sense for her.
type question struct {
	kind      Contingency
	place     string // as it is told
	leg       int    // of NothingAt and DivertTo; else -1
	tank      int    // of FullestTankLost, in file order
	alternate int    // of DivertTo, among the leg's
}

// questions are all that make sense, in the order of the contingencies, and in
// words what was left out.
func (b *basis) questions() (list []question, leftOut []string) {
	list = make([]question, 0, 16)
	ask := func(k Contingency, makesSense bool) {
		if makesSense {
			list = append(list, question{kind: k, leg: -1})
		}
	}

	if lost, why := b.fullestTank(); why == "" {
		list = append(list, lost)
	} else {
		leftOut = append(leftOut, string(FullestTankLost)+": "+why)
	}
	foods := b.plain.Boat.Foods
	isEaten := b.meals().counted
	ask(WatermakerDead, b.plain.Boat.Watermaker != nil)
	ask(NoWind, true)
	ask(NoEngine, true)
	ask(FifthSlower, true)
	ask(OneMoreAboard, true)
	list = append(list, b.stops()...)
	ask(FridgeDead, isEaten && slices.ContainsFunc(foods, func(f Food) bool { return f.Chilled }))
	ask(GasGone, isEaten && slices.ContainsFunc(foods, func(f Food) bool { return f.Cook }))
	return append(list, b.diversions()...), leftOut
}

// fullestTank is the unsealed water tank that is counted on most, of equals the first.
func (b *basis) fullestTank() (q question, why string) {
	q = question{kind: FullestTankLost, leg: -1, tank: -1}
	count := 0
	for i := range b.reckoning.Tanks {
		f := &b.reckoning.Tanks[i]
		if f.Tank.Holds != passage.Water || f.Tank.Sealed {
			continue
		}
		count++
		if q.tank < 0 || f.Counted > b.reckoning.Tanks[q.tank].Counted {
			q.tank, q.place = i, f.Tank.Name
		}
	}
	switch count {
	case 0:
		return q, "there is no water tank"
	case 1:
		return q, "there is one water tank alone"
	}
	return q, ""
}

// stops are those that surely give something. At the last leg's end she is there.
func (b *basis) stops() []question {
	var list []question
	legs := b.plain.Plan.Legs
	for i := range len(legs) - 1 {
		if slices.ContainsFunc(legs[i].Fill, func(g passage.Giving) bool { return g.Sure }) {
			list = append(list, question{kind: NothingAt, place: legs[i].To, leg: i})
		}
	}
	tellApart(list)
	return list
}

// diversions are the alternates of every leg.
func (b *basis) diversions() []question {
	var list []question
	for i := range b.plain.Plan.Legs {
		for j, a := range b.plain.Plan.Legs[i].Alternates {
			list = append(list, question{kind: DivertTo, place: a.Name, leg: i, alternate: j})
		}
	}
	tellApart(list)
	return list
}

// tellApart adds the leg to places of the same name, and to those of one leg which of them it is.
func tellApart(list []question) {
	if len(list) < 2 {
		return
	}
	type onLeg struct {
		place string
		leg   int
	}
	times, here, so := make(map[string]int, len(list)), make(map[onLeg]int), make(map[onLeg]int)
	for _, q := range list {
		times[q.place]++
		here[onLeg{q.place, q.leg}]++
	}
	for i := range list {
		q := &list[i]
		at := onLeg{q.place, q.leg}
		so[at]++
		switch {
		case here[at] > 1:
			q.place = fmt.Sprintf("%s (leg %d, no. %d)", at.place, at.leg+1, so[at])
		case times[at.place] > 1:
			q.place = fmt.Sprintf("%s (leg %d)", at.place, at.leg+1)
		}
	}
}
