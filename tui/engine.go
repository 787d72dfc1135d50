package tui

import (
	"slices"

	"boat/hoveshort/checklist/machinery"
)

// engine is screen 5: the latest reading against normal, how the gauges moved, and the
// services, in views of which one is shown.
type engine struct {
	shown   engineView
	cursors [engineViews]int // the gauge, the service; of the reading none
	scroll  int              // lines read of what does not fit
	entry   entering
}

// engineView is one of the views of the engine.
type engineView int

// The views, in the order in which they are turned.
const (
	readingView engineView = iota
	trendView
	serviceView
	engineViews
)

var engineViewNames = []string{"Reading", "Trend", "Services"}

func (e engine) update(f facts, p press) (screen, []action) {
	if e.entry.isOpen() {
		return e.enter(f, p)
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
	}
	return e, nil
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
	}
	return 0
}

func (e engine) bindings(f facts) []bound {
	if e.entry.isOpen() {
		return e.entry.bindings()
	}
	choose := "there is nothing to choose from"
	if e.rows(f) > 1 {
		choose = ""
	}
	list := []bound{can(keys.NextView, ""), can(keys.TakeReading, "")}
	switch e.shown {
	case trendView:
		list = append(list, can(as(keys.Down, "another gauge"), choose))
	case serviceView:
		list = append(list, can(as(keys.Down, "another service"), choose))
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
	return e
}

// aim goes to a service.
func (e engine) aim(f facts, at target) screen {
	if e.entry.isOpen() || at.service == "" {
		return e
	}
	e.shown, e.scroll = serviceView, 0
	i := slices.IndexFunc(f.engine.Forecasts, func(s machinery.Forecast) bool { return s.Service.Name == at.service })
	e.cursors[serviceView] = max(0, i)
	return e
}

func (e engine) isTyping() bool { return e.entry.asked.isOpen() }

func (e engine) unsaved() bool { return e.entry.unsaved() }

func (e engine) isInside() bool { return e.entry.isOpen() }
