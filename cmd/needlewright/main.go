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
//	needlewright compare A B     what differs between two builds
//	needlewright list FOLDER     the builds of a class or a shelf, one beside the other
//	needlewright dial FILE       the dial of a hand at true size, as SVG, PDF or PNG
//	needlewright exercise FILE   a clock with a planted fault to be diagnosed, or a starter file
//
// All commands exit with 0 where nothing is worse than a caution, 1 at a fault
// (yield judges none), 2 where the file could not be read or the program not run.
package main

import (
	"bytes"
	"io"
	"os"

	_ "example.com/needlewright/ui/early" // before anything that asks the terminal
)

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }

// run is the whole program: its exit status is what it returns.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	status := fine
	var printed bytes.Buffer
	root := dashboardCommand()
	root.AddCommand(walkCommand(), checkCommand(&status), yieldCommand(), workingCommand(), surveyCommand(&status, stdout), fitCommand(&status))
	root.AddCommand(reachCommand(&status), compareCommand(&status), listCommand(), exerciseCommand(), dialCommand(stdout))
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
