package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/working"
)

// workingCommand prints how a result of a build comes about.
func workingCommand() *cobra.Command {
	var as form
	var hand string
	var sets []string
	c := &cobra.Command{
		Use:   "working FILE RESULT",
		Short: "Print how a result comes about, a line a step",
		Long: `Print how a result of a build comes about: a line a step, each with the build's own
numbers, so that a calculator agrees to the last digit that is printed. ≈ stands
where no formula gives a number: such a line is a check of it, within 2 %. Then the
band and whose tolerance makes it, why it matters, and where the formula is from.

RESULT is a name as check --all prints it, hours.trimmer_setting; that of the hand
may be left out where there is one. Chosen parts have a working too: series, pwm,
top, filter, load_capacitors, lamp, supply, or the path of the part, such as
hand.hours.drive.fixed. FILE may be - for standard input.
Exits with 0, or with 2 where the file cannot be read or there is no such result.`,
		Example: `  needlewright working reading-room.toml overload_worst
  needlewright working --json station-platform.toml minutes.series
  needlewright working --hand minutes station-platform.toml trimmer_travel`,
		Args: fileAndResult,
		RunE: func(c *cobra.Command, args []string) error {
			d, err := openChanged(c, args[0], sets)
			if err != nil {
				return err
			}
			b := d.Build
			if hand != "" {
				if hand, err = handNamed(b, hand); err != nil {
					return err
				}
			}
			p := new(circuit.Plan)
			circuit.Evaluate(b, p)
			w, err := working.Named(b, p, args[1], hand)
			if err != nil {
				return noWorking(err)
			}
			if other, ofHand := strings.CutPrefix(w.About, "hand: "); hand != "" && ofHand && other != hand {
				return &failure{fmt.Errorf("%s is of the hand %s, and --hand %s is given too", args[1], other, hand), "leave out one of them"}
			}
			if as.as == "json" {
				return printJSON(c.OutOrStdout(), w)
			}
			fmt.Fprintln(c.OutOrStdout(), plain.Lines(w.Lines()))
			return nil
		},
	}
	as.addTo(c, "text", "json")
	c.Flags().StringVar(&hand, "hand", "", "whose result it is, where there are several hands")
	addSets(c, &sets)
	return c
}

// fileAndResult holds the command to its file and its result.
func fileAndResult(_ *cobra.Command, args []string) error {
	if len(args) == 2 {
		return nil
	}
	return &failure{fmt.Errorf("working takes a file and a result; %d are given", len(args)), "write  needlewright working FILE RESULT  with a name that  needlewright check --all FILE  prints"}
}

// noWorking is the error where there is no such result, or none that its lines come to.
func noWorking(err error) error {
	var m *working.Missing
	if errors.As(err, &m) && m.Elsewhere {
		return &failure{err, "it is left out where the build has no such part, or does not say a value that it needs; check --all lists the results of a build"}
	}
	if m != nil {
		return &failure{err, "did you mean " + m.Near + "? check --all lists the results of a build"}
	}
	return &failure{fmt.Errorf("its lines do not come to the result: %w", err), "please report this with the file"}
}
