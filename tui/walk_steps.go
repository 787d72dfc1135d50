package tui

import (
	"slices"

	"boat/hoveshort/checklist"
)

// step is one thing to do in a round.
type step = checklist.Step

// roundOf is the round of that name; an empty one, if none of this passage has it.
func roundOf(f facts, name string) checklist.RoundView { return f.assessment.Round(name) }

func (w walk) steps(f facts) []step { return roundOf(f, w.round).Steps() }

// here is the step the walk stands at; none: what remains.
func (w walk) here(f facts) (step, int, bool) {
	steps := w.steps(f)
	i := slices.IndexFunc(steps, func(s step) bool { return s.Key() == w.step })
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

// next is the step after i at which the walk stops; "": nothing is left.
func (w walk) next(f facts, i int) string { return f.assessment.NextStep(w.round, i, w.again) }

// remains are the steps of the round that are not as they should be.
func (w walk) remains(f facts) []step { return roundOf(f, w.round).Remains() }
