package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
	"unicode/utf8"

	"boat/hoveshort/config"
)

// place is the boat folder that was found, and the clock that goes with it.
type place struct {
	dir    string
	isDemo bool
	clock  func() time.Time
	until  *time.Time // --at; nil: the clock runs
	banner string     // what is to be said of it; "": nothing
}

// place looks up the boat folder: --boat, $HOVESHORT_BOAT, the XDG data folder where it
// holds a boat, else the demo boat in a throw-away folder.
func (c *call) place() (place, error) {
	if err := c.checkBy(); err != nil {
		return place{}, err
	}
	at, err := c.moment()
	if err != nil {
		return place{}, err
	}
	if c.home != nil {
		return c.atHome(at)
	}
	p := place{until: at, clock: c.now}
	if named, by := c.named(); named != "" {
		p.dir, err = c.ownFolder(named, by)
	} else if p.dir = c.dataFolder(); p.dir == "" {
		p.isDemo = true
		p.dir, err = c.demoFolder()
		p.clock = c.demoClock()
	}
	if err != nil {
		return place{}, err
	}
	if at != nil {
		p.clock = func() time.Time { return *at }
	}
	if p.isDemo {
		p.banner = demoBanner(at)
		c.say("hoveshort: %s", p.banner)
	}
	return p, nil
}

// checkBy refuses a name that could drive a terminal: it stands in the record for ever.
func (c *call) checkBy() error {
	const longest = 100
	if utf8.RuneCountInString(c.by) > longest || !utf8.ValidString(c.by) || strings.ContainsFunc(c.by, drivesTerminal) {
		return usage("write a name, without control characters", "--by: %q is no name", clean(cut(c.by, longest), true))
	}
	return nil
}

func (c *call) named() (folder, by string) {
	if c.boat != "" {
		return c.boat, "--boat"
	}
	return c.getenv("HOVESHORT_BOAT"), "HOVESHORT_BOAT"
}

// ownFolder is a folder that was named; it must be there.
func (c *call) ownFolder(named, by string) (string, error) {
	dir := c.path(named)
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "", coded(exitUnreadable, "make one with: hoveshort init "+named, fmt.Errorf("there is no boat folder %s (%s)", named, by))
	case err != nil:
		return "", coded(exitUnreadable, "", fmt.Errorf("looking at the boat folder (%s): %w", by, err))
	case !info.IsDir():
		return "", coded(exitUnreadable, "name the folder that holds boat.toml", fmt.Errorf("%s is no folder (%s)", named, by))
	}
	return dir, nil
}

// path is a name as it was typed in the working folder.
func (c *call) path(name string) string {
	if filepath.IsAbs(name) {
		return name
	}
	return filepath.Join(c.dir, name)
}

// dataFolder is the user's own boat, "" where there is none.
func (c *call) dataFolder() string {
	dir := c.dataPlace()
	if dir == "" {
		return ""
	}
	if _, err := os.Stat(filepath.Join(dir, "boat.toml")); err != nil {
		return ""
	}
	return dir
}

// demoFolder is a copy of the demo boat that goes when the program ends.
func (c *call) demoFolder() (string, error) {
	dir, err := os.MkdirTemp("", "hoveshort-demo-")
	if err != nil {
		return "", coded(exitNotWritten, "name a boat folder with --boat", fmt.Errorf("making a throw-away folder for the demo boat: %w", err))
	}
	c.atEnd(func() { _ = os.RemoveAll(dir) }) // what cannot be removed lies in the temporary folder
	if err := config.Init(dir, config.Demo()); err != nil {
		return "", coded(exitNotWritten, "name a boat folder with --boat", err)
	}
	return dir, nil
}

// demoClock begins at the demo's evening and runs on from there.
func (c *call) demoClock() func() time.Time {
	begun := c.now()
	return func() time.Time { return config.DemoMoment.Add(c.now().Sub(begun)) }
}

func demoBanner(at *time.Time) string {
	const day = "2 Jan 2006 15:04" // the whole must fit a line of a screen
	clock := "her clock from " + config.DemoMoment.Format(day)
	if at != nil {
		clock = "her clock at " + at.Format(day)
	}
	return "demo boat, not kept; " + clock + "; yours: hoveshort init DIR"
}

// moment is --at; nil: it was not given.
func (c *call) moment() (*time.Time, error) {
	if c.at == "" {
		return nil, nil
	}
	t, err := parseMoment(c.at)
	if err != nil {
		return nil, fmt.Errorf("--at: %w", err)
	}
	return &t, nil
}

// parseMoment reads RFC 3339, the seconds left out if one likes. It must have its offset.
func parseMoment(text string) (time.Time, error) {
	const cure = "write it with its offset, like 2026-10-18T17:30+13:00"
	for _, layout := range []string{time.RFC3339, "2006-01-02T15:04Z07:00"} {
		t, err := time.Parse(layout, strings.TrimSpace(text))
		if err == nil && !t.IsZero() {
			return t, nil
		}
	}
	return time.Time{}, usage(cure, "%.60q is no time", text)
}

// How moments are shown: within a passage, and where the year and the offset matter.
const (
	shortMoment = "Mon 2 Jan 15:04"
	longMoment  = "2 Jan 2006 15:04 -07:00"
)
