package passage

import "time"

// Trim is the shape she is in: what the bottom and a defect take from her speed.
type Trim struct {
	Fouling float64 // seen speed over clean speed, over 0, at most 1
	RPMCap  int     // no leg under engine above these revs; 0: no cap
}

// SpanKind tells a span at sea from one at anchor.
type SpanKind int

// The kinds of a span. Stays and waits both use anchor rates.
const (
	AtSea SpanKind = iota
	Stay
	Wait
)

// Span is a part of a voyage in which everything is used at a steady rate.
type Span struct {
	Kind  SpanKind
	Leg   int // at sea: this leg; in a stay or wait: the leg that ended here
	Start time.Time
	Hours float64
	Power float64 // share of the time under engine, 0 at anchor
	RPM   int     // under engine, after the cap; 0 at anchor
	Speed float64 // knots made good, 0 at anchor
}

// Voyage is a plan run in one case.
type Voyage struct {
	Case     CaseName
	Depart   time.Time
	Spans    []Span
	Hours    float64     // from departure to the last arrival, stays and waits included
	Arrivals []time.Time // at the end of each leg
	Unmade   []int       // legs that she cannot make in this case; then all else is zero
}

// Made says whether every leg can be made.
func (v Voyage) Made() bool { return len(v.Unmade) == 0 }

// Arrive is the last arrival; zero where a leg cannot be made.
func (v Voyage) Arrive() time.Time {
	if n := len(v.Arrivals); n > 0 {
		return v.Arrivals[n-1]
	}
	return time.Time{}
}
