// Package side is what stands beside the form: the needle on its dial, and below it the
// findings and results, or one of the views in their place.
package side

import (
	"image"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/notice"
	"example.com/needlewright/ui/session"
)

// A Side is what stands beside the form: the needle, and below it the findings and
// results, or a view in their place.
type Side struct {
	s     *session.Session
	form  *form.Form
	front *front.Front
	keys  *keys.Map

	Preview *preview
	Results *results
	Views   *views
	Look    *look
	plate   *plate

	heeded struct { // last
		pane int
		base *report.Report
	}
}

// New returns the side of a session, with the needle at a time of day in seconds. What it
// shows depends on the open pane of the form, and on what is open in front of it.
func New(s *session.Session, form *form.Form, front *front.Front, say *notice.Notice, keys *keys.Map, seconds int) *Side {
	d := &Side{
		s: s, form: form, front: front, keys: keys,
		Preview: &preview{s: s, say: say, keys: keys, Seconds: seconds},
		Results: &results{s: s, keys: keys},
		Views:   newViews(s, say, keys),
		Look:    newLook(s),
		plate:   &plate{s: s},
	}
	s.OnMove(d.Preview.heed)
	d.Heed()
	return d
}

// Heed has the results begin with what an edit changed, and with the results of a form
// that was gone to. It is to be called after each message.
func (d *Side) Heed() {
	turned, edited := d.form.Pane != d.heeded.pane, d.s.Base != d.heeded.base
	d.heeded.pane, d.heeded.base = d.form.Pane, d.s.Base
	if turned || edited {
		d.Results.Begin()
	}
	if turned && !edited {
		d.Results.setAside()
	}
}

// Mends is what a key takes over of the error budget in view; nil where there is
// nothing, or what is offered for the field goes before.
func (d *Side) Mends() *judge.BudgetRow {
	row := d.Views.mends()
	if row == nil || d.form.OfferedHere() != nil {
		return nil
	}
	return row
}

// Page scrolls the results, or what takes their place; in the error budget it chooses.
func (d *Side) Page(by int, l *layout.Layout) {
	switch d.Views.At {
	case budgetView:
		d.Views.choose(by)
		return
	case differView:
		at := insteadAt(l)
		d.Views.Differ.scroll(by, at.Dx(), at.Dy())
		return
	}
	d.Results.scrollPages(by, d.form.Fields(), l.Below)
}

// Draw draws all of it.
func (d *Side) Draw(canvas cells.Area, l *layout.Layout) {
	if d.s.Report == nil {
		text := "They appear as soon as every value can be read"
		if d.front.Mode != front.Asking {
			text += ": " + d.s.ToMend() + " (" + d.keys.Finding.Help().Key + ")"
		}
		draw.Titled(canvas.In(l.Side), "Needle and results").Wrap(1, draw.Value, text+".")
		return
	}
	hand := d.s.ReportHand()
	if d.front.Mode == front.Asking && d.front.Prompt.Alone && hand >= 0 {
		d.Preview.drawAlone(draw.Titled(canvas.In(l.Side), "An example's needle"), hand)
		return
	}
	instead := d.insteadOfResults()
	if instead == nil && hand >= 0 && d.form.Fields() == model.DialPane {
		d.plate.draw(canvas.In(l.Side), hand)
		return
	}
	in := draw.Titled(canvas.In(l.Side), d.Preview.title(hand, l.Side.Dx()))
	if instead != nil {
		d.DrawWorst(canvas.In(l.Side))
	} else {
		d.drawLeads(canvas.In(l.Side))
	}
	if instead != nil && insteadAt(l) != l.Below {
		if d.s.Stale() {
			var top cells.Area
			top, in = in.SplitTop(1)
			top.Text(0, 0, draw.Caution, d.s.LastGood())
		}
		instead(in)
		return
	}
	d.Preview.draw(canvas.In(l.Dial), hand)
	if hand >= 0 {
		d.Preview.drawReadout(canvas.In(l.Readout), hand)
	}
	divider := canvas.In(l.Divider)
	divider.HLine(0, 0, l.Divider.Dx(), draw.Frame)
	switch {
	case d.s.Stale():
		divider.Text(1, 0, draw.Caution, " "+d.s.LastGood()+" ")
	case instead == nil:
		d.Results.drawVerdict(divider)
	}
	below := canvas.In(l.Below)
	if instead != nil {
		instead(below)
		return
	}
	d.Results.draw(below, d.form.Fields())
}

// insteadAt is where stands what takes the place of the results: all of the side where there
// is little room below the dial.
func insteadAt(l *layout.Layout) image.Rectangle {
	if l.Below.Dy() < layout.PlotRows {
		return layout.Inside(l.Side)
	}
	return l.Below
}

// drawLeads names in the lower edge of the frame the keys that lead deeper, as far as there
// is room.
func (d *Side) drawLeads(frame cells.Area) {
	w, _ := frame.Size()
	budget := d.keys.Budget.Help()
	text := budget.Key + " " + budget.Desc
	if look := d.keys.Look.Help(); cells.Fits(look.Key+" looks into a result, "+text, w-6) {
		text = look.Key + " looks into a result, " + text
	} else if cells.Fits(look.Key+" results, "+text, w-6) {
		text = look.Key + " results, " + text
	}
	if cells.Fits(text, w-6) {
		draw.Footed(frame, draw.Dim, text)
	}
}

// insteadOfResults draws what takes the place of the findings and results, and
// where room is short that of the dial too; nil where nothing does.
func (d *Side) insteadOfResults() func(at cells.Area) {
	e, _ := d.front.Chosen()
	row, looking := d.Look.into(e)
	switch {
	case looking:
		return func(at cells.Area) { d.Look.draw(at, row) }
	case d.Views.At > 0:
		return func(at cells.Area) { d.Views.draw(at, d.Mends()) }
	}
	return nil
}
