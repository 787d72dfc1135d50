package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

func (a ahead) view(f facts, s size) string {
	switch {
	case a.trying.isOpen():
		return a.trying.view(f, s)
	case a.page.isOpen():
		return a.page.view(f.look, a.pageText(f, s.w), s)
	}
	head := a.head(f, s)
	room := size{s.w, max(0, s.h-len(head))}
	if a.shown == leftView {
		return strings.Join(append(head, a.leftLines(f, room)...), "\n")
	}
	return strings.Join(append(head, a.sheet(f, s).view(f.look, room)...), "\n")
}

// room is what the head leaves to the list.
func (a ahead) room(f facts, s size) size { return size{s.w, max(0, s.h-len(a.head(f, s)))} }

// sheet is the list that is shown, but for the view with the charts.
func (a ahead) sheet(f facts, s size) sheet {
	w, _, _ := columns(s.w)
	list := sheet{cursor: a.cursor(), scroll: a.scroll}
	switch a.shown {
	case legsView:
		list.rows = legRows(f)
	case whatIfView:
		list.rows = whatIfRows(f, w-2)
	case turningView:
		list.rows = turningRows(f)
	case rangeView:
		list.head, list.rows = rangeSheet(f, w-2)
	}
	return list
}

// head tells which view it is, how the passage ends, and what the view comes to.
func (a ahead) head(f facts, s size) []string {
	l := f.look
	lines := []string{viewTitles(l, viewNames(), int(a.shown), s.w)}
	lines = append(lines, endings(f, s)...)
	style, answer := a.answer(f)
	if answer == "" || s.h < 8 {
		return lines
	}
	return append(lines, short(para(style, "", l.clean(answer), s.w), s.h/5, l)...)
}

// short is at most so many lines; the last tells that it was cut.
func short(lines []string, most int, l look) []string {
	most = max(1, most)
	if len(lines) <= most {
		return lines
	}
	lines = slices.Clone(lines[:most])
	lines[most-1] += l.more
	return lines
}

func viewNames() []string {
	var names []string
	for v := range views {
		names = append(names, v.title())
	}
	return names
}

// endings are how the passage ends: as planned, and beside it with what is tried.
func endings(f facts, s size) []string {
	l, p := f.look, f.prospect
	most := 1
	if s.h >= 16 {
		most = 2
	}
	room := size{s.w, most}
	if p.trial.IsEmpty() {
		return ending(f, "", f.assessment, room)
	}
	banner := "TRYING, nothing is written: " + strings.Join(p.trial.Words(), "; ") + "  (X: drop it; K: how to keep it)"
	lines := short(para(l.caution, "", l.clean(banner), s.w), most, l)
	lines = append(lines, ending(f, "as planned  ", f.assessment, room)...)
	return append(lines, ending(f, "tried       ", p.assessment, room)...)
}

// ending is how a passage ends, in at most so many lines: where there is no room for all
// of it, the worst of it is told whole and the rest left out.
func ending(f facts, prefix string, a checklist.Assessment, s size) []string {
	l, parts := f.look, howItEnds(f, a)
	for n := len(parts); n > 0; n-- {
		text := l.clean(strings.Join(parts[:n], "; "))
		if n < len(parts) {
			text += "; " + l.more
		}
		if lines := para(endStyle(l, a), prefix, text, s.w); len(lines) <= s.h {
			return lines
		}
	}
	return short(para(endStyle(l, a), prefix, l.clean(parts[0]), s.w), s.h, l)
}

func endStyle(l look, a checklist.Assessment) lipgloss.Style {
	switch {
	case !isSlowMade(a):
		return l.blocked
	case a.Reckoning.Verdict == provisions.Holds:
		return l.good
	case a.Reckoning.Verdict == provisions.IntoReserve:
		return l.caution
	}
	return l.blocked
}

func isSlowMade(a checklist.Assessment) bool { return a.Reckoning.Cases[passage.Slow].Voyage.Made() }

// howItEnds is how a passage ends, worst first: that she does not arrive, what runs out,
// that she arrives too late, what goes into its reserve, and what else stands against it.
func howItEnds(f facts, a checklist.Assessment) []string {
	if a.Reckoning.Verdict == "" {
		return []string{cannotMake(a)}
	}
	var parts []string
	if !isSlowMade(a) {
		parts = append(parts, "slow not made")
	}
	parts = append(parts, shortages(a, provisions.RunsOut)...)
	arrives, isLate := slowArrival(f, a)
	if isLate {
		parts = append(parts, arrives)
	}
	parts = append(parts, shortages(a, provisions.IntoReserve)...)
	switch {
	case a.Reckoning.Verdict != provisions.Holds:
	case isSlowMade(a):
		parts = append(parts, "all lasts, the reserve whole")
	default:
		parts = append(parts, "else all lasts, the reserve whole")
	}
	if isSlowMade(a) && !isLate {
		parts = append(parts, arrives)
	}
	if n := darkArrivals(a); n > 0 {
		parts = append(parts, "dark at "+count(n, "place", "places"))
	}
	if n := runningOut(a); n > 0 {
		parts = append(parts, count(n, "what if runs out", "what ifs run out"))
	}
	return parts
}

// shortages are the stretches that end so, thing by thing.
func shortages(a checklist.Assessment, how provisions.Verdict) []string {
	var parts []string
	for _, t := range passage.Things {
		for _, s := range a.Reckoning.Resources[t].Stretches {
			if s.Verdict() == how {
				parts = append(parts, shortWords(a, t, s))
			}
		}
	}
	return parts
}

// cannotMake names the legs that no case makes.
func cannotMake(a checklist.Assessment) string {
	var legs []string
	for _, leg := range a.Reckoning.Cases[passage.Slow].Voyage.Unmade {
		legs = append(legs, fmt.Sprint(leg+1))
	}
	if len(legs) == 0 {
		return "no case makes every leg"
	}
	return "no case makes every leg; the slow one cannot make leg " + strings.Join(legs, ", ")
}

// shortWords tell what is short, and loudly where it is more than the reserve.
func shortWords(a checklist.Assessment, t passage.Thing, s provisions.Stretch) string {
	words := string(t)
	if s.Verdict() == provisions.RunsOut {
		words += " RUNS OUT,"
	}
	return fmt.Sprintf("%s %s short%s", words, s.Short.Up(t, a.Units), toPlace(a.Reckoning.Resources[t], s))
}

// toPlace names the stretch, where a thing has several.
func toPlace(r provisions.Resource, s provisions.Stretch) string {
	if len(r.Stretches) < 2 {
		return ""
	}
	return " (to " + s.To + ")"
}

// slowArrival is when the slow case arrives; isLate: after the season. "" where it does not.
func slowArrival(f facts, a checklist.Assessment) (words string, isLate bool) {
	if !isSlowMade(a) {
		return "", false
	}
	words = "slow arrives " + a.Reckoning.Cases[passage.Slow].Voyage.Arrive().In(f.zone()).Format(momentLayout)
	if slices.ContainsFunc(a.Blockers, func(b checklist.Blocker) bool { return b.Matter == checklist.MatterSeason }) {
		return words + ", AFTER the season", true
	}
	return words, false
}

func darkArrivals(a checklist.Assessment) int {
	n := 0
	for _, c := range a.Cautions {
		if c.Matter == checklist.MatterDaylight {
			n++
		}
	}
	return n
}

// runningOut is in how many what-ifs something runs out.
func runningOut(a checklist.Assessment) int {
	n := 0
	for _, w := range a.WhatIfs.List {
		if w.Verdict == provisions.RunsOut {
			n++
		}
	}
	return n
}

// answer is what the view comes to, in a sentence.
func (a ahead) answer(f facts) (lipgloss.Style, string) {
	l, p := f.look, f.prospect
	if p.assessment.Reckoning.Verdict == "" && a.shown != legsView {
		return l.blocked, "Nothing can be told here: she cannot make the passage in any case. See Legs."
	}
	switch a.shown {
	case legsView:
		return l.title, leaveLine(f)
	case leftView:
		return l.title, "" // it stands with each thing
	case whatIfView:
		return l.title, whatIfAnswer(p.assessment)
	case turningView:
		return l.title, turningAnswer(f)
	}
	return l.title, rangeAnswer(p)
}

// leaveLine is when she leaves, or under way from when it is reckoned, with whom, for what kind of passage.
func leaveLine(f facts) string {
	plan := f.prospect.definitions.Plan
	of := "Leaving"
	if f.prospect.assessment.Way != nil {
		of = "Reckoned from"
	}
	words := fmt.Sprintf("%s %s; %d aboard, %s, %s", of, f.prospect.assessment.Reckoning.Depart.In(f.zone()).Format("Mon 2 Jan 15:04"),
		plan.Crew, plan.Climate, plan.Kind)
	if plan.Limits.Wind > 0 {
		words += "; wind limit " + plan.Limits.Wind.In(f.prospect.assessment.Units)
	}
	if everywhere := everywhereByDay(f); everywhere != "" {
		words += ". " + everywhere
	}
	return words
}

// pageText is the page that lies over the views.
func (a ahead) pageText(f facts, w int) []string {
	if a.page.what == pageLines {
		return keepLines(f, w)
	}
	return workingLines(f.look, a.workings(f), w)
}

// workingLines are where figures come from, step by step.
func workingLines(l look, list []provisions.Working, w int) []string {
	var lines []string
	for i, working := range list {
		if i > 0 {
			lines = append(lines, "")
		}
		lines = append(lines, para(l.title, "", l.clean(working.Title), w)...)
		for _, step := range working.Lines {
			lines = append(lines, workingStep(l, step, w)...)
		}
	}
	return lines
}

func workingStep(l look, step provisions.WorkingLine, w int) []string {
	text := step.Result
	if step.How != "" {
		text = step.How + " = " + step.Result
	}
	what, column := l.clean(step.What), min(34, max(12, w/3))
	if lipgloss.Width(what) <= column-2 {
		return para(l.keys, "  "+l.pad(what, column), l.clean(text), w)
	}
	return append(para(l.keys, "  ", what, w), para(l.keys, "  "+blanks(column), l.clean(text), w)...)
}
