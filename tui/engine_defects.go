package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// opened is a defect shown in full, with its fault card walked one look at a time.
type opened struct {
	number int    // 0: none is open
	look   string // the look that is selected; "": the one to be taken next
	scroll int
}

func (o opened) isOpen() bool { return o.number > 0 }

// defects are those that are not closed, each with its state in a word.
func (e engine) defects(f facts) sheet {
	l := f.look
	list := sheet{head: "Defects that are not closed, oldest first", cursor: e.cursors[defectsView], scroll: e.scroll}
	for _, v := range f.assessment.Defects {
		list.rows = append(list.rows, sheetRow{
			line: l.clean(fmt.Sprintf("%d %s, %s: %s", v.Seq, v.Grade, v.State, v.Title())), style: defectStyle(l, v),
			more: func(width int) []string { return defectBrief(f, v, width) },
		})
	}
	if len(list.rows) == 0 {
		list.rows = []sheetRow{{line: "No defect is open. " + keys.NewDefect.Help().Key + ": open one.", style: l.keys}}
	}
	return list
}

func defectStyle(l look, v checklist.DefectView) lipgloss.Style {
	switch {
	case v.Stops:
		return l.blocked
	case v.Asks:
		return l.caution
	case v.State == checklist.DefectProved:
		return l.good
	}
	return l.keys
}

// defectBrief is what is told of a defect in the list.
func defectBrief(f facts, v checklist.DefectView, w int) []string {
	l := f.look
	lines := para(defectStyle(l, v), "", l.clean(v.Why), w)
	if v.HasCard() && v.State == checklist.DefectOpen {
		lines = append(lines, wrap(l.clean(v.Walk.Words()), w, 2)...)
	}
	return append(lines, para(l.keys, "next: ", l.clean(v.Clears), w)...)
}

// inDefect takes a key while a defect is shown in full.
func (e engine) inDefect(f facts, p press) (screen, []action) {
	v, err := f.assessment.Defect(e.opened.number)
	if err != nil || p.is(keys.Leave) || p.is(keys.OutOf) {
		e.opened = opened{}
		return e, nil
	}
	if next, did := e.opened.moved(f, p, v); did {
		e.opened = next
		return e, nil
	}
	for _, b := range e.opened.bindings(f) {
		if b.whyNot != "" && p.is(b.Binding) {
			return e, []action{say{b.whyNot}}
		}
	}
	switch {
	case p.is(keys.Mended):
		e.form = form{kind: formRepair, number: v.Seq}.begin(f)
	case p.is(keys.TakeCard):
		e.form = form{kind: formCard, number: v.Seq, offered: f.engine.offered}.begin(f)
	case p.is(keys.Done) && v.State == checklist.DefectProved:
		return e, []action{recordEntry{wishDefectClosing{v.Seq, ""}}, holdKey{p.String()}}
	case p.is(keys.Done):
		e.form = form{kind: formClosing, number: v.Seq}.begin(f)
	default:
		return e.looked(f, p, v)
	}
	return e, nil
}

// looked takes what came of the selected look: one key, one look. A key that came together with others answers nothing.
func (e engine) looked(f facts, p press, v checklist.DefectView) (screen, []action) {
	seen, is := seenByKey(p)
	if !is || p.rest || !v.HasCard() {
		return e, nil
	}
	suspect, _, at := e.opened.selected(v)
	if !at {
		return e, nil
	}
	w := wishStep{checklist.StepInput{Number: v.Seq, Look: suspect.Name, Seen: seen}}
	if err := f.try(w); err != nil {
		return e, []action{say{err.Error()}}
	}
	e.opened.look, e.opened.scroll = "", 0
	if seen == machinery.FoundBad {
		e.opened.look = suspect.Name // what it means is told with it
	}
	return e, []action{recordEntry{w}, holdKey{p.String()}}
}

// selected is the look that is shown: the one chosen, else the next to be taken, else the first.
func (o opened) selected(v checklist.DefectView) (s machinery.Suspect, i int, at bool) {
	if !v.HasCard() || len(v.Walk.Suspects) == 0 || v.State != checklist.DefectOpen {
		return machinery.Suspect{}, 0, false
	}
	name := o.look
	if name == "" {
		next, _ := v.Walk.Next()
		name = next.Name
	}
	i = max(0, slices.IndexFunc(v.Walk.Suspects, func(s machinery.Suspect) bool { return s.Name == name }))
	return v.Walk.Suspects[i], i, true
}

// moved goes from look to look, or reads on, without answering anything.
func (o opened) moved(f facts, p press, v checklist.DefectView) (opened, bool) {
	lines, _ := o.lines(f, v, f.page.w)
	most := max(0, len(lines)-f.page.h)
	switch {
	case p.is(keys.PageDown):
		o.scroll = min(most, o.scroll+max(1, f.page.h-2))
		return o, true
	case p.is(keys.PageUp):
		o.scroll = max(0, min(o.scroll, most)-max(1, f.page.h-2))
		return o, true
	}
	_, i, at := o.selected(v)
	if !at {
		scroll, did := moved(p, min(o.scroll, most), most+1, 1)
		if did {
			o.scroll = scroll
		}
		return o, did
	}
	to, did := moved(p, i, len(v.Walk.Suspects), 1)
	if did && to != i {
		o.look, o.scroll = v.Walk.Suspects[to].Name, 0
	}
	return o, did
}

// bindings are the keys of a defect that is shown in full.
func (o opened) bindings(f facts) []bound {
	v, err := f.assessment.Defect(o.number)
	if err != nil {
		return []bound{can(keys.OutOf, "")}
	}
	look := ""
	switch _, needed := o.lines(f, v, f.page.w); {
	case v.Card == "":
		look = "no fault card is walked for it: f chooses one"
	case !v.HasCard():
		look = "the boat folder has its fault card no more: f chooses another"
	case v.State != checklist.DefectOpen:
		look = "it is repaired: looks go on if the proof is failed"
	case f.waiting > 0:
		look = "the last look is not on the disk yet"
	case needed > o.scroll+f.page.h:
		look = "there is more to read first: pgdn"
	}
	back := look
	if s, _, at := o.selected(v); back == "" && at && s.Seen == machinery.NotYet {
		back = "it was not looked at"
	}
	closed := ""
	if v.Engine && v.State != checklist.DefectProved {
		closed = "it is closed once its repair is proved: " + v.Clears
	}
	cards := ""
	if len(f.definitions.Cards) == 0 {
		cards = "the boat folder has no fault cards"
	}
	list := []bound{
		can(as(keys.Right, "clean"), look), can(as(keys.NotRight, "bad"), look), can(keys.CouldNotLook, look), can(keys.Mended, ""), can(as(keys.Done, "close it"), closed),
		can(keys.TakeCard, cards), can(keys.NotYet, back), can(as(keys.OutOf, "back to the list"), ""),
	}
	return append(list, moving()...)
}

// lines are a defect in full; those up to needed must have been seen before a key says what came of a look: what to
// do first, the cautions, and the look. Once it is repaired its proof comes before the card.
func (o opened) lines(f facts, v checklist.DefectView, w int) (lines []string, needed int) {
	lines = para(f.look.title, "", f.look.clean(fmt.Sprintf("Defect %d, %s, %s: %s", v.Seq, v.Grade, v.State, v.Title())), w)
	if v.State != checklist.DefectOpen {
		lines = append(lines, standingLines(f, v, w)...)
		return append(lines, suspectLines(f, v, -1, w)...), 0
	}
	if suspect, i, at := o.selected(v); at {
		lines = append(lines, cardLines(f.look, v.Walk.Card, w)...)
		lines = append(lines, lookLines(f.look, suspect, fmt.Sprintf("Look %d of %d: ", i+1, len(v.Walk.Suspects)), w)...)
		needed = len(lines)
		lines = append(lines, suspectLines(f, v, i, w)...)
	}
	return append(lines, standingLines(f, v, w)...), needed
}

// standingLines are how it stands, what was seen, its repair and the proofs, and what is next.
func standingLines(f facts, v checklist.DefectView, w int) []string {
	l := f.look
	lines := para(defectStyle(l, v), "", l.clean(v.Why), w)
	next := v.Clears
	if v.State == checklist.DefectProved {
		next = keys.Done.Help().Key + ", or: " + next
	}
	lines = append(lines, para(l.title, "next: ", l.clean(next), w)...)
	lines = append(lines, repairLines(f, v, w)...)
	if len(v.Seen) > 0 {
		lines = append(lines, wrap(l.clean("seen at: "+checklist.GaugeWords(v.Seen, f.assessment.Units)), w, 2)...)
	}
	if v.Engine {
		lines = append(lines, wrap(deference, w, 0)...)
	}
	return lines
}

// suspectLines are the looks of the card and what came of each; selected is the one that is shown, -1: none.
func suspectLines(f facts, v checklist.DefectView, selected, w int) []string {
	if !v.HasCard() {
		return nil
	}
	l := f.look
	var lines []string
	if v.State == checklist.DefectOpen {
		lines = para(stageStyle(l, v.Walk.Stage()), "", l.clean(v.Walk.Words()), w)
	} else {
		lines = para(l.title, "", l.clean("The looks of "+v.Card), w)
	}
	for i, s := range v.Walk.Suspects {
		lines = append(lines, suspectLine(f, s, i == selected, w))
	}
	if out := v.Walk.RuledOut(); len(out) > 0 {
		lines = append(lines, para(l.good, "ruled out: ", l.clean(strings.Join(out, "; ")), w)...)
	}
	return lines
}

// cardLines are what keeps hands and boat whole.
func cardLines(l look, card machinery.Card, w int) []string {
	var lines []string
	if card.First != "" {
		lines = append(lines, para(l.caution, "First: ", l.clean(card.First), w)...)
	}
	if card.Caution != "" {
		lines = append(lines, para(l.caution, "! ", l.clean(card.Caution), w)...)
	}
	return lines
}

// lookLines are how a look is taken, and what came of it before.
func lookLines(l look, s machinery.Suspect, lead string, w int) []string {
	lines := para(l.title, lead, l.clean(s.Words()+"; "+s.Where()), w)
	lines = append(lines, wrap(l.clean(s.How), w, 2)...)
	var with []string
	if len(s.Tools) > 0 {
		with = append(with, "tools: "+strings.Join(s.Tools, ", "))
	}
	if len(s.Uses) > 0 {
		with = append(with, "parts: "+strings.Join(s.Uses, ", "))
	}
	if s.RulesOut != "" {
		with = append(with, "clean rules out "+s.RulesOut)
	}
	if len(with) > 0 {
		lines = append(lines, wrap(l.clean(strings.Join(with, "; ")), w, 2)...)
	}
	if s.Means != "" && s.Seen == machinery.FoundBad {
		lines = append(lines, para(l.caution, "bad means: ", l.clean(s.Means), w)...)
	}
	return lines
}

func stageStyle(l look, stage machinery.Stage) lipgloss.Style {
	if stage == machinery.Looking {
		return l.keys
	}
	return l.caution
}

// suspectLine is one look of the list, with what came of it in a word.
func suspectLine(f facts, s machinery.Suspect, selected bool, w int) string {
	l := f.look
	mark, style := "  ", l.keys
	if selected {
		mark, style = "> ", l.selected
	}
	word := map[machinery.Seen]string{
		machinery.FoundClean: "clean", machinery.FoundBad: "BAD", machinery.CouldNotLook: "could not", machinery.NotYet: l.dash,
	}[s.Seen]
	text := l.pad(word, 10) + l.clean(s.Name)
	switch {
	case s.Seen != machinery.NotYet:
		text += ", " + s.Said.At.In(f.zone()).Format(momentLayout)
	case s.Old != "":
		text += fmt.Sprintf(" (%s on %s)", s.Said.Seen, s.Said.At.In(f.zone()).Format("2 Jan 2006"))
	case s.Where() != "here":
		text += " (" + s.Where() + ")"
	}
	if s.Said.Note != "" {
		text += ": " + l.clean(s.Said.Note)
	}
	return mark + style.Render(l.clip(text, w-2))
}

// repairLines are what it was, what was done, and how each proof stands.
func repairLines(f facts, v checklist.DefectView, w int) []string {
	l := f.look
	if v.Repair == nil {
		return nil
	}
	lines := wrap(l.clean("repaired "+v.Repair.At.In(f.zone()).Format(momentLayout)+": "+or(v.Repair.Cause, "no cause found")), w, 2)
	if v.Repair.Why != "" {
		lines = append(lines, wrap(l.clean("done: "+v.Repair.Why), w, 2)...)
	}
	for i, o := range v.Proving.Outcomes {
		style := l.keys
		switch o.Standing {
		case machinery.ProofFailed, machinery.ProofMissed:
			style = l.blocked
		case machinery.ProofPassed:
			style = l.good
		}
		lines = append(lines, para(style, "proof at "+string(v.Proofs[i].At)+": ", l.clean(strings.ToUpper(string(o.Standing))+", "+o.Why), w)...)
	}
	return lines
}

func (o opened) view(f facts, s size) string {
	v, err := f.assessment.Defect(o.number)
	if err != nil {
		return strings.Join(wrap("This defect is closed.", s.w, 0), "\n")
	}
	lines, needed := o.lines(f, v, s.w)
	from := max(0, min(o.scroll, len(lines)-s.h))
	seen := slices.Clone(lines[from:min(len(lines), from+max(0, s.h))])
	if len(seen) > 1 && len(lines) > from+s.h {
		said, style := "more to read: pgdn", f.look.keys
		if needed > from+s.h {
			said, style = "read on before answering: pgdn", f.look.caution
		}
		seen[len(seen)-1] = style.Render(f.look.clip("  "+f.look.more+" "+said, s.w))
	}
	return strings.Join(seen, "\n")
}
