package provisions

import (
	"slices"
	"time"
)

// LotsAt are the lots of a food as they are at a moment: as counted, less what the rations
// took since. Opening stock that was never counted is as of departure: nothing is taken off.
// The moment's zone is that in which days are named.
func (s Situation) LotsAt(food string, at time.Time) []Lot {
	stock, counted := s.Aboard.Stock[food]
	lots := slices.Clone(stock.Lots)
	if !counted {
		lots = openingOf(s.Boat.Lots, food)
	}
	i := slices.IndexFunc(s.Boat.Foods, func(f Food) bool { return f.Name == food })
	if i < 0 || stock.Counted.IsZero() {
		return lots
	}
	f := s.Boat.Foods[i]
	f.eatBetween(lots, s.Boat.Rates.packsAnHour(f, s.Plan.Crew), stock.Counted, at)
	return lots
}

func openingOf(all []Lot, food string) []Lot {
	var lots []Lot
	for _, l := range all {
		if l.Food == food {
			lots = append(lots, l)
		}
	}
	return lots
}

// ConsumableAt is how much of a consumable is there at a moment, in its own unit: as counted,
// less what was used since by its rates, not below 0. One that was never counted is as of departure.
func (s Situation) ConsumableAt(c Consumable, at time.Time) float64 {
	counted, told := s.Aboard.Consumables[c.Name]
	if !told {
		return c.Aboard
	}
	return max(0, counted.Amount-c.usedBetween(newHousehold(s.Boat, s.Plan), s.Aboard.Meter, counted.At, at))
}

// InOrder are lots of this food as they are eaten: soonest written date first, those without
// one last. Of equal dates the order is kept.
func (f Food) InOrder(lots []Lot) []Lot {
	ordered := make([]Lot, 0, len(lots))
	for _, i := range f.inOrder(lots) {
		ordered = append(ordered, lots[i])
	}
	return ordered
}

// IsLot says whether it is the same lot: of the same food, date and place, whatever is left of it.
func (l Lot) IsLot(of Lot) bool { return l.isLot(of) }

// Fits says whether a lot has all that l tells of its own date and place.
func (l Lot) Fits(of Lot) bool { return l.fits(of) }

// StowPlace is where more of a food would be stowed: its own place where the file names one,
// else that of most of its packs, and where none is left, of the opening stock; "": not known.
func (s Situation) StowPlace(f Food, at time.Time) string {
	if f.Place != "" {
		return f.Place
	}
	if place := mostLie(s.LotsAt(f.Name, at)); place != "" {
		return place
	}
	return mostLie(openingOf(s.Boat.Lots, f.Name))
}

func mostLie(lots []Lot) string {
	packs := map[string]float64{}
	place := ""
	for _, l := range lots {
		packs[l.Place] += l.Packs
		if l.Place != "" && (place == "" || packs[l.Place] > packs[place]) {
			place = l.Place
		}
	}
	return place
}
