package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
)

// rounds is the list of rounds, and the one that is walked.
type rounds struct {
	cursor  int
	walking bool
	walk    walk
	event   happening
}

func (r rounds) update(f facts, p press) (screen, []action) {
	switch {
	case r.event.open:
		next, actions := r.event.update(f, p)
		r.event = next
		return r, actions
	case p.is(keys.Event) && !r.isAnswering():
		r.event = r.event.begin()
		return r, nil
	case r.walking:
		return r.updateWalk(f, p)
	}
	list := f.assessment.RoundsInOrder()
	if cursor, did := moved(p, r.cursor, len(list), f.page.h); did {
		r.cursor = cursor
		return r, nil
	}
	switch {
	case p.is(keys.Leave):
		return r, []action{closeScreen{}}
	case p.is(keys.Walk) && len(list) > 0:
		r.walk = r.walk.entered(f, list[within(r.cursor, len(list))].Name)
		r.walking = true
	}
	return r, nil
}

func (r rounds) updateWalk(f facts, p press) (screen, []action) {
	w, stays, actions := r.walk.update(f, p)
	r.walk, r.walking = w, stays
	return r, actions
}

func (r rounds) view(f facts, s size) string {
	switch {
	case r.event.open:
		return r.event.view(f, s)
	case r.walking:
		return r.walk.view(f, s)
	}
	l := f.look
	lines := para(l.title, "", "Rounds for this passage", s.w)
	focus, end := 0, 0
	for i, round := range f.assessment.RoundsInOrder() {
		from := len(lines)
		lines = append(lines, r.item(f, round, i == r.cursor, s.w)...)
		if i == r.cursor {
			focus, end = from, len(lines)
		}
	}
	if len(f.assessment.Rounds) == 0 {
		lines = append(lines, wrap("No round is written for a passage of this kind: see rounds/ in the boat's folder.", s.w, 0)...)
	}
	if other := len(f.definitions.Rounds) - len(f.assessment.Rounds); other > 0 {
		lines = append(lines, "", l.clip(count(other, "round is", "rounds are")+" for other kinds of passage.", s.w))
	}
	defers := wrap(deference, s.w, 0)
	lines = l.window(lines, focus, end, s.h-len(defers))
	for len(lines) < s.h-len(defers) {
		lines = append(lines, "")
	}
	return strings.Join(append(lines, defers...), "\n")
}

func (r rounds) item(f facts, round checklist.RoundView, selected bool, w int) []string {
	l := f.look
	title := l.clean(round.Name)
	state := progress(round)
	if !selected {
		return []string{"  " + l.clip(title+": "+l.clean(state), w-2)}
	}
	lines := para(l.selected, "> ", title+": "+l.clean(state), w)
	for _, more := range []string{purposeWords(round.For), lastAnswerWords(f, round), "enter: walk it"} {
		if more != "" {
			lines = append(lines, para(l.keys, "    ", l.clean(more), w)...)
		}
	}
	return lines
}

// progress is how a round stands, in words.
func progress(round checklist.RoundView) string {
	total, wanted, wrong := 0, 0, 0
	for _, c := range round.Applying() {
		total++
		switch {
		case c.Automatic == nil && c.WantsAnswer():
			wanted++
		case c.Status != checklist.StatusRight:
			wrong++
		}
	}
	words := count(total, "check", "checks")
	switch {
	case wanted == 0 && wrong == 0:
		return words + ", all right"
	case wanted > 0:
		words += fmt.Sprintf(", %d to be answered", wanted)
	}
	if wrong > 0 {
		words += fmt.Sprintf(", %d not right or not seen", wrong)
	}
	return words
}

func purposeWords(p checklist.Purpose) string {
	switch p {
	case checklist.ForSign:
		return "Its critical checks stand in the way of signing until they are right."
	case checklist.ForWeigh:
		return "For the moment of weighing."
	case checklist.ForUnderWay:
		return "For under way; it holds nothing back."
	case checklist.ForArrival:
		return "For arriving; it holds nothing back."
	}
	return "For any time; it holds nothing back."
}

func lastAnswerWords(f facts, round checklist.RoundView) string {
	last := round.LastAnswered()
	if last == nil {
		return "Never walked."
	}
	return fmt.Sprintf("Last answer %s (%s).", ago(f.now, last.Answer.At), last.ID)
}

func (r rounds) bindings(f facts) []bound {
	switch {
	case r.event.open:
		return r.event.bindings()
	case r.isAnswering():
		return r.walk.bindings(f)
	case r.walking:
		return append(r.walk.bindings(f), quietly(keys.Event)...)
	}
	none := ""
	if len(f.assessment.Rounds) == 0 {
		none = "no round belongs to this passage"
	}
	return append([]bound{can(keys.Walk, none), can(keys.Event, "")}, moving()...)
}

func (r rounds) refreshed(f facts) screen {
	r.cursor, r.event = within(r.cursor, len(f.assessment.Rounds)), r.event.refreshed(f)
	if r.walk.round != "" {
		r.walk = r.walk.refreshed(f) // also while it is not looked at
	}
	return r
}

// aim goes to a check, wherever one was.
func (r rounds) aim(f facts, at target) screen {
	if r.isTyping() {
		return r
	}
	r.event = happening{}
	for i, round := range f.assessment.RoundsInOrder() {
		if at.round != "" && round.Name == at.round {
			r.cursor, r.walking = i, false
			return r
		}
		for _, c := range round.Applying() {
			if c.ID == at.check {
				r.cursor, r.walking = i, true
				r.walk = r.walk.at(f, round.Name, c.ID)
				return r
			}
		}
	}
	return r
}

// isAnswering says that a question of the walk is open.
func (r rounds) isAnswering() bool { return r.walking && (r.walk.asked.isOpen() || r.walk.grade) }

func (r rounds) isTyping() bool { return r.walking && r.walk.asked.isOpen() || r.event.asked.isOpen() }
func (r rounds) unsaved() bool {
	return r.walking && (r.walk.asked.unsaved() || r.walk.grade) || r.event.asked.unsaved()
}
func (r rounds) isInside() bool { return r.walking || r.event.open }
