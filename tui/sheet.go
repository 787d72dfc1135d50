package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// A sheet is a list of which one row is selected and told in full: below itself, or where
// there is room for two columns beside the list.
type sheet struct {
	head   string // above the columns; "": none
	rows   []sheetRow
	cursor int
	scroll int // lines read of what is told of the selected row, where it does not fit
}

// sheetRow is one line, and what is told of it while it is selected.
type sheetRow struct {
	part  string         // the title it stands under; told once above the rows that share it
	line  string         // clean
	brief string         // instead of line where more tells the rest below; "": line
	style lipgloss.Style // of the line, where it is not selected
	more  func(width int) []string
}

// From this width on there are two columns.
const twoColumns = 120

// columns are the widths of the list and of what is told of its selected row; together
// they are one where beside is false.
func columns(w int) (list, more int, beside bool) {
	if w < twoColumns {
		return w, w - sheetIndent(w), false
	}
	list = min(80, w/2)
	return list, w - list - 3, true
}

// sheetIndent is how far what is told of a row stands in, below it.
func sheetIndent(w int) int {
	if w < 64 {
		return 2
	}
	return 4
}

func (s sheet) selected() (sheetRow, bool) {
	if len(s.rows) == 0 {
		return sheetRow{}, false
	}
	return s.rows[within(s.cursor, len(s.rows))], true
}

// list are the lines of the list; focus to end is the selected row.
func (s sheet) list(l look, w int) (lines []string, focus, end int) {
	width, moreWidth, beside := columns(w)
	part := ""
	if s.head != "" {
		lines = append(lines, l.title.Render(l.clip(s.head, width)))
	}
	for i, row := range s.rows {
		if row.part != part {
			part = row.part
			lines = append(lines, para(l.title, "", part, width)...)
		}
		from := len(lines)
		if i != within(s.cursor, len(s.rows)) {
			lines = append(lines, "  "+row.style.Render(l.clip(row.line, width-2)))
			continue
		}
		line := row.line
		if !beside && row.brief != "" {
			line = row.brief
		}
		lines = append(lines, selectedLine(l, line, width)...)
		if !beside && row.more != nil {
			for _, line := range row.more(moreWidth) {
				lines = append(lines, blanks(sheetIndent(w))+line)
			}
		}
		focus, end = from, len(lines)
	}
	return lines, focus, end
}

// selectedLine keeps the columns of a line that fits, and wraps another.
func selectedLine(l look, line string, w int) []string {
	if lipgloss.Width(line) <= w-2 {
		return []string{"> " + l.selected.Render(line)}
	}
	return para(l.selected, "> ", line, w)
}

// edges are the lines of a window that tell what is not seen.
const edges = 2

// overflow is how many lines of what is told cannot be seen at once; 0: all can.
func (s sheet) overflow(l look, z size) int {
	_, moreWidth, beside := columns(z.w)
	if row, is := s.selected(); beside && is && row.more != nil {
		return max(0, len(row.more(moreWidth))-z.h)
	}
	_, focus, end := s.list(l, z.w)
	if beside || end-focus <= z.h-edges {
		return 0
	}
	return hidden(end-focus, z.h)
}

// hidden is how many of so many lines a block of a height hides; its last line tells.
func hidden(lines, h int) int { return max(0, lines-(h-1)) }

// view is the sheet in exactly so many lines.
func (s sheet) view(l look, z size) []string {
	lines, focus, end := s.list(l, z.w)
	width, moreWidth, beside := columns(z.w)
	if !beside && end-focus > z.h-edges {
		return s.block(l, lines[focus:end], end < len(lines), z.h)
	}
	lines = filled(l.window(lines, focus, end, z.h), z.h)
	row, is := s.selected()
	if !beside || !is || row.more == nil {
		return lines
	}
	more := l.part(row.more(moreWidth), s.scroll, z.h)
	for i := range min(len(lines), len(more)) {
		lines[i] = l.pad(lines[i], width) + " " + l.side + " " + more[i]
	}
	return lines
}

// block is the selected row alone, where it leaves no room for others. The last line tells
// that there is more of it, or that other rows follow.
func (s sheet) block(l look, lines []string, follow bool, h int) []string {
	if h < 2 {
		return lines[:min(len(lines), max(0, h))]
	}
	most := hidden(len(lines), h)
	from := min(s.scroll, most)
	seen := filled(slices.Clone(lines[from:min(len(lines), from+h-1)]), h-1)
	switch {
	case from < most:
		return append(seen, "  "+l.more+" more to read: pgdn")
	case follow:
		return append(seen, "  "+l.more+" more below: down")
	}
	return append(seen, "")
}

// read goes on, or back, within what is told of the selected row; did is false where the
// key does not do that.
func (s sheet) read(l look, p press, z size) (scroll int, did bool) {
	most := s.overflow(l, z)
	switch {
	case p.is(keys.PageDown) && s.scroll < most:
		return min(most, s.scroll+max(1, z.h-edges)), true
	case p.is(keys.PageUp) && s.scroll > 0:
		return max(0, min(s.scroll, most)-max(1, z.h-edges)), true
	}
	return 0, false
}

// filled are lines, filled up with empty ones to a height.
func filled(lines []string, height int) []string {
	for len(lines) < height {
		lines = append(lines, "")
	}
	return lines
}

// A reader is a page that lies over a screen until it is closed.
type reader struct {
	what   string // "": none is open
	scroll int
}

func (r reader) isOpen() bool { return r.what != "" }

// update turns the pages, and closes.
func (r reader) update(p press, lines int, z size) reader {
	most := max(0, lines-z.h)
	if scroll, did := moved(p, min(r.scroll, most), most+1, 2*max(1, z.h-2)); did {
		r.scroll = scroll
		return r
	}
	if p.is(keys.Back) || p.is(keys.Leave) {
		return reader{}
	}
	return r
}

func (r reader) view(l look, lines []string, z size) string {
	return strings.Join(l.part(lines, r.scroll, z.h), "\n")
}

func (r reader) bindings() []bound {
	return append([]bound{can(as(keys.Back, "back"), ""), can(as(keys.Down, "read on"), ""), can(as(keys.PageDown, "a page on"), "")},
		quietly(keys.Up, keys.PageUp, keys.First, keys.Last)...)
}

// viewTitles are the views of a screen, of which one is shown.
func viewTitles(l look, names []string, shown, w int) string {
	marked := slices.Clone(names)
	marked[shown] = "[" + marked[shown] + "]"
	line := strings.Join(marked, "  ")
	place := fmt.Sprintf("%d of %d", shown+1, len(names))
	if gap := w - lipgloss.Width(line) - lipgloss.Width(place); gap >= 2 {
		return l.head.Render(line + blanks(gap) + place)
	}
	return l.head.Render(l.clip(fmt.Sprintf("[%s]  view %s; right: %s", names[shown], place, names[(shown+1)%len(names)]), w))
}
