package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/tui"
)

// callWith is a call in an environment.
func callWith(variables map[string]string) *call {
	return &call{env: env{getenv: func(name string) string { return variables[name] }}}
}

// The order: --theme, HOVESHORT_THEME, NO_COLOR (no-color.org: set and not empty) or CLICOLOR=0, the one that is
// remembered, day. CLICOLOR_FORCE outweighs CLICOLOR=0 (bixense.com/clicolors), not NO_COLOR.
func TestTheThemeIsTheFirstThatSays(t *testing.T) {
	state := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(state, "hoveshort"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(state, "hoveshort", "theme"), []byte("night\n"), 0o600))
	for _, c := range []struct {
		name      string
		flag      string
		variables map[string]string
		want      tui.Theme
	}{
		{"nothing says", "", nil, tui.Day},
		{"remembered", "", map[string]string{"XDG_STATE_HOME": state}, tui.Night},
		{"a relative folder is ignored", "", map[string]string{"XDG_STATE_HOME": "state"}, tui.Day},
		{"NO_COLOR before what is remembered", "", map[string]string{"XDG_STATE_HOME": state, "NO_COLOR": "1"}, tui.Plain},
		{"an empty NO_COLOR says nothing", "", map[string]string{"XDG_STATE_HOME": state, "NO_COLOR": ""}, tui.Night},
		{"CLICOLOR=0", "", map[string]string{"CLICOLOR": "0"}, tui.Plain},
		{"CLICOLOR_FORCE outweighs it", "", map[string]string{"CLICOLOR": "0", "CLICOLOR_FORCE": "1"}, tui.Day},
		{"but not NO_COLOR", "", map[string]string{"NO_COLOR": "1", "CLICOLOR_FORCE": "1"}, tui.Plain},
		{"the variable before NO_COLOR", "", map[string]string{"HOVESHORT_THEME": "night", "NO_COLOR": "1"}, tui.Night},
		{"the flag before all", "day", map[string]string{"HOVESHORT_THEME": "night", "NO_COLOR": "1"}, tui.Day},
	} {
		got, err := callWith(c.variables).theme(rootOptions{theme: c.flag})
		require.NoError(t, err, c.name)
		assert.Equal(t, c.want, got, c.name)
	}
	for _, opts := range []rootOptions{{theme: "red"}} {
		_, err := callWith(nil).theme(opts)
		assert.ErrorContains(t, err, `--theme: there is no theme "red"`)
	}
	_, err := callWith(map[string]string{"HOVESHORT_THEME": "dark"}).theme(rootOptions{})
	assert.ErrorContains(t, err, `HOVESHORT_THEME: there is no theme "dark"`)
}

func TestTheThemeIsRememberedWhereItCanBe(t *testing.T) {
	home := t.TempDir()
	c := callWith(map[string]string{"HOME": home})
	keep, notice := c.remembers(false, rootOptions{}, tui.Day)
	require.Empty(t, notice)
	assert.NoDirExists(t, filepath.Join(home, ".local"), "nothing is written that nobody chose")
	require.NoError(t, keep(tui.Night))
	got, err := c.theme(rootOptions{})
	require.NoError(t, err)
	assert.Equal(t, tui.Night, got)

	_, notice = c.remembers(false, rootOptions{theme: "none"}, tui.Plain)
	require.Empty(t, notice)
	got, _ = c.theme(rootOptions{})
	assert.Equal(t, tui.Plain, got, "the flag's is remembered too")

	keep, notice = c.remembers(true, rootOptions{theme: "night"}, tui.Night)
	assert.Nil(t, keep, "the demo boat remembers nothing")
	assert.Empty(t, notice)

	file := filepath.Join(home, ".local", "state", "hoveshort", "theme")
	require.NoError(t, os.WriteFile(file, []byte("purple\x1b[2J and much more than a theme"), 0o600))
	got, _ = c.theme(rootOptions{})
	assert.Equal(t, tui.Day, got, "what is no theme was never said")

	_, notice = callWith(nil).remembers(false, rootOptions{theme: "night"}, tui.Night)
	assert.Contains(t, notice, "the theme is not remembered for the next time")
}

// Terminals by their names, as terminfo has them: the Linux console and old ones, which the library does not know.
func TestColoursAndGlyphsAreThoseOfTheTerminal(t *testing.T) {
	for _, c := range []struct {
		term, locale string
		more         map[string]string
		colours      tui.Colours
		glyphs       tui.Glyphs
	}{
		{"xterm-256color", "C.UTF-8", nil, tui.Colours256, tui.Unicode},
		{"xterm-256color", "C.UTF-8", map[string]string{"COLORTERM": "truecolor"}, tui.TrueColour, tui.Unicode},
		{"xterm-256color", "C", nil, tui.Colours256, tui.ASCII},
		{"linux", "C.UTF-8", nil, tui.Colours16, tui.Box},
		{"linux", "C", nil, tui.Colours16, tui.ASCII},
		{"vt100", "C.UTF-8", nil, tui.NoColours, tui.ASCII},
		{"vt220", "C.UTF-8", nil, tui.NoColours, tui.ASCII},
		{"vt220", "C.UTF-8", map[string]string{"CLICOLOR_FORCE": "1"}, tui.Colours16, tui.ASCII},
		{"dumb", "C.UTF-8", nil, tui.NoColours, tui.Unicode},
		{"foot", "C.UTF-8", nil, tui.Colours16, tui.Unicode},
		{"tmux-256color", "C.UTF-8", nil, tui.Colours256, tui.Unicode},
	} {
		variables := map[string]string{"TERM": c.term, "LC_ALL": c.locale}
		for name, value := range c.more {
			variables[name] = value
		}
		got := callWith(variables)
		assert.Equal(t, c.colours, got.colours(), "%s %s %v", c.term, c.locale, c.more)
		assert.Equal(t, c.glyphs, got.glyphs(rootOptions{}), "%s %s", c.term, c.locale)
	}
	assert.False(t, env{stdinIsTerminal: true, stdoutIsTerminal: true, getenv: func(string) string { return "dumb" }}.hasScreen())
}
