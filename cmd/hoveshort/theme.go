package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/muesli/termenv"

	"boat/hoveshort/tui"
)

const anyTheme = "day, night or none"

// theme is the colours of the screens, by the first that says: --theme, HOVESHORT_THEME,
// NO_COLOR (no-color.org) or CLICOLOR=0, the one that is remembered; else day.
func (c *call) theme(opts rootOptions) (tui.Theme, error) {
	remembered, is := c.rememberedTheme()
	variable := c.getenv("HOVESHORT_THEME")
	switch {
	case opts.theme != "":
		return namedTheme("--theme", opts.theme)
	case variable != "":
		return namedTheme("HOVESHORT_THEME", variable)
	case c.wantsNoColour():
		return tui.Plain, nil
	case is:
		return remembered, nil
	}
	return tui.Day, nil
}

func namedTheme(by, name string) (tui.Theme, error) {
	theme, err := tui.ParseTheme(name)
	if err != nil {
		return theme, usage(by+" is "+anyTheme, "%s: there is no theme %.40q", by, name)
	}
	return theme, nil
}

// wantsNoColour says that the user wants no colours anywhere. CLICOLOR_FORCE outweighs
// CLICOLOR=0, and NO_COLOR both.
func (c *call) wantsNoColour() bool {
	return c.getenv("NO_COLOR") != "" || c.getenv("CLICOLOR") == "0" && !c.isColourForced()
}

func (c *call) isColourForced() bool {
	force := c.getenv("CLICOLOR_FORCE")
	return force != "" && force != "0"
}

// colours is how many the terminal has by its name. A theme that was asked for outweighs
// NO_COLOR, so that is not asked here.
func (c *call) colours() tui.Colours {
	named := termenv.NewOutput(io.Discard, termenv.WithTTY(true), termenv.WithEnvironment(variables(c.getenv)))
	switch named.ColorProfile() {
	case termenv.TrueColor:
		return tui.TrueColour
	case termenv.ANSI256:
		return tui.Colours256
	case termenv.ANSI:
		return tui.Colours16
	}
	if term := c.getenv("TERM"); c.isColourForced() || term != "" && term != "dumb" && !strings.HasPrefix(term, "vt") {
		return tui.Colours16 // foot, st, rxvt, screen …: the library knows them not, and they have as many
	}
	return tui.NoColours
}

// variables are the environment as the terminal library asks for it.
type variables func(string) string

// Environ is what the library never needs here.
func (variables) Environ() []string { return nil }

// Getenv is the value of a variable.
func (v variables) Getenv(name string) string { return v(name) }

// themeFile is where the theme is remembered: $XDG_STATE_HOME/hoveshort/theme, else
// ~/.local/state/hoveshort/theme (XDG Base Directory Specification 0.8: a relative path in
// the variable is ignored). "": there is no such place.
func (c *call) themeFile() string {
	state := c.getenv("XDG_STATE_HOME")
	if !filepath.IsAbs(state) {
		home := c.getenv("HOME")
		if !filepath.IsAbs(home) {
			return ""
		}
		state = filepath.Join(home, ".local", "state")
	}
	return filepath.Join(state, "hoveshort", "theme")
}

// rememberedTheme is what the file says; what cannot be read or is no theme was never said.
func (c *call) rememberedTheme() (theme tui.Theme, is bool) {
	name := c.themeFile()
	info, err := os.Stat(name)
	if err != nil || !info.Mode().IsRegular() {
		return tui.Day, false
	}
	file, err := os.Open(name)
	if err != nil {
		return tui.Day, false
	}
	defer func() { _ = file.Close() }()
	const longest = 16
	text, err := io.ReadAll(io.LimitReader(file, longest))
	if err != nil {
		return tui.Day, false
	}
	theme, err = tui.ParseTheme(strings.TrimSpace(string(text)))
	return theme, err == nil
}

// rememberTheme puts it into the file, whole or not at all.
func (c *call) rememberTheme(theme tui.Theme) error {
	name := c.themeFile()
	if name == "" {
		return errors.New("neither XDG_STATE_HOME nor HOME names a folder for it")
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o700); err != nil {
		return err
	}
	beside := name + ".new"
	if err := os.WriteFile(beside, []byte(theme.String()+"\n"), 0o600); err != nil {
		return err
	}
	return os.Rename(beside, name)
}

// remembers is what keeps the theme that a key chooses; nil for the demo boat, which keeps
// nothing. One that the flag chose is kept at once; notice says why it could not be.
func (c *call) remembers(isDemo bool, opts rootOptions, theme tui.Theme) (remember func(tui.Theme) error, notice string) {
	if isDemo {
		return nil, ""
	}
	if was, is := c.rememberedTheme(); opts.theme != "" && (!is || was != theme) {
		if err := c.rememberTheme(theme); err != nil {
			notice = "the theme is not remembered for the next time: " + err.Error()
		}
	}
	return c.rememberTheme, notice
}
