package quantity_test

import (
	"encoding"
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boat/hoveshort/provisions/quantity"
)

// parser is a Parse function, whatever its type.
type parser func(string) (float64, string, error)

func of[T interface {
	~float64
	String() string
}](parse func(string) (T, error)) parser {
	return func(text string) (float64, string, error) {
		value, err := parse(text)
		return float64(value), value.String(), err
	}
}

var parsers = map[string]parser{
	"volume":      of(quantity.ParseVolume),
	"mass":        of(quantity.ParseMass),
	"length":      of(quantity.ParseLength),
	"distance":    of(quantity.ParseDistance),
	"speed":       of(quantity.ParseSpeed),
	"temperature": of(quantity.ParseTemperature),
	"pressure":    of(quantity.ParsePressure),
	"power":       of(quantity.ParsePower),
	"voltage":     of(quantity.ParseVoltage),
	"flow":        of(quantity.ParseFlow),
	"share":       of(quantity.ParseShare),
	"energy":      of(quantity.ParseEnergy),
}

const (
	n11       = "reference/endurance.md N11: NIST SP 811"
	sp811     = "NIST SP 811, B.8"
	handbook  = "NIST Handbook 44, appendix C"
	prefix    = "SI prefix: NIST SP 811, table 5"
	checks77  = "reference/checks.md 7.7"
	endurance = "reference/endurance.md, section 6, units"
	notation  = "the design, section 3: how it is written"
)

func TestUnitsConvertAsPublished(t *testing.T) {
	rows := []struct {
		kind, text string
		want       float64
		tolerance  float64 // half of the source's last digit; 0: exact
		source     string
	}{
		{"volume", "58 US gal", 219.554, 0.0005, n11},
		{"volume", "12 imp gal", 54.553, 0.0005, n11},
		{"power", "38 hp", 28.337, 0.0005, n11},
		{"mass", "10 lb", 4.5359, 0.00005, n11},
		{"pressure", "45 psi", 3.1026, 0.00005, n11},
		{"temperature", "180 F", 82.22, 0.005, n11},

		{"volume", "1 US gal", 3.785412, 5e-7, endurance},
		{"volume", "1 US gal", 3.785411784, 0, endurance},
		{"volume", "1 imp gal", 4.54609, 0, endurance},
		{"mass", "1 lb", 0.45359237, 0, endurance},
		{"power", "1 hp", 0.7456999, 5e-8, endurance},
		{"power", "1 PS", 0.7354988, 5.1e-8, endurance},
		{"pressure", "1 psi", 0.06894757, 5e-9, endurance},
		{"energy", "4.184 kJ", 1, 0, endurance},
		{"energy", "1 kJ", 1 / 4.184, 0, endurance},
		{"energy", "60000 kJ", 14340, 0.5, "reference/endurance.md W3: IMO LSA Code 4.4.8"},
		{"energy", "10.08 MJ", 2410, 1, "reference/endurance.md section 2: FAO/WHO/UNU 2001, 5.4.1"},
		{"energy", "16.42 MJ", 3925, 1, "reference/endurance.md section 2: FAO/WHO/UNU 2001, chapter 5"},
		{"energy", "10.46 MJ", 2500, 1e-9, "arithmetic: 2500 * 4.184 kJ"},

		{"temperature", "130 °F", 54.4, 0.05, checks77},
		{"temperature", "160 °F", 71.1, 0.05, checks77},
		{"temperature", "170 °F", 76.7, 0.05, checks77},
		{"temperature", "185 °F", 85.0, 0.05, checks77},
		{"temperature", "195 °F", 90.6, 0.05, checks77},
		{"temperature", "32 °F", 0, 0, sp811},
		{"temperature", "212 °F", 100, 0, sp811},
		{"temperature", "-40 °F", -40, 0, sp811},

		{"mass", "16 oz", 0.45359237, 0, handbook},
		{"mass", "1 oz", 0.02834952, 5e-9, sp811},
		{"length", "1 ft", 0.3048, 0, sp811},
		{"length", "1 in", 0.0254, 0, sp811},
		{"length", "12 in", 0.3048, 1e-16, handbook},
		{"flow", "1 US gal/h", 3.785411784, 0, sp811},
		{"flow", "1 imp gal/h", 4.54609, 0, sp811},

		{"volume", "500 mL", 0.5, 0, prefix},
		{"mass", "80 g", 0.08, 0, prefix},
		{"length", "120 mm", 0.12, 0, prefix},
		{"length", "29 cm", 0.29, 0, prefix},
		{"power", "745.7 W", 0.7457, 0, prefix},
		{"pressure", "1013 hPa", 1.013, 0, "NIST SP 811, B.8: 1 bar = 1 E+05 Pa"},
		{"pressure", "310 kPa", 3.1, 0, "NIST SP 811, B.8: 1 bar = 1 E+05 Pa"},
		{"share", "62 %", 0.62, 0, notation},
		{"share", "7 %", 0.07, 0, notation},
		{"share", "100 %", 1, 0, notation},
		{"share", "0 %", 0, 0, notation},

		{"volume", "220 L", 220, 0, notation},
		{"volume", "220L", 220, 0, notation},
		{"volume", "220 l", 220, 0, notation},
		{"volume", "\t220  L ", 220, 0, notation},
		{"volume", "+220 L", 220, 0, notation},
		{"volume", "0 L", 0, 0, notation},
		{"volume", "-0 L", 0, 0, notation},
		{"volume", "00220.50 L", 220.5, 0, notation},
		{"volume", "1000000000000 L", 1e12, 0, notation},
		{"flow", "2.4 L/h", 2.4, 0, notation},
		{"speed", "5.5 kn", 5.5, 0, notation},
		{"speed", "-0.3 kn", -0.3, 0, notation},
		{"distance", "142 nm", 142, 0, notation},
		{"temperature", "82 °C", 82, 0, notation},
		{"temperature", "82C", 82, 0, notation},
		{"pressure", "3.1 bar", 3.1, 0, notation},
		{"voltage", "12.6 V", 12.6, 0, notation},
		{"power", "28 kW", 28, 0, notation},
		{"energy", "2500 kcal", 2500, 0, notation},
		{"mass", "2 kg", 2, 0, notation},
		{"length", "9.8 m", 9.8, 0, notation},
	}

	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			got, _, err := parsers[row.kind](row.text)
			require.NoError(t, err)
			if row.tolerance == 0 {
				assert.Equal(t, row.want, got, row.source)
			} else {
				assert.InDelta(t, row.want, got, row.tolerance, row.source)
			}
		})
	}
}

func TestConstantsRoundToTheFiguresOfTheDesign(t *testing.T) {
	rows := []struct {
		name            string
		got, want, half float64
		source          string
	}{
		{"hp in W", float64(quantity.MechanicalHorsepower) * 1000, 745.7, 0.05, "the design, section 3"},
		{"PS in W", float64(quantity.MetricHorsepower) * 1000, 735.5, 0.05, "the design, section 3"},
		{"hp in W", float64(quantity.MechanicalHorsepower) * 1000, 745.6999, 0.00005, sp811},
		{"PS in W", float64(quantity.MetricHorsepower) * 1000, 735.49875, 1e-9, sp811},
		{"psi in Pa", float64(quantity.PSI) * 1e5, 6894.757, 0.0005, sp811},
		{"hPa in bar", float64(quantity.Hectopascal), 0.001, 0, sp811},
		{"ounce in kg", float64(quantity.Ounce), 0.028349523125, 0, handbook},
		{"nautical mile in m", float64(quantity.NauticalMile), 1852, 0, sp811},
		{"US gallon in cubic inches", float64(quantity.USGallon) / (math.Pow(float64(quantity.Inch), 3) * 1000), 231, 1e-9, handbook},
	}

	for _, row := range rows {
		assert.InDelta(t, row.want, row.got, row.half, "%s: %s", row.name, row.source)
	}
}

// The wording is the project's own; each row is one rule of the design's section 3, or of reference/terminal.md section 6.
func TestRefusalsSayWhatIsWrongAndWhatIsRight(t *testing.T) {
	long := strings.Repeat("x", 80)
	rows := []struct{ kind, text, want string }{
		{"volume", "58 gal", `"58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"`},
		{"flow", "0.6 gal/h", `"0.6 gal/h" could be US or imperial; write "0.6 US gal/h" or "0.6 imp gal/h"`},
		{"volume", "58 Gal", `"58 Gal" could be US or imperial; write "58 US gal" or "58 imp gal"`},
		{"volume", "2,4 L", `"2,4 L" has a decimal comma; write "2.4 L"`},
		{"volume", "2,4", `"2,4" has a decimal comma; write "2.4 L"`},
		{"volume", "1,000 L", `"1,000 L" has a comma; write "1.000 L", or "1000 L" if thousands are meant`},
		{"volume", "1,000,000 L", `"1,000,000 L" has a comma; write digits with at most one point, as "5 L"`},
		{"volume", "1,000.5 L", `"1,000.5 L" has a comma; write digits with at most one point, as "5 L"`},
		{"volume", "380", `"380" has no unit; write "380 L"`},
		{"volume", "380.500000", `"380.500000" has no unit; write "380.5 L"`},
		{"temperature", "82", `"82" has no unit; write "82 °C"`},
		{"share", "0.62", `"0.62" has no unit; write "62 %" or "0.62 %"`},
		{"share", "1", `"1" has no unit; write "100 %" or "1 %"`},
		{"share", "62", `"62" has no unit; write "62 %"`},
		{"share", "0", `"0" has no unit; write "0 %"`},
		{"volume", "5 kg", `"5 kg" is a mass, not a volume; write litres, as "5 L"`},
		{"mass", "58 gal", `"58 gal" is a volume, not a mass; write kilograms, as "2 kg"`},
		{"distance", "300 m", `"300 m" is a length, not a distance; write nautical miles, as "142 nm"`},
		{"flow", "5 L", `"5 L" is a volume, not a flow; write litres per hour, as "2.4 L/h"`},
		{"volume", "5 KG", `"5 KG" is a mass, not a volume; write litres, as "5 L"`},
		{"mass", "5 KG", `"5 KG" has its unit spelt "KG"; write "5 kg"`},
		{"volume", "58 us  Gal", `"58 us  Gal" has its unit spelt "us  Gal"; write "58 US gal"`},
		{"mass", "10 lbs", `"10 lbs" has an unknown unit, "lbs"; write kilograms, as "2 kg" (also g, lb, oz)`},
		{"volume", "5 buckets", `"5 buckets" has an unknown unit, "buckets"; write litres, as "5 L" (also mL, US gal, imp gal)`},
		{"voltage", "5 x", `"5 x" has an unknown unit, "x"; write volts, as "12.6 V"`},
		{"volume", "", `"" is empty; write litres, as "5 L"`},
		{"volume", " \t", `" \t" is empty; write litres, as "5 L"`},
		{"volume", "nan L", `"nan L" does not begin with a number; write litres, as "5 L"`},
		{"volume", "inf", `"inf" does not begin with a number; write litres, as "5 L"`},
		{"speed", "-inf kn", `"-inf kn" does not begin with a number; write knots, as "5.5 kn"`},
		{"volume", "L", `"L" does not begin with a number; write litres, as "5 L"`},
		{"volume", "0x1p4 L", `"0x1p4 L" is not a plain number with a unit; write digits with at most one point, as "5 L"`},
		{"volume", "1_000 L", `"1_000 L" is not a plain number with a unit; write digits with at most one point, as "5 L"`},
		{"volume", "1e3 L", `"1e3 L" is not a plain number with a unit; write digits with at most one point, as "5 L"`},
		{"volume", "1.2.3 L", `"1.2.3 L" is not a plain number with a unit; write digits with at most one point, as "5 L"`},
		{"volume", "1 000 L", `"1 000 L" is not a plain number with a unit; write digits with at most one point, as "5 L"`},
		{"volume", "5-6 L", `"5-6 L" is not a plain number with a unit; write digits with at most one point, as "5 L"`},
		{"volume", ".5 L", `".5 L" has a point without a digit on each side; write litres, as "5 L"`},
		{"volume", "5. L", `"5. L" has a point without a digit on each side; write litres, as "5 L"`},
		{"volume", "-5 L", `"-5 L" is below zero; write 0 or more, as "5 L"`},
		{"distance", "-0.001 nm", `"-0.001 nm" is below zero; write 0 or more, as "142 nm"`},
		{"share", "100.1 %", `"100.1 %" is more than the whole; write 0 % to 100 %`},
		{"volume", "1000000000001 L", `"1000000000001 L" is out of all measure; write litres, as "5 L"`},
		{"volume", "900000000000 US gal", `"900000000000 US gal" is out of all measure; write litres, as "5 L"`},
		{"volume", "0.123456789012345678 L", `"0.123456789012345678 L" has too many digits; write at most 15`},
		{"volume", "5 " + long, `"5 ` + long[:57] + `…" has an unknown unit, "` + long[:59] + `…"; write litres, as "5 L" (also mL, US gal, imp gal)`},
		{"volume", "5 " + long[:58], `"5 ` + long[:58] + `" has an unknown unit, "` + long[:58] + `"; write litres, as "5 L" (also mL, US gal, imp gal)`},
		{"volume", "5 \x1b[2J\u202e", `"5 \x1b[2J\u202e" has an unknown unit, "\x1b[2J\u202e"; write litres, as "5 L" (also mL, US gal, imp gal)`},
		{"volume", "5 \xff", `"5 \xff" has an unknown unit, "\xff"; write litres, as "5 L" (also mL, US gal, imp gal)`},
	}

	for _, row := range rows {
		t.Run(row.kind+" "+row.text, func(t *testing.T) {
			_, _, err := parsers[row.kind](row.text)
			require.EqualError(t, err, row.want)
			var refusal *quantity.Error
			require.ErrorAs(t, err, &refusal)
			assert.Equal(t, row.want, refusal.Problem+"; "+refusal.Cure)
		})
	}
}

func TestTooManyDigitsAreRefusedButNotThoseOfOurOwnPrints(t *testing.T) {
	third := quantity.Volume(1.0) / 3
	require.Len(t, third.String(), len("0.3333333333333333 L"), "sixteen digits")

	got, err := quantity.ParseVolume(third.String())
	require.NoError(t, err)
	assert.Equal(t, third, got)

	_, err = quantity.ParseVolume("9.000000000000001 L") // a float64 can only be 9 or 9.000000000000002 there
	require.EqualError(t, err, `"9.000000000000001 L" has too many digits; write at most 15`)

	huge := strings.Repeat("9", 100_000)
	_, err = quantity.ParseVolume(huge + " L")
	require.EqualError(t, err, `"`+huge[:59]+`…" has too many digits; write at most 15`)
}

func TestMinusZeroIsZero(t *testing.T) {
	for _, text := range []string{"-0 °C", "-0.0 °C"} {
		got, err := quantity.ParseTemperature(text)
		require.NoError(t, err)
		assert.False(t, math.Signbit(float64(got)), text)
	}
}

// checkIdentity: what prints parses to the same value, bit for bit, by Parse, UnmarshalText and ParseAny.
func checkIdentity[T interface {
	~float64
	String() string
	encoding.TextMarshaler
}](parse func(string) (T, error), dimension quantity.Dimension, least, most float64) func(*rapid.T) {
	return func(t *rapid.T) {
		want := T(rapid.Float64Range(least, most).Draw(t, "value"))
		if rapid.Bool().Draw(t, "small") {
			want /= 1e9
		}

		got, err := parse(want.String())
		require.NoError(t, err)
		require.Equal(t, want, got)

		text, err := want.MarshalText()
		require.NoError(t, err)
		require.Equal(t, want.String(), string(text))
		require.NoError(t, any(&got).(encoding.TextUnmarshaler).UnmarshalText(text))
		require.Equal(t, want, got)

		either, err := quantity.ParseAny(want.String())
		require.NoError(t, err)
		require.Equal(t, quantity.Any{Dimension: dimension, Value: float64(want)}, either)
		require.Equal(t, want.String(), either.String())
	}
}

func TestParseIsTheInverseOfPrint(t *testing.T) {
	const most = 1e12
	t.Run("volume", rapid.MakeCheck(checkIdentity(quantity.ParseVolume, quantity.OfVolume, 0, most)))
	t.Run("mass", rapid.MakeCheck(checkIdentity(quantity.ParseMass, quantity.OfMass, 0, most)))
	t.Run("length", rapid.MakeCheck(checkIdentity(quantity.ParseLength, quantity.OfLength, 0, most)))
	t.Run("distance", rapid.MakeCheck(checkIdentity(quantity.ParseDistance, quantity.OfDistance, 0, most)))
	t.Run("speed", rapid.MakeCheck(checkIdentity(quantity.ParseSpeed, quantity.OfSpeed, -most, most)))
	t.Run("temperature", rapid.MakeCheck(checkIdentity(quantity.ParseTemperature, quantity.OfTemperature, -most, most)))
	t.Run("pressure", rapid.MakeCheck(checkIdentity(quantity.ParsePressure, quantity.OfPressure, 0, most)))
	t.Run("power", rapid.MakeCheck(checkIdentity(quantity.ParsePower, quantity.OfPower, 0, most)))
	t.Run("voltage", rapid.MakeCheck(checkIdentity(quantity.ParseVoltage, quantity.OfVoltage, 0, most)))
	t.Run("flow", rapid.MakeCheck(checkIdentity(quantity.ParseFlow, quantity.OfFlow, 0, most)))
	t.Run("share", rapid.MakeCheck(checkIdentity(quantity.ParseShare, quantity.OfShare, 0, 1)))
	t.Run("energy", rapid.MakeCheck(checkIdentity(quantity.ParseEnergy, quantity.OfEnergy, 0, most)))
}

func TestPrintIsShortest(t *testing.T) {
	rows := []struct{ got, want string }{
		{quantity.Volume(220).String(), "220 L"},
		{quantity.Flow(2.4).String(), "2.4 L/h"},
		{quantity.Speed(-0.3).String(), "-0.3 kn"},
		{quantity.Temperature(math.Copysign(0, -1)).String(), "0 °C"},
		{quantity.Share(0.62).String(), "62 %"},
		{quantity.Share(0.07).String(), "7 %"},
		{quantity.Share(0.29).String(), "29 %"},
		{quantity.Share(0.005).String(), "0.5 %"},
		{quantity.Share(0.3333).String(), "33.33 %"},
		{quantity.Share(-0.5).String(), "-50 %"},
		{quantity.Share(1).String(), "100 %"},
		{quantity.Share(0).String(), "0 %"},
		{quantity.Volume(1e-7).String(), "0.0000001 L"},
		{quantity.Energy(1e12).String(), "1000000000000 kcal"},
		{quantity.Share(math.NaN()).String(), "NaN %"},
	}

	for _, row := range rows {
		assert.Equal(t, row.want, row.got)
	}
}

func TestWhatCouldNotBeReadBackIsNotWritten(t *testing.T) {
	for _, value := range []encoding.TextMarshaler{
		quantity.Volume(math.NaN()), quantity.Mass(math.Inf(1)), quantity.Length(-1), quantity.Distance(2e12), quantity.Speed(math.Inf(-1)),
		quantity.Share(1.5), quantity.Any{}, quantity.Any{Dimension: 99, Value: 1}, quantity.Any{Dimension: -1}, quantity.Any{Dimension: quantity.OfCount, Value: math.NaN()},
		quantity.Date{}, quantity.Date{Year: 2027, Month: 2, Day: 30}, quantity.Period{Months: -1}, quantity.Period{Rest: -1},
	} {
		text, err := value.MarshalText()
		assert.Nil(t, text, "%#v", value)
		var refusal *quantity.Error
		assert.ErrorAs(t, err, &refusal, "%#v", value)
	}
}

func TestARefusedTextLeavesTheValueAlone(t *testing.T) {
	volume, share, system := quantity.Volume(5), quantity.Share(0.5), quantity.US
	count := quantity.Any{Dimension: quantity.OfCount, Value: 3}
	date, period := quantity.Date{Year: 2027, Month: 2, Day: 1}, quantity.Period{Months: 2}

	for _, into := range []encoding.TextUnmarshaler{&volume, &share, &system, &count, &date, &period} {
		assert.Error(t, into.UnmarshalText([]byte("nonsense")))
	}
	assert.Equal(t, quantity.Volume(5), volume)
	assert.Equal(t, quantity.Share(0.5), share)
	assert.Equal(t, quantity.US, system)
	assert.Equal(t, quantity.Any{Dimension: quantity.OfCount, Value: 3}, count)
	assert.Equal(t, quantity.Date{Year: 2027, Month: 2, Day: 1}, date)
	assert.Equal(t, quantity.Period{Months: 2}, period)
}

func TestAnySaysWhatItIs(t *testing.T) {
	rows := []struct {
		text      string
		dimension quantity.Dimension
		value     float64
		prints    string
	}{
		{"82 °C", quantity.OfTemperature, 82, "82 °C"},
		{"3.1 bar", quantity.OfPressure, 3.1, "3.1 bar"},
		{"12.6 V", quantity.OfVoltage, 12.6, "12.6 V"},
		{"10", quantity.OfCount, 10, "10"},
		{"-2.5", quantity.OfCount, -2.5, "-2.5"},
		{"62 %", quantity.OfShare, 0.62, "62 %"},
		{"150 %", quantity.OfShare, 1.5, "150 %"},
		{"120 mm", quantity.OfLength, 0.12, "0.12 m"},
		{"220L", quantity.OfVolume, 220, "220 L"},
		{"90 min", quantity.OfDuration, 1.5, "1.5 h"},
		{"5 days", quantity.OfDuration, 120, "120 h"},
		{"45 s", quantity.OfDuration, 0.0125, "0.0125 h"},
		{"2500 kcal", quantity.OfEnergy, 2500, "2500 kcal"},
		{"-1 kg", quantity.OfMass, -1, "-1 kg"},
		{"28 kW", quantity.OfPower, 28, "28 kW"},
		{"2.4 L/h", quantity.OfFlow, 2.4, "2.4 L/h"},
		{"142 nm", quantity.OfDistance, 142, "142 nm"},
		{"5.5 kn", quantity.OfSpeed, 5.5, "5.5 kn"},
	}

	for _, row := range rows {
		t.Run(row.text, func(t *testing.T) {
			got, err := quantity.ParseAny(row.text)
			require.NoError(t, err)
			assert.Equal(t, quantity.Any{Dimension: row.dimension, Value: row.value}, got)
			assert.Equal(t, row.prints, got.String())
			assert.False(t, got.IsZero())

			text, err := got.MarshalText()
			require.NoError(t, err)
			var back quantity.Any
			require.NoError(t, back.UnmarshalText(text))
			assert.Equal(t, got, back)
		})
	}
	assert.True(t, quantity.Any{}.IsZero())
	assert.Empty(t, quantity.Any{}.String())
}

func TestAnyRefuses(t *testing.T) {
	rows := []struct{ text, want string }{
		{"", `"" is empty; write a number and its unit, as "82 °C", "3.1 bar" or "12.6 V"`},
		{"hot", `"hot" does not begin with a number; write a number and its unit, as "82 °C", "3.1 bar" or "12.6 V"`},
		{"5 furlong", `"5 furlong" has an unknown unit, "furlong"; write a number and its unit, as "82 °C", "3.1 bar" or "12.6 V"`},
		{"58 gal", `"58 gal" could be US or imperial; write "58 US gal" or "58 imp gal"`},
		{"2 months", `"2 months": a month has no fixed length; write days`},
		{"82 c", `"82 c" has its unit spelt "c"; write "82 °C"`},
		{"142 NM", `"142 NM" has its unit spelt "NM"; write "142 nm"`},
		{"12,6 V", `"12,6 V" has a decimal comma; write "12.6 V"`},
		{"12,6", `"12,6" has a decimal comma; write "12.6"`},
		{"1e3", `"1e3" is not a plain number with a unit; write digits with at most one point, as "82 °C"`},
		{"2000000000000", `"2000000000000" is out of all measure; write a number and its unit, as "82 °C", "3.1 bar" or "12.6 V"`},
	}

	for _, row := range rows {
		_, err := quantity.ParseAny(row.text)
		assert.EqualError(t, err, row.want)
	}
}

func TestEveryDimensionHasItsName(t *testing.T) {
	names := map[string]bool{}
	for d := quantity.OfVolume; d <= quantity.OfDuration; d++ {
		names[d.String()] = true
	}

	assert.Len(t, names, 14, "no two alike")
	assert.NotContains(t, names, "")
	assert.Empty(t, quantity.Dimension(0).String())
	assert.Empty(t, quantity.Dimension(99).String())
	assert.Empty(t, quantity.Dimension(-1).String())
}

// checkFuzzed holds for every text: an *Error, or a value that prints to a text of the same value.
func checkFuzzed(t *testing.T, text string, parse parser) {
	value, printed, err := parse(text)
	if err != nil {
		var refusal *quantity.Error
		require.ErrorAs(t, err, &refusal, "%q: %T", text, err)
		require.NotEmpty(t, refusal.Problem)
		require.NotEmpty(t, refusal.Cure)
		require.Less(t, len([]rune(err.Error())), 1400, "a message stays short")
		require.NotContains(t, err.Error(), "\n")
		require.NotContains(t, err.Error(), "\x1b")
		return
	}

	require.False(t, math.IsNaN(value) || math.Abs(value) > 1e12, "%q: %v", text, value)
	again, _, err := parse(printed)
	require.NoError(t, err, "%q prints %q", text, printed)
	require.Equal(t, value, again, "%q prints %q", text, printed)
}

var seeds = []string{
	"220 L", "58 US gal", "58 gal", "2,4 L", "1,000 L", "380", "nan", "-inf L", "0x1p4 L", "1_0 L", "1e3 L", "82 °C", "-40 °F", "62 %", "90 min", "2 months",
	"5 KG", "0.3333333333333333 L", "1000000000001 L", ".5 L", "-0 L", "5 \xff", "", "12.6 V", "10", "5 kJ", "29 %",
}

func FuzzParseVolume(f *testing.F) {
	for _, text := range seeds {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		checkFuzzed(t, text, parsers["volume"])
		if value, err := quantity.ParseVolume(text); err == nil {
			require.GreaterOrEqual(t, float64(value), 0.0)
		}
	})
}

func FuzzParseAny(f *testing.F) {
	for _, text := range seeds {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		checkFuzzed(t, text, func(text string) (float64, string, error) {
			a, err := quantity.ParseAny(text)
			return a.Value, a.String(), err
		})
		for _, parse := range parsers {
			checkFuzzed(t, text, parse)
		}
		_, err := quantity.ParseDuration(text)
		checkRefusal(t, err)
		_, err = quantity.ParsePeriod(text)
		checkRefusal(t, err)
		_, err = quantity.ParseDate(text)
		checkRefusal(t, err)
	})
}

func checkRefusal(t *testing.T, err error) {
	var refusal *quantity.Error
	require.True(t, err == nil || errors.As(err, &refusal), "%T", err)
}

// The air's pressure and its change over three hours are told in hPa and nothing else;
// a tenth of a bar would say nothing.
func TestAirPressureStaysInHectopascals(t *testing.T) {
	fall, err := quantity.ParseAny(" -3.5hPa")
	require.NoError(t, err)
	assert.InDelta(t, -0.0035, fall.Value, 1e-15)
	assert.Equal(t, "-3.5 hPa", fall.String())
	assert.Equal(t, "-3.5 hPa", fall.In(quantity.US))
	again, err := quantity.ParseAny(fall.String())
	require.NoError(t, err)
	assert.Equal(t, fall, again)

	oil, err := quantity.ParseAny("1.0 bar")
	require.NoError(t, err)
	assert.Equal(t, "1.0 bar", oil.In(quantity.Metric))
}
