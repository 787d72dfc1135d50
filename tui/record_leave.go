package tui

import (
	"fmt"
	"strings"

	"boat/hoveshort/checklist"
)

// beginAtSea are the keys of leaving and of all that comes after it.
func (r record) beginAtSea(f facts, p press) (record, []action, bool) {
	for _, b := range atSea(f) {
		if b.whyNot != "" || !p.is(b.Binding) {
			continue
		}
		r.scroll = 0
		switch {
		case p.is(keys.Depart):
			r.against = f.assessment.AgainstLeaving()
			r.leaving = len(r.against) == 0
			return r, []action{readFiles{}}, true
		case p.is(keys.Noon):
			r.voyage = beginVoyaging(f, tellNoon)
		case p.is(keys.ChangePlan):
			r.voyage = beginVoyaging(f, tellChange)
		case p.is(keys.ComeIn):
			r.voyage = beginVoyaging(f, tellArrive)
		case p.is(keys.ClosePage):
			r.voyage = beginVoyaging(f, tellClose)
		case p.is(keys.Reason):
			r.voyage = beginVoyaging(f, tellReason)
		}
		return r, nil, true
	}
	return r, nil, false
}

// atSea are the keys of leaving, and those of being out; which there are hangs on where she is.
func atSea(f facts) []bound {
	v := f.state.Voyage
	switch {
	case v.UnderWay():
		list := []bound{can(keys.Noon, ""), can(keys.ComeIn, ""), can(keys.ChangePlan, "")}
		if _, err := f.state.NewDepartReason(f.now, "tried"); err == nil {
			list = append(list, can(keys.Reason, ""))
		}
		return list
	case v != nil && v.Closed == nil:
		return []bound{can(keys.ClosePage, ""), can(keys.Depart, "")}
	}
	return []bound{can(keys.Depart, "")}
}

// whyNotSigning is why there is nothing to sign, or to move; "": there may be.
func whyNotSigning(f facts) string {
	if f.state.Voyage.UnderWay() {
		return "she is under way"
	}
	return ""
}

// confirmLeaving is the one confirmation of leaving.
func (r record) confirmLeaving(p press) (screen, []action) {
	switch {
	case p.rest:
	case p.is(keys.Yes):
		r.leaving = false
		return r, []action{recordEntry{wishDepart{}}, holdKey{p.String()}}
	case p.is(keys.Back), p.is(keys.Leave), p.is(keys.NotRight):
		r.leaving = false
		return r, []action{say{"she has not left"}}
	}
	return r, nil
}

func (r record) leavingLines(f facts, w int) []string {
	l, a := f.look, f.assessment
	lines := para(l.title, "", l.clean("Leave: "+a.Passage+"?"), w)
	texts := []string{"Nothing is against it. y writes down that she leaves now; the sign-off is good for this one departure."}
	if s := a.SignOff; s.Signed != nil {
		texts = append(texts, fmt.Sprintf("Signed off by %s, digits %s.", s.Signed.Name, firstEight(s.Signed.Sum)))
	}
	for _, d := range a.Defects {
		if d.State == checklist.DefectToProve {
			texts = append(texts, "On a condition: "+d.Why+".")
		}
	}
	for _, text := range append(texts, deference) {
		lines = append(lines, para(l.keys, "", l.clean(text), w)...)
	}
	return lines
}

// readAgainst reads what is against leaving. Whoever must leave all the same presses one key.
func (r record) readAgainst(f facts, p press) (screen, []action) {
	most := max(0, len(r.againstLines(f, f.page.w))-f.page.h)
	if scroll, did := moved(p, min(r.scroll, most), most+1, 2*max(1, f.page.h-2)); did {
		r.scroll = scroll
		return r, nil
	}
	switch {
	case p.rest:
	case p.is(keys.Unsigned):
		r.against = nil
		return r, []action{recordEntry{wishDepart{unsigned: true}}, holdKey{p.String()}}
	case p.is(keys.Enter):
		r.against = nil
		return r, []action{openScreen{readyScreen}}
	case p.is(keys.Back), p.is(keys.Leave):
		r.against = nil
		return r, []action{say{"she has not left"}}
	}
	return r, nil
}

func (r record) againstLines(f facts, w int) []string {
	l := f.look
	lines := para(l.blocked, "", fmt.Sprintf("Leaving is refused: %s against it.", count(len(r.against), "thing is", "things are")), w)
	lines = append(lines, para(l.keys, "", "U: leave all the same. It is never refused, and stands as left unsigned; the reason may follow within a day.", w)...)
	clears := clearsLeaving(f.assessment)
	for i, why := range r.against {
		lines = append(lines, para(l.keys, "  ", l.clean(fmt.Sprintf("%d. %s", i+1, why)), w)...)
		if cure := clears[why]; cure != "" {
			lines = append(lines, para(l.keys, "     ", l.clean(cure), w)...)
		}
	}
	return append(lines, para(l.keys, "", "enter: 1 Ready goes to each; the rounds before weighing are on 4", w)...)
}

// clearsLeaving is where each thing against leaving is cleared, by its words.
func clearsLeaving(a checklist.Assessment) map[string]string {
	clears := map[string]string{}
	for _, why := range a.AgainstLeaving() {
		clears[why] = "clears: signing off (here: s)" // where it is none of those below
	}
	for _, b := range a.Blockers {
		clears[b.Against()] = fmt.Sprintf("clears: %s (%s)", b.Clears, b.Where)
	}
	for _, b := range a.Weighing {
		clears[b.Against()] = fmt.Sprintf("clears: %s (4 Rounds, before weighing)", b.Clears)
	}
	return clears
}

// wayLines are how she stands: under way, or in and not closed; in at most room lines.
func (r record) wayLines(f facts, w, room int) []string {
	l, a, v := f.look, f.assessment, f.state.Voyage
	if a.Way == nil {
		if v == nil || v.Closed != nil || v.Arrived == nil {
			return nil
		}
		text := fmt.Sprintf("In at %s since %s. C: close the passage, once the tanks are sounded.", v.Arrived.Place, v.Arrived.Moment().In(f.zone()).Format(momentLayout))
		return append(para(l.title, "", l.clean(text), w), r.standingLines(f, w)...)
	}
	style := l.good
	if strings.Contains(a.WayVerdict(), "due") || len(a.Way.Warns) > 0 {
		style = l.caution
	}
	rows := a.WayRows()
	tell := func(lines []string, rows []checklist.WayRow) []string {
		for _, row := range rows {
			of := l.keys
			if row.Bad {
				of = l.caution
			}
			lines = append(lines, para(of, "", l.clean(row.Name+": "+row.Text), w)...)
		}
		return lines
	}
	lines := tell(nil, rows[:len(a.Way.Proofs)]) // a proof under way heads the screen
	lines = append(lines, para(style, "", "UNDER WAY: "+l.clean(a.WayVerdict()), w)...)
	lines = tell(lines, rows[len(a.Way.Proofs):])
	if room < 2 || len(lines) <= room {
		return lines[:min(len(lines), max(1, room))]
	}
	return append(lines[:room-1], l.keys.Render(l.clip("more: 1 Ready", w)))
}
