package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/whatif"
)

// reachCommand prints which value of an input makes a result so much.
func reachCommand(status *int) *cobra.Command {
	var as form
	var path string
	var sets []string
	c := &cobra.Command{
		Use:   "reach FILE RESULT VALUE --change PATH",
		Short: "Print which value of an input makes a result so much",
		Long: `Print every value of an input that makes a result so much, and the values next to
it that are to be had: of parts those of their series, of counts whole numbers.
Nothing is changed. A RESULT is named as  check --all  names it, last in its line.

Exits with 0 where it can be reached, 1 where it cannot (then with the nearest that
it comes), 2 where the file cannot be read. Before a value below 0 write --`,
		Example: `  needlewright reach reading-room.toml hours.trimmer_travel '50 %' --change hand.hours.drive.fixed
  needlewright reach reading-room.toml battery.life_mixed '120 d' --change load.hours_on
  needlewright reach reading-room.toml --change crystal.capacitor_in crystal.rate -- '-0.5 s/day'`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 3 {
				return nil
			}
			return &failure{fmt.Errorf("reach takes a file, a result and its value; %d of these are given", len(args)), "write  needlewright reach FILE RESULT VALUE --change PATH"}
		},
		RunE: func(c *cobra.Command, args []string) error {
			if path == "" {
				return &failure{errors.New("reach changes one input, and none is named"), "write --change PATH, e.g. --change hand.hours.drive.fixed"}
			}
			d, err := openChanged(c, args[0], sets)
			if err != nil {
				return err
			}
			q, err := whatif.Ask(d, args[1], args[2], path)
			if err != nil {
				if u := (*whatif.Unasked)(nil); errors.As(err, &u) {
					return &failure{u.Why, u.Hint}
				}
				return err
			}
			a := whatif.Reach(q)
			if len(a.Solutions) == 0 {
				*status = faulty
			}
			if as.as == "json" {
				return printJSON(c.OutOrStdout(), a)
			}
			return plain.Answer(c.OutOrStdout(), a)
		},
	}
	c.SetFlagErrorFunc(func(_ *cobra.Command, err error) error {
		return &failure{err, "a value below 0 stands behind --:  needlewright reach --change PATH FILE RESULT -- -5"}
	})
	c.Flags().StringVar(&path, "change", "", "the input that may change: PATH, e.g. hand.hours.drive.fixed")
	as.addTo(c, "text", "json")
	addSets(c, &sets)
	c.Flag("set").Usage = "change another value first: PATH=VALUE, e.g. hand.hours.meter.coil=650"
	return c
}
