package main

import (
	"errors"
	"os"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"github.com/spf13/pflag"

	"boat/hoveshort/checklist"
	"boat/hoveshort/tui"
)

// rootOptions are the flags of the program without a command.
type rootOptions struct {
	json, ascii bool
	plain       bool
	mouse       bool
	theme       string
}

func (o *rootOptions) flags(f *pflag.FlagSet) {
	f.BoolVar(&o.json, "json", false, "no screens: the readiness report as JSON")
	f.BoolVar(&o.ascii, "ascii", false, "screens in plain ASCII")
	f.BoolVar(&o.plain, "plain", false, "no screens: line by line, for a screen reader, a slow line or a pipe")
	f.BoolVar(&o.mouse, "mouse", false, "the wheel moves the cursor; text is then marked with Shift held, in most terminals")
	f.StringVar(&o.theme, "theme", "", "`colours` of the screens: day, night or none; T changes them")
}

// runScreens shows the screens until the skipper leaves or a signal comes.
func runScreens(c *call, opts rootOptions) error {
	theme, err := c.theme(opts)
	if err != nil {
		return err
	}
	a, err := c.aboard()
	if err != nil {
		return err
	}
	m, err := a.load()
	if err != nil {
		return err
	}
	settings := a.screens()
	settings.Entries, settings.Notices = m.entries, m.notices
	settings.Theme, settings.Colours, settings.Glyphs = theme, c.colours(), c.glyphs(opts)
	settings.Mouse = opts.mouse
	remember, notice := c.remembers(a.isDemo, opts, theme)
	if settings.Remember = remember; notice != "" {
		settings.Notices = append(settings.Notices, notice)
	}
	in, inIsFile := c.stdin.(*os.File)
	out, outIsFile := c.stdout.(*os.File)
	if !inIsFile || !outIsFile {
		return usage("hoveshort ready", "the screens want a terminal")
	}
	c.collectGarbage(often)
	c.onScreen.Store(true)
	return ended(tui.Run(c.ctx, settings, in, out))
}

// ended gives what the screens ended with its exit code.
func ended(err error) error {
	var exit *tui.ExitError
	if errors.As(err, &exit) {
		return &problem{code: exit.Code, says: exit.Error(), err: err}
	}
	return err
}

// screens is what the screens are given of the boat: the same doors as the commands'.
func (a *aboard) screens() tui.Settings {
	return tui.Settings{
		Definitions: a.definitions(), Banner: a.banner, Clock: a.clock, By: a.by,
		Append: func(decide func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error) {
			w, err := a.append(func(m moment) (checklist.Act, error) { return signedAt(m, decide) })
			return w.entries, w.notices, err
		},
		Reload: func() (checklist.Definitions, []checklist.Entry, error) {
			if err := a.reload(); err != nil {
				return checklist.Definitions{}, nil, err
			}
			loaded, err := a.entries()
			return a.definitions(), loaded.Entries, err
		},
		History: func() ([]checklist.Entry, error) {
			defer debug.FreeOSMemory() // reading years leaves three times what is kept; it runs beside the screens
			loaded, err := a.store.LoadAll()
			if a.until == nil {
				return loaded.Entries, err
			}
			later := func(e checklist.Entry) bool { return e.At.After(*a.until) }
			return slices.DeleteFunc(loaded.Entries, later), err
		},
		Review: a.reviewOf,
	}
}

// signedAt is what the screens decide. They do so by their own clock, and the entry bears
// the one of the lock: a sign-off is frozen again at its entry's time, or it could not be
// computed again from it.
func signedAt(m moment, decide func([]checklist.Entry) (checklist.Act, error)) (checklist.Act, error) {
	act, err := decide(m.entries)
	sign, signs := act.(checklist.Sign)
	if err != nil || !signs {
		return act, err
	}
	if sign.Definitions != m.definitions.Sum {
		return nil, errChanged()
	}
	var depart time.Time
	if sign.Moved {
		depart = sign.Depart
	}
	return freeze(m, sign.Name, depart)
}

// glyphs are the characters that the terminal has. The old ones, vt100 and the like, have
// no more than ASCII, whatever the locale.
func (c *call) glyphs(opts rootOptions) tui.Glyphs {
	switch term := c.getenv("TERM"); {
	case opts.ascii || !c.isUTF8() || strings.HasPrefix(term, "vt"):
		return tui.ASCII
	case term == "linux":
		return tui.Box
	}
	return tui.Unicode
}
