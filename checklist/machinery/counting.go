package machinery

import (
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Counts is how many of the spare really count: new, the kit whole, and of a
// critical spare known to fit. A used one came out because its time was up.
// Common practice, no source.
func (s Spare) Counts() int {
	n := 0
	for _, stowed := range s.Stowed {
		if s.counts(stowed) {
			n += stowed.Count
		}
	}
	return n
}

func (s Spare) counts(stowed Stowed) bool {
	if stowed.Condition != New || s.Critical && stowed.Fit == Unknown {
		return false
	}
	for _, part := range s.With {
		if !slices.Contains(stowed.Has, part) {
			return false
		}
	}
	return true
}

// Lacks is how many more of the spare a passage of this kind asks for.
func (s Spare) Lacks(kind passage.Kind) int { return max(0, s.Need[kind]-s.Counts()) }

// WhyNot tells what lies aboard and does not count, one phrase a place.
func (s Spare) WhyNot() []string {
	var why []string
	for _, stowed := range s.Stowed {
		if stowed.Count == 0 || s.counts(stowed) {
			continue
		}
		why = append(why, s.fault(stowed)+" in "+stowed.Place)
	}
	return why
}

func (s Spare) fault(stowed Stowed) string {
	if stowed.Condition != New {
		return "one " + string(stowed.Condition)
	}
	for _, part := range s.With {
		if !slices.Contains(stowed.Has, part) {
			return "one without its " + part
		}
	}
	return "one of unknown fit"
}

// Due is when a service is next due. Hours is of the hour-meter, 0: not by hours;
// Date is zero where it is not by calendar. Whichever comes first holds. What was
// never done is due at once.
type Due struct {
	NeverDone bool
	Hours     float64
	Date      quantity.Date
}

// Due is when the service is next due: the same day of the month, the month's last
// day where there is none.
func (s Service) Due() Due {
	if s.EveryHours == 0 && s.EveryMonths == 0 {
		return Due{}
	}
	if s.Last == (Done{}) {
		return Due{NeverDone: true}
	}
	var due Due
	if s.EveryHours > 0 {
		due.Hours = s.Last.Hours + s.EveryHours
	}
	if s.EveryMonths > 0 {
		due.Date = s.Last.Date.AddMonths(s.EveryMonths)
	}
	return due
}

// By says whether the service is due at these engine hours or on this date; on the
// very hour or day it is.
func (d Due) By(hours float64, on quantity.Date) bool {
	return d.NeverDone || d.Hours > 0 && hours >= d.Hours || !d.Date.IsZero() && !d.Date.After(on)
}

// Ends says whether dated gear no longer counts at a moment: its last day is over,
// in that moment's own offset. Gear without a date is missing.
func (d Dated) Ends(at time.Time) bool {
	return d.Until.IsZero() || quantity.DateOf(at).After(d.Until)
}
