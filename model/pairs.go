package model

import "example.com/needlewright/calc"

// IsTable says whether the field holds a table of pairs: the points of a law, a
// discharge curve.
func (f *Field) IsTable() bool { return f.table }

// List is the name of the list the field's table belongs to, "hand", "lamp", "hand.scale" …;
// "" where it stands once.
func (f *Field) List() string { return f.list }

// IsRow says whether the field stands in the rows that each element of a list has, as a
// hand has those of its survey: they say what was seen, and no result is worked out of
// their tolerances.
func (f *Field) IsRow() bool { return f.row }

// PairsOf returns how many pairs a build holds in a table, built-in ones
// counted; 0 for any other field.
func (f *Field) PairsOf(b *Build, index int) int {
	switch v := f.At(b, index).(type) {
	case *[]calc.Point:
		return len(*v)
	case *[]calc.Charge:
		return len(*v)
	}
	return 0
}

// Pairs returns the pairs the text gives for a table, as written; none where it
// gives no table that can be read as pairs.
func (d *Document) Pairs(f *Field, index int) [][2]string {
	if v := d.outline.find(f.Path, index); v != nil {
		return v.pairs
	}
	return nil
}

// SetPairs returns the document with a table of these pairs; none of them
// leaves it empty, which is absent.
func (d *Document) SetPairs(f *Field, index int, pairs [][2]string) *Document {
	return d.Set(f, index, rowsText(pairs))
}
