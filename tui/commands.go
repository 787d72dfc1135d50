package tui

import (
	"errors"
	"fmt"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
)

// guarded is a command that cannot take the screen down with it.
func guarded(name string, run func() tea.Msg) tea.Cmd {
	return func() (msg tea.Msg) {
		defer func() {
			if r := recover(); r != nil {
				msg = commandPanickedMsg{fmt.Sprintf("%s: %v", name, r)}
			}
		}()
		return run()
	}
}

// wait is a message that is wanted after a time.
type wait struct {
	length time.Duration
	msg    tea.Msg
}

// untilMinute is the time until the minute on the clock changes.
func untilMinute(now time.Time) wait {
	return wait{now.Truncate(time.Minute).Add(time.Minute).Sub(now), minutePassedMsg{}}
}

// waitFor gives the message once the time is over.
func waitFor(w wait) tea.Cmd {
	return tea.Tick(w.length, func(time.Time) tea.Msg { return w.msg })
}

// readAgain reads the boat's files and the record.
func readAgain(read func() (checklist.Definitions, []checklist.Entry, error)) tea.Cmd {
	return guarded("reading the boat's files", func() tea.Msg {
		d, entries, err := read()
		return filesReadMsg{d, entries, err}
	})
}

// readPages reads the whole record.
func readPages(read func() ([]checklist.Entry, error)) tea.Cmd {
	return guarded("reading the record", func() tea.Msg {
		entries, err := read()
		return historyReadMsg{entries, err}
	})
}

// readReviewOf reads a passage and holds it against what came of it.
func readReviewOf(read func(int) (checklist.PassageReview, []checklist.Proposal, error), number int) tea.Cmd {
	return guarded("reading the passage", func() tea.Msg {
		review, proposals, err := read(number)
		return reviewReadMsg{number, review, proposals, err}
	})
}

// writeEntry writes one wish, unless somebody else took it in hand.
func writeEntry(w *writer, p pending, d checklist.Definitions, now time.Time) tea.Cmd {
	return func() tea.Msg {
		entries, notices, err, taken := w.write(p, d, now)
		var refused refusal
		switch {
		case !taken:
			return nil
		case errors.As(err, &refused):
			return entryRefusedMsg{p.id, refused.err}
		case err != nil:
			return entryFailedMsg{p.id, err}
		}
		return entryWrittenMsg{p.id, entries, notices}
	}
}
