package ui

import "example.com/needlewright/ui/cells"

// The smallest window the dashboard is drawn in.
const (
	leastWidth  = 60
	leastHeight = 20
)

// A layout is where everything stands on the screen. All arithmetic about it is
// in this file.
type layout struct {
	header, help, foot cells.Area
	form, side         cells.Area // with their frames
}

// layout divides the window: a line of forms above, what the focused field is
// and the keys below, and between them the form and, beside it, the needle with
// the results.
func (a *App) layout() layout {
	whole := a.canvas.Area().Sub(0, 0, a.width, a.height)
	var l layout
	l.header, whole = whole.SplitTop(1)
	body, rest := whole.SplitTop(a.height - 2 - helpRows(a.width))
	l.help, l.foot = rest.SplitTop(helpRows(a.width))
	l.form, l.side = body.SplitLeft(formColumns(a.width))
	return l
}

// helpRows are the rows a field's longest help takes.
func helpRows(width int) int {
	switch {
	case width < 80:
		return 5
	case width < 110:
		return 4
	}
	return 3
}

func formColumns(width int) int { return max(33, min(36+(width-80)/4, 54)) }

// sideParts divides the inside of the right side: dial, two lines of readout, a
// dividing line, findings and results.
func sideParts(inside cells.Area) (dial, readout, divider, below cells.Area) {
	_, h := inside.Size()
	dial, rest := inside.SplitTop(dialRows(h))
	readout, rest = rest.SplitTop(2)
	divider, below = rest.SplitTop(1)
	return dial, readout, divider, below
}

func dialRows(inside int) int { return max(5, min(inside*45/100, 20)) }

// resultLines is how many lines of results are in view at once.
func (l layout) resultLines() int {
	_, _, _, below := sideParts(l.side.Inset(2, 1))
	_, h := below.Size()
	return max(h, 2)
}

// resultColumn is the least width of a column of results, with its gap.
const resultColumn = 34

// resultColumns are how many columns of results stand side by side.
func resultColumns(width int) int { return max(1, width/resultColumn) }

// airFrom is how many rows must be free before a blank one is spent on air.
const airFrom = 8

// titled draws a frame with a title and returns the room inside.
func titled(at cells.Area, text string) cells.Area {
	w, _ := at.Size()
	in := at.Box(frame, "").Inset(1, 0)
	if text != "" {
		at.Sub(2, 0, w-4, 1).Text(0, 0, title, " "+text+" ")
	}
	return in
}
