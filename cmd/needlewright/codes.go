package main

import (
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/codes"
)

// codesCommand prints what the firmware of a build is given.
func codesCommand() *cobra.Command {
	var as form
	var out outfile
	var hand string
	var sets []string
	c := &cobra.Command{
		Use:   "codes FILE",
		Short: "Print the codes for the firmware, as C, CSV, JSON or text",
		Long: `Print what the firmware is given: the code at every instant of each dial, a recipe that
computes it where there is one, how the needle is led without a swing, the codes at
which bring-up parks it, and the timer with what trims its rate.

--as c is one header of C99 for any controller: three functions, named in it, are left
to write. --as text has the codes at the marks of the dial alone, the others all.

Without -o it is printed. A file that is there is not written over without --force; the
ending of -o, .h, .csv, .json or .txt, says what it becomes where --as does not.
FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read or written.`,
		Example: `  needlewright codes reading-room.toml
  needlewright codes reading-room.toml -o codes.h
  needlewright codes station-platform.toml --hand minutes --as csv`,
		Args: fileOf("codes"),
		RunE: func(c *cobra.Command, args []string) error {
			d, err := openChanged(c, args[0], sets)
			if err != nil {
				return err
			}
			p := new(circuit.Plan)
			circuit.Evaluate(d.Build, p)
			all := codes.Of(d.Build, p)
			if hand != "" {
				if hand, err = handNamed(d.Build, hand); err != nil {
					return err
				}
				all, _ = all.Only(hand)
			}
			sayFaults(c, args[0], d.Build)
			text, err := codesText(all, as.kind(&out))
			if err != nil {
				return err
			}
			return out.write(c.OutOrStdout(), text)
		},
	}
	as.addTo(c, "text", "c", "csv", "json")
	out.addTo(c, "h", "csv", "json", "txt")
	c.Flags().StringVar(&hand, "hand", "", "one hand alone")
	addSets(c, &sets)
	return c
}

// codesText is what is printed of codes.
func codesText(all *codes.Codes, kind string) (string, error) {
	var text strings.Builder
	var err error
	switch kind {
	case "c":
		err = all.WriteHeader(&text)
	case "csv":
		err = all.WriteCSV(&text)
	case "json":
		err = printJSON(&text, all)
	default:
		plain.Codes(&text, all)
	}
	return text.String(), err
}
