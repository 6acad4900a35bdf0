package draw

import "example.com/needlewright/ui/cells"

// A Bar is a part of something, drawn as long as it is large.
type Bar struct {
	Label string
	Share float64 // of the longest that is possible, 0 to 1
	Text  string  // behind it
}

// leastBar is the length of a longest bar below which there is none: its text says
// it all.
const leastBar = 6

// Bars draws bars below each other, as many as there are rows: the labels in
// one column, the texts in another, and the bars between, the longest as long as
// there is room for. The labels have the style.
func Bars(at cells.Area, bars []Bar, style cells.Style) {
	w, h := at.Size()
	bars = bars[:min(len(bars), max(h, 0))]
	labels, texts, longest := 0, 0, 0.0
	for _, b := range bars {
		labels, texts, longest = max(labels, cells.Width(b.Label)), max(texts, cells.Width(b.Text)), max(longest, b.Share)
	}
	labels = min(labels, w-texts-2)
	room := w - labels - texts - 3
	for y, b := range bars {
		at.Sub(1, y, labels, 1).Text(0, 0, style, b.Label)
		if room >= leastBar && longest > 0 {
			at.Sub(labels+2, y, room, 1).Bar(0, 0, Note, b.Share/longest)
		}
		at.Rows(y, 1).TextRight(0, Value, b.Text)
	}
}

// Columns draws lines of a label and two numbers, each in its column.
func Columns(at cells.Area, lines [][3]string) {
	w, _ := at.Size()
	second, third := 0, 0
	for _, l := range lines {
		second, third = max(second, cells.Width(l[1])), max(third, cells.Width(l[2]))
	}
	for y, l := range lines {
		at.Sub(1, y, w-second-third-4, 1).Text(0, 0, Label, l[0])
		at.Sub(0, y, w-third-2, 1).TextRight(0, Dim, l[1])
		at.Rows(y, 1).TextRight(0, Value, l[2])
	}
}
