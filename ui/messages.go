package ui

import (
	"errors"

	"example.com/needlewright/model"
)

// savedMsg tells how saving a text went.
type savedMsg struct {
	path, text string
	stamp      model.Stamp
	err        error
}

// errThere says that a file stands where a new one was to be written.
var errThere = errors.New("there is a file already")

// openedMsg brings a file that was read.
type openedMsg struct {
	path, text string
	stamp      model.Stamp
	err        error
}

// listedMsg brings what is in a folder.
type listedMsg struct {
	folder  string
	entries []model.Entry
	err     error
}

// keepMsg asks for the recovery copy to be written, keptMsg tells how it went.
type (
	keepMsg struct{}
	keptMsg struct{ err error }
)

// A notice is the one line the dashboard says of itself.
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
