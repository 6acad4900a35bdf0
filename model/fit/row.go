package fit

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A Row is one meter of a drawer, as its cells say it.
type Row struct {
	Line   int // in the file, from 1
	N      int // among the meters, from 1
	Name   string
	Note   string
	inside string            // what is inside by its word; "" where it is not said
	texts  map[string]string // of meter's fields, by path
}

// row reads the cells of one meter.
func (r *reader) row(cells []string, line, n int) (*Row, *Problem) {
	row := &Row{Line: line, N: n, Name: fmt.Sprintf("row %d", n), texts: map[string]string{}}
	for k, cell := range cells {
		cell = strings.TrimSpace(cell)
		switch {
		case cell == "":
			continue
		case k >= len(r.heads):
			return nil, &Problem{Line: line, Given: cell, Wrong: fmt.Sprintf("%d cells stand in it, more than the first line has columns", len(cells)),
				Allowed: fmt.Sprintf("%d cells", len(r.heads)), Remedy: "put a cell that holds the separator in quotes"}
		case r.heads[k] < 0:
			return nil, &Problem{Line: line, Given: cell, Wrong: "its column has no name", Allowed: ColumnNames(), Remedy: "name the column in the first line"}
		}
		if p := row.take(&columns[r.heads[k]], cell); p != nil {
			return nil, p
		}
	}
	return row, row.check()
}

// take puts a cell into a row.
func (row *Row) take(c *column, cell string) *Problem {
	if utf8.RuneCountInString(cell) > mostChars {
		return &Problem{Line: row.Line, Column: c.name, Given: cell, Wrong: "too long", Allowed: fmt.Sprintf("%d characters", mostChars), Remedy: "shorten it"}
	}
	switch {
	case c.name == "name":
		row.Name = cell
		return nil
	case c.name == "note":
		row.Note = cell
		return nil
	case c.choices() != nil:
		word := c.choice(cell)
		if allowed := inWords(c.choices()); !isOne(c.choices(), word) {
			return &Problem{Line: row.Line, Column: c.name, Given: cell, Wrong: "no such choice", Allowed: allowed, Remedy: "write one of these, or leave the cell empty"}
		}
		cell = word
	case c.name != "marked":
		cell = quantity.Complete(cell, "", model.Builds.Field(c.field).Unit)
	}
	if c.name == "inside" {
		row.inside = cell
		return nil
	}
	row.texts[c.field] = cell
	return nil
}

func isOne(words []string, word string) bool {
	for _, w := range words {
		if w == word {
			return true
		}
	}
	return false
}

// inWords joins choices: "none, shunt or unknown".
func inWords(words []string) string {
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}

// check reads the values of a row by the rules of a build, and tells the first that cannot
// be used.
func (row *Row) check() *Problem {
	if len(row.texts) == 0 {
		return nil
	}
	_, problems := meterOf(row.texts)
	for _, p := range problems {
		path := "hand." + strings.TrimPrefix(p.Path, "hand."+handName+".")
		if _, given := row.texts[path]; given {
			return &Problem{row.Line, columnOf(path), p.Given, p.Wrong, p.Allowed, p.Remedy}
		}
	}
	return nil
}

// handName is the hand of the text by which a meter alone is read.
const handName = "x"

// meterOf reads a meter of which nothing but these texts is given, and the usual ones, as a
// build's file is read.
func meterOf(texts map[string]string) (*model.Meter, []model.Problem) {
	values := map[string]model.NewValue{"hand.name": {Text: handName}}
	for _, f := range meterFields {
		text, ok := texts[f.Path]
		if !ok {
			text = usual(f)
		}
		values[f.Path] = model.NewValue{Text: text}
	}
	b, problems := model.Read(model.Builds.NewText([]string{"", "hand", "hand.meter"}, values))
	return &b.Hands[0].Meter, problems
}

// meterFields are those of a build's meter.
var meterFields = func() (fields []*model.Field) {
	for _, f := range model.Builds.Fields {
		if strings.HasPrefix(f.Path, "hand.meter.") {
			fields = append(fields, f)
		}
	}
	return fields
}()

// usual is what stands for a field of a meter that nobody said: what a new build writes of
// it. Nothing of what the meter is measured by.
func usual(f *model.Field) string {
	if f.Path == lawPath { // of some kinds it is not known
		return ""
	}
	return f.New
}

// ofClock are the fields of a meter that are of the clock it goes into, and stay.
var ofClock = []string{"hand.meter.position", "hand.meter.panel", "hand.meter.neighbour", "hand.meter.diodes"}
