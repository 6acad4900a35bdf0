package front

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/keys"
)

// A keyList is the list of all keys.
type keyList struct {
	all []key.Binding
	top int // keys above the window
}

// The least width of a column of the list of keys, and in it that of the keys.
const (
	helpColumn = 25
	keyColumn  = 10
)

// grid is how many keys stand in a column of the list, and in how many columns, in a
// room of w by h.
func (l *keyList) grid(w, h int) (rows, columns int) {
	return max(1, h-1), max(1, w/helpColumn)
}

// turn scrolls the list; false where the key closes it.
func (l *keyList) turn(msg tea.KeyMsg, k *keys.Map, w, h int) bool {
	rows, columns := l.grid(w, h)
	last := max(0, len(l.all)-rows*columns)
	switch {
	case key.Matches(msg, k.Down), key.Matches(msg, k.ResultsDown):
		l.top = min(l.top+rows, last)
	case key.Matches(msg, k.Up), key.Matches(msg, k.ResultsUp):
		l.top = max(0, l.top-rows)
	case key.Matches(msg, k.Start):
		l.top = 0
	case key.Matches(msg, k.End):
		l.top = last
	default:
		return false
	}
	return true
}

// draw lists every key.
func (l *keyList) draw(frame cells.Area) {
	in := draw.Titled(frame, "Keys")
	w, h := in.Size()
	rows, columns := l.grid(w, h)
	wide := min(w/columns, helpColumn+3)
	all := l.all[min(l.top, len(l.all)):]
	for i, b := range all[:min(len(all), rows*columns)] {
		column := in.Sub(i/rows*wide, i%rows, wide-1, 1)
		column.Text(0, 0, draw.KeyName, b.Help().Key)
		column.Text(keyColumn, 0, draw.Label, b.Help().Desc)
	}
	hint := "Any key closes this list."
	if l.top > 0 || len(all) > rows*columns {
		hint = "↑↓ go through this list; any other key closes it."
	}
	in.Text(0, rows, draw.Dim, hint)
	if cells.Width(hint+BandLegend)+2 <= w {
		in.Rows(rows, 1).TextRight(0, draw.Dim, BandLegend)
	}
}

// BandLegend says what stands behind results.
const BandLegend = "4.6–4.7: " + draw.OfKits + " lie there; " + draw.SimulatedSign + ": simulated"
