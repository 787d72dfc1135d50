package quantity

// Temperature is a temperature in degrees Celsius, of either sign.
type Temperature float64

// ParseTemperature reads °C or C, °F or F, of either sign. The error is an *Error.
func ParseTemperature(text string) (Temperature, error) {
	value, err := parse(OfTemperature, text)
	return Temperature(value), err
}

// String is the exact value in the canonical unit; parsing it gives t again.
func (t Temperature) String() string { return exact(OfTemperature, float64(t)) }

// MarshalText is String, with an error for a value that could not be read back.
func (t Temperature) MarshalText() ([]byte, error) { return marshal(OfTemperature, float64(t)) }

// UnmarshalText is ParseTemperature; on an error t stays as it was.
func (t *Temperature) UnmarshalText(text []byte) error { return unmarshal(OfTemperature, text, t) }

// In is t for people, rounded to the nearest: whole °C or °F.
func (t Temperature) In(system System) string {
	return show(OfTemperature, float64(t), system, nearest)
}
