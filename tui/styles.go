package tui

import (
	"io"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
)

// styles are named by what they mean. No colour, border or padding stands elsewhere.
type styles struct {
	head     lipgloss.Style // where one is
	title    lipgloss.Style // of a part of a page
	selected lipgloss.Style
	blocked  lipgloss.Style // it stands in the way, or is not on the disk
	caution  lipgloss.Style
	good     lipgloss.Style
	keys     lipgloss.Style
	edge     lipgloss.Style // the line between two columns; never of a word or a value
	ink      string         // opens the colour of all that has no style; "": the terminal's own
}

// The colours of the day theme, to be read on white and on black alike: 3.8:1 or more on
// both, by WCAG's formula (looks_test.go). Of the sixteen there is no green that can be read
// on white: bold and the word must do.
var (
	dayRed   = paint("#d70000", "160", "9")
	dayBrown = paint("#af5f00", "130", "5")
	dayGreen = lipgloss.CompleteColor{TrueColor: "#008700", ANSI256: "28"}
)

// The colours of the night theme: pure red leaves the eye used to the dark, and at full
// strength it is the least that is easily read on black (5.25:1). Rank is told by bold, by
// place and by words, not by shades. The dimmer one (3.9:1) is for lines between columns.
// Of the sixteen, 91 for all: 31 is 2.7:1 on the Linux console.
var (
	nightRed = paint("#ff0000", "196", "9")
	nightDim = paint("#d70000", "160", "9")
)

func paint(trueColour, of256, of16 string) lipgloss.CompleteColor {
	return lipgloss.CompleteColor{TrueColor: trueColour, ANSI256: of256, ANSI: of16}
}

func newStyles(theme Theme, r *lipgloss.Renderer) styles {
	plain, bold := r.NewStyle(), r.NewStyle().Bold(true)
	s := styles{head: bold, title: bold, selected: bold, blocked: bold, caution: bold, good: bold, keys: plain, edge: plain}
	switch theme {
	case Day:
		s.blocked = bold.Foreground(dayRed)
		s.caution = bold.Foreground(dayBrown)
		s.good = bold.Foreground(dayGreen)
	case Night:
		for _, style := range []*lipgloss.Style{&s.head, &s.title, &s.selected, &s.blocked, &s.caution, &s.good, &s.keys} {
			*style = style.Foreground(nightRed)
		}
		s.edge = plain.Foreground(nightDim)
		s.ink, _, _ = strings.Cut(plain.Foreground(nightRed).Render("x"), "x")
	}
	return s
}

// inked is a line in which what has no style has the theme's own colour: at night nothing
// may be left in the terminal's, which is white.
func (s styles) inked(line string) string {
	if s.ink == "" || line == "" {
		return line
	}
	const ends = "\x1b[0m"
	return s.ink + strings.ReplaceAll(line, ends, ends+s.ink) + ends
}

// rendererFor is a renderer that never asks the terminal anything. Where there are no
// colours bold stays, which the library would drop together with them.
func rendererFor(c Colours) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetHasDarkBackground(true)
	switch c {
	case TrueColour:
		r.SetColorProfile(termenv.TrueColor)
	case Colours256:
		r.SetColorProfile(termenv.ANSI256)
	default:
		r.SetColorProfile(termenv.ANSI)
	}
	return r
}

// stylesFor are the styles of a theme on a terminal that has so many colours.
func stylesFor(theme Theme, c Colours) styles {
	if c == NoColours {
		theme = Plain
	}
	return newStyles(theme, rendererFor(c))
}
