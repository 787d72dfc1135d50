package provisions

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

const (
	inch     = 0.0254     // metres, exact
	foot     = 0.3048     // metres, exact
	usGallon = 3.785412   // litres, NIST SP 811 B.8
	cubic    = 28.3168466 // litres a cubic foot, NIST SP 811 B.8
)

func shaped(form Form, depth quantity.Length, capacity Amount) Tank {
	return Tank{Name: "it", Holds: passage.Fuel, Capacity: capacity, Shape: Shape{form, depth}}
}

// A sounding table as it is printed for horizontal cylinders with flat ends, per cent of the
// diameter and per cent of the volume, from 5 to 50; above it is 100 less. Perry's Chemical
// Engineers' Handbook prints it (from memory); the reference, section 7, has ten of the rows
// recomputed: 0.01869, 0.05204, 0.14238, 0.19550, 0.25232, 0.37353, 0.50000.
func TestHorizontalCylinderAgreesWithAPublishedSoundingTable(t *testing.T) {
	table := []struct{ depth, volume float64 }{
		{0, 0}, {5, 1.87}, {10, 5.20}, {15, 9.41}, {20, 14.24}, {25, 19.55}, {30, 25.23}, {35, 31.19}, {40, 37.35}, {45, 43.64}, {50, 50},
	}
	s := Shape{HorizontalCylinder, 1}
	for _, row := range table {
		low, err := s.Share(quantity.Length(row.depth / 100))
		require.NoError(t, err)
		assert.InDelta(t, row.volume, 100*float64(low), 0.006, "%v %%", row.depth)
		high, err := s.Share(quantity.Length(1 - row.depth/100))
		require.NoError(t, err)
		assert.InDelta(t, 100-row.volume, 100*float64(high), 0.006, "%v %% from the top", row.depth)
	}
}

// Worked examples of others, each with its own length, width and diameter.
func TestShapesAgreeWithWorkedExamples(t *testing.T) {
	cylinder := func(diameter, length float64) Amount {
		return Amount(math.Pi * diameter * diameter / 4 * length * 1000)
	}
	for _, row := range []struct {
		tank        Tank
		depth, want float64 // metres, litres
		within      float64
		source      string
	}{
		{shaped(HorizontalCylinder, 24*inch, cylinder(24*inch, 48*inch)), 6 * inch, 18.38 * usGallon, 0.02 * usGallon, "row T1: a published dip-chart article"},
		{shaped(HorizontalCylinder, 44*inch, cylinder(44*inch, 60*inch)), 22 * inch, 197.47 * usGallon, 0.01 * usGallon, "row T2: a published oil-tank page"},
		{shaped(HorizontalCylinder, 44*inch, cylinder(44*inch, 60*inch)), 44 * inch, 394.94 * usGallon, 0.01 * usGallon, "row T2"},
		{shaped(HorizontalCylinder, 7*foot, cylinder(7*foot, 20*foot)), 4.25 * foot, 489.04 * cubic, 0.02 * cubic, "a published guide to tank gauging: 7 ft by 20 ft, 4 ft 3 in"},
		{shaped(HorizontalCylinder, 2, cylinder(2, 5)), 1, 7854, 0.1, "a published page for process engineers: 2 m by 5 m, half full"},
		{shaped(HorizontalCylinder, 0.5, cylinder(0.5, 1)), 0.05, 10.22, 0.01, "row T3, arithmetic"},
		{shaped(HorizontalCylinder, 0.5, cylinder(0.5, 1)), 0.125, 38.39, 0.01, "row T3"},
		{shaped(HorizontalCylinder, 0.5, cylinder(0.5, 1)), 0.40, 168.39, 0.01, "row T3"},
		{shaped(Wedge, 0.4, 144), 0.3, 81, 0.1, "row T4, arithmetic"},
		{shaped(Rectangular, 0.4, 200), 0.3, 150, 1e-9, "V = L*W*h"},
	} {
		got, err := row.tank.AmountAt(Level{Kind: ByDip, Dip: quantity.Length(row.depth)})
		require.NoError(t, err, row.source)
		assert.InDelta(t, row.want, float64(got), row.within, row.source)
	}
}

// The tank's width at each depth, added up in thin layers, is what the formulas say.
func TestShapesAgreeWithLayers(t *testing.T) {
	width := map[Form]func(h float64) float64{
		Rectangular:        func(float64) float64 { return 1 },
		Wedge:              func(h float64) float64 { return h },
		HorizontalCylinder: func(h float64) float64 { return 2 * math.Sqrt(h-h*h) },
	}
	const layers = 4000
	for _, form := range Forms {
		whole := 0.0
		for i := range layers {
			whole += width[form]((float64(i) + 0.5) / layers)
		}
		sum := 0.0
		for i := range layers {
			sum += width[form]((float64(i) + 0.5) / layers)
			got, err := Shape{form, 0.42}.Share(quantity.Length(0.42 * float64(i+1) / layers))
			require.NoError(t, err)
			require.InDelta(t, sum/whole, float64(got), 2e-5, "%s at layer %d", form, i)
		}
	}
}

func TestShapesRiseFromEmptyToFull(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tank := shaped(rapid.SampledFrom(Forms[:]).Draw(t, "form"),
			quantity.Length(rapid.Float64Range(0.05, 3).Draw(t, "deep")), Amount(rapid.Float64Range(1, 2000).Draw(t, "capacity")))
		at := func(share float64) float64 {
			a, err := tank.AmountAt(Level{Kind: ByDip, Dip: tank.Shape.Depth * quantity.Length(share)})
			require.NoError(t, err)
			return float64(a)
		}
		require.Zero(t, at(0))
		require.InDelta(t, float64(tank.Capacity), at(1), 1e-9*float64(tank.Capacity))
		low, high := rapid.Float64Range(0, 1).Draw(t, "low"), rapid.Float64Range(0, 1).Draw(t, "high")
		if low > high {
			low, high = high, low
		}
		require.LessOrEqual(t, at(low), at(high)+1e-9)

		over := tank.Shape.Depth * quantity.Length(1+rapid.Float64Range(0.001, 2).Draw(t, "over"))
		_, err := tank.AmountAt(Level{Kind: ByDip, Dip: over})
		require.Error(t, err)
	})
}

func TestDipBeyondTheShapeIsRefused(t *testing.T) {
	tank := shaped(HorizontalCylinder, 0.42, 100)
	for depth, want := range map[quantity.Length]string{
		0.43:  "430 mm is not in a tank that is 420 mm deep; write 0 mm to 420 mm",
		-0.01: "-10 mm is not in a tank that is 420 mm deep; write 0 mm to 420 mm",
	} {
		_, err := tank.AmountAt(Level{Kind: ByDip, Dip: depth})
		require.EqualError(t, err, want)
	}
	got, err := tank.AmountAt(Level{Kind: ByDip, Dip: 42 * 0.01})
	require.NoError(t, err, "42 cm are 420 mm, but for a crumb")
	assert.InDelta(t, 100, float64(got), 1e-9)

	for _, odd := range []Shape{{"keg", 0.4}, {Rectangular, 0}, {Wedge, quantity.Length(math.NaN())}} {
		_, err := odd.Share(0.1)
		require.Error(t, err, "%v", odd)
	}
	_, err = Tank{Name: "it"}.AmountAt(Level{Kind: ByDip, Dip: 0.1})
	require.EqualError(t, err, `"it" has no dip table; write an amount or a share`)
	assert.True(t, tank.CanBeDipped())
	assert.False(t, Tank{}.CanBeDipped())
}
