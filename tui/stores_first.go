package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

// updateFirst is a key among what is to be eaten first.
func (s stores) updateFirst(f facts, p press) (screen, []action) {
	if cursor, did := moved(p, s.first, len(f.stores.first), s.room(f.page).h); did {
		s.first = cursor
		return s, nil
	}
	if item, is := s.selectedFirst(f); is {
		s.about = item
		s.asked = s.stockQuestion(f, p, item)
	}
	return s, nil
}

// selectedFirst is the lot that is selected there.
func (s stores) selectedFirst(f facts) (storesItem, bool) {
	if len(f.stores.first) == 0 {
		return storesItem{}, false
	}
	line := f.stores.first[within(s.first, len(f.stores.first))]
	return storesItem{food: line.Lot.Food, lot: &provisions.LotFigures{Lot: line.Lot, Packs: line.Lot.Packs, Ends: line.Ends, Wasted: line.Wasted, Counted: line.Counted}}, true
}

func (s stores) firstBindings(f facts) []bound {
	why := ""
	if len(f.stores.first) == 0 {
		why = "nothing ends within the week"
	}
	return []bound{can(keys.Count, why), can(keys.UsedUp, why), can(keys.Thrown, why), can(keys.Bought, why)}
}

func (s stores) viewFirst(f facts, z size) []string {
	l := f.look
	head := para(l.title, "", "To be eaten or looked at within the week, soonest first. A date is no proof: look, smell, and when in doubt leave it.", z.w)
	if len(f.stores.first) == 0 {
		return append(head, wrap("Nothing ends within the week, and nothing goes off on the passage uneaten.", z.w, 0)...)
	}
	list := sheet{cursor: s.first}
	for _, line := range f.stores.first {
		list.rows = append(list.rows, f.firstRow(line, z.w))
	}
	if s.asked.isOpen() {
		lines, focus, end := list.list(l, z.w)
		return s.asked.under(f, lines[focus:end], z)
	}
	return append(head, list.view(l, size{z.w, max(0, z.h-len(head))})...)
}

func (f facts) firstRow(line checklist.StockLine, w int) sheetRow {
	l := f.look
	name := max(10, min(20, w/4))
	brief := l.pad(l.clean(line.Lot.Food), name) + " " + l.pad(packs(line.Lot.Packs), 10) + " " + l.pad(string(line.Fresh), 22)
	if w < 70 {
		brief = fmt.Sprintf("%s, %s, %s", l.clean(line.Lot.Food), packs(line.Lot.Packs), line.Fresh)
	}
	text := brief
	if w >= 70 {
		text += l.clean(line.Lot.Place)
	}
	return sheetRow{line: text, brief: strings.TrimRight(brief, " "), style: f.freshStyle(line.Fresh), more: func(width int) []string {
		words := endWords(f, provisions.LotFigures{Lot: line.Lot, Ends: line.Ends, Wasted: line.Wasted})
		lines := wrap(l.clean(words), width, 0)
		place := "Its place is not written."
		if line.Lot.Place != "" {
			place = "In " + line.Lot.Place + "."
		}
		return append(lines, wrap(l.clean(place), width, 0)...)
	}}
}

func (f facts) freshStyle(fresh checklist.Freshness) lipgloss.Style {
	switch fresh {
	case checklist.GoneOff:
		return f.look.blocked
	case checklist.Older, checklist.Soon:
		return f.look.caution
	}
	return f.look.keys
}
