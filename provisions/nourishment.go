package provisions

import (
	"slices"

	"boat/hoveshort/provisions/quantity"
)

// Nourishment is what the rations give a person a day beside the energy, as far as the
// foods tell it. It is told, and never judged.
type Nourishment struct {
	Energy   quantity.Energy
	Protein  quantity.Mass
	Untold   []string      // rations whose food tells no protein: Protein is at least so much
	FruitVeg quantity.Mass // of the part that is eaten
}

// Nourishment is that of the rations. A ration of a food that is not there adds nothing.
func (r Rates) Nourishment(foods []Food) Nourishment {
	n := Nourishment{Energy: r.DailyEnergy(foods)}
	for _, ration := range r.Rations {
		at := slices.IndexFunc(foods, func(f Food) bool { return f.Name == ration.Food })
		if at < 0 {
			continue
		}
		food := foods[at]
		if food.Protein == nil {
			n.Untold = append(n.Untold, food.Name)
		} else {
			n.Protein += ration.Each * quantity.Mass(*food.Protein/100)
		}
		if food.FruitVeg {
			n.FruitVeg += ration.Each
		}
	}
	return n
}
