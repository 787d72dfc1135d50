package tui

import (
	"slices"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
)

// gear is screen 6: spares, lockers, tools, dated gear and what is wanted, in views of
// which one is shown; what is looked for; and what is done with a spare or a tool.
type gear struct {
	shown   gearView
	cursors [gearViews]int
	scroll  int // lines read of what is told of the selected row
	stowing stowing
}

// gearView is one of the views of the gear.
type gearView int

// The views, in the order in which they are turned.
const (
	sparesView gearView = iota
	lockersView
	toolsView
	datedView
	wantedView
	gearViews
)

var gearViewNames = []string{"Spares", "Lockers", "Tools", "Dated", "Wanted"}

func (g gear) update(f facts, p press) (screen, []action) {
	if g.stowing.isOpen() {
		next, actions := g.stowing.update(f, p)
		g.stowing = next
		return g, actions
	}
	if shown, did := turnedView(p, g.shown, gearViews); did {
		g.shown, g.scroll = shown, 0
		return g, nil
	}
	if scroll, did := g.read(f, p); did {
		g.scroll = scroll
		return g, nil
	}
	if cursor, did := moved(p, g.cursors[g.shown], g.rows(f), f.page.h); did {
		g.cursors[g.shown], g.scroll = cursor, 0
		return g, nil
	}
	return g.act(f, p)
}

// read goes on, or back, in what is told of the selected row.
func (g gear) read(f facts, p press) (scroll int, did bool) {
	if !p.is(keys.PageUp) && !p.is(keys.PageDown) {
		return 0, false
	}
	return g.sheet(f, f.page).read(f.look, p, g.room(f, f.page))
}

func (g gear) act(f facts, p press) (screen, []action) {
	switch {
	case p.is(keys.Leave):
		return g, []action{closeScreen{}}
	case p.is(keys.Enter):
		if name, kind := g.leadsTo(f); kind != "" {
			return g.goTo(f, kind, name)
		}
		return g, nil
	}
	on := g.selected(f)
	for _, key := range stowKeys() {
		if p.is(key.Binding) && on.whyNot(f, key.did) == "" {
			g.stowing = beginStowing(f, on, key.did)
			return g, nil
		}
	}
	return g, nil
}

// handled is the spare or the tool with which something may be done.
type handled struct {
	kind  string // kindSpare or kindTool; else nothing can be done with it here
	name  string
	place string // of the pieces meant; "": any
}

// selected is what the acts are about.
func (g gear) selected(f facts) handled {
	i := g.cursors[g.shown]
	if i >= g.rows(f) {
		return handled{}
	}
	switch g.shown {
	case sparesView:
		return handled{kind: kindSpare, name: f.gear.aboard.Spares[i].Name}
	case toolsView:
		return handled{kind: kindTool, name: f.gear.tools[i].Name}
	case datedView:
		return handled{kind: kindDated, name: f.gear.dated[i].Name}
	case wantedView:
		return handled{kind: wantKind(f.gear.wants[i]), name: f.gear.wants[i].Name}
	}
	if t := f.gear.lockers[i].thing; t != nil {
		return handled{kind: t.Kind, name: t.Name, place: t.Place}
	}
	return handled{}
}

func wantKind(w machinery.Want) string {
	if w.IsTool {
		return kindTool
	}
	return kindSpare
}

// leadsTo is the thing to which the selected row leads; none: kind is "".
func (g gear) leadsTo(f facts) (name, kind string) {
	if g.shown != lockersView && g.shown != wantedView {
		return "", ""
	}
	on := g.selected(f)
	return on.name, on.kind
}

// goTo shows a thing where all is told of it.
func (g gear) goTo(f facts, kind, name string) (gear, []action) {
	g.scroll = 0
	at := -1
	switch kind {
	case kindFood:
		return g, []action{openAt{storesScreen, target{food: name}}}
	case kindSpare:
		g.shown, at = sparesView, slices.IndexFunc(f.gear.aboard.Spares, func(s machinery.Spare) bool { return s.Name == name })
	case kindTool:
		g.shown, at = toolsView, slices.IndexFunc(f.gear.tools, func(t machinery.Tool) bool { return t.Name == name })
	case kindDated:
		g.shown, at = datedView, slices.IndexFunc(f.gear.dated, func(d machinery.Dated) bool { return d.Name == name })
	}
	g.cursors[g.shown] = max(0, at)
	return g, nil
}

// rows is how many rows the view that is shown has.
func (g gear) rows(f facts) int {
	switch g.shown {
	case sparesView:
		return len(f.gear.aboard.Spares)
	case lockersView:
		return len(f.gear.lockers)
	case toolsView:
		return len(f.gear.tools)
	case datedView:
		return len(f.gear.dated)
	}
	return len(f.gear.wants)
}

// stowKeys are the keys by which it is told what was done, each with what that is.
func stowKeys() []stowKey {
	return []stowKey{
		{keys.Bought, checklist.Bought}, {keys.UsedUp, checklist.UsedUp}, {keys.Stowed, checklist.Moved},
		{keys.FoundIt, checklist.Found}, {keys.LentIt, checklist.Lent}, {keys.CameBack, checklist.Back},
	}
}

func (g gear) bindings(f facts) []bound {
	if g.stowing.isOpen() {
		return g.stowing.bindings(f)
	}
	goes := "in Lockers and Wanted it goes to the selected thing"
	if _, kind := g.leadsTo(f); kind != "" {
		goes = ""
	}
	list := []bound{can(keys.NextView, ""), can(keys.Find, ""), can(as(keys.Enter, "go to it"), goes)}
	on := g.selected(f)
	for _, key := range stowKeys() {
		list = append(list, can(key.Binding, on.whyNot(f, key.did)))
	}
	return append(list, append(quietly(keys.LastView), moving()...)...)
}

func (g gear) refreshed(f facts) screen {
	if !f.gear.isKnown {
		return g
	}
	shown := g.shown
	for v := range gearViews {
		g.shown = v
		g.cursors[v] = within(g.cursors[v], g.rows(f))
	}
	g.shown = shown
	return g
}

// aim goes to a spare, a tool or dated gear.
func (g gear) aim(f facts, at target) screen {
	if g.isTyping() {
		return g
	}
	for kind, name := range map[string]string{kindSpare: at.spare, kindTool: at.tool, kindDated: at.dated} {
		if name != "" {
			g, _ = g.goTo(f, kind, name)
		}
	}
	if at.place != "" {
		g.shown, g.scroll, g.cursors[lockersView] = lockersView, 0, lockerOf(f, at.place)
	}
	return g
}

func (g gear) isTyping() bool { return g.stowing.isOpen() }

func (g gear) unsaved() bool { return g.stowing.unsaved() }
