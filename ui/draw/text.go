package draw

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.com/needlewright/ui/cells"
)

// Fit writes a text and its tail in an area. What does not fit is cut with …, but
// the tail stands.
func Fit(at cells.Area, style cells.Style, text, tail string) {
	_, h := at.Size()
	if whole := strings.TrimSpace(text + " " + tail); len(at.Lines(whole)) <= h {
		at.Wrap(0, style, whole)
		return
	}
	Cut(at, style, text, tail)
}

// Cut writes a text in an area, as much of it as fits, and the tail at its end.
func Cut(at cells.Area, style cells.Style, text, tail string) {
	w, h := at.Size()
	lines := at.Lines(text)
	for y, s := range lines[:min(len(lines), h)] {
		if y < h-1 {
			at.Text(0, y, style, s)
			continue
		}
		room := w
		if tail != "" {
			room -= cells.Width(tail) + 1
		}
		at.Sub(0, y, room, 1).Text(0, 0, style, strings.Join(lines[y:], " "))
	}
	at.Rows(h-1, 1).TextRight(0, style, tail)
}

// Titled draws a frame with a title and returns the room inside.
func Titled(at cells.Area, text string) cells.Area {
	at.Box(Frame, "")
	w, h := at.Size()
	at.Sub(2, 0, w-4, 1).Text(0, 0, Title, " "+text+" ")
	return at.Sub(2, 1, w-4, h-2)
}

// Footed writes a text in the lower edge of a frame, as much of it as fits.
func Footed(frame cells.Area, style cells.Style, text string) {
	w, h := frame.Size()
	edge := frame.Sub(2, h-1, w-4, 1)
	inside := edge.Inset(1, 0)
	edge.Sub(0, 0, inside.Text(0, 0, style, text)+2, 1).Fill(style, ' ')
	inside.Text(0, 0, style, text)
}

// Here marks the line that has the keys, or is chosen, for eyes without colours too.
func Here(at cells.Area) { at.Text(0, 0, Needle, "▸") }

// KeysLine says which keys there are, as many as fit.
func KeysLine(at cells.Area, keys []key.Binding) {
	w, _ := at.Size()
	x := 0
	for _, b := range keys {
		h := b.Help()
		if x+cells.Width(h.Key+" "+h.Desc) > w-1 {
			break
		}
		x += at.Text(x, 0, KeyName, h.Key)
		x += at.Text(x+1, 0, Dim, h.Desc) + 3
	}
}

// OfKits says what a band is, above bands.
const OfKits = "95 % of kits"

// SimulatedSign stands before a band that is of simulated kits.
const SimulatedSign = "≈"
