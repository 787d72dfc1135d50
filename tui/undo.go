package tui

import (
	"fmt"

	tea "github.com/charmbracelet/bubbletea"

	"boat/hoveshort/checklist"
)

// wishTakeBack takes the last act back: the one that was the last when the key was pressed, and no other.
type wishTakeBack struct {
	seq   int
	named string // its number and its words
	by    string
}

func (w wishTakeBack) act(k known) (checklist.Act, error) {
	return checklist.NewTakingBack(k.definitions, k.entries, w.by, w.seq, "")
}

func (w wishTakeBack) words() string { return "the taking back of " + w.named }

// written is what is said of it once the correction is on the disk.
func (w wishTakeBack) written(seq int) string {
	return fmt.Sprintf("taken back: %s; entry %d says so", w.named, seq)
}

// takeBack takes the last act back, without a question: the correction can be corrected. Another person's act is named
// first, and taken back when the key is pressed again.
func (m Model) takeBack(p press) (Model, tea.Cmd) {
	if p.rest {
		return m, nil
	}
	w, why := m.lastAct()
	if why != "" {
		m.said = []string{why}
		return m, nil
	}
	held, wait := m.held.answered(p.String())
	m.held = held
	last, _ := checklist.LastAct(m.facts.entries)
	if last.By != "" && last.By != m.facts.by && m.named != last.Seq {
		m.named = last.Seq
		m.said = []string{"the last act is another's: " + w.named + ". Z again takes it back"}
		return m, m.timer(wait)
	}
	m, cmd := m.enqueue(w)
	return m, tea.Batch(cmd, m.timer(wait))
}

// lastAct is the act that Z would take back now, or why it takes none.
func (m Model) lastAct() (w wishTakeBack, whyNot string) {
	switch {
	case m.screen().unsaved():
		return w, "finish, or leave, what is asked here; then Z takes the last act back"
	case len(m.queue) > 0:
		return w, "the last act is not on the disk yet: look, then press Z again"
	}
	last, _ := checklist.LastAct(m.facts.entries)
	w = wishTakeBack{seq: last.Seq, named: m.facts.definitions.ActNamed(last), by: m.facts.by}
	if last.Seq == 0 {
		return w, "not taken back: nothing of the open page of the record is left"
	}
	if err := m.facts.try(w); err != nil {
		return w, "not taken back: " + err.Error()
	}
	return w, ""
}
