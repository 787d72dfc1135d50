package provisions

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Load is what to take of a thing at a place that surely gives it: the least that
// brings her to the next place that does, with the reserve.
type Load struct {
	At     string
	Leg    int // the leg that ends there; -1: the departure
	Thing  passage.Thing
	Left   Amount  // what counts aboard there before anything is loaded, in the hard case
	Amount Amount  // least, with what is missing below the pick-ups; 0: nothing is needed
	Room   Amount  // the most that goes in; of food always Amount: no limit is known
	Lacks  Amount  // what is needed and the tanks cannot hold
	Full   bool    // every tank of it must be full
	Price  float64 // of Amount; 0 where no price is given
	Priced bool    // false for food: its money stands in the shopping list

	Deck  []Filling // at the departure, how that is done on deck: whole tanks, whole cans; empty for food
	Fixed int       // how many tanks of it are no cans
	Cures []Cure    // where it Lacks
}

// Filling is one tank or can to fill to the brim.
type Filling struct {
	Tank  string
	Can   bool
	Holds Amount // its capacity
	Takes Amount // the most that goes in: what the gauge or the dip may be out by included
}

// Loads are what to load, one for each place and thing that it gives: places in
// their order, in each the things in theirs. There is none where no case makes every leg.
func (s Situation) Loads(r Reckoning) []Load {
	if r.Verdict == "" {
		return nil
	}
	var list []Load
	for _, t := range passage.Things {
		list = append(list, s.loadsOf(r, t)...)
	}
	slices.SortStableFunc(list, func(a, b Load) int { return cmp.Compare(a.Leg, b.Leg) })
	return list
}

// loadsOf goes from place to place with what is left in the hard case of each stretch.
func (s Situation) loadsOf(r Reckoning, t passage.Thing) []Load {
	resource := r.Resources[t]
	first, ok := resource.First()
	if !ok {
		return nil
	}

	var list []Load
	left := first.Available
	tanks := s.hold(r, t)
	for i, cut := range sections(s.Plan, t) {
		stretch := resource.Stretches[i]
		if i > 0 || s.Plan.Gives(t) {
			l, counts := s.loadAt(cut.first-1, t, left, tanks, stretch)
			if l.Lacks > 0 {
				l.Cures = s.curesFor(r, t, i)
			}
			left += counts
			list = append(list, l)
		}
		left = max(0, left-stretch.Need)
	}
	return list
}

// loadAt is what to load where the leg ends and the stretch begins, and how much of it counts.
func (s Situation) loadAt(leg int, t passage.Thing, left Amount, tanks *hold, stretch Stretch) (l Load, counts Amount) {
	l = Load{At: stretch.From, Leg: leg, Thing: t, Left: left}
	missing := short(stretch.Need, stretch.Reserve, left)
	if t == passage.Food {
		l.Amount, l.Room = missing, missing
		return l, missing
	}

	counts = tanks.load(&l, missing)
	if leg < 0 {
		l.Deck = tanks.deck(counts)
	}
	l.bill(s.prices(leg))
	return l, counts
}

func (s Situation) prices(leg int) map[passage.Thing]float64 {
	if leg < 0 {
		return s.Plan.Price
	}
	return s.Plan.Legs[leg].Price
}

// bill totals what is loaded. A price never moves an amount to another place:
// what is cheaper elsewhere may not be had there on the day.
func (l *Load) bill(prices map[passage.Thing]float64) {
	price, given := prices[l.Thing]
	l.Priced = given
	l.Price = price * float64(l.Amount)
}

// Words say what to do, for people: rounded up, at the departure tank by tank.
// At a later stop nobody knows yet what each tank holds: there it is a rough figure.
func (l Load) Words(units quantity.System) string {
	words := l.act(units)
	if l.Lacks > 0 {
		words += "; " + l.Lacks.Up(l.Thing, units) + " more than the tanks hold is needed"
	}
	return words
}

func (l Load) act(units quantity.System) string {
	switch {
	case l.Amount == 0 && l.Lacks > 0:
		return "nothing goes in"
	case l.Amount == 0:
		return l.nothing(units)
	case l.Thing == passage.Food:
		return "food for " + l.Amount.Up(l.Thing, units)
	case len(l.Deck) > 0:
		return "fill " + l.onDeck(units)
	}
	return l.later(units)
}

func (l Load) nothing(units quantity.System) string {
	switch {
	case l.Left < crumb:
		return "nothing is needed"
	case l.Thing == passage.Food:
		return "nothing: food for " + l.Left.Down(l.Thing, units) + " is enough"
	}
	return "nothing: " + l.Left.Down(l.Thing, units) + " is enough"
}

// onDeck is "both water tanks (95 L)", "main diesel and 2 cans of 20 L (98 L)".
func (l Load) onDeck(units quantity.System) string {
	var (
		fixed []string
		total Amount
	)
	for _, f := range l.Deck {
		total += f.Takes
		if !f.Can {
			fixed = append(fixed, f.Tank)
		}
	}
	if n := len(fixed); n > 1 && n == l.Fixed {
		fixed = []string{l.every(n)}
	}
	return inARow(append(fixed, l.cans(units)...)) + " (" + total.Up(l.Thing, units) + ")"
}

func (l Load) every(n int) string {
	vessels := " " + string(l.Thing) + " tanks"
	if l.Thing == passage.Gas {
		vessels = " gas bottles"
	}
	if n == 2 {
		return "both" + vessels
	}
	return "all " + strconv.Itoa(n) + vessels
}

// cans are those of one size together.
func (l Load) cans(units quantity.System) []string {
	var (
		sizes []Amount
		count = make(map[Amount]int)
	)
	for _, f := range l.Deck {
		if !f.Can {
			continue
		}
		if count[f.Holds] == 0 {
			sizes = append(sizes, f.Holds)
		}
		count[f.Holds]++
	}

	can := "can"
	if l.Thing == passage.Gas {
		can = "bottle"
	}
	words := make([]string, 0, len(sizes))
	for _, size := range sizes {
		text := strconv.Itoa(count[size]) + " " + can
		if count[size] > 1 {
			text += "s"
		}
		words = append(words, text+" of "+size.nearest(l.Thing, units))
	}
	return words
}

// later is a rough figure, never more than goes in.
func (l Load) later(units quantity.System) string {
	rough := l.Amount.roughlyUp(l.Thing, units)
	if l.Full || rough > l.Room+crumb {
		return "fill everything (" + l.Amount.Up(l.Thing, units) + ")"
	}
	return "about " + rough.Up(l.Thing, units)
}

// roughlyUp is rounded up to whole 10 L or 5 US gal; gas as it is.
func (a Amount) roughlyUp(t passage.Thing, units quantity.System) Amount {
	step := Amount(10)
	switch {
	case t == passage.Gas:
		return a
	case units == quantity.US:
		step = Amount(5 * quantity.USGallon)
	}
	return step * Amount(math.Ceil(float64((a-crumb)/step)))
}

// nearest shows the size of a tank for people.
func (a Amount) nearest(t passage.Thing, units quantity.System) string {
	if t == passage.Gas {
		return quantity.Mass(a).In(units)
	}
	return quantity.Volume(a).In(units)
}

// inARow is "a, b and c".
func inARow(words []string) string {
	last := len(words) - 1
	if last < 1 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
