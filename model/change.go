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

// changesText says what would change: "Fixed resistor 3.3 kΩ → 4.3 kΩ, trimmer
// 1 kΩ → 500 Ω".
func changesText(b *Build, changes []Change) string {
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
		parts = append(parts, label+" "+orNone(nominalText(c.Field.Text(b, c.Index)))+" → "+orNone(nominalText(c.Text)))
	}
	return strings.Join(parts, ", ")
}

// nominalText is a value's text without its tolerance.
func nominalText(text string) string {
	nominal, _, _ := strings.Cut(text, " ±")
	return nominal
}

func orNone(text string) string {
	if text == "" {
		return "none"
	}
	return text
}

// changed returns a copy of a build with changes made to it. What a built-in
// cell gave follows a change of the cell.
func (b *Build) changed(changes []Change) *Build {
	c := *b
	c.Hands, c.Lamps, c.Buttons = slices.Clone(b.Hands), slices.Clone(b.Lamps), slices.Clone(b.Buttons)
	another := false
	for _, change := range changes {
		change.put(&c)
		another = another || change.Field.Path == "battery.cell"
	}
	if another {
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
			*v = must(c.Text, c.Field.Unit)
		}
	case *int:
		*v = c.Field.absentCount
		if c.Text != "" {
			*v = mustCount(c.Text)
		}
	case *string:
		*v = c.Field.Absent
		if c.Text != "" {
			*v = c.Text
		}
	case *[]calc.Charge: // only ever taken out: see refill
		*v = nil
	}
}

// A trial works out what changes would bring about, in memory of its own.
type trial struct {
	build   *Build
	plan    Plan
	present score
}

// newTrial is a trial of a build whose findings are known.
func newTrial(b *Build, found []graded) *trial {
	t := &trial{build: b}
	for _, g := range found {
		t.present.add(g.severity)
	}
	return t
}

// of evaluates the build with changes made; the plan stays until the next one.
func (t *trial) of(changes []Change) (*Build, score) {
	b := t.build.changed(changes)
	Evaluate(b, &t.plan)
	var s score
	for k := range rules {
		r := &rules[k]
		for i := range r.count(b) {
			severity, _ := r.grade(subject{b, &t.plan, i})
			s.add(severity)
		}
	}
	return b, s
}

// A score counts findings by their severity: faults, cautions, notes.
type score [3]int

func (s *score) add(severity Severity) {
	if severity > Sound {
		s[Fault-severity]++
	}
}

// less says whether a build with this score is better than one with another.
func (s score) less(other score) bool { return slices.Compare(s[:], other[:]) < 0 }
