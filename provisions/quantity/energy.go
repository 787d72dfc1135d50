package quantity

// Energy is food energy in kilocalories (thermochemical), 0 or more.
type Energy float64

// ParseEnergy reads kcal, kJ, MJ. The error is an *Error.
func ParseEnergy(text string) (Energy, error) {
	value, err := parse(OfEnergy, text)
	return Energy(value), err
}

// String is the exact value in the canonical unit; parsing it gives e again.
func (e Energy) String() string { return exact(OfEnergy, float64(e)) }

// MarshalText is String, with an error for a value that could not be read back.
func (e Energy) MarshalText() ([]byte, error) { return marshal(OfEnergy, float64(e)) }

// UnmarshalText is ParseEnergy; on an error e stays as it was.
func (e *Energy) UnmarshalText(text []byte) error { return unmarshal(OfEnergy, text, e) }

// In is e for people, rounded to the nearest: whole kcal in both systems.
func (e Energy) In(system System) string { return show(OfEnergy, float64(e), system, nearest) }
