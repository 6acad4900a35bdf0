package bench

import (
	"image"
	"math"
	"strings"

	built "example.com/needlewright/model/bench"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/layout"
)

// DrawPoints draws the list of test points in its frame.
func (b *Bench) DrawPoints(frame cells.Area) {
	title := form.BenchName
	if hands := b.s.Doc.Build.Hands; len(hands) > 1 {
		title += " – " + hands[b.s.Hand].Name
	}
	switch {
	case b.Report() == nil:
	case b.s.Stale():
		title += " – " + b.s.LastGood()
	case !b.isPresent():
		title += " – working the plan out …"
	}
	in := draw.Titled(frame, title)
	all := b.list()
	if len(all) == 0 {
		in.Wrap(1, draw.Value, b.nothingYet())
		return
	}
	w, h := in.Size()
	c := layout.PointColumns(w)
	drawHead(in.Rows(0, 1), c)
	wide, _ := frame.Size()
	lines, start := b.window(all, h-1)
	for y := 0; y < h-1 && start+y < len(lines); y++ {
		l, at := lines[start+y], in.Rows(y+1, 1)
		if l.heading != "" {
			at.Text(0, 0, draw.Heading, l.heading)
			continue
		}
		before := frame.Sub(1, y+2, 1, 1)
		b.drawRow(at, before, all[l.row], c, l.row == b.at())
	}
	behind := frame.Sub(wide-2, 1, 1, h)
	if start > 0 {
		behind.Text(0, 1, draw.Dim, "↑")
	}
	if start+h-1 < len(lines) {
		behind.Text(0, h-1, draw.Dim, "↓")
	}
}

// nothingYet says why there is no test point.
func (b *Bench) nothingYet() string {
	if b.s.Report == nil {
		return "The test points appear as soon as every value can be read: " + b.s.ToMend() + " (" + b.keys.Finding.Help().Key + ")."
	}
	return "What a sound clock of this build reads at each test point is being worked out."
}

// drawHead names the columns.
func drawHead(at cells.Area, c layout.Columns) {
	x := c.Label + 1
	at.Sub(x, 0, c.Plan, 1).TextRight(0, draw.Dim, "plan")
	x += c.Plan + 1
	at.Text(x, 0, draw.Dim, "band")
	x += c.Band + 1
	at.Text(x, 0, draw.Dim, "reading")
	at.Text(x+c.Reading, 0, draw.Dim, "verdict")
}

// A line of the list is a row, or the heading above one.
type line struct {
	row     int
	heading string
}

// window is the lines of the list, and which of them is at the top of h: what has the keys
// is in view, with its heading where there is room.
func (b *Bench) window(all []row, h int) (lines []line, start int) {
	focus := 0
	for i, r := range all {
		if r.heading != "" {
			lines = append(lines, line{i, r.heading})
		}
		if i == b.at() {
			focus = len(lines)
		}
		lines = append(lines, line{row: i})
	}
	return lines, max(0, min(focus-h/2, len(lines)-h))
}

// drawRow draws a test point with its plan, band, reading and verdict.
func (b *Bench) drawRow(at, before cells.Area, r row, c layout.Columns, focused bool) {
	label, value, dim := draw.Label, draw.Value, draw.Dim
	switch {
	case focused:
		label, value, dim = draw.FocusLabel, draw.FocusValue, draw.FocusDim
		at.Fill(draw.FocusValue, ' ')
		draw.Here(before)
	case b.isNext(r):
		before.Text(0, 0, draw.Note, nextSign)
	}
	name := r.place.Label
	if r.point == nil {
		name = r.read.At
	}
	x := c.Label + 1
	if r.point == nil {
		at.Sub(0, 0, x+c.Plan+1+c.Band, 1).Text(0, 0, label, name)
	} else {
		at.Sub(0, 0, c.Label, 1).Text(0, 0, label, name)
		at.Sub(x, 0, c.Plan, 1).TextRight(0, value, planText(r, c.Plan))
		at.Sub(x+c.Plan+1, 0, c.Band, 1).Text(0, 0, dim, fitted(bandText(r, c.Full), c.Band))
	}
	x += c.Plan + 1 + c.Band + 1
	cell := at.Sub(x, 0, c.Reading, 1)
	text := b.given(r)
	switch {
	case focused && r.point != nil && r.point.Words != nil:
		cell.Text(0, 0, value, choiceText(text, c.Reading))
	case focused:
		b.line.Draw(cell, "–", false)
	case text == "":
		cell.Text(0, 0, dim, "–")
	case r.read.Before:
		cell.Text(0, 0, dim, text)
	default:
		cell.Text(0, 0, value, text)
	}
	if sign, word, style := verdictOf(r); sign != "" {
		if focused {
			style = value
		}
		at.Text(x+c.Reading, 0, style, sign+" "+word)
	}
}

// nextSign stands before the point that is to be measured next.
const nextSign = "•"

// isNext says whether a row is to be measured next.
func (b *Bench) isNext(r row) bool {
	report := b.Report()
	return r.point != nil && len(report.Next) > 0 && report.Next[0].At == r.point.ID && !b.isFound()
}

// choiceText is a word that is chosen, between its signs where there is room.
func choiceText(text string, w int) string {
	if text == "" {
		text = "–"
	}
	if signed := "‹" + text + "›"; cells.Fits(signed, w) {
		return signed
	}
	return text
}

// fitted is a text, without the blank before its unit where that makes it fit.
func fitted(text string, w int) string {
	if cells.Fits(text, w) {
		return text
	}
	return strings.ReplaceAll(text, " ", "")
}

// planText is what a sound clock reads at a point, with as many digits as there is room for.
func planText(r row, w int) string {
	if r.point.Words != nil {
		return r.point.Words[0]
	}
	digits := r.point.Digits()
	for digits > 1 && !cells.Fits(fitted(r.place.Shows(r.point.Value, digits), w), w) {
		digits--
	}
	return fitted(r.place.Shows(r.point.Value, digits), w)
}

// bandText is what 95 % of sound clocks read: both ends, or how far either is off.
func bandText(r row, full bool) string {
	p := r.point
	half := (p.High - p.Low) / 2
	switch {
	case p.Words != nil || math.IsNaN(half):
		return ""
	case r.place.IsLevel:
		return "level"
	case full:
		digits := max(3, p.Digits()+1)
		low, high := r.place.Shows(p.Low, digits), r.place.Shows(p.High, digits)
		if number, unit, _ := strings.Cut(low, " "); strings.HasSuffix(high, " "+unit) {
			low = number
		}
		return low + " … " + high
	case math.Abs(p.Low+half-p.Value) > half/10: // cut off at nothing
		return "<" + shortest(p.High, r.place)
	}
	return "±" + shortest(half, r.place)
}

// shortest is a value with two digits, or one where that is too long for its column.
func shortest(x float64, of built.Place) string {
	const room = 6 // beside a sign
	text := of.Shows(x, 2)
	if !cells.Fits(strings.ReplaceAll(text, " ", ""), room) {
		text = of.Shows(x, 1)
	}
	return text
}

// verdictOf is the verdict of a reading, in a word with its sign; "" where there is none.
func verdictOf(r row) (sign, word string, style cells.Style) {
	switch {
	case r.read == nil || strings.TrimSpace(r.read.Given) == "":
		return "", "", 0
	case r.read.Verdict == built.Foreign:
		return "?", "foreign", draw.Caution
	case r.read.Before:
		return "·", "before", draw.Dim
	}
	switch r.read.Verdict {
	case built.Inside:
		return "✓", "inside", draw.Note
	case built.Edge:
		return "~", "edge", draw.Caution
	case built.Outside:
		return "✗", "outside", draw.Fault
	}
	return "?", "unread", draw.Caution
}

// Click gives the keys to the point that stands at a place of the screen.
func (b *Bench) Click(at image.Point, frame image.Rectangle) {
	in := layout.Inside(frame)
	all := b.list()
	if !at.In(in) || len(all) == 0 {
		return
	}
	lines, start := b.window(all, in.Dy()-1)
	y := start + at.Y - in.Min.Y - 1
	if at.Y == in.Min.Y || y >= len(lines) || lines[y].heading != "" {
		return
	}
	c := layout.PointColumns(in.Dx())
	from := c.Label + 1 + c.Plan + 1 + c.Band + 1
	if r := all[lines[y].row]; r.key() == b.focus && at.X-in.Min.X >= from && (r.point == nil || r.point.Words == nil) {
		b.line.Point(at.X-in.Min.X-from, c.Reading)
		return
	}
	b.goTo(all[lines[y].row].key())
}
