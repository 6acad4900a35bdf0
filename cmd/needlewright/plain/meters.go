package plain

import (
	"fmt"
	"strings"

	"example.com/needlewright/model/fit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
)

// Columns of the table of meters, all within 80.
const (
	nameWidth = 23
	fitLine   = "%s %-17s %-6s %8s %8s %12s"
)

// Meters is the table of meters, the best first, then what to do about each.
func Meters(meters []*fit.Meter) string {
	var b strings.Builder
	row := func(name string, rest ...any) {
		line := fmt.Sprintf(fitLine, append([]any{fixed(name, nameWidth)}, rest...)...)
		b.WriteString(strings.TrimRight(line, " ") + "\n")
	}
	row("meter", "verdict", "way", "likely", "worst", "life")
	for _, m := range meters {
		best := m.Best()
		if best == nil {
			row(m.Name, m.Verdict, "", "", "", "")
			continue
		}
		row(m.Name, m.Verdict, best.ID, minutesOf(best.Likely), minutesOf(best.Worst), lifeOf(best))
	}
	b.WriteString("\nlikely, worst: how wrong it reads, a month after it was set; life: as it is used\n")
	for _, part := range []struct{ head, verdict string }{
		{"With changes", fit.FitsWithChanges}, {"To be measured first", fit.MeasureFirst}, {"That do not fit", fit.DoesNotFit},
	} {
		head := "\n" + part.head + "\n"
		for _, m := range meters {
			if m.Verdict == part.verdict {
				b.WriteString(head)
				head = ""
				writeMeter(&b, m)
			}
		}
	}
	return b.String()
}

// writeMeter says why, and what to do.
func writeMeter(b *strings.Builder, m *fit.Meter) {
	lines := func(indent, text string) {
		for k, line := range cells.Lines(text, 78-len(indent)) {
			if k == 1 {
				indent += "  "
			}
			b.WriteString(indent + line + "\n")
		}
	}
	lines("", m.Name+": "+m.Why)
	if m.Verdict == fit.FitsWithChanges {
		lines("  ", strings.Join(m.Best().Parts, "; "))
	}
	for _, column := range m.Missing {
		words, how := fit.HowToMeasure(column)
		lines("  ", "measure "+column+", "+words+": "+how)
	}
}

// minutesOf is a dial time, "–" where there is none.
func minutesOf(x float64) string { return quantity.DialTimeIn(x, 3) }

// lifeOf is how long the cells last, as the clock is used, else awake.
func lifeOf(w *fit.Way) string {
	if w.HasCells() {
		return quantity.ShowDuration(w.LifeMixed)
	}
	return "no cells"
}
