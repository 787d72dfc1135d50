package checklist

import (
	"fmt"
	"strconv"

	"boat/hoveshort/provisions"
)

// Consumables are the other things that are used up, against the hard case of the passage.
func (a Assessment) Consumables() []provisions.ConsumableFigures {
	return a.situation.Consumables(a.Reckoning)
}

// Nourishment is what the rations give a person and day beside energy; ok is false where no
// food tells any of it.
func (a Assessment) Nourishment() (n provisions.Nourishment, ok bool) {
	n = a.situation.Boat.Rates.Nourishment(a.situation.Boat.Foods)
	return n, n.Protein > 0 || n.FruitVeg > 0
}

// consumables: one that is critical and short stands in the way; another is told.
func (g *gate) consumables() {
	if len(g.definitions.Boat.Consumables) == 0 || !g.assessment.Stretches {
		return
	}
	for _, f := range g.assessment.Consumables() {
		if f.Short <= 0 {
			continue
		}
		in := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) + " " + f.Consumable.Unit }
		why := fmt.Sprintf("%s short: %s can be counted on, %s is needed, and %s held back", in(f.Short), in(f.Available), in(f.Need), in(f.Consumable.Reserve))
		if !f.Consumable.Critical {
			g.assessment.Notes = append(g.assessment.Notes, f.Consumable.Name+": "+why)
			continue
		}
		g.block(Blocker{
			Matter: MatterEndurance, Name: f.Consumable.Name, Why: why, Takes: takesShop,
			Clears: fmt.Sprintf("%d more, then: hoveshort count %q AMOUNT", f.Packs, f.Consumable.Name), Where: "only with a shop",
		})
	}
}
