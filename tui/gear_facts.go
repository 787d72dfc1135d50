package tui

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"boat/hoveshort/checklist"
	"boat/hoveshort/checklist/machinery"
	"boat/hoveshort/provisions/passage"
	"boat/hoveshort/provisions/quantity"
)

// gearFacts are the gear as screen 6 tells it.
type gearFacts struct {
	isKnown   bool                  // false: screen 6 is not shown, and all is empty
	aboard    checklist.Definitions // the files with the record laid over them
	forecasts []machinery.Forecast
	wants     []machinery.Want
	tools     []machinery.Tool  // those of the files, then those that a service needs and no file lists
	dated     []machinery.Dated // the first end first, what has no date before that
	lockers   []lockerRow
	places    []string  // whole paths, by name
	arrive    time.Time // the slow arrival; where that is not known, now
	isMade    bool      // the slow arrival is known
}

// lookAtGear lays the record over the files and finds out what lies where.
func lookAtGear(f facts) gearFacts {
	g := gearFacts{
		isKnown: true, aboard: f.definitions.Now(f.state),
		forecasts: checklist.LookAtEngine(f.definitions, f.state, f.assessment).Forecasts,
	}
	g.wants = machinery.Wanted(f.definitions.Plan.Kind, g.aboard.Spares, g.forecasts)
	g.tools = withUnlisted(g.aboard.Tools, g.forecasts)
	g.dated = slices.Clone(g.aboard.Dated)
	slices.SortStableFunc(g.dated, func(a, b machinery.Dated) int { return compareDates(a.Until, b.Until) })
	g.arrive = f.now.In(f.zone())
	if slow := f.assessment.Reckoning.Cases[passage.Slow].Voyage; slow.Made() {
		g.arrive, g.isMade = slow.Arrive().In(f.zone()), true
	}
	things := thingsAboard(g.aboard, f)
	g.lockers = lockerRows(things)
	for _, row := range g.lockers {
		if row.thing != nil && row.path != "" && !slices.Contains(g.places, row.path) {
			g.places = append(g.places, row.path)
		}
	}
	return g
}

func compareDates(a, b quantity.Date) int {
	switch {
	case a == b:
		return 0
	case a.IsZero() || !b.IsZero() && b.After(a):
		return -1
	}
	return 1
}

// withUnlisted are the tools, and those that a service needs and tools.toml does not list.
func withUnlisted(tools []machinery.Tool, forecasts []machinery.Forecast) []machinery.Tool {
	all := slices.Clone(tools)
	for _, due := range forecasts {
		for _, name := range due.Service.Tools {
			if !slices.ContainsFunc(all, func(t machinery.Tool) bool { return t.Name == name }) {
				all = append(all, machinery.Tool{Name: name, State: machinery.Missing})
			}
		}
	}
	return all
}

// The kinds of things that can be looked for.
const (
	kindSpare = "spare"
	kindTool  = "tool"
	kindDated = "dated"
	kindFood  = "food"
)

// thingsAboard is all that has a place, or should have one.
func thingsAboard(d checklist.Definitions, f facts) []machinery.Thing {
	things := machinery.SpareThings(d.Spares)
	things = append(things, machinery.ToolThings(d.Tools)...)
	things = append(things, machinery.DatedThings(d.Dated, f.now.In(f.zone()))...)
	today := quantity.DateOf(f.now.In(f.zone()))
	for _, l := range f.assessment.Reckoning.Stock {
		if l.Lot.Packs <= 0 {
			continue
		}
		thing := machinery.Thing{Name: l.Lot.Food, Kind: kindFood, Place: l.Lot.Place, Note: packs(l.Lot.Packs) + ", " + dateWords(l)}
		if !l.Ends.Last.IsZero() && l.Ends.Last.Before(today) {
			thing.Warning = fmt.Sprintf("went off on %s", l.Ends.Last)
		}
		things = append(things, thing)
	}
	return things
}

// A lockerRow is a place, or a thing that lies in the place above it.
type lockerRow struct {
	depth int
	path  string // whole, of the place; "": of what has no place written
	name  string // of the place: the last part of its path
	thing *machinery.Thing
	holds []machinery.Thing // of a place: what lies in it and in the places within
	inner int               // how many of them lie in places within
}

// locker is a place while the tree is made.
type locker struct {
	name   string
	things []machinery.Thing
	within []*locker
}

// lockerRows are the places as a tree, by name, each with what lies there first; what has
// no place written comes last.
func lockerRows(things []machinery.Thing) []lockerRow {
	root, nowhere := &locker{}, &locker{}
	for _, t := range things {
		switch path := parts(t.Place); {
		case t.Kind == kindTool && t.Warning == string(machinery.Missing), t.Kind == kindSpare && t.Note == "":
			// it lies in no place: it is not aboard
		case len(path) == 0:
			nowhere.things = append(nowhere.things, t)
		default:
			at := root
			for _, part := range path {
				at = at.inner(part)
			}
			at.things = append(at.things, t)
		}
	}
	rows := root.rows(nil, -1)
	if len(nowhere.things) == 0 {
		return rows
	}
	nowhere.name = "no place is written"
	return append(rows, nowhere.rows(nil, 0)...)
}

// parts are the parts of a place's path.
func parts(place string) []string {
	var list []string
	for part := range strings.SplitSeq(place, "/") {
		if part = strings.Join(strings.Fields(part), " "); part != "" {
			list = append(list, part)
		}
	}
	return list
}

// inner is the place of that name within, in capitals or not.
func (k *locker) inner(name string) *locker {
	for _, one := range k.within {
		if strings.EqualFold(one.name, name) {
			return one
		}
	}
	one := &locker{name: name}
	k.within = append(k.within, one)
	return one
}

// rows are the place and what lies within. A place in which there is but one other is
// told together with it.
func (k *locker) rows(path []string, depth int) []lockerRow {
	if depth >= 0 && len(k.things) == 0 && len(k.within) == 1 {
		inner := *k.within[0]
		path = append(slices.Clone(path), inner.name)
		inner.name = k.name + " / " + inner.name
		return inner.rows(path, depth)
	}
	slices.SortStableFunc(k.within, func(a, b *locker) int { return cmp.Compare(strings.ToLower(a.name), strings.ToLower(b.name)) })
	slices.SortStableFunc(k.things, func(a, b machinery.Thing) int { return cmp.Compare(a.Name, b.Name) })
	var rows []lockerRow
	if depth >= 0 {
		rows = append(rows, lockerRow{depth: depth, path: strings.Join(path, " / "), name: k.name, holds: k.all(), inner: len(k.all()) - len(k.things)})
	}
	for _, t := range k.things {
		rows = append(rows, lockerRow{depth: depth + 1, path: strings.Join(path, " / "), thing: &t})
	}
	for _, one := range k.within {
		rows = append(rows, one.rows(append(slices.Clone(path), one.name), depth+1)...)
	}
	return rows
}

func (k *locker) all() []machinery.Thing {
	list := slices.Clone(k.things)
	for _, one := range k.within {
		list = append(list, one.all()...)
	}
	return list
}

// spare is the spare of that name as it is aboard.
func (g gearFacts) spare(name string) (machinery.Spare, bool) {
	i := slices.IndexFunc(g.aboard.Spares, func(s machinery.Spare) bool { return s.Name == name })
	if i < 0 {
		return machinery.Spare{}, false
	}
	return g.aboard.Spares[i], true
}

// tool is the tool of that name; isListed is false of one that tools.toml does not hold.
func (g gearFacts) tool(name string) (t machinery.Tool, isListed bool) {
	i := slices.IndexFunc(g.aboard.Tools, func(t machinery.Tool) bool { return t.Name == name })
	if i < 0 {
		return machinery.Tool{Name: name, State: machinery.Missing}, false
	}
	return g.aboard.Tools[i], true
}

// lentNow are the acts of lending by which something of that name is still away, the last
// first, and how many are.
func lentNow(f facts, name string) (acts []checklist.StowState, away int) {
	back := 0
	for _, act := range slices.Backward(f.state.Stows) {
		n := max(1, act.Count)
		switch {
		case act.Spare != name && act.Tool != name:
		case act.Did == checklist.Back:
			back += n
		case act.Did == checklist.Lent && back >= n:
			back -= n
		case act.Did == checklist.Lent:
			acts, away = append(acts, act), away+n-back
			back = 0
		case act.Tool == name && (act.Did == checklist.Found || act.Did == checklist.Bought):
			return acts, away // it was seen aboard since
		}
	}
	return acts, away
}
