package ui

import (
	"errors"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/file"
)

// A saving is a text on its way to a file, and what waits for it to be there.
type saving struct {
	path, text string
	copies     string // the folder of recovery copies
	then       func(*App) tea.Cmd
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

// openedMsg brings a file that was read.
type openedMsg struct {
	file file.File
	err  error
}

// listedMsg brings what is in a folder.
type listedMsg struct {
	folder  string
	entries []file.Entry
	part    bool // there are others
	err     error
}

// keepMsg asks for the recovery copy to be written. keptMsg tells how it went,
// and whether the build's file was seen to have changed meanwhile, or which one
// to be gone.
type (
	keepMsg struct{}
	keptMsg struct {
		err     error
		changed bool
		gone    string
	}
)

// A notice is what the dashboard says of itself.
type notice struct {
	tone tone
	text string
}

// A tone is how a notice is meant.
type tone uint8

const (
	said tone = iota
	warned
	failed
)
