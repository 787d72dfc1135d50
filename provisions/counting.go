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
// the rations are eaten, soonest written date first, from what was known by then; a
// lot that is counted later was not eaten from before.
func (b Boat) StockOf(food string, crew int, counts []Counting) Stock {
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
	for _, c := range counts {
		if c.Whole {
			stock.Lots = f.countWhole(stock.Lots, c.Lot)
		} else {
			if !stock.Counted.IsZero() {
				f.eatFrom(stock.Lots, b.Rates.packsEaten(f, crew, c.At.Sub(stock.Counted)))
			}
			stock.Lots = countLot(stock.Lots, c.Lot)
		}
		stock.Counted = c.At
	}
	return stock
}

// packsEaten is how many packs of a food the rations take in a time.
func (r Rates) packsEaten(f Food, crew int, over time.Duration) float64 {
	if f.edible() <= 0 || over <= 0 {
		return 0
	}
	var each float64
	for _, ration := range r.Rations {
		if ration.Food == f.Name {
			each += grams(ration.Each)
		}
	}
	return each * float64(crew) * over.Hours() / dayHours / f.edible()
}

// eatFrom takes packs from the lots, soonest written date first, those without last.
func (f Food) eatFrom(lots []Lot, packs float64) {
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
	for _, i := range order {
		taken := min(packs, lots[i].Packs)
		lots[i].Packs -= taken
		packs -= taken
	}
}

func zeroLast(isZero bool) int {
	if isZero {
		return 1
	}
	return 0
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
	f.eatFrom(lots, known-counted.Packs)
	return slices.DeleteFunc(lots, func(l Lot) bool { return l.Packs <= 0 })
}

// countLot sets the lot of the same date and place, or adds it.
func countLot(lots []Lot, counted Lot) []Lot {
	at := slices.IndexFunc(lots, func(l Lot) bool {
		l.Packs = counted.Packs
		return l == counted
	})
	if at < 0 {
		return append(lots, counted)
	}
	lots[at] = counted
	return lots
}
