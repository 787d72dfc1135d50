package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

// briefRoom is the room for what fails: "water 28 Oct", and the day and the miles where
// there is enough of it.
func briefRoom(w int) int {
	if w < 72 {
		return len("water 28 Oct")
	}
	return len("water 28 Oct, day 10, 391 nm short")
}

// whatIfRows are the contingencies, worst first, and at the end those that were not asked.
func whatIfRows(f facts, w int) []sheetRow {
	l, a := f.look, f.prospect.assessment
	name := 0
	for _, what := range a.WhatIfs.List {
		name = max(name, lipgloss.Width(l.clean(what.Name())))
	}
	name = min(name, max(w/3, w-len(provisions.IntoReserve)-2*len("  ")-briefRoom(w)))
	var rows []sheetRow
	for _, what := range a.WhatIfs.List {
		lead := l.pad(l.clean(what.Name()), name) + "  " + l.pad(verdictOf(what), len(provisions.IntoReserve)) + "  "
		rows = append(rows, sheetRow{
			line:  strings.TrimRight(lead+l.clean(inBrief(f, what, w-lipgloss.Width(lead))), " "),
			style: verdictStyle(l, what.Verdict),
			more:  func(width int) []string { return whatIfMore(f, what, width) },
		})
	}
	for _, left := range a.WhatIfs.LeftOut {
		rows = append(rows, sheetRow{part: "Not asked", line: l.clean(left), style: l.keys})
	}
	return rows
}

// verdictOf is the verdict in words; a leg that is not made runs out of nothing.
func verdictOf(w provisions.WhatIf) string {
	if len(w.Unmade) > 0 {
		return "not made"
	}
	return string(w.Verdict)
}

func verdictStyle(l look, v provisions.Verdict) lipgloss.Style {
	switch v {
	case provisions.RunsOut:
		return l.blocked
	case provisions.IntoReserve:
		return l.caution
	}
	return l.keys
}

// inBrief is what fails, when, and how far from the end: as much of it as there is room for.
func inBrief(f facts, w provisions.WhatIf, room int) string {
	units := f.prospect.assessment.Units
	switch {
	case len(w.Unmade) > 0:
		return fmt.Sprintf("leg %d, %s case", w.Unmade[0]+1, w.Case)
	case w.Thing == "":
		return ""
	}
	words := string(w.Thing)
	var more []string
	if w.Day > 0 {
		words += w.At.In(f.zone()).Format(" 2 Jan")
		more = append(more, fmt.Sprintf("day %d", w.Day))
	}
	if w.Verdict == provisions.RunsOut {
		more = append(more, w.Miles.Up(units)+" short")
	}
	if w.Sealed > 0 {
		more = append(more, w.Sealed.Down(w.Thing, units)+" sealed")
	}
	for _, m := range more {
		if lipgloss.Width(words)+2+lipgloss.Width(m) <= room {
			words += ", " + m
		}
	}
	return words
}

// whatIfMore is the sentence of a what-if, and what would cure it.
func whatIfMore(f facts, w provisions.WhatIf, width int) []string {
	l, a := f.look, f.prospect.assessment
	lines := wrap(l.clean(sentence(w.Words(a.Units, f.zone()))+whereItFails(a, w)), width, 0)
	for _, c := range w.Cures {
		lines = append(lines, para(l.good, "it holds with  ", l.clean(c.Words(a.Units)), width)...)
	}
	tried := !f.prospect.trial.IsEmpty()
	switch {
	case w.Verdict == provisions.Holds:
		return lines
	case !w.Worse:
		return append(lines, wrap(neitherHolds(tried), width, 0)...)
	case len(w.Cures) == 0:
		lines = append(lines, wrap("Nothing that was tried for it makes it hold.", width, 0)...)
	}
	return append(lines, wrap(standsAs(w, tried), width, 0)...)
}

// whereItFails is the stretch, and what is missing on it.
func whereItFails(a checklist.Assessment, w provisions.WhatIf) string {
	switch {
	case w.Thing == "":
		return ""
	case w.Verdict == provisions.RunsOut:
		return fmt.Sprintf(" From %s to %s, %s case: %s missing even with the reserve used up.", w.From, w.To, w.Case, w.Missing.Up(w.Thing, a.Units))
	}
	return fmt.Sprintf(" From %s to %s, %s case.", w.From, w.To, w.Case)
}

// neitherHolds is told where the verdict is no worse than without the what-if. The what-if
// may still fail in another thing or sooner, so that nothing is said of how bad it is.
func neitherHolds(tried bool) string {
	if tried {
		return "The passage as it is tried does not hold either. What is left tells what to load for it."
	}
	return "The plan does not hold either. What is left tells what to load for it."
}

// standsAs is what a what-if is to the sign-off; the gate knows nothing of what is tried.
func standsAs(w provisions.WhatIf, tried bool) string {
	switch {
	case w.Verdict != provisions.RunsOut:
		return "It wants no reason before signing."
	case tried && w.Kind == provisions.WatermakerDead:
		return "It would stand in the way of signing, were this the plan."
	case tried:
		return "It would be a caution, were this the plan: 1 Ready would ask for your reason before signing."
	case w.Kind == provisions.WatermakerDead:
		return "It stands in the way of signing."
	}
	return "A caution: 1 Ready asks for your reason before signing."
}

// sentence begins with a capital and ends with a stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.TrimRight(text[1:], ".") + "."
}

func whatIfAnswer(a checklist.Assessment) string {
	by := map[provisions.Verdict]int{}
	for _, w := range a.WhatIfs.List {
		by[w.Verdict]++
	}
	return fmt.Sprintf("Worst first; run out: %d, into the reserve: %d, hold: %d", by[provisions.RunsOut], by[provisions.IntoReserve], by[provisions.Holds])
}
