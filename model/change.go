package model

import (
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Change is another text for one value of a build; "" takes it out.
type Change struct {
	Field *Field
	Index int // of its hand or lamp
	Text  string
}

// Path is the path of the value: "hand.hours.drive.fixed".
func (c Change) Path(b *Build) string { return c.Field.PathOf(b, c.Index) }

// Make returns the document with changes made, in their order.
func (d *Document) Make(changes []Change) *Document {
	for _, c := range changes {
		d = d.Set(c.Field, c.Index, c.Text)
	}
	return d
}

// ChangesText says what would change: "Fixed resistor 3.3 kΩ → 4.3 kΩ, trimmer
// 1 kΩ → 500 Ω".
func ChangesText(b *Build, changes []Change) string {
	var parts []string
	cell := slices.ContainsFunc(changes, func(c Change) bool { return c.Field.Path == "battery.cell" })
	for _, c := range changes {
		if cell && c.Text == "" && parent(c.Field.Path) == "battery" {
			continue // what the build gave of the other cell goes with it
		}
		label := strings.TrimSpace(c.Field.Label)
		if len(parts) > 0 {
			label = strings.ToLower(label[:1]) + label[1:]
		}
		parts = append(parts, label+" "+OrNone(NominalText(c.Field.Text(b, c.Index)))+" → "+OrNone(NominalText(c.Text)))
	}
	return strings.Join(parts, ", ")
}

// NominalText is a value's text without its tolerance.
func NominalText(text string) string {
	nominal, _, _ := strings.Cut(text, " ±")
	return nominal
}

// OrNone returns a text, or "none" where it is empty.
func OrNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// Changed returns a copy of a build with changes made to it. What a built-in
// cell gave follows a change of the cell.
func (b *Build) Changed(changes []Change) *Build {
	c := *b
	c.Hands, c.Lamps = slices.Clone(b.Hands), slices.Clone(b.Lamps)
	c.Drains, c.Buttons = slices.Clone(b.Drains), slices.Clone(b.Buttons)
	if slices.ContainsFunc(changes, func(c Change) bool { return c.Field.row }) {
		for i := range c.Hands {
			c.Hands[i].Scale, c.Hands[i].Survey = slices.Clone(c.Hands[i].Scale), slices.Clone(c.Hands[i].Survey)
		}
		c.Walk = slices.Clone(b.Walk)
		for i := range c.Walk {
			c.Walk[i].Met = slices.Clone(c.Walk[i].Met)
		}
	}
	cells := false
	for _, change := range changes {
		change.put(&c)
		cells = cells || parent(change.Field.Path) == "battery"
	}
	if cells {
		c.Battery.refill(changes)
	}
	return &c
}

// put puts a text of the program's own into a build.
func (c Change) put(b *Build) {
	switch v := c.Field.At(b, c.Index).(type) {
	case *quantity.Value:
		*v = c.Field.absent
		if c.Text != "" {
			*v = quantity.MustParse(c.Text, c.Field.Unit)
		}
	case *int:
		*v = c.Field.absentCount
		if c.Text != "" {
			*v = quantity.MustParseCount(c.Text)
		}
	case *string:
		*v = c.Field.Absent
		if c.Text != "" {
			*v = c.Text
		}
	case *[]calc.Charge: // only ever taken out: see refill
		*v = nil
	case *[]calc.Point: // likewise
		*v = nil
	case *[]Hole: // likewise
		*v = nil
	}
}

// Real are the changes that change anything.
func (b *Build) Real(changes []Change) []Change {
	return slices.DeleteFunc(slices.Clone(changes), func(c Change) bool {
		return NominalText(c.Field.Text(b, c.Index)) == NominalText(c.Text)
	})
}

// refill puts the cell's numbers where the build gives none once changes are made.
func (b *Battery) refill(changes []Change) {
	for _, c := range changes {
		if parent(c.Field.Path) == "battery" {
			b.given.mark(last(c.Field.Path), c.Text != "")
		}
	}
	b.complete()
}
