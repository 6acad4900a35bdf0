// Package layout is where everything stands on the screen; all arithmetic of places is here.
package layout

import (
	"image"

	"example.com/needlewright/ui/cells"
)

// The smallest window the dashboard is drawn in.
const (
	LeastWidth  = 60
	LeastHeight = 20
)

// A Layout is where everything stands on the screen, in cells. All arithmetic
// about it is in this file.
type Layout struct {
	Help, Foot image.Rectangle
	Form, Side image.Rectangle // with their frames
	Page       image.Rectangle // over both, with its frame

	Dial, Readout, Divider, Below image.Rectangle // inside side
}

// Of divides a window: a line of forms above, what the focused field is
// and the keys below, and between them the form and, beside it, the needle with
// the findings and results.
func Of(w, h int) Layout {
	return split(w, h, formColumns(w))
}

// leastSide is the width of the side below which a wide form has all the room.
const leastSide = 44

// WithForm is the layout of a window whose form has so many columns inside at least; it
// has all, and the side none, where too few would be left for that.
func WithForm(w, h, columns int) Layout {
	const frame = 4
	form := max(formColumns(w), columns+frame)
	if form > formColumns(w) && w-form < leastSide {
		form = w
	}
	return split(w, h, form)
}

// split divides a window at a column.
func split(w, h, at int) Layout {
	var l Layout
	helpTop := h - 1 - HelpRows(w)
	l.Form = image.Rect(0, 1, at, helpTop)
	l.Side = image.Rect(at, 1, w, helpTop)
	l.Help = image.Rect(1, helpTop, w-1, h-1)
	l.Foot = image.Rect(1, h-1, w-1, h)
	l.Page = image.Rect(0, 1, w, h-1)

	if l.Side.Empty() {
		return l
	}
	in := Inside(l.Side)
	y := in.Min.Y + dialRows(in.Dy())
	l.Dial = image.Rect(in.Min.X, in.Min.Y, in.Max.X, y)
	l.Readout = image.Rect(in.Min.X, y, in.Max.X, y+2)
	l.Divider = image.Rect(in.Min.X, y+2, in.Max.X, y+3)
	l.Below = image.Rect(in.Min.X, y+3, in.Max.X, in.Max.Y)
	return l
}

// Inside is the room in a frame, with a column of air at either side.
func Inside(frame image.Rectangle) image.Rectangle {
	return image.Rect(frame.Min.X+2, frame.Min.Y+1, frame.Max.X-2, frame.Max.Y-1)
}

// HelpRows are the rows a field's longest help takes.
func HelpRows(width int) int {
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

// PlotRows are the rows a plot needs under the dial; with fewer it takes the
// dial's place.
const PlotRows = 10

// AirFrom is how many rows must be free before a blank one is spent on air.
const AirFrom = 8

// resultColumn is the least width of a column of results, with its gap, and
// bandColumn that of one of several with bands.
const resultColumn, bandColumn = 34, 52

// LeastBandColumn is the width from which a single column has bands, where its labels
// are short enough.
const LeastBandColumn = 39

// Of a column with bands: the least and the most that is left for labels and
// values, and the most that a band takes.
const (
	LeastBeforeBand = 28
	MostBeforeBand  = 40
	MostBand        = 15
)

// ResultColumns are how many columns of results stand side by side, with their bands
// or bare.
func ResultColumns(width int, bare bool) int {
	if !bare && width > LeastBandColumn {
		return max(1, width/bandColumn)
	}
	return max(1, width/resultColumn)
}

// LabelColumns are those of a form's labels, with a sign before and a mark
// behind.
const LabelColumns = 19

// Tabs are the places of the forms' names in the header, from the right.
func Tabs(width int, names []string) []image.Rectangle {
	tabs := make([]image.Rectangle, len(names))
	const roomy, narrow = 100, 80
	x, gap, around := width-1, 1, 2
	if width < roomy { // the name of the build needs the room
		gap = 0
	}
	if width < narrow {
		around = 1
	}
	for i := len(names) - 1; i >= 0; i-- {
		wide := cells.Width(names[i]) + around
		tabs[i] = image.Rect(x-wide, 0, x, 1)
		x -= wide + gap
	}
	return tabs
}

// TooSmall says whether a window is too small to draw in.
func TooSmall(w, h int) bool { return w < LeastWidth || h < LeastHeight }

// UnderFindings is the room that so many rows of findings leave.
func UnderFindings(below image.Rectangle, rows int) image.Rectangle {
	if rows > 0 && below.Dy()-rows > AirFrom {
		rows++
	}
	return image.Rect(below.Min.X, below.Min.Y+rows, below.Max.X, below.Max.Y)
}

// Narrow is the width of the right side below which it says less.
const Narrow = 40

// DialColumns is the least width of a dial that has others beside it.
const DialColumns = 23
