package tui

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
)

// record is where she is signed off, what was signed before, and the last entries.
type record struct {
	cursor  int
	reading int // entry number of the sign-off that is read; 0: none
	around  int // entry number that the list of entries goes round; 0: it is of the last ones
	side    int // entry number of the passage that is held against what came of it; 0: none
	scroll  int

	voyage  voyaging
	leaving bool     // the one confirmation of leaving is asked for
	against []string // why she may not leave; none: it is not read

	asked   question
	about   int    // the entry that is to be struck
	name    string // typed, while the confirmation is asked for
	refused []string
}

// The questions of this screen.
const (
	askName   = "name"
	askDepart = "depart"
	askStrike = "strike"
)

// lastEntries is how many entries are listed.
const lastEntries = 200

// recordItem is a line that can be selected: a sign-off, or an entry.
type recordItem struct {
	entry checklist.Entry
	sign  *checklist.Sign // nil: listed among the entries

	passage *checklist.Sailed // a passage that she left on; nil: one of the two others
}

func (r record) items(f facts) []recordItem {
	items := passageItems(f)
	for _, e := range slices.Backward(f.pages()) {
		if sign, is := e.Act.(checklist.Sign); is {
			items = append(items, recordItem{entry: e, sign: &sign})
		}
	}
	entries := f.pages()
	for _, e := range slices.Backward(r.listed(entries)) {
		items = append(items, recordItem{entry: e})
	}
	return items
}

// listed are the last entries, or those round one that was gone to.
func (r record) listed(entries []checklist.Entry) []checklist.Entry {
	until := len(entries)
	if r.around > 0 {
		i := slices.IndexFunc(entries, func(e checklist.Entry) bool { return e.Seq >= r.around })
		if i >= 0 {
			until = min(until, i+lastEntries/2)
		}
	}
	return entries[max(0, until-lastEntries):until]
}

// pages is the whole record as far as it was read.
func (f facts) pages() []checklist.Entry {
	if f.history == nil {
		return f.entries
	}
	return f.history
}

func (r record) update(f facts, p press) (screen, []action) {
	switch {
	case r.voyage.isOpen():
		next, actions := r.voyage.update(f, p)
		r.voyage = next
		return r, actions
	case r.leaving:
		return r.confirmLeaving(p)
	case r.against != nil:
		return r.readAgainst(f, p)
	case r.asked.isOpen():
		return r.answer(f, p)
	case r.name != "":
		return r.confirm(f, p)
	case r.refused != nil:
		return r.readRefusal(f, p)
	case r.reading != 0:
		return r.read(f, p), nil
	case r.side != 0:
		return r.readSide(f, p), nil
	}
	items := r.items(f)
	if cursor, did := moved(p, r.cursor, len(items), f.page.h); did {
		r.cursor = cursor
		return r, nil
	}
	if next, actions, did := r.beginAtSea(f, p); did {
		return next, actions
	}
	switch {
	case p.is(keys.Leave):
		return r, []action{closeScreen{}}
	case p.is(keys.Back) && r.around != 0:
		r.around, r.cursor = 0, 0
		return r, nil
	case p.is(keys.Sign):
		return r.startSigning(f)
	case p.is(keys.Move):
		r.asked = ask(askDepart, "All screens then reckon with it, until you leave or move it back; signed, it holds with the sign-off. passage.toml stays as it is.",
			`When does she leave? Write it like "09:00", "20 Oct 09:00", or "as planned":`)
		return r, nil
	case len(items) == 0:
		return r, nil
	}
	item := items[within(r.cursor, len(items))]
	_, isSign := item.entry.Act.(checklist.Sign)
	switch {
	case p.is(keys.Enter) && item.passage != nil:
		return r.openSide(item)
	case p.is(keys.Enter) && isSign:
		r.reading, r.scroll = item.entry.Seq, 0
	case p.is(keys.Strike) && whyNotStruck(f, item) == "":
		r.about = item.entry.Seq
		r.asked = ask(askStrike, fmt.Sprintf("Entry %d: %s", item.entry.Seq, entryWords(f, item.entry)),
			"It stays in the record, and counts as never written. Why?")
	}
	return r, nil
}

// whyNotStruck is why an entry cannot be taken as never written; "" if it can.
func whyNotStruck(f facts, item recordItem) string {
	if err := f.try(wishCorrect{item.entry.Seq, "tried"}); err != nil {
		return err.Error()
	}
	return ""
}

// startSigning refuses while anything stands in the way, and else asks for the name.
func (r record) startSigning(f facts) (screen, []action) {
	a := f.assessment
	r.scroll = 0
	if r.refused = whyNotSigned(f); r.refused != nil {
		return r, []action{readFiles{}}
	}
	r.asked = ask(askName, "Sign off "+a.Boat+" for "+a.Passage+".", "The name of who signs:")
	return r, []action{readFiles{}}
}

// whyNotSigned is why she cannot be signed off now, and what clears it; none: she can be.
func whyNotSigned(f facts) []string {
	a := f.assessment
	if n := len(a.Blockers); n > 0 {
		text := []string{fmt.Sprintf("Signing is refused: %s in the way.", count(n, "thing stands", "things stand"))}
		for i, item := range (ready{}).blocking(f) {
			line := fmt.Sprintf("%d. %s: %s", i+1, item.title(), item.why())
			if item.blocker != nil {
				line += ". Clears it: " + item.blocker.Clears
			}
			text = append(text, line)
		}
		return append(text, "enter: 1 Ready goes to each")
	}
	n := openCautions(a)
	if n == 0 {
		return nil
	}
	text := []string{fmt.Sprintf("Signing waits: %s your reason.", count(n, "caution wants", "cautions want"))}
	for _, c := range a.Cautions {
		if c.Accepted == nil {
			text = append(text, c.Title+": "+c.Why)
		}
	}
	return append(text, "enter: 1 Ready is where they are accepted (a)")
}

func (r record) readRefusal(f facts, p press) (screen, []action) {
	most := max(0, len(r.refusalLines(f, f.page.w))-f.page.h)
	if scroll, did := moved(p, min(r.scroll, most), most+1, 2*max(1, f.page.h-2)); did {
		r.scroll = scroll
		return r, nil
	}
	switch {
	case p.is(keys.Enter):
		r.refused = nil
		return r, []action{openScreen{readyScreen}}
	case p.is(keys.Back), p.is(keys.Leave):
		r.refused = nil
	}
	return r, nil
}

func (r record) answer(f facts, p press) (screen, []action) {
	next, text, sent := r.asked.update(p)
	if !sent {
		r.asked = next
		return r, nil
	}
	if r.asked.what == askDepart {
		return r.move(f, next, text)
	}
	w := wish(wishSign{text})
	if r.asked.what == askStrike {
		w = wishCorrect{r.about, text}
	}
	if err := f.try(w); err != nil {
		r.asked = next.refused(err)
		return r, nil
	}
	if r.asked.what == askName {
		r.asked, r.name, r.scroll = question{}, text, 0
		return r, nil
	}
	r.asked = question{}
	return r, []action{recordEntry{w}}
}

// move takes another departure.
func (r record) move(f facts, asked question, text string) (screen, []action) {
	to, err := checklist.ParseDeparture(text, f.now.In(f.zone()))
	if err != nil {
		r.asked = asked.refused(err)
		return r, nil
	}
	r.asked = question{}
	return r, []action{moveDepart{to}, say{"reckoned anew: 1 Ready tells what it changes"}}
}

// confirm is the one confirmation of a sign-off.
func (r record) confirm(f facts, p press) (screen, []action) {
	most := max(0, len(r.confirmLines(f, f.page.w))-f.page.h)
	if scroll, did := moved(p, min(r.scroll, most), most+1, 2*max(1, f.page.h-2)); did {
		r.scroll = scroll
		return r, nil
	}
	switch {
	case p.rest:
	case p.is(keys.Yes) && r.unread(f) > 0:
		return r, []action{say{"there is more to read first: pgdn"}}
	case p.is(keys.Yes):
		name := r.name
		r.name = ""
		return r, []action{recordEntry{wishSign{name}}, holdKey{p.String()}}
	case p.is(keys.Back), p.is(keys.Leave), p.is(keys.NotRight):
		r.name = ""
		return r, []action{say{"nothing was signed"}}
	}
	return r, nil
}

func (r record) read(f facts, p press) record {
	lines := r.signLines(f, f.page.w)
	most := max(0, len(lines)-f.page.h)
	if scroll, did := moved(p, min(r.scroll, most), most+1, f.page.h*2); did {
		r.scroll = scroll
		return r
	}
	if p.is(keys.Back) || p.is(keys.Leave) || p.is(keys.Enter) {
		r.reading = 0
	}
	return r
}

func (r record) view(f facts, s size) string {
	switch {
	case r.voyage.isOpen():
		return strings.Join(r.voyage.asked.under(f, r.wayLines(f, s.w, s.h/2), s), "\n")
	case r.leaving:
		return strings.Join(r.leavingLines(f, s.w)[:min(s.h, len(r.leavingLines(f, s.w)))], "\n")
	case r.against != nil:
		return strings.Join(f.look.part(r.againstLines(f, s.w), r.scroll, s.h), "\n")
	case r.name != "":
		return strings.Join(r.viewConfirm(f, s), "\n")
	case r.refused != nil:
		return strings.Join(r.viewRefusal(f, s), "\n")
	case r.reading != 0:
		lines := r.signLines(f, s.w)
		from := max(0, min(r.scroll, len(lines)-s.h))
		return strings.Join(lines[from:min(len(lines), from+s.h)], "\n")
	case r.side != 0:
		return strings.Join(f.look.part(r.sideLines(f, s.w), r.scroll, s.h), "\n")
	}
	l := f.look
	head := r.standingLines(f, s.w)
	if f.state.Voyage != nil && f.state.Voyage.Closed == nil {
		head = r.wayLines(f, s.w, s.h-leastList)
	}
	if f.by != "" {
		head = append(head, l.clip(l.clean("Entries are written as by "+f.by+"."), s.w))
	}
	if r.asked.isOpen() {
		return strings.Join(r.asked.under(f, head, s), "\n")
	}
	defers := wrap(deference, s.w, 0)
	lines, focus, end := r.list(f, s.w)
	room := s.h - len(head) - len(defers)
	if room < 4 {
		head, room = nil, s.h-len(defers)
	}
	lines = l.window(lines, focus, end, room)
	for len(lines) < room {
		lines = append(lines, "")
	}
	return strings.Join(append(append(head, lines...), defers...), "\n")
}

// standingLines are how the latest sign-off stands, in whole sentences.
func (r record) standingLines(f facts, w int) []string {
	l, s := f.look, f.assessment.SignOff
	switch {
	case s.Signed == nil:
		return para(l.title, "", "Not signed. s: sign", w)
	case s.InForce:
		lines := para(l.good, "", l.clean("Signed by "+s.Signed.Name+" and in force until "+s.Until.In(f.zone()).Format(momentLayout)+"."), w)
		return append(lines, wrap("It lapses sooner if something new stands in the way, or the boat's files are changed.", w, 0)...)
	}
	lines := para(l.caution, "", "The latest sign-off has lapsed: "+l.clean(s.Lapsed)+".", w)
	by := fmt.Sprintf("It was signed by %s at %s.", s.Signed.Name, s.Signed.At.In(f.zone()).Format(momentLayout))
	return append(lines, wrap(l.clean(by), w, 0)...)
}

func (r record) list(f facts, w int) (lines []string, focus, end int) {
	l, items := f.look, r.items(f)
	if f.history == nil {
		lines = append(lines, l.clip("the past pages are being read", w))
	}
	if !slices.ContainsFunc(items, func(i recordItem) bool { return i.sign != nil }) {
		lines = append(lines, l.title.Render(l.clip("Past sign-offs: none", w)))
	}
	passages, signs, entries, gone := false, false, false, checklist.Struck(f.pages())
	for i, item := range items {
		switch {
		case item.passage != nil && !passages:
			passages = true
			lines = append(lines, l.title.Render(l.clip("Past passages; enter: signed against actual", w)))
		case item.passage != nil:
		case item.sign != nil && !signs:
			signs = true
			lines = append(lines, l.title.Render(l.clip("Past sign-offs; enter reads one", w)))
		case item.sign == nil && !entries: // the last of the three
			entries = true
			lines = append(lines, l.title.Render(l.clip(r.entriesTitle(f), w)))
		}
		from := len(lines)
		lines = append(lines, r.item(f, item, gone[item.entry.Seq], i == within(r.cursor, len(items)), w)...)
		if i == within(r.cursor, len(items)) {
			focus, end = from, len(lines)
		}
	}
	if len(items) == 0 {
		lines = append(lines, l.clip("The record has no entry yet.", w))
	}
	return lines, focus, end
}

func (r record) item(f facts, item recordItem, gone, selected bool, w int) []string {
	l := f.look
	text := fmt.Sprintf("%d. %s: %s", item.entry.Seq, item.entry.At.Format(momentLayout), entryWords(f, item.entry))
	if gone {
		text += " (counts as never written)"
	}
	if item.passage != nil {
		text = passageLine(*item.passage)
	}
	if item.sign != nil {
		text = fmt.Sprintf("%s: %s by %s, digits %s", item.entry.At.Format("2 Jan 2006 15:04"), item.sign.Passage, item.sign.Name,
			firstEight(item.entry.Sum))
	}
	if !selected {
		return []string{"  " + l.clip(l.clean(text), w-2)}
	}
	return para(l.selected, "> ", l.clean(text), w)
}

// firstEight are the digits that stand on the sheet ashore.
func firstEight(sum string) string { return sum[:min(8, len(sum))] }

func (r record) confirmLines(f facts, w int) []string {
	l, a := f.look, f.assessment
	lines := para(l.title, "", l.clean("Sign off "+a.Boat+" as "+r.name+"?"), w)
	for _, text := range []string{
		fmt.Sprintf("%s, leaving %s, %s.", a.Passage, a.Reckoning.Depart.In(f.zone()).Format(longMoment),
			count(f.definitions.Plan.Crew, "person", "persons")),
		"y writes it down for ever: the plan, the levels, the figures, every answer, " + exceptionWords(a) +
			" and the boat's files as they are now.",
		"It holds for 24 h at most, and until 6 h after the departure; it lapses if something new stands in the way, or the files are changed.",
	} {
		lines = append(lines, para(l.keys, "", l.clean(text), w)...)
	}
	for _, c := range a.Cautions {
		if c.Accepted != nil {
			lines = append(lines, para(l.caution, "  ", l.clean(c.Title+": "+c.Why+". Because: "+c.Accepted.Why), w)...)
		}
	}
	for _, text := range []string{"The walk: " + a.Walk.String() + ".", uncoveredWords(a), notLookedWords(a), deference} {
		if text != "" {
			lines = append(lines, para(l.keys, "", l.clean(text), w)...)
		}
	}
	return lines
}

// unread is how many lines of the confirmation are still to be read.
func (r record) unread(f facts) int {
	return max(0, len(r.confirmLines(f, f.page.w))-r.scroll-f.page.h)
}

func (r record) viewConfirm(f facts, s size) []string {
	lines := r.confirmLines(f, s.w)
	from := max(0, min(r.scroll, len(lines)-s.h))
	seen := slices.Clone(lines[from:min(len(lines), from+s.h)])
	if r.unread(f) > 0 && len(seen) > 1 {
		seen[len(seen)-1] = f.look.caution.Render("  " + f.look.more + " read on before signing: pgdn")
	}
	return seen
}

func exceptionWords(a checklist.Assessment) string {
	if len(a.Cautions) == 0 {
		return "that there was no exception,"
	}
	return count(len(a.Cautions), "exception", "exceptions")
}

func uncoveredWords(a checklist.Assessment) string {
	if len(a.Uncovered) == 0 {
		return ""
	}
	return "No check covers: " + strings.Join(a.Uncovered, ", ") + "."
}

func notLookedWords(a checklist.Assessment) string {
	if len(a.NotLooked) == 0 {
		return ""
	}
	return count(len(a.NotLooked), "check", "checks") + " that are not critical were not looked at."
}

// viewRefusal is the part of the refusal that is being read; its last line says that there is more.
func (r record) viewRefusal(f facts, s size) []string {
	return f.look.part(r.refusalLines(f, s.w), r.scroll, s.h)
}

func (r record) refusalLines(f facts, w int) []string {
	l := f.look
	var lines []string
	for i, text := range r.refused {
		style := l.keys
		if i == 0 {
			style = l.blocked
		}
		lines = append(lines, para(style, "", l.clean(text), w)...)
	}
	return lines
}

func (r record) bindings(f facts) []bound {
	switch {
	case r.voyage.isOpen():
		return r.voyage.bindings(f)
	case r.leaving:
		return []bound{can(as(keys.Yes, "leave"), ""), can(as(keys.Back, "back, she has not left"), "")}
	case r.against != nil:
		return append([]bound{can(keys.Unsigned, ""), can(as(keys.Enter, "to 1 Ready"), "")}, quietly(keys.Back, keys.Up, keys.Down, keys.PageUp, keys.PageDown)...)
	case r.asked.isOpen():
		return r.asked.bindings()
	case r.name != "":
		more := ""
		if r.unread(f) > 0 {
			more = "there is more to read first: pgdn"
		}
		return append([]bound{can(as(keys.Yes, "sign"), more), can(as(keys.Back, "back, nothing is signed"), "")},
			quietly(keys.Up, keys.Down, keys.PageUp, keys.PageDown)...)
	case r.refused != nil:
		return append([]bound{can(as(keys.Enter, "to 1 Ready"), "")}, quietly(keys.Back, keys.Up, keys.Down, keys.PageUp, keys.PageDown)...)
	case r.reading != 0, r.side != 0:
		return append([]bound{can(as(keys.Down, "read on"), ""), can(as(keys.PageDown, "a page on"), "")},
			quietly(keys.Back, keys.Up, keys.PageUp, keys.First, keys.Last)...)
	}
	items := r.items(f)
	read, strike := "no sign-off is selected", "nothing is selected"
	if len(items) > 0 {
		item := items[within(r.cursor, len(items))]
		if _, is := item.entry.Act.(checklist.Sign); is || item.passage != nil {
			read = ""
		}
		strike = whyNotStruck(f, item)
	}
	list := append(atSea(f), can(keys.Sign, whyNotSigning(f)), can(as(keys.Enter, "read it"), read), can(keys.Move, whyNotSigning(f)), can(keys.Strike, strike))
	if r.around != 0 {
		list = append([]bound{can(as(keys.Back, "the last entries"), "")}, list...)
	}
	return append(list, moving()...)
}

func (r record) refreshed(f facts) screen {
	r.cursor = within(r.cursor, len(r.items(f)))
	return r
}

// aim goes to an entry, wherever in the record it stands; to a sign-off and a passage where they are read.
func (r record) aim(f facts, at target) screen {
	if r.isTyping() || r.unsaved() || at.entry == 0 {
		return r
	}
	r = record{}
	if entries := f.pages(); !slices.ContainsFunc(r.listed(entries), func(e checklist.Entry) bool { return e.Seq == at.entry }) {
		r.around = at.entry
	}
	if i := slices.IndexFunc(r.items(f), func(item recordItem) bool { return item.entry.Seq == at.entry }); i >= 0 {
		r.cursor = i
	}
	return r
}

// entriesTitle says which entries are listed.
func (r record) entriesTitle(f facts) string {
	listed := r.listed(f.pages())
	if last := lastSeq(listed); last < lastSeq(f.pages()) {
		return fmt.Sprintf("Entries of the record up to %d; esc: the last ones", last)
	}
	return "Last entries of the record"
}

func (r record) isTyping() bool { return r.asked.isOpen() || r.voyage.isOpen() }
func (r record) unsaved() bool  { return r.asked.unsaved() || r.voyage.unsaved() || r.name != "" }
func (r record) isInside() bool {
	return r.reading != 0 || r.side != 0 || r.name != "" || r.refused != nil || r.leaving || r.against != nil
}

// entryWords is an entry of the record in one line, and who made it.
func entryWords(f facts, e checklist.Entry) string {
	words := f.definitions.Words(e.Act)
	if e.By != "" {
		words += " (" + e.By + ")"
	}
	return words
}
