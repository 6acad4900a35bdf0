package model

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model/quantity"
)

// NewBuild returns the text of a whole build from three readings as typed: the
// coil (bare: Ω), the current for full scale (bare: µA) and the rail (bare: V).
// The parts are suggested to suit them, so that as little as can be is left to be
// found; all else is what is usual. Each such value says so in a comment. The
// problems are those of the readings, as Read gives them; with any, nothing is
// suggested.
func NewBuild(coil, fullScale, rail string) (text string, problems []Problem) {
	values := map[string]newValue{
		"hand.meter.coil":       {text: coil},
		"hand.meter.full_scale": {text: fullScale},
		"rail.voltage":          {text: rail},
	}
	text = Builds.newText(newTables, values)
	b, problems := Read(text)
	if len(problems) > 0 {
		return text, problems
	}
	suggest(b, values)
	text = Builds.newText(newTables, values)
	_, problems = Read(text)
	return text, problems
}

// newTables are the tables of a new build, in the order of its file.
var newTables = []string{"", "rail", "hand", "hand.meter", "hand.drive", "crystal", "battery", "converter", "load", "lamp"}

// newElement is the text of one of a list, of usual values.
func (s *Schema) newElement(list string) string {
	var tables []string
	for _, f := range s.Fields {
		if table := parent(f.Path); f.list == list && !slices.Contains(tables, table) {
			tables = append(tables, table)
		}
	}
	return s.newText(tables, nil)
}

// A newValue is what a new text gives for a field, and the comment behind it.
type newValue struct{ text, comment string }

// newText writes tables with the values given by path, and the usual ones of
// the fields table for the rest. Comments stand in one column.
func (s *Schema) newText(tables []string, values map[string]newValue) string {
	var lines []newValue
	for i, path := range tables {
		if i > 0 {
			lines = append(lines, newValue{})
		}
		switch {
		case s.isList(path):
			lines = append(lines, newValue{text: "[[" + path + "]]"})
		case path != "":
			lines = append(lines, newValue{text: "[" + path + "]"})
		}
		for _, f := range s.Fields {
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

// suggest takes over the parts that are suggested for a build, one after another,
// until nothing is, and puts them with the values of its text.
func suggest(b *Build, values map[string]newValue) {
	minimum := usualBrownOut(b.Rail.Voltage.Number)
	values["load.minimum_voltage"] = newValue{minimum, "assumed"}
	b.Load.MinimumVoltage = must(minimum, quantity.Volts)
	b.Crystal.CapacitorIn.Number, b.Crystal.CapacitorOut.Number = 0, 0 // still to be chosen
	var p Plan
	for {
		Evaluate(b, &p)
		found := gradeAll(b, &p)
		better := suggestions(b, &p, newTrial(b, found), found)
		if len(better) == 0 {
			return
		}
		for _, c := range better[0].Changes {
			values[c.Field.Path] = newValue{c.Text, "suggested"}
		}
		b = b.changed(better[0].Changes)
	}
}

// usualBrownOut is the rail below which a controller for such a rail, V, stops;
// "" where even that of a low-voltage one is too near. Common practice, no source.
func usualBrownOut(rail float64) string {
	switch {
	case rail >= 4:
		return "2.3 V"
	case rail >= 2:
		return "1.8 V"
	}
	return ""
}
