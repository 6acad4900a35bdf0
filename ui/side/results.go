package side

import (
	"image"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/model/spread"
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

	Scroll int            // lines above the window
	Bare   bool           // without their bands, so that more are in view
	pins   []pin          // that stay at the top
	aside  *report.Report // what changed since then does not stand first: another form was gone to

	before struct { // the last edit
		of     *report.Report
		likely []float64
	}
	goneTo *judge.Finding // the finding in view, whose advice is; nil: the worst are in view
}

// A pin is a result that stays in view: of whichever hand is, or of the one lamp or
// button.
type pin struct {
	result *circuit.Result
	index  int
}

func pinOf(row spread.Row) pin {
	if row.OfHand() {
		return pin{row.Result, 0}
	}
	return pin{row.Result, row.Index}
}

// Pin keeps a result at the top, or lets it go again.
func (r *results) Pin(row spread.Row) {
	p := pinOf(row)
	if i := slices.Index(r.pins, p); i >= 0 {
		r.pins = slices.Delete(r.pins, i, i+1)
		return
	}
	r.pins = append(r.pins, p)
}

// Pinned says whether a result stays at the top.
func (r *results) Pinned(row spread.Row) bool { return slices.Contains(r.pins, pinOf(row)) }

// Begin goes to the first.
func (r *results) Begin() { r.Scroll = 0 }

// setAside has the results of a form that was gone to stand before what the last edit
// changed.
func (r *results) setAside() { r.aside = r.s.Base }

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
		_, lines := r.lines(pane, room)
		r.Scroll = max(0, min(r.Scroll+by, len(lines)-room))
	}
}

// Room is how many lines of results are in view at once below the dial and what is
// pinned.
func (r *results) Room(below image.Rectangle) int {
	if r.s.Report == nil {
		return 0
	}
	_, rows := r.findingLines(below.Dx(), below.Dy())
	room := layout.UnderFindings(below, rows)
	pinned, columns := r.pinRows(room.Dx(), room.Dy())
	return columns * (room.Dy() - pinned)
}

// pinRows is how many rows of h the pinned results take in columns side by side, in a
// width; one row is left for the others.
func (r *results) pinRows(w, h int) (rows, columns int) {
	columns = layout.ResultColumns(w, r.Bare)
	pinned := 0
	for _, row := range r.s.Report.Results {
		if r.Pinned(row) && (!row.OfHand() || row.Index == r.s.ReportHand()) {
			pinned++
		}
	}
	return max(0, min((pinned+columns-1)/columns, h-1)), columns
}

// lines lists what is pinned; and what the last edit changed, where another form was not
// gone to since, as much as the room takes, then all results, those of the open form's
// questions first.
func (r *results) lines(pane model.Pane, room int) (pinned, lines []resultLine) {
	shown := ShownResults(r.s)
	if r.s.Base == nil || r.s.Base != r.aside {
		lines = r.changeLines(shown, pane, room)
	}
	return r.pinLines(shown), append(lines, underQuestions(shown, pane)...)
}

// draw lists the findings and the results, those of the open form's questions first.
func (r *results) draw(at cells.Area, pane model.Pane) {
	w, h := at.Size()
	lines, rows := r.findingLines(w, h)
	r.drawFindings(at, lines)
	r.drawResults(at.In(layout.UnderFindings(image.Rect(0, 0, w, h), rows)), pane)
}

// drawResults lists the results in as many columns as there is room for, below those
// that are pinned.
func (r *results) drawResults(at cells.Area, pane model.Pane) {
	w, h := at.Size()
	if h < 1 {
		return
	}
	rows, columns := r.pinRows(w, h)
	room := columns * (h - rows)
	pinned, lines := r.lines(pane, room)
	top, below := at.SplitTop(rows)
	r.drawColumns(top, pinned, columns)
	start := max(0, min(r.Scroll, len(lines)-room))
	r.drawColumns(below, lines[start:], columns)
	if start > 0 {
		below.Sub(w-1, 0, 1, 1).Text(0, 0, draw.Dim, "↑")
	}
	if start+room < len(lines) {
		at.Sub(w-1, h-1, 1, 1).Text(0, 0, draw.Dim, "↓")
	}
}

// drawColumns draws as many lines as there is room for in columns side by side. Above
// the first bands of each it says what they are.
func (r *results) drawColumns(at cells.Area, lines []resultLine, columns int) {
	w, h := at.Size()
	wide, headed := w/columns, false
	for i, l := range lines[:min(len(lines), columns*h)] {
		column := at.Sub(i/h*wide, i%h, wide-min(columns, 2), 1) // the last column is for ↑ and ↓
		r.drawResult(column, l)
		headed = headed && i%h > 0
		if l.question && !headed {
			headed = true
			r.drawBandHead(column, l)
		}
	}
}
