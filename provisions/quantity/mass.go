package quantity

// Mass is a mass in kilograms, 0 or more.
type Mass float64

// ParseMass reads kg, g, lb, oz. The error is an *Error.
func ParseMass(text string) (Mass, error) {
	value, err := parse(OfMass, text)
	return Mass(value), err
}

// String is the exact value in the canonical unit; parsing it gives m again.
func (m Mass) String() string { return exact(OfMass, float64(m)) }

// MarshalText is String, with an error for a value that could not be read back.
func (m Mass) MarshalText() ([]byte, error) { return marshal(OfMass, float64(m)) }

// UnmarshalText is ParseMass; on an error m stays as it was.
func (m *Mass) UnmarshalText(text []byte) error { return unmarshal(OfMass, text, m) }

// In is m for people, rounded to the nearest: kg to one decimal, or whole lb.
func (m Mass) In(system System) string { return show(OfMass, float64(m), system, nearest) }

// Down is In, rounded down: for what is aboard.
func (m Mass) Down(system System) string { return show(OfMass, float64(m), system, down) }

// Up is In, rounded up: for what is needed.
func (m Mass) Up(system System) string { return show(OfMass, float64(m), system, up) }
