package tui

import (
	"strings"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/key"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// longestLine is how many characters may be typed; the domain takes no more.
const longestLine = 1000

// question is a line that is asked for. Nothing is ever filled in beforehand.
type question struct {
	what  string   // which question, in the words of the screen that asked; "": none
	lines []string // what is asked, and what will happen
	note  string   // why the line was not taken
	input textinput.Model
}

func ask(what string, lines ...string) question {
	input := textinput.New()
	input.Prompt, input.CharLimit = "", longestLine
	input.KeyMap.Paste = key.NewBinding() // it would run a program to read a clipboard
	input.Cursor.SetMode(cursor.CursorStatic)
	input.Focus()
	return question{what: what, lines: lines, input: input}
}

func (q question) isOpen() bool { return q.what != "" }

func (q question) unsaved() bool { return q.isOpen() && strings.TrimSpace(q.input.Value()) != "" }

// refused keeps what was typed, and says why it was not taken.
func (q question) refused(err error) question {
	q.note = err.Error()
	return q
}

// update types; sent tells that the line is to be taken. Escape never throws away
// what was typed, since noise on the line can look like it.
func (q question) update(p press) (next question, text string, sent bool) {
	q.note = ""
	empty := q.input.Value() == ""
	switch {
	case p.Type == tea.KeyEnter:
		text = strings.TrimSpace(q.input.Value())
		if text == "" {
			q.note = "nothing was typed; backspace goes back"
		}
		return q, text, text != ""
	case empty && (p.Type == tea.KeyEsc || p.Type == tea.KeyBackspace || p.Type == tea.KeyLeft):
		return question{}, "", false
	case p.Type == tea.KeyEsc:
		q.note = "ctrl+u empties the line; then backspace goes back"
		return q, "", false
	}
	msg := p.KeyMsg
	if msg.Paste {
		msg.Runes = []rune(strings.NewReplacer("\r\n", " ", "\n", " ", "\r", " ").Replace(string(msg.Runes)))
	}
	q.input, _ = q.input.Update(msg)
	return q, "", false
}

// draw is the question in at most height lines; the line that is typed is the last
// and always there.
func (q question) draw(l look, s size) []string {
	var lines []string
	for _, text := range q.lines {
		lines = append(lines, wrap(l.clean(text), s.w, 0)...)
	}
	if q.note != "" {
		lines = append(lines, para(l.blocked, "", l.clean(q.note), s.w)...)
	}
	if over := len(lines) - (s.h - 1); over > 0 {
		lines = lines[min(over, len(lines)):]
	}
	return append(lines, "> "+q.typed(l, s.w-2))
}

// typed is what is typed around the caret, cut so that the caret is seen.
func (q question) typed(l look, width int) string {
	runes := []rune(q.input.Value())
	at := min(q.input.Position(), len(runes))
	before, after := l.clean(string(runes[:at]))+l.caret, l.clean(string(runes[at:]))
	if over := ansi.StringWidth(before) - max(1, width); over > 0 {
		before = ansi.TruncateLeft(before, over, "")
	}
	return ansi.Truncate(before+after, max(0, width), "")
}

func (q question) bindings() []bound {
	return []bound{
		can(as(keys.Enter, "take it"), ""),
		can(bind("backspace", "back, if empty", "backspace"), ""),
		can(bind("ctrl+u", "empty the line", "ctrl+u"), ""),
	}
}

// under puts a question below what a page shows; the page keeps its first lines.
func (q question) under(f facts, page []string, s size) []string {
	asked := q.draw(f.look, size{s.w, max(1, s.h-min(len(page), s.h/3))})
	room := max(0, s.h-len(asked)-1)
	if len(page) > room {
		page = page[:room]
	}
	out := append([]string(nil), page...)
	if room > 0 {
		out = append(out, "")
	}
	return append(out, asked...)
}
