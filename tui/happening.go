package tui

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
)

// happening is where something that happened is told: one of the events after which a
// check is asked again, or words of one's own.
type happening struct {
	open   bool
	cursor int // the last line is for words of one's own
	asked  question
}

// askHappened is the question for words of one's own.
const askHappened = "happened"

// begin opens the list.
func (happening) begin() happening { return happening{open: true} }

func (h happening) update(f facts, p press) (happening, []action) {
	if h.asked.isOpen() {
		return h.answer(f, p)
	}
	names := f.definitions.EventNames()
	if cursor, did := moved(p, h.cursor, len(names)+1, f.page.h); did {
		h.cursor = cursor
		return h, nil
	}
	switch {
	case p.is(keys.Leave), p.is(keys.OutOf):
		return happening{}, []action{say{"nothing was written"}}
	case !p.is(keys.Enter) || p.rest:
		return h, nil
	case h.cursor >= len(names):
		h.asked = ask(askHappened, "What happened? In your own words; they are kept, and no check is asked again for them:")
		return h, nil
	}
	return happening{}, []action{recordEntry{wishEvent{names[h.cursor]}}}
}

func (h happening) answer(f facts, p press) (happening, []action) {
	next, text, sent := h.asked.update(p)
	if !sent {
		h.asked = next
		return h, nil
	}
	w := wishEvent{text}
	if err := f.try(w); err != nil {
		h.asked = next.refused(err)
		return h, nil
	}
	return happening{}, []action{recordEntry{w}}
}

func (h happening) view(f facts, s size) string {
	l := f.look
	head := para(l.title, "", "What happened? The checks that it touches are asked again.", s.w)
	if h.asked.isOpen() {
		return strings.Join(h.asked.under(f, head, s), "\n")
	}
	var lines []string
	focus, end := 0, 0
	for i, name := range append(f.definitions.EventNames(), "") {
		from := len(lines)
		lines = append(lines, happeningLine(f, name, i == h.cursor, s.w)...)
		if i == h.cursor {
			focus, end = from, len(lines)
		}
	}
	return strings.Join(append(head, l.window(lines, focus, end, max(0, s.h-len(head)))...), "\n")
}

// happeningLine is one event, and which answers that count now it would void.
func happeningLine(f facts, name string, selected bool, w int) []string {
	l := f.look
	text, ids := l.clean(name), voidedBy(f.assessment, name)
	switch {
	case name == "":
		text = "something else, in your own words"
	case len(ids) > 0:
		text += ": asks again " + l.clean(strings.Join(ids, ", "))
	}
	if !selected {
		return []string{"  " + l.clip(text, w-2)}
	}
	return para(l.selected, "> ", text, w)
}

// voidedBy are the ids of the checks that are right now and would be no longer.
func voidedBy(a checklist.Assessment, event string) []string {
	var ids []string
	for _, round := range a.Rounds {
		for _, c := range round.Applying() {
			if c.Status == checklist.StatusRight && slices.Contains(c.VoidBy, event) {
				ids = append(ids, c.ID)
			}
		}
	}
	return ids
}

func (h happening) bindings() []bound {
	if h.asked.isOpen() {
		return h.asked.bindings()
	}
	return append([]bound{can(as(keys.Enter, "it happened: write it down"), "")}, append(moving(), quietly(as(keys.OutOf, "back"))...)...)
}

func (h happening) refreshed(f facts) happening {
	h.cursor = within(h.cursor, len(f.definitions.EventNames())+1)
	return h
}

type wishEvent struct{ what string }

func (w wishEvent) act(k known) (checklist.Act, error) { return k.definitions.NewEvent(w.what) }
func (w wishEvent) words() string                      { return fmt.Sprintf("it happened: %s", w.what) }
