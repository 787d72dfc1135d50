package quantity

// Volume is an amount of liquid in litres, 0 or more.
type Volume float64

// ParseVolume reads L, mL, US gal, imp gal; a bare "gal" is refused. The error is an *Error.
func ParseVolume(text string) (Volume, error) {
	value, err := parse(OfVolume, text)
	return Volume(value), err
}

// String is the exact value in the canonical unit; parsing it gives v again.
func (v Volume) String() string { return exact(OfVolume, float64(v)) }

// MarshalText is String, with an error for a value that could not be read back.
func (v Volume) MarshalText() ([]byte, error) { return marshal(OfVolume, float64(v)) }

// UnmarshalText is ParseVolume; on an error v stays as it was.
func (v *Volume) UnmarshalText(text []byte) error { return unmarshal(OfVolume, text, v) }

// In is v for people, rounded to the nearest: L or US gal, whole from 10 on, else one decimal.
func (v Volume) In(system System) string { return show(OfVolume, float64(v), system, nearest) }

// Down is In, rounded down: for what is aboard.
func (v Volume) Down(system System) string { return show(OfVolume, float64(v), system, down) }

// Up is In, rounded up: for what is needed.
func (v Volume) Up(system System) string { return show(OfVolume, float64(v), system, up) }

// Flow is a rate of use in litres per hour, 0 or more.
type Flow float64

// ParseFlow reads L/h, US gal/h, imp gal/h; a bare "gal/h" is refused. The error is an *Error.
func ParseFlow(text string) (Flow, error) {
	value, err := parse(OfFlow, text)
	return Flow(value), err
}

// String is the exact value in the canonical unit; parsing it gives f again.
func (f Flow) String() string { return exact(OfFlow, float64(f)) }

// MarshalText is String, with an error for a value that could not be read back.
func (f Flow) MarshalText() ([]byte, error) { return marshal(OfFlow, float64(f)) }

// UnmarshalText is ParseFlow; on an error f stays as it was.
func (f *Flow) UnmarshalText(text []byte) error { return unmarshal(OfFlow, text, f) }

// In is f for people, rounded to the nearest: L/h or US gal/h, one decimal.
func (f Flow) In(system System) string { return show(OfFlow, float64(f), system, nearest) }
