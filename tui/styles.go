package tui

import (
	"io"

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
}

// The colours of the day theme: 256-colour numbers with 3.9:1 or more on white and on
// black alike (computed by WCAG's formula).
const (
	dayRed   = lipgloss.Color("160")
	dayBrown = lipgloss.Color("130")
	dayGreen = lipgloss.Color("28")
)

func newStyles(theme Theme, r *lipgloss.Renderer) styles {
	plain, bold := r.NewStyle(), r.NewStyle().Bold(true)
	s := styles{head: bold, title: bold, selected: bold, blocked: bold, caution: bold, good: bold, keys: plain}
	if theme == Plain {
		return s
	}
	s.blocked = bold.Foreground(dayRed)
	s.caution = bold.Foreground(dayBrown)
	s.good = bold.Foreground(dayGreen)
	return s
}

// rendererFor is a renderer that never asks the terminal anything. The plain theme
// keeps bold, which the library would drop together with the colours.
func rendererFor(theme Theme, out io.Writer) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(out)
	r.SetHasDarkBackground(true)
	if theme == Plain {
		r.SetColorProfile(termenv.ANSI)
	}
	return r
}
