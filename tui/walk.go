package tui

import (
	"fmt"
	"slices"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// walk is a round that is walked, check by check. It stands at a step: a check, the
// closing of a section, or, at its end, what remains.
type walk struct {
	round   string
	step    string    // key of the step; "": what remains
	again   []string  // ids that are asked again, since the walk was broken off
	stopped string    // how long ago that was, in words
	touched time.Time // the last key
	sent    *sent     // the answer that is on its way to the disk
	scroll  int
	cursor  int // in what remains

	asked question
	grade bool   // asked how far it stops her
	why   string // what is not right, meanwhile
}

// sent is an answer on its way, and the entry that stood there before it.
type sent struct {
	step string
	seq  int
}

// The questions of a walk.
const (
	askSay      = "say"
	askNotRight = "not right"
	askValue    = "value"
)

// entered goes on with a round, or begins it.
func (w walk) entered(f facts, round string) walk {
	away := f.now.Sub(w.touched)
	if w.round == round && w.step != "" && away >= 0 && away <= checklist.LongPause {
		w.touched = f.now
		return w
	}
	return walk{round: round}.resumed(f)
}

// at stands at one check, wherever the walk was.
func (w walk) at(f facts, round, check string) walk {
	next := walk{round: round, step: "check " + check, touched: f.now}
	if w.round == round {
		next.again = w.again
	}
	return next
}

// resumed goes on where a walk was broken off: at the check that was answered last,
// which is asked again, or at the start of its section.
func (w walk) resumed(f facts) walk {
	from := f.assessment.Resume(w.round, f.now)
	return walk{round: w.round, touched: f.now, step: from.Step, again: from.Again, stopped: from.Why}
}

// refreshed goes on once an answer is on the disk.
func (w walk) refreshed(f facts) walk {
	if w.sent != nil {
		if w.landed(f) {
			_, i, _ := w.here(f)
			w.again = slices.DeleteFunc(slices.Clone(w.again), func(id string) bool { return "check "+id == w.sent.step })
			w.stopped, w.sent, w.scroll, w.cursor = "", nil, 0, 0
			w.step = w.next(f, i)
			return w
		}
		if f.waiting == 0 {
			w.sent = nil // it was refused, and said so
		}
	}
	if _, _, known := w.here(f); !known && w.step != "" {
		w.step, w.asked, w.grade = w.next(f, -1), question{}, false
	}
	return w
}

func (w walk) landed(f facts) bool {
	for _, s := range w.steps(f) {
		if s.Key() == w.sent.step {
			return s.Seq() > w.sent.seq
		}
	}
	return false
}

// update takes a key; stays is false when the walk is left for the list of rounds.
func (w walk) update(f facts, p press) (next walk, stays bool, actions []action) {
	away := f.now.Sub(w.touched)
	w.touched = f.now
	here, i, at := w.here(f)
	switch {
	case (away > checklist.LongPause || away < 0) && at && !w.asked.unsaved() && !w.grade:
		return w.resumed(f), true, nil // the key was pressed for what was on the screen long ago
	case w.asked.isOpen():
		return w.answer(f, p)
	case w.grade:
		return w.graded(f, p)
	case p.is(keys.Leave), p.is(keys.OutOf):
		return w, false, nil
	case !at:
		return w.updateRemains(f, p)
	}
	if moved, did := w.moved(f, p, i); did {
		return moved, true, nil
	}
	return w.answered(f, p, here)
}

// moved goes from step to step, or reads on, without answering anything.
func (w walk) moved(f facts, p press, i int) (walk, bool) {
	steps := w.steps(f)
	switch {
	case p.is(keys.PageDown):
		w.scroll += max(1, f.page.h-2)
		w.scroll = min(w.scroll, max(0, len(w.lines(f, f.page).all)-f.page.h))
		return w, true
	case p.is(keys.PageUp):
		w.scroll = max(0, w.scroll-max(1, f.page.h-2))
		return w, true
	}
	to, did := moved(p, i, len(steps), 1)
	if did && to != i {
		w.step, w.scroll, w.stopped = steps[to].Key(), 0, ""
	}
	return w, did
}

// whyNot is why a step cannot be answered now; "" if it can.
func (w walk) whyNot(f facts, s step) string {
	switch {
	case f.waiting > 0:
		return "the last answer is not on the disk yet"
	case w.lines(f, f.page).needed > w.scroll+f.page.h:
		return "there is more to read first: pgdn"
	case s.Check == nil:
		if err := f.try(wishClosing{w.round, s.Section.Name}); err != nil {
			return err.Error()
		}
		return ""
	case s.Check.Automatic != nil:
		return "the program answers it"
	case heldBy(f, *s.Check) != "":
		return heldBy(f, *s.Check) + " must be right first"
	}
	return ""
}

// answered takes an answer key. A key that came together with others answers nothing.
func (w walk) answered(f facts, p press, s step) (walk, bool, []action) {
	if p.rest || !isAnswer(p) {
		return w, true, nil
	}
	if why := w.whyNot(f, s); why != "" {
		return w, true, []action{say{why}}
	}
	if s.Check == nil {
		if p.is(keys.Done) {
			return w.send(f, s, wishClosing{w.round, s.Section.Name}, p)
		}
		return w, true, nil
	}
	return w.answerCheck(f, p, s)
}

const criticalAboard = "a critical check is not answered by not aboard: n not right, or c could not look"

func isAnswer(p press) bool {
	return p.is(keys.Right) || p.is(keys.NotRight) || p.is(keys.CouldNotLook) || p.is(keys.NotAboard) || p.is(keys.Value) || p.is(keys.Done)
}

func (w walk) answerCheck(f facts, p press, s step) (walk, bool, []action) {
	c := *s.Check
	switch {
	case p.is(keys.CouldNotLook):
		return w.sendWord(f, s, checklist.CouldNotLook, p)
	case p.is(keys.NotAboard) && c.IsCritical:
		return w, true, []action{say{criticalAboard}}
	case p.is(keys.NotAboard):
		return w.sendWord(f, s, checklist.NotAboard, p)
	case c.Reading != nil && (p.is(keys.Value) || p.is(keys.Right) || p.is(keys.NotRight)):
		// Whoever says right or not right here types words next: they must land in a question.
		w.asked = ask(askValue, "It is answered by its value: the program says whether that is right.",
			fmt.Sprintf("%s: what does it read? Right is %s:", c.Reading.Of, f.definitions.Limits(*c.Reading)))
	case p.is(keys.Right) && c.Say != "":
		w.asked = ask(askSay, fmt.Sprintf("Right, and the evidence: %s. Say what was seen:", c.Say))
	case p.is(keys.Right):
		return w.sendWord(f, s, checklist.Right, p)
	case p.is(keys.NotRight):
		w.asked = ask(askNotRight, notRightWords(c), "What is not right?")
	}
	return w, true, nil
}

func notRightWords(c checklist.CheckView) string {
	if c.IsCritical {
		return "This opens a defect of grade stop, as the check is critical: she does not go before it is closed."
	}
	return "This opens a defect; how far it stops her is asked next."
}

func (w walk) sendWord(f facts, s step, word checklist.AnswerWord, p press) (walk, bool, []action) {
	return w.send(f, s, wishAnswer{checklist.AnswerInput{Check: s.Check.ID, Word: string(word)}}, p)
}

// send asks for the entry. The key must be let go before it answers again.
func (w walk) send(f facts, s step, wanted wish, p press) (walk, bool, []action) {
	if err := f.try(wanted); err != nil {
		return w, true, []action{say{err.Error()}}
	}
	w.sent = &sent{step: s.Key(), seq: s.Seq()}
	return w, true, []action{recordEntry{wanted}, holdKey{p.String()}}
}

// answer takes what is typed to a question.
func (w walk) answer(f facts, p press) (walk, bool, []action) {
	here, _, at := w.here(f)
	if !at || here.Check == nil {
		w.asked = question{}
		return w, true, nil
	}
	next, text, sent := w.asked.update(p)
	if !sent {
		w.asked = next
		return w, true, nil
	}
	in := checklist.AnswerInput{Check: here.Check.ID}
	switch w.asked.what {
	case askValue:
		in.Word = text
	case askSay:
		in.Word, in.Say = string(checklist.Right), text
	case askNotRight:
		in.Word, in.Why = string(checklist.NotRight), text
	}
	if err := f.try(wishAnswer{in}); err != nil {
		w.asked = next.refused(err)
		return w, true, nil
	}
	if w.asked.what == askNotRight && !here.Check.IsCritical {
		w.asked, w.grade, w.why = question{}, true, text
		return w, true, nil
	}
	w.asked = question{}
	return w.send(f, here, wishAnswer{in}, p)
}

// graded takes how far a defect stops her; there is no grade unless one is chosen.
func (w walk) graded(f facts, p press) (walk, bool, []action) {
	here, _, at := w.here(f)
	var grade machinery.Grade
	switch {
	case !at || here.Check == nil || p.is(keys.Back) || p.is(keys.Leave):
		w.grade, w.why = false, ""
		return w, true, []action{say{"it was not answered"}}
	case p.rest:
		return w, true, nil
	case p.is(keys.GradeStop):
		grade = machinery.Stop
	case p.is(keys.GradeLimit):
		grade = machinery.Limit
	case p.is(keys.GradeNote):
		grade = machinery.Note
	default:
		return w, true, nil
	}
	in := checklist.AnswerInput{Check: here.Check.ID, Word: string(checklist.NotRight), Why: w.why, Grade: grade}
	w.grade, w.why = false, ""
	return w.send(f, here, wishAnswer{in}, p)
}

// updateRemains is the end of a walk: what remains, each with a way back to it.
func (w walk) updateRemains(f facts, p press) (walk, bool, []action) {
	left := w.remains(f)
	if cursor, did := moved(p, w.cursor, len(left), f.page.h); did {
		w.cursor = cursor
		return w, true, nil
	}
	if p.is(keys.Enter) && len(left) > 0 {
		w.step, w.scroll = left[within(w.cursor, len(left))].Key(), 0
	}
	return w, true, nil
}

func (w walk) gradeBindings() []bound {
	return []bound{can(keys.GradeStop, ""), can(keys.GradeLimit, ""), can(keys.GradeNote, "")}
}

func (w walk) bindings(f facts) []bound {
	here, _, at := w.here(f)
	switch {
	case w.asked.isOpen():
		return w.asked.bindings()
	case w.grade:
		return append(w.gradeBindings(), quietly(keys.Back)...)
	case !at:
		nothing := ""
		if len(w.remains(f)) == 0 {
			nothing = "nothing remains"
		}
		return append(append([]bound{can(keys.Enter, nothing)}, quietly(keys.OutOf)...), moving()...)
	}
	list := append(w.answerBindings(f, here), can(keys.Before, ""))
	return append(list, quietly(as(keys.Down, "the next one; this one stays as it is"), keys.First, keys.Last,
		as(keys.PageDown, "read on"), as(keys.PageUp, "read back"), keys.OutOf)...)
}

func (w walk) answerBindings(f facts, here step) []bound {
	why := w.whyNot(f, here)
	or := func(reason string) string {
		if why != "" {
			return why
		}
		return reason
	}
	if here.Check == nil {
		return []bound{can(keys.Done, why)}
	}
	aboard := ""
	if here.Check.IsCritical {
		aboard = criticalAboard
	}
	if here.Check.Reading != nil {
		return []bound{can(keys.Value, why), can(keys.CouldNotLook, why), can(keys.NotAboard, or(aboard))}
	}
	return []bound{
		can(keys.Value, or("this check has no value: y right, or n not right")), can(keys.Right, why), can(keys.NotRight, why),
		can(keys.CouldNotLook, why), can(keys.NotAboard, or(aboard)),
	}
}
