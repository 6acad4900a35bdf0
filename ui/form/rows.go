package form

import (
	"fmt"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/session"
)

// A Pane is one of the forms that the header names, or what stands in its place: then
// it has no rows of the form.
type Pane struct {
	Name   string
	Fields model.Pane // NoPane: none; ScalePane: rows that a part of its own shows
}

// Panes are all of them, in the order of the header.
var Panes = []Pane{
	{"Meter", model.MeterPane}, {"Filter", model.FilterPane}, {"Crystal", model.CrystalPane}, {"Battery", model.BatteryPane},
	{"Dial", model.DialPane},
	{ScaleName, model.ScalePane}, {BenchName, model.NoPane},
}

// ScaleName is the pane on which the scale of a meter is measured.
const ScaleName = "Scale"

// BenchName is the pane on which the built clock is compared with its plan.
const BenchName = "Bench"

// A Row is one line of a form that can have the keys: a field, or one pair of a
// field that holds a table.
type Row struct {
	Field   *model.Field
	Index   int    // of its hand, lamp, drain or button
	heading string // of the group it begins, "" inside one
	Cell    int    // the pair of the table, -1 for the field itself
}

// isHead says whether the row only stands above the pairs of a table.
func (r Row) isHead() bool { return r.Cell < 0 && r.Field.IsTable() }

// isTyped says whether what stands in the row is typed, not chosen.
func (r Row) isTyped() bool { return r.Field.Choices == nil && !r.isHead() }

// is says whether a row of another document is the same.
func (r Row) is(other Row) bool {
	return r.Field == other.Field && r.Index == other.Index && r.Cell == other.Cell
}

// longest is how many characters a row takes.
func (r Row) longest() int {
	if r.Cell >= 0 {
		return model.LongestPair
	}
	return r.Field.Longest()
}

// rowsOf is what rows depend on; a document never changes.
type rowsOf struct {
	doc  *model.Document
	pane int
	hand int
}

// Rows are those of a form: of the hand in view, and of every lamp, drain and
// button.
func (f *Form) Rows(pane int) []Row {
	if k := (rowsOf{f.s.Doc, pane, f.s.Hand}); f.made.of != k {
		f.made.of, f.made.rows = k, f.makeRows(f.Panes[pane].Fields)
	}
	return f.made.rows
}

func (f *Form) makeRows(pane model.Pane) []Row {
	if pane == model.NoPane {
		return nil
	}
	b := f.s.Doc.Build
	m := former{doc: f.s.Doc, rows: make([]Row, 0, 64)}
	handName := ""
	if len(b.Hands) > 1 {
		handName = " – " + b.Hands[f.s.Hand].Name
	}
	for _, field := range model.Builds.Fields {
		switch {
		case field.Pane != pane || field.Of(b) == 0:
		case field.List() == "hand":
			m.add(field, f.s.Hand, handName)
		case field.List() == "":
			m.add(field, 0, "")
		}
	}
	for _, k := range session.Kinds {
		if k.List == "hand" {
			continue
		}
		for i := range session.Elements(b, k.List) {
			for _, field := range model.Builds.Fields {
				if field.Pane == pane && field.List() == k.List {
					m.add(field, i, " – "+session.ElementName(b, k.List, i))
				}
			}
		}
	}
	return m.rows
}

// A former puts a form's rows together.
type former struct {
	doc         *model.Document
	rows        []Row
	group, name string // last begun
}

// add adds a field, with a heading where its group begins, and a table's pairs
// with one more to add to them.
func (m *former) add(field *model.Field, index int, name string) {
	r := Row{Field: field, Index: index, Cell: -1}
	if field.Group != m.group || name != m.name {
		m.group, m.name = field.Group, name
		r.heading = field.Group + name
	}
	if !field.IsTable() {
		m.rows = append(m.rows, r)
		return
	}
	pairs := len(m.doc.Pairs(field, index))
	if pairs > 0 {
		m.rows = append(m.rows, r)
		r.heading = ""
	}
	for i := range min(pairs+1, max(pairs, model.MostPairs)) {
		r.Cell = i
		m.rows = append(m.rows, r)
	}
}

// Text is what a row gives, as written.
func (f *Form) Text(r Row) string {
	doc := f.s.Doc
	if r.Cell < 0 || doc.TooLong(r.Field, r.Index) > 0 {
		text, _ := doc.Given(r.Field, r.Index)
		return text
	}
	if pairs := doc.Pairs(r.Field, r.Index); r.Cell < len(pairs) {
		text := strings.Join(pairs[r.Cell], pairSign)
		for strings.HasSuffix(text, pairSign) { // of values that are not typed yet
			text = strings.TrimSuffix(text, pairSign)
		}
		return text
	}
	return ""
}

// pairSign stands between the values of a pair as it is typed.
const pairSign = " : "

// withPair is a table whose rows have so many cells, with one row as typed. An emptied one
// stays, to be typed anew, until it is left.
func withPair(pairs [][]string, at int, typed string, cells int) [][]string {
	pair := strings.SplitN(typed, ":", cells)
	for i := range pair {
		pair[i] = strings.TrimSpace(pair[i])
	}
	for len(pair) < cells {
		pair = append(pair, "")
	}
	changed := append([][]string{}, pairs...)
	if at < len(changed) {
		changed[at] = pair
		return changed
	}
	return append(changed, pair)
}

// problem is that of a row's field; a table's stands at the pair that has the
// keys, else at its head.
func (f *Form) problem(r Row) *model.Problem {
	doc := f.s.Doc
	if len(doc.Problems) == 0 {
		return nil
	}
	if r.Field.IsTable() {
		focus, ok := f.Focused()
		within := ok && focus.Field == r.Field && focus.Index == r.Index
		head := r.Cell < 0 || len(doc.Pairs(r.Field, r.Index)) == 0
		if within && focus.Cell != r.Cell || !within && !head {
			return nil
		}
	}
	return doc.Problem(r.Field, r.Index)
}

// label is what a row is called: a pair by its number, but for a first one.
func (f *Form) label(r Row) string {
	if r.Cell > 0 || r.Cell == 0 && len(f.s.Doc.Pairs(r.Field, r.Index)) > 0 {
		return fmt.Sprintf("%*d", layout.LabelColumns-3, r.Cell+1)
	}
	return r.Field.Label
}

// assumed is what stands in a row that is not given: what that means, in
// brackets.
func (f *Form) assumed(r Row) string {
	doc := f.s.Doc
	if r.Cell >= 0 {
		n, built := len(doc.Pairs(r.Field, r.Index)), r.Field.PairsOf(doc.Build, r.Index)
		switch {
		case n > 0:
			return "(one more)"
		case built > 0:
			return fmt.Sprintf("(%d pairs)", built)
		}
	}
	if s := doc.Assumed(r.Field, r.Index); s != "" {
		return "(" + s + ")"
	}
	if r.Field.Must {
		return "needed"
	}
	return "–"
}
