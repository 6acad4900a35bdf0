package ui

import (
	"example.com/needlewright/model/judge"
	"example.com/needlewright/ui/cells"
)

// A side is what stands beside the form: the needle, and below it the findings and
// results, or a view in their place.
type side struct {
	s     *session
	form  *form
	front *front
	keys  *keyMap

	preview *preview
	results *results
	views   *views
	look    *look
}

func newSide(s *session, form *form, front *front, say *notice, keys *keyMap, seconds int) *side {
	return &side{
		s: s, form: form, front: front, keys: keys,
		preview: &preview{s: s, say: say, keys: keys, seconds: seconds},
		results: &results{s: s, keys: keys},
		views:   newViews(s, say, keys),
		look:    newLook(s),
	}
}

// mends is what a key takes over of the error budget in view; nil where there is
// nothing, or what is offered for the field goes before.
func (d *side) mends() *judge.BudgetRow {
	row := d.views.mends()
	if row == nil || d.form.offeredHere() != nil {
		return nil
	}
	return row
}

// page scrolls the results, or chooses in the error budget in their place.
func (d *side) page(by int, l *layout) {
	if d.views.at == budgetView {
		d.views.choose(by)
		return
	}
	d.results.scrollPages(by, d.form.fields(), l.below)
}

// draw draws all of it.
func (d *side) draw(canvas cells.Area, l *layout) {
	if d.s.report == nil {
		text := "They appear as soon as every value can be read"
		if d.front.mode != asking {
			text += ": " + d.s.toMend() + " (" + d.keys.Finding.Help().Key + ")"
		}
		titled(canvas.In(l.side), "Needle and results").Wrap(1, value, text+".")
		return
	}
	hand := d.s.reportHand()
	in := titled(canvas.In(l.side), d.preview.title(hand, l.side.Dx()))
	instead := d.insteadOfResults()
	if instead != nil && l.below.Dy() < plotRows {
		if d.s.stale() {
			var top cells.Area
			top, in = in.SplitTop(1)
			top.Text(0, 0, caution, d.s.lastGood())
		}
		instead(in)
		return
	}
	d.preview.draw(canvas.In(l.dial), hand)
	if hand >= 0 {
		d.preview.drawReadout(canvas.In(l.readout), hand)
	}
	divider := canvas.In(l.divider)
	divider.HLine(0, 0, l.divider.Dx(), frame)
	if d.s.stale() {
		divider.Text(1, 0, caution, " "+d.s.lastGood()+" ")
	}
	below := canvas.In(l.below)
	if instead != nil {
		instead(below)
		return
	}
	d.results.draw(below, d.form.fields())
}

// insteadOfResults draws what takes the place of the findings and results, and
// where room is short that of the dial too; nil where nothing does.
func (d *side) insteadOfResults() func(at cells.Area) {
	e, _ := d.front.chosen()
	row, looking := d.look.into(e)
	switch {
	case looking:
		return func(at cells.Area) { d.look.draw(at, row) }
	case d.views.at > 0:
		return func(at cells.Area) { d.views.draw(at, d.mends()) }
	}
	return nil
}
