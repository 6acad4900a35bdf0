package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/schematic"
)

// circuitCommand draws the circuit of a build, or lists its connections.
func circuitCommand() *cobra.Command {
	var d drawing
	c := &cobra.Command{
		Use:   "circuit FILE",
		Short: "Draw the circuit with its values, volts and amps, or list its connections",
		Long: `Draw the circuit of a build: what feeds the clock, the controller with what hangs on
its pins, and each hand from its pin to ground, with this build's values and, at a
time of the dial, its volts and amps: averages over the pulses, which add up as they
are printed. What the build does not have is not drawn.

--at is a time of the dial: h:mm of 12 h and 24 h, mm:ss of 60 min, s of 60 s; it is
that of --hand or else of the first hand, and the others stand where they do then.
Without it all hands are at their top.

--as list is the list of connections, a row a wire, in an order in which each can be
checked before the next is made, with what to expect there; csv is the same as a table.

Without -o it is printed. A file that is there is not written over without --force.
FILE may be - for standard input. Exits with 0, or with 2 where a file cannot be read
or written.`,
		Example: `  needlewright circuit reading-room.toml --at 6:00
  needlewright circuit station-platform.toml --hand minutes --at 45:00 --ascii
  needlewright circuit reading-room.toml --as list
  needlewright circuit reading-room.toml -o circuit.svg`,
		Args: fileOf("circuit"),
		RunE: func(c *cobra.Command, args []string) error { return d.run(c, args[0]) },
	}
	d.as.addTo(c, "text", "svg", "list", "csv")
	c.Flag("as").Usage = "text, svg, list, the connections, or csv, the same as a table; without it, what the ending of -o says"
	d.out.addTo(c, "txt", "svg", "csv")
	c.Flags().StringVar(&d.hand, "hand", "", "draw this hand alone; list its connections alone")
	c.Flags().StringVar(&d.at, "at", "", "the time of the dial at which volts and amps are given")
	c.Flags().BoolVar(&d.ascii, "ascii", false, "in plain ASCII")
	addSets(c, &d.sets)
	return c
}

// A drawing is what the command circuit was asked for.
type drawing struct {
	as       form
	out      outfile
	hand, at string
	ascii    bool
	sets     []string
}

// run makes what was asked for.
func (d *drawing) run(c *cobra.Command, path string) error {
	doc, err := openChanged(c, path, d.sets)
	if err != nil {
		return err
	}
	b := doc.Build
	hand := schematic.All
	if d.hand != "" {
		if _, err := handNamed(b, d.hand); err != nil {
			return err
		}
		hand = b.HandNamed(d.hand)
	}
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	n := network.Of(b, p)
	shares, err := d.shares(b, n, hand)
	if err != nil {
		return err
	}
	text := d.made(n, shares, hand)
	sayFaults(c, path, b)
	return d.out.write(c.OutOrStdout(), text)
}

// shares are where the hands stand at the time that is asked for.
func (d *drawing) shares(b *model.Build, n *network.Network, hand int) ([]float64, error) {
	if d.at == "" {
		return n.Tops(), nil
	}
	if len(b.Hands) == 0 {
		return nil, &failure{errors.New("--at is a time of a hand's dial, and the build has no hand"), "leave it out"}
	}
	hand = max(hand, 0)
	share, err := quantity.ParseDial(d.at, b.Hands[hand].Shows)
	if err != nil {
		return nil, wrongTime(err, &b.Hands[hand])
	}
	return n.Shares(hand, share), nil
}

// wrongTime says what a hand's dial has.
func wrongTime(err error, h *model.Hand) error {
	var wrong *quantity.Error
	if errors.As(err, &wrong) {
		err = errors.New(wrong.Problem)
	}
	return &failure{fmt.Errorf("--at: %w", err), fmt.Sprintf("the dial of %s goes from %s to %s", h.Name, quantity.FormatDial(0, h.Shows), quantity.FormatDial(1, h.Shows))}
}

// made is what is printed or written.
func (d *drawing) made(n *network.Network, shares []float64, hand int) string {
	as := d.as.kind(&d.out)
	of := ""
	if hand != schematic.All {
		of = n.Build.Hands[hand].Name
	}
	switch as {
	case "list":
		return schematic.List(n, of, d.ascii)
	case "csv":
		return schematic.CSV(n, of)
	}
	drawn := schematic.Draw(n, n.At(shares), hand, d.ascii)
	if as == "svg" {
		return drawn.SVG()
	}
	return drawn.Text()
}
