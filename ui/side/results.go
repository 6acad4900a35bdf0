package side

import (
	"image"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/session"
)

// results are the findings of the build and its results, which are scrolled.
type results struct {
	s    *session.Session
	keys *keys.Map

	Scroll int  // lines above the window
	Bare   bool // without their bands, so that more are in view
}

// Begin goes to the first.
func (r *results) Begin() { r.Scroll = 0 }

// ToggleBands shows results with their bands, or more of them at once.
func (r *results) ToggleBands() {
	r.Bare = !r.Bare
	r.Scroll = 0
}

// scrollPages scrolls the results by pages, which share a line, in the room below the
// dial.
func (r *results) scrollPages(by int, pane model.Pane, below image.Rectangle) {
	r.ScrollLines(by*max(1, r.Room(below)-1), pane, below)
}

// ScrollLines scrolls the results, as far as there are any.
func (r *results) ScrollLines(by int, pane model.Pane, below image.Rectangle) {
	if room := r.Room(below); room > 0 {
		r.Scroll = max(0, min(r.Scroll+by, len(resultLines(r.s, pane, room))-room))
	}
}

// Room is how many lines of results are in view at once below the dial.
func (r *results) Room(below image.Rectangle) int {
	if r.s.Report == nil {
		return 0
	}
	_, _, rows := r.findingLines(below.Dx(), below.Dy())
	room := layout.UnderFindings(below, rows)
	return layout.ResultColumns(room.Dx(), r.Bare) * room.Dy()
}

// draw lists the findings and the results, those of the open form's questions first.
func (r *results) draw(at cells.Area, pane model.Pane) {
	w, h := at.Size()
	lines, more, rows := r.findingLines(w, h)
	r.drawFindings(at, lines, more, rows)
	r.drawResults(at.In(layout.UnderFindings(image.Rect(0, 0, w, h), rows)), pane)
}

// drawResults lists the results in as many columns as there is room for.
func (r *results) drawResults(at cells.Area, pane model.Pane) {
	w, h := at.Size()
	if h < 1 {
		return
	}
	columns := layout.ResultColumns(w, r.Bare)
	lines := resultLines(r.s, pane, columns*h)
	start := max(0, min(r.Scroll, len(lines)-columns*h))
	for i := 0; i < columns*h && start+i < len(lines); i++ {
		wide := w / columns
		column := at.Sub(i/h*wide, i%h, wide-min(columns, 2), 1) // the last column is for ↑ and ↓
		r.drawResult(column, lines[start+i])
		if i%h == 0 {
			r.drawBandHead(column, lines[start+i])
		}
	}
	if start > 0 {
		at.Sub(w-1, 0, 1, 1).Text(0, 0, draw.Dim, "↑")
	}
	if start+columns*h < len(lines) {
		at.Sub(w-1, h-1, 1, 1).Text(0, 0, draw.Dim, "↓")
	}
}
