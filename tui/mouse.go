package tui

import (
	tea "github.com/charmbracelet/bubbletea"
)

// wheel moves the cursor as the keys up and down do, one line a notch, where the mouse was asked for. It does nothing
// else, and nothing at all where something is asked: a wheel that is brushed against answers no question.
func (m Model) wheel(msg tea.MouseMsg) (Model, tea.Cmd) {
	if !m.settings.Mouse || msg.Action != tea.MouseActionPress {
		return m, nil
	}
	if m.isTyping() || m.screen().unsaved() || m.leaving != staying {
		return m, nil
	}
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		return m.key(press{KeyMsg: tea.KeyMsg{Type: tea.KeyUp}})
	case tea.MouseButtonWheelDown:
		return m.key(press{KeyMsg: tea.KeyMsg{Type: tea.KeyDown}})
	}
	return m, nil
}

// mouse asks the terminal for the mouse where the skipper did: otherwise text is marked and copied as ever.
func mouse(s Settings) []tea.ProgramOption {
	if !s.Mouse {
		return nil
	}
	return []tea.ProgramOption{tea.WithMouseCellMotion()}
}
