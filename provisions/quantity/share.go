package quantity

// Share is a part of a whole, 0 to 1; its text is in percent: "62 %" is 0.62.
type Share float64

// ParseShare reads %, from 0 to 100; "0.62" is refused. The error is an *Error.
func ParseShare(text string) (Share, error) {
	value, err := parse(OfShare, text)
	return Share(value), err
}

// String is the exact value in the canonical unit; parsing it gives s again.
func (s Share) String() string { return exact(OfShare, float64(s)) }

// MarshalText is String, with an error for a value that could not be read back.
func (s Share) MarshalText() ([]byte, error) { return marshal(OfShare, float64(s)) }

// UnmarshalText is ParseShare; on an error s stays as it was.
func (s *Share) UnmarshalText(text []byte) error { return unmarshal(OfShare, text, s) }

// In is s for people, rounded to the nearest: whole percent.
func (s Share) In(system System) string { return show(OfShare, float64(s), system, nearest) }
