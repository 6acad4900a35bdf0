package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// fileOf holds a command to its one file.
func fileOf(command string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) == 1 {
			return nil
		}
		return &failure{fmt.Errorf("%s takes one file; %d are given", command, len(args)), "write  needlewright " + command + " FILE"}
	}
}

// addSets gives a command --set, the changes that are made to a build before it is used.
func addSets(c *cobra.Command, sets *[]string) {
	c.Flags().StringArrayVar(sets, "set", nil, "change a value first: PATH=VALUE, e.g. hand.hours.drive.fixed=7k5")
}

// readChanged reads a build's text, - being standard input, and makes the changes of --set
// to it.
func readChanged(c *cobra.Command, path string, sets []string) (string, error) {
	text, err := readFrom(c.InOrStdin(), path)
	if err != nil {
		return "", err
	}
	return setAll(text, sets)
}

// openChanged opens a build without problems, as readChanged reads it.
func openChanged(c *cobra.Command, path string, sets []string) (*model.Document, error) {
	text, err := readFrom(c.InOrStdin(), path)
	if err != nil {
		return nil, err
	}
	return openText(c, path, text, sets)
}

// openText opens a build without problems that was read from a path, with the changes of
// --set.
func openText(c *cobra.Command, path, text string, sets []string) (*model.Document, error) {
	text, err := setAll(text, sets)
	if err != nil {
		return nil, err
	}
	d := model.Open(text)
	if len(d.Problems) > 0 {
		return nil, refuse(c.ErrOrStderr(), path, len(sets) > 0, d.Problems)
	}
	return d, nil
}

// setAll makes the changes of --set to a text, in their order.
func setAll(text string, sets []string) (string, error) {
	for _, s := range sets {
		var err error
		if text, err = setOne(text, s); err != nil {
			return "", err
		}
	}
	return text, nil
}

// setOne puts one PATH=VALUE into a text.
func setOne(text, assignment string) (string, error) {
	path, value, ok := strings.Cut(assignment, "=")
	if !ok {
		return text, &failure{fmt.Errorf("--set %q has no =", assignment), "write --set PATH=VALUE, e.g. --set rail.voltage=5"}
	}
	text, problem := model.Set(text, strings.TrimSpace(path), strings.TrimSpace(value))
	if problem != nil {
		return text, &failure{fmt.Errorf("--set %s: %s", path, problem.Message()), "the file's own tables and keys make the path, with the hand's or lamp's name: hand.hours.meter.coil"}
	}
	return text, nil
}

// readFrom reads a text: of a file, or, where its path is -, of standard input.
func readFrom(stdin io.Reader, path string) (string, error) {
	if path != "-" {
		return readFile(path)
	}
	text, err := io.ReadAll(io.LimitReader(stdin, file.MostBytes+1))
	switch {
	case err != nil:
		return "", &failure{fmt.Errorf("standard input: %w", err), "give it a text, or the path of a file"}
	case len(text) > file.MostBytes:
		return "", &failure{fmt.Errorf("standard input holds more than %d bytes", file.MostBytes), "give it less, in parts"}
	case !utf8.Valid(text):
		return "", &failure{errors.New("standard input holds bytes that are not UTF-8"), "save the text as UTF-8 with an editor first"}
	}
	return string(text), nil
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

// mostPrinted is how many problems of a file are printed: more than anyone mends
// at a time.
const mostPrinted = 50

// refuse writes the problems of a file, changed by --set or not, and returns the
// error for it.
func refuse(w io.Writer, path string, changed bool, problems []model.Problem) error {
	n, name := model.Count(problems), pathShown(path)
	for _, p := range problems[:min(len(problems), mostPrinted)] {
		say(w, "%s: %s", name, p)
	}
	if n > mostPrinted {
		say(w, "%s: and %d more", name, n-mostPrinted)
	}
	hint := "mend them in the file, or open it with  needlewright " + path + "  where each stands at its field"
	if path == "-" {
		hint = "mend them in what is given there"
	}
	if changed {
		name += " as changed by --set"
		hint = "a problem may be of the file or of what --set puts there: its path says of which value"
	}
	return &failure{fmt.Errorf("%s has %s", name, quantity.Counted(n, "problem")), hint}
}

// handNamed is the hand of a build by its name; the only one where none is given.
func handNamed(b *model.Build, name string) (string, error) {
	var names []string
	for i := range b.Hands {
		if b.Hands[i].Name == name || name == "" && len(b.Hands) == 1 {
			return b.Hands[i].Name, nil
		}
		names = append(names, b.Hands[i].Name)
	}
	switch {
	case names == nil:
		return "", &failure{errors.New("the build has no hand"), "add a [[hand]] to the file, with its meter and its drive"}
	case name == "":
		return "", &failure{fmt.Errorf("the build has %s, and none is named", quantity.Counted(len(names), "hand")), "write --hand with one of: " + strings.Join(names, ", ")}
	}
	return "", &failure{fmt.Errorf("there is no hand %q in the build", name), "write --hand with one of: " + strings.Join(names, ", ")}
}

// sayFaults says on standard error that a build has faults: its papers are made all the
// same, and its kits.
func sayFaults(c *cobra.Command, path string, b *model.Build) {
	p, n := new(circuit.Plan), 0
	circuit.Evaluate(b, p)
	for _, f := range judge.Findings(b, p) {
		if f.Severity == judge.Fault {
			n++
		}
	}
	if n > 0 {
		say(c.ErrOrStderr(), "%s: the build has %s;  needlewright check  says what to do", pathShown(path), quantity.Counted(n, "fault"))
	}
}

// pathShown is a path as it is told, - being standard input.
func pathShown(path string) string {
	if path == "-" {
		return "standard input"
	}
	return path
}
