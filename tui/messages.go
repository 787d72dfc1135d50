package tui

import (
	"boat/hoveshort/checklist"
)

// Messages are what comes from outside: facts, in the past tense.
type (
	// minutePassedMsg: time for another look.
	minutePassedMsg struct{}

	// entryWrittenMsg: the wish is an entry on the disk; these are all entries now.
	entryWrittenMsg struct {
		id      int
		entries []checklist.Entry
		notices []string
	}

	// entryRefusedMsg: the domain refused it; nothing was written.
	entryRefusedMsg struct {
		id  int
		err error
	}

	// entryFailedMsg: it should be on the disk and is not.
	entryFailedMsg struct {
		id  int
		err error
	}

	// filesReadMsg: the boat's files and the record were read again.
	filesReadMsg struct {
		definitions checklist.Definitions
		entries     []checklist.Entry
		err         error
	}

	// historyReadMsg: every page was read.
	historyReadMsg struct {
		entries []checklist.Entry
		err     error
	}

	// reviewReadMsg: a passage was held against what came of it.
	reviewReadMsg struct {
		number    int
		review    checklist.PassageReview
		proposals []checklist.Proposal
		err       error
	}

	// themeKeptMsg: the theme is remembered for the next time, or why it is not.
	themeKeptMsg struct {
		theme Theme
		err   error
	}

	// keySettledMsg: a held key's time is over, if nothing came since.
	keySettledMsg struct {
		answers, repeats int
	}

	// commandPanickedMsg: a command of ours failed in a way it must not.
	commandPanickedMsg struct{ what string }
)
