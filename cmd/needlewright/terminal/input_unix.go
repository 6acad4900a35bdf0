//go:build unix

package terminal

import (
	"errors"
	"io"
	"os"
	"time"
	"unicode/utf8"

	"golang.org/x/sys/unix"
)

// input is the keyboard.
func input() io.Reader { return &whole{File: os.Stdin} }

// whole is a terminal that does not hand over half an escape sequence: Bubble
// Tea takes the end of a read for the end of a key. Nor does it hand over more
// of a paste than anybody has a use for.
type whole struct {
	*os.File
	paste paste
}

// Patience is how long the rest of an escape sequence may take.
const Patience = 25 * time.Millisecond

func (w *whole) Read(p []byte) (int, error) {
	n, err := w.File.Read(p)
	for err == nil && n > 0 && n < len(p) && half(p[:n]) && w.more() {
		k := 0
		k, err = w.File.Read(p[n:])
		n += k
	}
	kept := w.paste.bound(p[:n])
	for err == nil && n > 0 && kept == 0 && w.more() {
		n, err = w.File.Read(p)
		kept = w.paste.bound(p[:n])
	}
	return kept, err
}

// more waits for more to read, in Patience.
func (w *whole) more() bool {
	for {
		fds := []unix.PollFd{{Fd: int32(w.Fd()), Events: unix.POLLIN}}
		k, err := unix.Poll(fds, int(Patience.Milliseconds()))
		if !errors.Is(err, unix.EINTR) { // the window was resized
			return err == nil && k > 0
		}
	}
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
