package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
	"boat/hoveshort/provisions"
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
	prospect    prospect          // only while screen 2 is shown
	engine      engineFacts       // only while screen 5 is shown
	gear        gearFacts         // only while screen 6 is shown
	stores      storesFacts       // only while screen 3 is shown
	history     []checklist.Entry // every page; nil: not read
	voyages     voyages           // only while screen 7 is shown
	waiting     int               // acts asked for that are not on the disk
	filesWrong  string            // why the boat's files could not be read again
	by          string            // who is at the screen; "" not told
	page        size              // of the page as it is drawn now
	beside      size              // of the second column beside it; no width: there is none
	look        look
}

// prospect is the passage as screen 2 tells it: as planned, or with what is tried.
type prospect struct {
	trial       checklist.Trial
	definitions checklist.Definitions
	assessment  checklist.Assessment
	outlook     provisions.Outlook
	isKnown     bool // false: screen 2 is not shown, and all but the trial is empty
}

// then is the moment that everything is reckoned from: the departure, or under way where she
// was last.
func (f facts) then() string {
	if f.assessment.Way != nil {
		return "as of " + f.assessment.Reckoning.Depart.In(f.zone()).Format(momentLayout)
	}
	return "at departure"
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
	check   string // its id
	tank    string
	food    string
	leg     int    // from 1
	whatIf  string // its name
	service string // its name
	defect  int    // its number
	spare   string // its name
	tool    string // its name
	dated   string // the name of gear with an end
	place   string // a path: of a locker, or of the lot of a food
	round   string // its name
	card    string // the sign of a fault card
	blocker string // as checklist.Blocker.ID has it
	caution string // as checklist.Caution.ID has it
	entry   int    // its number; of a passage that of its departure
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
	holdKey     struct{ key string }    // it answered: it must be let go before it answers again
	moveDepart  struct{ to time.Time }  // zero: as the files have it
	tryOut      struct{ change string } // written as checklist.Trial reads it: "crew = 3"
	dropTrial   struct{}
	readFiles   struct{}
	readHistory struct{}
	readReview  struct{ number int } // of the passage, as checklist.Sailed has it
)

// screenName names a screen by the key that opens it.
type screenName string

// The screens there are.
const (
	readyScreen   screenName = "1"
	passageScreen screenName = "2"
	storesScreen  screenName = "3"
	roundsScreen  screenName = "4"
	engineScreen  screenName = "5"
	gearScreen    screenName = "6"
	recordScreen  screenName = "7"
)

var screenNames = []screenName{readyScreen, passageScreen, storesScreen, roundsScreen, engineScreen, gearScreen, recordScreen}

func (n screenName) title() string {
	return map[screenName]string{readyScreen: "Ready", passageScreen: "Passage", storesScreen: "Stores", roundsScreen: "Rounds", engineScreen: "Engine", gearScreen: "Gear", recordScreen: "Record"}[n]
}
