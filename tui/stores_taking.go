package tui

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
)

// taking is the stock-taking: the boat is walked place by place, and each lot is counted with a
// number and enter. Each number is an entry of its own, so nothing is lost where it is cut off.
type taking struct {
	asked question
	at    checklist.Count // the lot that is asked for, by its food, date and place
}

// askTaken is its question.
const askTaken = "taken"

func (t taking) isOpen() bool { return t.asked.isOpen() }

// updateTaking is a key on the view before the counting begins.
func (s stores) updateTaking(f facts, p press) (screen, []action) {
	if p.is(keys.Enter) && whyNoStock(f) == "" {
		s.taking = taking{}.to(f, firstToCount(f))
	}
	return s, nil
}

func whyNoStock(f facts) string {
	if len(f.stores.lines) == 0 {
		return "nothing is aboard by the files and the record"
	}
	return ""
}

// firstToCount is the first line that was not counted in the last day: where the counting
// goes on after it was cut off.
func firstToCount(f facts) int {
	if i := slices.IndexFunc(f.stores.lines, func(l checklist.StockLine) bool { return !l.IsTaken(f.now) }); i >= 0 {
		return i
	}
	return 0
}

// counted is how many lines were counted in the last day.
func counted24(f facts) int {
	n := 0
	for _, l := range f.stores.lines {
		if l.IsTaken(f.now) {
			n++
		}
	}
	return n
}

// takingBefore is the view before the counting begins, or goes on.
func takingBefore(f facts, z size) []string {
	l := f.look
	done, all := counted24(f), len(f.stores.lines)
	lines := para(l.title, "", fmt.Sprintf("Stock-taking: %d of %s counted in the last day, in %s", done, count(all, "lot", "lots"), count(len(f.stores.places), "place", "places")), z.w)
	words := "enter: begin. A number and enter counts a lot; then the next is asked for, locker by locker."
	switch {
	case all == 0:
		words = "Nothing is aboard by the files and the record. What is bought is written down on the first view."
	case done == all:
		words = "All is counted. enter: go through it again."
	case done > 0:
		words = "enter: go on where it was left."
	}
	lines = append(lines, wrap(words, z.w, 0)...)
	for _, place := range f.stores.places {
		taken := 0
		for _, line := range place.Lines {
			if line.IsTaken(f.now) {
				taken++
			}
		}
		lines = append(lines, "  "+l.clip(fmt.Sprintf("%d of %d  %s", taken, len(place.Lines), l.clean(placeName(place.Place))), z.w-2))
	}
	return l.part(lines, 0, z.h)
}

func placeName(place string) string {
	if place == "" {
		return "no place written"
	}
	return place
}

// to asks for the n-th line.
func (t taking) to(f facts, n int) taking {
	if len(f.stores.lines) == 0 {
		return taking{}
	}
	line := f.stores.lines[within(n, len(f.stores.lines))]
	return taking{at: line.Count(0), asked: ask(askTaken)}
}

// index is which line is asked for; a lot that is gone from the list leaves the one behind it.
func (t taking) index(f facts) int {
	for i, line := range f.stores.lines {
		if line.Lot.Food == t.at.Food && line.Count(0).SameLot(t.at) {
			return i
		}
	}
	return 0
}

func (t taking) update(f facts, p press) (taking, []action) {
	at := t.index(f)
	if t.asked.input.Value() == "" {
		switch p.Type {
		case tea.KeyDown, tea.KeyTab:
			return t.to(f, min(at+1, len(f.stores.lines)-1)), nil
		case tea.KeyUp, tea.KeyShiftTab:
			return t.to(f, max(0, at-1)), nil
		}
	}
	next, text, sent := t.asked.update(p)
	if !sent {
		if text == "" && p.Type == tea.KeyEnter {
			next.note = "nothing was typed: 0 is none; down passes it over"
		}
		t.asked = next
		return t, nil
	}
	c, err := t.read(f, text)
	if err == nil {
		err = f.try(wishCount{c})
	}
	if err != nil {
		t.asked = next.refused(err)
		return t, nil
	}
	if c.Food != t.at.Food || !c.SameLot(t.at) { // found beside what is asked for, which is asked again
		t.asked = ask(askTaken)
		return t, []action{recordEntry{wishCount{c}}}
	}
	if at == len(f.stores.lines)-1 {
		return taking{}, []action{recordEntry{wishCount{c}}, say{"the last lot of the list"}}
	}
	return t.to(f, at+1), []action{recordEntry{wishCount{c}}}
}

// read is a number for the lot that is asked for, or another lot that was found there.
func (t taking) read(f facts, text string) (checklist.Count, error) {
	if first := []rune(text)[0]; unicode.IsLetter(first) {
		return f.definitions.ParseFound(text, t.at.Place)
	}
	n, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if err != nil || !(n >= 0 && n <= 1e5) {
		return checklist.Count{}, errNotANumber
	}
	c := t.at
	c.Packs = n
	return c, nil
}

var errNotANumber = fmt.Errorf(`that is no number; write it like "3" or "2.5", "0" for none; a lot that is on no list like "rice 2 2027-03-01"`)

func (t taking) bindings() []bound {
	return []bound{
		can(bind("0-9 enter", "so many are there", "enter"), ""),
		can(bind("down", "pass it over", "down"), ""),
		can(bind("up", "the one before", "up"), ""),
		can(bind("backspace", "stop, if empty", "backspace"), ""),
		can(bind("ctrl+u", "empty the line", "ctrl+u"), ""),
	}
}

func (t taking) view(f facts, z size) []string {
	l, at := f.look, t.index(f)
	line := f.stores.lines[within(at, len(f.stores.lines))]
	head := fmt.Sprintf("%d of %d counted", counted24(f), len(f.stores.lines))
	asked := []string{fmt.Sprintf("%s%s: how many?", l.clean(line.Lot.Food), unitWords(f, line))}
	q := t.asked
	q.lines = asked
	below := q.draw(l, size{z.w, max(1, min(z.h-2, 6))})

	var list []string
	focus := 0
	place := "\x00"
	for i, line := range f.stores.lines {
		if line.Lot.Place != place {
			place = line.Lot.Place
			list = append(list, l.title.Render(l.clip(l.clean(placeName(place)), z.w)))
		}
		text := f.takingRow(line, z.w-2)
		if i == at {
			focus = len(list)
			list = append(list, "> "+l.selected.Render(text))
			continue
		}
		list = append(list, "  "+text)
	}
	room := max(0, z.h-len(below)-1)
	lines := append([]string{l.head.Render(l.clip(head, z.w))}, l.window(list, focus, focus+1, room)...)
	return append(filled(lines, z.h-len(below)), below...)
}

// unitWords is what is counted: packs of a size, or a consumable's own unit.
func unitWords(f facts, line checklist.StockLine) string {
	if line.Consumable {
		return ", in " + f.look.clean(line.Unit)
	}
	return fmt.Sprintf(" (a pack is %s)", packSize(f, line.Lot.Food))
}

func (f facts) takingRow(line checklist.StockLine, w int) string {
	l := f.look
	should := packs(line.Lot.Packs)
	if line.Consumable {
		should = amountWords(line.Lot.Packs, l.clean(line.Unit))
	}
	state := "not counted"
	if line.IsTaken(f.now) {
		state = "counted " + ago(f.now, line.Counted)
	}
	words := dateWords(provisions.LotFigures{Lot: line.Lot})
	if w < 70 {
		return l.clip(fmt.Sprintf("%s, %s: %s, %s", l.clean(line.Lot.Food), words, should, state), w)
	}
	return l.clip(l.pad(l.clean(line.Lot.Food), 20)+" "+l.pad(words, 23)+" "+l.pad(should, 11)+" "+state, w)
}

// amountWords is an amount in a consumable's own unit, to the tenth and rounded down.
func amountWords(n float64, unit string) string {
	return strings.TrimSuffix(strings.TrimSuffix(packs(n), " packs"), " pack") + " " + unit
}
