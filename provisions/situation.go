package provisions

import (
	"time"

	"boat/hoveshort/provisions/passage"
)

// Situation is all that an answer hangs on: the same situation gives the same
// answer. What-ifs are situations with something changed.
type Situation struct {
	Boat   Boat
	Plan   passage.Plan
	Aboard Aboard
	Trim   passage.Trim
	Now    time.Time

	UnderWay bool          // the plan is what is left of one that she is on
	Behind   []passage.Leg // then: the way back to where she left, from there on; empty: it is not known
}

// Reckon reckons the plan itself.
func (s Situation) Reckon() Reckoning {
	return Reckon(s.Boat, s.Plan, s.Aboard, s.Trim, s.Now)
}

// Outlook is what is to be known of a passage beyond whether it can be made: where
// she can still turn back, how far the engine takes her, when to leave for arrivals
// by day, and what is left day by day. All is empty where no case makes every leg.
type Outlook struct {
	Turning  []Turning  // leg by leg, in each the things in their fixed order
	OnOrBack []OnOrBack // one a leg
	Range    []RangeRow // one a row of the engine's curve; none without a curve
	Windows  []Window   // one a leg of which the end is known
	Left     []Left     // the things in their fixed order, of each the slow and the expected case where they make every leg
}

// Turning is the last moment for turning back, leg by leg and thing by thing: of the outlook
// what is wanted oftenest, and cheap.
func (s Situation) Turning(r Reckoning) []Turning {
	if r.Verdict == "" {
		return nil
	}
	return s.turning(r)
}

// Outlook is the outlook of the situation that r was reckoned for.
func (s Situation) Outlook(r Reckoning) Outlook {
	if r.Verdict == "" {
		return Outlook{}
	}
	return Outlook{
		Turning:  s.Turning(r),
		OnOrBack: s.onOrBack(r),
		Range:    s.ranges(r),
		Windows:  s.windows(r),
		Left:     s.left(r),
	}
}
