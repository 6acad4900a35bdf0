//go:build panicking

package main

import tea "github.com/charmbracelet/bubbletea"

// Built so, the program panics in Update at F12: for the test that work survives
// it.
func init() {
	wrap = func(m tea.Model) tea.Model { return panicking{m} }
}

type panicking struct{ tea.Model }

func (p panicking) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if key, ok := msg.(tea.KeyMsg); ok && key.Type == tea.KeyF12 {
		panic("F12 was pressed in a program built to panic at it")
	}
	_, cmd := p.Model.Update(msg) // the dashboard is one and the same
	return p, cmd
}
