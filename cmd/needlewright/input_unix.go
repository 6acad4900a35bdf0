//go:build unix

package main

import (
	"errors"
	"io"
	"os"
	"unicode/utf8"

	"golang.org/x/sys/unix"
)

// input is the keyboard.
func input() io.Reader { return whole{os.Stdin} }

// whole is a terminal that does not hand over half an escape sequence: Bubble
// Tea takes the end of a read for the end of a key.
type whole struct{ *os.File }

// patience is how long the rest of a sequence may take, ms.
const patience = 25

func (w whole) Read(p []byte) (int, error) {
	n, err := w.File.Read(p)
	for err == nil && n > 0 && n < len(p) && half(p[:n]) {
		fds := []unix.PollFd{{Fd: int32(w.Fd()), Events: unix.POLLIN}}
		k, e := unix.Poll(fds, patience)
		if errors.Is(e, unix.EINTR) { // the window was resized
			continue
		}
		if e != nil || k == 0 {
			break
		}
		k, err = w.File.Read(p[n:])
		n += k
	}
	return n, err
}

// half says whether b ends inside an escape sequence or a UTF-8 rune.
func half(b []byte) bool {
	for i := len(b) - 1; i >= max(0, len(b)-utf8.UTFMax); i-- {
		if utf8.RuneStart(b[i]) {
			if !utf8.FullRune(b[i:]) {
				return true
			}
			break
		}
	}
	const longest = 40
	for i := len(b) - 1; i >= max(0, len(b)-longest); i-- {
		if b[i] == 0x1b {
			return unfinished(b[i+1:])
		}
	}
	return false
}

// unfinished says whether what follows an escape is the beginning of a sequence.
func unfinished(s []byte) bool {
	switch {
	case len(s) == 0:
		return true
	case s[0] == 'O':
		return len(s) == 1
	case s[0] != '[':
		return false
	}
	for _, c := range s[1:] {
		if c >= 0x40 && c <= 0x7e {
			return false
		}
	}
	return true
}
