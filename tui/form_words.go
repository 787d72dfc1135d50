package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// skipped is what enter alone answers; "": the question must be answered.
func (n form) skipped(f facts, step formStep) string {
	switch step {
	case stepRevs:
		return "no limit on the revs"
	case stepCard:
		if n.kind == formCard {
			return ""
		}
		return "no fault card"
	case stepDid, stepNote:
		return "nothing to say"
	case stepParts:
		if n.kind == formService {
			return usesWords(f, n.service)
		}
		return "no parts"
	case stepOld:
		return "not kept"
	case stepPlanned, stepTook:
		return "not timed"
	case stepProof:
		if v, err := f.assessment.Defect(n.number); err == nil && !v.Engine {
			return "what was done is enough"
		}
	case stepDate:
		return "today"
	case stepHours:
		return "as it was last read"
	}
	return ""
}

// usesWords are the parts that a service takes by itself.
func usesWords(f facts, service string) string {
	for _, s := range f.definitions.Services {
		if s.Name == service && len(s.Uses) > 0 {
			return strings.Join(s.Uses, ", ")
		}
	}
	return "no parts"
}

// words ask a question; short, with the answers there are.
func (n form) words(f facts, step formStep) []string {
	text := map[formStep]string{
		stepWhat:    `What is wrong? As you see or hear it, like "engine reads a little warm":`,
		stepGrade:   "How far does it stop her? stop: she does not go. limit: she goes, for a reason. note: only kept in mind.",
		stepRevs:    `Is there a limit on the revs? The most that she is run at, like "1800":`,
		stepCause:   "What was it? A gauge that was wrong is a cause too. No cause found is not closed: go back then, it goes on the list of the base.",
		stepDid:     "What was done?",
		stepParts:   `Which parts were taken? Like "oil filter", "oil filter=2" or "oil filter@box 3"; commas between them:`,
		stepOld:     "Where are the old ones kept, to get home on? The place:",
		stepPlanned: `How long was it thought to take? Like "45 min":`,
		stepTook:    `How long did it take? Like "45 min" or "1 h 10":`,
		stepDate:    `On which day was it done? Like "2026-10-17":`,
		stepHours:   `What did the hour-meter show? Like "1812.4":`,
		stepNote:    "A note, in your own words:",
		stepSure:    "Is it done, and written here as it was? Type yes to write it down:",
		stepWhy:     "What was done or found? It closes the defect.",
	}[step]
	lines := []string{text}
	switch step {
	case stepCard:
		lines = n.cardWords(f)
	case stepParts:
		if n.kind == formService {
			lines[0] = strings.TrimSuffix(lines[0], ":") + fmt.Sprintf(". %s: nothing was taken.", noParts)
		}
	case stepProof:
		lines = proofWords(f)
	}
	if words := n.skipped(f, step); words != "" {
		last := len(lines) - 1
		if text, asks := strings.CutSuffix(lines[last], ":"); asks {
			lines[last] = text + "."
		}
		lines[last] += " Enter: " + words + "."
	}
	return lines
}

func ordinalOf(i int) string { return strconv.Itoa(i + 1) }

func (n form) cardWords(f facts) []string {
	var list []string
	for i, sign := range f.definitions.CardSigns() {
		list = append(list, ordinalOf(i)+" "+sign)
	}
	lines := []string{strings.Join(list, "; ")}
	if i := slices.Index(f.definitions.CardSigns(), n.offered); i >= 0 {
		lines = append(lines, fmt.Sprintf("The latest reading points at %s.", list[i]))
	}
	return append(lines, "Which fault card is walked for it? Its number:")
}

// usualProof is what is proposed, as it is typed; "": nothing is.
func usualProof(f facts) string {
	var texts []string
	for _, p := range f.definitions.UsualProofs() {
		texts = append(texts, p.Text())
	}
	return strings.Join(texts, "; ")
}

func proofWords(f facts) []string {
	lines := []string{fmt.Sprintf("What proves it, in readings? Like %q; a semicolon between two.", f.definitions.ProofExample())}
	if usual := usualProof(f); usual != "" {
		lines = append(lines, fmt.Sprintf("The usual: %s. Type %s to take it, or %s to write it out and change it:", usual, checklist.UsualWord, keys.WriteOut.Help().Key))
	}
	return lines
}

func (n form) title(f facts) string {
	switch n.kind {
	case formDefect:
		return "A new defect"
	case formService:
		return n.service + ": done"
	}
	v, _ := f.assessment.Defect(n.number)
	said := map[formKind]string{formCard: "its fault card", formRepair: "repaired", formClosing: "closed"}[n.kind]
	return fmt.Sprintf("Defect %d, %s: %s", n.number, v.Title(), said)
}

func (n form) view(f facts, s size) string {
	l := f.look
	page := para(l.title, "", l.clean(n.title(f)+"; nothing is written before the end"), s.w)
	for _, t := range n.answers {
		page = append(page, l.clip(l.clean("  "+string(t.step)+": "+or(t.text, n.skipped(f, t.step))), s.w))
	}
	asked := n.asked.draw(l, size{s.w, max(1, s.h-1)})
	room := max(0, s.h-len(asked))
	page = append(l.part(page, 0, min(len(page), max(1, room-1))), "")
	return strings.Join(append(page[:min(len(page), room)], asked...), "\n")
}

func revsTyped(text string) (int, error) {
	if text == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 {
		return 0, fmt.Errorf(`%q is no number of revs; write them like "1800"`, text)
	}
	return n, nil
}

func hoursTyped(text string) (float64, error) {
	if text == "" {
		return 0, nil
	}
	hours, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(text, "h")), 64)
	if err != nil || !(hours > 0) {
		return 0, fmt.Errorf(`%q is no reading of an hour-meter; write it like "1812.4"`, text)
	}
	return hours, nil
}

type wishDefect struct{ in checklist.DefectInput }

func (w wishDefect) act(k known) (checklist.Act, error) {
	return k.definitions.NewDefect(k.state, w.in, k.now)
}
func (w wishDefect) words() string { return "the defect " + w.in.What }

type wishDefectMore struct {
	number int
	in     checklist.DefectInput
}

func (w wishDefectMore) act(k known) (checklist.Act, error) {
	return k.definitions.NewDefectMore(k.assessment, w.number, w.in, "")
}
func (w wishDefectMore) words() string { return fmt.Sprintf("defect %d, more of it", w.number) }

type wishRepair struct{ in checklist.RepairInput }

func (w wishRepair) act(k known) (checklist.Act, error) {
	return k.definitions.NewRepair(k.state, k.assessment, w.in)
}
func (w wishRepair) words() string { return fmt.Sprintf("defect %d, repaired", w.in.Number) }

type wishStep struct{ in checklist.StepInput }

func (w wishStep) act(k known) (checklist.Act, error) { return k.assessment.NewStep(w.in) }
func (w wishStep) words() string                      { return fmt.Sprintf("%s: %s", w.in.Look, w.in.Seen) }

type wishService struct{ in checklist.ServiceInput }

func (w wishService) act(k known) (checklist.Act, error) {
	return k.definitions.NewServiceDone(k.state, w.in, k.now)
}
func (w wishService) words() string { return w.in.Service + ", done" }

// seenByKey is what a key says of a look.
func seenByKey(p press) (seen machinery.Seen, is bool) {
	switch {
	case p.is(keys.Right):
		return machinery.FoundClean, true
	case p.is(keys.NotRight):
		return machinery.FoundBad, true
	case p.is(keys.CouldNotLook):
		return machinery.CouldNotLook, true
	case p.is(keys.NotYet):
		return machinery.NotYet, true
	}
	return "", false
}
