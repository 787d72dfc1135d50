package checklist

import (
	"slices"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Gauging is one thing in the history of a tank: a sounding, or what came in or went out.
type Gauging struct {
	Stamp
	Level  string // of a sounding, as typed; "": something was moved
	Amount string // that was moved, as typed
	Out    bool   // to another tank
}

// mostSoundings is how many soundings of a tank its history holds.
const mostSoundings = 24

// gauge adds to the history of a tank, and drops what is older than its last soundings. What
// was moved before the first sounding tells nothing.
func (s *State) gauge(tank string, g Gauging) {
	state := s.Tanks[tank]
	if g.Level == "" && len(state.History) == 0 {
		return
	}
	history := append(slices.Clip(state.History), g)
	soundings := 0
	for i, h := range slices.Backward(history) {
		if h.Level == "" {
			continue
		}
		if soundings++; soundings == mostSoundings {
			history = history[i:]
			break
		}
	}
	state.History = history
	s.Tanks[tank] = state
}

// Voyage is a passage from its departure: the one she is on, or was on last.
type Voyage struct {
	Depart  DepartState
	Reason  DepartState   // why she left unsigned, where it was told later; zero: not told
	Noons   []NoonState   // oldest first; none once it is closed
	Changes []ChangeState // the same
	Arrived *ArriveState  // nil: under way
	Closed  *ArriveState  // nil: not closed
}

// DepartState is a departure and when it was told.
type DepartState struct {
	Stamp
	Depart
}

// NoonState is a noon and when it was told.
type NoonState struct {
	Stamp
	Noon
}

// ChangeState is a change of plan and when it was told.
type ChangeState struct {
	Stamp
	Change
}

// ArriveState is an arrival, or a closing, and when it was told.
type ArriveState struct {
	Stamp
	Arrive
}

// Moment is when she came in.
func (a ArriveState) Moment() time.Time {
	if a.When.IsZero() {
		return a.At
	}
	return a.When
}

// UnderWay says that she has left and not come in yet.
func (v *Voyage) UnderWay() bool { return v != nil && v.Arrived == nil }

// IsUnsigned says that she left without a sign-off.
func (v *Voyage) IsUnsigned() bool { return v != nil && v.Depart.Sign == 0 }

// Sailing is when she left, and when she came in.
type Sailing struct {
	Depart DepartState
	Arrive *ArriveState // nil: under way, or it was never told
}

// mostSailings is how many departures are remembered to tell the sea from the anchorage.
const mostSailings = 6

func (s *State) applyPassage(stamp Stamp, act Act) {
	switch a := act.(type) {
	case Depart:
		s.depart(DepartState{stamp, a})
	case Noon:
		s.noon(NoonState{stamp, a})
	case Change:
		if s.Voyage.UnderWay() {
			s.Voyage.Changes = append(slices.Clip(s.Voyage.Changes), ChangeState{stamp, a})
		}
	case Arrive:
		s.arrive(ArriveState{stamp, a})
	}
}

func (s *State) depart(d DepartState) {
	if d.Of > 0 {
		if s.Voyage != nil && s.Voyage.Depart.Seq == d.Of {
			s.Voyage.Reason = d
		}
		return
	}
	s.Voyage = &Voyage{Depart: d}
	s.Sailings = append(slices.Clip(s.Sailings), Sailing{Depart: d})
	s.Sailings = s.Sailings[max(0, len(s.Sailings)-mostSailings):]
}

// noon keeps what was read and sounded whether she is under way or not.
func (s *State) noon(n NoonState) {
	s.tookDown(n.Stamp, n.Hours, n.Levels)
	if s.Voyage.UnderWay() {
		s.Voyage.Noons = append(slices.Clip(s.Voyage.Noons), n)
	}
}

// tookDown are the hour-meter and the soundings of a noon or an arrival.
func (s *State) tookDown(stamp Stamp, hours float64, levels []TankLevel) {
	if hours > 0 {
		meter := quantity.Any{Value: hours, Dimension: quantity.OfCount}
		s.Readings = append(s.Readings, ReadingState{stamp, Reading{Values: []ReadingValue{{"hours", meter}}}})
	}
	for _, l := range levels {
		s.sound(stamp, l)
	}
}

func (s *State) arrive(a ArriveState) {
	s.tookDown(a.Stamp, a.Hours, a.Levels)
	if s.Voyage == nil {
		return
	}
	if s.Voyage.Arrived == nil {
		s.Voyage.Arrived = &a
		for i := range s.Sailings {
			if s.Sailings[i].Depart.Seq == s.Voyage.Depart.Seq {
				s.Sailings = slices.Clone(s.Sailings)
				s.Sailings[i].Arrive = &a
			}
		}
	}
	if a.Close && s.Voyage.Closed == nil {
		s.Voyage.Closed = &a
		s.Voyage.Noons, s.Voyage.Changes = nil, nil // they stay on their page
	}
}

// voyageStamps are the entries that the passage stands on.
func (s State) voyageStamps() []Stamp {
	var stamps []Stamp
	for _, sailing := range s.Sailings {
		stamps = append(stamps, sailing.Depart.Stamp)
		if sailing.Arrive != nil {
			stamps = append(stamps, sailing.Arrive.Stamp)
		}
	}
	v := s.Voyage
	if v == nil {
		return stamps
	}
	stamps = append(stamps, v.Depart.Stamp, v.Reason.Stamp)
	for _, n := range v.Noons {
		stamps = append(stamps, n.Stamp)
	}
	for _, c := range v.Changes {
		stamps = append(stamps, c.Stamp)
	}
	for _, a := range []*ArriveState{v.Arrived, v.Closed} {
		if a != nil {
			stamps = append(stamps, a.Stamp)
		}
	}
	return stamps
}
