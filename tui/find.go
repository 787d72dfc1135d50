package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
)

// finder is the page on which anything is looked for; it lies over the screen from which it was asked for, and leaves
// that as it is.
type finder struct {
	asked  question
	all    checklist.Finder
	found  []checklist.FoundThing // the best of them
	more   int                    // that were found and are not listed
	cursor int
}

const askFind = "find"

// mostFound is how many are listed: who has read as many asks again with another word.
const mostFound = 60

func (n finder) isOpen() bool { return n.asked.isOpen() }

func (n finder) typed() string { return n.asked.input.Value() }

// startFinding opens the page. The past pages of the record are read, if they were not yet.
func (m Model) startFinding() (Model, tea.Cmd) {
	if m.screen().unsaved() {
		m.said = []string{"finish, or leave, what is asked here; then / finds"}
		return m, nil
	}
	m.finder = finder{asked: ask(askFind)}
	m = m.looksThrough()
	if m.facts.history == nil {
		return m, readPages(m.settings.History)
	}
	return m, nil
}

// looksThrough gathers anew what can be found, while something is looked for.
func (m Model) looksThrough() Model {
	if m.finder.isOpen() {
		f := m.facts
		m.finder.all = checklist.NewFinder(f.definitions, f.state, f.assessment, f.pages())
		m.finder = m.finder.looked(m.current)
	}
	return m
}

// looked looks for what is typed.
func (n finder) looked(own screenName) finder {
	n.found = n.all.Find(n.typed(), tellings[own])
	n.more = max(0, len(n.found)-mostFound)
	n.found = n.found[:len(n.found)-n.more]
	n.cursor = within(n.cursor, len(n.found))
	return n
}

// find takes a key while something is looked for.
func (m Model) find(p press) (Model, tea.Cmd) {
	n := m.finder
	if cursor, did := arrows(p, n.cursor, len(n.found), m.facts.page.h); did {
		m.finder.cursor = cursor
		return m, nil
	}
	switch {
	case p.Type == tea.KeyEnter && len(n.found) > 0 && !p.rest:
		return m.goToFound(n.found[within(n.cursor, len(n.found))])
	case p.Type == tea.KeyEsc: // nothing is lost by leaving
		m.finder = finder{}
		return m, nil
	}
	before := n.typed()
	n.asked, _, _ = n.asked.update(p)
	if n.isOpen() && n.typed() != before {
		n.cursor = 0
		n = n.looked(m.current)
	}
	m.finder = n
	return m, nil
}

// goToFound shows a thing where all is told of it.
func (m Model) goToFound(t checklist.FoundThing) (Model, tea.Cmd) {
	m.finder = finder{}
	m, cmd := m.do(openAt{screenOf(t.Told), targetOf(t.Findable)})
	if why := whyNotThere(m.facts, t.Findable); why != "" {
		m.said = append(m.said, why)
	}
	return m, cmd
}

// arrows moves a cursor by keys that are no text.
func arrows(p press, cursor, n, page int) (int, bool) {
	switch p.Type {
	case tea.KeyUp:
		cursor--
	case tea.KeyDown:
		cursor++
	case tea.KeyPgUp:
		cursor -= max(1, page/4)
	case tea.KeyPgDown:
		cursor += max(1, page/4)
	default:
		return cursor, false
	}
	return within(cursor, n), true
}

// tellings are what each screen tells.
var tellings = map[screenName]checklist.Telling{
	readyScreen: checklist.TellReady, passageScreen: checklist.TellPassage, storesScreen: checklist.TellStores, roundsScreen: checklist.TellRounds,
	engineScreen: checklist.TellEngine, gearScreen: checklist.TellGear, recordScreen: checklist.TellRecord,
}

func screenOf(t checklist.Telling) screenName {
	for name, telling := range tellings {
		if telling == t {
			return name
		}
	}
	return readyScreen
}

// targetOf is what the screen is asked to show of a thing.
func targetOf(t checklist.Findable) target {
	switch t.Kind {
	case checklist.FoundSpare:
		return target{spare: t.Name}
	case checklist.FoundTool:
		return target{tool: t.Name}
	case checklist.FoundDated:
		return target{dated: t.Name}
	case checklist.FoundPlace:
		return target{place: t.Key}
	case checklist.FoundFood:
		return target{food: t.Name, place: t.Place}
	case checklist.FoundConsumable:
		return target{food: t.Name}
	case checklist.FoundTank:
		return target{tank: t.Name}
	case checklist.FoundRound:
		return target{round: t.Name}
	case checklist.FoundCheck:
		return target{check: t.Key}
	case checklist.FoundService:
		return target{service: t.Name}
	case checklist.FoundDefect:
		return target{defect: t.Number()}
	case checklist.FoundCard:
		return target{card: t.Key}
	case checklist.FoundBlocker:
		return target{blocker: t.Key}
	case checklist.FoundCaution:
		return target{caution: t.Key}
	case checklist.FoundLeg, checklist.FoundStop, checklist.FoundAlternate:
		return target{leg: t.Number()}
	}
	return target{entry: t.Number()} // a passage goes by its departure
}

// whyNotThere is why the screen does not show the very thing; "": it does.
func whyNotThere(f facts, t checklist.Findable) string {
	switch t.Kind {
	case checklist.FoundCard:
		if defectWalking(f, t.Key) == 0 {
			return "the fault card \"" + f.look.clean(t.Key) + "\" is walked for a defect: n tells a new one, and asks which card"
		}
	case checklist.FoundConsumable:
		return f.look.clean(t.Name+": "+t.Note) + "; Take stock counts it, To buy tells whether it lasts"
	case checklist.FoundBlocker, checklist.FoundCaution:
		if f.assessment.Way != nil {
			return "under way 1 Ready tells how she stands; before the next leaving this is told again: " + f.look.clean(t.Name+": "+t.Note)
		}
	}
	return ""
}

// defectWalking is the open defect for which a fault card is walked; 0: none.
func defectWalking(f facts, sign string) int {
	for _, v := range f.assessment.Defects {
		if v.Card == sign {
			return v.Seq
		}
	}
	return 0
}

func (n finder) bindings() []bound {
	none := ""
	if len(n.found) == 0 {
		none = "nothing is found"
	}
	return []bound{
		can(as(keys.Enter, "go to it"), none), can(bind("up/down", "another", "up", "down"), none),
		can(bind("esc", "back where you were", "esc"), ""), can(bind("ctrl+u", "empty the line", "ctrl+u"), ""),
	}
}

// view is the line that is typed, and below it what it may mean.
func (n finder) view(f facts, s size) string {
	l := f.look
	lines := []string{l.title.Render(l.clip("Find: ", s.w)) + n.asked.typed(l, s.w-len("Find: "))}
	if n.asked.note != "" {
		lines = append(lines, para(l.caution, "", l.clean(n.asked.note), s.w)...)
	}
	lines = append(lines, wrap(n.said(f), s.w, 0)...)
	var list []string
	focus, end := 0, 0
	for i, found := range n.found {
		from := len(list)
		list = append(list, foundLines(l, found, i == n.cursor, s.w)...)
		if i == n.cursor {
			focus, end = from, len(list)
		}
	}
	if n.more > 0 {
		list = append(list, l.clip("  and "+count(n.more, "more", "more")+": add a word to what is looked for", s.w))
	}
	lines = append(lines, l.window(list, focus, end, max(0, s.h-len(lines)))...)
	return strings.Join(lines[:min(len(lines), s.h)], "\n")
}

// said is what the question comes to.
func (n finder) said(f facts) string {
	guesses := 0
	for _, found := range n.found {
		if found.Guess {
			guesses++
		}
	}
	all := len(n.found) + n.more
	switch {
	case strings.TrimSpace(n.typed()) == "" && f.history == nil:
		return "Type a name, a place, a word of the record; its past pages are being read. Mistakes in typing are forgiven."
	case strings.TrimSpace(n.typed()) == "":
		return "Type a name, a size, a place, a check, a word of the record. Mistakes in typing are forgiven."
	case all == 0:
		return "Nothing aboard is called so, or nearly so, and the record does not say it."
	case guesses == len(n.found):
		return "Nothing is called so. Perhaps it was meant:"
	case guesses > 0 && n.more == 0:
		return count(all-guesses, "is called so", "are called so") + ", " + count(guesses, "more perhaps", "more perhaps") + ":"
	}
	return count(all, "is called so, lies there, or tells of it:", "are called so, lie there, or tell of it:")
}

// foundLines is a thing and where it lies, or how it stands: on one line where there is room, else on two.
func foundLines(l look, found checklist.FoundThing, selected bool, w int) []string {
	what, where := foundWords(found)
	what, where = l.clean(what), l.clean(where)
	mark, style := "  ", l.keys
	if selected {
		mark, style = "> ", l.selected
	}
	if w >= twoColumns && !selected {
		half := w/2 - 4
		return []string{mark + style.Render(l.clip(l.pad(what, half)+"  "+where, w-2))}
	}
	if !selected {
		return []string{mark + style.Render(l.clip(what, w-2)), "    " + l.clip(where, w-4)}
	}
	lines := para(style, mark, what, w)
	if where == "" {
		return lines
	}
	return append(lines, para(l.keys, "    ", where, w)...)
}

// foundWords are what it is, and where it lies or how it stands.
func foundWords(t checklist.FoundThing) (what, where string) {
	what = t.Name + ", " + checklist.KindWords(t.Kind)
	switch {
	case t.IsGear():
		if where = "in " + t.Place; t.Place == "" {
			where = "no place is written"
		}
		if t.Note != "" {
			what = t.Name + ": " + t.Note
		}
	case t.Kind == checklist.FoundEntry:
		what, where = t.Name, t.Note
	case t.Kind == checklist.FoundPlace && t.Place != "":
		where = "in " + t.Place + ": " + t.Note
	default:
		where = t.Note
	}
	if t.Warning != "" {
		where += "  ! " + t.Warning
	}
	if t.Guess {
		what = "perhaps " + what
	}
	return what, where
}
