package tui

import (
	"slices"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// engine is screen 5: the latest reading against normal, how the gauges moved, and the
// services, in views of which one is shown.
type engine struct {
	shown   engineView
	cursors [engineViews]int // the gauge, the service; of the reading none
	scroll  int              // lines read of what does not fit
	entry   entering
	opened  opened // a defect, in full
	form    form
}

// engineView is one of the views of the engine.
type engineView int

// The views, in the order in which they are turned.
const (
	readingView engineView = iota
	trendView
	defectsView
	serviceView
	engineViews
)

var engineViewNames = []string{"Reading", "Trend", "Defects", "Services"}

func (e engine) update(f facts, p press) (screen, []action) {
	switch {
	case e.entry.isOpen():
		return e.enter(f, p)
	case e.form.isOpen():
		return e.fill(f, p)
	case e.opened.isOpen():
		return e.inDefect(f, p)
	}
	if shown, did := turnedView(p, e.shown, engineViews); did {
		e.shown, e.scroll = shown, 0
		return e, nil
	}
	if scroll, did := e.read(f, p); did {
		e.scroll = scroll
		return e, nil
	}
	if cursor, did := moved(p, e.cursors[e.shown], e.rows(f), f.page.h); did {
		e.cursors[e.shown], e.scroll = cursor, 0
		return e, nil
	}
	switch {
	case p.is(keys.Leave):
		return e, []action{closeScreen{}}
	case p.is(keys.TakeReading):
		e.entry = e.entry.begin(f)
	case p.is(keys.NewDefect):
		e.form = form{kind: formDefect, offered: f.engine.offered}.begin(f)
	case p.is(keys.Open) || p.is(keys.Enter):
		return e.open(f), nil
	case p.is(keys.Done) && e.shown == serviceView && e.rows(f) > 0:
		e.form = form{kind: formService, service: f.engine.Forecasts[e.cursors[serviceView]].Service.Name}.begin(f)
	}
	return e, nil
}

// open shows the selected defect in full.
func (e engine) open(f facts) engine {
	if e.shown == defectsView && e.rows(f) > 0 {
		e.opened = opened{number: f.assessment.Defects[e.cursors[defectsView]].Seq}
	}
	return e
}

// fill takes an answer to a form; once a new defect is asked for, the view turns to where it stands.
func (e engine) fill(f facts, p press) (screen, []action) {
	kind := e.form.kind
	next, actions := e.form.update(f, p)
	e.form = next
	asked := slices.ContainsFunc(actions, func(a action) bool { _, is := a.(recordEntry); return is })
	if asked && kind == formDefect {
		e.shown, e.scroll, e.cursors[defectsView] = defectsView, 0, len(f.assessment.Defects)
	}
	return e, actions
}

// enter takes a reading; once it is asked for, the view turns to where it is judged.
func (e engine) enter(f facts, p press) (screen, []action) {
	next, actions := e.entry.update(f, p)
	e.entry = next
	if slices.ContainsFunc(actions, func(a action) bool { _, is := a.(recordEntry); return is }) {
		e.shown, e.scroll = readingView, 0
	}
	return e, actions
}

// read goes on, or back, in what does not fit.
func (e engine) read(f facts, p press) (scroll int, did bool) {
	room := e.room(f, f.page)
	switch e.shown {
	case readingView:
		most := max(0, len(readingLines(f, room))-room.h)
		return moved(p, min(e.scroll, most), most+1, 2*max(1, room.h-edges))
	case serviceView:
		return e.services(f).read(f.look, p, room)
	case defectsView:
		return e.defects(f).read(f.look, p, room)
	}
	return e.readTrend(f, p, room)
}

// rows is how many rows the view that is shown lets choose from.
func (e engine) rows(f facts) int {
	switch e.shown {
	case trendView:
		return len(f.engine.Trends)
	case serviceView:
		return len(f.engine.Forecasts)
	case defectsView:
		return len(f.assessment.Defects)
	}
	return 0
}

func (e engine) bindings(f facts) []bound {
	switch {
	case e.entry.isOpen():
		return e.entry.bindings()
	case e.form.isOpen():
		return e.form.bindings(f)
	case e.opened.isOpen():
		return e.opened.bindings(f)
	}
	choose, none := "there is nothing to choose from", ""
	if e.rows(f) > 1 {
		choose = ""
	}
	if e.rows(f) == 0 {
		none = "there is none"
	}
	list := []bound{can(keys.NextView, ""), can(keys.TakeReading, ""), can(keys.NewDefect, "")}
	switch e.shown {
	case trendView:
		list = append(list, can(as(keys.Down, "another gauge"), choose))
	case defectsView:
		list = append(list, can(as(keys.Enter, "show it"), none), can(as(keys.Down, "another defect"), choose), bound{Binding: as(keys.Open, "show it"), whyNot: none, quiet: true})
	case serviceView:
		list = append(list, can(as(keys.Done, "it is done"), none), can(as(keys.Down, "another service"), choose))
	default:
		list = append(list, can(as(keys.Down, "read on"), ""))
	}
	return append(list, quietly(keys.LastView, keys.Up, keys.First, keys.Last, keys.PageUp, keys.PageDown)...)
}

func (e engine) refreshed(f facts) screen {
	if !f.engine.isKnown {
		return e
	}
	e.cursors[trendView] = within(e.cursors[trendView], len(f.engine.Trends))
	e.cursors[serviceView] = within(e.cursors[serviceView], len(f.engine.Forecasts))
	if f.waiting == 0 {
		e.cursors[defectsView] = within(e.cursors[defectsView], len(f.assessment.Defects))
	}
	if _, err := f.assessment.Defect(e.opened.number); err != nil {
		e.opened = opened{}
	}
	return e
}

// aim goes to a service, or to a defect.
func (e engine) aim(f facts, at target) screen {
	if e.entry.isOpen() || e.form.isOpen() {
		return e
	}
	if at.card != "" {
		e.shown, e.scroll, e.opened, at.defect = defectsView, 0, opened{}, defectWalking(f, at.card)
	}
	if i := slices.IndexFunc(f.assessment.Defects, func(v checklist.DefectView) bool { return v.Seq == at.defect }); i >= 0 {
		e.shown, e.scroll, e.cursors[defectsView], e.opened = defectsView, 0, i, opened{number: at.defect}
	}
	if at.service == "" {
		return e
	}
	e.shown, e.scroll, e.opened = serviceView, 0, opened{}
	i := slices.IndexFunc(f.engine.Forecasts, func(s machinery.Forecast) bool { return s.Service.Name == at.service })
	e.cursors[serviceView] = max(0, i)
	return e
}

func (e engine) isTyping() bool { return e.entry.asked.isOpen() || e.form.isOpen() }

func (e engine) unsaved() bool { return e.entry.unsaved() || e.form.unsaved() }

func (e engine) isInside() bool { return e.entry.isOpen() || e.form.isOpen() || e.opened.isOpen() }
