package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"example.com/needlewright/model/parts"
	"example.com/needlewright/model/schematic"
)

// circuit is the drawing: the supply with the controller, then each hand at its top.
func (m *maker) circuit() []Block {
	flow := m.n.At(m.n.Tops())
	var blocks []Block
	add := func(what int, name string) {
		d := schematic.Draw(m.n, flow, what, false)
		whole := &Figure{Name: name, Class: "drawing", SVG: inline(d.SVG()), Text: d.Lines()}
		if m.learner {
			m.keep(Block{Figure: whole})
			whole = &Figure{Name: name, Class: "drawing", SVG: inline(m.drawn(d.SVG())), Text: strings.Split(m.drawn(strings.Join(d.Lines(), "\n")), "\n")}
		}
		blocks = append(blocks, Block{Figure: whole})
	}
	add(schematic.Clock, "Supply and controller")
	for i := range m.b.Hands {
		add(i, "Hand "+m.b.Hands[i].Name+" at its top")
	}
	return blocks
}

// inline is an SVG of ours as it stands within a page: its generator has escaped all texts.
func inline(svg string) template.HTML {
	if strings.HasPrefix(svg, "<?xml") {
		_, svg, _ = strings.Cut(svg, "?>\n")
	}
	return template.HTML(svg)
}

// connections are the wires, in the order in which they are made and checked. What the
// multimeter has to say before the next is a limit, and is never blank.
func (m *maker) connections() []Block {
	blocks := []Block{{
		Texts:  []string{"In this order each can be checked before the next is made."},
		Warned: []string{"No power while you solder: only where it says so, and off again. Goggles, fresh air. The meters come last."},
	}}
	section := ""
	var t *Table
	for i, c := range m.n.Connections {
		if c.Section != section || t == nil {
			section = c.Section
			t = &Table{Caption: section, Head: []string{"No.", "From", "To", "Then", "Mind", "Done"}}
			blocks = append(blocks, Block{Table: t})
		}
		t.Rows = append(t.Rows, []Cell{number(i + 1), text(c.From.String()), text(c.To.String()),
			text(string(c.State) + ": " + c.Expect), text(m.spared(c.Mind)), box})
	}
	return blocks
}

// parts are what is bought for one clock.
func (m *maker) parts() []Block {
	t := &Table{Head: []string{"Part", "How many", "For", "Or", "There"}}
	for _, l := range parts.New(m.n, 1, 0).Parts {
		t.Rows = append(t.Rows, []Cell{text(l.Name()), number(l.Needed), text(strings.Join(l.For, ", ")), text(l.Instead), box})
	}
	return []Block{{Table: t, Texts: []string{fmt.Sprintf("For one clock. Watts and volts are what a part has to stand, with a margin of two. %s", besides)}}}
}

const besides = "What the controller's pins need besides stands in its papers: mostly 100 nF at its supply pin. Wire, board and solder."
