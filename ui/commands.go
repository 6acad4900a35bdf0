package ui

import (
	"context"
	"errors"
	"fmt"
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

// A factory makes kits of a build, as model.NewYield does.
type factory func(ctx context.Context, b *model.Build, kits int, seed uint64, progress func(done int)) (*model.Yield, error)

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
func tryMake(ctx context.Context, make factory, m *making) (y *model.Yield, err error) {
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
