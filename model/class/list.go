// Package class has what a teacher needs of the builds of a class: the list of them, clocks
// with planted faults to be diagnosed, and a starter file for a kit.
package class

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
	"example.com/needlewright/model/walk"
)

// A Row is a build among others, or why it cannot be read.
type Row struct {
	File    string
	Problem string // why it cannot be read; "": it can

	Title, Builder   string
	Stage            string // of the work, that comes next, "drive" or "drive, hours"; "done": none
	Hands            []Hand
	Overload         float64 // the worst of all hands, times full scale; NaN without one
	Likely           float64 // min of the dial, the largest of all hands, a month after the clock was set
	Life             float64 // h as used, NaN where it is not known
	Faults, Cautions int     // found
	Readings, Inside int     // of the built clock, taken since the last repair; and within the plan's bands
}

// A Hand is one of a build: what its meter is, and the parts beside it.
type Hand struct {
	Name            string
	Coil, FullScale quantity.Value
	Parts           string // "8.2 kΩ + 1 kΩ, 4.7 µF"
	Overload        float64
	Likely          float64
}

// RowOf is the row of a build's text.
func RowOf(file, text string) *Row {
	d := model.Open(text)
	row := Unreadable(file, "")
	row.Title, row.Builder = d.Build.Title, d.Build.Builder
	if n := model.Count(d.Problems); n > 0 {
		row.Problem = d.Problems[0].String()
		if n > 1 {
			row.Problem += " (and " + quantity.Counted(n-1, "other") + ")"
		}
		if supposed, ok := walk.Supposed(d); ok { // it is a starter file still
			row.Stage = stageOf(report.Of(supposed))
		}
		return row
	}
	r := report.Of(d)
	row.Stage = stageOf(r)
	for i := range d.Build.Hands {
		h := handOf(r, i)
		row.Hands = append(row.Hands, h)
		row.Overload, row.Likely = larger(row.Overload, h.Overload), larger(row.Likely, h.Likely)
	}
	row.Life = circuit.Finite(r.Plan.Battery.LifeMixed)
	for _, f := range report.Joined(r.Findings) {
		switch f.Severity {
		case judge.Fault:
			row.Faults++
		case judge.Warning:
			row.Cautions++
		}
	}
	row.count(d.Build)
	return row
}

// stageOf is the stage that comes next.
func stageOf(r *report.Report) string {
	if next := r.Walk().Next(); next != nil {
		return next.Name()
	}
	return "done"
}

// Unreadable is the row of a file that cannot be read, with why.
func Unreadable(file, why string) *Row {
	return &Row{File: file, Problem: why, Overload: math.NaN(), Likely: math.NaN(), Life: math.NaN()}
}

// LikelyText is how wrong it is likely to read, as people read it; "–" where it has no hand.
func (row *Row) LikelyText() string {
	return quantity.DialTimeIn(row.Likely, 3)
}

// larger is the larger of two numbers, of which one may be none.
func larger(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// handOf is a hand of a build.
func handOf(r *report.Report, i int) Hand {
	h, p := &r.Build.Hands[i], &r.Plan.Hands[i]
	d := &h.Drive
	var series, parts []string
	for _, resistor := range []quantity.Value{d.Stage, d.Fixed, d.Trimmer} {
		if resistor.Number > 0 {
			series = append(series, model.PlainText(resistor.Number, quantity.Ohms))
		}
	}
	if series != nil {
		parts = append(parts, strings.Join(series, " + "))
	}
	if d.Capacitor.Number > 0 {
		parts = append(parts, model.PlainText(d.Capacitor.Number, quantity.Microfarads))
	}
	return Hand{
		Name: h.Name, Coil: h.Meter.Coil, FullScale: h.Meter.FullScale, Parts: strings.Join(parts, ", "),
		Overload: circuit.Finite(p.OverloadWorst), Likely: r.AfterMonth(i).RSS,
	}
}

// count counts the readings.
func (row *Row) count(b *model.Build) {
	if len(b.Readings) == 0 { // a bench takes a while
		return
	}
	for _, t := range bench.New(b).Verdicts(b.Readings).Readings {
		if t.Before {
			continue
		}
		row.Readings++
		if t.Verdict == bench.Inside {
			row.Inside++
		}
	}
}
