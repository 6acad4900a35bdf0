package fit

import (
	"strings"

	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/model/fit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
)

// heads are those of the figures of a meter, and of a way.
var heads = []string{"verdict", "likely", "worst", "life", "way"}

var headsOfWays = []string{"likely", "worst", "life", "takes", "✗", "!"}

// entry is a meter as a line of the table.
func (v *View) entry(m *fit.Meter) front.Entry {
	e := front.Entry{Text: m.Name, Also: m.Verdict, Figures: []string{m.Verdict}, More: m.Why, Do: func() tea.Cmd { return v.open(m) }}
	if best := m.Best(); best != nil {
		e.Figures = append(e.Figures, minutes(best.Likely), minutes(best.Worst), life(best), best.ID)
		e.Also += " " + best.ID
	}
	return e
}

func minutes(x float64) string { return quantity.DialTimeIn(x, 3) }

// life is how long the cells last as the clock is used.
func life(w *fit.Way) string {
	if !w.HasCells() {
		return "no cells"
	}
	return quantity.ShowDuration(w.LifeMixed)
}

// open shows the ways of a meter.
func (v *View) open(m *fit.Meter) tea.Cmd {
	var entries []front.Entry
	for _, w := range m.Ways {
		entries = append(entries, front.Entry{
			Text: w.ID + ": " + w.Verdict, More: wayText(w), Do: func() tea.Cmd { return v.take(m, w) },
			Figures: []string{minutes(w.Likely), minutes(w.Worst), life(w), quantity.Show(w.Current, quantity.Microamperes, 3), quantity.Grouped(w.Faults), quantity.Grouped(w.Cautions)},
		})
	}
	back := func(string) tea.Cmd { return v.again() }
	under, hint := headsOfWays, m.Why+" Enter puts it into the clock, as one step of undo."
	if len(entries) == 0 {
		under, hint = nil, m.Why
	}
	entries = append(entries, front.Entry{Text: "Back to the drawer", More: measureText(m.Missing), Do: func() tea.Cmd { return back("") }})
	v.ways = &front.Prompt{
		Title: m.Name + ": " + m.Verdict, Hint: hint, Heads: under, Entries: entries, Fixed: true, Back: back,
	}
	v.form.Leave()
	v.front.Ask(v.ways, "")
	return nil
}

// wayText is what a way takes, and what is to be measured for it.
func wayText(w *fit.Way) string {
	text := "Takes: " + strings.Join(w.Parts, "; ") + "."
	if fault, ok := w.Finding(); ok {
		return fault.Text + " " + fault.Advice
	}
	if w.Verdict == fit.MeasureFirst {
		text = measureText(w.Missing) + " " + text
	}
	return text
}

// measureText says what is to be measured, and how.
func measureText(missing []string) string {
	var parts []string
	for _, column := range missing {
		words, how := fit.HowToMeasure(column)
		parts = append(parts, words+" ("+how+")")
	}
	if parts == nil {
		return ""
	}
	return "To be found out: " + strings.Join(parts, "; ") + "."
}

// take puts a meter into the clock, in one of its ways, as one step of undo.
func (v *View) take(m *fit.Meter, w *fit.Way) tea.Cmd {
	v.table, v.ways = nil, nil
	v.form.Leave()
	cmd := v.form.ReplaceUnder(w.Make(v.s.Doc))
	v.say.Say(m.Name + " is in the clock, by " + w.ID + ". Undo brings the former meter back.")
	return cmd
}

// help is the page of what the table is, and of the lines that cannot be read.
func (v *View) help(bool) front.Page {
	p := front.Page{Title: "A drawer of meters"}
	p.Add(draw.Value, "Each meter stands in for the one that the clock has in this hand, all else as it is. Likely and worst: how wrong it reads, a month after it was set. Life: of the cells, as the clock is used.")
	p.Add(draw.Value, "\nfits: with the parts as they stand. fits with changes: with others. measure first: a figure that nobody measured stands in. does not fit: no way was found.")
	p.Add(draw.Value, "\ndirect: from a pin. filter: with a filter of its own before it. half: on the half of a centre-zero scale. bridge: between two pins. switch: from two transistors. rail: at another rail. opened: what is inside is taken out, never of a dial that may be radium.")
	p.Add(draw.Value, "\nThe first line of the table names its columns, any of: "+fit.ColumnNames()+".")
	if v.drawer != nil && len(v.drawer.Problems) > 0 {
		p.Add(draw.Heading, "\nLines that cannot be read")
		for _, problem := range v.drawer.Problems[:min(len(v.drawer.Problems), mostProblems)] {
			p.Add(draw.Value, problem.String())
		}
	}
	return p
}

// mostProblems are more than anyone mends at a time.
const mostProblems = 50
