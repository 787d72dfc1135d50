package tui

import (
	"fmt"
	"strings"
	"testing"
	"unicode"

	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/exp/golden"
	"github.com/stretchr/testify/require"
)

// letters tell how a cell is written; bold ones are capitals.
var letters = map[string]rune{"": '.', "38;5;160": 'r', "38;5;130": 'b', "38;5;28": 'g', "38;5;196": 'n'}

// inLetters is a frame with a letter for each cell that is written: r red, b brown, g green
// of the day (at night r is the line between columns), n the red of the night, a point for
// the terminal's own colour, + for its own in bold.
func inLetters(t *testing.T, frame string) string {
	t.Helper()
	var lines []string
	for _, line := range strings.Split(frame, "\n") {
		var b strings.Builder
		written(t, line, func(r rune, p pen) {
			letter, known := letters[p.ink]
			require.True(t, known, p.ink)
			switch {
			case r == ' ':
				letter = ' '
			case p.bold && p.ink == "":
				letter = '+'
			case p.bold:
				letter = unicode.ToUpper(letter)
			}
			b.WriteString(strings.Repeat(string(letter), ansi.StringWidth(string(r))))
		})
		lines = append(lines, strings.TrimRight(b.String(), " "))
	}
	return strings.Join(lines, "\n")
}

// TestThemesLookAsReviewed compares the seven screens with the pictures that were looked at:
// the words, which are the same in every theme (TestAllThemesSayTheSame), and how each theme
// writes them, letter below letter.
func TestThemesLookAsReviewed(t *testing.T) {
	screens := map[string]string{
		"1-ready": "ready", "2-passage": "passage legs", "3-stores": "stores", "4-rounds": "walk",
		"5-engine": "engine reading", "6-gear": "gear spares", "7-record": "record",
	}
	for file, name := range screens {
		for _, z := range []size{{80, 24}, {60, 20}, {200, 60}} {
			t.Run(fmt.Sprintf("%s-%dx%d", file, z.w, z.h), func(t *testing.T) {
				b := looked()[name](t).size(z.w, z.h)
				text := b.themed(Plain, Colours256).view()
				for _, theme := range []Theme{Plain, Day, Night} {
					text += fmt.Sprintf("\n\n=== %s\n%s", theme, inLetters(t, b.themed(theme, Colours256).m.View()))
				}
				golden.RequireEqual(t, text+"\n")
			})
		}
	}
}
