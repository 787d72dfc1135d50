package tui

import (
	"slices"

	"boat/hoveshort/checklist"
)

// step is one thing to do in a round.
type step struct {
	section checklist.SectionView
	number  int                  // of the section, from 1
	check   *checklist.CheckView // nil: the section is to be closed
}

func (s step) key() string {
	if s.check == nil {
		return "closing " + s.section.Name
	}
	return "check " + s.check.ID
}

// roundOf is the round of that name; an empty one, if none of this passage has it.
func roundOf(f facts, name string) checklist.RoundView {
	i := slices.IndexFunc(f.assessment.Rounds, func(r checklist.RoundView) bool { return r.Name == name })
	if i < 0 {
		return checklist.RoundView{}
	}
	return f.assessment.Rounds[i]
}

func stepsOf(r checklist.RoundView) []step {
	var steps []step
	for i, s := range r.Sections {
		applies := false
		for _, c := range s.Checks {
			if c.Applies {
				applies = true
				steps = append(steps, step{s, i + 1, &c})
			}
		}
		if applies && s.Done != "" {
			steps = append(steps, step{section: s, number: i + 1})
		}
	}
	return steps
}

func (w walk) steps(f facts) []step {
	r := roundOf(f, w.round)
	return stepsOf(r)
}

// here is the step the walk stands at; none: what remains.
func (w walk) here(f facts) (step, int, bool) {
	steps := w.steps(f)
	i := slices.IndexFunc(steps, func(s step) bool { return s.key() == w.step })
	if i < 0 {
		return step{}, len(steps), false
	}
	return steps[i], i, true
}

// heldBy is the id of the check that must be right before this one can be answered; "" if none.
func heldBy(f facts, c checklist.CheckView) string {
	before, _ := f.assessment.HeldBy(c)
	return before.ID
}

// wants says that the walk stops at a step: it can be answered, and must be.
func (w walk) wants(f facts, s step) bool {
	if s.check != nil {
		c := *s.check
		return c.Automatic == nil && heldBy(f, c) == "" && (c.WantsAnswer() || slices.Contains(w.again, c.ID))
	}
	if s.section.Closed != nil {
		return false
	}
	for _, c := range s.section.Checks {
		if c.Applies && slices.Contains(w.again, c.ID) {
			return false
		}
	}
	return f.try(wishClosing{w.round, s.section.Name}) == nil
}

// next is the step after i at which the walk stops. What was passed over in a section
// comes before the next section, since that may build on it; from the round's end it
// goes on at its start. "": nothing is left.
func (w walk) next(f facts, i int) string {
	steps := w.steps(f)
	first, end := sectionAround(steps, i)
	for _, part := range [][]step{steps[min(i+1, end):end], steps[first:end], steps[end:], steps[:first]} {
		for _, s := range part {
			if w.wants(f, s) {
				return s.key()
			}
		}
	}
	return ""
}

// sectionAround is where the section of step i begins, and where it has ended; both are
// nought where there is no such step.
func sectionAround(steps []step, i int) (first, end int) {
	if i < 0 || i >= len(steps) {
		return 0, 0
	}
	first, end = i, i+1
	for first > 0 && steps[first-1].number == steps[i].number {
		first--
	}
	for end < len(steps) && steps[end].number == steps[i].number {
		end++
	}
	return first, end
}

// seq is the entry that answers the step; 0: none.
func (s step) seq() int {
	switch {
	case s.check == nil && s.section.Closed != nil:
		return s.section.Closed.Seq
	case s.check != nil && s.check.Answer != nil:
		return s.check.Answer.Seq
	}
	return 0
}

// remains are the steps of the round that are not as they should be.
func (w walk) remains(f facts) []step {
	var left []step
	for _, s := range w.steps(f) {
		if s.check != nil && s.check.Status != checklist.StatusRight || s.check == nil && s.section.Closed == nil {
			left = append(left, s)
		}
	}
	return left
}
