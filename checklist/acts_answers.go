package checklist

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// AnswerInput is what was typed to answer a check.
type AnswerInput struct {
	Check string
	Word  string // right | not right | could not look | not aboard, or the value of a reading
	Say   string
	Why   string
	Grade machinery.Grade
}

// NewAnswer answers a check as it stands now: its forerunners must be right, its word
// of evidence given, its value a value. What is not right wants words, and opens a
// defect; of a critical check it is of grade stop.
func (d Definitions) NewAnswer(a Assessment, in AnswerInput) (Answer, error) {
	c, err := a.answerable(d, in.Check)
	if err != nil {
		return Answer{}, err
	}
	answer := Answer{Check: c.ID, Say: strings.TrimSpace(in.Say), Why: strings.TrimSpace(in.Why)}
	if err := checkText("word of evidence", answer.Say); err != nil {
		return Answer{}, err
	}
	if err := checkText("reason", answer.Why); err != nil {
		return Answer{}, err
	}
	if c.Reading != nil && !isRefusal(in.Word) {
		return a.readingAnswer(d, c, answer, in.Word)
	}
	return tickAnswer(c, answer, in)
}

// isRefusal says that the word tells why there is no value.
func isRefusal(word string) bool {
	w, known := wordOf(word)
	return known && (w == CouldNotLook || w == NotAboard)
}

// wordOf reads one of the four answers; hyphens serve for blanks.
func wordOf(word string) (AnswerWord, bool) {
	w := AnswerWord(strings.ReplaceAll(strings.TrimSpace(word), "-", " "))
	return w, slices.Contains([]AnswerWord{Right, NotRight, CouldNotLook, NotAboard}, w)
}

func (a Assessment) answerable(d Definitions, id string) (CheckView, error) {
	c, found := a.Check(id)
	switch {
	case !found:
		return c, unknown("check", id, d.checkIDs())
	case !c.Applies:
		return c, refuse(fmt.Sprintf("%s does not apply to this passage", id), "it needs no answer")
	case c.Automatic != nil:
		return c, refuse(fmt.Sprintf("%s is answered by the program itself", id), "put right what it looks at; `hoveshort ready` tells it")
	}
	if before, held := a.HeldBy(c); held {
		return c, refuse(fmt.Sprintf("%s comes after %s, which is %s", id, before.ID, before.Status.Words()), "answer "+before.ID+" first")
	}
	return c, nil
}

// HeldBy is the check that must be right before this one can be answered.
func (a Assessment) HeldBy(c CheckView) (before CheckView, held bool) {
	for _, id := range c.After {
		if b, known := a.Check(id); known && b.Status != StatusRight && b.Status != StatusNotNeeded {
			return b, true
		}
	}
	return CheckView{}, false
}

// Check finds a check of the rounds that belong to this passage.
func (a Assessment) Check(id string) (CheckView, bool) {
	for _, r := range a.Rounds {
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				if c.ID == id {
					return c, true
				}
			}
		}
	}
	return CheckView{}, false
}

func (d Definitions) checkIDs() []string {
	var ids []string
	for _, r := range d.Rounds {
		for _, s := range r.Sections {
			for _, c := range s.Checks {
				ids = append(ids, c.ID)
			}
		}
	}
	return ids
}

// Limits are what a reading check's value must lie within: words for the screen.
func (d Definitions) Limits(r Range) string {
	lo, hi := (&gate{definitions: d}).limits(r)
	switch {
	case lo != nil && hi != nil:
		return fmt.Sprintf("%s to %s", lo, hi)
	case lo != nil:
		return fmt.Sprintf("%s or more", lo)
	case hi != nil:
		return fmt.Sprintf("%s or less", hi)
	}
	return "any value"
}

func (a Assessment) readingAnswer(d Definitions, c CheckView, answer Answer, word string) (Answer, error) {
	value, err := quantity.ParseAny(word)
	if err != nil {
		return Answer{}, refuse(fmt.Sprintf("%q is no value of %s", clip(word), c.Reading.Of), "write a value within "+d.Limits(*c.Reading))
	}
	g := &gate{definitions: d}
	lo, hi := g.limits(*c.Reading)
	for _, limit := range []*quantity.Any{lo, hi} {
		if limit != nil && limit.Dimension != value.Dimension {
			return Answer{}, refuse(fmt.Sprintf("%q is no value of %s", clip(word), c.Reading.Of), fmt.Sprintf("write it like %q", limit.String()))
		}
	}
	answer.Value, answer.Answer = &value, Right
	if (judge{limits: g.limits}).outside(*c.Reading, value) != "" {
		answer.Answer = NotRight
	}
	return answer, nil
}

func tickAnswer(c CheckView, answer Answer, in AnswerInput) (Answer, error) {
	word, known := wordOf(in.Word)
	if !known {
		return Answer{}, refuse(fmt.Sprintf("%q is no answer", clip(in.Word)), "right, not-right, could-not-look or not-aboard")
	}
	answer.Answer = word
	switch {
	case word == NotAboard && c.IsCritical:
		return Answer{}, refuse(fmt.Sprintf("%s is critical: not aboard is no answer to it", c.ID), "not-right, could-not-look, or take the check out of the round")
	case word == Right && c.Say != "" && answer.Say == "":
		return Answer{}, refuse(fmt.Sprintf("%s asks for a word of evidence: %s", c.ID, c.Say), "say what was seen (--say)")
	case word == NotRight && answer.Why == "":
		return Answer{}, refuse(fmt.Sprintf("%s: what is not right?", c.ID), "say it in a few words (--why)")
	}
	if word == NotRight {
		if !slices.Contains([]machinery.Grade{"", machinery.Stop, machinery.Limit, machinery.Note}, in.Grade) {
			return Answer{}, refuse(fmt.Sprintf("%q is no grade of a defect", clip(string(in.Grade))), "stop, limit or note")
		}
		answer.Grade = gradeOf(c, in.Grade)
	}
	return answer, nil
}

// NewClosing closes a section with its sentence, once every check of it that applies
// has been answered.
func (a Assessment) NewClosing(round, section string) (Answer, error) {
	for _, r := range a.Rounds {
		for _, s := range r.Sections {
			if r.Name == round && s.Name == section {
				return closingOf(r, s)
			}
		}
	}
	return Answer{}, refuse(fmt.Sprintf("no section is called %q in the round %q", clip(section), clip(round)), "see `hoveshort ready`")
}

func closingOf(r RoundView, s SectionView) (Answer, error) {
	for _, c := range s.Checks {
		if c.Applies && c.Automatic == nil && c.WantsAnswer() {
			return Answer{}, refuse(fmt.Sprintf("%s is not done: %s is %s", s.Name, c.ID, c.Status.Words()), "answer it first")
		}
	}
	return Answer{Round: r.Name, Section: s.Name, Answer: SectionDone}, nil
}

// WantsAnswer says that the check must be looked at (again) before its answer counts.
func (c CheckView) WantsAnswer() bool {
	return slices.Contains([]Status{StatusOpen, StatusStale, StatusVoid, StatusWaits}, c.Status)
}
