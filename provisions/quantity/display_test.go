package quantity_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/quantity"
)

const (
	metric = quantity.Metric
	us     = quantity.US
)

// Digits for people: common practice, no source. The US figures follow from NIST SP 811, B.8.
func TestFiguresForPeople(t *testing.T) {
	rows := []struct{ got, want string }{
		{quantity.Volume(219.55).In(metric), "220 L"},
		{quantity.Volume(219.55).Down(metric), "219 L"},
		{quantity.Volume(219.45).Up(metric), "220 L"},
		{quantity.Volume(219.55).Down(us), "57 US gal"}, // 57.999
		{quantity.Volume(219.55).Up(us), "58 US gal"},
		{quantity.Volume(2.46).In(metric), "2.5 L"},
		{quantity.Volume(2.46).Down(metric), "2.4 L"},
		{quantity.Volume(2.41).Up(metric), "2.5 L"},
		{quantity.Volume(9.94).In(metric), "9.9 L"},
		{quantity.Volume(9.96).In(metric), "10 L"},
		{quantity.Volume(9.91).Up(metric), "10 L"},
		{quantity.Volume(9.99).Down(metric), "9.9 L"},
		{quantity.Volume(10).Down(metric), "10 L"},
		{quantity.Volume(10).Up(metric), "10 L"},
		{quantity.Volume(10.4).Up(metric), "11 L"},
		{quantity.Volume(0).Up(metric), "0.0 L"},
		{quantity.Volume(0.25).In(metric), "0.3 L"}, // halves go up
		{quantity.Volume(-0.01).In(metric), "0.0 L"},
		{quantity.Volume(-2.41).Down(metric), "-2.5 L"},
		{quantity.Flow(2.44).In(metric), "2.4 L/h"},
		{quantity.Flow(12).In(metric), "12.0 L/h"},
		{quantity.Flow(3.785411784).In(us), "1.0 US gal/h"},
		{quantity.Mass(12.34).In(metric), "12.3 kg"},
		{quantity.Mass(12.34).Down(metric), "12.3 kg"},
		{quantity.Mass(12.34).Up(metric), "12.4 kg"},
		{quantity.Mass(4.5359237).In(us), "10 lb"},
		{quantity.Mass(4.5359237).Down(us), "10 lb"},
		{quantity.Mass(4.5359237).Up(us), "10 lb"},
		{quantity.Mass(4.6).Up(us), "11 lb"},
		{quantity.Length(9.8).In(metric), "9.8 m"},
		{quantity.Length(9.8).Down(us), "32.1 ft"}, // 32.152
		{quantity.Length(9.8).Up(us), "32.2 ft"},
		{quantity.Length(0.1204).In(metric), "120 mm"},
		{quantity.Length(0.1204).Up(metric), "121 mm"},
		{quantity.Length(0.12).Down(us), "4.7 in"}, // 4.724
		{quantity.Distance(142.4).In(metric), "142 nm"},
		{quantity.Distance(142.4).Up(us), "143 nm"},
		{quantity.Distance(142.6).Down(us), "142 nm"},
		{quantity.Distance(6.37).In(metric), "6.4 nm"},
		{quantity.Speed(5.5).In(metric), "5.5 kn"},
		{quantity.Speed(-0.34).In(us), "-0.3 kn"},
		{quantity.Speed(-0.04).In(metric), "0.0 kn"},
		{quantity.Speed(5).In(metric), "5.0 kn"},
		{quantity.Temperature(82.2).In(metric), "82 °C"},
		{quantity.Temperature(82.2222).In(us), "180 °F"},
		{quantity.Temperature(-40).In(us), "-40 °F"},
		{quantity.Temperature(-0.4).In(metric), "0 °C"},
		{quantity.Pressure(3.1026).In(metric), "3.1 bar"},
		{quantity.Pressure(3.1026).In(us), "45 psi"},
		{quantity.Power(28.337).In(metric), "28 kW"},
		{quantity.Power(28.337).In(us), "38 hp"},
		{quantity.Power(7.25).In(metric), "7.3 kW"},
		{quantity.Voltage(12.6).In(metric), "12.60 V"},
		{quantity.Share(0.625).In(metric), "63 %"},
		{quantity.Energy(2499.6).In(us), "2500 kcal"},
		{quantity.Volume(5).In(quantity.System(7)), "5.0 L"},
		{quantity.Any{Dimension: quantity.OfTemperature, Value: 82.2}.In(us), "180 °F"},
		{quantity.Any{Dimension: quantity.OfCount, Value: 2.5}.In(us), "2.5"},
		{quantity.Any{Dimension: quantity.OfDuration, Value: 1.5}.In(us), "1 h 30"},
		{quantity.Any{Dimension: quantity.OfDuration, Value: 1e12}.In(us), "36500 days"},
		{quantity.Any{}.In(us), ""},
	}

	for _, row := range rows {
		assert.Equal(t, row.want, row.got)
	}
}

func TestACrumbNeverBumpsARounding(t *testing.T) {
	crumb := 1e-10
	for _, value := range []float64{0.1, 0.3, 2.4, 9.9, 10, 220, 1000, 123456} {
		for _, off := range []float64{1 - crumb, 1 - 1e-15, 1, 1 + 1e-15, 1 + crumb} {
			volume := quantity.Volume(value * off)
			want := quantity.Volume(value).In(metric)
			assert.Equal(t, want, volume.Down(metric), "%v", float64(volume))
			assert.Equal(t, want, volume.Up(metric), "%v", float64(volume))
		}
	}

	assert.Equal(t, "0.3 L", quantity.Volume(0.1+0.2).Up(metric), "0.30000000000000004")
	assert.Equal(t, "2.5 L", quantity.Volume(2.45-1e-12).In(metric), "a half less a crumb")
	assert.Equal(t, "1.0 m", quantity.Length(1-1e-12).Down(metric))
	for gallons := 1.0; gallons <= 500; gallons++ {
		volume := quantity.Volume(gallons) * quantity.USGallon
		want := volume.In(us)
		require.Equal(t, want, volume.Down(us))
		require.Equal(t, want, volume.Up(us))
	}
}

// figure reads what people are shown back into the canonical unit.
func figure(t *rapid.T, kind, shown string) float64 {
	value, _, err := parsers[kind](shown)
	require.NoError(t, err, shown)
	return value
}

func TestDownIsNotAboveAndUpNotBelow(t *testing.T) {
	kinds := []string{"volume", "mass", "length", "distance"}
	rapid.Check(t, func(t *rapid.T) {
		value := rapid.OneOf(rapid.Float64Range(0, 20), rapid.Float64Range(0, 1e6)).Draw(t, "value")
		kind := rapid.SampledFrom(kinds).Draw(t, "kind")
		system := rapid.SampledFrom([]quantity.System{metric, us}).Draw(t, "system")

		shown := map[string][3]string{
			"volume":   {quantity.Volume(value).Down(system), quantity.Volume(value).In(system), quantity.Volume(value).Up(system)},
			"mass":     {quantity.Mass(value).Down(system), quantity.Mass(value).In(system), quantity.Mass(value).Up(system)},
			"length":   {quantity.Length(value).Down(system), quantity.Length(value).In(system), quantity.Length(value).Up(system)},
			"distance": {quantity.Distance(value).Down(system), quantity.Distance(value).In(system), quantity.Distance(value).Up(system)},
		}[kind]
		lower, middle, upper := figure(t, kind, shown[0]), figure(t, kind, shown[1]), figure(t, kind, shown[2])

		slack := value * 2e-9
		require.LessOrEqual(t, lower, value+slack)
		require.GreaterOrEqual(t, upper, value-slack)
		require.LessOrEqual(t, lower, middle+slack)
		require.LessOrEqual(t, middle, upper+slack)
		require.LessOrEqual(t, upper-lower, 1.01*float64(quantity.USGallon), "no further apart than one step")
	})
}

func TestShowingWhatIsNoNumberDoesNotPanic(t *testing.T) {
	for _, value := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64} {
		shown := quantity.Volume(value).Up(us)
		require.True(t, strings.HasSuffix(shown, " US gal"))
		_, err := strconv.ParseFloat(strings.TrimSuffix(shown, " US gal"), 64)
		require.NoError(t, err, shown)
	}
}

func TestSystemsAreTwo(t *testing.T) {
	for text, want := range map[string]quantity.System{"metric": metric, "us": us} {
		got, err := quantity.ParseSystem(text)
		require.NoError(t, err)
		assert.Equal(t, want, got)
		assert.Equal(t, text, got.String())

		written, err := got.MarshalText()
		require.NoError(t, err)
		var back quantity.System
		require.NoError(t, back.UnmarshalText(written))
		assert.Equal(t, want, back)
	}

	for _, text := range []string{"", "US", "Metric", "imperial"} {
		_, err := quantity.ParseSystem(text)
		assert.EqualError(t, err, strconv.Quote(text)+` is no system of units; write "metric" or "us"`)
	}
}
