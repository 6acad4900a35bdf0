package uitest

import (
	"strings"

	"example.com/needlewright/ui/cells"
)

// Screen returns the h rows of w columns that something was drawn on. They stand above the
// last row of a canvas, whose last cell stays blank.
func Screen(w, h int, draw func(cells.Area)) []string {
	canvas := cells.New(w, h+1)
	draw(canvas.Area().Rows(0, h))
	return strings.Split(canvas.Plain(), "\n")[:h]
}

// Squeezed returns a text without its blanks and line ends, as it is broken on no screen.
func Squeezed(s string) string { return strings.Join(strings.Fields(s), "") }
