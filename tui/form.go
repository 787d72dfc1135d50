package tui

import (
	"fmt"
	"slices"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// form asks for an act of the engine, one short question after the other: a new defect, its card, its repair, its
// closing, or a service that was done. Nothing is written before the last is answered.
type form struct {
	kind    formKind
	number  int    // of the defect
	service string // its name
	offered string // the fault card that fits the latest reading; "": none
	answers []formAnswer
	asked   question
}

// formKind is what is asked for; "": nothing.
type formKind string

// The kinds of forms.
const (
	formDefect  formKind = "new defect"
	formCard    formKind = "fault card"
	formRepair  formKind = "repair"
	formClosing formKind = "closing"
	formService formKind = "service"
)

// formStep is one of the questions.
type formStep string

// The questions.
const (
	stepWhat    formStep = "what"
	stepGrade   formStep = "grade"
	stepRevs    formStep = "revs"
	stepCard    formStep = "card"
	stepCause   formStep = "cause"
	stepDid     formStep = "did"
	stepParts   formStep = "parts"
	stepOld     formStep = "old"
	stepPlanned formStep = "planned"
	stepTook    formStep = "took"
	stepProof   formStep = "proof"
	stepWhy     formStep = "why"
	stepDate    formStep = "date"
	stepHours   formStep = "hours"
	stepNote    formStep = "note"
	stepSure    formStep = "sure" // of what enter alone would answer all through
)

// formAnswer is a question and its answer; "" is enter alone.
type formAnswer struct {
	step formStep
	text string
}

func (n form) isOpen() bool { return n.kind != "" }

func (n form) unsaved() bool { return n.isOpen() && (len(n.answers) > 0 || n.asked.unsaved()) }

// said is the answer to a question; "": none, or none yet.
func (n form) said(step formStep) string {
	i := slices.IndexFunc(n.answers, func(t formAnswer) bool { return t.step == step })
	if i < 0 {
		return ""
	}
	return n.answers[i].text
}

// steps are the questions in order; which are asked hangs on the answers before.
func (n form) steps(f facts) []formStep {
	switch n.kind {
	case formDefect:
		steps := []formStep{stepWhat, stepGrade}
		if n.said(stepGrade) != string(machinery.Note) {
			steps = append(steps, stepRevs)
		}
		if len(f.definitions.Cards) > 0 {
			steps = append(steps, stepCard)
		}
		return steps
	case formCard:
		return []formStep{stepCard}
	case formRepair:
		return n.withOld([]formStep{stepCause, stepDid, stepParts}, stepPlanned, stepTook, stepProof)
	case formService:
		return n.withOld([]formStep{stepDate, stepHours, stepTook, stepParts}, stepNote, stepSure)
	}
	return []formStep{stepWhy}
}

// withOld asks where the old parts are, once parts are told.
func (n form) withOld(steps []formStep, rest ...formStep) []formStep {
	if n.said(stepParts) != "" && n.said(stepParts) != noParts {
		steps = append(steps, stepOld)
	}
	return append(steps, rest...)
}

// noParts is what is typed where nothing was taken, whatever a service uses.
const noParts = "none"

// next is the first question that is not answered.
func (n form) next(f facts) (step formStep, more bool) {
	for _, step := range n.steps(f) {
		if !slices.ContainsFunc(n.answers, func(t formAnswer) bool { return t.step == step }) {
			return step, true
		}
	}
	return "", false
}

// begin asks the first question.
func (n form) begin(f facts) form {
	step, _ := n.next(f)
	n.asked = ask(string(step), n.words(f, step)...)
	return n
}

func (n form) update(f facts, p press) (form, []action) {
	step := formStep(n.asked.what)
	empty := strings.TrimSpace(n.asked.input.Value()) == ""
	if p.Type == tea.KeyEnter && empty && n.skipped(f, step) != "" {
		return n.take(f, step, "")
	}
	if p.is(keys.WriteOut) {
		return n.writtenOut(f), nil
	}
	next, text, sent := n.asked.update(p)
	switch {
	case !next.isOpen() && len(n.answers) == 0:
		return form{}, []action{say{"nothing was written"}}
	case !next.isOpen():
		n.answers = n.answers[:len(n.answers)-1]
		return n.begin(f), nil
	}
	n.asked = next
	if !sent {
		return n, nil
	}
	return n.take(f, step, text)
}

// writtenOut puts what is proposed on the line, where it can be changed before it is taken. What was typed is not thrown
// away for it.
func (n form) writtenOut(f facts) form {
	usual := usualProof(f)
	if n.asked.what != string(stepProof) || usual == "" {
		return n
	}
	switch strings.TrimSpace(n.asked.input.Value()) {
	case "", checklist.UsualWord:
		n.asked.note = ""
		n.asked.input.SetValue(usual)
		n.asked.input.CursorEnd()
	default:
		n.asked.note = "ctrl+u empties the line; then tab writes the usual out"
	}
	return n
}

// take goes on with an answer, unless it would be refused; after the last the entry is asked for.
func (n form) take(f facts, step formStep, text string) (form, []action) {
	text, err := n.read(f, step, text)
	if err != nil {
		n.asked = n.asked.refused(err)
		return n, nil
	}
	next := n
	next.answers = append(slices.Clone(n.answers), formAnswer{step, text})
	w, err := next.wish(f)
	if err == nil {
		err = f.try(w)
	}
	if err != nil {
		n.asked = n.asked.refused(err)
		return n, nil
	}
	if _, more := next.next(f); more {
		return next.begin(f), nil
	}
	return form{}, []action{recordEntry{w}}
}

// read writes out an answer that was begun, or told by a number.
func (n form) read(f facts, step formStep, text string) (string, error) {
	switch step {
	case stepGrade:
		grade, err := wordOf(text, machinery.Stop, machinery.Limit, machinery.Note)
		return string(grade), err
	case stepCard:
		return cardTyped(f, text), nil
	case stepRevs:
		return strings.TrimSpace(strings.TrimSuffix(strings.ToLower(text), "rpm")), nil
	case stepSure:
		if said := strings.ToLower(text); said != "y" && said != "yes" {
			return "", fmt.Errorf("%q is not yes; backspace goes back, and nothing is written yet", text)
		}
	}
	return text, nil
}

// cardTyped is the sign of a card told by its number.
func cardTyped(f facts, text string) string {
	for i, sign := range f.definitions.CardSigns() {
		if text == ordinalOf(i) {
			return sign
		}
	}
	return text
}

// wish is the act as it is told so far; what is still to be asked is left out, or stands as something that is taken, so
// that a wrong answer is refused at once.
func (n form) wish(f facts) (wish, error) {
	switch n.kind {
	case formDefect:
		revs, err := revsTyped(n.said(stepRevs))
		grade := machinery.Grade(or(n.said(stepGrade), string(machinery.Note)))
		in := checklist.DefectInput{What: n.said(stepWhat), Grade: grade, RPM: revs, Card: n.said(stepCard)}
		return wishDefect{in}, err
	case formCard:
		return wishDefectMore{n.number, checklist.DefectInput{Card: n.said(stepCard)}}, nil
	case formRepair:
		return n.repair(f)
	case formService:
		return n.serviceDone()
	}
	return wishDefectClosing{n.number, n.said(stepWhy)}, nil
}

func (n form) repair(f facts) (wish, error) {
	in := checklist.RepairInput{Number: n.number, Cause: n.said(stepCause), Why: n.said(stepDid)}
	var err error
	if in.Parts, in.Old, err = n.parts(); err != nil {
		return nil, err
	}
	if in.Planned, err = checklist.ParseTaken(n.said(stepPlanned)); err != nil {
		return nil, err
	}
	if in.Minutes, err = checklist.ParseTaken(n.said(stepTook)); err != nil {
		return nil, err
	}
	for proof := range strings.SplitSeq(n.said(stepProof), ";") {
		if strings.TrimSpace(proof) != "" {
			in.Proofs = append(in.Proofs, strings.TrimSpace(proof))
		}
	}
	if step, more := n.next(f); more && step != "" && len(f.definitions.UsualProofs()) > 0 {
		in.Proofs = []string{checklist.UsualWord} // not asked for yet
	}
	return wishRepair{in}, nil
}

func (n form) parts() (parts []checklist.PartTaken, old string, err error) {
	if n.said(stepParts) == noParts {
		return nil, "", nil
	}
	parts, err = checklist.ParseParts(n.said(stepParts))
	return parts, n.said(stepOld), err
}

func (n form) serviceDone() (wish, error) {
	in := checklist.ServiceInput{Service: n.service, Note: n.said(stepNote), NoParts: n.said(stepParts) == noParts}
	var err error
	if date := n.said(stepDate); date != "" {
		if in.Date, err = quantity.ParseDate(date); err != nil {
			return nil, err
		}
	}
	if in.Hours, err = hoursTyped(n.said(stepHours)); err != nil {
		return nil, err
	}
	if in.Minutes, err = checklist.ParseTaken(n.said(stepTook)); err != nil {
		return nil, err
	}
	if in.Parts, in.Old, err = n.parts(); err != nil {
		return nil, err
	}
	if _, asked := n.answered(stepParts); !asked {
		in.NoParts = true // not asked for yet
	}
	return wishService{in}, nil
}

func (n form) answered(step formStep) (string, bool) {
	i := slices.IndexFunc(n.answers, func(t formAnswer) bool { return t.step == step })
	return n.said(step), i >= 0
}

func (n form) bindings(f facts) []bound {
	list := n.asked.bindings()
	if words := n.skipped(f, formStep(n.asked.what)); words != "" {
		list[0] = can(as(keys.Enter, "take it; empty: "+words), "")
	}
	if len(n.answers) > 0 {
		list[1] = can(bind("backspace", "the question before, if empty", "backspace"), "")
	}
	if n.asked.what == string(stepProof) && usualProof(f) != "" {
		list = append(list, quietly(keys.WriteOut)...)
	}
	return list
}
