package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
)

// size is the cells a page has.
type size struct{ w, h int }

// facts is what every screen may know. Screens read it and never change it.
type facts struct {
	now         time.Time
	definitions checklist.Definitions
	entries     []checklist.Entry
	state       checklist.State
	assessment  checklist.Assessment
	history     []checklist.Entry // every page; nil: not read
	waiting     int               // acts asked for that are not on the disk
	filesWrong  string            // why the boat's files could not be read again
	by          string            // who is at the screen; "" not told
	page        size              // of the page as it is drawn now
	look        look
}

// zone is the departure's offset, in which moments are shown.
func (f facts) zone() *time.Location {
	if f.definitions.Plan.Depart.IsZero() {
		return f.now.Location()
	}
	return f.definitions.Plan.Depart.Location()
}

// press is one key. rest: it came in one message behind another, faster than a
// person presses.
type press struct {
	tea.KeyMsg
	rest bool
}

// A screen is one page. It holds what only the page needs: a cursor, a question.
type screen interface {
	update(facts, press) (screen, []action)
	view(facts, size) string
	bindings(facts) []bound   // in help order; those that cannot be used now say why
	refreshed(facts) screen   // the facts have changed
	aim(facts, target) screen // somebody was sent here
	isTyping() bool           // a line is typed: single letters are text
	unsaved() bool            // something typed would be lost by leaving
}

// target is what a screen is asked to show; all zero: nothing.
type target struct {
	check string // its id
	tank  string
	food  string
}

// An action is what a screen asks of the model.
type action any

type (
	recordEntry struct{ wish wish }
	openScreen  struct{ name screenName }
	openAt      struct {
		name screenName
		at   target
	}
	closeScreen struct{} // leave the program
	say         struct{ text string }
	holdKey     struct{ key string }   // it answered: it must be let go before it answers again
	moveDepart  struct{ to time.Time } // zero: as the files have it
	readFiles   struct{}
	readHistory struct{}
)

// screenName names a screen by the key that opens it.
type screenName string

// The screens there are.
const (
	readyScreen  screenName = "1"
	storesScreen screenName = "3"
	roundsScreen screenName = "4"
	recordScreen screenName = "7"
)

var screenNames = []screenName{readyScreen, storesScreen, roundsScreen, recordScreen}

func (n screenName) title() string {
	return map[screenName]string{readyScreen: "Ready", storesScreen: "Stores", roundsScreen: "Rounds", recordScreen: "Record"}[n]
}
