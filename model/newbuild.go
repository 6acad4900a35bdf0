package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// NewBuild returns the text of a whole build from three readings as typed: the
// coil (bare: Ω), the current for full scale (bare: µA) and the rail (bare: V).
// The series resistance, the filter's capacitor, the crystal's capacitors and
// the number of cells are suggested to suit them; all else is what is usual. Each
// such value says so in a comment. The problems are those of the readings, as
// Read gives them; with any, nothing is suggested.
func NewBuild(coil, fullScale, rail string) (text string, problems []Problem) {
	values := map[string]newValue{
		"hand.meter.coil":       {text: coil},
		"hand.meter.full_scale": {text: fullScale},
		"rail.voltage":          {text: rail},
	}
	text = newText(newTables, values)
	b, problems := Read(text)
	if len(problems) > 0 {
		return text, problems
	}
	suggest(b, values)
	text = newText(newTables, values)
	_, problems = Read(text)
	return text, problems
}

// newTables are the tables of a new build, in the order of its file.
var newTables = []string{"", "rail", "hand", "hand.meter", "hand.drive", "crystal", "battery", "converter", "load", "lamp"}

// newElement is the text of one of a list, of usual values.
func newElement(list string) string {
	var tables []string
	for _, f := range fields {
		if table := parent(f.Path); f.list == list && !slices.Contains(tables, table) {
			tables = append(tables, table)
		}
	}
	return newText(tables, nil)
}

// A newValue is what a new text gives for a field, and the comment behind it.
type newValue struct{ text, comment string }

// newText writes tables with the values given by path, and the usual ones of
// the fields table for the rest. Comments stand in one column.
func newText(tables []string, values map[string]newValue) string {
	var lines []newValue
	for i, path := range tables {
		if i > 0 {
			lines = append(lines, newValue{})
		}
		switch {
		case isList(path):
			lines = append(lines, newValue{text: "[[" + path + "]]"})
		case path != "":
			lines = append(lines, newValue{text: "[" + path + "]"})
		}
		for _, f := range fields {
			if parent(f.Path) != path {
				continue
			}
			v, ok := values[f.Path]
			if !ok {
				v = f.usual()
			}
			if v.text != "" || f.Must {
				lines = append(lines, newValue{last(f.Path) + " = " + f.written(v.text), v.comment})
			}
		}
	}
	return inColumns(lines)
}

// usual is what a new build gives for a field.
func (f *Field) usual() newValue {
	switch {
	case f.New == "" && f.Must:
		return newValue{"", "measure it"}
	case f.isWords() || f.Path == "format":
		return newValue{f.New, ""}
	}
	return newValue{f.New, "assumed"}
}

func inColumns(lines []newValue) string {
	column := 0
	for _, l := range lines {
		if l.comment != "" {
			column = max(column, utf8.RuneCountInString(l.text)+2)
		}
	}
	var b strings.Builder
	for _, l := range lines {
		b.WriteString(l.text)
		if l.comment != "" {
			fmt.Fprintf(&b, "%*s# %s", column-utf8.RuneCountInString(l.text), "", l.comment)
		}
		b.WriteByte('\n')
	}
	return b.String()
}

// suggest sizes the parts around the first hand of a build and puts them with
// the values of its text.
func suggest(b *Build, values map[string]newValue) {
	put := func(path string, x, tolerance float64) {
		v := quantity.Value{Number: x}
		if x > 0 {
			v.Tolerance, v.Share = tolerance, true
		}
		values[path] = newValue{quantity.Format(v, fieldTable[path].Unit), "suggested"}
	}
	var p Plan
	Evaluate(b, &p)
	d := &b.Hands[0].Drive
	d.Fixed.Number, d.Trimmer.Number = seriesParts(p.Hands[0].SeriesNeeded)
	put("hand.drive.fixed", d.Fixed.Number, 0.01)
	put("hand.drive.trimmer", d.Trimmer.Number, 0.10)
	put("hand.drive.capacitor", quietCapacitor(b), 0.20)
	each := calc.NearestPreferred(p.Crystal.CapacitorEach, calc.E12)
	put("crystal.capacitor_in", each, 0.05)
	put("crystal.capacitor_out", each, 0.05)
	if cells := cellsBelow(b); cells < b.Battery.Cells {
		values["battery.cells"] = newValue{fmt.Sprint(cells), "suggested"}
	}
}

// seriesParts are the fixed resistor and the trimmer, Ω, for a series
// resistance: a trimmer of about 30 % of it, to stand near its middle. 0 for
// both where there is nothing to drop. Common practice, no source.
func seriesParts(needed float64) (fixed, trimmer float64) {
	if needed <= 0 {
		return 0, 0
	}
	trimmer = max(calc.NearestPreferred(0.3*needed, calc.OneTwoFive), leastPart[quantity.Ohms])
	middle := needed - trimmer/2
	if middle <= 0 {
		return 0, trimmer
	}
	above := calc.NextPreferred(middle, calc.E24, true)
	below := calc.NextPreferred(above, calc.E24, false)
	if above-middle < middle-below {
		return above, trimmer
	}
	return below, trimmer
}

// quietCapacitor is the smallest capacitor, F, that keeps the first hand's
// tremble below what the eye sees and its hum below what the ear hears; 0 where
// there is no need of one, where none will do, and where it would ask more of
// the pin than it gives.
func quietCapacitor(b *Build) float64 {
	d := &b.Hands[0].Drive
	most := fieldTable["hand.drive.capacitor"].high
	var p Plan
	for c := 0.0; c <= most; c = calc.NextPreferred(max(c, 1e-9), calc.E6, true) {
		d.Capacitor.Number = c
		Evaluate(b, &p)
		switch h := &p.Hands[0]; {
		case c > 0 && h.PinPeakCurrent > d.PinLimit.Number:
			return 0
		case h.RippleNeedle/p.Minutes(0) <= 0.002 && !hums(h, d):
			return c
		}
	}
	return 0
}

// hums says whether the coil's ripple, peak to peak, is more than 10 % of full
// scale at a frequency that is heard. Common practice, no source.
func hums(h *HandPlan, d *Drive) bool {
	ripple := h.RippleVoltageWorst / h.FullScaleVoltage
	if math.IsNaN(ripple) { // no capacitor: all of the pulse
		ripple = h.FullScaleReached * float64(d.Counts) / float64(d.Top)
	}
	return ripple > 0.1 && 100 < h.PWMFrequency && h.PWMFrequency < 8000
}

// cellsBelow is the most cells of the build's kind, 1 at least, whose fresh pack
// stands clear below the rail, so that a step-up never passes it through.
func cellsBelow(b *Build) int {
	fresh := b.Battery.Curve[0].Rest
	return max(1, int((b.Rail.Voltage.Number-0.2)/fresh))
}
