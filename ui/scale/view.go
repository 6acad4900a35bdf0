package scale

import (
	"cmp"
	"fmt"
	"image"
	"math"

	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/layout"
)

// DrawRows draws the table of rows in its frame.
func (s *Scale) DrawRows(frame cells.Area) {
	title := form.ScaleName
	if hands := s.s.Doc.Build.Hands; len(hands) > 0 {
		title += " of " + hands[s.s.Hand].Name
	}
	if s.s.Stale() {
		title += " – " + s.s.LastGood()
	}
	in := draw.Titled(frame, title)
	all := s.list()
	if len(all) == 0 {
		in.Wrap(0, draw.Dim, "A scale is a hand's: "+s.keys.Menu.Help().Key+", New build, begins with one.")
		return
	}
	w, h := in.Size()
	c := layout.ScaleColumns(w)
	s.drawHead(in.Rows(0, 1), c)
	start := s.start(len(all), h-1)
	for y := 0; y < h-1 && start+y < len(all); y++ {
		s.drawRow(in.Rows(y+1, 1), frame.Sub(1, y+2, 1, 1), all[start+y], c, start+y == s.at())
	}
	wide, _ := frame.Size()
	behind := frame.Sub(wide-2, 1, 1, h)
	if start > 0 {
		behind.Text(0, 1, draw.Dim, "↑")
	}
	if start+h-1 < len(all) {
		behind.Text(0, h-1, draw.Dim, "↓")
	}
}

// start is which row is at the top of h.
func (s *Scale) start(rows, h int) int { return max(0, min(s.at()-h/2, rows-h)) }

// drawHead names the columns.
func (s *Scale) drawHead(at cells.Area, c layout.RowColumns) {
	off := "off, min"
	if s.s.Doc.Build.Hands[s.s.Hand].Shows == "60 s" {
		off = "off, s"
	}
	x := c.Code
	at.Sub(0, 0, x, 1).TextRight(0, draw.Dim, "code")
	at.Sub(x+1, 0, c.Means, 1).TextRight(0, draw.Dim, "means")
	x += 1 + c.Means + 1
	at.Text(x, 0, draw.Dim, "stands")
	x += c.Stands + 1
	at.Text(x, 0, draw.Dim, "from")
	x += c.Going + 1
	at.Sub(x, 0, c.Off+1, 1).TextRight(0, draw.Dim, off)
}

// drawRow draws a row: its code with the time it means, where the needle stood and came
// from, and how far that is off.
func (s *Scale) drawRow(at, before cells.Area, r row, c layout.RowColumns, focused bool) {
	label, value, dim := draw.Label, draw.Value, draw.Dim
	if focused {
		label, value, dim = draw.FocusLabel, draw.FocusValue, draw.FocusDim
		at.Fill(draw.FocusValue, ' ')
		draw.Here(before)
	} else if r.isWanted() {
		before.Text(0, 0, draw.Note, wantedSign)
	}
	if r.further {
		s.drawFurther(at, c, label, dim, focused)
		return
	}
	code := at.Sub(0, 0, c.Code, 1)
	if focused && s.typesCode(r) {
		s.line.Draw(at.Sub(0, 0, c.Code+1+c.Means, 1), "–", false)
	} else {
		code.TextRight(0, label, s.codeText(r))
		at.Sub(c.Code+1, 0, c.Means, 1).TextRight(0, label, s.means(r))
	}
	x := c.Code + 1 + c.Means + 1
	cell := at.Sub(x, 0, c.Stands, 1)
	switch stands := r.Stands; {
	case focused && !s.typesCode(r):
		s.line.Draw(cell, "–", false)
	default:
		cell.Text(0, 0, value, cmp.Or(stands, "–"))
	}
	x += c.Stands + 1
	at.Sub(x, 0, c.Going, 1).Text(0, 0, label, r.Going)
	x += c.Going + 1
	s.drawOff(at.Sub(x, 0, c.Off+3, 1), r, c.Off+1, value, focused)
}

// wantedSign stands before a row at which the needle is to be looked at.
const wantedSign = "•"

// drawOff says how far the hand is off at a row, or what is wrong with that.
func (s *Scale) drawOff(at cells.Area, r row, w int, value cells.Style, focused bool) {
	style := func(of cells.Style) cells.Style {
		if focused {
			return value
		}
		return of
	}
	if s.problem(r) != "" {
		at.Text(1, 0, style(draw.Fault), "✗ unread")
		return
	}
	off, ok := s.off(r)
	if !ok {
		return
	}
	minutes := off * s.made.wired.Minutes
	if s.s.Doc.Build.Hands[s.s.Hand].Shows == "60 s" {
		minutes *= 60
	}
	text := fmt.Sprintf("%+.1f", minutes)
	if math.Abs(minutes) < 0.05 {
		text = "0.0" // no sign on nothing
	}
	at.Sub(0, 0, w, 1).TextRight(0, value, text)
	if _, outlies := s.outlier(r); outlies {
		at.Text(w+1, 0, style(draw.Caution), "×")
	}
}

// drawFurther draws the last row, in which a further code is typed.
func (s *Scale) drawFurther(at cells.Area, c layout.RowColumns, label, dim cells.Style, focused bool) {
	const name = "another:"
	at.Text(1, 0, label, name)
	x := c.Code + 1 + c.Means + 1
	cell := at.Sub(x, 0, c.Stands+c.Going+c.Off, 1)
	if focused {
		s.line.Draw(cell, "code or time", false)
		return
	}
	cell.Text(0, 0, dim, cmp.Or(s.draft, "code or time"))
}

// codeText is the code of a row, with its top code where that is another than the present.
func (s *Scale) codeText(r row) string {
	switch {
	case r.code < 0:
		return "–"
	case r.of != s.s.Doc.Build.Hands[s.s.Hand].Drive.Top:
		return fmt.Sprintf("%d/%d", r.code, r.of)
	}
	return fmt.Sprint(r.code)
}

// offBy is by how much a scale is off at most, straightened so.
func offBy(told *report.Scale, correct string) float64 {
	switch correct {
	case "codes":
		return told.Codes
	case "dial":
		return told.Dial
	}
	return told.None
}

// Click gives the keys to the row that stands at a place of the screen.
func (s *Scale) Click(at image.Point, frame image.Rectangle) {
	in := layout.Inside(frame)
	all := s.list()
	y := s.start(len(all), in.Dy()-1) + at.Y - in.Min.Y - 1
	if !at.In(in) || at.Y == in.Min.Y || y < 0 || y >= len(all) {
		return
	}
	c := layout.ScaleColumns(in.Dx())
	from := c.Code + 1 + c.Means + 1
	if r := all[y]; y == s.at() && !s.typesCode(r) && at.X-in.Min.X >= from {
		s.line.Point(at.X-in.Min.X-from, c.Stands)
		return
	}
	s.goTo(all[y])
}
