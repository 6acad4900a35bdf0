package ui

import (
	"image"

	"example.com/needlewright/ui/cells"
)

// The smallest window the dashboard is drawn in.
const (
	leastWidth  = 60
	leastHeight = 20
)

// A layout is where everything stands on the screen, in cells. All arithmetic
// about it is in this file.
type layout struct {
	help, foot image.Rectangle
	form, side image.Rectangle // with their frames
	page       image.Rectangle // over both, with its frame

	dial, readout, divider, below image.Rectangle // inside side
}

// layoutOf divides a window: a line of forms above, what the focused field is
// and the keys below, and between them the form and, beside it, the needle with
// the findings and results.
func layoutOf(w, h int) layout {
	var l layout
	helpTop := h - 1 - helpRows(w)
	split := formColumns(w)
	l.form = image.Rect(0, 1, split, helpTop)
	l.side = image.Rect(split, 1, w, helpTop)
	l.help = image.Rect(1, helpTop, w-1, h-1)
	l.foot = image.Rect(1, h-1, w-1, h)
	l.page = image.Rect(0, 1, w, h-1)

	in := inside(l.side)
	y := in.Min.Y + dialRows(in.Dy())
	l.dial = image.Rect(in.Min.X, in.Min.Y, in.Max.X, y)
	l.readout = image.Rect(in.Min.X, y, in.Max.X, y+2)
	l.divider = image.Rect(in.Min.X, y+2, in.Max.X, y+3)
	l.below = image.Rect(in.Min.X, y+3, in.Max.X, in.Max.Y)
	return l
}

// inside is the room in a frame, with a column of air at either side.
func inside(frame image.Rectangle) image.Rectangle {
	return image.Rect(frame.Min.X+2, frame.Min.Y+1, frame.Max.X-2, frame.Max.Y-1)
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

func dialRows(inside int) int { return max(5, min(inside*45/100, 20)) }

// plotRows are the rows a plot needs under the dial; with fewer it takes the
// dial's place.
const plotRows = 10

// airFrom is how many rows must be free before a blank one is spent on air.
const airFrom = 8

// resultColumn is the least width of a column of results, with its gap, and
// bandColumn that of one of several with bands. A single one has bands from
// leastBandColumn on, where its labels are short enough.
const resultColumn, bandColumn, leastBandColumn = 34, 52, 39

// Of a column with bands: the least and the most that is left for labels and
// values, and the most that a band takes.
const leastBeforeBand, mostBeforeBand, mostBand = 28, 40, 15

// resultColumns are how many columns of results stand side by side, with their bands
// or bare.
func resultColumns(width int, bare bool) int {
	if !bare && width > leastBandColumn {
		return max(1, width/bandColumn)
	}
	return max(1, width/resultColumn)
}

// labelColumns are those of a form's labels, with a sign before and a mark
// behind.
const labelColumns = 19

// tabsOf are the places of the forms' names in the header, from the right.
func tabsOf(width int, names []string) []image.Rectangle {
	tabs := make([]image.Rectangle, len(names))
	x := width
	for i := len(names) - 1; i >= 0; i-- {
		wide := cells.Width(names[i]) + 2
		tabs[i] = image.Rect(x-wide-1, 0, x-1, 1)
		x -= wide + 1
	}
	return tabs
}

// tooSmall says whether a window is too small to draw in.
func tooSmall(w, h int) bool { return w < leastWidth || h < leastHeight }

// underFindings is the room that so many rows of findings leave.
func underFindings(below image.Rectangle, rows int) image.Rectangle {
	if rows > 0 && below.Dy()-rows > airFrom {
		rows++
	}
	return image.Rect(below.Min.X, below.Min.Y+rows, below.Max.X, below.Max.Y)
}

// narrow is the width of the right side below which it says less.
const narrow = 40

// dialColumns is the least width of a dial that has others beside it.
const dialColumns = 23
