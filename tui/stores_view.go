package tui

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

func (s stores) view(f facts, z size) string {
	if s.page.isOpen() {
		return s.page.view(f.look, s.pageLines(f, z.w), z)
	}
	lines := append([]string{viewTitles(f.look, storesViewNames, int(s.shown), z.w)}, s.body(f, s.room(z))...)
	return strings.Join(lines[:min(len(lines), max(1, z.h))], "\n")
}

// body is the view that is shown, below the titles.
func (s stores) body(f facts, z size) []string {
	switch {
	case s.taking.isOpen():
		return s.taking.view(f, z)
	case s.shown == firstView:
		return s.viewFirst(f, z)
	case s.shown == takingView:
		return takingBefore(f, z)
	case s.shown == buyView:
		return f.look.part(s.buyLines(f, z.w), s.scroll, z.h)
	case s.shown == usedView:
		return s.viewUsed(f, z)
	}
	lines, focus, end := s.list(f, z.w)
	if s.asked.isOpen() {
		return s.asked.under(f, lines[focus:end], z)
	}
	return f.look.window(lines, focus, end, z.h)
}

func (s stores) list(f facts, w int) (lines []string, focus, end int) {
	l := f.look
	lines = para(l.title, "", l.clean("Tanks; to be counted on "+f.then()+": "+totals(f)), w)
	load, stock := false, false
	for i, item := range s.items(f) {
		switch {
		case item.load != nil && !load:
			load = true
			lines = append(lines, "")
			lines = append(lines, para(l.title, "", loadTitle, w)...)
		case item.isFood() && !stock:
			stock = true
			lines = append(lines, "")
			lines = append(lines, para(l.title, "", l.clean(stockTitle(f)), w)...)
		}
		from := len(lines)
		lines = append(lines, s.item(f, item, i == s.cursor, w)...)
		if i == s.cursor {
			focus, end = from, len(lines)
		}
	}
	if len(lines) == 1 {
		lines = append(lines, wrap("No tank and no food is written in the boat's files.", w, 0)...)
	}
	return lines, focus, max(end, focus)
}

// totals is what can be counted on of each thing that tanks hold.
func totals(f facts) string {
	var parts []string
	for _, t := range []passage.Thing{passage.Water, passage.Fuel, passage.Gas} {
		if s, known := f.assessment.Reckoning.Resources[t].First(); known {
			parts = append(parts, fmt.Sprintf("%s %s", s.Available.Down(t, f.assessment.Units), t))
		}
	}
	if len(parts) == 0 {
		return "not known, as she cannot make the passage"
	}
	return strings.Join(parts, ", ")
}

func stockTitle(f facts) string {
	s, known := f.assessment.Reckoning.Resources[passage.Food].First()
	if !known {
		return "Food " + f.then()
	}
	return fmt.Sprintf("Food %s: lasts %s to the reserve, %s case %s", f.then(), s.Endurance, s.Hard, provisions.DaysUp(s.Length))
}

func (s stores) item(f facts, item storesItem, selected bool, w int) []string {
	l := f.look
	text := l.clean(s.row(f, item, w-2))
	if !selected {
		return []string{"  " + l.clip(text, w-2)}
	}
	lines := []string{"> " + l.selected.Render(l.clip(text, w-2))}
	if f.isBeside() {
		return lines
	}
	for _, more := range s.more(f, item) {
		lines = append(lines, para(l.keys, "    ", l.clean(more), w)...)
	}
	return lines
}

// row is one line of the list: in columns where there is room, else in words.
func (s stores) row(f facts, item storesItem, w int) string {
	l := f.look
	var cells []string
	switch {
	case item.load != nil:
		return loadRow(f, *item.load)
	case item.tank != nil:
		t := *item.tank
		cells = []string{t.Tank.Name, told(f, t), counted(f, t), sounded(f, t)}
	case item.lot != nil:
		cells = []string{item.food, packs(item.lot.Packs), dateWords(*item.lot), fate(*item.lot)}
	default:
		cells = []string{item.food, "none", "", ""}
	}
	if w < 70 {
		return strings.Join(slices.DeleteFunc(cells, func(c string) bool { return c == "" }), ", ")
	}
	widths := [3]int{16, 10, 22}
	if item.tank != nil {
		widths = [3]int{26, 12, 22}
	}
	text := ""
	for i, width := range widths {
		text += l.pad(cells[i], width) + " "
	}
	return text + cells[3]
}

// told is the level as it was told, with what was filled since.
func told(f facts, t provisions.TankFigures) string {
	state := f.state.Tanks[t.Tank.Name]
	text := state.Level
	if state.Seq == 0 {
		text = t.Tank.Level.Text
	}
	for _, m := range state.Moves {
		sign := " + "
		if m.Out {
			sign = " - "
		}
		text += sign + m.Amount
	}
	if text == "" {
		return "not told"
	}
	return text
}

// counted is what can be planned on of the tank.
func counted(f facts, t provisions.TankFigures) string {
	switch {
	case t.Problem != nil:
		return "cannot be right"
	case t.Tank.Sealed:
		return "sealed, not planned on"
	}
	return "counts for " + t.Counted.Down(t.Tank.Holds, f.assessment.Units)
}

// sounded is when it was, in words.
func sounded(f facts, t provisions.TankFigures) string {
	state := f.state.Tanks[t.Tank.Name]
	switch {
	case t.Tank.Sealed:
		return ""
	case state.Seq == 0:
		return "never sounded"
	case state.Doubtful, state.At.After(f.now):
		return "time in doubt"
	}
	return ago(f.now, state.At)
}

// fate is what becomes of a lot, or where it lies if it is all eaten in time.
func fate(l provisions.LotFigures) string {
	if l.Wasted < 0.5 {
		return l.Lot.Place
	}
	return packs(l.Wasted) + " go off uneaten"
}

// more is what is told of the selected one, in whole sentences.
func (s stores) more(f facts, item storesItem) []string {
	switch {
	case item.tank != nil:
		return tankWords(f, *item.tank)
	case item.load != nil:
		return loadWords(f, *item.load)
	case item.lot != nil:
		return lotSentences(f, *item.lot)
	}
	return []string{"None is aboard by the files and the record. c: count it."}
}

func tankWords(f facts, t provisions.TankFigures) []string {
	units, holds := f.assessment.Units, t.Tank.Holds
	if t.Problem != nil {
		return []string{"It cannot stand at that level: " + t.Problem.Error()}
	}
	level := fmt.Sprintf("%s of %s", t.Level.Down(holds, units), t.Tank.Capacity.Down(holds, units))
	lines := []string{fmt.Sprintf("%s: %s, %s%s.", holds, level, howTold(t), movedSince(f, t.Tank.Name))}
	if t.Tank.Sealed {
		return append(lines, "Sealed cans are kept for an emergency: they are never planned on, and need no sounding.")
	}
	lines = append(lines, fmt.Sprintf("%s can be counted on%s.", t.Counted.Down(holds, units), takenOff(t, units)))
	if state := f.state.Tanks[t.Tank.Name]; state.Seq > 0 {
		lines = append(lines, fmt.Sprintf("Sounded %s, %s.", state.At.In(f.zone()).Format(momentLayout), ago(f.now, state.At)))
	}
	return append(lines, blockersOf(f, t.Tank.Name)...)
}

// takenOff is why less can be counted on than is there.
func takenOff(t provisions.TankFigures, units quantity.System) string {
	var off []string
	if t.Error > 0 {
		off = append(off, t.Error.Up(t.Tank.Holds, units)+" that the level may be out by")
	}
	if t.Tank.Unusable > 0 {
		off = append(off, t.Tank.Unusable.Up(t.Tank.Holds, units)+" below the pick-up")
	}
	if len(off) == 0 {
		return ""
	}
	return ", after " + strings.Join(off, " and ")
}

// movedSince is what was filled and taken since the tank was sounded.
func movedSince(f facts, tank string) string {
	words := ""
	for _, m := range f.state.Tanks[tank].Moves {
		if m.Out {
			words += ", then " + m.Amount + " taken out"
			continue
		}
		words += ", then " + m.Amount + " filled"
	}
	return words
}

func howTold(t provisions.TankFigures) string {
	if t.Held.At.IsZero() {
		return "by the opening level in boat.toml"
	}
	switch t.Held.Level.Kind {
	case provisions.ByShare:
		return "read off as a share"
	case provisions.ByDip:
		return "by the dipstick"
	case provisions.Brim:
		return "filled to the brim"
	}
	return "told as an amount"
}

// blockersOf is what stands in the way at this tank or food.
func blockersOf(f facts, name string) []string {
	var lines []string
	for _, b := range f.assessment.Blockers {
		if b.Matter == checklist.MatterSounding && b.Name == name {
			lines = append(lines, "It stands in the way: "+b.Why+".")
		}
	}
	return lines
}

func lotSentences(f facts, l provisions.LotFigures) []string {
	where := "Its place is not written."
	if l.Lot.Place != "" {
		where = "In " + l.Lot.Place + "."
	}
	lines := []string{fmt.Sprintf("%s %s, %s. %s", packs(l.Packs), f.then(), dateWords(l), where)}
	lines = append(lines, endWords(f, l))
	if l.Counted.IsZero() {
		lines = append(lines, "Never counted: the opening stock of stores.toml.")
	} else {
		lines = append(lines, fmt.Sprintf("%s counted %s, %s; the rations until departure are taken off.",
			packs(l.Lot.Packs), l.Counted.In(f.zone()).Format(momentLayout), ago(f.now, l.Counted)))
	}
	return append(lines, blockersOf(f, l.Lot.Food)...)
}

// endWords is how long a lot counts.
func endWords(f facts, l provisions.LotFigures) string {
	words := "It has no end."
	switch today := quantity.DateOf(f.now.In(f.zone())); {
	case l.Ends.Last.IsZero():
	case l.Ends.Last.Before(today):
		words = fmt.Sprintf("It went off on %s and does not count.", l.Ends.Last)
	case l.Ends.Safety:
		words = fmt.Sprintf("It counts until %s and never after.", l.Ends.Last)
	case l.Ends.Written.Before(today):
		words = fmt.Sprintf("Older than its date: look and smell. It counts until %s.", l.Ends.Last)
	default:
		words = fmt.Sprintf("It counts until %s.", l.Ends.Last)
	}
	if l.Wasted >= 0.1 {
		words += fmt.Sprintf(" %s go off before they are eaten.", packs(l.Wasted))
	}
	return words
}
