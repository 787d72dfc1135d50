package checklist

import (
	"slices"
	"time"

	"boat/hoveshort/provisions/quantity"
)

// Walking a round: its steps in order, at which of them a walk stops, and how one that was broken off goes on. The screens
// and the line mode walk by it alike.

// How a walk goes on after a pause. Design, section 5; NewWalk is ours.
const (
	LongPause    = 10 * time.Minute // from here on the last check is asked again
	SectionPause = 30 * time.Minute // and a section that is done and ticked, from its start
	NewWalk      = 12 * time.Hour   // an older answer belongs to another walk
)

// Step is one thing to do in a round.
type Step struct {
	Section SectionView
	Number  int        // of the section, from 1
	Check   *CheckView // nil: the section is to be closed
}

// Key names the step within its round; "" names none, and stands for what remains at the end.
func (s Step) Key() string {
	if s.Check == nil {
		return "closing " + s.Section.Name
	}
	return "check " + s.Check.ID
}

// Seq is the entry that answers the step; 0: none.
func (s Step) Seq() int {
	switch {
	case s.Check == nil && s.Section.Closed != nil:
		return s.Section.Closed.Seq
	case s.Check != nil && s.Check.Answer != nil:
		return s.Check.Answer.Seq
	}
	return 0
}

// Round is the round of that name; an empty one, if none of this passage has it.
func (a Assessment) Round(name string) RoundView {
	i := slices.IndexFunc(a.Rounds, func(r RoundView) bool { return r.Name == name })
	if i < 0 {
		return RoundView{}
	}
	return a.Rounds[i]
}

// RoundsInOrder are the rounds in the order in which a passage needs them.
func (a Assessment) RoundsInOrder() []RoundView {
	order := []Purpose{ForSign, ForWeigh, ForUnderWay, ForArrival, ForAny}
	return slices.SortedStableFunc(slices.Values(a.Rounds), func(a, b RoundView) int {
		return slices.Index(order, a.For) - slices.Index(order, b.For)
	})
}

// Applying are the checks of a round that apply to this passage, in walking order.
func (r RoundView) Applying() []CheckView {
	var list []CheckView
	for _, s := range r.Sections {
		for _, c := range s.Checks {
			if c.Applies {
				list = append(list, c)
			}
		}
	}
	return list
}

// LastAnswered is the check that was answered last; nil: none ever was.
func (r RoundView) LastAnswered() *CheckView {
	var last *CheckView
	for _, c := range r.Applying() {
		if c.Answer != nil && (last == nil || c.Answer.Seq > last.Answer.Seq) {
			last = &c
		}
	}
	return last
}

// Steps are the checks of a round that apply, and the closing of each section that has a sentence for it.
func (r RoundView) Steps() []Step {
	var steps []Step
	for i, s := range r.Sections {
		applies := false
		for _, c := range s.Checks {
			if c.Applies {
				applies = true
				steps = append(steps, Step{s, i + 1, &c})
			}
		}
		if applies && s.Done != "" {
			steps = append(steps, Step{Section: s, Number: i + 1})
		}
	}
	return steps
}

// Remains are the steps of a round that are not as they should be.
func (r RoundView) Remains() []Step {
	var left []Step
	for _, s := range r.Steps() {
		if s.Check != nil && s.Check.Status != StatusRight || s.Check == nil && s.Section.Closed == nil {
			left = append(left, s)
		}
	}
	return left
}

// Left is how many checks of the round want an answer by hand still.
func (r RoundView) Left() int {
	left := 0
	for _, c := range r.Applying() {
		if c.Automatic == nil && c.WantsAnswer() {
			left++
		}
	}
	return left
}

// Wants says that a walk stops at a step: it can be answered, and must be. Again are the ids that are asked again.
func (a Assessment) Wants(round string, s Step, again []string) bool {
	if s.Check != nil {
		c := *s.Check
		_, held := a.HeldBy(c)
		return c.Automatic == nil && !held && (c.WantsAnswer() || slices.Contains(again, c.ID))
	}
	if s.Section.Closed != nil {
		return false
	}
	for _, c := range s.Section.Checks {
		if c.Applies && slices.Contains(again, c.ID) {
			return false
		}
	}
	_, err := a.NewClosing(round, s.Section.Name)
	return err == nil
}

// NextStep is the key of the step after the i-th at which the walk stops. What was passed over in a section comes before the
// next section, since that may build on it; from the round's end it goes on at its start. "": nothing is left.
func (a Assessment) NextStep(round string, i int, again []string) string {
	steps := a.Round(round).Steps()
	first, end := sectionAround(steps, i)
	for _, part := range [][]Step{steps[min(i+1, end):end], steps[first:end], steps[end:], steps[:first]} {
		for _, s := range part {
			if a.Wants(round, s, again) {
				return s.Key()
			}
		}
	}
	return ""
}

// sectionAround is where the section of step i begins, and where it has ended; both are
// nought where there is no such step.
func sectionAround(steps []Step, i int) (first, end int) {
	if i < 0 || i >= len(steps) {
		return 0, 0
	}
	first, end = i, i+1
	for first > 0 && steps[first-1].Number == steps[i].Number {
		first--
	}
	for end < len(steps) && steps[end].Number == steps[i].Number {
		end++
	}
	return first, end
}

// Resumed is where a walk stands: at the step of that key, "" for what remains, with the ids that are asked again, and in
// words why, where it was broken off.
type Resumed struct {
	Step  string
	Again []string
	Why   string
}

// Resume goes on where a walk was broken off: at the check that was answered last, which is asked again, or at the start of
// its section.
func (a Assessment) Resume(round string, now time.Time) Resumed {
	r := a.Round(round)
	last := r.LastAnswered()
	first := Resumed{Step: a.NextStep(round, -1, nil)}
	if first.Step == "" || last == nil {
		return first
	}
	away := now.Sub(last.Answer.At)
	if away > NewWalk {
		return first
	}
	for _, s := range r.Steps() {
		if s.Check != nil && s.Check.ID == last.ID && s.Section.Mode == DoThenTick && away > SectionPause {
			return s.Section.again(now, last.Answer.At)
		}
	}
	why := "You stopped here " + Ago(now, last.Answer.At) + ": it is asked again."
	if away < 0 {
		why = "You stopped here, and the clock has been moved since: it is asked again."
	}
	return Resumed{Step: "check " + last.ID, Again: []string{last.ID}, Why: why}
}

// again walks a section from its start.
func (s SectionView) again(now, left time.Time) Resumed {
	var ids []string
	for _, c := range s.Checks {
		if c.Applies && c.Automatic == nil {
			ids = append(ids, c.ID)
		}
	}
	return Resumed{
		Step: "check " + ids[0], Again: ids,
		Why: "You stopped in this section " + Ago(now, left) + ": it is walked again from its start.",
	}
}

// Ago is how long since, in words; a moment that is still to come is told as such.
func Ago(now, then time.Time) string {
	d := now.Sub(then)
	switch {
	case d < 0:
		return "at a time still to come"
	case d < time.Minute:
		return "just now"
	}
	return quantity.Rough(d) + " ago"
}
