package checklist

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// StockLine is a lot of a food as it lies there now, or a consumable.
type StockLine struct {
	Lot        provisions.Lot // the packs that are there now; of a consumable the amount, in its unit
	Unit       string         // of a consumable; "" for packs of a food
	Ends       provisions.DateEnd
	Fresh      Freshness
	Wasted     float64   // packs that go off before they are eaten on the passage
	Counted    time.Time // when this very lot was last counted; zero: never, or by a doubtful clock
	Consumable bool
}

// Freshness is what a lot's dates say of it today.
type Freshness string

// What they say, the worst first.
const (
	GoneOff Freshness = "gone off"
	Older   Freshness = "older: look and smell"
	Soon    Freshness = "this week"
	Keeps   Freshness = "keeps"
	NoEnd   Freshness = "no date"
)

// soonDays is how many days ahead food is to be eaten first: a week, today included.
const soonDays = 7

func freshness(end provisions.DateEnd, today quantity.Date) Freshness {
	switch {
	case end.Last.IsZero():
		return NoEnd
	case end.Last.Before(today):
		return GoneOff
	case end.Written.Before(today):
		return Older
	case today.DaysUntil(end.Written) < soonDays:
		return Soon
	}
	return Keeps
}

// Stock is all food and every consumable as it is now, lot by lot in the order of the files;
// lots of which nothing is left are there as long as somebody counted them today.
func Stock(d Definitions, s State, a Assessment) []StockLine {
	now := a.Now.In(d.Plan.Depart.Location())
	today := quantity.DateOf(now)
	var lines []StockLine
	for _, food := range d.Boat.Foods {
		for _, lot := range a.situation.LotsAt(food.Name, now) {
			line := StockLine{Lot: lot, Ends: food.End(lot), Wasted: a.wasted(lot), Counted: s.countedLot(lot)}
			line.Fresh = freshness(line.Ends, today)
			if lot.Packs > 0 || now.Sub(line.Counted).Abs() < takenWithin {
				lines = append(lines, line)
			}
		}
	}
	for _, c := range d.Boat.Consumables {
		lines = append(lines, StockLine{
			Lot:  provisions.Lot{Food: c.Name, Packs: a.situation.ConsumableAt(c, now)},
			Unit: cmp.Or(c.Unit, "pieces"), Fresh: NoEnd, Counted: s.countedLot(provisions.Lot{Food: c.Name}), Consumable: true,
		})
	}
	return lines
}

// wasted is what goes off of a lot before it is eaten, as the reckoning has it.
func (a Assessment) wasted(lot provisions.Lot) float64 {
	for _, f := range a.Reckoning.Stock {
		if f.Lot.IsLot(lot) {
			return f.Wasted
		}
	}
	return 0
}

// countedLot is when a lot was counted last, by itself or with all lots of its food. What was
// bought, used or thrown away was counted by that: the packs were in somebody's hands.
func (s State) countedLot(lot provisions.Lot) time.Time {
	of := countOf(lot)
	for _, c := range slices.Backward(s.Counts[lot.Food]) {
		if !c.Doubtful && (c.IsWhole() || c.SameLot(of)) {
			return c.At
		}
	}
	return time.Time{}
}

// countOf is a count of that lot.
func countOf(l provisions.Lot) Count {
	return Count{Food: l.Food, Packs: l.Packs, BestBefore: l.BestBefore, UseBy: l.UseBy, Bought: l.Bought, Place: l.Place}
}

// EatFirst is the food that is to be eaten or looked at within the week, what goes off uneaten
// on the passage included, soonest first. What has gone off heads it: it does not count any more.
func EatFirst(stock []StockLine) []StockLine {
	var list []StockLine
	for _, l := range stock {
		if !l.Consumable && l.Lot.Packs > 0 && (l.Fresh == GoneOff || l.Fresh == Older || l.Fresh == Soon || l.Wasted >= leastWaste) {
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b StockLine) int { return a.Ends.Last.Compare(b.Ends.Last) })
	return list
}

// leastWaste is how many packs must go off for it to be told.
const leastWaste = 0.1

// takenWithin is how old a count may be to belong to the stock-taking that is under way.
const takenWithin = 24 * time.Hour

// StockPlace is a place and what should lie there.
type StockPlace struct {
	Place string // "": none is written
	Lines []StockLine
}

// StockTaking is what is to be counted, place by place in the order of their names, what has
// no place last: a walk along the lockers.
func StockTaking(stock []StockLine) []StockPlace {
	var places []StockPlace
	for _, line := range stock {
		at := slices.IndexFunc(places, func(p StockPlace) bool { return p.Place == line.Lot.Place })
		if at < 0 {
			at = len(places)
			places = append(places, StockPlace{Place: line.Lot.Place})
		}
		places[at].Lines = append(places[at].Lines, line)
	}
	slices.SortStableFunc(places, func(a, b StockPlace) int {
		if (a.Place == "") != (b.Place == "") {
			return cmp.Compare(len(b.Place), len(a.Place))
		}
		return strings.Compare(a.Place, b.Place)
	})
	return places
}

// IsTaken says whether the line was counted in the stock-taking that is under way.
func (l StockLine) IsTaken(now time.Time) bool {
	age := now.Sub(l.Counted)
	return !l.Counted.IsZero() && age >= 0 && age < takenWithin
}

// Count is a count of the line's lot, with so many packs.
func (l StockLine) Count(packs float64) Count {
	c := countOf(l.Lot)
	c.Packs = packs
	return c
}
