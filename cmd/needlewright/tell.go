package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"syscall"

	"example.com/needlewright/cmd/needlewright/plain"
)

// Exit statuses.
const (
	fine      = 0
	faulty    = 1
	cannotRun = 2
)

// deliver writes all that a command prints, at once, so that there is one place
// that can fail. Who reads it may stop early (head does).
func deliver(w io.Writer, printed string) error {
	if printed == "" {
		return nil
	}
	lines := strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' { // a build's text may hold both
			return r
		}
		return plain.Graphic(r)
	}, printed)
	_, err := io.WriteString(w, lines)
	return unwritten(err)
}

// unwritten says what became of what was written to standard output: nothing is wrong where
// its reader had enough.
func unwritten(err error) error {
	if err == nil || errors.Is(err, syscall.EPIPE) {
		return nil
	}
	return &failure{
		fmt.Errorf("what was to be printed could not be written whole: %w", err),
		"do not use what came of it; make room, or send it elsewhere, and run the same command again",
	}
}

// A failure is an error with what to do about it.
type failure struct {
	what error
	hint string
}

func (f *failure) Error() string { return f.what.Error() }

// complain writes an error, then its hint.
func complain(w io.Writer, err error) {
	say(w, "error: %s", err)
	hint := "needlewright --help lists the commands and their options"
	var f *failure
	if errors.As(err, &f) {
		hint = f.hint
	}
	say(w, "hint: %s", hint)
}

// say writes a line, whatever is in it.
func say(w io.Writer, format string, of ...any) {
	fmt.Fprintln(w, plain.Shown(fmt.Sprintf(format, of...)))
}
