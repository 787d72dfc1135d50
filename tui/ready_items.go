package tui

import (
	"fmt"
	"slices"
	"strings"

	"boat/hoveshort/checklist"
)

// fewChecks is how many of a kind are listed one by one; more become one line.
const fewChecks = 3

// readyItem is one line that can be selected.
type readyItem struct {
	group    string // the group it stands for, or belongs to
	heads    bool   // it stands for the group
	members  []checklist.Blocker
	blocker  *checklist.Blocker
	weighing bool // it is against leaving alone
	caution  *checklist.Caution
	signed   string // why the sign-off in force accepts the caution; "": it does not
	note     string
	way      *checklist.WayRow // how she stands under way
	figure   string            // how long a thing lasts and the like, where the page is too small to keep it in sight
}

// The groups.
const (
	groupChecks    = "checks"
	groupSoundings = "soundings"
)

// items are what stands in the way, the cautions and the notes; under way how she stands.
func (r ready) items(f facts) []readyItem {
	var items []readyItem
	if f.assessment.Way != nil {
		for _, row := range f.assessment.WayRows() {
			items = append(items, readyItem{way: &row})
		}
	} else {
		items = r.gateItems(f)
	}
	for _, note := range notesOf(f.assessment) {
		items = append(items, readyItem{note: note})
	}
	if isSmall(f) {
		for _, line := range figures(f, f.page.w-2) {
			items = append(items, readyItem{figure: line})
		}
	}
	return items
}

// gateItems are what stands in the way, the round before weighing once she is signed off,
// and the cautions.
func (r ready) gateItems(f facts) []readyItem {
	groups := map[string][]checklist.Blocker{}
	for _, b := range f.assessment.Blockers {
		groups[groupOf(f, b)] = append(groups[groupOf(f, b)], b)
	}
	var items []readyItem
	told := map[string]bool{}
	for _, b := range f.assessment.Blockers {
		group := groupOf(f, b)
		switch {
		case group == "" || len(groups[group]) <= fewChecks:
			items = append(items, readyItem{blocker: &b})
		case !told[group]:
			told[group] = true
			items = append(items, r.groupItems(group, groups[group])...)
		}
	}
	if f.assessment.SignOff.InForce {
		for _, b := range f.assessment.Weighing {
			items = append(items, readyItem{blocker: &b, weighing: true})
		}
	}
	for _, c := range f.assessment.Cautions {
		items = append(items, readyItem{caution: &c, signed: f.assessment.SignOff.Reason(c)})
	}
	return items
}

// blocking are the lines of what stands in the way, several of a kind in one.
func (r ready) blocking(f facts) []readyItem {
	return slices.DeleteFunc(r.items(f), func(i readyItem) bool { return i.blocker == nil && !i.heads || i.weighing })
}

// leastList is the lines that the list wants beside the figures.
const leastList = 6

// isSmall says that the figures do not fit below the list, and become its end.
func isSmall(f facts) bool {
	return !f.isBeside() && f.page.h-2-1-len(figures(f, f.page.w)) < leastList
}

func (r ready) groupItems(group string, members []checklist.Blocker) []readyItem {
	items := []readyItem{{group: group, heads: true, members: members}}
	if r.opened != group {
		return items
	}
	for _, b := range members {
		items = append(items, readyItem{group: group, blocker: &b})
	}
	return items
}

// groupOf is the group of things that are cleared in one walk; "": it stands by itself.
func groupOf(f facts, b checklist.Blocker) string {
	switch b.Matter {
	case checklist.MatterSounding:
		return groupSoundings
	case checklist.MatterCheck:
		if c, known := f.assessment.Check(b.Name); known && c.Automatic == nil && c.WantsAnswer() {
			return groupChecks
		}
	}
	return ""
}

// notesOf is what is worth knowing and in the way of nothing.
func notesOf(a checklist.Assessment) []string {
	notes := slices.Clone(a.Notes)
	if n := len(a.NotLooked); n > 0 {
		var ids []string
		for _, c := range a.NotLooked {
			ids = append(ids, c.ID)
		}
		notes = append(notes, fmt.Sprintf("not looked at, and not critical: %s: %s", count(n, "check", "checks"), strings.Join(ids, ", ")))
	}
	if len(a.Uncovered) > 0 {
		notes = append(notes, "no check of the round covers: "+strings.Join(a.Uncovered, ", "))
	}
	if a.Reckoning.Estimated {
		notes = append(notes, "the fuel burnt is estimated from the engine's power: no curve is given")
	}
	if a.FoulingSeen > 0 && a.Fouling < 1 {
		seen := count(a.FoulingSeen, "reading", "readings")
		notes = append(notes, fmt.Sprintf("she goes %.0f %% of her clean speed, by her last %s", a.Fouling*100, seen))
	}
	return notes
}

func (i readyItem) title() string {
	switch {
	case i.heads && i.group == groupChecks:
		return fmt.Sprintf("%d critical checks want an answer", len(i.members))
	case i.heads:
		return fmt.Sprintf("%d tanks and foods want a sounding or a count", len(i.members))
	case i.blocker != nil:
		return i.blocker.Title
	case i.caution != nil:
		return i.caution.Title
	case i.way != nil:
		return i.way.Name
	}
	return i.note
}

func (i readyItem) why() string {
	switch {
	case i.heads && i.group == groupChecks:
		return "walk the round"
	case i.heads:
		var names []string
		for _, b := range i.members {
			names = append(names, b.Name)
		}
		return strings.Join(names, ", ")
	case i.blocker != nil:
		return i.blocker.Why
	case i.signed != "":
		return "accepted in the sign-off: " + i.signed
	case i.caution != nil && i.caution.Accepted != nil:
		return "accepted: " + i.caution.Accepted.Why
	case i.caution != nil:
		return i.caution.Why
	case i.way != nil:
		return i.way.Text
	}
	return ""
}

// rest is what is told of the selected item besides.
func (i readyItem) rest(f facts) []string {
	switch {
	case i.heads && i.group == groupChecks:
		return []string{howMany(f, i.members), "enter: walk the round; o: list them"}
	case i.heads:
		return []string{"enter: sound and count; o: list them"}
	case i.blocker != nil:
		text := []string{"clears it: " + i.blocker.Clears}
		if i.blocker.Where != "" {
			text = append(text, "where: "+i.blocker.Where)
		}
		return text
	case i.caution != nil:
		return i.cautionRest()
	}
	return nil
}

// howMany tells unanswered checks apart by how they stand.
func howMany(f facts, members []checklist.Blocker) string {
	by := map[checklist.Status]int{}
	for _, b := range members {
		c, _ := f.assessment.Check(b.Name)
		by[c.Status]++
	}
	var parts []string
	for _, kind := range []struct {
		status checklist.Status
		words  string
	}{
		{checklist.StatusOpen, "never answered"}, {checklist.StatusStale, "answered too long ago"},
		{checklist.StatusVoid, "void by what happened since"}, {checklist.StatusWaits, "waiting for another check"},
	} {
		if n := by[kind.status]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, kind.words))
		}
	}
	return strings.Join(parts, ", ")
}

func (i readyItem) cautionRest() []string {
	c := *i.caution
	var text []string
	switch {
	case i.signed != "":
		return []string{"it is: " + c.Why}
	case c.Accepted != nil:
		text = append(text, "it is: "+c.Why)
	default:
		text = append(text, "a: accept it for the next sign-off, with your reason")
	}
	switch c.Matter {
	case checklist.MatterWhatIf, checklist.MatterDaylight:
		text = append(text, "enter: see it on 2 Passage")
	case checklist.MatterService, checklist.MatterDefect:
		text = append(text, "enter: see it on 5 Engine")
	}
	if c.Running > 0 {
		text = append(text, ordinal(c.Running+1)+" passage running")
	}
	return text
}

func (i readyItem) part(a checklist.Assessment) string {
	switch {
	case i.weighing:
		return "Before weighing"
	case i.way != nil:
		return "Under way"
	case i.caution != nil && a.SignOff.InForce:
		return "Cautions; each wants a new reason before the next sign-off"
	case i.caution != nil:
		return fmt.Sprintf("Cautions: each wants a reason before signing (%d of %d have one)", len(a.Cautions)-openCautions(a), len(a.Cautions))
	case i.blocker != nil || i.heads:
		return "In the way, longest to clear first"
	case i.figure != "":
		return "How long it lasts"
	}
	return "Worth knowing"
}

// mark is the state of a caution as a word.
func (i readyItem) mark() string {
	switch {
	case i.caution == nil, i.caution.Accepted != nil, i.signed != "":
		return ""
	}
	return "no reason yet: "
}
