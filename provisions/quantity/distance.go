package quantity

// Length is a length aboard in metres, 0 or more.
type Length float64

// ParseLength reads m, cm, mm, ft, in. The error is an *Error.
func ParseLength(text string) (Length, error) {
	value, err := parse(OfLength, text)
	return Length(value), err
}

// String is the exact value in the canonical unit; parsing it gives l again.
func (l Length) String() string { return exact(OfLength, float64(l)) }

// MarshalText is String, with an error for a value that could not be read back.
func (l Length) MarshalText() ([]byte, error) { return marshal(OfLength, float64(l)) }

// UnmarshalText is ParseLength; on an error l stays as it was.
func (l *Length) UnmarshalText(text []byte) error { return unmarshal(OfLength, text, l) }

// In is l for people, rounded to the nearest: m or ft to one decimal; under a metre whole mm, or inches to one decimal.
func (l Length) In(system System) string { return show(OfLength, float64(l), system, nearest) }

// Down is In, rounded down: for what is aboard.
func (l Length) Down(system System) string { return show(OfLength, float64(l), system, down) }

// Up is In, rounded up: for what is needed.
func (l Length) Up(system System) string { return show(OfLength, float64(l), system, up) }

// Distance is a way over the sea in nautical miles, 0 or more.
type Distance float64

// ParseDistance reads nm. The error is an *Error.
func ParseDistance(text string) (Distance, error) {
	value, err := parse(OfDistance, text)
	return Distance(value), err
}

// String is the exact value in the canonical unit; parsing it gives d again.
func (d Distance) String() string { return exact(OfDistance, float64(d)) }

// MarshalText is String, with an error for a value that could not be read back.
func (d Distance) MarshalText() ([]byte, error) { return marshal(OfDistance, float64(d)) }

// UnmarshalText is ParseDistance; on an error d stays as it was.
func (d *Distance) UnmarshalText(text []byte) error { return unmarshal(OfDistance, text, d) }

// In is d for people, rounded to the nearest: nm in both systems, whole from 10 on, else one decimal.
func (d Distance) In(system System) string { return show(OfDistance, float64(d), system, nearest) }

// Down is In, rounded down: for what is aboard.
func (d Distance) Down(system System) string { return show(OfDistance, float64(d), system, down) }

// Up is In, rounded up: for what is needed.
func (d Distance) Up(system System) string { return show(OfDistance, float64(d), system, up) }

// Speed is a speed in knots; below zero for a foul current.
type Speed float64

// ParseSpeed reads kn, of either sign. The error is an *Error.
func ParseSpeed(text string) (Speed, error) {
	value, err := parse(OfSpeed, text)
	return Speed(value), err
}

// String is the exact value in the canonical unit; parsing it gives s again.
func (s Speed) String() string { return exact(OfSpeed, float64(s)) }

// MarshalText is String, with an error for a value that could not be read back.
func (s Speed) MarshalText() ([]byte, error) { return marshal(OfSpeed, float64(s)) }

// UnmarshalText is ParseSpeed; on an error s stays as it was.
func (s *Speed) UnmarshalText(text []byte) error { return unmarshal(OfSpeed, text, s) }

// In is s for people, rounded to the nearest: kn in both systems, one decimal.
func (s Speed) In(system System) string { return show(OfSpeed, float64(s), system, nearest) }
