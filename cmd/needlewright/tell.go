package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"syscall"
	"unicode"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/quantity"
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
		return graphic(r)
	}, printed)
	_, err := io.WriteString(w, lines)
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

// mostPrinted is how many problems of a file are printed: more than anyone mends
// at a time.
const mostPrinted = 50

// refuse writes the problems of a file, changed by --set or not, and returns the
// error for it.
func refuse(w io.Writer, path string, changed bool, problems []model.Problem) error {
	n := model.Count(problems)
	for _, p := range problems[:min(len(problems), mostPrinted)] {
		say(w, "%s: %s", path, p)
	}
	if n > mostPrinted {
		say(w, "%s: and %d more", path, n-mostPrinted)
	}
	hint := "mend them in the file, or open it with  needlewright " + path + "  where each stands at its field"
	if changed {
		path += " as changed by --set"
		hint = "a problem may be of the file or of what --set puts there: its path says of which value"
	}
	return &failure{fmt.Errorf("%s has %s", path, quantity.Counted(n, "problem")), hint}
}

// say writes a line, whatever is in it.
func say(w io.Writer, format string, of ...any) {
	fmt.Fprintln(w, shown(fmt.Sprintf(format, of...)))
}

// shown is a text from outside as one line, with what a terminal could obey
// replaced.
func shown(s string) string { return strings.Map(graphic, s) }

// graphic is a character, or the one that replaces those that are not to be seen:
// controls, and marks that turn the direction of writing.
func graphic(r rune) rune {
	if unicode.IsGraphic(r) {
		return r
	}
	return unicode.ReplacementChar
}

// noFile is the hint where a file cannot be read.
const noFile = "check the path; the examples folder of the source has builds to start from"

// readFile reads a build's text.
func readFile(path string) (string, error) {
	text, _, err := file.ReadFile(path)
	if err != nil {
		return "", &failure{err, noFile}
	}
	return text, nil
}
