package sheet

import (
	_ "embed"
	"strings"
	"unicode"

	"example.com/needlewright/model/page"
)

//go:embed sheet.html
var body string

// HTML returns the sheet as one HTML file, without a script and without a link to the outside.
// The same sheet gives the same bytes.
func (s *Sheet) HTML() (string, error) {
	made, err := page.Make(visible(s.Title), body, s)
	return visible(made), err
}

// visible is a text without marks that turn the direction of writing and without controls: a
// title that has them turns nothing round that stands beside it.
func visible(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.Is(unicode.Cf, r) && r != '\u200c' && r != '\u200d', unicode.IsControl(r): // these two join letters
			return -1
		}
		return r
	}, text)
}

// Class is how a table is set: one of more than two columns is a block a row on a phone.
func (t *Table) Class() string {
	switch {
	case t.Tight:
		return "stacks tight"
	case len(t.Head) > 2:
		return "stacks"
	}
	return ""
}

// Unbroken says whether a cell's number is short enough to stand in one line.
func (c Cell) Unbroken() bool { return c.Number && len([]rune(c.Text)) <= mostUnbroken }

const mostUnbroken = 22

// Names is how a table's row begins: with what it is about.
func (t *Table) Names() bool { return len(t.Head) > 0 && t.Head[0] != "No." }

// Is is what a cell is of.
func (t *Table) Is(column int) string { return t.Head[column] }
