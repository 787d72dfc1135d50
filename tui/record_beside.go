package tui

import (
	"fmt"

	"boat/hoveshort/checklist"
)

// beside is the selected entry of the record: a sign-off as enter reads it, or all that an
// entry holds.
func (r record) beside(f facts, s size) []string {
	items := r.items(f)
	if r.isInside() || r.isTyping() || len(items) == 0 {
		return nil
	}
	item := items[within(r.cursor, len(items))]
	if item.passage != nil {
		return nil // it is read from the disk, when it is asked for
	}
	l, e := f.look, item.entry
	if item.sign != nil {
		r.reading = e.Seq
		return l.cut(r.signLines(f, s.w), s.h)
	}
	lines := para(l.title, "", fmt.Sprintf("Entry %d, %s", e.Seq, e.At.In(f.zone()).Format(longMoment)), s.w)
	lines = append(lines, para(l.keys, "  ", l.clean(entryWords(f, e)), s.w)...)
	if checklist.Struck(f.pages())[e.Seq] {
		lines = append(lines, para(l.caution, "  ", "It counts as never written.", s.w)...)
	}
	lines = append(lines, para(l.keys, "  ", "Its digits, which hold it and every entry before it: "+e.Sum, s.w)...)
	return l.cut(lines, s.h)
}
