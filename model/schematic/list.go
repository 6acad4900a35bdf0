package schematic

import (
	"encoding/csv"
	"fmt"
	"strings"

	"example.com/needlewright/model/network"
)

// List is the list of connections as text, in the order in which they are made and checked: of
// all of the clock, or of the hand of a name.
func List(n *network.Network, hand string, plain bool) string {
	d := newDrawing(n.Build.Title, plain)
	var out strings.Builder
	under := func(first, s string, indent int) {
		for k, part := range wrapped(d.printable(s), Width-indent) {
			if k > 0 {
				first = strings.Repeat(" ", indent)
			}
			out.WriteString(first + part + "\n")
		}
	}
	line := func(indent int, s string) { under(strings.Repeat(" ", indent), s, indent) }
	title := "Connections"
	if d.Title != "" {
		title = clipped(d.Title, Width-15) + ": connections"
	}
	line(0, title)
	out.WriteString("\n")
	line(0, "In this order each can be checked before the next is made. No power while you solder: only where it says so, and off again. Goggles, fresh air. The meters come last.")
	section := ""
	for k, c := range n.Connections {
		if !isOf(&c, hand) {
			continue
		}
		if c.Section != section {
			section = c.Section
			out.WriteString("\n")
			line(0, section)
		}
		under(fmt.Sprintf(" [ ] %2d  ", k+1), c.From.String()+" → "+c.To.String(), 9)
		line(9, string(c.State)+": "+c.Expect)
		if c.Mind != "" {
			under("       ! ", c.Mind, 9)
		}
	}
	return out.String()
}

// isOf says whether a connection is of a hand; of "" all are.
func isOf(c *network.Connection, hand string) bool {
	return hand == "" || strings.HasPrefix(c.ID, "hand."+hand+".")
}

// inCell is a terminal's name in a cell of a table, where a sign would begin a formula.
func inCell(terminal string) string {
	switch terminal {
	case "+":
		return "plus"
	case "−":
		return "minus"
	}
	return terminal
}

// wrapped is a text in lines of so many columns at most; a word that is longer is cut.
func wrapped(text string, most int) (lines []string) {
	line := ""
	for _, word := range strings.Fields(text) {
		word = clipped(word, most)
		if line != "" && width(line)+1+width(word) > most {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += word
	}
	return append(lines, line)
}

// CSV is the list of connections as a table, with a first row of names; ids stay the same
// while their parts do.
func CSV(n *network.Network, hand string) string {
	var out strings.Builder
	w := csv.NewWriter(&out)
	write := func(row ...string) { _ = w.Write(row) } // a Builder never fails
	write("id", "section", "from_part", "from_terminal", "to_part", "to_terminal", "state", "expect", "mind")
	for _, c := range n.Connections {
		if isOf(&c, hand) {
			write(c.ID, c.Section, c.From.Part, inCell(c.From.Terminal), c.To.Part, inCell(c.To.Terminal), string(c.State), c.Expect, c.Mind)
		}
	}
	w.Flush()
	return out.String()
}
