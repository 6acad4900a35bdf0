package fit

import (
	"fmt"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
)

// A Frame is the clock that meters are tried in: a build without problems, one hand of it,
// and what was at fault in it before.
type Frame struct {
	doc    *model.Document
	hand   int
	before map[faultOf]bool
}

// A faultOf is a fault by its id and whose it is.
type faultOf struct{ id, about string }

// NewFrame is a frame of a build's document without problems; the hand is one of its own.
func NewFrame(d *model.Document, hand string) (*Frame, error) {
	if len(d.Problems) > 0 {
		return nil, fmt.Errorf("%s", d.Problems[0].String())
	}
	i := d.Build.HandNamed(hand)
	if i < 0 {
		return nil, fmt.Errorf("the build has no hand %q", hand)
	}
	f := &Frame{doc: d, hand: i, before: map[faultOf]bool{}}
	var p circuit.Plan
	circuit.Evaluate(d.Build, &p)
	for _, found := range judge.Findings(d.Build, &p) {
		if found.Severity == judge.Fault {
			f.before[faultOf{found.ID, found.About}] = true
		}
	}
	return f, nil
}

// ofFirmware are the faults of a hand that another meter neither makes nor mends: a PWM
// that is too slow for it.
var ofFirmware = []string{"pwm_slow", "ripple_needle"}

// isNew says whether a fault of a build counts against the meter in it: any of its own
// hand but those of the firmware, and any other that was not there.
func (f *Frame) isNew(found *judge.Finding) bool {
	ofHand := found.About == f.Name() && !slices.Contains(ofFirmware, found.ID)
	return ofHand || !f.before[faultOf{found.ID, found.About}]
}

// Name is the name of the hand.
func (f *Frame) Name() string { return f.doc.Build.Hands[f.hand].Name }

// change is another text for a field of the hand.
func (f *Frame) change(path, text string) model.Change {
	return model.Change{Field: model.Builds.Field(path), Index: f.hand, Text: text}
}

// put returns the build with a meter in its hand, and the changes that put it there: what
// the build says otherwise, and what was set for the meter that it had.
func (f *Frame) put(m *model.Meter, texts map[string]string) (*model.Build, []model.Change) {
	b := *f.doc.Build
	b.Hands = slices.Clone(b.Hands)
	h := &b.Hands[f.hand]
	was := h.Meter
	h.Meter = *m
	h.Meter.Position, h.Meter.Panel, h.Meter.Neighbour, h.Meter.Diodes = was.Position, was.Panel, was.Neighbour, was.Diodes
	var changes []model.Change
	for _, field := range meterFields {
		text, ok := texts[field.Path]
		if !ok {
			text = usual(field)
		}
		if slices.Contains(ofClock, field.Path) {
			continue
		}
		if given, _ := f.doc.Given(field, f.hand); given != text {
			changes = append(changes, f.change(field.Path, text))
		}
	}
	cleared := f.cleared()
	return b.Changed(cleared), append(changes, cleared...)
}

// cleared takes out what was set for, or read off, the meter that the hand had.
func (f *Frame) cleared() []model.Change {
	var changes []model.Change
	for _, path := range []string{"hand.drive.setting", "hand.drive.dummy", "hand.scale.stands"} {
		field := model.Builds.Field(path)
		for i := range field.Of(f.doc.Build) {
			given, _ := f.doc.Given(field, i)
			if given != "" && strings.HasPrefix(field.PathOf(f.doc.Build, i), "hand."+f.Name()+".") {
				changes = append(changes, model.Change{Field: field, Index: i})
			}
		}
	}
	return changes
}
