package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist/machinery"
)

func lockersAnswer(f facts) string {
	things := 0
	for _, row := range f.gear.lockers {
		if row.thing != nil {
			things++
		}
	}
	return fmt.Sprintf("What lies where, by the files and the record: %s in %s.", count(things, "thing", "things"), count(len(f.gear.places), "place", "places"))
}

// lockerSheet are the places as a tree, with what lies there.
func lockerSheet(f facts, w int) []sheetRow {
	l := f.look
	var rows []sheetRow
	for _, row := range f.gear.lockers {
		indent := blanks(2 * min(row.depth, w/8))
		if row.thing != nil {
			style := l.keys
			if row.thing.Warning != "" {
				style = l.caution
			}
			rows = append(rows, sheetRow{
				line: indent + l.clean(stowedWords(*row.thing)), style: style, more: func(width int) []string { return stowedLines(l, row, width) },
			})
			continue
		}
		rows = append(rows, sheetRow{
			line: indent + l.clean(row.name) + l.clean(": "+count(len(row.holds), "thing", "things")), style: l.title,
			more: func(width int) []string { return placeLines(l, row, width) },
		})
	}
	return rows
}

// stowedWords is a thing in a line, with a warning where it may not serve.
func stowedWords(t machinery.Thing) string {
	words := t.Name
	if t.Warning != "" {
		words += " ! " + t.Warning
	}
	switch {
	case t.Note != "":
		words += ", " + t.Note
	case t.Warning == "":
		words += ", " + t.Kind
	}
	return words
}

func stowedLines(l look, row lockerRow, w int) []string {
	t := *row.thing
	var lines []string
	if t.Warning != "" {
		lines = append(lines, para(l.caution, "! ", l.clean(t.Warning), w)...)
	}
	where := "its place is not written"
	if row.path != "" {
		where = "in " + row.path
	}
	lines = append(lines, wrap(l.clean(t.Kind+", "+where), w, 2)...)
	return append(lines, "enter: go to it")
}

// placeLines are what a place holds, by kind.
func placeLines(l look, row lockerRow, w int) []string {
	by, warned := map[string]int{}, 0
	for _, t := range row.holds {
		by[t.Kind]++
		if t.Warning != "" {
			warned++
		}
	}
	var list []string
	for _, kind := range []struct{ of, one, many string }{
		{kindSpare, "spare", "spares"}, {kindTool, "tool", "tools"}, {kindDated, "with a date", "with a date"}, {kindFood, "food", "foods"},
	} {
		if by[kind.of] > 0 {
			list = append(list, count(by[kind.of], kind.one, kind.many))
		}
	}
	words := or(row.path, row.name) + ": "
	if row.inner > 0 {
		words = or(row.path, row.name) + ", with the places in it: "
	}
	words += strings.Join(list, ", ")
	if warned > 0 {
		words += fmt.Sprintf("; %d with a warning", warned)
	}
	return wrap(l.clean(words), w, 2)
}
