package provisions

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Rice has 7.13 g of protein in 100 g, lentils 24.63 g (USDA SR28, nutrient 203, from
// memory): 100 g and 60 g are 7.13 + 14.778 = 21.908 g. Of 150 g of cabbage nothing is told.
func TestNourishmentOfTheRations(t *testing.T) {
	rice, lentils := 7.13, 24.63
	foods := []Food{
		{Name: "rice", Kcal: 365, Protein: &rice}, {Name: "lentils", Kcal: 352, Protein: &lentils},
		{Name: "cabbage", Kcal: 25, FruitVeg: true}, {Name: "apples", Kcal: 52, FruitVeg: true},
	}
	n := Rates{Rations: []Ration{{"rice", 0.1}, {"lentils", 0.06}, {"cabbage", 0.15}, {"manna", 1}}}.Nourishment(foods)
	assert.InDelta(t, 365+211.2+37.5, float64(n.Energy), 1e-9)
	assert.InDelta(t, 0.021908, float64(n.Protein), 1e-9)
	assert.InDelta(t, 0.150, float64(n.FruitVeg), 1e-9)
	assert.Equal(t, []string{"cabbage"}, n.Untold)
	assert.Zero(t, Rates{}.Nourishment(foods).Protein)
}
