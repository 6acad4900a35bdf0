// Command needlewright plans, checks and explains clocks whose hand is the
// needle of a moving-coil panel meter.
//
//	needlewright [FILE]          the dashboard; without a file, on an example
//	needlewright walk [FILE]     the same, stage by stage; without a file, from nothing
//	needlewright check FILE      results and findings as text or JSON
//	needlewright yield FILE      what comes of many kits of parts, the same
//	needlewright working FILE RESULT  how a result comes about, a line a step
//	needlewright survey          what an unknown meter is, asked one thing at a time
//	needlewright fit FILE        whether a meter, or a drawer of them, can be used, and how
//	needlewright reach FILE ...  which value of an input makes a result so much
//	needlewright parts FILE      what a build is made of, for so many kits
//	needlewright circuit FILE    its circuit with volts and amps, or the list of connections
//	needlewright compare A B     what differs between two builds
//	needlewright codes FILE      what the firmware is given, for C, as CSV, JSON or text
//	needlewright list FOLDER     the builds of a class or a shelf, one beside the other
//	needlewright dial FILE       the dial of a hand at true size, as SVG, PDF or PNG
//	needlewright exercise FILE   a clock with a planted fault to be diagnosed, or a starter file
//	needlewright completion SHELL  what a shell needs to complete all this
//
// All commands exit with 0, and with 2 where the file could not be read or the program not
// run. With 1 exits check at a fault, compare where the builds differ, reach where the
// result cannot be reached, fit where no meter fits, survey where it stopped.
package main

import (
	"bytes"
	"io"
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"

	_ "example.com/needlewright/ui/early" // before anything that asks the terminal
)

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a build is small, and working it out makes much that is soon forgotten
	}
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program: its exit status is what it returns.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	status := fine
	var printed bytes.Buffer
	root := rootCommand(&status, stdout)
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(&printed)
	root.SetErr(stderr)
	err := root.Execute()
	if err == nil {
		err = deliver(stdout, printed.String())
	}
	if err != nil {
		complain(stderr, err)
		return cannotRun
	}
	return status
}

// packing are commands for whoever packs the program; see manual.go.
var packing []*cobra.Command

// rootCommand is the dashboard with all commands, in the groups and the order of the help.
func rootCommand(status *int, stdout io.Writer) *cobra.Command {
	root := dashboardCommand()
	cobra.EnableCommandSorting = false
	for _, g := range []struct {
		title    string
		commands []*cobra.Command
	}{
		{"Plan", []*cobra.Command{checkCommand(status), yieldCommand(), reachCommand(status), compareCommand(status), workingCommand()}},
		{"Meters", []*cobra.Command{surveyCommand(status, stdout), fitCommand(status)}},
		{"Papers", []*cobra.Command{papersCommand(), dialCommand(stdout), codesCommand(), partsCommand(), circuitCommand(), sheetCommand()}},
		{"Teach", []*cobra.Command{walkCommand(), listCommand(), exerciseCommand()}},
	} {
		root.AddGroup(&cobra.Group{ID: g.title, Title: g.title + ":"})
		for _, c := range g.commands {
			c.GroupID = g.title
		}
		root.AddCommand(g.commands...)
	}
	root.AddCommand(packing...)
	addCompletions(root)
	return root
}
