package uitest

import (
	"strings"

	"example.com/needlewright/ui/cells"
)

// Screen returns the rows of a canvas of w by h after something was drawn on it.
func Screen(w, h int, draw func(cells.Area)) []string {
	canvas := cells.New(w, h)
	draw(canvas.Area())
	return strings.Split(canvas.Plain(), "\n")
}

// Squeezed returns a text without its blanks and line ends, as it is broken on no screen.
func Squeezed(s string) string { return strings.Join(strings.Fields(s), "") }
