package side

import (
	"fmt"

	"example.com/needlewright/model/dial"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/session"
)

// A plate is the dial of a hand as it is printed, drawn anew with each report.
type plate struct {
	s *session.Session

	of   *report.Report
	hand int
	made *dial.Plate
}

// printed is the dial of a hand.
func (p *plate) printed(hand int) *dial.Plate {
	if p.of != p.s.Report || p.hand != hand {
		p.of, p.hand = p.s.Report, hand
		p.made = dial.New(p.s.Report.Build, &p.s.Report.Plan, hand, dial.Point{})
	}
	return p.made
}

// draw draws it in its frame, with its sizes and what is to be known of it below.
func (p *plate) draw(frame cells.Area, hand int) {
	made := p.printed(hand)
	in := draw.Titled(frame, fmt.Sprintf("Dial of %s, to be printed", made.Hand))
	if p.s.Stale() {
		var top cells.Area
		top, in = in.SplitTop(1)
		top.Text(0, 0, draw.Caution, p.s.LastGood())
	}
	w, h := in.Size()
	millimetres := func(x float64) string { return quantity.Show(x/1000, quantity.Millimetres, 3) }
	lines := []string{fmt.Sprintf("%s × %s, radius %s", millimetres(made.Edge.Width), millimetres(made.Edge.Height), millimetres(made.Radius))}
	notes := len(lines)
	for _, n := range made.Notes {
		lines = append(lines, cells.Lines(n, w)...)
	}
	lines = lines[:min(len(lines), max(h/3, 1))]
	picture, below := in.SplitTop(max(h-len(lines), layout.PlotRows/2))
	draw.Plate(picture, made)
	for y, text := range lines {
		style := draw.Value
		if y >= notes {
			style = draw.Note
		}
		below.Text(0, y, style, text)
	}
}
