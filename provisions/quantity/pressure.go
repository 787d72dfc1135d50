package quantity

// Pressure is a pressure in bar, 0 or more.
type Pressure float64

// ParsePressure reads bar, psi, hPa, kPa. The error is an *Error.
func ParsePressure(text string) (Pressure, error) {
	value, err := parse(OfPressure, text)
	return Pressure(value), err
}

// String is the exact value in the canonical unit; parsing it gives p again.
func (p Pressure) String() string { return exact(OfPressure, float64(p)) }

// MarshalText is String, with an error for a value that could not be read back.
func (p Pressure) MarshalText() ([]byte, error) { return marshal(OfPressure, float64(p)) }

// UnmarshalText is ParsePressure; on an error p stays as it was.
func (p *Pressure) UnmarshalText(text []byte) error { return unmarshal(OfPressure, text, p) }

// In is p for people, rounded to the nearest: bar to one decimal, or whole psi.
func (p Pressure) In(system System) string { return show(OfPressure, float64(p), system, nearest) }
