package schematic

import (
	"fmt"

	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
)

// What is drawn of a clock.
const (
	All       = -1 // everything
	clockOnly = -2
)

// Draw draws the circuit with its values and what flows: of all of the clock, or of one hand
// alone, in Unicode or in plain ASCII.
func Draw(n *network.Network, f *network.Flow, hand int, plain bool) *Drawing {
	title := n.Build.Title
	if title == "" {
		title = "Circuit"
	}
	l := &ladder{Drawing: newDrawing(title, plain), n: n}
	l.heading(0, title)
	l.y = 2
	if hand == All {
		l.supply(&f.Supply)
		l.board(f)
	}
	for i := range f.Hands {
		if hand == All || hand == i {
			l.hand(&f.Hands[i])
		}
	}
	for k, note := range notes(n, f, hand) {
		l.text(0, l.y+k, Width, note)
	}
	return l.Drawing
}

// notes say what the drawing leaves out.
func notes(n *network.Network, f *network.Flow, hand int) (all []string) {
	for i := range n.Build.Hands {
		leak := n.Plan.Hands[i].DiodeLeak
		if (hand == All || hand == i) && n.Build.Hands[i].Meter.Diodes == "silicon" {
			all = append(all, fmt.Sprintf("The diodes of %s take %s at most at full scale, left out here.", n.Build.Hands[i].Name, quantity.Show(leak, quantity.Microamperes, 2)))
		}
	}
	if hand != All {
		return all
	}
	s := &f.Supply
	switch {
	case !s.Carries:
		all = append(all, "The fresh cells cannot carry this clock: see  needlewright check.")
	case s.Passes:
		all = append(all, "Fresh cells stand above the rail: until they are down, the step-up passes", "their volts through to it.")
	}
	return append(all,
		"What the controller's pins need besides stands in its papers: mostly 100 nF",
		"from its supply pin to ground, close by.")
}
