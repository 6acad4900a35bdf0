package ui

import "example.com/needlewright/ui/cells"

// A bar is a part of something, drawn as long as it is large.
type bar struct {
	label string
	share float64 // of the longest that is possible, 0 to 1
	text  string  // behind it
}

// leastBar is the length of a longest bar below which there is none: its text says
// it all.
const leastBar = 6

// drawBars draws bars below each other, as many as there are rows: the labels in
// one column, the texts in another, and the bars between, the longest as long as
// there is room for. The labels have the style.
func drawBars(at cells.Area, bars []bar, style cells.Style) {
	w, h := at.Size()
	bars = bars[:min(len(bars), max(h, 0))]
	labels, texts, longest := 0, 0, 0.0
	for _, b := range bars {
		labels, texts, longest = max(labels, cells.Width(b.label)), max(texts, cells.Width(b.text)), max(longest, b.share)
	}
	labels = min(labels, w-texts-2)
	room := w - labels - texts - 3
	for y, b := range bars {
		at.Sub(1, y, labels, 1).Text(0, 0, style, b.label)
		if room >= leastBar && longest > 0 {
			at.Sub(labels+2, y, room, 1).Bar(0, 0, note, b.share/longest)
		}
		at.Rows(y, 1).TextRight(0, value, b.text)
	}
}

// drawColumns draws lines of a label and two numbers, each in its column.
func drawColumns(at cells.Area, lines [][3]string) {
	w, _ := at.Size()
	second, third := 0, 0
	for _, l := range lines {
		second, third = max(second, cells.Width(l[1])), max(third, cells.Width(l[2]))
	}
	for y, l := range lines {
		at.Sub(1, y, w-second-third-4, 1).Text(0, 0, label, l[0])
		at.Sub(0, y, w-third-2, 1).TextRight(0, dim, l[1])
		at.Rows(y, 1).TextRight(0, value, l[2])
	}
}
