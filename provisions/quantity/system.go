package quantity

import (
	"math"
	"strconv"
)

// System is the system of units people are shown. What is written in files may be in either.
type System int

// The systems.
const (
	Metric System = iota
	US
)

var systemNames = [...]string{Metric: "metric", US: "us"}

// ParseSystem reads "metric" or "us". The error is an *Error.
func ParseSystem(text string) (System, error) {
	for at, name := range systemNames {
		if text == name {
			return System(at), nil
		}
	}

	return Metric, refuse(text, " is no system of units", `write "metric" or "us"`)
}

// String is "metric" or "us"; a value that is no system reads as metric, as it does everywhere here.
func (s System) String() string { return systemNames[s.known()] }

// MarshalText is String.
func (s System) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText is ParseSystem; on an error s stays as it was.
func (s *System) UnmarshalText(text []byte) error {
	parsed, err := ParseSystem(string(text))
	if err != nil {
		return err
	}

	*s = parsed
	return nil
}

func (s System) known() System {
	if s == US {
		return US
	}

	return Metric
}

// A display is how one dimension is shown in one system.
type display struct {
	unit      string
	decimals  int
	wholeFrom float64 // from here on no decimals; 0: never
}

// displays: by dimension and System. Digits as one reads them on a deck: common practice, no source.
var displays = [...][2]display{
	OfVolume:      {{"L", 1, 10}, {"US gal", 1, 10}},
	OfMass:        {{"kg", 1, 0}, {"lb", 0, 0}},
	OfLength:      {{"m", 1, 0}, {"ft", 1, 0}},
	OfDistance:    {{"nm", 1, 10}, {"nm", 1, 10}},
	OfSpeed:       {{"kn", 1, 0}, {"kn", 1, 0}},
	OfTemperature: {{"°C", 0, 0}, {"°F", 0, 0}},
	OfPressure:    {{"bar", 1, 0}, {"psi", 0, 0}},
	OfPower:       {{"kW", 1, 10}, {"hp", 1, 10}},
	OfVoltage:     {{"V", 2, 0}, {"V", 2, 0}},
	OfFlow:        {{"L/h", 1, 0}, {"US gal/h", 1, 0}},
	OfShare:       {{"%", 0, 0}, {"%", 0, 0}},
	OfEnergy:      {{"kcal", 0, 0}, {"kcal", 0, 0}},
}

// shortLengths are for what is under a metre: the depth in a tank.
var shortLengths = [2]display{{"mm", 0, 0}, {"in", 1, 0}}

func displayOf(d Dimension, value float64, s System) display {
	if d == OfLength && math.Abs(value) < 1-crumb {
		return shortLengths[s.known()]
	}

	return displays[d][s.known()]
}

// rounding is the side a figure for people is rounded to.
type rounding int

const (
	nearest rounding = iota
	down
	up
)

// crumb is the relative error of a float that must not bump a rounding: 9.999999999999 L, rounded down, are 10.
const crumb = 1e-9

// show is value, in the canonical unit of d, for people.
func show(d Dimension, value float64, s System, side rounding) string {
	how := displayOf(d, value, s)
	_, u := lookUp(d, how.unit, false)
	number := u.fromCanonical(value)

	if how.wholeFrom == 0 || math.Abs(number) < how.wholeFrom {
		rounded := roundTo(number, how.decimals, side)
		if how.wholeFrom == 0 || math.Abs(rounded) < how.wholeFrom {
			return fixed(rounded, how.decimals) + " " + how.unit
		}
	}

	return fixed(roundTo(number, 0, side), 0) + " " + how.unit
}

// roundTo rounds number to a number of decimals; halves go away from zero, down is towards minus infinity.
func roundTo(number float64, decimals int, side rounding) float64 {
	scale := math.Pow10(decimals)
	scaled := number * scale
	slack := math.Abs(scaled) * crumb

	switch side {
	case down:
		return math.Floor(scaled+slack) / scale
	case up:
		return math.Ceil(scaled-slack) / scale
	default:
		return math.Round(scaled+math.Copysign(slack, scaled)) / scale
	}
}

func fixed(number float64, decimals int) string {
	if number == 0 {
		number = 0 // not "-0"
	}

	return strconv.FormatFloat(number, 'f', decimals, 64)
}
