package ui

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/spread"
)

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

// listFolder lists the builds of a folder.
func listFolder(folder string) tea.Cmd {
	return func() tea.Msg {
		entries, whole, err := file.ListBuilds(folder)
		return listedMsg{folder, entries, !whole, err}
	}
}

// A factory makes kits of a build, as model.NewYield does.
type factory func(ctx context.Context, b *model.Build, kits int, seed uint64, progress func(done int)) (*spread.Yield, error)

// start makes the kits beside the keys, and waits for the first news.
func (m *making) start(ctx context.Context, make factory) tea.Cmd {
	return func() tea.Msg {
		go func() {
			y, err := tryMake(ctx, make, m)
			m.end <- madeMsg{m, y, err}
		}()
		return m.wait()
	}
}

// tryMake makes the kits. A failure of the program comes back as an error.
func tryMake(ctx context.Context, make factory, m *making) (y *spread.Yield, err error) {
	defer func() {
		if r := recover(); r != nil {
			y, err = nil, fmt.Errorf("the program failed: %v", r)
		}
	}()
	return make(ctx, m.build, kitsMade, kitsSeed, func(done int) {
		select {
		case <-m.done: // nobody has read it yet
		default:
		}
		m.done <- done
	})
}

// wait returns the next news of the kits, their end at last.
func (m *making) wait() tea.Msg {
	select {
	case made := <-m.end:
		return made
	case done := <-m.done:
		return makingMsg{m, done}
	}
}
