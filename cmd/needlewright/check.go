package main

import (
	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
)

// checkCommand prints what a build gives and what is wrong with it.
func checkCommand(status *int) *cobra.Command {
	var all, cautions bool
	var as form
	var sets []string
	c := &cobra.Command{
		Use:   "check FILE",
		Short: "Print whether a build is sound, and what it gives",
		Long: `Print whether a build is sound: what is found, the worst first, how wrong the
clock reads, how long the cells last, what would do better, and the results.

Exits with 0 where nothing is worse than a caution, 1 at a fault, 2 where the
file cannot be read. FILE may be - for standard input.`,
		Example: `  needlewright check reading-room.toml
  needlewright check --all --cautions reading-room.toml
  needlewright check --json --set hand.hours.drive.fixed=7k5 reading-room.toml`,
		Args: fileOf("check"),
		RunE: func(c *cobra.Command, args []string) error {
			text, err := readChanged(c, args[0], sets)
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
			if as.as == "json" {
				return printJSON(c.OutOrStdout(), r)
			}
			return (&plain.Report{Report: r, All: all, Cautions: cautions}).Print(c.OutOrStdout())
		},
	}
	c.Flags().BoolVar(&all, "all", false, "print every result, and all that makes it read wrong")
	c.Flags().BoolVar(&cautions, "cautions", false, "print the dangers of the work too")
	as.addTo(c, "text", "json")
	addSets(c, &sets)
	return c
}
