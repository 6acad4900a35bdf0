package ui

import (
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// saveFile writes a text to a file, whole or not at all.
func saveFile(path, text string) tea.Cmd {
	return func() tea.Msg { return savedMsg{text, model.Save(path, text)} }
}
