package checklist

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// NewStocked is a count, or what was bought, used beside the rations or thrown away (Did): c.Packs
// of it. It comes to what is there of that lot since, and is refused where less is there.
func (d Definitions) NewStocked(s State, a Assessment, c Count) (Count, error) {
	how := c.Packs
	c, err := d.NewCount(c)
	if err != nil || c.Did == "" {
		return c, err
	}
	if !slices.Contains(CountWords, c.Did) {
		return Count{}, refuse(fmt.Sprintf("%q is nothing that is done with packs", c.Did), "bought, used or thrown away")
	}
	if how <= 0 {
		return Count{}, refuse("none of it came or went", "write how many, as \"2\"")
	}
	now := a.Now.In(d.Plan.Depart.Location())
	if d.isConsumable(c.Food) {
		return a.stockedConsumable(d, c, now)
	}
	if c.Did == PacksBought {
		return a.bought(d, c, now)
	}
	return a.gone(d, c, now)
}

// stockedConsumable is the amount that is there since.
func (a Assessment) stockedConsumable(d Definitions, c Count, now time.Time) (Count, error) {
	i := slices.IndexFunc(d.Boat.Consumables, func(o provisions.Consumable) bool { return o.Name == c.Food })
	there := a.situation.ConsumableAt(d.Boat.Consumables[i], now)
	if c.Did == PacksBought {
		return c.comesTo(there + c.Packs), nil
	}
	if c.Packs > there+aCrumb {
		return Count{}, refuse(fmt.Sprintf("there are %s of %s by the record", tidy(there), c.Food), "count it first, or write fewer")
	}
	return c.comesTo(there - c.Packs), nil
}

// aCrumb is the part of a pack that rounding may lose.
const aCrumb = 1e-3

// comesTo is the act with what is there since, to the thousandth of a pack.
func (c Count) comesTo(packs float64) Count {
	c.Of, c.Packs = c.Packs, math.Round(max(0, packs)*1000)/1000
	return c
}

// bought puts packs to the lot of their date and place. Without any date they were bought
// today, without a place they lie where more of that food is stowed.
func (a Assessment) bought(d Definitions, c Count, now time.Time) (Count, error) {
	food, _ := d.Food(c.Food)
	today := quantity.DateOf(now)
	lots := a.situation.LotsAt(c.Food, now)
	if given(c.BestBefore)+given(c.UseBy)+given(c.Bought) == 0 && !food.Keeps.IsZero() {
		c.Bought = today
	}
	if c.Place == "" {
		c.Place = a.situation.StowPlace(food, now)
	}
	switch {
	case c.IsWhole():
		return Count{}, refuse("nothing tells this lot from the others", "give its best-before or use-by date, or the place where it is stowed")
	case today.Before(c.Bought):
		return Count{}, refuse(fmt.Sprintf("%s is not come yet", c.Bought), "write the day on which it was bought")
	case !c.BestBefore.IsZero() && c.BestBefore.Before(cmpDate(c.Bought, today)):
		return Count{}, refuse(fmt.Sprintf("its best-before, %s, lies before the day it was bought", c.BestBefore), "look at the date on the pack again")
	case !c.UseBy.IsZero() && c.UseBy.Before(today):
		return Count{}, refuse(fmt.Sprintf("its use-by, %s, lies before the day it was bought: it must not be eaten", c.UseBy), "look at the date on the pack again")
	}
	there := 0.0
	for _, lot := range lots {
		if countOf(lot).SameLot(c) {
			there += lot.Packs
		}
	}
	return c.comesTo(there + c.Packs), nil
}

func cmpDate(given, otherwise quantity.Date) quantity.Date {
	if given.IsZero() {
		return otherwise
	}
	return given
}

// gone takes packs from the lot that is meant; where several fit, from the one that ends soonest.
func (a Assessment) gone(d Definitions, c Count, now time.Time) (Count, error) {
	food, _ := d.Food(c.Food)
	want := provisions.Lot{Food: c.Food, BestBefore: c.BestBefore, UseBy: c.UseBy, Bought: c.Bought, Place: c.Place}
	var fitting []provisions.Lot
	total := 0.0
	for _, lot := range food.InOrder(a.situation.LotsAt(c.Food, now)) {
		if lot.Packs > aCrumb && want.Fits(lot) {
			fitting = append(fitting, lot)
			total += lot.Packs
		}
	}
	if len(fitting) == 0 {
		return Count{}, refuse("no such lot of "+c.Food+" is aboard by the record", "count it first")
	}
	lot := fitting[0]
	if countOf(lot).IsWhole() { // nothing tells it from the others: all of them are told
		lot.Packs = total
	}
	if c.Packs > lot.Packs+aCrumb {
		return Count{}, refuse(fmt.Sprintf("of that lot there are %s by the record (%s)", tidy(lot.Packs), lotsWords(fitting)), "name the lot by its date or place, write fewer, or count it first")
	}
	left := countOf(lot)
	left.Did, left.Packs = c.Did, c.Packs
	return left.comesTo(lot.Packs - c.Packs), nil
}

// lotsWords are lots with their dates and places, the first few.
func lotsWords(lots []provisions.Lot) string {
	var told []string
	for i, lot := range lots {
		if i == 4 {
			told = append(told, "and more")
			break
		}
		told = append(told, packs(math.Round(lot.Packs*10)/10)+lotWords(countOf(lot)))
	}
	return strings.Join(told, "; ")
}

// tidy is a number of packs to the tenth.
func tidy(n float64) string { return fmt.Sprintf("%g", math.Floor((n+aCrumb)*10)/10) }
