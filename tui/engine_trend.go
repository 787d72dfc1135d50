package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist/machinery"
)

// trendNames are the gauges that have a trend, as the view calls them.
var trendNames = map[machinery.Gauge]string{
	machinery.GaugeCoolant: "coolant", machinery.GaugeRawOut: "raw-water lift", machinery.GaugeOil: "oil pressure",
	machinery.GaugeSpeed: "speed", machinery.GaugeVolts: "volts",
}

// trendLines are how the selected gauge moved, in a sentence and drawn; all gauges where
// there is room.
func (e engine) trendLines(f facts, s size) []string {
	trends := f.engine.Trends
	if len(trends) == 0 {
		return wrap("No gauge has a trend yet. It is made of readings with the revs, after 15 min at them, under way; 8 of a gauge make its limits.", s.w, 0)
	}
	selected := within(e.cursors[trendView], len(trends))
	if s.w >= allChartsWidth && s.h >= allChartsHeight {
		return allTrends(f, selected, s)
	}
	lines := []string{trendTitles(f.look, trends, selected, s.w)}
	room := size{s.w, s.h - len(lines)}
	words := trendWords(f.look, trends[selected], s.w)
	if len(words) > room.h {
		return append(lines, f.look.part(words, e.scroll, room.h)...)
	}
	return append(lines, trendPane(f, trends[selected], room)...)
}

// readTrend goes on, or back, in words that do not fit.
func (e engine) readTrend(f facts, p press, s size) (scroll int, did bool) {
	if len(f.engine.Trends) == 0 {
		return 0, false
	}
	room := s.h - 1
	words := trendWords(f.look, f.engine.Trends[within(e.cursors[trendView], len(f.engine.Trends))], s.w)
	most := max(0, len(words)-room)
	switch {
	case p.is(keys.PageDown) && e.scroll < most:
		return min(most, e.scroll+max(1, room-1)), true
	case p.is(keys.PageUp) && e.scroll > 0:
		return max(0, min(e.scroll, most)-max(1, room-1)), true
	}
	return 0, false
}

// trendTitles are the gauges, of which one is shown; what is worth a look says so.
func trendTitles(l look, trends []machinery.Trend, selected, w int) string {
	names := make([]string, len(trends))
	for i, t := range trends {
		names[i] = trendName(t)
		if i == selected {
			names[i] = "[" + names[i] + "]"
		}
	}
	line := strings.Join(names, "  ")
	if lipgloss.Width(line) > w {
		line = fmt.Sprintf("%s  %d of %d", names[selected], selected+1, len(trends))
	}
	return l.title.Render(l.clip(line, w))
}

func trendName(t machinery.Trend) string {
	if t.Level == machinery.LevelLook {
		return trendNames[t.Of] + " LOOK"
	}
	return trendNames[t.Of]
}

// trendWords are the sentence, and which rule the newest reading broke.
func trendWords(l look, t machinery.Trend, w int) []string {
	style := l.good
	switch {
	case t.Acts:
		style = l.blocked
	case t.Level == machinery.LevelLook:
		style = l.caution
	case t.Wanted > 0:
		style = l.keys
	}
	lines := para(style, "", l.clean(sentence(t.Words)), w)
	flags := t.Points[len(t.Points)-1].Flags
	if len(flags) == 0 {
		return lines
	}
	words := "The newest is flagged: " + string(flags[0])
	if n := len(flags) - 1; n > 0 {
		words += ", and by " + count(n, "more rule", "more rules")
	}
	return append(lines, wrap(words+".", w, 2)...)
}

// trendPane is the words and below them the drawing, in at most s.
func trendPane(f facts, t machinery.Trend, s size) []string {
	lines := trendWords(f.look, t, s.w)
	return append(lines, drawTrend(f.look, t, trendScale{f.assessment.Units, f.zone()}, size{s.w, s.h - len(lines)})...)
}

// allTrends are the gauges two and two.
func allTrends(f facts, selected int, s size) []string {
	const gap = 3
	trends := f.engine.Trends
	rows := (len(trends) + 1) / 2
	z := size{(s.w - gap) / 2, min(18, s.h/rows-1)}
	var lines []string
	for from := 0; from < len(trends); from += 2 {
		panes := [2][]string{}
		for i := range min(2, len(trends)-from) {
			name := "  " + trendName(trends[from+i])
			if from+i == selected {
				name = "> " + trendName(trends[from+i])
			}
			panes[i] = append([]string{f.look.title.Render(name)}, trendPane(f, trends[from+i], size{z.w, z.h - 1})...)
		}
		for i := range z.h {
			line := ""
			for _, pane := range panes {
				text := ""
				if i < len(pane) {
					text = pane[i]
				}
				line += f.look.pad(text, z.w) + blanks(gap)
			}
			lines = append(lines, strings.TrimRight(line, " "))
		}
		lines = append(lines, "")
	}
	return lines[:min(len(lines), s.h)]
}
