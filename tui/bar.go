package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// passageShare is how much of a bar the hard case takes, so that all bars of a page
// have its end in the same column and what lasts longer can be seen to.
const passageShare = 0.75

// bar draws how long a thing lasts against the hard case: the time until the reserve
// is touched, the reserve, and a mark where the passage ends. What lasts beyond the
// bar ends in a sign of its own.
func (g glyphs) bar(s provisions.Stretch, width int) string {
	if width < 4 {
		return ""
	}
	end := int(passageShare * float64(width))
	untilReserve, untilNothing := column(s.Endurance, s.Length, end, width), column(s.LastDrop, s.Length, end, width)
	var b strings.Builder
	for i := range width {
		switch {
		case i == end:
			b.WriteString(g.end)
		case i == width-1 && untilReserve >= width:
			b.WriteString(g.over)
		case i < untilReserve:
			b.WriteString(g.full)
		case i < untilNothing:
			b.WriteString(g.reserve)
		default:
			b.WriteString(g.rest)
		}
	}
	return b.String()
}

// column is how many columns a time fills where length fills end of them; never more
// than are there, and short of the mark where the time is short of the passage.
func column(d provisions.Days, length float64, end, width int) int {
	if d.Never || length <= 0 {
		return width
	}
	if d.Days <= 0 {
		return 0
	}
	filled := int(min(d.Days/length*float64(end), float64(width)))
	if d.Days < length {
		return min(filled, end-1)
	}
	return max(filled, end)
}

// shownStretch is the stretch of a thing that tells most: the first that is short, or
// the first of all. others says that there are more.
func shownStretch(r provisions.Resource) (s provisions.Stretch, others, known bool) {
	for _, s := range r.Stretches {
		if s.Short > 0 {
			return s, len(r.Stretches) > 1, true
		}
	}
	s, known = r.First()
	return s, len(r.Stretches) > 1, known
}

// lasts tells a stretch in words; brief where there is little room.
func lasts(t passage.Thing, s provisions.Stretch, units quantity.System, brief bool) string {
	outcome := "enough"
	switch {
	case s.Bought:
		return fmt.Sprintf("bought on the way: %s", s.Need.Up(t, units))
	case s.Short > 0:
		outcome = s.Short.Up(t, units) + " short"
	}
	if brief {
		return fmt.Sprintf("%s, %s case %s: %s", s.Endurance, s.Hard, shortDaysUp(s.Length), outcome)
	}
	return fmt.Sprintf("%s to the reserve, %s case %s: %s", s.Endurance, s.Hard, shortDaysUp(s.Length), outcome)
}

// enduranceLines are the four things, one line each, as wide as the page.
func enduranceLines(f facts, width int) []string {
	l, a := f.look, f.assessment
	brief := width < 78
	barWidth := 17
	if width >= 100 {
		barWidth = min(48, width-63)
	}
	if width < 60 {
		barWidth = 0
	}
	var lines []string
	for _, t := range passage.Things {
		resource, counted := a.Reckoning.Resources[t]
		name := l.pad(string(t), 6)
		s, others, known := shownStretch(resource)
		switch {
		case !counted:
			lines = append(lines, name+"not reckoned: no rations are given")
			continue
		case !known:
			lines = append(lines, name+"not known: she cannot make the passage in any case")
			continue
		}
		words := lasts(t, s, a.Units, brief)
		if others {
			words += fmt.Sprintf(" (to %s)", l.clean(s.To))
		}
		style := l.keys
		if s.Short > 0 && a.Stretches {
			style = l.blocked
		}
		line := name
		if barWidth > 0 {
			line += l.bar(s, barWidth) + " "
		}
		lines = append(lines, line+style.Render(l.clip(words, width-len("water ")-barWidth-1)))
	}
	return lines
}

// barLegend tells what the bars show.
func (l look) barLegend(width int) string {
	if width < 60 {
		return "How long it lasts"
	}
	return l.clip(fmt.Sprintf("How long it lasts: %s to the reserve, %s the reserve, %s the hard case ends", l.full, l.reserve, l.end), width)
}

// shortDaysUp is provisions.DaysUp where the unit stands beside it already.
func shortDaysUp(days float64) string { return strings.TrimSuffix(provisions.DaysUp(days), " days") }
