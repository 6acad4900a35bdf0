package plain

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
)

// printBench says what the readings of a build say: of each its verdict, what may be
// wrong, the likeliest first, and what to measure next. Without readings, and rows of a
// scale that stand for some, it says nothing.
func printBench(w io.Writer, b *model.Build) {
	if len(b.Readings) == 0 && !slices.ContainsFunc(b.Hands, func(h model.Hand) bool { return len(h.Scale) > 0 }) {
		return
	}
	x := bench.New(b)
	r := x.Judge(b.Readings)
	if len(r.Readings) == 0 {
		return
	}
	fmt.Fprintln(w, "\nReadings of the built clock")
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for i := range r.Readings {
		t := &r.Readings[i]
		fmt.Fprintf(table, "%s\t%s\t%s\t%s\n", Shown(t.At), Shown(t.Given), verdictText(t), planText(x, r, t))
	}
	_ = table.Flush() // into memory
	if r.IsWeighed() {
		printCauses(w, x, r)
	}
	if r.IsWeighed() && len(r.Causes) > 0 && r.Causes[0].Probability >= bench.SureEnough {
		return
	}
	if len(r.Next) > 0 {
		step := r.Next[0]
		Paragraph(w, "", "Measure next: "+step.At+", "+bench.EffortOf(step.Cost)+". "+bench.Plainly(step.Why))
	}
}

// mostCauses are listed; of the likeliest it is said what it explains, how to confirm and how
// to mend it, and of all what contradicts them.
const mostCauses = 4

// verdictText is a verdict, or why there is none that counts.
func verdictText(t *bench.Read) string {
	if t.Before && t.Verdict != bench.Foreign {
		return "before the last repair: not weighed"
	}
	return string(t.Verdict)
}

// planText is what sound clocks read where a reading was taken.
func planText(x *bench.Bench, r *bench.Report, t *bench.Read) string {
	place, ok := x.PlaceOf(t.At)
	if !ok || t.Problem != "" {
		return t.Problem
	}
	for i := range r.Points {
		p := &r.Points[i]
		switch {
		case p.ID != t.At:
		case p.Words != nil:
			return "of " + strings.Join(p.Words, ", ")
		default:
			value, band := place.Sound(p)
			return "plan " + value + ", " + band
		}
	}
	return ""
}

// printCauses lists what may be wrong.
func printCauses(w io.Writer, x *bench.Bench, r *bench.Report) {
	for i := range r.Causes {
		c := &r.Causes[i]
		if i == mostCauses || i > 0 && c.Probability < bench.LeastShown {
			return
		}
		if i == 0 {
			fmt.Fprintln(w, "\nWhat it may be, the likeliest first")
		}
		fmt.Fprintf(w, "%s, %s: %s\n", bench.Percent(c.Probability), bench.ChanceOf(c.Probability), x.TitleOf(c))
		for n, part := range []struct{ lead, text string }{
			{"Contradicted by ", strings.Join(c.Contradicts, ", ")}, {"Explains ", strings.Join(c.Explains, ", ")}, {"Does not explain, to be read again: ", strings.Join(r.Unexplained(c), ", ")}, {"Confirm: ", c.Confirm}, {"Mend: ", c.Mend},
		} {
			if part.text != "" && (n == 0 || i == 0) {
				Paragraph(w, "  ", part.lead+part.text)
			}
		}
	}
}
