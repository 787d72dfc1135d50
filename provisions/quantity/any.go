package quantity

import (
	"math"
	"slices"
	"strings"
	"time"
)

// Any is an amount of whichever dimension its text says, in that dimension's canonical unit (a duration: hours).
// Values below zero are taken. The zero Any is no amount.
type Any struct {
	Dimension Dimension
	Value     float64
	Typed     string // as it was typed, where that was in hPa: the air's pressure is told in no other unit
}

// ParseAny reads an amount of any dimension, as "82 °C", "3.1 bar" or "90 min". A bare number is a count; only here is it
// taken. A share may be above 100 %. The error is an *Error.
func ParseAny(text string) (Any, error) {
	dimension, value, err := parseAs(anything, text)
	if err != nil {
		return Any{}, err
	}

	a := Any{Dimension: dimension, Value: value}
	if number, air := strings.CutSuffix(strings.TrimSpace(text), airUnit); air {
		a.Typed = strings.TrimSpace(number) + " " + airUnit
	}
	return a, nil
}

const airUnit = "hPa"

// IsZero tells whether a is no amount at all; an amount of nought is one.
func (a Any) IsZero() bool { return a == Any{} }

// String is the exact value in the canonical unit (the air's in hPa), and parses to a again; "" where a is of no dimension.
func (a Any) String() string {
	switch {
	case a.Typed != "":
		return a.Typed
	case a.Dimension == OfCount:
		return plain(a.Value, 0)
	case len(a.Dimension.kind().units) == 0:
		return ""
	}

	return exact(a.Dimension, a.Value)
}

// MarshalText is String, with an error for what could not be read back, the zero Any included.
func (a Any) MarshalText() ([]byte, error) {
	text := a.String()
	if _, err := ParseAny(text); err != nil {
		return nil, err
	}

	return []byte(text), nil
}

// UnmarshalText is ParseAny; on an error a stays as it was.
func (a *Any) UnmarshalText(text []byte) error {
	parsed, err := ParseAny(string(text))
	if err != nil {
		return err
	}

	*a = parsed
	return nil
}

// In is a for people, as its dimension's In; a count as it is, a duration as Rough.
func (a Any) In(s System) string {
	switch {
	case a.Typed != "":
		return a.Typed
	case a.Dimension == OfDuration:
		return Rough(hours(a.Value))
	case a.Dimension == OfCount, len(a.Dimension.kind().units) == 0:
		return a.String()
	}

	return show(a.Dimension, a.Value, s, nearest)
}

// Told is a as it was entered, to its last digit; converted, and rounded, where the reports have other units. Of a gauge that was
// read in another unit the digits that only the conversion made are left out.
func (a Any) Told(s System) string {
	if s == US {
		return a.In(s)
	}
	if a.Typed == "" && slices.Contains([]Dimension{OfTemperature, OfPressure, OfSpeed}, a.Dimension) {
		return exact(a.Dimension, math.Round(a.Value*thousandth)/thousandth)
	}

	return a.String()
}

// thousandth is how far a gauge can be read at most.
const thousandth = 1000

// hours is h hours as a duration, held within what a duration can say.
func hours(h float64) time.Duration {
	return time.Duration(min(max(h, -maxHours), maxHours) * float64(time.Hour))
}
