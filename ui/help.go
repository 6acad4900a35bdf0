package ui

import (
	"image"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"example.com/needlewright/ui/cells"
)

// bandLegend says what stands behind results.
const bandLegend = "4.6–4.7: " + ofKits + " lie there; " + simulatedSign + ": simulated"

// helpColumn is the width of a column of the list of keys.
const helpColumn = 28

// helpGrid is how many keys stand in a column of the list, and in how many
// columns.
func (a *App) helpGrid() (rows, columns int) {
	in := inside(image.Rect(0, 1, a.width, a.height-1))
	return max(1, in.Dy()-1), max(1, in.Dx()/helpColumn)
}

// turnHelp scrolls the list of keys, or closes it.
func (a *App) turnHelp(msg tea.KeyMsg) {
	rows, columns := a.helpGrid()
	last := max(0, len(a.keys.all())-rows*columns)
	switch {
	case key.Matches(msg, a.keys.Down), key.Matches(msg, a.keys.ResultsDown):
		a.helpTop = min(a.helpTop+rows, last)
	case key.Matches(msg, a.keys.Up), key.Matches(msg, a.keys.ResultsUp):
		a.helpTop = max(0, a.helpTop-rows)
	default:
		a.mode = editing
	}
}

// drawKeys lists every key.
func (a *App) drawKeys() {
	in := a.titled(image.Rect(0, 1, a.width, a.height-1), "Keys")
	rows, columns := a.helpGrid()
	all := a.keys.all()
	all = all[min(a.helpTop, len(all)):]
	for i, b := range all[:min(len(all), rows*columns)] {
		column := in.Sub(i/rows*helpColumn, i%rows, helpColumn-1, 1)
		column.Text(0, 0, keyName, b.Help().Key)
		column.Text(11, 0, label, b.Help().Desc)
	}
	hint := "Any key closes this list."
	if a.helpTop > 0 || len(all) > rows*columns {
		hint = "↑↓ go through this list; any other key closes it."
	}
	in.Text(0, rows, dim, hint)
	if w, _ := in.Size(); cells.Width(hint+bandLegend)+2 <= w {
		in.Rows(rows, 1).TextRight(0, dim, bandLegend)
	}
}
