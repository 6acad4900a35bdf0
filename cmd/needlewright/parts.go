package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"example.com/needlewright/cmd/needlewright/plain"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/parts"
	"example.com/needlewright/model/quantity"
)

// mostKitsBought is as many as anybody buys parts for at a time.
const mostKitsBought = 10_000

// partsCommand lists what a build is made of.
func partsCommand() *cobra.Command {
	l := buying{kits: wholeNumber{1, 1, mostKitsBought}}
	c := &cobra.Command{
		Use:   "parts FILE",
		Short: "List the parts of a build: what each is and stands, how many, and what else would do",
		Long: `List the parts of a build: what each is, its value and tolerance, what it has to stand,
how many, what for, and what else would do. What a resistor turns to heat and the volts
of a capacitor are the build's, twice, rounded up to what shops have.

--kits says for how many clocks, --spares how many more, rounded up part by part: of
the meters, which are the builder's own, there are none.

Without -o it is printed. A file that is there is not written over without --force.
FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read
or written.`,
		Example: `  needlewright parts reading-room.toml
  needlewright parts reading-room.toml --kits 12 --spares 10% -o parts.csv`,
		Args: fileOf("parts"),
		RunE: func(c *cobra.Command, args []string) error { return l.run(c, args[0]) },
	}
	l.as.addTo(c, "text", "csv", "json")
	l.out.addTo(c, "txt", "csv", "json")
	c.Flags().Var(&l.kits, "kits", "for how many clocks, at most "+strconv.Itoa(mostKitsBought))
	c.Flags().StringVar(&l.spares, "spares", "", "how many more, as a share: 10%")
	addSets(c, &l.sets)
	return c
}

// A buying is what the command parts was asked for.
type buying struct {
	as     form
	out    outfile
	kits   wholeNumber
	spares string
	sets   []string
}

// run makes what was asked for.
func (l *buying) run(c *cobra.Command, path string) error {
	spares, err := l.share()
	if err != nil {
		return err
	}
	d, err := openChanged(c, path, l.sets)
	if err != nil {
		return err
	}
	p := new(circuit.Plan)
	circuit.Evaluate(d.Build, p)
	list := parts.New(network.Of(d.Build, p), int(l.kits.n), spares)
	text := ""
	switch l.as.kind(&l.out) {
	case "csv":
		text = list.CSV()
	case "json":
		made, err := list.JSON()
		if err != nil {
			return &failure{err, "please report this with the file"}
		}
		text = string(made) + "\n"
	default:
		text = plain.Lines(strings.Split(list.Text(), "\n"))
	}
	sayFaults(c, path, d.Build)
	return l.out.write(c.OutOrStdout(), text)
}

// share is that of the spares.
func (l *buying) share() (float64, error) {
	if l.spares == "" {
		return 0, nil
	}
	v, err := quantity.ParsePlain(l.spares, quantity.Percent)
	switch {
	case err != nil:
		return 0, &failure{fmt.Errorf("--spares: %w", err), "write a share, such as 10%"}
	case !(v.Number >= 0 && v.Number <= 1):
		return 0, &failure{errors.New("--spares " + l.spares + ": allowed is 0 % to 100 %"), "write a share, such as 10%"}
	}
	return v.Number, nil
}
