// Package plain prints what the commands answer as text, for people: lines of no
// more than a hundred columns, most of them eighty.
package plain

import (
	"fmt"
	"io"
	"strings"
	"unicode"

	"example.com/needlewright/ui/cells"
)

// textWidth is how many columns the text of a report takes at most, but for what cannot be
// broken.
const textWidth = 100

// Shown is a text from outside as one line, with what a terminal could obey
// replaced.
func Shown(s string) string { return strings.Map(Graphic, s) }

// Graphic is a character, or the one that replaces those that are not to be seen:
// controls, and marks that turn the direction of writing.
func Graphic(r rune) rune {
	if unicode.IsGraphic(r) {
		return r
	}
	return unicode.ReplacementChar
}

// Lines are lines from outside as one text, each as Shown gives it.
func Lines(lines []string) string {
	for k := range lines {
		lines[k] = strings.TrimRight(Shown(lines[k]), " ")
	}
	return strings.Join(lines, "\n")
}

// Paragraph writes a text in lines of the width, all but the first of them two columns in
// from where it begins.
func Paragraph(w io.Writer, indent, text string) {
	further := indent + "  "
	for i, line := range cells.Lines(text, textWidth-len(further)) {
		if i > 0 {
			indent = further
		}
		fmt.Fprintln(w, indent+line)
	}
}

// fixed is a text in so many columns.
func fixed(text string, width int) string {
	text = cells.Cut(Shown(text), width)
	return text + strings.Repeat(" ", width-cells.Width(text))
}
