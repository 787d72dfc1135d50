package tui

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"boat/hoveshort/checklist"
	"boat/hoveshort/config"
)

// demoModel is the demo boat on the evening before she leaves, at 80x24.
func demoModel(b *testing.B, now *time.Time) Model {
	b.Helper()
	folder, err := config.Load(config.Demo())
	require.NoError(b, err)
	m := New(Settings{
		Definitions: folder.Definitions, Clock: func() time.Time { return *now }, Theme: Plain,
		Append: func(func([]checklist.Entry) (checklist.Act, error)) ([]checklist.Entry, []string, error) {
			return nil, nil, nil
		},
	})
	m.timer = func(wait) tea.Cmd { return nil }
	return m
}

// BenchmarkPassage is what a key costs on screen 2 until it is drawn, view by view: one
// that moves, the one that opens the screen, and a minute that passed, plain and tried.
func BenchmarkPassage(b *testing.B) {
	now := config.DemoMoment
	press := func(m Model, name string) Model {
		next, _ := m.Update(keyMsg(name))
		return next.(Model)
	}
	opened := press(demoModel(b, &now), "2")
	shown := opened
	for v := range views {
		b.Run("a key in "+v.title(), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_ = press(shown, "j").View()
			}
		})
		shown = press(shown, "right")
	}
	b.Run("opening it", func(b *testing.B) {
		for b.Loop() {
			_ = press(opened, "2").View()
		}
	})
	b.Run("a minute", func(b *testing.B) {
		for b.Loop() {
			next, _ := opened.Update(minutePassedMsg{})
			_ = next.View()
		}
	})
	trying := opened
	for _, key := range []string{"t", "enter", "3", "enter"} {
		trying = press(trying, key)
	}
	require.False(b, trying.trial.IsEmpty())
	b.Run("a minute while trying", func(b *testing.B) {
		for b.Loop() {
			next, _ := trying.Update(minutePassedMsg{})
			_ = next.View()
		}
	})
}
