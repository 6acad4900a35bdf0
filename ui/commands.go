package ui

import (
	"errors"
	"io/fs"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// saveFile writes a text over the file it was read from, unless that has
// changed since; one that is gone is written anew.
func saveFile(path, text string, known model.Stamp) tea.Cmd {
	return func() tea.Msg {
		if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
			return overwrite(path, text)()
		}
		stamp, err := model.SaveOver(path, text, known)
		return savedMsg{path, text, stamp, err}
	}
}

// saveNew writes a text to a file that must not be there yet.
func saveNew(path, text string) tea.Cmd {
	return func() tea.Msg {
		if _, err := os.Lstat(path); err == nil {
			return savedMsg{path: path, text: text, err: errThere}
		}
		return overwrite(path, text)()
	}
}

// overwrite writes a text to a file, whatever is there.
func overwrite(path, text string) tea.Cmd {
	return func() tea.Msg {
		if err := model.Save(path, text); err != nil {
			return savedMsg{path: path, text: text, err: err}
		}
		stamp, err := model.StampOf(path)
		return savedMsg{path, text, stamp, err}
	}
}

// openFile reads a build.
func openFile(path string) tea.Cmd {
	return func() tea.Msg {
		stamp, err := model.StampOf(path)
		if err != nil {
			return openedMsg{err: err}
		}
		text, err := os.ReadFile(path)
		return openedMsg{path, string(text), stamp, err}
	}
}

// listFolder lists the builds of a folder.
func listFolder(folder string) tea.Cmd {
	return func() tea.Msg {
		entries, err := model.ListBuilds(folder)
		return listedMsg{folder, entries, err}
	}
}
