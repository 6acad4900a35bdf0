package main

import (
	"os"
	"testing"

	"golang.org/x/sys/unix"
)

// termios is how a terminal is set.
func termios(t testing.TB, tty *os.File) unix.Termios {
	state, err := unix.IoctlGetTermios(int(tty.Fd()), unix.TCGETS)
	if err != nil {
		t.Errorf("the terminal's settings: %v", err)
		return unix.Termios{}
	}
	return *state
}
