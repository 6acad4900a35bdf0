package model

import (
	"fmt"
	"math"
	"strings"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"
)

// EscapeControls writes what JSON allows to stand bare, but a terminal would obey or
// turn its writing by (controls, marks of direction, all that is not graphic), as
// escapes. The lines of JSON itself stay.
func EscapeControls(text []byte) []byte {
	var safe []byte
	for _, r := range string(text) {
		if r == '\n' || unicode.IsGraphic(r) {
			safe = utf8.AppendRune(safe, r)
			continue
		}
		for _, unit := range utf16.Encode([]rune{r}) {
			safe = fmt.Appendf(safe, `\u%04x`, unit)
		}
	}
	return safe
}

// OrNull is a number as JSON has it: null, which is nil here, where it is none or without end.
func OrNull(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// CSVCell is a text for a cell of a table that others open: one that a spreadsheet would
// take for a formula, since it begins with =, +, - or @, has an apostrophe before it.
func CSVCell(text string) string {
	if text != "" && strings.ContainsRune("=+-@", rune(text[0])) {
		return "'" + text
	}
	return text
}
