package provisions

import (
	"math"
	"sort"

	"boat/hoveshort/provisions/passage"
)

// buying is more food at the departure: the least whole days for all that feed them
// with the reserve to where it is bought again. It is eaten day by day like the rest,
// since what goes off and what is missing beside it decide how long it lasts.
func (o *outcome) buying(f *failure, g galley) (c Cure, cures bool) {
	crew := o.change.Plan.Crew
	if crew <= 0 {
		return Cure{}, false
	}
	wanted := math.Ceil(float64(f.stretch.Need+f.stretch.Reserve)/float64(crew) - crumb)
	if !(wanted <= longestEating) {
		return Cure{}, false
	}
	days, fed := int(wanted), o.change.meals.fed
	least := max(1, days-fed)
	more := least + sort.Search(days, func(beyond int) bool {
		return o.change.meals.larder.feedsWith(least+beyond, days, crew, g)
	})
	c = Cure{Kind: CureLoad, Thing: passage.Food, Amount: Amount(more * crew), Keeps: g.keeps(), Place: f.stretch.From}
	return c, more < least+days
}

// keeps is what food must be so that it is of use.
func (g galley) keeps() string {
	switch {
	case g.gasGone:
		return "needing no stove"
	case g.fridgeDead:
		return "keeping without a fridge"
	}
	return ""
}

// feedsWith says whether so many days are fed with the rations of some days more.
func (l *larder) feedsWith(more, days, crew int, g galley) bool {
	p := l.pantry(crew, g)
	if !p.bringRations(l.foods, float64(more), g) {
		return false
	}
	for day := range days {
		if !p.isFed(p.eat(day)) {
			return false
		}
	}
	return true
}

// bringRations brings the rations of so many days, of food that does not go off on
// the way and can be kept and eaten in such a galley: where that is only part of the
// rations, as much more of it. It is not ok where there is none.
func (p *pantry) bringRations(foods []Food, days float64, g galley) bool {
	isOfUse := make([]bool, len(p.portions))
	energy := 0.0
	for i, r := range p.portions {
		chilled := g.fridgeDead && p.isOnChilledShelf(foods, r.food)
		isOfUse[i] = !r.food.barred && !chilled
		if isOfUse[i] {
			energy += r.grams * r.food.density
		}
	}
	if energy <= 0 {
		return false
	}
	for i, r := range p.portions {
		if isOfUse[i] {
			r.food.batches = append(r.food.batches, batch{
				lot: &Lot{}, grams: r.grams * days * p.planned / energy, written: never, last: never,
			})
		}
	}
	return true
}

func (p *pantry) isOnChilledShelf(foods []Food, s *shelf) bool {
	for i := range foods {
		if &p.shelves[i] == s {
			return foods[i].Chilled
		}
	}
	return false
}
