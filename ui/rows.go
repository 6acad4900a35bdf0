package ui

import (
	"fmt"
	"strings"

	"example.com/needlewright/model"
)

// A pane is one of the forms that the header names, or what stands in its place: then
// it has no fields, and no rows.
type pane struct {
	name   string
	fields model.Pane // NoPane: none
}

// thePanes are all of them, in the order of the header.
var thePanes = []pane{
	{"Meter", model.MeterPane}, {"Filter", model.FilterPane}, {"Crystal", model.CrystalPane}, {"Battery", model.BatteryPane},
}

// A row is one line of a form that can have the keys: a field, or one pair of a
// field that holds a table.
type row struct {
	field   *model.Field
	index   int    // of its hand, lamp, drain or button
	heading string // of the group it begins, "" inside one
	cell    int    // the pair of the table, -1 for the field itself
}

// isHead says whether the row only stands above the pairs of a table.
func (r row) isHead() bool { return r.cell < 0 && r.field.IsTable() }

// is says whether a row of another document is the same.
func (r row) is(other row) bool {
	return r.field == other.field && r.index == other.index && r.cell == other.cell
}

// longest is how many characters a row takes.
func (r row) longest() int {
	if r.cell >= 0 {
		return model.LongestPair
	}
	return r.field.Longest()
}

// rowsOf is what rows depend on; a document never changes.
type rowsOf struct {
	doc  *model.Document
	pane int
	hand int
}

// rows are those of a form: of the hand in view, and of every lamp, drain and
// button.
func (f *form) rows(pane int) []row {
	if k := (rowsOf{f.s.doc, pane, f.s.hand}); f.made.of != k {
		f.made.of, f.made.rows = k, f.makeRows(f.panes[pane].fields)
	}
	return f.made.rows
}

func (f *form) makeRows(pane model.Pane) []row {
	if pane == model.NoPane {
		return nil
	}
	b := f.s.doc.Build
	m := former{doc: f.s.doc, rows: make([]row, 0, 64)}
	handName := ""
	if len(b.Hands) > 1 {
		handName = " – " + b.Hands[f.s.hand].Name
	}
	for _, field := range model.Builds.Fields {
		switch {
		case field.Pane != pane || field.Of(b) == 0:
		case field.List() == "hand":
			m.add(field, f.s.hand, handName)
		case field.List() == "":
			m.add(field, 0, "")
		}
	}
	for _, k := range kinds {
		if k.list == "hand" {
			continue
		}
		for i := range elements(b, k.list) {
			for _, field := range model.Builds.Fields {
				if field.Pane == pane && field.List() == k.list {
					m.add(field, i, " – "+elementName(b, k.list, i))
				}
			}
		}
	}
	return m.rows
}

// A former puts a form's rows together.
type former struct {
	doc         *model.Document
	rows        []row
	group, name string // last begun
}

// add adds a field, with a heading where its group begins, and a table's pairs
// with one more to add to them.
func (m *former) add(field *model.Field, index int, name string) {
	r := row{field: field, index: index, cell: -1}
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
		r.cell = i
		m.rows = append(m.rows, r)
	}
}

// text is what a row gives, as written.
func (f *form) text(r row) string {
	doc := f.s.doc
	if r.cell < 0 || doc.TooLong(r.field, r.index) > 0 {
		text, _ := doc.Given(r.field, r.index)
		return text
	}
	if pairs := doc.Pairs(r.field, r.index); r.cell < len(pairs) {
		return strings.TrimSuffix(pairs[r.cell][0]+pairSign+pairs[r.cell][1], pairSign)
	}
	return ""
}

// pairSign stands between the two values of a pair as it is typed.
const pairSign = " : "

// withPair is a table with one pair as typed. An emptied pair stays, to be typed
// anew, until its row is left.
func withPair(pairs [][2]string, at int, typed string) [][2]string {
	first, second, _ := strings.Cut(typed, ":")
	pair := [2]string{strings.TrimSpace(first), strings.TrimSpace(second)}
	changed := append([][2]string{}, pairs...)
	if at < len(changed) {
		changed[at] = pair
		return changed
	}
	return append(changed, pair)
}

// problem is that of a row's field; a table's stands at the pair that has the
// keys, else at its head.
func (f *form) problem(r row) *model.Problem {
	doc := f.s.doc
	if len(doc.Problems) == 0 {
		return nil
	}
	if r.field.IsTable() {
		focus, ok := f.focused()
		within := ok && focus.field == r.field && focus.index == r.index
		head := r.cell < 0 || len(doc.Pairs(r.field, r.index)) == 0
		if within && focus.cell != r.cell || !within && !head {
			return nil
		}
	}
	return doc.Problem(r.field, r.index)
}

// label is what a row is called: a pair by its number, but for a first one.
func (f *form) label(r row) string {
	if r.cell > 0 || r.cell == 0 && len(f.s.doc.Pairs(r.field, r.index)) > 0 {
		return fmt.Sprintf("%*d", labelColumns-3, r.cell+1)
	}
	return r.field.Label
}

// assumed is what stands in a row that is not given: what that means, in
// brackets.
func (f *form) assumed(r row) string {
	doc := f.s.doc
	if r.cell >= 0 {
		n, built := len(doc.Pairs(r.field, r.index)), r.field.PairsOf(doc.Build, r.index)
		switch {
		case n > 0:
			return "(one more)"
		case built > 0:
			return fmt.Sprintf("(%d pairs)", built)
		}
	}
	if s := doc.Assumed(r.field, r.index); s != "" {
		return "(" + s + ")"
	}
	if r.field.Must {
		return "needed"
	}
	return "–"
}
