package tui

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist/machinery"
)

// finding is where something is looked for: a line is typed, and what it may mean stands
// below it with every key.
type finding struct {
	asked  question
	found  []machinery.Found
	cursor int
}

// askFind is the question.
const askFind = "find"

// begin asks.
func (finding) begin() finding { return finding{asked: ask(askFind)} }

func (n finding) isOpen() bool { return n.asked.isOpen() }

func (n finding) typed() string { return n.asked.input.Value() }

// find takes a key while something is looked for.
func (g gear) find(f facts, p press) (screen, []action) {
	n := g.finding
	if cursor, did := arrows(p, n.cursor, len(n.found), f.page.h); did {
		g.finding.cursor = cursor
		return g, nil
	}
	if p.Type == tea.KeyEnter && len(n.found) > 0 {
		to := n.found[within(n.cursor, len(n.found))]
		return g.goTo(f, to.Kind, to.Name)
	}
	before := n.typed()
	n.asked, _, _ = n.asked.update(p)
	if n.isOpen() && n.typed() != before {
		n.found, n.cursor = f.gear.index.Find(n.typed()), 0
	}
	g.finding = n
	return g, nil
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

// refreshed looks again for what is typed: what lies where may have changed.
func (n finding) refreshed(f facts) finding {
	if n.isOpen() {
		n.found = f.gear.index.Find(n.typed())
		n.cursor = within(n.cursor, len(n.found))
	}
	return n
}

func (n finding) bindings() []bound {
	none := ""
	if len(n.found) == 0 {
		none = "nothing is found"
	}
	list := []bound{can(as(keys.Enter, "go to it"), none), can(bind("up/down", "another", "up", "down"), none)}
	return append(list, n.asked.bindings()[1:]...)
}

// view is the line that is typed, and below it what it may mean.
func (n finding) view(f facts, s size) []string {
	l := f.look
	lines := []string{l.title.Render(l.clip("Find: ", s.w)) + n.asked.typed(l, s.w-len("Find: "))}
	if n.asked.note != "" {
		lines = append(lines, para(l.caution, "", l.clean(n.asked.note), s.w)...)
	}
	lines = append(lines, wrap(n.said(), s.w, 0)...)
	var list []string
	focus, end := 0, 0
	for i, found := range n.found {
		from := len(list)
		list = append(list, foundLines(l, found, i == n.cursor, s.w)...)
		if i == n.cursor {
			focus, end = from, len(list)
		}
	}
	room := max(0, s.h-len(lines))
	lines = append(lines, l.window(list, focus, end, room)...)
	return lines[:min(len(lines), s.h)]
}

// said is what the question comes to.
func (n finding) said() string {
	switch guesses := n.guesses(); {
	case strings.TrimSpace(n.typed()) == "":
		return "Type a name, a size, what belongs to it, or a place. Mistakes in typing are forgiven."
	case len(n.found) == 0:
		return "Nothing aboard is called so, or nearly so."
	case guesses == len(n.found):
		return "Nothing is called so. Perhaps it was meant:"
	case guesses > 0:
		return count(len(n.found)-guesses, "is called so", "are called so") + ", " + count(guesses, "more perhaps", "more perhaps") + ":"
	}
	return count(len(n.found), "is called so, or lies there:", "are called so, or lie there:")
}

func (n finding) guesses() int {
	guesses := 0
	for _, found := range n.found {
		if found.Guess {
			guesses++
		}
	}
	return guesses
}

// foundLines is a thing and where it lies: on one line where there is room, else on two.
func foundLines(l look, found machinery.Found, selected bool, w int) []string {
	what := found.Name + ", " + found.Kind
	if found.Note != "" {
		what = found.Name + ": " + found.Note
	}
	if found.Guess {
		what = "perhaps " + what
	}
	where := "in " + found.Place
	if found.Place == "" {
		where = "no place is written"
	}
	if found.Warning != "" {
		where += "  ! " + found.Warning
	}
	mark, style := "  ", l.keys
	if selected {
		mark, style = "> ", l.selected
	}
	if w >= twoColumns {
		half := w/2 - 4
		line := l.pad(l.clean(what), half) + "  " + l.clean(where)
		return []string{mark + style.Render(l.clip(line, w-2))}
	}
	lines := []string{mark + style.Render(l.clip(l.clean(what), w-2))}
	if selected {
		return append(lines, para(l.keys, "    ", l.clean(where), w)...)
	}
	return append(lines, "    "+l.clip(l.clean(where), w-4))
}
