package quantity

// Power is a power in kilowatts, 0 or more.
type Power float64

// ParsePower reads kW, W, hp (745.7 W), PS (735.5 W). The error is an *Error.
func ParsePower(text string) (Power, error) {
	value, err := parse(OfPower, text)
	return Power(value), err
}

// String is the exact value in the canonical unit; parsing it gives p again.
func (p Power) String() string { return exact(OfPower, float64(p)) }

// MarshalText is String, with an error for a value that could not be read back.
func (p Power) MarshalText() ([]byte, error) { return marshal(OfPower, float64(p)) }

// UnmarshalText is ParsePower; on an error p stays as it was.
func (p *Power) UnmarshalText(text []byte) error { return unmarshal(OfPower, text, p) }

// In is p for people, rounded to the nearest: kW or hp, whole from 10 on, else one decimal.
func (p Power) In(system System) string { return show(OfPower, float64(p), system, nearest) }

// Voltage is a voltage in volts, 0 or more.
type Voltage float64

// ParseVoltage reads V. The error is an *Error.
func ParseVoltage(text string) (Voltage, error) {
	value, err := parse(OfVoltage, text)
	return Voltage(value), err
}

// String is the exact value in the canonical unit; parsing it gives v again.
func (v Voltage) String() string { return exact(OfVoltage, float64(v)) }

// MarshalText is String, with an error for a value that could not be read back.
func (v Voltage) MarshalText() ([]byte, error) { return marshal(OfVoltage, float64(v)) }

// UnmarshalText is ParseVoltage; on an error v stays as it was.
func (v *Voltage) UnmarshalText(text []byte) error { return unmarshal(OfVoltage, text, v) }

// In is v for people, rounded to the nearest: V to two decimals.
func (v Voltage) In(system System) string { return show(OfVoltage, float64(v), system, nearest) }
