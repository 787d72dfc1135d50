package tui

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
)

func (w walk) view(f facts, s size) string {
	if _, _, at := w.here(f); !at {
		return w.viewRemains(f, s)
	}
	lines := w.lines(f, s)
	switch {
	case w.asked.isOpen():
		return strings.Join(w.asked.under(f, lines.all, s), "\n")
	case w.grade:
		return strings.Join(w.viewGrade(f, lines.all, s), "\n")
	}
	from := max(0, min(w.scroll, len(lines.all)-s.h))
	seen := slices.Clone(lines.all[from:min(len(lines.all), from+s.h)])
	if lines.needed > from+s.h && len(seen) > 1 {
		seen[len(seen)-1] = f.look.caution.Render("  " + f.look.more + " read on before answering: pgdn")
	}
	return strings.Join(seen, "\n")
}

// walkLines are the lines of a step; those up to needed must have been seen before a
// key answers: the cautions, what is asked and what is right.
type walkLines struct {
	all    []string
	needed int
}

func (w walk) lines(f facts, s size) walkLines {
	here, _, _ := w.here(f)
	lines := w.sectionLines(f, here, s.w)
	var rest []string
	if here.Check != nil {
		asked, more := checkLines(f, *here.Check, s.w)
		lines, rest = append(lines, asked...), more
	} else {
		lines = append(lines, closingLines(f, w.round, here, s.w)...)
	}
	needed := len(lines)
	lines = append(lines, rest...)
	if room := s.h - len(lines) - 1; room >= 3 && !f.isBeside() {
		overview, at := w.overview(f, here, s.w)
		lines = append(append(lines, ""), f.look.window(overview, at, at+1, room)...)
	}
	return walkLines{lines, needed}
}

// sectionLines are the round, the section and its caution, which come before the check.
func (w walk) sectionLines(f facts, here step, width int) []string {
	l := f.look
	r := roundOf(f, w.round)
	where := fmt.Sprintf("%s %s %s (section %d of %d)", r.Name, l.dash, here.Section.Name, here.Number, len(r.Sections))
	lines := para(l.title, "", l.clean(where), width)
	left := leftWords(r)
	switch here.Section.Mode {
	case checklist.DoThenTick:
		lines = append(lines, l.clip("do it, then tick it; "+left, width))
	case checklist.LookThenConfirm:
		lines = append(lines, l.clip("done already: look, then confirm it; "+left, width))
	}
	if here.Section.Caution != "" {
		lines = append(lines, para(l.caution, "CAUTION ", l.clean(here.Section.Caution), width)...)
	}
	if w.stopped != "" {
		lines = append(lines, para(l.caution, "", l.clean(w.stopped), width)...)
	}
	return append(lines, "")
}

// leftWords is how many checks of the round want an answer still.
func leftWords(r checklist.RoundView) string {
	left := r.Left()
	if left == 0 {
		return "every check of the round is answered"
	}
	return count(left, "check", "checks") + " left"
}

// checkLines are what is asked, with its caution and what is right, and then what else
// there is to know.
func checkLines(f facts, c checklist.CheckView, width int) (asked, more []string) {
	l := f.look
	asked = para(l.title, "", l.clean(c.Ask), width)
	if c.Caution != "" {
		asked = append(asked, para(l.caution, "CAUTION ", l.clean(c.Caution), width)...)
	}
	right := c.Right
	if c.Reading != nil {
		right = strings.TrimSuffix(f.definitions.Limits(*c.Reading)+"; "+right, "; ")
	}
	asked = append(asked, para(l.keys, "right is  ", l.clean(right), width)...)
	for _, line := range []struct{ lead, text string }{
		{"stands    ", statusWords(f, c)}, {"last      ", lastWords(f, c)}, {"it is     ", weightWords(f, c)},
	} {
		if line.text != "" {
			more = append(more, para(l.keys, line.lead, l.clean(line.text), width)...)
		}
	}
	return asked, more
}

func statusWords(f facts, c checklist.CheckView) string {
	switch first := heldBy(f, c); {
	case c.Automatic != nil && c.Status == checklist.StatusRight:
		return "right; the program answers it"
	case c.Automatic != nil:
		return "not right; the program answers it: " + c.Why
	case first != "":
		return "waits: " + first + " must be right first"
	case c.Status == checklist.StatusRight && !c.GoodUntil.IsZero():
		return "right, good until " + c.GoodUntil.In(f.zone()).Format(momentLayout)
	case c.Status == checklist.StatusRight:
		return "right"
	case c.Why == "" || c.Why == c.Status.Words():
		return c.Status.Words()
	}
	return c.Status.Words() + ": " + c.Why
}

func lastWords(f facts, c checklist.CheckView) string {
	if c.Answer == nil {
		return ""
	}
	words := string(c.Answer.Answer.Answer)
	if c.Answer.Value != nil {
		words = c.Answer.Value.Told(f.assessment.Units)
	}
	for _, said := range []string{c.Answer.Say, c.Answer.Why} {
		if said != "" {
			words += " (" + said + ")"
		}
	}
	words += ", " + ago(f.now, c.Answer.At)
	if c.Answer.By != "" {
		words += ", by " + c.Answer.By
	}
	return words
}

// weightWords is whether the check is critical here, for how long an answer is good,
// and what ends it.
func weightWords(f facts, c checklist.CheckView) string {
	words := "not critical"
	switch {
	case c.Critical:
		words = "critical"
	case c.IsCritical:
		words = "critical on this passage (" + joinConditions(c.CritWhen, f.assessment.Conditions) + ")"
	case len(c.CritWhen) > 0:
		words = "not critical on this passage, else when " + joinConditions(c.CritWhen, c.CritWhen)
	}
	if !c.GoodFor.IsZero() {
		words += ", good for " + c.GoodFor.String()
	}
	if len(c.VoidBy) > 0 {
		words += "; asked again after: " + strings.Join(c.VoidBy, ", ")
	}
	return words
}

func joinConditions(list, of []checklist.Condition) string {
	var words []string
	for _, c := range list {
		if slices.Contains(of, c) {
			words = append(words, string(c))
		}
	}
	return strings.Join(words, ", ")
}

func closingLines(f facts, round string, s step, width int) []string {
	l := f.look
	lines := para(l.title, "", "The section ends with: "+l.clean(s.Section.Done), width)
	if s.Section.Closed != nil {
		return append(lines, para(l.keys, "", "It was said "+ago(f.now, s.Section.Closed.At)+".", width)...)
	}
	if err := f.try(wishClosing{round, s.Section.Name}); err != nil {
		return append(lines, para(l.keys, "", l.clean(err.Error()), width)...)
	}
	return append(lines, para(l.keys, "", "d: say so, if it is so. Else go back to the check that is not.", width)...)
}

// overview are the checks of the section and how each stands; at is the line of this one.
func (w walk) overview(f facts, here step, width int) (lines []string, at int) {
	l := f.look
	for _, c := range here.Section.Checks {
		if !c.Applies {
			continue
		}
		lead := "  "
		if here.Check != nil && here.Check.ID == c.ID {
			lead, at = "> ", len(lines)
		}
		state := c.Status.Words()
		if slices.Contains(w.again, c.ID) {
			state = "asked again"
		}
		lines = append(lines, l.clip(lead+l.pad(state, 15)+" "+l.clean(c.Ask), width))
	}
	return lines, at
}

func (w walk) viewGrade(f facts, page []string, s size) []string {
	l := f.look
	lines := para(l.keys, "", "Not right: "+l.clean(w.why), s.w)
	lines = append(lines, para(l.title, "", "How far does it stop her?", s.w)...)
	for _, grade := range []string{"s  stop: she does not go with it", "l  limit: she may go, within a limit", "n  note: to be looked after"} {
		lines = append(lines, l.clip("  "+grade, s.w))
	}
	room := max(0, s.h-len(lines)-1)
	page = append(slices.Clone(page[:min(len(page), room)]), "")
	return append(page, lines...)
}

func (w walk) viewRemains(f facts, s size) string {
	l := f.look
	left := w.remains(f)
	lines := para(l.title, "", l.clean(w.round)+": walked to its end", s.w)
	if len(left) == 0 {
		lines = append(lines, para(l.good, "", "Nothing remains: every check is right and every section closed.", s.w)...)
		return strings.Join(append(lines, wrap("1 Ready tells whether she may go; 7 Record is where she is signed off.", s.w, 0)...), "\n")
	}
	lines = append(lines, wrap(fmt.Sprintf("What remains: %s. enter goes back to one.", count(len(left), "thing", "things")), s.w, 0)...)
	focus, end := 0, 0
	for i, step := range left {
		from := len(lines)
		lines = append(lines, remainLine(f, step, i == w.cursor, s.w)...)
		if i == w.cursor {
			focus, end = from, len(lines)
		}
	}
	return strings.Join(l.window(lines, focus, end, s.h), "\n")
}

func remainLine(f facts, s step, selected bool, width int) []string {
	l := f.look
	text := "not closed: " + s.Section.Name
	if s.Check != nil {
		text = s.Check.Ask + ": " + statusWords(f, *s.Check)
	}
	if !selected {
		return []string{"  " + l.clip(l.clean(text), width-2)}
	}
	return para(l.selected, "> ", l.clean(text), width)
}
