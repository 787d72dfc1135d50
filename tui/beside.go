package tui

// A besider is a screen that has more to tell beside its page, where there is room for two
// columns: what helps with what is selected. It tells nothing that its page tells too.
type besider interface {
	// beside is in at most s, or nil: there is nothing to tell now, or not enough room, and
	// the page has the whole width.
	beside(f facts, s size) []string
}

// isBeside says that there is a second column, which tells what is selected in full.
func (f facts) isBeside() bool { return f.beside.w > 0 }

// parted gives the page and what stands beside it their columns.
func (m Model) parted() Model {
	m.facts.beside = size{}
	page, more, room := columns(m.terminal.w)
	if _, has := m.screen().(besider); !has || !room || m.help.open {
		return m
	}
	parted := m
	parted.facts.page.w, parted.facts.beside = page, size{more, m.facts.page.h}
	if parted.besides() == nil {
		return m
	}
	return parted
}

// besides is what stands beside the page now; nil: nothing.
func (m Model) besides() []string {
	s, has := m.screen().(besider)
	if !has || !m.facts.isBeside() {
		return nil
	}
	return s.beside(m.facts, m.facts.beside)
}

// beside puts the second column beside the lines of a page, with a line between.
func (l look) beside(page, more []string, width int) []string {
	lines := make([]string, max(len(page), len(more)))
	for i := range lines {
		left, right := "", ""
		if i < len(page) {
			left = page[i]
		}
		if i < len(more) {
			right = more[i]
		}
		lines[i] = l.pad(left, width) + " " + l.edge.Render(l.side) + " " + right
	}
	return lines
}

// cut is at most so many lines; the last tells that there were more.
func (l look) cut(lines []string, most int) []string {
	if len(lines) <= most || most < 1 {
		return lines[:min(len(lines), max(0, most))]
	}
	return append(append([]string(nil), lines[:most-1]...), "  "+l.more+" more in a taller window")
}
