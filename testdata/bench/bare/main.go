// Bare is the least that Bubble Tea can do: a page of text that changes with every key. The benchmarks hold the program
// against it.
package main

import (
	"fmt"
	"os"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	_ "boat/hoveshort/tui/quiet" // it asks the terminal nothing either: no advantage for us
)

// page counts the keys, so that each draws something.
type page struct{ keys int }

func (p page) Init() tea.Cmd { return nil }

func (p page) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, is := msg.(tea.KeyMsg); is {
		if key.String() == "q" {
			return p, tea.Quit
		}
		p.keys++
	}
	return p, nil
}

// View has as many lines as a terminal of 24.
func (p page) View() string {
	return fmt.Sprintf("bare, key %d", p.keys) + strings.Repeat("\nnothing", 23)
}

func main() {
	if _, err := tea.NewProgram(page{}, tea.WithAltScreen()).Run(); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
