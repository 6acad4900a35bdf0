// Command needlewright plans, checks and explains clocks whose hand is the
// needle of a moving-coil panel meter.
//
//	needlewright [FILE]          the dashboard; without a file, on an example
//	needlewright check FILE      results and findings as text or JSON
//	needlewright yield FILE      what comes of many kits of parts, the same
//
// All commands exit with 0 where nothing is worse than a caution, 1 at a fault
// (yield judges none), 2 where the file could not be read or the program not run.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode"

	"example.com/needlewright/model"
	_ "example.com/needlewright/ui/early" // before anything that asks the terminal
)

// Exit statuses.
const (
	fine      = 0
	faulty    = 1
	cannotRun = 2
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the whole program: its exit status is what it returns.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	status := fine
	root := dashboardCommand()
	root.AddCommand(checkCommand(&status), yieldCommand())
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(stdout)
	root.SetErr(stderr)
	if err := root.Execute(); err != nil {
		complain(stderr, err)
		return cannotRun
	}
	return status
}

// A failure is an error with what to do about it.
type failure struct {
	what error
	hint string
}

func (f *failure) Error() string { return f.what.Error() }

// complain writes an error, then its hint.
func complain(w io.Writer, err error) {
	fmt.Fprintf(w, "error: %s\n", shown(err.Error()))
	hint := "needlewright --help lists the commands and their options"
	var f *failure
	if errors.As(err, &f) {
		hint = f.hint
	}
	fmt.Fprintf(w, "hint: %s\n", hint)
}

// refuse writes all problems of a file, changed by --set or not, and returns the
// error for it.
func refuse(w io.Writer, path string, changed bool, problems []model.Problem) error {
	for _, p := range problems {
		fmt.Fprintf(w, "%s: %s\n", path, shown(p.String()))
	}
	hint := "mend them in the file, or open it with  needlewright " + path + "  where each stands at its field"
	if changed {
		path += " as changed by --set"
		hint = "a problem may be of the file or of what --set puts there: its path says of which value"
	}
	return &failure{fmt.Errorf("%s has %s", path, plural(len(problems), "problem")), hint}
}

// shown is a text from outside with what a terminal could obey replaced.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsGraphic(r) {
			return r
		}
		return unicode.ReplacementChar
	}, s)
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// noFile is the hint where a file cannot be read.
const noFile = "check the path; the examples folder of the source has builds to start from"

// readFile reads a build's text.
func readFile(path string) (string, error) {
	text, _, err := model.ReadFile(path)
	if err != nil {
		return "", &failure{err, noFile}
	}
	return text, nil
}
