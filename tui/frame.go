package tui

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// The smallest terminal in which the screens can be used.
const (
	leastWidth  = 40
	leastHeight = 12
)

// isTooSmall says that no page is shown, and so no key is taken.
func (s size) isTooSmall() bool { return s.w < leastWidth || s.h < leastHeight }

// View is the whole screen: never taller or wider than the terminal.
func (m Model) View() string {
	t := m.terminal
	switch {
	case t.w < 1 || t.h < 1:
		return ""
	case t.isTooSmall():
		text := fmt.Sprintf("too small: %dx%d is needed, this is %dx%d; ctrl+c leaves", leastWidth, leastHeight, t.w, t.h)
		return m.fit(wrap(text, t.w, 0))
	}
	page := m.page()
	lines := append(m.head(), strings.Split(page, "\n")...)
	foot := append(m.messages(), m.foot()...)
	if room := max(0, t.h-len(foot)); len(lines) > room {
		lines = lines[:room]
	}
	for len(lines) < t.h-len(foot) {
		lines = append(lines, "")
	}
	return m.fit(append(lines, foot...))
}

func (m Model) page() string {
	if m.help.open {
		return m.help.view(m.facts, m.allBindings())
	}
	if m.finder.isOpen() {
		return m.finder.view(m.facts, m.facts.page)
	}
	page := m.screen().view(m.facts, m.facts.page)
	if !m.facts.isBeside() {
		return page
	}
	return strings.Join(m.facts.look.beside(filled(strings.Split(page, "\n"), m.facts.page.h), m.besides(), m.facts.page.w), "\n")
}

// fit cuts every line to the terminal.
func (m Model) fit(lines []string) string {
	lines = lines[:min(len(lines), m.terminal.h)]
	for i, line := range lines {
		lines[i] = m.facts.look.inked(m.facts.look.clip(strings.TrimRight(line, " "), m.terminal.w))
	}
	return strings.Join(lines, "\n")
}

// laidOut tells the facts how much room a page has now.
func (m Model) laidOut() Model {
	t := m.terminal
	if t.isTooSmall() {
		t = size{leastWidth, leastHeight}
	}
	m.facts.waiting = len(m.queue)
	m.facts.page = size{t.w, max(1, t.h-len(m.head())-len(m.messages())-len(m.foot()))}
	return m.parted()
}

// head tells where one is, whose boat it is and what time it is taken to be.
func (m Model) head() []string {
	l, w := m.facts.look, max(leastWidth, m.terminal.w)
	left, right := m.names(false), l.clean(m.facts.now.In(m.facts.zone()).Format("Mon 2 Jan 15:04"))
	if lipgloss.Width(left)+1+lipgloss.Width(right) > w {
		left = m.names(true)
	}
	if boat := l.clean(m.facts.assessment.Boat); lipgloss.Width(left)+lipgloss.Width(boat)+lipgloss.Width(right)+5 <= w {
		right = boat + "  " + right
	}
	line := left
	if gap := w - lipgloss.Width(left) - lipgloss.Width(right); gap >= 1 {
		line += blanks(gap) + right
	}
	lines := []string{l.head.Render(line)}
	if m.settings.Banner != "" {
		lines = append(lines, l.caution.Render(l.clip(l.clean(m.settings.Banner), w)))
	}
	if brief, due := m.facts.assessment.WayBrief(); brief != "" && !m.headsWithTheWay() {
		style := l.good
		if due {
			style = l.caution
		}
		lines = append(lines, style.Render(l.clip(l.clean(brief), w)))
	}
	if f := m.facts; !m.moved.IsZero() {
		text := fmt.Sprintf("departure moved: %s (files: %s); here alone until signed",
			f.definitions.Plan.Depart.In(f.zone()).Format(momentLayout), m.files.Plan.Depart.In(f.zone()).Format(momentLayout))
		lines = append(lines, l.caution.Render(l.clip(l.clean(text), w)))
	}
	return lines
}

// headsWithTheWay says that the page itself begins with how she stands under way.
func (m Model) headsWithTheWay() bool {
	if m.finder.isOpen() {
		return false
	}
	in, is := m.screen().(interface{ isInside() bool })
	return m.current == readyScreen && !m.help.open || m.current == recordScreen && is && !in.isInside() && !m.help.open
}

// names are the screens, of which one is shown; briefly: the others by their keys alone.
func (m Model) names(briefly bool) string {
	var names []string
	for _, n := range screenNames {
		name := string(n) + " " + n.title()
		switch {
		case n == m.current:
			name = "[" + name + "]"
		case briefly:
			name = string(n)
		}
		names = append(names, name)
	}
	return strings.Join(names, " ")
}

// messages are what must be said now, above the foot: a third of the screen at most.
func (m Model) messages() []string {
	l, w := m.facts.look, max(leastWidth, m.terminal.w)
	var lines []string
	tell := func(style lipgloss.Style, text string) {
		for _, line := range wrap(l.clean(text), w, 2) {
			lines = append(lines, style.Render(line))
		}
	}
	if m.failed != "" {
		tell(l.blocked, fmt.Sprintf("NOT ON THE DISK: %s. %s. w: write again", count(len(m.queue), "entry", "entries"), m.failed))
	}
	if m.problem != "" {
		tell(l.blocked, m.problem)
	}
	if m.facts.filesWrong != "" {
		tell(l.blocked, fmt.Sprintf("The boat's files have a mistake; what is shown is as of %s. r: read again. %s",
			m.read.In(m.facts.zone()).Format(momentLayout), m.facts.filesWrong))
	}
	switch {
	case m.leaving == asked && m.failed != "":
		tell(l.blocked, "Leave? What is not on the disk is LOST. L: leave without it; w: write again; any other key stays")
	case m.leaving == asked && m.screen().unsaved():
		tell(l.caution, "Leave? What was typed is not taken yet. q: leave; any other key stays")
	case m.leaving == asked && len(m.queue) > 0:
		tell(l.caution, "Leave, once "+count(len(m.queue), "entry is", "entries are")+" on the disk? q: leave; any other key stays")
	case m.leaving == asked && !m.trial.IsEmpty():
		tell(l.caution, "Leave? Everything is on the disk; what is tried is dropped: "+strings.Join(m.trial.Words(), "; ")+". q: leave; any other key stays")
	case m.leaving == asked:
		tell(l.caution, "Leave? Everything is on the disk. q: leave; any other key stays")
	case m.leaving == finishing:
		tell(l.caution, fmt.Sprintf("leaving when %s on the disk", count(len(m.queue), "entry is", "entries are")))
	}
	for _, text := range m.said {
		tell(l.keys, text)
	}
	if most := max(2, m.terminal.h/3); len(lines) > most {
		lines = append(lines[:most-1:most-1], "  "+l.more+" more; make the window taller to read it")
	}
	return lines
}

// foot is the keys that can be used now, as many as fit on a line, on two where it is narrow.
func (m Model) foot() []string {
	l, w := m.facts.look, max(leastWidth, m.terminal.w)
	rows := 1
	if w < 72 {
		rows = 2
	}
	last := l.clean("? help  q " + m.leaveWord())
	if m.isTyping() {
		last = "ctrl+c leave"
	}
	lines, room := []string{""}, w
	if rows == 1 {
		room -= ansi.StringWidth(last) + 2
	}
	for _, b := range m.footBindings() {
		if b.whyNot != "" || b.quiet || !b.Enabled() {
			continue
		}
		item := l.clean(b.Help().Key + " " + b.Help().Desc)
		at := len(lines) - 1
		if lines[at] != "" && lipgloss.Width(lines[at])+2+lipgloss.Width(item) > room && at < rows-1 {
			lines, at, room = append(lines, ""), at+1, w-ansi.StringWidth(last)-2
		}
		switch {
		case lines[at] == "" && lipgloss.Width(item) <= room:
			lines[at] = item
		case lines[at] != "" && lipgloss.Width(lines[at])+2+lipgloss.Width(item) <= room:
			lines[at] += "  " + item
		}
	}
	for len(lines) < rows {
		lines = append(lines, "")
	}
	at := rows - 1
	if lines[at] != "" {
		lines[at] += "  "
	}
	lines[at] += last
	for i := range lines {
		lines[i] = l.keys.Render(lines[i])
	}
	return lines
}

func (m Model) footBindings() []bound {
	if m.help.open {
		return []bound{{Binding: keys.Up}, {Binding: keys.Down}, {Binding: keys.PageDown}}
	}
	if m.finder.isOpen() {
		return m.finder.bindings()
	}
	return m.screen().bindings(m.facts)
}

func (m Model) leaveWord() string {
	if in, is := m.screen().(interface{ isInside() bool }); is && in.isInside() || m.help.open {
		return "back"
	}
	return "leave"
}

// allBindings are the screen's keys and those that are the same everywhere.
func (m Model) allBindings() []bound {
	whyNot := ""
	if m.failed == "" {
		whyNot = "everything is on the disk"
	}
	list := append([]bound(nil), m.screen().bindings(m.facts)...)
	list = append(list, quietly(keys.Ready, keys.Passage, keys.Stores, keys.Rounds, keys.Engine, keys.Gear, keys.Record)...)
	if !slices.ContainsFunc(list, func(b bound) bool { return b.Help().Key == keys.Find.Help().Key }) {
		list = append(list, quietly(keys.Find)...)
	}
	_, nothing := m.lastAct()
	list = append(list, can(keys.Undo, strings.TrimPrefix(nothing, "not taken back: ")), can(keys.Write, whyNot))
	return append(list, quietly(keys.Reload, keys.Theme, keys.Repaint, keys.Suspend, keys.Help, as(keys.Leave, m.leaveWord()), keys.Quit)...)
}

// helpPage is the keys, all of them, in words.
type helpPage struct {
	open   bool
	scroll int
}

func (h helpPage) lines(f facts, list []bound) []string {
	l, w := f.look, f.page.w
	lines := []string{l.title.Render("Keys"), ""}
	for _, b := range list {
		text := b.Help().Desc
		if b.whyNot != "" {
			text += " (not now: " + b.whyNot + ")"
		}
		lines = append(lines, para(l.keys, l.pad(l.clean(b.Help().Key), 12), l.clean(text), w)...)
	}
	return append(lines, wrap("Every word of yours is kept in the record as you typed it. "+deference, w, 0)...)
}

func (h helpPage) view(f facts, list []bound) string {
	lines := h.lines(f, list)
	from := max(0, min(h.scroll, len(lines)-f.page.h))
	return strings.Join(lines[from:min(len(lines), from+f.page.h)], "\n")
}

func (m Model) turnHelp(p press) Model {
	most := max(0, len(m.help.lines(m.facts, m.allBindings()))-m.facts.page.h)
	scroll, turned := moved(p, min(m.help.scroll, most), most+1, m.facts.page.h)
	if turned {
		m.help.scroll = scroll
		return m
	}
	if p.is(keys.Help) || p.is(keys.Leave) || p.is(keys.Back) || p.is(keys.Enter) {
		m.help = helpPage{}
	}
	return m
}

// deference stands where decisions are taken.
const deference = "This program defers to the skipper, to the maker's manual and to local rules."
