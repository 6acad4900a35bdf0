package session

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
)

// A Saving is a text on its way to a file, and what waits for it to be there.
type Saving struct {
	Path, Text string
	copies     string // the folder of recovery copies
	Then       func() tea.Cmd
}

// SavedMsg tells how a saving went.
type SavedMsg struct {
	Saving
	Done file.Saved
	Err  error
	gone bool // the file the build was read from was not there any more
}

// ErrThere says that a file stands where a new one was to be written.
var ErrThere = errors.New("there is a file already")

// savingTo is the present text on its way to a path.
func (s *Session) savingTo(path string, then func() tea.Cmd) Saving {
	return Saving{path, s.Text(), s.keep.folder, then}
}

// WasSaved takes how a saving went: the file is the document's own from now on, and
// its recovery copy goes.
func (s *Session) WasSaved(msg SavedMsg) tea.Cmd {
	s.NotSaved = msg.Err != nil
	if s.NotSaved {
		if msg.gone {
			s.Saved = "" // nothing of it is on the disk
		}
		return nil
	}
	cmd := s.keep.remove()
	s.Path, s.Saved, s.stamp = msg.Path, s.Doc.Reopen(msg.Text).Text, msg.Done.Stamp
	s.keep.of(msg.Path)
	return cmd
}

// Save returns the command that writes over the file the build was read from, unless that
// has changed since; one that is gone is written anew. then is what waits for it.
func (s *Session) Save(then func() tea.Cmd) tea.Cmd {
	saving, known := s.savingTo(s.Path, then), s.stamp
	return func() tea.Msg {
		gone := isGone(saving.Path)
		if gone {
			known = file.Stamp{}
		}
		done, err := file.SaveOver(saving.Path, saving.Text, known, saving.copies)
		return SavedMsg{saving, done, err, gone}
	}
}

// isGone says whether there is nothing at a path.
func isGone(path string) bool {
	_, err := os.Stat(path)
	return errors.Is(err, fs.ErrNotExist)
}

// SaveNew returns the command that writes a file that must not be there yet.
func (s *Session) SaveNew(path string, then func() tea.Cmd) tea.Cmd {
	saving := s.savingTo(path, then)
	return func() tea.Msg {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			return SavedMsg{Saving: saving, Err: errors.New("this is a folder: name a file in it")}
		}
		done, err := file.SaveOver(path, saving.Text, file.Stamp{}, saving.copies)
		if errors.Is(err, file.ErrChangedOnDisk) {
			err = ErrThere
		}
		return SavedMsg{Saving: saving, Done: done, Err: err}
	}
}

// WriteNew writes a text that is not the document's to a file that must not be there yet;
// ErrThere: it is.
func WriteNew(path, text string) error {
	_, err := file.SaveOver(path, text, file.Stamp{}, "")
	if errors.Is(err, file.ErrChangedOnDisk) {
		return ErrThere
	}
	return err
}

// Overwrite is the command that writes a file, whatever is there.
func (s Saving) Overwrite() tea.Msg {
	done, err := file.Save(s.Path, s.Text, s.copies)
	return SavedMsg{Saving: s, Done: done, Err: err}
}

// OpenedMsg brings a file that was read.
type OpenedMsg struct {
	File file.File
	Err  error
}

// OpenFile returns the command that reads a build and looks for unsaved work on it.
func (s *Session) OpenFile(path string) tea.Cmd {
	copies := s.keep.folder
	return func() tea.Msg {
		file, err := file.OpenFile(path, copies)
		if err == nil && file.Fresh && len(file.Found) == 0 {
			err = errors.New("there is no such file")
		}
		return OpenedMsg{file, err}
	}
}

// ListedMsg brings what is in a folder.
type ListedMsg struct {
	Folder  string
	Entries []file.Entry
	Part    bool // there are others
	Err     error
}

// ListFolder lists the builds of a folder.
func ListFolder(folder string) tea.Cmd {
	return func() tea.Msg {
		entries, whole, err := file.ListBuilds(folder)
		return ListedMsg{folder, entries, !whole, err}
	}
}

// Expanded returns a path as it was typed, the home folder in place of ~.
func Expanded(typed string) string {
	typed = strings.TrimSpace(typed)
	if rest, ok := strings.CutPrefix(typed, "~"+string(filepath.Separator)); ok {
		if home, err := os.UserHomeDir(); err == nil {
			return filepath.Join(home, rest)
		}
	}
	return typed
}
