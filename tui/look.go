package tui

import (
	"strings"
	"unicode"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"
)

// look is how things are drawn: styles and glyphs.
type look struct {
	styles
	glyphs
}

// glyphs are the signs in use; each set has a sign for each.
type glyphs struct {
	full, reserve, rest string // of a bar
	end, over           string // of a bar: where the hard case ends, and what lies beyond it
	night, dusk         string // of a day: the sun is down; it is down, and it is not dark
	low, day            string // of a day: the sun is up and it is not by day; it is by day
	arrives             string // of a day: when she does
	side                string // between two columns
	more                string // something was cut
	dash                string // between two things of a line
	caret               string // in a line that is typed
	ascii               bool
	set                 Glyphs
}

func newGlyphs(g Glyphs) glyphs {
	switch g {
	case ASCII:
		return glyphs{full: "#", reserve: "=", rest: ".", end: "|", over: ">", night: "#", dusk: "=", low: "-", day: ".", arrives: "X", side: "|", more: "...", dash: "-", caret: "_", ascii: true, set: ASCII}
	case Box:
		return glyphs{full: "█", reserve: "▒", rest: "·", end: "│", over: "→", night: "█", dusk: "▒", low: "░", day: "·", arrives: "X", side: "│", more: "…", dash: "·", caret: "_", set: Box}
	default:
		return glyphs{full: "█", reserve: "▒", rest: "·", end: "│", over: "›", night: "█", dusk: "▒", low: "░", day: "·", arrives: "X", side: "│", more: "…", dash: "·", caret: "▏"}
	}
}

// clean is a text of the skipper's as it may be shown: on one line, without what
// could drive the terminal, turn the direction of writing or upset the width.
func (l look) clean(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\n' || r == '\t' || r == '\r':
			b.WriteByte(' ')
		case !unicode.IsPrint(r) && r != ' ':
			// control characters, direction marks, joiners: left out
		case unicode.Is(unicode.Variation_Selector, r):
		case l.ascii && r > unicode.MaxASCII:
			b.WriteString(inASCII(r))
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// inASCII is the nearest that a terminal without UTF-8 can show.
func inASCII(r rune) string {
	if near, known := map[rune]string{
		'°': "", '…': "...", '–': "-", '—': "-", '·': "-", '±': "+/-", '×': "x", '½': "1/2",
		'’': "'", '‘': "'", '“': `"`, '”': `"`,
	}[r]; known {
		return near
	}
	return "?"
}

// clip cuts a line to a width, with a sign that it was cut.
func (l look) clip(text string, width int) string {
	if width < 1 {
		return ""
	}
	tail := l.more
	if lipgloss.Width(tail) >= width {
		tail = ""
	}
	return ansi.Truncate(text, width, tail)
}

// pad is clip, filled up with blanks.
func (l look) pad(text string, width int) string {
	text = l.clip(text, width)
	return text + blanks(width-lipgloss.Width(text))
}

func blanks(n int) string { return strings.Repeat(" ", max(0, n)) }

// wrap breaks a clean text into lines of a width; the lines after the first are
// indented.
func wrap(text string, width, indent int) []string {
	indent = min(indent, max(0, width-10))
	lines := wrapTo(text, width, max(1, width-indent))
	for i := 1; i < len(lines); i++ {
		lines[i] = blanks(indent) + lines[i]
	}
	return lines
}

func wrapTo(text string, first, rest int) []string {
	var lines []string
	line, room := "", max(1, first)
	push := func() {
		lines = append(lines, line)
		line, room = "", max(1, rest)
	}
	for _, word := range strings.Fields(text) {
		if line != "" && lipgloss.Width(line)+1+lipgloss.Width(word) > room {
			push()
		}
		for lipgloss.Width(word) > room && line == "" {
			head := ansi.Truncate(word, room, "")
			if head == "" {
				return append(lines, word) // a sign wider than the page: fit cuts it
			}
			line, word = head, word[len(head):]
			push()
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// para is a text after a prefix that stays on the first line, each line in a style.
func para(style lipgloss.Style, prefix, text string, width int) []string {
	lines := wrap(text, max(1, width-lipgloss.Width(prefix)), 0)
	for i := range lines {
		lead := prefix
		if i > 0 {
			lead = blanks(lipgloss.Width(prefix))
		}
		lines[i] = lead + style.Render(lines[i])
	}
	return lines
}

// part is a height of lines from one on; its last line tells that there is more to read.
func (l look) part(lines []string, from, height int) []string {
	from = max(0, min(from, len(lines)-height))
	seen := append([]string(nil), lines[from:min(len(lines), from+max(0, height))]...)
	if len(lines) > from+height && len(seen) > 1 {
		seen[len(seen)-1] = "  " + l.more + " more to read: pgdn"
	}
	return seen
}

// window cuts lines to a height so that those from focus up to end are seen, from
// their first on. A line at the edge tells what is not seen.
func (l look) window(lines []string, focus, end, height int) []string {
	if len(lines) <= height || height < 1 {
		return lines[:min(len(lines), max(0, height))]
	}
	edge := 0 // lines left at both ends to tell what is not seen
	if height >= 4 {
		edge = 1
	}
	from := max(0, min(end-height+edge, focus-edge, len(lines)-height))
	seen := append([]string(nil), lines[from:from+height]...)
	if edge == 0 {
		return seen
	}
	if from > 0 && focus > from {
		seen[0] = "  " + l.more + " more above"
	}
	if below := len(lines) - from - height; below > 0 && end < from+height {
		seen[height-1] = "  " + l.more + " more below"
	}
	return seen
}
