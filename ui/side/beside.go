package side

import (
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/layout"
)

// Code is the code at which a hand is at the moment, as planned; false where there is no
// such hand.
func (d *Side) Code() (hand int, code float64, ok bool) {
	hand = d.s.ReportHand()
	if hand < 0 {
		return hand, 0, false
	}
	return hand, d.s.Report.Plan.Needle(hand, float64(d.Preview.Seconds)).Code, true
}

// A Built needle is where that of the built clock stands, a share of the scale, in words
// too; false where nothing is known of it.
type Built struct {
	Place float64
	Text  string
	Known bool
}

// DrawBeside draws the needle of the plan in a frame of its own, and that of the built
// clock beside it.
func (d *Side) DrawBeside(frame cells.Area, built Built) {
	w, h := frame.Size()
	if w == 0 || h == 0 {
		return
	}
	if d.s.Report == nil {
		draw.Titled(frame, "Needle")
		return
	}
	hand := d.s.ReportHand()
	title := clock(d.Preview.Seconds)
	if built.Known {
		title += ", dim: built"
	}
	in := draw.Titled(frame, title)
	if hand < 0 {
		return
	}
	wide, high := in.Size()
	rows := 1
	if high > layout.AirFrom {
		rows = 2
	}
	dial := d.Preview.dial(hand)
	if built.Known {
		dial.Beside = &built.Place
	}
	dial.Draw(in.Rows(0, high-rows))
	plan := "plan " + quantity.Show(d.Preview.Place(hand), quantity.Percent, 3)
	foot := in.Rows(high-1, 1)
	foot.Text(0, 0, draw.Value, plan)
	if built.Known {
		text := "built " + built.Text
		if cells.Fits(plan+"  "+text, wide) || rows == 1 {
			foot.TextRight(0, draw.Label, text)
		} else {
			in.Rows(high-2, 1).Text(0, 0, draw.Label, text)
		}
	}
}
