package tui

// beside is the selected matter in full, with what clears it, and how long things last.
func (r ready) beside(f facts, s size) []string {
	if r.settle || r.event.open {
		return nil
	}
	l := f.look
	var lines []string
	if items := r.items(f); len(items) > 0 {
		lines = append(matterLines(f, items[within(r.cursor, len(items))], s.w), "")
	}
	lines = append(lines, l.title.Render(l.barLegend(s.w)))
	lines = append(lines, figures(f, s.w)...)
	if len(lines) > s.h {
		return nil
	}
	return lines
}

func matterLines(f facts, item readyItem, w int) []string {
	l := f.look
	lines := para(l.title, "", l.clean(item.mark()+item.title()), w)
	for _, text := range append([]string{item.why()}, item.rest(f)...) {
		if text != "" {
			lines = append(lines, para(l.keys, "  ", l.clean(text), w)...)
		}
	}
	return lines
}
