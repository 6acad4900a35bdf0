package ui

import (
	"errors"
	"io/fs"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
)

// saveFile writes over the file a build was read from, unless that has changed
// since; one that is gone is written anew.
func saveFile(s saving, known model.Stamp) tea.Cmd {
	return func() tea.Msg {
		if _, err := os.Stat(s.path); errors.Is(err, fs.ErrNotExist) {
			known = model.Stamp{}
		}
		stamp, err := model.SaveOver(s.path, s.text, known)
		return savedMsg{s, stamp, err}
	}
}

// saveNew writes a file that must not be there yet.
func saveNew(s saving) tea.Cmd {
	return func() tea.Msg {
		if info, err := os.Stat(s.path); err == nil && info.IsDir() {
			return savedMsg{saving: s, err: errors.New("this is a folder: name a file in it")}
		}
		stamp, err := model.SaveOver(s.path, s.text, model.Stamp{})
		if errors.Is(err, model.ErrChangedOnDisk) {
			err = errThere
		}
		return savedMsg{s, stamp, err}
	}
}

// overwrite writes a file, whatever is there.
func overwrite(s saving) tea.Cmd {
	return func() tea.Msg {
		if err := model.Save(s.path, s.text); err != nil {
			return savedMsg{saving: s, err: err}
		}
		stamp, err := model.StampOf(s.path)
		return savedMsg{s, stamp, err}
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
