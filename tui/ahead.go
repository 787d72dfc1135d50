package tui

import (
	"slices"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
	"boat/hoveshort/provisions/passage"
)

// ahead is screen 2, Passage: what lies ahead, in views of which one is shown. Each is a
// list; what is told of its selected row comes from the same reckoning as the answer.
type ahead struct {
	shown   view
	cursors [views]int
	scroll  int // lines read of what is told of the selected row
	page    reader
	trying  trying
}

// view is one of the views of the passage.
type view int

// The views, in the order in which they are turned.
const (
	legsView view = iota
	leftView
	whatIfView
	turningView
	rangeView
	views
)

func (v view) title() string {
	return [views]string{"Legs", "What is left", "What ifs", "Turning back", "Under engine"}[v]
}

// The pages that lie over the views.
const (
	pageWorking = "working"
	pageLines   = "lines"
)

func (a ahead) update(f facts, p press) (screen, []action) {
	switch {
	case a.trying.isOpen():
		next, actions := a.trying.update(f, p)
		a.trying = next
		return a, actions
	case a.page.isOpen():
		a.page = a.page.update(p, len(a.pageText(f, f.page.w)), f.page)
		return a, nil
	}
	if shown, did := turnedView(p, a.shown, views); did {
		a.shown, a.scroll = shown, 0
		return a, nil
	}
	if scroll, did := a.read(f, p); did {
		a.scroll = scroll
		return a, nil
	}
	if cursor, did := moved(p, a.cursor(), a.rows(f), f.page.h); did {
		a.cursors[a.shown], a.scroll = cursor, 0
		return a, nil
	}
	return a.act(f, p)
}

// read goes on, or back, in what is told of the selected row.
func (a ahead) read(f facts, p press) (scroll int, did bool) {
	switch {
	case !p.is(keys.PageUp) && !p.is(keys.PageDown):
		return 0, false
	case a.shown == leftView:
		return a.readLeft(f, p)
	}
	return a.sheet(f, f.page).read(f.look, p, a.room(f, f.page))
}

func (a ahead) act(f facts, p press) (screen, []action) {
	tried := !f.prospect.trial.IsEmpty()
	switch {
	case p.is(keys.Leave):
		return a, []action{closeScreen{}}
	case p.is(keys.Working) && a.isExplained(f):
		a.page = reader{what: pageWorking}
	case p.is(keys.Try):
		a.trying = a.trying.begin()
	case p.is(keys.Keep) && tried:
		a.page = reader{what: pageLines}
	case p.is(keys.TakeBack) && tried:
		return a, takeBackLast(f.prospect.trial.Words())
	case p.is(keys.Drop) && tried:
		return a, []action{dropTrial{}}
	}
	return a, nil
}

func (a ahead) cursor() int { return a.cursors[a.shown] }

// rows is how many rows the view that is shown has.
func (a ahead) rows(f facts) int {
	o, judged := f.prospect.outlook, f.prospect.assessment.WhatIfs
	switch a.shown {
	case legsView:
		return len(f.prospect.definitions.Plan.Legs)
	case leftView:
		return len(things(o.Left))
	case whatIfView:
		return len(judged.List) + len(judged.LeftOut)
	case turningView:
		return len(turningItems(o))
	}
	return len(o.Range)
}

// things are those of which it is known what is left.
func things(left []provisions.Left) []passage.Thing {
	var list []passage.Thing
	for _, l := range left {
		if !slices.Contains(list, l.Thing) {
			list = append(list, l.Thing)
		}
	}
	return list
}

// isExplained says that the selected row has figures that come from somewhere.
func (a ahead) isExplained(f facts) bool {
	n := a.rows(f)
	if a.shown == whatIfView {
		n = len(f.prospect.assessment.WhatIfs.List)
	}
	return a.cursor() < n
}

// workings are where the figures of the selected row come from.
func (a ahead) workings(f facts) []provisions.Working {
	if a.rows(f) == 0 {
		return nil
	}
	i, judged := within(a.cursor(), a.rows(f)), f.prospect.assessment
	switch a.shown {
	case legsView:
		return legWorkings(f.prospect, i)
	case leftView:
		return stretchWorkings(judged, things(f.prospect.outlook.Left)[i])
	case whatIfView:
		if i < len(judged.WhatIfs.List) {
			return []provisions.Working{judged.ExplainWhatIf(judged.WhatIfs.List[i])}
		}
		return nil
	case turningView:
		return []provisions.Working{turningItems(f.prospect.outlook)[i].working(judged)}
	}
	return []provisions.Working{judged.ExplainRange(f.prospect.outlook.Range[i])}
}

// legWorkings are the times of a leg in each case, and when to leave for its end by day.
func legWorkings(p prospect, leg int) []provisions.Working {
	var list []provisions.Working
	for _, name := range passage.CaseNames {
		list = append(list, p.assessment.ExplainLeg(leg, name))
	}
	for _, w := range p.outlook.Windows {
		if w.Leg == leg {
			list = append(list, p.assessment.ExplainWindow(w))
		}
	}
	return list
}

func stretchWorkings(a checklist.Assessment, t passage.Thing) []provisions.Working {
	var list []provisions.Working
	for i := range a.Reckoning.Resources[t].Stretches {
		list = append(list, a.ExplainStretch(t, i))
	}
	return list
}

func (a ahead) bindings(f facts) []bound {
	switch {
	case a.trying.isOpen():
		return a.trying.bindings(f)
	case a.page.isOpen():
		return a.page.bindings()
	}
	working, tried := "", ""
	if !a.isExplained(f) {
		working = "no row with figures is selected"
	}
	if f.prospect.trial.IsEmpty() {
		tried = "nothing is tried"
	}
	list := []bound{
		can(keys.NextView, ""), can(keys.Working, working), can(keys.Try, ""),
		can(keys.Keep, tried), can(as(keys.TakeBack, "take back the last change"), tried), can(keys.Drop, tried),
	}
	return append(list, append(quietly(keys.LastView), moving()...)...)
}

func (a ahead) refreshed(f facts) screen {
	if !f.prospect.isKnown {
		return a
	}
	shown := a.shown
	for v := range views {
		a.shown = v
		a.cursors[v] = within(a.cursors[v], a.rows(f))
	}
	a.shown = shown
	return a
}

// aim goes to a leg, or to a what-if.
func (a ahead) aim(f facts, at target) screen {
	if a.isTyping() {
		return a
	}
	a.trying, a.page, a.scroll = trying{}, reader{}, 0
	switch {
	case at.leg > 0:
		a.shown = legsView
		a.cursors[legsView] = within(at.leg-1, a.rows(f))
	case at.whatIf != "":
		a.shown = whatIfView
		i := slices.IndexFunc(f.prospect.assessment.WhatIfs.List, func(w provisions.WhatIf) bool { return w.Name() == at.whatIf })
		a.cursors[whatIfView] = max(0, i)
	}
	return a
}

func (a ahead) isTyping() bool { return a.trying.asked.isOpen() }

// unsaved: trying writes nothing, so nothing can be lost.
func (a ahead) unsaved() bool { return false }

func (a ahead) isInside() bool { return a.page.isOpen() || a.trying.isOpen() }
