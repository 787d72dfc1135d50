package tui

import (
	"fmt"
	"time"

	"boat/hoveshort/checklist"
)

// A wish is an act asked for, as it was typed. What becomes of it is decided by the
// domain, under the record's lock, on the entries that are there then.
type wish interface {
	act(known) (checklist.Act, error)
	words() string // what it is, for what is said of it: "the answer to engine-oil"
}

// known is what a wish is decided on.
type known struct {
	definitions checklist.Definitions
	entries     []checklist.Entry
	state       checklist.State
	assessment  checklist.Assessment
	now         time.Time
}

func learn(d checklist.Definitions, entries []checklist.Entry, now time.Time) known {
	state := checklist.Fold(entries)
	return known{definitions: d, entries: entries, state: state, assessment: checklist.Assess(d, state, now), now: now}
}

// try says what would be refused, before the words typed for it are let go.
func (f facts) try(w wish) error {
	_, err := w.act(known{definitions: f.definitions, entries: f.entries, state: f.state, assessment: f.assessment, now: f.now})
	return err
}

type wishSound struct{ tank, level string }

func (w wishSound) act(k known) (checklist.Act, error) {
	return k.definitions.NewSounding(k.state, w.tank, w.level, false)
}
func (w wishSound) words() string { return fmt.Sprintf("%s: %s", w.tank, w.level) }

// wishSureSound is a level that was asked back, and is right.
type wishSureSound struct{ wishSound }

func (w wishSureSound) act(k known) (checklist.Act, error) {
	return k.definitions.NewSounding(k.state, w.tank, w.level, true)
}

type wishFill struct{ tank, amount, from string }

func (w wishFill) act(k known) (checklist.Act, error) {
	return k.definitions.NewFill(k.state, w.tank, w.amount, w.from)
}

func (w wishFill) words() string {
	if w.from != "" {
		return fmt.Sprintf("%s from %s into %s", w.amount, w.from, w.tank)
	}
	return fmt.Sprintf("%s into %s", w.amount, w.tank)
}

type wishCount struct{ count checklist.Count }

func (w wishCount) act(k known) (checklist.Act, error) {
	return k.definitions.NewStocked(k.state, k.assessment, w.count)
}

func (w wishCount) words() string {
	if w.count.Did != "" {
		return fmt.Sprintf("%s: %s %s", w.count.Food, packs(w.count.Packs), w.count.Did)
	}
	return fmt.Sprintf("%s: %s", w.count.Food, packs(w.count.Packs))
}

type wishAnswer struct{ in checklist.AnswerInput }

func (w wishAnswer) act(k known) (checklist.Act, error) {
	return k.definitions.NewAnswer(k.assessment, w.in)
}
func (w wishAnswer) words() string { return fmt.Sprintf("%s: %s", w.in.Check, w.in.Word) }

type wishClosing struct{ round, section string }

func (w wishClosing) act(k known) (checklist.Act, error) {
	return k.assessment.NewClosing(w.round, w.section)
}
func (w wishClosing) words() string { return w.section + ": done" }

type wishAccept struct{ caution, why string }

func (w wishAccept) act(k known) (checklist.Act, error) {
	return k.assessment.NewAccept(w.caution, w.why)
}
func (w wishAccept) words() string { return "the caution " + w.caution + ", accepted" }

type wishClock struct{ why string }

func (w wishClock) act(k known) (checklist.Act, error) { return k.state.NewClockSettled(k.now, w.why) }
func (w wishClock) words() string                      { return "the clock, said to be right" }

type wishDefectClosing struct {
	number int
	why    string
}

func (w wishDefectClosing) act(k known) (checklist.Act, error) {
	return k.assessment.NewDefectClosing(w.number, w.why)
}
func (w wishDefectClosing) words() string { return fmt.Sprintf("defect %d, closed", w.number) }

type wishCorrect struct {
	of  int
	why string
}

func (w wishCorrect) act(k known) (checklist.Act, error) {
	return checklist.NewCorrect(k.entries, w.of, w.why)
}
func (w wishCorrect) words() string { return fmt.Sprintf("entry %d, taken as never written", w.of) }

type wishSign struct{ name string }

func (w wishSign) act(k known) (checklist.Act, error) {
	return checklist.Freeze(k.definitions, k.state, k.assessment, w.name)
}
func (w wishSign) words() string { return "the sign-off by " + w.name }
