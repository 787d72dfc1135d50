package tui

import "boat/hoveshort/provisions/passage"

// beside is the selected tank, lot or load in full, and how long things last.
func (s stores) beside(f facts, z size) []string {
	item, is := s.selected(f)
	if !is || s.shown != aboardView || s.page.isOpen() || s.taking.isOpen() {
		return nil
	}
	l := f.look
	name := item.name()
	if item.load != nil {
		name = string(item.load.Thing) + " at " + item.load.At
	}
	lines := para(l.title, "", l.clean(name), z.w)
	for _, more := range s.more(f, item) {
		lines = append(lines, para(l.keys, "  ", l.clean(more), z.w)...)
	}
	lines = append(lines, "", l.title.Render(l.barLegend(z.w)))
	lines = append(lines, enduranceLines(f, z.w)...)
	if len(lines) > z.h {
		return nil
	}
	return append(lines, s.workingBeside(f, item, size{z.w, z.h - len(lines) - 1})...)
}

// workingBeside is where what must be aboard of the thing comes from, in what room is left.
func (s stores) workingBeside(f facts, item storesItem, z size) []string {
	thing := passage.Food
	switch {
	case item.tank != nil:
		thing = item.tank.Tank.Holds
	case item.load != nil:
		thing = item.load.Thing
	}
	if z.h < 4 {
		return nil
	}
	working := workingLines(f.look, stretchWorkings(f.assessment, thing), z.w)
	if len(working) == 0 {
		return nil
	}
	return append([]string{""}, f.look.cut(working, z.h)...)
}
