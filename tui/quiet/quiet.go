// Package quiet keeps the program from asking the terminal for its background
// colour: the terminal library would wait up to 5 s for one that does not answer,
// and swallow the keys typed meanwhile.
//
// Main imports it for its init alone. It must not import the screen library itself:
// packages that are ready are initialised in the order of their import paths, and this
// one's sorts before that library's.
package quiet

import "github.com/charmbracelet/lipgloss"

func init() { lipgloss.SetHasDarkBackground(true) }
