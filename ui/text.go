package ui

import (
	"strings"

	"github.com/charmbracelet/bubbles/key"

	"example.com/needlewright/ui/cells"
)

// fit writes a text and its tail in an area. What does not fit is cut with …, but
// the tail stands.
func fit(at cells.Area, style cells.Style, text, tail string) {
	_, h := at.Size()
	if whole := strings.TrimSpace(text + " " + tail); len(at.Lines(whole)) <= h {
		at.Wrap(0, style, whole)
		return
	}
	cut(at, style, text, tail)
}

// cut writes a text in an area, as much of it as fits, and the tail at its end.
func cut(at cells.Area, style cells.Style, text, tail string) {
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

// titled draws a frame with a title and returns the room inside.
func titled(at cells.Area, text string) cells.Area {
	at.Box(frame, "")
	w, h := at.Size()
	at.Sub(2, 0, w-4, 1).Text(0, 0, title, " "+text+" ")
	return at.Sub(2, 1, w-4, h-2)
}

// drawKeysLine says which keys there are, as many as fit.
func drawKeysLine(at cells.Area, keys []key.Binding) {
	w, _ := at.Size()
	x := 0
	for _, b := range keys {
		h := b.Help()
		if x+cells.Width(h.Key+" "+h.Desc) > w-1 {
			break
		}
		x += at.Text(x, 0, keyName, h.Key)
		x += at.Text(x+1, 0, dim, h.Desc) + 3
	}
}

// ofKits says what a band is, above bands.
const ofKits = "95 % of kits"

// simulatedSign stands before a band that is of simulated kits.
const simulatedSign = "≈"
