package checklist

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// ExceptionReview is a caution that was accepted, and what became of it, as far as the record tells.
type ExceptionReview struct {
	SignedException
	Became string
	Came   *bool // what was warned of came; nil: the record does not tell
}

// DefectReview is a defect that was opened from the sign-off on.
type DefectReview struct {
	Defect
	Closed bool // by the end of the passage's entries
}

// RefusedCheck is a check that was not right at first, and right when she was signed off or left.
type RefusedCheck struct {
	Check  string
	Ask    string // "" where today's files do not know it
	Answer AnswerWord
	Why    string
	At     time.Time
	Times  int // how often it was not right before it was
}

// refusedAtFirst are the checks that were answered otherwise than right, and then right, before she left.
func refusedAtFirst(d Definitions, p Sailed) []RefusedCheck {
	var list []RefusedCheck
	find := func(id string) int { return slices.IndexFunc(list, func(r RefusedCheck) bool { return r.Check == id }) }
	righted := map[string]bool{}
	for _, e := range p.Entries {
		a, is := e.Act.(Answer)
		if e.Seq >= p.Depart.Seq || !is || a.Answer == SectionDone {
			continue
		}
		at := find(a.Check)
		switch {
		case a.Answer == Right:
			righted[a.Check] = true
		case at >= 0:
			list[at].Times++
			righted[a.Check] = false
		default:
			list = append(list, RefusedCheck{Check: a.Check, Ask: d.askOf(a.Check), Answer: a.Answer, Why: a.Why, At: e.At, Times: 1})
			righted[a.Check] = false
		}
	}
	return slices.DeleteFunc(list, func(r RefusedCheck) bool { return !righted[r.Check] })
}

// askOf is how a check is asked; "": these files do not know it.
func (d Definitions) askOf(id string) string {
	for _, r := range d.Rounds {
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				if c.ID == id {
					return c.Ask
				}
			}
		}
	}
	return ""
}

// happened are the defects opened from the sign-off on, the services done, the changes of plan, and what was told at
// the end to have failed.
func (p Sailed) happened() (defects []DefectReview, services []ServiceState, changes []ChangeState, failed []string) {
	begun := p.Depart.Seq
	if p.Sign != nil {
		begun = p.Sign.Seq
	}
	for _, e := range p.since(begun) {
		switch a := e.Act.(type) {
		case Answer:
			if a.Answer == NotRight && a.Grade != "" {
				defects = append(defects, DefectReview{Defect: Defect{Stamp: e.stamp(), Check: a.Check, What: orElse(a.Why, a.Check), Grade: a.Grade}})
			}
		case DefectAct:
			switch {
			case a.Close > 0:
				closeDefect(defects, a.Close)
			case a.Of == 0:
				defects = append(defects, DefectReview{Defect: Defect{Stamp: e.stamp(), What: a.What, Grade: a.Grade, RPM: a.RPM}})
			}
		case ServiceDone:
			services = append(services, ServiceState{e.stamp(), a})
		case Change:
			changes = append(changes, ChangeState{e.stamp(), a})
		case Arrive:
			failed = withoutTwice(failed, a.Failed)
		}
	}
	return defects, services, changes, failed
}

func closeDefect(defects []DefectReview, seq int) {
	for i := range defects {
		if defects[i].Seq == seq {
			defects[i].Closed = true
		}
	}
}

func withoutTwice(list, more []string) []string {
	for _, m := range more {
		if !slices.Contains(list, m) {
			list = append(list, m)
		}
	}
	return list
}

// exceptionReviews tell what became of what was accepted.
func exceptionReviews(d Definitions, r PassageReview) []ExceptionReview {
	if r.Sign == nil {
		return nil
	}
	var list []ExceptionReview
	for _, e := range r.Sign.Exceptions {
		became := ExceptionReview{SignedException: e, Became: "the record tells no more of it"}
		matter, name, _ := strings.Cut(e.ID, ":")
		switch Matter(matter) {
		case MatterDaylight:
			became.inTheDark(d, r, name)
		case MatterCheck:
			became.ofCheck(r, name)
		case MatterService:
			became.ofService(r, name)
		case MatterDefect:
			became.ofDefect(r, name)
		case MatterWhatIf:
			became.ofWhatIf(r, name)
		}
		list = append(list, became)
	}
	return list
}

func (e *ExceptionReview) tell(came bool, format string, args ...any) {
	e.Came, e.Became = &came, fmt.Sprintf(format, args...)
}

// inTheDark holds the arrival against the sun there, by the kept files.
func (e *ExceptionReview) inTheDark(d Definitions, r PassageReview, place string) {
	i := legTo(d.Plan.Legs, place, 0)
	switch {
	case r.Time.Arrive.IsZero():
		return
	case r.Time.Place != "" && r.Time.Place != place:
		e.Became = "she came in at " + r.Time.Place
		return
	case !r.HasKept || i < 0:
		e.Became = "she came in at " + r.Time.Arrive.Format("15:04") + "; where it is, and so the sun, is not known any more"
		return
	}
	arrival := passage.ArrivalAt(d.Plan.Legs[i], r.Time.Arrive.In(d.Plan.Depart.Location()))
	switch at := arrival.At.Format("Mon 2 Jan 15:04"); {
	case !arrival.Known:
		e.Became = "she came in " + at + "; where it lies was not written"
	case arrival.ByDay:
		e.tell(false, "did not come: she came in by day, %s", at)
	default:
		e.tell(true, "came: she came in %s, not by day", at)
	}
}

// ofCheck is what became of a check that was not right: a defect of it on the way, or its next answer.
func (e *ExceptionReview) ofCheck(r PassageReview, id string) {
	for _, d := range r.Defects {
		if d.Check == id {
			e.tell(true, "came: entry %d, %s", d.Seq, d.What)
			return
		}
	}
	for _, entry := range r.since(r.Sign.Seq) {
		if a, is := entry.Act.(Answer); is && a.Check == id {
			e.Became = fmt.Sprintf("answered again in entry %d: %s", entry.Seq, a.Answer)
		}
	}
}

func (e *ExceptionReview) ofService(r PassageReview, name string) {
	for _, s := range r.Services {
		if s.Service == name {
			e.Became = fmt.Sprintf("done in entry %d", s.Seq)
			return
		}
	}
	e.Became = "not done by the end of the passage"
}

func (e *ExceptionReview) ofDefect(r PassageReview, number string) {
	of, _ := strconv.Atoi(number)
	for _, entry := range r.since(r.Sign.Seq) {
		a, is := entry.Act.(DefectAct)
		switch {
		case !is || of == 0:
		case a.Close == of:
			e.Became = fmt.Sprintf("closed in entry %d%s", entry.Seq, because(a.Why))
			return
		case a.Of == of:
			e.Became = fmt.Sprintf("entry %d told more of it%s", entry.Seq, because(orElse(a.Why, string(a.Grade))))
		}
	}
}

// failing are the words by which what failed is told to be what was warned of.
var failing = map[provisions.Contingency][]string{
	provisions.FullestTankLost: {"tank"},
	provisions.WatermakerDead:  {"watermaker"},
	provisions.NoEngine:        {"engine"},
	provisions.FridgeDead:      {"fridge"},
	provisions.GasGone:         {"gas", "stove"},
}

// ofWhatIf says that it happened only where something that was told to have failed has its name in it.
func (e *ExceptionReview) ofWhatIf(r PassageReview, name string) {
	if name == string(provisions.FifthSlower) {
		e.slower(r)
		return
	}
	for _, change := range r.Changes {
		if change.To != "" && name == string(provisions.DivertTo)+" "+change.To {
			e.tell(true, "came: entry %d, %s", change.Seq, change.What)
			return
		}
	}
	told := slices.Clone(r.Failed)
	for _, d := range r.Defects {
		told = append(told, d.What)
	}
	for _, word := range failing[provisions.Contingency(name)] {
		for _, t := range told {
			if strings.Contains(strings.ToLower(t), word) {
				e.Became = "told on the way: " + t
				return
			}
		}
	}
	e.Became = "nothing of it was told"
}

// slower holds the time against a fifth more than the expected case.
func (e *ExceptionReview) slower(r PassageReview) {
	expected := r.Time.Case(passage.Expected)
	if expected == nil || r.Time.Days == nil {
		return
	}
	took := *r.Time.Days * dayHours
	if took >= expected.Hours/0.8 {
		e.tell(true, "came: she took %.1f days, expected were %.1f", took/dayHours, expected.Hours/dayHours)
		return
	}
	e.tell(false, "did not come: she took %.1f days, expected were %.1f", took/dayHours, expected.Hours/dayHours)
}
