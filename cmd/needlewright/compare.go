package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model"
	"example.com/needlewright/model/whatif"
)

// compareCommand prints what differs between two builds.
func compareCommand(status *int) *cobra.Command {
	var as form
	var sets []string
	c := &cobra.Command{
		Use:   "compare A B",
		Short: "Print what differs between two builds",
		Long: `Print what differs between two builds: inputs, results as they are shown, findings
that come and go from the first to the second. Hands and lamps are matched by their
names. With one file alone, --set says what the second has otherwise.

Exits with 0 where the builds are alike, 1 where they differ, 2 where a file cannot
be read.`,
		Example: `  needlewright compare mine.toml hers.toml
  needlewright compare --set hand.hours.drive.fixed=7k5 reading-room.toml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 2 && (args[0] != "-" || args[1] != "-") || len(args) == 1 && len(sets) > 0 {
				return nil
			}
			return &failure{fmt.Errorf("compare takes two files, or one and --set; %d are given", len(args)), "write  needlewright compare A B"}
		},
		RunE: func(c *cobra.Command, args []string) error {
			a, err := openChanged(c, args[0], nil)
			if err != nil {
				return err
			}
			b, err := secondOf(c, a, args, sets)
			if err != nil {
				return err
			}
			found := whatif.Compare(a, b)
			if found.Differ() {
				*status = faulty
			}
			if as.as == "json" {
				return printJSON(c.OutOrStdout(), found)
			}
			return plain.Comparison(c.OutOrStdout(), found)
		},
	}
	as.addTo(c, "text", "json")
	addSets(c, &sets)
	c.Flag("set").Usage = "change a value of the second build first: PATH=VALUE"
	return c
}

// secondOf is the second build: of the second file, or the first again, changed.
func secondOf(c *cobra.Command, first *model.Document, args, sets []string) (*model.Document, error) {
	if len(args) == 2 {
		return openChanged(c, args[1], sets)
	}
	return openText(c, args[0], first.Whole(), sets)
}
