package checklist

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Assessment is the answer: may she go, and will what is aboard last. Screens,
// reports and JSON render it; none of them computes.
type Assessment struct {
	Boat        string
	Passage     string
	Now         time.Time
	Units       quantity.System
	Ready       bool // nothing stands in the way
	Moved       bool // the departure is not passage.toml's: it was moved at signing, or is asked for
	Conditions  []Condition
	Fouling     float64
	FoulingSeen int // readings it was taken from; 0: none, taken as clean
	Reckoning   provisions.Reckoning
	WhatIfs     provisions.WhatIfs // worst first
	Loads       []provisions.Load  // what to load where
	Blockers    []Blocker          // longest to clear first
	Weighing    []Blocker          // critical checks of the rounds before weighing that are not right: she signs with them, and does not leave
	Cautions    []Caution
	NotLooked   []CheckView // not critical, not looked at: listed, nothing more
	Uncovered   []string    // topics that no check of the sign rounds covers
	Rounds      []RoundView
	Stretches   bool // endurance is judged (a shift: told only)
	SignOff     SignOff
	Defects     []DefectView // not closed, oldest first
	Walk        Walk
	Notes       []string // worth knowing, in the way of nothing
	Stage       Stage
	Way         *Way // under way; nil: she lies

	situation provisions.Situation
}

// Outlook is what is to be known of the passage beyond whether she may go.
func (a Assessment) Outlook() provisions.Outlook { return a.situation.Outlook(a.Reckoning) }

// Shopping is the list for the food that is missing; ok is false where the departure
// gives none, or food is not reckoned.
func (a Assessment) Shopping() (list provisions.Shopping, ok bool) {
	return a.situation.Shopping(a.Reckoning)
}

// Walk is how the critical checks of the sign rounds were answered.
type Walk struct {
	Critical int           // critical checks answered by hand
	Took     time.Duration // pauses of more than ten minutes left out
}

// Assess judges the definitions, as the files have them, and the state at a moment. It
// is pure: the same input gives the same answer.
func Assess(d Definitions, s State, now time.Time) Assessment {
	d = d.AsSailed(s)
	if moved := s.movedDeparture(d); !moved.IsZero() && !d.Moved {
		d = d.At(moved)
	}
	d = d.Now(s)
	a := Assessment{
		Moved: d.Moved, Boat: d.Boat.Name, Passage: d.Plan.Name, Now: now, Units: d.Boat.Units,
		Stretches: d.Plan.Kind != passage.Shift, Defects: d.defectViews(s, now),
	}
	a.Fouling, a.FoulingSeen = s.fouling(d, now)
	aboard, troubles := s.aboard(d)
	trim := passage.Trim{Fouling: a.Fouling, RPMCap: rpmCap(a.Defects)}
	a.situation = provisions.Situation{Boat: d.Boat.Boat, Plan: d.Plan, Aboard: aboard, Trim: trim, Now: now}
	if d.underWay {
		a.situation.UnderWay, a.situation.Behind = true, s.behind(d.Whole())
		a.situation.Now = d.Plan.Depart // all is reckoned from where she was last
	}
	a.Reckoning = a.situation.Reckon()
	if planned := d.Plan.Depart; planned.Before(a.situation.Now) {
		a.Notes = append(a.Notes, fmt.Sprintf("the planned departure, %s, is past: reckoned from now", d.moment(planned)))
	}
	a.WhatIfs = a.situation.WhatIfs(a.Reckoning)
	a.Loads = a.situation.Loads(a.Reckoning)
	slow := a.Reckoning.Cases[passage.Slow].Voyage
	a.Conditions = conditionsOf(d.Plan, slow)

	g := &gate{definitions: d, state: s, now: now, slow: slow, troubles: troubles, assessment: &a}
	g.judge()
	a.SignOff = s.signOff(d, a, now)
	a.Stage = g.stage()
	a.Way = g.way()
	return a
}

// movedDeparture is the departure that `sign` moved, while that sign-off is of these
// very definitions; zero: it was not moved.
func (s State) movedDeparture(d Definitions) time.Time {
	if s.Signed == nil || !s.Signed.Moved || s.Signed.Definitions != d.Sum || s.Voyage != nil && s.Voyage.Depart.Seq > s.Signed.Seq {
		return time.Time{} // or she left with it
	}
	return s.Signed.Depart
}

// fouling is the factor on her clean speed that the last readings under way show.
func (s State) fouling(d Definitions, now time.Time) (f float64, seen int) {
	var speeds []passage.SpeedSeen
	for _, r := range s.Readings {
		if r.Doubtful || r.At.After(now) {
			continue
		}
		rpm, hasRPM := r.value("rpm", quantity.OfCount)
		speed, hasSpeed := r.value("speed", quantity.OfSpeed)
		if hasRPM && hasSpeed {
			speeds = append(speeds, passage.SpeedSeen{
				At: r.At, RPM: int(rpm), Speed: quantity.Speed(speed), UnderWay: !r.Moored, SailsDown: r.Sails == "down",
			})
		}
	}
	return passage.Fouling(d.Boat.Engine, speeds, now, d.foulingReset(now.Location()))
}

// foulingReset is when the bottom was last cleaned, as the services tell it.
func (d Definitions) foulingReset(zone *time.Location) time.Time {
	var since time.Time
	for _, service := range d.Services {
		if service.Resets != "fouling" || service.Last.Date.IsZero() {
			continue
		}
		if done := service.Last.Date.In(zone); done.After(since) {
			since = done
		}
	}
	return since
}

func (r Reading) value(of string, dimension quantity.Dimension) (float64, bool) {
	i := slices.IndexFunc(r.Values, func(v ReadingValue) bool { return v.Of == of })
	if i < 0 || r.Values[i].Value.Dimension != dimension {
		return 0, false
	}
	return r.Values[i].Value.Value, true
}

// meter is the hour-meter as it was read, oldest first.
func (s State) meter() []provisions.Meter {
	var meter []provisions.Meter
	for _, r := range s.Readings {
		if hours, has := r.value("hours", quantity.OfCount); has && !r.Doubtful {
			meter = append(meter, provisions.Meter{At: r.At, Hours: hours})
		}
	}
	return meter
}

// hoursNow is the hour-meter as last read or told with a service, or the boat file's
// opening hours.
func (s State) hoursNow(d Definitions) float64 {
	hours := d.Boat.Engine.Hours
	if meter := s.meter(); len(meter) > 0 {
		hours = meter[len(meter)-1].Hours
	}
	for _, done := range s.Services {
		hours = max(hours, done.Hours)
	}
	return hours
}
