package tui

import (
	"strconv"
	"strings"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions/passage"
)

// ready is the answer: may she go, and what stands in the way.
type ready struct {
	cursor int
	scroll int    // lines read of a selected item that does not fit
	opened string // the group whose members are listed
	asked  question
	about  string // what the question is about
	settle bool   // asked whether the clock is right
	event  happening
}

// The questions of this screen.
const (
	askAccept = "accept"
	askDefect = "defect"
)

func (r ready) update(f facts, p press) (screen, []action) {
	items := r.items(f)
	switch {
	case r.asked.isOpen():
		return r.answer(f, p)
	case r.settle:
		return r.settleClock(p)
	case r.event.open:
		next, actions := r.event.update(f, p)
		r.event = next
		return r, actions
	case p.is(keys.Event):
		r.event = r.event.begin()
		return r, nil
	}
	if scroll, did := r.read(f, p); did {
		r.scroll = scroll
		return r, nil
	}
	if cursor, did := moved(p, r.cursor, len(items), f.page.h); did {
		r.cursor, r.scroll = cursor, 0
		return r, nil
	}
	if p.is(keys.Leave) {
		return r, []action{closeScreen{}}
	}
	if len(items) == 0 {
		return r, nil
	}
	item := items[within(r.cursor, len(items))]
	switch {
	case p.is(keys.Enter):
		return r.follow(f, item)
	case p.is(keys.Open) && item.heads:
		r.opened = item.group
	case p.is(keys.Back) && item.group != "":
		return r.closeGroup(f, item.group), nil
	case p.is(keys.Accept) && item.caution != nil:
		return r.askToAccept(*item.caution), nil
	}
	return r, nil
}

// read goes on, or back, within a selected item that does not fit.
func (r ready) read(f facts, p press) (scroll int, did bool) {
	_, focus, end := r.list(f, f.page.w)
	room := r.room(f, f.page)
	most := end - focus - room
	switch {
	case p.is(keys.PageDown) && r.scroll < most:
		return min(most, r.scroll+max(1, room-2)), true
	case p.is(keys.PageUp) && r.scroll > 0:
		return max(0, min(r.scroll, most)-max(1, room-2)), true
	}
	return 0, false
}

// closeGroup puts the cursor on the line that stands for the group.
func (r ready) closeGroup(f facts, group string) ready {
	r.opened = ""
	for i, item := range r.items(f) {
		if item.heads && item.group == group {
			r.cursor = i
		}
	}
	return r
}

func (r ready) askToAccept(c checklist.Caution) ready {
	r.about = c.ID()
	r.asked = ask(askAccept, "Why is it accepted, for the next sign-off alone? In your own words:")
	return r
}

// follow goes to where the selected item is cleared.
func (r ready) follow(f facts, item readyItem) (screen, []action) {
	switch {
	case item.heads && item.group == groupChecks:
		return r, []action{openAt{roundsScreen, target{check: item.members[0].Name}}}
	case item.heads:
		return r, []action{openAt{storesScreen, nameIn(f, item.members[0].Name)}}
	case item.caution != nil:
		return r.followCaution(f, *item.caution)
	case item.blocker == nil:
		return r, nil
	}
	b := *item.blocker
	switch b.Matter {
	case checklist.MatterCheck:
		if c, known := f.assessment.Check(b.Name); known && c.Automatic != nil {
			return r, []action{say{"the program answers it: " + b.Why}}
		}
		return r, []action{openAt{roundsScreen, target{check: b.Name}}}
	case checklist.MatterSounding:
		return r, []action{openAt{storesScreen, nameIn(f, b.Name)}}
	case checklist.MatterEndurance:
		return r, []action{openAt{storesScreen, holderOf(f, b.Name)}}
	case checklist.MatterPlan, checklist.MatterSeason:
		return r, []action{openAt{passageScreen, target{leg: legNamed(f, b.Name)}}}
	case checklist.MatterClock:
		r.settle = true
		return r, nil
	case checklist.MatterDefect:
		if n := defectNamed(f, b.Name); n > 0 {
			return r, []action{openAt{engineScreen, target{defect: n}}}
		}
		return r.askDefect(b), nil
	case checklist.MatterService:
		return r, []action{openAt{engineScreen, target{service: b.Name}}}
	case checklist.MatterSpare:
		return r, []action{openAt{gearScreen, target{spare: b.Name}}}
	case checklist.MatterDated:
		return r, []action{openAt{gearScreen, target{dated: b.Name}}}
	}
	return r, []action{say{"it is cleared " + b.Where + ": " + b.Clears}}
}

func (r ready) followCaution(f facts, c checklist.Caution) (screen, []action) {
	if _, known := f.assessment.Check(c.Name); known && c.Matter == checklist.MatterCheck {
		return r, []action{openAt{roundsScreen, target{check: c.Name}}}
	}
	switch {
	case c.Matter == checklist.MatterWhatIf:
		return r, []action{openAt{passageScreen, target{whatIf: c.Name}}}
	case c.Matter == checklist.MatterDaylight:
		return r, []action{openAt{passageScreen, target{leg: legNamed(f, c.Name)}}}
	case c.Matter == checklist.MatterService:
		return r, []action{openAt{engineScreen, target{service: c.Name}}}
	case c.Matter == checklist.MatterDefect:
		n, _ := strconv.Atoi(c.Name)
		return r, []action{openAt{engineScreen, target{defect: n}}}
	case c.Accepted == nil:
		return r.askToAccept(c), nil
	}
	return r, nil
}

// legNamed is the leg, from 1, that is called so or ends there; else the last one.
func legNamed(f facts, name string) int {
	legs := f.definitions.Plan.Legs
	for i, leg := range legs {
		if leg.To == name || leg.From+" to "+leg.To == name {
			return i + 1
		}
	}
	return len(legs)
}

// defectNamed is the number of a defect that is closed by its repair and its proof; 0: what was done is enough.
func defectNamed(f facts, name string) int {
	n, _ := strconv.Atoi(name)
	if v, err := f.assessment.Defect(n); err == nil && (v.Engine || v.Repair != nil) {
		return n
	}
	return 0
}

func (r ready) askDefect(b checklist.Blocker) ready {
	r.about = b.Name
	r.asked = ask(askDefect, "Mended? What was done or found closes it, and its check is asked again. If nothing was, go back.",
		"What was done or found:")
	return r
}

// nameIn is the tank or the food of that name.
func nameIn(f facts, name string) target {
	if _, isTank := f.definitions.Tank(name); isTank {
		return target{tank: name}
	}
	return target{food: name}
}

// holderOf is where a thing that is short is kept: the first tank of it, or the foods.
func holderOf(f facts, thing string) target {
	name, _, _ := strings.Cut(thing, " ")
	for _, t := range f.definitions.Boat.Tanks {
		if t.Holds == passage.Thing(name) && !t.Sealed {
			return target{tank: t.Name}
		}
	}
	for _, food := range f.definitions.Boat.Foods {
		return target{food: food.Name}
	}
	return target{}
}

func (r ready) answer(f facts, p press) (screen, []action) {
	next, text, sent := r.asked.update(p)
	if !sent {
		r.asked = next
		return r, nil
	}
	w := r.wishFor(text)
	if err := f.try(w); err != nil {
		r.asked = next.refused(err)
		return r, nil
	}
	r.asked = question{}
	return r, []action{recordEntry{w}}
}

func (r ready) wishFor(text string) wish {
	if r.asked.what == askDefect {
		number, err := strconv.Atoi(r.about)
		if err != nil {
			number = 0 // no defect has it, and that is what is said
		}
		return wishDefectClosing{number, text}
	}
	return wishAccept{r.about, text}
}

func (r ready) settleClock(p press) (screen, []action) {
	switch {
	case p.is(keys.Yes):
		r.settle = false
		return r, []action{recordEntry{wishClock{}}}
	case p.is(keys.Back), p.is(keys.Leave), p.is(keys.NotRight):
		r.settle = false
	}
	return r, nil
}

func (r ready) bindings(f facts) []bound {
	switch {
	case r.asked.isOpen():
		return r.asked.bindings()
	case r.settle:
		return []bound{can(as(keys.Yes, "the clock is right"), ""), can(keys.Back, "")}
	case r.event.open:
		return r.event.bindings()
	}
	items := r.items(f)
	var item readyItem
	if len(items) > 0 {
		item = items[within(r.cursor, len(items))]
	}
	accept, open, enter := "", "", ""
	if item.blocker == nil && item.caution == nil && !item.heads {
		enter = "nothing that leads anywhere is selected"
	}
	if item.caution == nil {
		accept = "no caution is selected"
	}
	if !item.heads {
		open = "nothing that stands for several is selected"
	}
	list := []bound{can(keys.Enter, enter), can(keys.Open, open), can(keys.Accept, accept), can(keys.Event, "")}
	return append(list, moving()...)
}

func (r ready) refreshed(f facts) screen {
	cursor := within(r.cursor, len(r.items(f)))
	if cursor != r.cursor {
		r.scroll = 0
	}
	r.cursor, r.event = cursor, r.event.refreshed(f)
	return r
}

// aim goes to what stands in the way, or to a caution; under way neither is listed.
func (r ready) aim(f facts, at target) screen {
	if r.isTyping() || at.blocker == "" && at.caution == "" {
		return r
	}
	r.settle, r.event, r.opened = false, happening{}, ""
	for _, b := range f.assessment.Blockers {
		if b.ID() == at.blocker {
			r.opened = groupOf(f, b)
		}
	}
	for i, item := range r.items(f) {
		if item.blocker != nil && item.blocker.ID() == at.blocker || item.caution != nil && item.caution.ID() == at.caution {
			r.cursor, r.scroll = i, 0
			return r
		}
	}
	return r
}

func (r ready) isTyping() bool { return r.asked.isOpen() || r.event.asked.isOpen() }

func (r ready) unsaved() bool { return r.asked.unsaved() || r.event.asked.unsaved() }

func (r ready) isInside() bool { return r.settle || r.event.open }
