package provisions

import (
	"testing"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"

	"github.com/stretchr/testify/assert"
)

// What is aboard is shown rounded down, what is needed rounded up.
func TestAmountsAreShownToTheSafeSide(t *testing.T) {
	for _, row := range []struct {
		amount   Amount
		of       passage.Thing
		units    quantity.System
		down, up string
	}{
		{42.27, passage.Water, quantity.Metric, "42 L", "43 L"},
		{42, passage.Fuel, quantity.Metric, "42 L", "42 L"},
		{3.785411784 * 20, passage.Fuel, quantity.US, "20 US gal", "20 US gal"},
		{1.94, passage.Gas, quantity.Metric, "1.9 kg", "2.0 kg"},
		{27.68, passage.Food, quantity.Metric, "27.6 person-days", "27.7 person-days"},
		{1, passage.Food, quantity.Metric, "1 person-day", "1 person-day"},
	} {
		assert.Equal(t, row.down, row.amount.Down(row.of, row.units))
		assert.Equal(t, row.up, row.amount.Up(row.of, row.units))
	}
	assert.Equal(t, "6.7 days", Days{Days: 6.798}.String())
	assert.Equal(t, "never ends", Days{Never: true}.String())
	assert.Equal(t, "0.0 days", Days{Days: -0.00000001}.String())
	assert.Equal(t, "-7.1 days", Days{Days: -7.04}.String(), "a margin that lacks is not made smaller")
	assert.Equal(t, "13.9 days", DaysUp(13.84))
	assert.Equal(t, "13.8 days", DaysUp(13.8))
}
