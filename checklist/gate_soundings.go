package checklist

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/quantity"
)

// How old a sounding and a count may be at the sign-off. Design, section 5.
const (
	soundingGoodFor = 24 * time.Hour
	countGoodFor    = 14 * 24 * time.Hour
)

func (g *gate) soundings() {
	for _, t := range g.definitions.Boat.Tanks {
		why, old := g.soundingLacks(t)
		if why == "" {
			continue
		}
		g.block(Blocker{
			Matter: MatterSounding, Name: t.Name, Why: why, Stale: old, Takes: takesSound,
			Clears: "sound it", Where: "here",
		})
	}
}

// soundingLacks is why a tank's level cannot be counted on; old: only its age is why.
// Sealed cans are never planned on, so they need no sounding.
func (g *gate) soundingLacks(t provisions.Tank) (why string, old bool) {
	held := g.state.Tanks[t.Name]
	switch {
	case t.Sealed:
		return "", false
	case g.troubles[t.Name] != "":
		return g.troubles[t.Name], false
	case held.Seq == 0:
		return "never sounded", false
	case held.Doubtful || held.At.After(g.now):
		return "sounded while the clock was in doubt", false
	case g.now.Sub(held.At) > soundingGoodFor:
		return fmt.Sprintf("sounded %s ago, more than 24 h", quantity.Rough(g.now.Sub(held.At))), true
	}
	return "", false
}

// counts: a food that is planned on was counted, but too long ago.
func (g *gate) counts() {
	for _, food := range g.definitions.plannedFoods() {
		for _, c := range standingCounts(g.state.Counts[food]) {
			age := g.now.Sub(c.At)
			if age >= 0 && age <= countGoodFor && !c.Doubtful {
				continue
			}
			g.block(Blocker{
				Matter: MatterSounding, Name: food, Stale: age > countGoodFor && !c.Doubtful, Takes: takesSound,
				Why:    countWhy(c.Stamp, age),
				Clears: "count it, all lots together", Where: "here",
			})
			break
		}
	}
}

// plannedFoods are the foods of the rations and those eaten in their place.
func (d Definitions) plannedFoods() []string {
	var names []string
	for _, r := range d.Boat.Rates.Rations {
		food, _ := d.Food(r.Food)
		for _, name := range []string{r.Food, food.Instead} {
			if name != "" && !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
	}
	return names
}

// standingCounts are those that the stock is still taken from, oldest first: the last of
// all lots together, and each lot's last one since. A lot counted anew says nothing of the
// others, and one that is gone cannot grow old.
func standingCounts(counts []CountState) []CountState {
	var list []CountState
	for i, c := range slices.Backward(counts) {
		if c.IsWhole() {
			list = append(list, c)
			break
		}
		if c.Packs > 0 && !countedAgain(counts, i, len(counts)-1) {
			list = append(list, c)
		}
	}
	slices.Reverse(list)
	return list
}

func countWhy(s Stamp, age time.Duration) string {
	if s.Doubtful || age < 0 {
		return "counted while the clock was in doubt"
	}
	return fmt.Sprintf("counted %s ago, more than 14 days", quantity.Rough(age))
}
