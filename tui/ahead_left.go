package tui

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/tui/chart"
)

// From this size on all things are shown at once.
const (
	allChartsWidth  = 120
	allChartsHeight = 36
)

// leftLines are what is left of the selected thing, in words and drawn; of all things
// where there is room.
func (a ahead) leftLines(f facts, s size) []string {
	l, known := f.look, things(f.prospect.outlook.Left)
	if len(known) == 0 {
		return filled(nil, s.h)
	}
	selected := within(a.cursors[leftView], len(known))
	if s.w >= allChartsWidth && s.h >= allChartsHeight {
		return filled(allCharts(f, known, selected, s), s.h)
	}
	lines := []string{thingTitles(l, known, selected, s.w)}
	room := size{s.w, s.h - len(lines)}
	if words := thingWords(f, known[selected], s.w); len(words) > room.h {
		return filled(append(lines, l.part(words, a.scroll, room.h)...), s.h)
	}
	return filled(append(lines, thingLines(f, known[selected], room)...), s.h)
}

// readLeft goes on, or back, in the words of a thing that do not fit.
func (a ahead) readLeft(f facts, p press) (scroll int, did bool) {
	known := things(f.prospect.outlook.Left)
	if len(known) == 0 {
		return 0, false
	}
	room := a.room(f, f.page).h - 1
	most := max(0, len(thingWords(f, known[within(a.cursors[leftView], len(known))], f.page.w))-room)
	switch {
	case p.is(keys.PageDown) && a.scroll < most:
		return min(most, a.scroll+max(1, room-1)), true
	case p.is(keys.PageUp) && a.scroll > 0:
		return max(0, min(a.scroll, most)-max(1, room-1)), true
	}
	return 0, false
}

// thingTitles are the things, of which one is shown.
func thingTitles(l look, known []passage.Thing, selected, w int) string {
	var names []string
	for i, t := range known {
		name := string(t)
		if i == selected {
			name = "[" + name + "]"
		}
		names = append(names, name)
	}
	return l.title.Render(l.clip(strings.Join(names, "  ")+"   up, down: another", w))
}

// allCharts are the things two and two.
func allCharts(f facts, known []passage.Thing, selected int, s size) []string {
	const gap = 3
	var lines []string
	rows := (len(known) + 1) / 2
	z := size{(s.w - gap) / 2, s.h/rows - 1}
	for from := 0; from < len(known); from += 2 {
		panes := [2][]string{}
		for i := range min(2, len(known)-from) {
			name := string(known[from+i])
			if from+i == selected {
				name = "> " + name
			}
			panes[i] = append([]string{f.look.title.Render(name)}, thingLines(f, known[from+i], size{z.w, z.h - 1})...)
		}
		for i := range z.h {
			line := ""
			for pane := range panes {
				text := ""
				if i < len(panes[pane]) {
					text = panes[pane][i]
				}
				line += f.look.pad(text, z.w) + blanks(gap)
			}
			lines = append(lines, strings.TrimRight(line, " "))
		}
		lines = append(lines, "")
	}
	return lines
}

// thingLines are the answer in words and below it the drawing, in at most s.
func thingLines(f facts, t passage.Thing, s size) []string {
	lines, left := thingWords(f, t, s.w), f.prospect.outlook.Left
	options := chart.Options{
		Width: s.w, Height: s.h - len(lines), Glyphs: chart.Glyphs(f.look.set), Units: f.prospect.assessment.Units,
		Depart: f.prospect.assessment.Reckoning.Depart.In(f.zone()),
	}
	if way, underWay := f.prospect.assessment.WayChart(t, left); underWay {
		left, options.Planned, options.Facts, options.Depart = way.Left, way.Planned, way.Facts, way.Depart.In(f.zone())
	}
	return append(lines, chart.Draw(left, t, options)...)
}

// thingWords are how each case ends for a thing, its figures, and what to load of it.
func thingWords(f facts, t passage.Thing, w int) []string {
	l := f.look
	var lines []string
	for _, left := range leftOf(f.prospect.outlook.Left, t) {
		style := l.keys
		if reserve, nothing := left.Touched(); len(reserve)+len(nothing) > 0 {
			style = l.blocked
		}
		lines = append(lines, para(style, l.pad(string(left.Case), nameColumn), l.clean(caseWords(f, left)), w)...)
	}
	lines = append(lines, wrap(l.clean(enduranceWords(f, t)), w, 2)...)
	for _, load := range toLoad(f, t) {
		lines = append(lines, para(l.title, "Load at ", l.clean(load), w)...)
	}
	return lines
}

// toLoad is where something of a thing must be loaded, and how much.
func toLoad(f facts, t passage.Thing) []string {
	var list []string
	for _, l := range f.prospect.assessment.Loads {
		if l.Thing == t && (l.Amount > 0 || l.Lacks > 0) {
			list = append(list, l.At+": "+l.Words(f.prospect.assessment.Units))
		}
	}
	return list
}

func leftOf(list []provisions.Left, t passage.Thing) []provisions.Left {
	return slices.DeleteFunc(slices.Clone(list), func(l provisions.Left) bool { return l.Thing != t })
}

// caseWords are how a case ends for a thing.
func caseWords(f facts, left provisions.Left) string {
	reserve, nothing := left.Touched()
	arrives := "arrives " + f.after(left.Ends()).Format("Mon 2 Jan 15:04")
	var parts []string
	if len(reserve) > 0 {
		parts = append(parts, "reserve touched "+f.after(reserve[0].Hours).Format("Mon 2 Jan 15:04"))
	}
	if len(nothing) > 0 {
		parts = append(parts, "NOTHING LEFT "+f.after(nothing[0].Hours).Format("Mon 2 Jan 15:04"))
	}
	if len(parts) == 0 {
		parts = append(parts, "reserve whole"+atTheEnd(f, left))
	}
	return strings.Join(append(parts, arrives), "; ")
}

// atTheEnd is what is left beyond the reserve on arrival.
func atTheEnd(f facts, left provisions.Left) string {
	if len(left.Points) == 0 || len(left.Floor) == 0 {
		return ""
	}
	over := left.Points[len(left.Points)-1].Amount - left.Floor[len(left.Floor)-1].Amount
	return fmt.Sprintf(", %s over it at the end", max(0, over).Down(left.Thing, f.prospect.assessment.Units))
}

// after is so many hours after the departure, in the time kept aboard.
func (f facts) after(hours float64) time.Time {
	return f.prospect.assessment.Reckoning.Depart.Add(time.Duration(hours * float64(time.Hour))).In(f.zone())
}

// enduranceWords are the figures of a thing's stretches.
func enduranceWords(f facts, t passage.Thing) string {
	a := f.prospect.assessment
	var parts []string
	for _, s := range a.Reckoning.Resources[t].Stretches {
		words := fmt.Sprintf("need %s, reserve %s", s.Need.Up(t, a.Units), s.Reserve.Up(t, a.Units))
		switch {
		case s.Bought:
			words += ", bought there"
		case s.Short > 0:
			words += fmt.Sprintf(", %s can be counted on: %s SHORT", s.Available.Down(t, a.Units), s.Short.Up(t, a.Units))
		case s.Endurance.Never:
			words += fmt.Sprintf(", %s can be counted on; nothing is used of it: lasts without end", s.Available.Down(t, a.Units))
		default:
			words += fmt.Sprintf(", %s can be counted on: lasts %s to the reserve", s.Available.Down(t, a.Units), s.Endurance)
		}
		parts = append(parts, words+toPlace(a.Reckoning.Resources[t], s))
	}
	return sentence(strings.Join(parts, "; "))
}
