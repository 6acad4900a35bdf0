package plain

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/cells"
)

// Answer says it in words and a table of the values that are to be had.
func Answer(w io.Writer, a *whatif.Answer) error {
	result := func(y float64) string { return circuit.Outcome{Result: a.Result, Value: y}.Text() }
	Paragraph(w, "", a.Asked())
	if a.Same {
		Paragraph(w, "", a.Path()+" does not move "+a.ResultID()+".")
	}
	for i := range a.Solutions {
		s := &a.Solutions[i]
		fmt.Fprintf(w, "\n%s\n", a.Text(s))
		table := tabwriter.NewWriter(w, 0, 0, 3, ' ', 0)
		for _, choice := range s.Choices {
			fmt.Fprintf(table, "  %s\tgives %s\t%s\n", a.ValueText(choice.Value), result(choice.Result), s.Where(choice))
		}
		if err := table.Flush(); err != nil {
			return err
		}
	}
	if len(a.Solutions) > 0 {
		return nil
	}
	switch {
	case a.Nearest == nil:
		Paragraph(w, "", "There is no such result at any value.")
	default:
		Paragraph(w, "", "No value does it. The nearest: "+a.ValueText(a.Nearest.Value)+" gives "+result(a.Nearest.Result)+".")
	}
	for _, p := range a.Passes {
		Paragraph(w, "", fmt.Sprintf("It goes past it between %s, which gives %s, and %s, which gives %s.",
			a.ValueText(p[0].Value), result(p[0].Result), a.ValueText(p[1].Value), result(p[1].Result)))
	}
	return nil
}

// longestValue is how many columns a value of a comparison takes: a table of points is cut.
const longestValue = 32

// Comparison lists what differs.
func Comparison(w io.Writer, c *whatif.Comparison) error {
	if !c.Differ() {
		fmt.Fprintln(w, "The builds are alike.")
		return nil
	}
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	value := func(text string) string { return cells.Cut(Shown(model.OrNone(text)), longestValue) }
	if len(c.Inputs) > 0 {
		fmt.Fprintln(table, "Inputs")
	}
	for _, d := range c.Told() {
		fmt.Fprintf(table, "  %s\t%s\t→ %s\n", Shown(d.Path), value(d.A), value(d.B))
	}
	if len(c.Results) > 0 {
		fmt.Fprintln(table, "Results")
	}
	for i := range c.Results {
		d := &c.Results[i]
		a, b := d.Texts()
		fmt.Fprintf(table, "  %s\t%s\t→ %s\n", d.ID, a, b)
	}
	if len(c.Likely) > 0 {
		fmt.Fprintln(table, whatif.LikelyHead)
	}
	for i := range c.Likely {
		a, b := c.Likely[i].Texts()
		fmt.Fprintf(table, "  %s\t%s\t→ %s\n", Shown(c.Likely[i].Hand), a, b)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	printFound(w, "Findings that come", c.Come)
	printFound(w, "Findings that go", c.Gone)
	return nil
}

// printFound lists findings under a heading.
func printFound(w io.Writer, head string, findings []judge.Finding) {
	if len(findings) > 0 {
		fmt.Fprintln(w, head)
	}
	for _, f := range findings {
		Paragraph(w, "  ", strings.TrimSpace(f.String()))
	}
}
