// Package tui is the screens: it draws an Assessment and asks for acts. It opens no
// file, knows no clock of its own, and decides nothing about the gate.
//
// Words: a screen is one page with its own cursor; a wish is an act that was asked
// for and is not on the disk yet; a question is a line that the skipper types.
//
//	err := tui.Run(ctx, tui.Settings{Definitions: d, Entries: e, Clock: time.Now, Append: …}, os.Stdin, os.Stdout)
package tui

import (
	"time"

	"boat/hoveshort/checklist"
)

// Settings is what the screens need from outside.
type Settings struct {
	Definitions checklist.Definitions
	Entries     []checklist.Entry
	Notices     []string         // said once at the start
	Banner      string           // stays on the screen; "" none
	Clock       func() time.Time // asked once a message

	// Append decides under the record's lock and returns all entries after it. An
	// error that decide did not give means that the entry is not on the disk.
	Append func(decide func([]checklist.Entry) (checklist.Act, error)) (entries []checklist.Entry, notices []string, err error)

	// Reload reads the boat's files and the record again.
	Reload func() (checklist.Definitions, []checklist.Entry, error)

	// History is every page of the record, for past sign-offs.
	History func() ([]checklist.Entry, error)

	// Review holds a passage, by the number of its sign-off or departure, against what came of it.
	Review func(number int) (checklist.PassageReview, []checklist.Proposal, error)

	// Remember keeps a theme that a key chose for the next time; nil: none is remembered.
	Remember func(Theme) error

	By      string // who is at the screen, where more than one is aboard; "" not told
	Theme   Theme
	Colours Colours
	Glyphs  Glyphs
	Mouse   bool // the wheel moves the cursor; the terminal then marks no text by itself
}

// Glyphs is which characters the terminal has.
type Glyphs int

// The sets of glyphs.
const (
	Unicode Glyphs = iota
	Box            // the Linux console's own fonts
	ASCII          // nothing but ASCII
)
