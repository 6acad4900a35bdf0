package fit

import (
	"encoding/csv"
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model"
)

// Bounds of a drawer: more than anyone has.
const (
	MostRows    = 20_000
	mostChars   = 200 // of a cell
	mostJoined  = 50  // lines of a cell in quotes
	mostColumns = 100
)

// A Drawer is what a table of meters says of each, with what of it could not be read.
type Drawer struct {
	Rows     []*Row
	Problems []Problem // of rows, which are left out
}

// A Problem says why a line of a drawer cannot be used.
type Problem struct {
	Line    int    // from 1
	Column  string // "" where it concerns no one cell
	Given   string
	Wrong   string
	Allowed string
	Remedy  string
}

// String is the problem in a sentence: "line 3: coil: "abc": …".
func (p Problem) String() string {
	return model.Problem{Line: p.Line, Path: p.Column, Given: p.Given, Wrong: p.Wrong, Allowed: p.Allowed, Remedy: p.Remedy}.String()
}

// Error makes it an error, where nothing of the drawer can be read.
func (p Problem) Error() string { return p.String() }

// Read reads a drawer: a table of comma-, semicolon- or tab-separated values, whose first
// line names the columns. Rows that cannot be read are among the problems; the error is a
// Problem of the whole.
func Read(text string) (*Drawer, error) {
	lines := lines(text)
	d := &Drawer{}
	first := slices.IndexFunc(lines, func(l string) bool { return strings.TrimSpace(l) != "" })
	if first < 0 {
		return nil, Problem{Line: 1, Wrong: "nothing stands in it", Allowed: ColumnNames(), Remedy: "write a first line with names of columns, and a line for each meter"}
	}
	r := &reader{lines: lines, at: first, comma: delimiterOf(lines[first])}
	cells, line, problem := r.next()
	if problem == nil {
		r.heads, problem = heads(cells, line)
	}
	if problem != nil {
		return nil, *problem
	}
	for n := 1; ; n++ {
		cells, line, problem := r.next()
		switch {
		case problem == nil && cells == nil:
			return d, nil
		case n > MostRows:
			return nil, Problem{Line: line, Wrong: fmt.Sprintf("more than %d meters", MostRows), Remedy: "put them into several files"}
		}
		var row *Row
		if problem == nil {
			row, problem = r.row(cells, line, n)
		}
		if problem != nil {
			d.Problems = append(d.Problems, *problem)
			continue
		}
		d.Rows = append(d.Rows, row)
	}
}

// lines are those of a text, whatever ends them, without a byte order mark.
func lines(text string) []string {
	text = strings.TrimPrefix(text, "\ufeff")
	return strings.Split(strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text), "\n")
}

// delimiterOf is what separates the names of the first line: a tab, a semicolon, else a
// comma.
func delimiterOf(head string) rune {
	for _, c := range "\t;" {
		if strings.ContainsRune(head, c) {
			return c
		}
	}
	return ','
}

// IsDrawer says whether a text looks like one: its first line that is not empty names a
// column of a drawer, and is none of a build.
func IsDrawer(text string) bool {
	for _, line := range lines(text) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		comma := delimiterOf(line)
		for head := range strings.SplitSeq(line, string(comma)) {
			if columnNamed(strings.Trim(head, `" `)) >= 0 {
				return true
			}
		}
		return false
	}
	return false
}

// heads are the columns of a first line, by their places; -1: an empty one.
func heads(cells []string, line int) ([]int, *Problem) {
	if len(cells) > mostColumns {
		return nil, &Problem{Line: line, Wrong: fmt.Sprintf("%d columns", len(cells)), Allowed: ColumnNames(), Remedy: "keep the columns of this list"}
	}
	found := make([]int, len(cells))
	for k, cell := range cells {
		found[k] = columnNamed(cell)
		switch {
		case strings.TrimSpace(cell) == "":
		case found[k] < 0:
			return nil, &Problem{Line: line, Given: cell, Wrong: "no column has this name", Allowed: ColumnNames(), Remedy: "name it by one of these, or take the column out"}
		case slices.Contains(found[:k], found[k]):
			return nil, &Problem{Line: line, Given: cell, Wrong: "the column stands twice", Allowed: "each name once", Remedy: "take one of the two out"}
		}
	}
	return found, nil
}

// A reader goes through the lines of a drawer.
type reader struct {
	lines []string
	at    int // the next one
	comma rune
	heads []int
}

// next gives the cells of the next line that is not empty, and of the lines that a cell in
// quotes goes on to; nil cells at the end.
func (r *reader) next() (cells []string, line int, problem *Problem) {
	for r.at < len(r.lines) && strings.TrimSpace(r.lines[r.at]) == "" {
		r.at++
	}
	if r.at == len(r.lines) {
		return nil, r.at, nil
	}
	line = r.at + 1
	for n := 1; n <= mostJoined && r.at+n <= len(r.lines); n++ {
		cells, open := r.split(strings.Join(r.lines[r.at:r.at+n], "\n"))
		if !open {
			r.at += n
			return cells, line, nil
		}
	}
	given := r.lines[r.at]
	r.at++ // a quote that is never closed costs its own line alone
	return nil, line, &Problem{Line: line, Given: given, Wrong: "a cell in quotes does not end", Allowed: `"…", with "" for a quote in it`, Remedy: "close the quotes"}
}

// split gives the cells of a record; open says that a cell in quotes goes on. A quote amid
// a cell without quotes, as after inches, is itself.
func (r *reader) split(text string) (cells []string, open bool) {
	c := csv.NewReader(strings.NewReader(text))
	c.Comma, c.FieldsPerRecord = r.comma, -1
	cells, err := c.Read()
	if errors.Is(err, csv.ErrBareQuote) {
		c = csv.NewReader(strings.NewReader(text))
		c.Comma, c.FieldsPerRecord, c.LazyQuotes = r.comma, -1, true
		cells, err = c.Read()
	}
	return cells, err != nil
}
