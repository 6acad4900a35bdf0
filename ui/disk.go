package ui

import (
	"errors"
	"io/fs"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
)

// A saving is a text on its way to a file, and what waits for it to be there.
type saving struct {
	path, text string
	copies     string // the folder of recovery copies
	then       func() tea.Cmd
}

// savedMsg tells how a saving went.
type savedMsg struct {
	saving
	done file.Saved
	err  error
	gone bool // the file the build was read from was not there any more
}

// errThere says that a file stands where a new one was to be written.
var errThere = errors.New("there is a file already")

// savingTo is the present text on its way to a path.
func (s *session) savingTo(path string, then func() tea.Cmd) saving {
	return saving{path, s.Text(), s.keep.folder, then}
}

// wasSaved takes how a saving went: the file is the document's own from now on, and
// its recovery copy goes.
func (s *session) wasSaved(msg savedMsg) tea.Cmd {
	s.notSaved = msg.err != nil
	if s.notSaved {
		if msg.gone {
			s.saved = "" // nothing of it is on the disk
		}
		return nil
	}
	cmd := s.keep.remove()
	s.path, s.saved, s.stamp = msg.path, s.doc.Reopen(msg.text).Text, msg.done.Stamp
	s.keep.of(msg.path)
	return cmd
}

// saveFile writes over the file a build was read from, unless that has changed
// since; one that is gone is written anew.
func saveFile(s saving, known file.Stamp) tea.Cmd {
	return func() tea.Msg {
		gone := isGone(s.path)
		if gone {
			known = file.Stamp{}
		}
		done, err := file.SaveOver(s.path, s.text, known, s.copies)
		return savedMsg{s, done, err, gone}
	}
}

// isGone says whether there is nothing at a path.
func isGone(path string) bool {
	_, err := os.Stat(path)
	return errors.Is(err, fs.ErrNotExist)
}

// saveNew writes a file that must not be there yet.
func saveNew(s saving) tea.Cmd {
	return func() tea.Msg {
		if info, err := os.Stat(s.path); err == nil && info.IsDir() {
			return savedMsg{saving: s, err: errors.New("this is a folder: name a file in it")}
		}
		done, err := file.SaveOver(s.path, s.text, file.Stamp{}, s.copies)
		if errors.Is(err, file.ErrChangedOnDisk) {
			err = errThere
		}
		return savedMsg{saving: s, done: done, err: err}
	}
}

// overwrite writes a file, whatever is there.
func overwrite(s saving) tea.Cmd {
	return func() tea.Msg {
		done, err := file.Save(s.path, s.text, s.copies)
		return savedMsg{saving: s, done: done, err: err}
	}
}

// openedMsg brings a file that was read.
type openedMsg struct {
	file file.File
	err  error
}

// openFile reads a build and looks for unsaved work on it.
func openFile(path, copies string) tea.Cmd {
	return func() tea.Msg {
		file, err := file.OpenFile(path, copies)
		if err == nil && file.Fresh && len(file.Found) == 0 {
			err = errors.New("there is no such file")
		}
		return openedMsg{file, err}
	}
}

// listedMsg brings what is in a folder.
type listedMsg struct {
	folder  string
	entries []file.Entry
	part    bool // there are others
	err     error
}

// listFolder lists the builds of a folder.
func listFolder(folder string) tea.Cmd {
	return func() tea.Msg {
		entries, whole, err := file.ListBuilds(folder)
		return listedMsg{folder, entries, !whole, err}
	}
}
