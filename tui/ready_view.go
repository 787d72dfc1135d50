package tui

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
)

func (r ready) view(f facts, s size) string {
	if r.settle {
		return strings.Join(r.clockQuestion(f, s), "\n")
	}
	if r.event.open {
		return r.event.view(f, s)
	}
	lines := r.verdict(f, s.w)
	list, focus, end := r.list(f, s.w)
	if r.asked.isOpen() {
		return strings.Join(r.asked.under(f, append(lines, list[focus:end]...), s), "\n")
	}
	below := r.below(f, s)
	room := r.room(f, s)
	const edges = 2 // lines of a window that tell what is not seen
	if end-focus > room-edges {
		list = f.look.part(list[focus:end], r.scroll, room)
	} else {
		list = f.look.window(list, focus, end, room)
	}
	for len(list) < room {
		list = append(list, "")
	}
	return strings.Join(append(append(lines, list...), below...), "\n")
}

// below are the figures under the list, where they fit.
func (r ready) below(f facts, s size) []string {
	if isSmall(f) || f.isBeside() {
		return nil
	}
	return append([]string{f.look.title.Render(f.look.barLegend(s.w))}, figures(f, s.w)...)
}

// room is the height of the list.
func (r ready) room(f facts, s size) int {
	return max(0, s.h-len(r.verdict(f, s.w))-len(r.below(f, s)))
}

// verdict is the answer in one line, and below it the passage it is for.
func (r ready) verdict(f facts, w int) []string {
	l, a := f.look, f.assessment
	leaves := fmt.Sprintf("%s, leaving %s", a.Passage, a.Reckoning.Depart.In(f.zone()).Format("Mon 2 Jan 15:04"))
	if a.Way != nil {
		leaves = fmt.Sprintf("%s, left %s", a.Passage, a.Way.Voyage.Depart.At.In(f.zone()).Format("Mon 2 Jan 15:04"))
	}
	style, answer := verdictWords(l, a)
	return append(para(style, "", answer, w), l.clip(l.clean(leaves), w))
}

func verdictWords(l look, a checklist.Assessment) (style lipgloss.Style, answer string) {
	open := openCautions(a)
	switch {
	case a.Way != nil && len(a.Way.Warns) > 0:
		return l.caution, "UNDER WAY: " + l.clean(a.WayVerdict())
	case a.Way != nil:
		return l.good, "UNDER WAY: " + l.clean(a.WayVerdict())
	case !a.Ready:
		return l.blocked, fmt.Sprintf("NOT READY: %s in the way", count(len(a.Blockers), "thing stands", "things stand"))
	case a.SignOff.InForce && len(a.Weighing) > 0:
		return l.good, fmt.Sprintf("READY and signed; %s before weighing", count(len(a.Weighing), "thing", "things"))
	case a.SignOff.InForce:
		return l.good, "READY and signed: nothing stands in the way"
	case open > 0:
		return l.caution, fmt.Sprintf("READY, once %s a reason: nothing stands in the way", count(open, "caution has", "cautions have"))
	}
	return l.good, "READY: nothing stands in the way"
}

func openCautions(a checklist.Assessment) int {
	n := 0
	for _, c := range a.Cautions {
		if c.Accepted == nil {
			n++
		}
	}
	return n
}

// list is what stands in the way, the cautions and the notes; focus to end is the
// selected item.
func (r ready) list(f facts, w int) (lines []string, focus, end int) {
	l, items := f.look, r.items(f)
	part := ""
	for i, item := range items {
		if p := item.part(f.assessment); p != part {
			part = p
			lines = append(lines, l.title.Render(l.clip(p, w)))
		}
		from := len(lines)
		lines = append(lines, r.item(f, item, i == within(r.cursor, len(items)), w)...)
		if i == within(r.cursor, len(items)) {
			focus, end = from, len(lines)
		}
	}
	return lines, focus, end
}

func (r ready) item(f facts, item readyItem, selected bool, w int) []string {
	l := f.look
	lead := "  "
	if item.figure != "" {
		if selected {
			lead = "> "
		}
		return []string{lead + l.clip(item.figure, w-2)}
	}
	if item.group != "" && !item.heads {
		lead = "    "
	}
	text := l.clean(item.mark() + item.title())
	if why := item.why(); why != "" {
		text += ": " + l.clean(why)
	}
	if !selected {
		return []string{lead + l.clip(text, w-len(lead))}
	}
	if f.isBeside() { // it is told in full there
		return []string{">" + lead[1:] + l.selected.Render(l.clip(text, w-len(lead)))}
	}
	lines := para(l.selected, ">"+lead[1:], text, w)
	for _, more := range item.rest(f) {
		if more != "" {
			lines = append(lines, para(l.keys, lead+"  ", l.clean(more), w)...)
		}
	}
	return lines
}

// figures are how long things last, when she arrives, and how the sign-off stands.
func figures(f facts, w int) []string {
	lines := enduranceLines(f, w)
	lines = append(lines, wrap(f.look.clean(arrivals(f)), w, 2)...)
	return append(lines, wrap(f.look.clean(standing(f)+" "+nextAct(f)), w, 2)...)
}

// arrivals tells when each case arrives at the last place.
func arrivals(f facts) string {
	var parts []string
	for _, name := range passage.CaseNames {
		v := f.assessment.Reckoning.Cases[name].Voyage
		switch {
		case !v.Made():
			parts = append(parts, string(name)+" not possible")
		case v.Arrive().IsZero():
			parts = append(parts, string(name)+" not known")
		default:
			parts = append(parts, string(name)+" "+v.Arrive().In(f.zone()).Format(momentLayout))
		}
	}
	return "Arrives: " + strings.Join(parts, ", ")
}

// standing is how the latest sign-off stands.
func standing(f facts) string {
	s := f.assessment.SignOff
	switch {
	case f.assessment.Way != nil && f.state.Voyage.IsUnsigned():
		return "Left unsigned."
	case f.assessment.Way != nil:
		return ""
	case s.Signed == nil:
		return "Not signed."
	case s.InForce:
		return fmt.Sprintf("Signed by %s, in force until %s.", s.Signed.Name, s.Until.In(f.zone()).Format(momentLayout))
	}
	return fmt.Sprintf("The sign-off by %s has lapsed: %s.", s.Signed.Name, s.Lapsed)
}

// nextAct is what to do next, in a few words.
func nextAct(f facts) string {
	a := f.assessment
	switch {
	case a.Way != nil:
		return "Next: noon (7, then n)."
	case !a.Ready:
		return "Next: what is selected above; enter goes there."
	case a.SignOff.InForce:
		return "Next: leave (7, then d)."
	case openCautions(a) > 0:
		return "Next: a reason for each caution (a)."
	}
	return "Next: sign (7, then s)."
}

func (r ready) clockQuestion(f facts, s size) []string {
	l := f.look
	why := "the clock is not in doubt"
	for _, b := range f.assessment.Blockers {
		if b.Matter == checklist.MatterClock {
			why = b.Why
		}
	}
	lines := para(l.title, "", "Is the clock right?", s.w)
	lines = append(lines, para(l.blocked, "", l.clean(why), s.w)...)
	lines = append(lines, para(l.title, "", "It says "+f.now.In(f.zone()).Format(longMoment)+".", s.w)...)
	lines = append(lines, para(l.keys, "", "If it is wrong, go back and set it first. If it is right, y writes that down: "+
		"entries count again from here on, and what was answered while it was in doubt is asked again.", s.w)...)
	return lines[:min(len(lines), s.h)]
}
