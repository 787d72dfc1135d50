package checklist

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// Status is how a check stands at a moment.
type Status string

// The statuses of a check. Only StatusRight lets a critical check pass.
const (
	StatusRight        Status = "right"
	StatusNotRight     Status = "not right"
	StatusCouldNotLook Status = "could not look"
	StatusNotAboard    Status = "not aboard"
	StatusOpen         Status = "open"    // never answered
	StatusStale        Status = "stale"   // answered too long ago, or at a time in doubt
	StatusVoid         Status = "void"    // something happened since
	StatusWaits        Status = "waits"   // for another check to be right first
	StatusOutside      Status = "outside" // the reading is out of its limits
	StatusNotNeeded    Status = "not now" // does not apply to this passage
)

// Words are the status as a skipper reads it beside the name of a thing: "open" beside a
// seacock would say something else.
func (s Status) Words() string {
	switch s {
	case StatusOpen:
		return "not answered"
	case StatusStale:
		return "too long ago"
	case StatusOutside:
		return "out of limits"
	}
	return string(s)
}

// CheckView is a check as it stands.
type CheckView struct {
	Check
	Round, Section string
	Applies        bool
	IsCritical     bool // on this passage
	Status         Status
	Why            string       // in words, where it is not right
	Aged           bool         // only its age is against it, or that of a check it waits for
	Answer         *AnswerState // the last one; nil: none, or the program answers
	GoodUntil      time.Time    // zero: it stays good
}

// RoundView is a round as it stands.
type RoundView struct {
	Round
	Sections []SectionView
}

// SectionView is a section as it stands.
type SectionView struct {
	Section
	Key    string // in State.Closed
	Checks []CheckView
	Closed *Stamp // its closing sentence was confirmed; nil: not since its last answer
}

// judge is what all checks of one assessment are judged by.
type judge struct {
	definitions Definitions
	state       State
	now         time.Time
	conditions  []Condition
	automatic   func(Automatic) (right bool, why string)
	limits      func(Range) (lo, hi *quantity.Any)
}

// conditionsOf are the circumstances of a passage. Where no position is known, or
// she cannot make a leg, it is taken to be night.
func conditionsOf(plan passage.Plan, slow passage.Voyage) []Condition {
	var list []Condition
	if plan.Crew == 1 {
		list = append(list, SingleHanded)
	}
	dark, known := false, false
	if slow.Made() {
		dark, known = passage.DarkOnVoyage(plan, slow)
	}
	if dark || !known {
		list = append(list, Night)
	}
	if plan.Kind == passage.Offshore {
		list = append(list, OffshoreLeg)
	}
	return list
}

func (j judge) anyOf(list []Condition) bool {
	return slices.ContainsFunc(list, func(c Condition) bool { return slices.Contains(j.conditions, c) })
}

func (j judge) applies(c Check) bool    { return len(c.Only) == 0 || j.anyOf(c.Only) }
func (j judge) isCritical(c Check) bool { return c.Critical || j.anyOf(c.CritWhen) }

// rounds judges every check of the rounds that belong to this kind of passage.
func (j judge) rounds() []RoundView {
	var views []RoundView
	for _, r := range j.definitions.Rounds {
		if r.IsKind(j.definitions.Plan.Kind) {
			views = append(views, j.round(r))
		}
	}
	return views
}

func (j judge) round(r Round) RoundView {
	view := RoundView{Round: r}
	var all walk
	for _, s := range r.Sections {
		section := SectionView{Section: s, Key: SectionKey(r.Name, s.Name), Checks: make([]CheckView, 0, len(s.Checks))}
		for _, c := range s.Checks {
			section.Checks = append(section.Checks, j.check(r, s, c))
		}
		for i := range section.Checks {
			all = append(all, &section.Checks[i])
		}
		section.Closed = j.closing(section)
		view.Sections = append(view.Sections, section)
	}
	all.wait()
	return view
}

// closing is the confirmation of the section's last sentence, if it came after
// every answer that counts in it.
func (j judge) closing(s SectionView) *Stamp {
	stamp, said := j.state.Closed[s.Key]
	if !said {
		return nil
	}
	for _, c := range s.Checks {
		if c.Applies && c.Automatic == nil && (c.Answer == nil || c.Answer.Seq > stamp.Seq || c.Status == StatusStale || c.Status == StatusVoid) {
			return nil
		}
	}
	return &stamp
}

// walk is the checks of a round in walking order.
type walk []*CheckView

// wait marks the checks whose forerunners are not right: their answer does not
// count. It runs until nothing changes, since a waiting check holds others back.
func (w walk) wait() {
	var waiting walk
	for changed := true; changed; {
		changed = false
		for _, c := range w {
			if c.Status == StatusRight && w.firstBefore(c) != nil {
				c.Status = StatusWaits
				waiting = append(waiting, c)
				changed = true
			}
		}
	}
	for _, c := range waiting {
		c.Why = fmt.Sprintf("%s must be right first", w.firstBefore(c).ID)
		c.Aged = w.onlyAged(c, len(w))
	}
}

// before are the forerunners of a check that hold it back.
func (w walk) before(c *CheckView) walk {
	if len(c.After) == 0 {
		return nil
	}
	var list walk
	for _, other := range w {
		if slices.Contains(c.After, other.ID) && other.Status != StatusRight && other.Status != StatusNotNeeded {
			list = append(list, other)
		}
	}
	return list
}

func (w walk) firstBefore(c *CheckView) *CheckView {
	if list := w.before(c); len(list) > 0 {
		return list[0]
	}
	return nil
}

// onlyAged says that nothing but age is against the checks it waits for, through at
// most so many of them (a circle of checks is a mistake of the file, not a loop here).
func (w walk) onlyAged(c *CheckView, most int) bool {
	if c.Status != StatusWaits || most == 0 {
		return c.Aged
	}
	for _, other := range w.before(c) {
		if !w.onlyAged(other, most-1) {
			return false
		}
	}
	return true
}

func (j judge) check(r Round, s Section, c Check) CheckView {
	view := CheckView{Check: c, Round: r.Name, Section: s.Name, Applies: j.applies(c), IsCritical: j.isCritical(c)}
	if !view.Applies {
		view.Status = StatusNotNeeded
		return view
	}
	if c.Automatic != nil {
		view.Status = StatusRight
		if right, why := j.automatic(*c.Automatic); !right {
			view.Status, view.Why = StatusNotRight, why
		}
		return view
	}
	answer, answered := j.state.Answers[c.ID]
	if !answered {
		view.Status, view.Why = StatusOpen, "not answered"
		return view
	}
	view.Answer = &answer
	if !c.GoodFor.IsZero() {
		view.GoodUntil = c.GoodFor.After(answer.At)
	}
	view.Status, view.Why = j.answered(c, answer, view.GoodUntil)
	view.Aged = view.Status == StatusStale && !answer.Doubtful && !answer.At.After(j.now)
	return view
}

// answered judges an answer at this moment. What is not right stays so until it is
// answered again, however old it is.
func (j judge) answered(c Check, a AnswerState, goodUntil time.Time) (Status, string) {
	if status, why := j.worded(c, a); status != StatusRight {
		return status, why
	}
	if a.Doubtful {
		return StatusStale, "answered while the clock was in doubt"
	}
	if a.At.After(j.now) {
		return StatusStale, fmt.Sprintf("answered at %s, which is still to come", j.definitions.moment(a.At))
	}
	for _, what := range c.VoidBy {
		if event, happened := j.state.Events[what]; happened && event.Seq > a.Seq {
			return StatusVoid, fmt.Sprintf("%s since it was answered", what)
		}
	}
	if !goodUntil.IsZero() && j.now.After(goodUntil) {
		return StatusStale, fmt.Sprintf("answered %s ago, good for %s", quantity.Rough(j.now.Sub(a.At)), c.GoodFor)
	}
	return StatusRight, ""
}

// worded is what the answer itself says, its age apart.
func (j judge) worded(c Check, a AnswerState) (Status, string) {
	switch a.Answer.Answer {
	case NotRight:
		if c.Reading == nil {
			return StatusNotRight, orElse(a.Why, "not right")
		}
	case CouldNotLook:
		return StatusCouldNotLook, orElse(a.Why, "could not look")
	case NotAboard:
		return StatusNotAboard, orElse(a.Why, "not aboard")
	case Right:
		if c.Reading == nil && c.Say != "" && a.Say == "" {
			return StatusOpen, "its word of evidence was not asked for when it was answered"
		}
	default:
		return StatusOpen, "its answer is none of the four"
	}
	if c.Reading == nil {
		return StatusRight, ""
	}
	if a.Value == nil {
		return StatusOpen, "no value was entered"
	}
	if outside := j.outside(*c.Reading, *a.Value); outside != "" {
		return StatusOutside, outside
	}
	return StatusRight, ""
}

// outside is why a value does not lie within the limits; "" if it does, limits included.
func (j judge) outside(r Range, v quantity.Any) string {
	lo, hi := j.limits(r)
	switch {
	case lo != nil && v.Dimension != lo.Dimension, hi != nil && v.Dimension != hi.Dimension:
		return fmt.Sprintf("%s is not a value of %s", v, r.Of)
	case lo != nil && v.Value < lo.Value:
		return fmt.Sprintf("%s is below %s", v, lo)
	case hi != nil && v.Value > hi.Value:
		return fmt.Sprintf("%s is above %s", v, hi)
	}
	return ""
}

// moment is how a moment is told: the day and the time in the departure's offset, which
// is the time kept aboard.
func (d Definitions) moment(t time.Time) string {
	return t.In(d.Plan.Depart.Location()).Format("2 Jan 15:04")
}

func orElse(text, instead string) string {
	if text == "" {
		return instead
	}
	return text
}
