package tui

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"
)

// Theme is the colours of the screens. Colour is never the only sign of anything.
type Theme int

// The themes.
const (
	Day   Theme = iota // a few colours, to be read on white and on black
	Night              // one dark red for everything, for eyes that are used to the dark
	Plain              // none; bold stays
)

var themeNames = []string{"day", "night", "none"}

// String is the theme's name, as it is typed.
func (t Theme) String() string { return themeNames[t] }

// ParseTheme reads a theme's name.
func ParseTheme(name string) (Theme, error) {
	i := slices.Index(themeNames, name)
	if i < 0 {
		return Day, fmt.Errorf("there is no theme %q", name)
	}
	return Theme(i), nil
}

// Colours is how many the terminal has.
type Colours int

// The numbers of colours.
const (
	NoColours  Colours = iota // every theme then looks as Plain does
	Colours16                 // the Linux console and old terminals; each says itself what they are
	Colours256                // of which 16 to 255 are the same everywhere
	TrueColour
)

// turnTheme takes the next theme, and says so.
func (m Model) turnTheme() (Model, tea.Cmd) {
	m.theme = (m.theme + 1) % Theme(len(themeNames))
	m.facts.look.styles = stylesFor(m.theme, m.settings.Colours)
	said := fmt.Sprintf("theme: %s. %s: %s", m.theme, keys.Theme.Help().Key, (m.theme+1)%Theme(len(themeNames)))
	if m.settings.Colours == NoColours && m.theme != Plain {
		said = fmt.Sprintf("theme: %s, but this terminal tells of no colours, and it looks as none does; CLICOLOR_FORCE=1 says that it has them", m.theme)
	}
	m.said = []string{said}
	return m.keepTheme()
}

// keepTheme has the theme remembered, one at a time: two at once might come down in any
// order.
func (m Model) keepTheme() (Model, tea.Cmd) {
	if m.settings.Remember == nil || m.keeping || m.theme == m.kept {
		return m, nil
	}
	m.keeping = true
	theme, remember := m.theme, m.settings.Remember
	return m, guarded("remembering the theme", func() tea.Msg { return themeKeptMsg{theme, remember(theme)} })
}

// themeKept goes on with what was chosen meanwhile. That it could not be remembered is said,
// and stops nothing.
func (m Model) themeKept(msg themeKeptMsg) (Model, tea.Cmd) {
	m.keeping, m.kept = false, msg.theme
	if msg.err != nil {
		m.said = append(slices.Clone(m.said), "the theme is not remembered for the next time: "+msg.err.Error())
	}
	return m.keepTheme()
}

// keepLast remembers a theme that was chosen just before leaving: its command may have been
// abandoned.
func (m Model) keepLast() {
	if m.settings.Remember != nil && m.theme != m.kept {
		_ = m.settings.Remember(m.theme) // nobody is left to tell, and nothing of the boat hangs on it
	}
}
