package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
)

// checkCommand prints what a build gives and what is wrong with it.
func checkCommand(status *int) *cobra.Command {
	var asJSON, all, cautions bool
	var sets []string
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Print whether a build is sound, and what it gives",
		Long: `Print whether a build is sound: what is found, the worst first, how wrong the
clock reads, how long the cells last, what would do better, and the results.

Exits with 0 where nothing is worse than a caution, 1 at a fault, 2 where the
file cannot be read.`,
		Example: `  needlewright check reading-room.toml
  needlewright check --all --cautions reading-room.toml
  needlewright check --json --set hand.hours.drive.fixed=7k5 reading-room.toml`,
		Args: fileOf("check"),
		RunE: func(c *cobra.Command, args []string) error {
			text, err := readChanged(args[0], sets)
			if err != nil {
				return err
			}
			r, problems := report.Check(text)
			if problems != nil {
				return refuse(c.ErrOrStderr(), args[0], len(sets) > 0, problems)
			}
			if r.Worst() == judge.Fault {
				*status = faulty
			}
			if asJSON {
				return printJSON(c.OutOrStdout(), r)
			}
			return (&reportText{r, all, cautions}).print(c.OutOrStdout())
		},
	}
	c.Flags().BoolVar(&all, "all", false, "print every result, and all that makes it read wrong")
	c.Flags().BoolVar(&cautions, "cautions", false, "print the dangers of the work too")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON, all of it, with values in SI units")
	c.Flags().StringArrayVar(&sets, "set", nil, "change a value first: PATH=VALUE, e.g. hand.hours.meter.coil=650")
	return c
}

// fileOf holds a command to its one file.
func fileOf(command string) cobra.PositionalArgs {
	return func(_ *cobra.Command, args []string) error {
		if len(args) == 1 {
			return nil
		}
		return &failure{fmt.Errorf("%s takes one file; %d are given", command, len(args)), "write  needlewright " + command + " FILE"}
	}
}

// readChanged reads a build's text and makes the changes of --set to it.
func readChanged(path string, sets []string) (string, error) {
	text, err := readFile(path)
	for _, s := range sets {
		if err != nil {
			break
		}
		text, err = setOne(text, s)
	}
	return text, err
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

func printJSON(w io.Writer, of interface{ JSON() ([]byte, error) }) error {
	out, err := of.JSON()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(w, "%s\n", out)
	return err
}
