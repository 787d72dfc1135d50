package provisions

import (
	"cmp"
	"math"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

const (
	// coarsest is the part of a food's packs, one in so many, that is tried to go
	// at once. Ours, by trial: larger parts mostly fail, smaller ones are many.
	coarsest = 16

	// mostPacks is how many packs of a food are bought at most.
	mostPacks = math.MaxInt32
)

// Purchase is one food on the shopping list.
type Purchase struct {
	Food   string
	Packs  int
	Weight quantity.Mass
	Price  float64 // of all packs; 0 where no price is given
	Priced bool
	Until  quantity.Date // the day until which it keeps if bought at departure; zero: no end known
	Warm   quantity.Date // of chilled food: the day until which it keeps with the fridge dead from departure; zero: not chilled
	Place  string        // where it would be stowed; "": not known
	Energy quantity.Energy
}

// Shopping is the list for the food that is missing to the first place that gives it again.
type Shopping struct {
	Days      int        // that the rations are wanted for, reserve included
	Purchases []Purchase // in file order of the foods; none where what is aboard is enough
	Weight    quantity.Mass
	Price     float64
	Energy    quantity.Energy // of what is bought
	Daily     quantity.Energy // what the rations add up to, per person and day
	Wanted    quantity.Energy // per person and day
	Unpriced  []string        // foods on the list that have no price
	Short     int             // days that still are not fed because nothing on the list keeps so long; 0: none
}

// Shopping is the shopping list; ok is false where the departure does not give
// food, food is not reckoned, or no case makes every leg.
//
// It is bought on the departure's date and eaten by the rules by which all food
// is. No pack of it can be left out without a day that is not fed. Only foods of
// the rations are on it; where none of them keeps long enough, also what is eaten
// instead of one. A food without energy is never on it: no day hangs on it.
func (s Situation) Shopping(r Reckoning) (list Shopping, ok bool) {
	first, ok := r.Resources[passage.Food].First()
	if !ok || !s.Plan.Gives(passage.Food) {
		return Shopping{}, false
	}
	list.Days = first.daysToFeed(s.Plan.Crew)
	list.Daily, list.Wanted = s.Boat.Rates.DailyEnergy(s.Boat.Foods), s.Boat.Rates.Energy
	if first.Short == 0 {
		return list, true
	}

	shop := s.shop(r.Depart, list.Days)
	cart := shop.fill()
	list.Short = list.Days - cart.fed
	for i, n := range cart.packs {
		if n > 0 {
			list.add(s.Boat.Foods[i], n, shop.today, s.StowPlace(s.Boat.Foods[i], r.Depart))
		}
	}
	return list, true
}

// daysToFeed is how many whole days must be fed for the stretch with its reserve whole.
func (s Stretch) daysToFeed(crew int) int {
	days := math.Ceil(float64(s.Need+s.Reserve-crumb) / float64(max(1, crew)))
	return int(min(max(0, days), longestEating))
}

func (list *Shopping) add(f Food, packs int, bought quantity.Date, place string) {
	p := Purchase{
		Food:   f.Name,
		Packs:  packs,
		Weight: quantity.Mass(packs) * f.Pack,
		Price:  float64(packs) * f.Price,
		Priced: f.Price > 0,
		Place:  place,
		Energy: quantity.Energy(packs) * f.PackEnergy(),
	}
	if f.Chilled {
		p.Warm = f.KeepsWarm.AfterDate(bought)
	}
	if !f.Keeps.IsZero() {
		p.Until = f.Keeps.AfterDate(bought)
	}
	if !p.Priced {
		list.Unpriced = append(list.Unpriced, f.Name)
	}
	list.Weight += p.Weight
	list.Energy += p.Energy
	list.Price += p.Price
	list.Purchases = append(list.Purchases, p)
}

// shop tries what may be bought by eating it, beside what is aboard.
type shop struct {
	foods  []Food
	larder *larder // what is aboard
	crew   int
	today  quantity.Date
	days   int // to be fed
}

func (s Situation) shop(depart time.Time, days int) shop {
	return shop{
		foods: s.Boat.Foods, larder: lay(s.Boat, s.Aboard, s.Plan.Crew, depart), crew: s.Plan.Crew,
		today: quantity.DateOf(depart), days: days,
	}
}

// cart is what is bought, by food in file order.
type cart struct {
	packs []int
	fed   int       // days it feeds, with what is aboard
	eaten []float64 // packs that were eaten of it while there was plenty
}

// fill is the cart that feeds most days with least.
func (s shop) fill() cart {
	rations, standIns := s.onSale()
	c := s.plenty(rations)
	if c.fed < s.days {
		if with := s.plenty(standIns); with.fed > c.fed {
			c = with
		}
	}
	s.trim(&c)
	return c
}

// onSale says of each food whether it is of the rations, and whether it is that
// or eaten instead of one.
func (s shop) onSale() (rations, standIns []bool) {
	p := s.pantry()
	rations, standIns = make([]bool, len(p.shelves)), make([]bool, len(p.shelves))
	for i := range p.shelves {
		shelf := &p.shelves[i]
		if shelf.edible < crumb || shelf.density < crumb {
			continue
		}
		for _, portion := range p.portions {
			rations[i] = rations[i] || portion.food == shelf && portion.grams > 0
			standIns[i] = standIns[i] || rations[i] || portion.instead == shelf
		}
	}
	return rations, standIns
}

// plenty buys more of every food on sale than can be eaten, and keeps the whole
// packs that were begun. So each ration gets what it lacks day by day, what keeps
// too short is only bought for the days it keeps, and what stands in for it then
// is bought in its place. Eating that gives the same days: no lot runs out sooner.
func (s shop) plenty(onSale []bool) cart {
	c := cart{packs: make([]int, len(onSale)), eaten: make([]float64, len(onSale))}
	p := s.pantry()
	bought := make([]float64, len(onSale))
	for i := range onSale {
		if onSale[i] {
			bought[i] = min(mostPacks, math.Ceil(p.mostOf(&p.shelves[i])*float64(s.days)/p.shelves[i].edible)+1)
		}
	}

	lots := p.bring(s.foods, bought, s.today)
	c.fed = p.feeds(s.days)
	for i := range onSale {
		if onSale[i] {
			c.eaten[i] = bought[i] - p.shelves[i].left(&lots[i])/p.shelves[i].edible
			c.packs[i] = int(math.Ceil(c.eaten[i]))
		}
	}
	return c
}

// trim takes out packs as long as the same days are fed, in turns over the foods
// so that none is cut to nothing for the others: first where most money lies in
// what is left over of the packs begun, or where a price is missing most weight.
// A food is done with when not one more pack can go; less of another does not change that.
func (s shop) trim(c *cart) {
	step := make([]int, len(c.packs))
	for i, n := range c.packs {
		step[i] = (n + coarsest - 1) / coarsest
	}
	order := s.bySurplus(c)
	for open := true; open; {
		open = false
		for _, i := range order {
			step[i] = min(step[i], c.packs[i])
			if step[i] == 0 {
				continue
			}
			open = true
			c.packs[i] -= step[i]
			if !s.isFed(c) {
				c.packs[i] += step[i]
				step[i] /= 2
			}
		}
	}
}

// bySurplus are the foods in the cart, the dearest surplus first.
func (s shop) bySurplus(c *cart) []int {
	var order []int
	priced := true
	for i, n := range c.packs {
		if n > 0 {
			order = append(order, i)
			priced = priced && s.foods[i].Price > 0
		}
	}
	worth := func(i int) float64 {
		pack := float64(s.foods[i].Pack)
		if priced {
			pack = s.foods[i].Price
		}
		return (float64(c.packs[i]) - c.eaten[i]) * pack
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(worth(j), worth(i)) })
	return order
}

// isFed says whether what is in the cart still feeds the days that plenty fed.
func (s shop) isFed(c *cart) bool {
	packs := make([]float64, len(c.packs))
	for i, n := range c.packs {
		packs[i] = float64(n)
	}
	p := s.pantry()
	p.bring(s.foods, packs, s.today)
	return p.feeds(c.fed) == c.fed
}

func (s shop) pantry() *pantry {
	return s.larder.pantry(s.crew, galley{})
}

// bring puts so many packs of each food, bought today, on the shelves of a pantry
// from which nothing was eaten yet.
func (p *pantry) bring(foods []Food, packs []float64, today quantity.Date) []Lot {
	lots := make([]Lot, len(foods))
	for i := range foods {
		if packs[i] <= 0 {
			continue
		}
		lots[i] = Lot{Food: foods[i].Name, Packs: packs[i], Bought: today}
		s := &p.shelves[i]
		s.put(&foods[i], &lots[i], today)
		slices.SortStableFunc(s.batches, func(a, b batch) int { return cmp.Compare(a.written, b.written) })
	}
	return lots
}

// left is how many grams are left of a lot.
func (s *shelf) left(lot *Lot) float64 {
	for i := range s.batches {
		if s.batches[i].lot == lot {
			return s.batches[i].grams
		}
	}
	return 0
}

// mostOf is the most that is eaten of a food in a day, in grams: its ration, as
// much again to fill up, and all for which it stands in.
func (p *pantry) mostOf(s *shelf) float64 {
	most := 2 * s.ration
	for _, portion := range p.portions {
		if portion.instead == s {
			most += portion.grams * portion.food.density / s.density
		}
	}
	return most
}

// feeds eats so many days, and says how many were fed before one was not.
func (p *pantry) feeds(days int) (fed int) {
	for fed < days && p.isFed(p.eat(fed)) {
		fed++
	}
	return fed
}
