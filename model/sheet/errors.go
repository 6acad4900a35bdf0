package sheet

import (
	"strings"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// errors are the budget and the error over the day of each hand, how its needle moves, and
// how the cells empty.
func (m *maker) errors() []Block {
	var blocks []Block
	for i := range m.b.Hands {
		blocks = append(blocks, m.budget(i))
		p := &m.r.Plan
		name := m.b.Hands[i].Name
		for _, plot := range []circuit.Plot{m.r.DayCurve(i), p.StepResponse(i), p.Wrap(i), p.RippleWave(i)} {
			blocks = m.plot(blocks, plot, name)
		}
	}
	return m.plot(blocks, m.r.Plan.Discharge(), "")
}

// budget is that of a hand, a month after its clock was set.
func (m *maker) budget(hand int) Block {
	b := m.r.Budget(hand, judge.AfterMonth)
	name := m.b.Hands[hand].Name
	minutes := func(x float64) string { return quantity.DialTimeIn(x, 3) }
	t := &Table{Caption: "Error budget of " + name + ", a month after it was set", Head: []string{"To blame", "At most", "Of it all", "What would help"}}
	total := []Cell{text("All the same way"), m.answer(name+": off at worst", minutes(b.Worst)), text(""), text("")}
	likely := []Cell{text("As much is likely"), m.answer(name+": likely off", minutes(b.RSS)), text(""), m.answer(name+": most at", most(&b))}
	t.Rows = append(t.Rows, total, likely)
	for k := range b.Rows {
		row := &b.Rows[k]
		asked := name + ": " + row.Label
		t.Rows = append(t.Rows, []Cell{text(row.Label), m.answer(asked, minutes(row.Amount)), m.answer(asked+", of it all", quantity.Show(row.Share, quantity.Percent, 2)), text(m.advice(row))})
	}
	block := Block{Table: t}
	if b.Unknown != nil {
		block.Texts = []string{"Not known: " + strings.Join(b.Unknown, ", ") + "."}
	}
	if m.learner {
		m.keep(Block{Texts: b.Lines(m.b)})
	}
	return block
}

// most is where on the dial it is likely most.
func most(b *judge.Budget) string {
	if len(b.Rows) == 0 {
		return ""
	}
	return "most at " + b.LikelyAt
}

// advice is what would reduce a row.
func (m *maker) advice(row *judge.BudgetRow) string {
	if m.learner {
		return ""
	}
	return row.Advice
}

// plot adds a plot, where there is something to show; of a learner one to be drawn.
func (m *maker) plot(blocks []Block, p circuit.Plot, of string) []Block {
	if of != "" {
		p.Title += " – " + of
	}
	f := plotted(p)
	if f == nil {
		return blocks
	}
	if m.learner {
		m.keep(Block{Figure: f})
		f = empty(p)
	}
	return append(blocks, Block{Figure: f})
}
