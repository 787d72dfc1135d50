package quantity

import (
	"math"
	"strings"
)

// The units of measurement. Sources: NIST Special Publication 811 (2008), appendix B.8, and NIST Handbook 44, appendix C;
// all are exact by definition.
const (
	// USGallon is 231 cubic inches = 3.785411784 L. Source: Handbook 44, appendix C; SP 811 B.8 prints 3.785 412.
	USGallon Volume = 3.785411784
	// ImperialGallon is 4.54609 L. Source: SP 811 B.8.
	ImperialGallon Volume = 4.54609
	// Pound is the avoirdupois pound, 0.45359237 kg. Source: Handbook 44, appendix C; SP 811 B.8 prints 4.535 924 E-01.
	Pound Mass = pound
	// Ounce is a sixteenth of a pound, 0.028349523125 kg. Source: Handbook 44, appendix C.
	Ounce Mass = pound / 16
	// Inch is 0.0254 m. Source: SP 811 B.8.
	Inch Length = inch
	// Foot is 0.3048 m. Source: SP 811 B.8.
	Foot Length = foot
	// NauticalMile is the international nautical mile, 1852 m. Source: SP 811 B.8.
	NauticalMile Length = 1852
	// MechanicalHorsepower ("hp") is 550 foot pounds-force a second, 0.74569987… kW. Source: SP 811 B.8 prints 7.456 999 E+02 W.
	MechanicalHorsepower Power = 550 * foot * pound * gravity / 1000
	// MetricHorsepower ("PS") is 75 metre kilograms-force a second, 0.73549875 kW. Source: SP 811 B.8 prints 7.354 988 E+02 W.
	MetricHorsepower Power = 75 * gravity / 1000
	// PSI is a pound-force on a square inch, 0.0689475729… bar. Source: SP 811 B.8 prints 6.894 757 E+03 Pa; 1 bar = 1 E+05 Pa.
	PSI Pressure = pound * gravity / (inch * inch) / 1e5
	// Hectopascal is 0.001 bar. Source: SP 811 B.8, 1 bar = 1 E+05 Pa.
	Hectopascal Pressure = 0.001
	// KilojoulesPerKilocalorie is the thermochemical calorie's 4.184. Source: SP 811 B.8, exact.
	KilojoulesPerKilocalorie = 4.184

	pound   = 0.45359237 // kg
	inch    = 0.0254     // m
	foot    = 12 * inch  // m
	gravity = 9.80665    // m/s², standard gravity. Source: SP 811 B.8.
)

// A Dimension is a kind of amount. Its zero is none.
type Dimension int

// The dimensions, named with Of because the plain words are the types.
const (
	OfVolume Dimension = iota + 1
	OfMass
	OfLength
	OfDistance
	OfSpeed
	OfTemperature
	OfPressure
	OfPower
	OfVoltage
	OfFlow
	OfShare
	OfEnergy
	OfCount    // a bare number
	OfDuration // hours
)

// String is the dimension's name, as "volume"; "" for a value that is no dimension.
func (d Dimension) String() string { return d.kind().name }

// kind is what is known of d; empty for a value that is no dimension.
func (d Dimension) kind() kind {
	if d < 0 || int(d) >= len(kinds) {
		return kind{}
	}

	return kinds[d]
}

// kind is what parsing and printing know of a dimension.
type kind struct {
	name    string
	article string
	words   string // the canonical unit, spelt out
	example string
	signed  bool // a value below zero means something
	units   []unit
}

// canonical is the unit that String prints and values are kept in.
func (k kind) canonical() unit { return k.units[0] }

// A unit turns a written number into the canonical unit: (number*10^exponent - zero) * times / over.
// Powers of ten are shifted in the text, so that they cost no precision; over is there because dividing by 4.184 is
// exact where multiplying by its inverse is not.
type unit struct {
	names        []string // the first is the one to print
	exponent     int
	zero         float64
	times, over  float64
	whyNot, cure func(number string) string // set where the unit is known but refused
}

// canonical is a unit that needs no conversion.
func canonical(names ...string) unit { return unit{names: names, times: 1, over: 1} }

// decimal is a unit of 10^exponent canonical ones.
func decimal(exponent int, names ...string) unit {
	return unit{names: names, exponent: exponent, times: 1, over: 1}
}

// times is a unit of factor canonical ones.
func times(factor float64, names ...string) unit { return unit{names: names, times: factor, over: 1} }

// over is a unit of which divisor make a canonical one.
func over(divisor float64, names ...string) unit { return unit{names: names, times: 1, over: divisor} }

// fahrenheit: t/°C = (t/°F - 32)/1.8. Source: SP 811 B.8.
func fahrenheit(names ...string) unit { return unit{names: names, zero: 32, times: 1, over: 1.8} }

// eitherGallon refuses a gallon that does not say which.
func eitherGallon(name, us, imperial string) unit {
	return unit{
		names:  []string{name},
		whyNot: func(string) string { return " could be US or imperial" },
		cure: func(number string) string {
			return "write " + quote(number+" "+us) + " or " + quote(number+" "+imperial)
		},
	}
}

// noMonth refuses months where a fixed length is needed.
func noMonth() unit {
	return unit{
		names:  []string{"months", "month"},
		whyNot: func(string) string { return ": a month has no fixed length" },
		cure:   func(string) string { return "write days" },
	}
}

// toCanonical is number of the unit u, already shifted by u.exponent, in the canonical unit.
func (u unit) toCanonical(number float64) float64 { return (number - u.zero) * u.times / u.over }

// fromCanonical is value in the unit u; not always the exact inverse, so for people only.
func (u unit) fromCanonical(value float64) float64 {
	return (value/u.times*u.over + u.zero) * math.Pow10(-u.exponent)
}

// refused tells whether the unit is only known to be told why not.
func (u unit) refused() bool { return u.whyNot != nil }

// is tells whether name is one of the unit's names; folded: but for case and the number of blanks.
func (u unit) is(name string, folded bool) bool {
	for _, own := range u.names {
		if own == name || folded && strings.EqualFold(own, strings.Join(strings.Fields(name), " ")) {
			return true
		}
	}

	return false
}

// kinds is the table that drives parsing and printing. The first unit of each is the canonical one; no unit name is in two rows.
var kinds = [...]kind{
	OfVolume: {name: "volume", article: "a", words: "litres", example: "5 L", units: []unit{
		canonical("L", "l"), decimal(-3, "mL", "ml"), times(float64(USGallon), "US gal"), times(float64(ImperialGallon), "imp gal"),
		eitherGallon("gal", "US gal", "imp gal"),
	}},
	OfMass: {name: "mass", article: "a", words: "kilograms", example: "2 kg", units: []unit{
		canonical("kg"), decimal(-3, "g"), times(float64(Pound), "lb"), times(float64(Ounce), "oz"),
	}},
	OfLength: {name: "length", article: "a", words: "metres", example: "9.8 m", units: []unit{
		canonical("m"), decimal(-2, "cm"), decimal(-3, "mm"), times(float64(Foot), "ft"), times(float64(Inch), "in"),
	}},
	OfDistance: {name: "distance", article: "a", words: "nautical miles", example: "142 nm", units: []unit{
		canonical("nm"),
	}},
	OfSpeed: {name: "speed", article: "a", words: "knots", example: "5.5 kn", signed: true, units: []unit{
		canonical("kn"),
	}},
	OfTemperature: {name: "temperature", article: "a", words: "degrees Celsius", example: "82 °C", signed: true, units: []unit{
		canonical("°C", "C"), fahrenheit("°F", "F"),
	}},
	OfPressure: {name: "pressure", article: "a", words: "bar", example: "3.1 bar", units: []unit{
		canonical("bar"), times(float64(PSI), "psi"), decimal(-3, "hPa"), decimal(-2, "kPa"),
	}},
	OfPower: {name: "power", article: "a", words: "kilowatts", example: "28 kW", units: []unit{
		canonical("kW"), decimal(-3, "W"), times(float64(MechanicalHorsepower), "hp"), times(float64(MetricHorsepower), "PS"),
	}},
	OfVoltage: {name: "voltage", article: "a", words: "volts", example: "12.6 V", units: []unit{
		canonical("V"),
	}},
	OfFlow: {name: "flow", article: "a", words: "litres per hour", example: "2.4 L/h", units: []unit{
		canonical("L/h", "l/h"), times(float64(USGallon), "US gal/h"), times(float64(ImperialGallon), "imp gal/h"),
		eitherGallon("gal/h", "US gal/h", "imp gal/h"),
	}},
	OfShare: {name: "share", article: "a", words: "percent", example: "62 %", units: []unit{
		decimal(-2, "%"),
	}},
	OfEnergy: {name: "food energy", article: "a", words: "kilocalories", example: "2500 kcal", units: []unit{
		canonical("kcal"), over(KilojoulesPerKilocalorie, "kJ"), over(KilojoulesPerKilocalorie/1000, "MJ"),
	}},
	OfCount: {name: "bare number", article: "a", words: "a bare number", example: "10"},
	OfDuration: {name: "duration", article: "a", words: "hours", example: "36 h", units: []unit{
		canonical("h"), over(60, "min"), times(24, "days", "day"), over(3600, "s"),
		noMonth(),
	}},
}
