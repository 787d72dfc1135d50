package tui

import (
	"slices"

	"boat/hoveshort/checklist"
)

// beside are all checks of the selected round, section by section; of the one that is
// walked, with the check that is asked marked.
func (r rounds) beside(f facts, s size) []string {
	list := f.assessment.RoundsInOrder()
	switch {
	case r.event.open, len(list) == 0:
		return nil
	case !r.walking:
		lines, _ := walk{}.wholeRound(f, list[within(r.cursor, len(list))], "", s.w)
		return f.look.cut(lines, s.h)
	}
	here, _, at := r.walk.here(f)
	if !at {
		return nil
	}
	id := ""
	if here.Check != nil {
		id = here.Check.ID
	}
	lines, asked := r.walk.wholeRound(f, roundOf(f, r.walk.round), id, s.w)
	return f.look.window(lines, asked, asked+1, s.h)
}

// wholeRound are the sections of a round and how each check stands; at is the line of the
// one with that id.
func (w walk) wholeRound(f facts, round checklist.RoundView, id string, width int) (lines []string, at int) {
	l := f.look
	for _, s := range round.Sections {
		lines = append(lines, l.title.Render(l.clip(l.clean(s.Name), width)))
		for _, c := range s.Checks {
			if !c.Applies {
				continue
			}
			lead, state := "  ", c.Status.Words()
			if c.ID == id {
				lead, at = "> ", len(lines)
			}
			if slices.Contains(w.again, c.ID) {
				state = "asked again"
			}
			lines = append(lines, l.clip(lead+l.pad(state, 15)+" "+l.clean(c.Ask), width))
		}
	}
	return lines, at
}
