package model

import (
	"maps"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Document is the text of a build and what was read from it. The text is the
// document: every change is a change of text, and undo is a former text.
type Document struct {
	Text     string    // as it is edited: a value that is too long stands in it clipped; see Whole
	Root     any       // with what cannot be read taken as absent
	Build    *Build    // the same, of a build; nil in another kind of file
	Problems []Problem // none: the build can be evaluated

	outline *outline
	clips   *clips // nil: no value is too long
}

// Open reads a text of this kind into a document.
func (s *Schema) Open(text string) *Document { return s.open(text, nil) }

// open opens a text in which clipped values may stand, and clips those that are
// too long.
func (s *Schema) open(text string, c *clips) *Document {
	r := s.read(text, c)
	if len(r.longs) > 0 && !r.broken {
		if c == nil {
			c = &clips{clips: map[string]*clip{}, places: map[string]string{}}
		}
		return s.open(c.clipped(text, r.longs), c)
	}
	b, _ := r.root.(*Build)
	return &Document{Text: text, Root: r.root, Build: b, Problems: r.problems, outline: r.outline, clips: c}
}

// Set returns the document with a value put at the place of a field; see the
// function Set. A text that is not TOML stays as it is.
func (d *Document) Set(f *Field, index int, given string) *Document {
	return d.SetMarked(f, index, given, "")
}

// SetMarked does so and says behind the value where it is from, in a comment that Mark
// returns: "± assumed". It says nothing where another comment stands there, or another
// value.
func (d *Document) SetMarked(f *Field, index int, given, mark string) *Document {
	text, ok := d.outline.set(f, index, given, mark)
	if !ok || text == d.Text {
		return d
	}
	return d.Reopen(text)
}

// SetAnew does so with a value of another thing, such as another meter: a comment behind the
// former value, which was of that, goes with it.
func (d *Document) SetAnew(f *Field, index int, given, mark string) *Document {
	text, ok := d.outline.setAnew(f, index, given, mark)
	if !ok || text == d.Text {
		return d
	}
	return d.Reopen(text)
}

// Given returns what the text gives for a field, as written but without
// quotes; ok is false where it says nothing of it.
func (d *Document) Given(f *Field, index int) (text string, ok bool) {
	if v := d.outline.find(f.Path, index); v != nil {
		return f.spelled(v.text), v.text != ""
	}
	return "", false
}

// Assumed returns what a value means that the text does not give, "" where
// nothing is assumed.
func (d *Document) Assumed(f *Field, index int) string {
	if f.Must {
		return ""
	}
	switch f.At(d.Root, index).(type) {
	case *[]calc.Point, *[]calc.Charge, *[]Hole:
		return "" // too long to be read in passing
	}
	return f.Text(d.Root, index)
}

// Problem returns the problem of a field, nil where it has none.
func (d *Document) Problem(f *Field, index int) *Problem {
	path := f.PathOf(d.Root, index)
	for i := range d.Problems {
		if d.Problems[i].Path == path {
			return &d.Problems[i]
		}
	}
	return nil
}

// Broken says whether the text stops being TOML at some line: then no value can
// be set in it.
func (d *Document) Broken() bool { return d.outline.broken }

// Mark returns what the text says of where a value comes from, in a comment of
// its own behind it: "assumed", "suggested"; "" where it says nothing. Setting
// the value takes the comment away.
func (d *Document) Mark(f *Field, index int) string {
	v := d.outline.find(f.Path, index)
	if v == nil {
		return ""
	}
	mark, _ := d.outline.mark(v)
	return mark
}

// CountAssumed returns how many values the text says are assumed, or their tolerances.
func (d *Document) CountAssumed() int {
	n := 0
	for i := range d.outline.values {
		if mark, _ := d.outline.mark(&d.outline.values[i]); strings.HasSuffix(mark, "assumed") {
			n++
		}
	}
	return n
}

// Find returns the field of a path such as "hand.hours.meter.coil" and which of
// the hands or lamps it is of; ok is false where there is none.
func (d *Document) Find(path string) (f *Field, index int, ok bool) {
	t := d.outline.locate(path)
	return t.field, t.index, t.index >= 0
}

// ChangedValues counts the values that another document with the same lists gives
// otherwise.
func (d *Document) ChangedValues(other *Document) int {
	n := 0
	for _, f := range d.outline.schema.Fields {
		for i := range min(f.Of(d.Root), f.Of(other.Root)) {
			was, _ := d.Given(f, i)
			if now, _ := other.Given(f, i); now != was {
				n++
			}
		}
	}
	return n
}

// FirstChange returns the first value, in the order of the fields, that another
// document gives otherwise; ok is false where there is none, or the documents
// have not the same lists.
func (d *Document) FirstChange(other *Document) (f *Field, index int, ok bool) {
	own, others := d.outline, other.outline
	if !maps.Equal(own.count, others.count) || !maps.EqualFunc(own.owners, others.owners, slices.Equal) {
		return nil, 0, false
	}
	for _, f := range d.outline.schema.Fields {
		for i := range min(f.Of(d.Root), f.Of(other.Root)) {
			was, _ := d.Given(f, i)
			if now, _ := other.Given(f, i); now != was {
				return f, i, true
			}
		}
	}
	return nil, 0, false
}

// Takes says whether a build that differs from the document's in this value alone would have
// no problem: the value is within what is allowed, and agrees with the others.
func (d *Document) Takes(b *Build, f *Field, index int) bool {
	switch v := f.At(b, index).(type) {
	case *quantity.Value:
		if wrong, _ := f.wrongWith(*v); wrong != "" {
			return false
		}
	case *int:
		if n := float64(*v); n < f.low || n > f.high {
			return false
		}
	}
	o := *d.outline
	o.problems = nil
	r := &reader{outline: &o, root: b}
	o.schema.check(r)
	return len(r.problems) == 0
}

// Pairs returns the pairs the text gives for a table, or its rows of three, as written; none where it
// gives no table that can be read as pairs.
func (d *Document) Pairs(f *Field, index int) [][]string {
	if v := d.outline.find(f.Path, index); v != nil {
		return v.pairs
	}
	return nil
}

// SetPairs returns the document with a table of these pairs; none of them
// leaves it empty, which is absent.
func (d *Document) SetPairs(f *Field, index int, pairs [][]string) *Document {
	return d.Set(f, index, rowsText(pairs))
}
