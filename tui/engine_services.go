package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/quantity"
)

// services are when each falls due on the slow passage, the most urgent first.
func (e engine) services(f facts) sheet {
	l := f.look
	list := sheet{head: "Services over the slow passage, the most urgent first", cursor: e.cursors[serviceView], scroll: e.scroll}
	for _, due := range f.engine.Forecasts {
		list.rows = append(list.rows, sheetRow{
			line: l.clean(due.Service.Name + ": " + due.Words()), style: dueStyle(l, due),
			more: func(width int) []string { return serviceLines(f, due, width) },
		})
	}
	if len(list.rows) == 0 {
		list.rows = []sheetRow{{line: "No service is written in upkeep.toml.", style: l.keys}}
	}
	return list
}

func dueStyle(l look, due machinery.Forecast) lipgloss.Style {
	switch {
	case due.IsDue() && due.Service.Critical:
		return l.blocked
	case due.IsDue(), due.Behind:
		return l.caution
	}
	return l.keys
}

// serviceLines are the details of the selected service, what is in its way first.
func serviceLines(f facts, due machinery.Forecast, w int) []string {
	l, s := f.look, due.Service
	var lines []string
	if missing := inItsWay(due); len(missing) > 0 {
		lines = append(lines, para(l.caution, "In its way: ", l.clean(strings.Join(missing, "; ")), w)...)
	}
	lines = append(lines, wrap(l.clean(wanted(s)), w, 2)...)
	lines = append(lines, wrap(l.clean(everyWords(s)+" "+doneWords(due)), w, 2)...)
	where := "It wants her at anchor or alongside."
	if s.UnderWay {
		where = "It can be done at sea."
	}
	if s.Critical {
		where += " Critical: overdue, or due on the passage, it stands in the way of going."
	}
	lines = append(lines, wrap(where, w, 2)...)
	for _, b := range f.assessment.Blockers {
		if b.Name == s.Name && b.Matter == "service" {
			lines = append(lines, para(l.blocked, "In the way: ", l.clean(b.Why+"; clears it: "+b.Clears), w)...)
		}
	}
	return append(lines, wrap(l.clean(fmt.Sprintf("Once it is done: %s, or: hoveshort service %q", keys.Done.Help().Key, s.Name)), w, 2)...)
}

// inItsWay are the parts that are short and the tools that are not good.
func inItsWay(due machinery.Forecast) []string {
	var list []string
	for _, part := range due.Short {
		list = append(list, partWords(part)+" not aboard")
	}
	for _, tool := range due.Tools {
		list = append(list, fmt.Sprintf("%s %s", tool.Name, tool.State))
	}
	return list
}

func partWords(p machinery.Part) string {
	if p.Count > 1 {
		return fmt.Sprintf("%d x %s", p.Count, p.Name)
	}
	return p.Name
}

// wanted is what the service uses, needs and takes.
func wanted(s machinery.Service) string {
	parts := []string{"Uses no parts"}
	if len(s.Uses) > 0 {
		parts = []string{"Uses " + strings.Join(s.Uses, ", ")}
	}
	if len(s.Tools) > 0 {
		parts = append(parts, "with "+strings.Join(s.Tools, ", "))
	}
	if s.Takes > 0 {
		parts = append(parts, "takes "+quantity.RoughUp(s.Takes))
	}
	return strings.Join(parts, "; ") + "."
}

func everyWords(s machinery.Service) string {
	var every []string
	if s.EveryHours > 0 {
		every = append(every, fmt.Sprintf("%g h", s.EveryHours))
	}
	if s.EveryMonths > 0 {
		every = append(every, count(s.EveryMonths, "month", "months"))
	}
	switch len(every) {
	case 0:
		return "By need, not by hours or months."
	case 1:
		return "Every " + every[0] + "."
	}
	return "Every " + strings.Join(every, " or ") + ", whichever is first."
}

// doneWords is when it was last done, and how many engine hours are left.
func doneWords(due machinery.Forecast) string {
	last := due.Service.Last
	words := "Never done, or not written down."
	if last != (machinery.Done{}) {
		words = fmt.Sprintf("Last done %s at %g h.", last.Date, last.Hours)
	}
	left, byHours := due.HoursLeft()
	switch {
	case !byHours:
	case left >= 0:
		words += fmt.Sprintf(" The meter is at %g h: %.1f h left.", due.Meter, left)
	default:
		words += fmt.Sprintf(" The meter is at %g h: %.1f h over.", due.Meter, -left)
	}
	return words
}
