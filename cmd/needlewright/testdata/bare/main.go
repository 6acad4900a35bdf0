// Command bare is the least that Bubble Tea does with a key: the floor against
// which the benchmarks measure needlewright. It counts keys and ends at q.
package main

import (
	"fmt"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	_ "example.com/needlewright/ui/early" // it asks the terminal nothing either
)

type count int

func (c count) Init() tea.Cmd { return nil }

func (c count) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, ok := msg.(tea.KeyMsg); ok {
		if key.String() == "q" {
			return c, tea.Quit
		}
		c++
	}
	return c, nil
}

func (c count) View() string { return fmt.Sprintf("keys: %d", int(c)) }

func main() {
	const most = 120 // frames a second that Bubble Tea makes
	if _, err := tea.NewProgram(count(0), tea.WithAltScreen(), tea.WithFPS(most)).Run(); err != nil {
		os.Exit(1)
	}
}
