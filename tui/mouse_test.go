package tui

import (
	"context"
	"errors"
	"io"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/creack/pty"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func notch(button tea.MouseButton) tea.MouseMsg {
	return tea.MouseMsg{Button: button, Action: tea.MouseActionPress, X: 3, Y: 3}
}

// withMouse is the screens with --mouse.
func (b *bench) withMouse() *bench {
	b.m.settings.Mouse = true
	return b
}

func TestTheWheelMovesTheCursorOneLineANotch(t *testing.T) {
	b, by := newBench(t, wanting()).withMouse(), newBench(t, wanting())
	start := b.m.View()
	assert.Equal(t, by.keys("down").m.View(), b.send(notch(tea.MouseButtonWheelDown)).m.View())
	assert.NotEqual(t, start, b.m.View(), "the cursor moved")
	assert.Equal(t, by.keys("down").m.View(), b.send(notch(tea.MouseButtonWheelDown)).m.View())
	assert.Equal(t, by.keys("up").m.View(), b.send(notch(tea.MouseButtonWheelUp)).m.View())

	here := b.m.View()
	released := notch(tea.MouseButtonWheelDown)
	released.Action = tea.MouseActionRelease
	for _, other := range []tea.MouseMsg{released, notch(tea.MouseButtonLeft), notch(tea.MouseButtonRight), notch(tea.MouseButtonWheelLeft)} {
		assert.Equal(t, here, b.send(other).m.View(), "%s", other)
	}
	assert.Empty(t, b.acts())
}

func TestWithoutItsFlagTheMouseDoesNothing(t *testing.T) {
	b := newBench(t, wanting())
	start := b.m.View()
	for _, button := range []tea.MouseButton{tea.MouseButtonWheelDown, tea.MouseButtonWheelUp, tea.MouseButtonLeft} {
		assert.Equal(t, start, b.send(notch(button)).m.View())
	}
}

func TestTheWheelAnswersNoQuestion(t *testing.T) {
	for name, keys := range map[string][]string{
		"a level is typed":    {"3", "s", "6"},
		"words are looked up": {"/", "i"},
		"a name is asked":     {"7", "s"},
		"a noon is told":      {"7", "n"},
	} {
		b := newBench(t, fitBoat()).withMouse().keys(keys...)
		asked := b.m.View()
		assert.Equal(t, asked, b.send(notch(tea.MouseButtonWheelUp)).send(notch(tea.MouseButtonWheelDown)).m.View(), name)
	}
	b := newBench(t, fitBoat()).withMouse().keys("3", "s", "6")
	b.send(notch(tea.MouseButtonWheelDown)).keys("2", " ", "%", "enter")
	assert.Len(t, b.acts(), 1, "what was typed stands")
}

// Reporting of the mouse is asked for by DECSET 1000, 1002, 1003 and 1006 (xterm's control sequences, from memory).
func TestOnlyTheFlagAsksTheTerminalForTheMouse(t *testing.T) {
	for _, asked := range []bool{false, true} {
		b := newBench(t, fitBoat())
		master, slave, err := pty.Open()
		require.NoError(t, err)
		require.NoError(t, pty.Setsize(slave, &pty.Winsize{Rows: 24, Cols: 80}))
		written := make(chan string, 1)
		go func() {
			seen, isLeft := "", false
			buffer := make([]byte, 4096)
			for {
				n, err := master.Read(buffer)
				seen += string(buffer[:n])
				if err != nil {
					written <- seen
					return
				}
				if !isLeft && strings.Contains(seen, "READY") {
					isLeft = true
					_, _ = io.WriteString(master, "\x03")
				}
			}
		}()
		s := b.m.settings
		s.Mouse = asked
		require.NoError(t, Run(context.Background(), s, slave, slave))
		require.NoError(t, slave.Close())
		text := <-written
		on := false
		for _, mode := range []string{"\x1b[?1000h", "\x1b[?1002h", "\x1b[?1003h", "\x1b[?1006h"} {
			on = on || strings.Contains(text, mode)
		}
		assert.Equal(t, asked, on)
		assert.Equal(t, asked, strings.Contains(text, "\x1b[?1002h"), "one mode: cell motion")
		_ = errors.Join(master.Close())
	}
}
