package provisions

import (
	"cmp"
	"slices"
	"time"
)

// Counting is a count of a food: of one lot, or of all its lots together.
type Counting struct {
	At    time.Time
	Whole bool // of all lots together; then the lot's date and place say nothing
	Lot   Lot  // with the packs that are there
}

// StockOf applies counts, oldest first, to a food's opening lots. Between two counts
// the rations are eaten, soonest written date first, from what was known by then and
// had not gone off; a lot that is counted later was not eaten from before. The zone
// is that in which days are named: the departure's.
func (b Boat) StockOf(food string, crew int, counts []Counting, zone *time.Location) Stock {
	var stock Stock
	for _, l := range b.Lots {
		if l.Food == food {
			stock.Lots = append(stock.Lots, l)
		}
	}
	at := slices.IndexFunc(b.Foods, func(f Food) bool { return f.Name == food })
	if at < 0 {
		return stock
	}
	f := b.Foods[at]
	perHour := b.Rates.packsAnHour(f, crew)
	for _, c := range counts {
		if c.Whole {
			stock.Lots = f.countWhole(stock.Lots, c.Lot)
		} else {
			if !stock.Counted.IsZero() {
				f.eatBetween(stock.Lots, perHour, stock.Counted, c.At.In(zone))
			}
			stock.Lots = f.countLot(stock.Lots, c.Lot)
		}
		stock.Counted = c.At
	}
	return stock
}

// packsAnHour is how many packs of a food the rations take in an hour.
func (r Rates) packsAnHour(f Food, crew int) float64 {
	if f.edible() <= 0 {
		return 0
	}
	var each float64
	for _, ration := range r.Rations {
		if ration.Food == f.Name {
			each += grams(ration.Each)
		}
	}
	return each * float64(crew) / dayHours / f.edible()
}

// eatBetween takes packs from the lots at a steady rate, in the order in which they
// are eaten, of each to the end of its last day.
func (f Food) eatBetween(lots []Lot, perHour float64, from, to time.Time) {
	if perHour <= 0 {
		return
	}
	for _, i := range f.inOrder(lots) {
		lots[i].Packs, from = eatDown(lots[i].Packs, perHour, from, to, f.End(lots[i]))
	}
}

// eatDown eats of a lot at a steady rate from one moment to another, or to the end
// of its last day in the zone of to: what is left, and when the next lot is begun.
func eatDown(held, perHour float64, from, to time.Time, end DateEnd) (left float64, next time.Time) {
	if !end.Last.IsZero() {
		to = earlier(to, end.Last.End(to.Location()))
	}
	eaten := min(held, perHour*hoursBetween(from, to))
	return held - eaten, from.Add(time.Duration(eaten / perHour * float64(time.Hour)))
}

func earlier(a, b time.Time) time.Time {
	if b.Before(a) {
		return b
	}
	return a
}

// inOrder are the lots as they are eaten: soonest written date first, those without last.
func (f Food) inOrder(lots []Lot) []int {
	order := make([]int, len(lots))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := f.End(lots[a]).Written, f.End(lots[b]).Written
		if x.IsZero() || y.IsZero() {
			return cmp.Compare(zeroLast(x.IsZero()), zeroLast(y.IsZero()))
		}
		return x.Compare(y)
	})
	return order
}

func zeroLast(isZero bool) int {
	if isZero {
		return 1
	}
	return 0
}

// takeFrom takes packs from the lots in the order in which they are eaten.
func (f Food) takeFrom(lots []Lot, packs float64) {
	for _, i := range f.inOrder(lots) {
		taken := min(packs, lots[i].Packs)
		lots[i].Packs -= taken
		packs -= taken
	}
}

// countWhole makes the lots add up to what was counted: what is missing was eaten,
// soonest date first; what is more than was known has no date.
func (f Food) countWhole(lots []Lot, counted Lot) []Lot {
	var known float64
	for _, l := range lots {
		known += l.Packs
	}
	if counted.Packs > known {
		return append(lots, Lot{Food: counted.Food, Packs: counted.Packs - known})
	}
	f.takeFrom(lots, known-counted.Packs)
	return slices.DeleteFunc(lots, func(l Lot) bool { return l.Packs <= 0 })
}

// countLot sets the lot of the same date and place, or adds it. A count that leaves out
// the place or the date is of the lots which it fits: of one alone, or of several
// together as in countWhole; else the same packs would be there twice.
func (f Food) countLot(lots []Lot, counted Lot) []Lot {
	if at := slices.IndexFunc(lots, counted.isLot); at >= 0 {
		lots[at] = counted
		return lots
	}
	var (
		fitting []int
		known   float64
	)
	for _, i := range f.inOrder(lots) {
		if counted.fits(lots[i]) {
			fitting = append(fitting, i)
			known += lots[i].Packs
		}
	}
	if len(fitting) == 1 {
		lots[fitting[0]].Packs = counted.Packs
		return lots
	}
	for _, i := range fitting {
		taken := min(lots[i].Packs, max(0, known-counted.Packs))
		lots[i].Packs -= taken
		known -= taken
	}
	if counted.Packs > known {
		counted.Packs -= known
		lots = append(lots, counted)
	}
	return lots
}

// isLot says whether it is the same lot, whatever is left of it.
func (l Lot) isLot(of Lot) bool {
	of.Packs = l.Packs
	return l == of
}

// fits says whether a lot has all that l tells of its own date and place.
func (l Lot) fits(of Lot) bool {
	return (l.BestBefore.IsZero() || l.BestBefore == of.BestBefore) &&
		(l.UseBy.IsZero() || l.UseBy == of.UseBy) &&
		(l.Bought.IsZero() || l.Bought == of.Bought) &&
		(l.Place == "" || l.Place == of.Place)
}
