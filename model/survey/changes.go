package survey

import (
	"fmt"
	"math"
	"strconv"

	"example.com/needlewright/model/quantity"
)

// Prefix writes the changes with what stands before their paths, "hand.hours.".
func (v *Verdict) Prefix(prefix string) {
	c := &changes{prefix: prefix}
	c.measured(v)
	c.looks(v)
	c.steps(v.Steps)
	v.Changes = c.all
}

// changes are what a build's file takes over of a verdict.
type changes struct {
	prefix string
	all    []Change
}

// add adds a key where there is something to say.
func (c *changes) add(path, value, note string) {
	if value != "" {
		c.all = append(c.all, Change{c.prefix + path, value, note})
	}
}

// measured adds what is known by numbers, with its band.
func (c *changes) measured(v *Verdict) {
	note := fromSurvey
	if v.FromDial {
		note = fromDial
	}
	c.add("meter.coil", v.Coil.text(quantity.Ohms), fromSurvey)
	c.add("meter.full_scale", v.Movement.text(quantity.Microamperes), note)
	c.add("meter.terminal_resistance", v.Resistance.text(quantity.Ohms), fromSurvey)
	c.add("meter.terminal_full_scale", v.FullScale.text(quantity.Microamperes), note)
	if v.Law == "linear" || v.Law == "square" {
		c.add("meter.law", v.Law, fromSurvey)
	}
	if v.Verdict != Stopped {
		c.inside(v)
	}
}

// inside adds what is inside, and whether the closed case is what counts: wherever its
// movement is not known by itself.
func (c *changes) inside(v *Verdict) {
	counts := "yes"
	switch {
	case v.Inside == "none":
		counts = "no"
		c.add("meter.internal_kind", "none", "")
	case v.Inside != notKnown:
		c.add("meter.internal_kind", v.Inside, "")
	case !v.FullScale.IsKnown():
		return
	}
	c.add("meter.in_circuit", counts, "")
}

// text is a value with its band, "" where either is not known.
func (v Value) text(u quantity.Unit) string {
	if !v.IsKnown() || math.IsNaN(v.Low+v.High) {
		return ""
	}
	return quantity.Show(v.Value, u, 3) + " ±" + quantity.Show((v.High-v.Low)/2, u, 2)
}

// looks adds what was told of the meter without connecting it.
func (c *changes) looks(v *Verdict) {
	kind := v.kind
	if kind == notKnown {
		kind = ""
	}
	c.add("meter.kind", kind, "")
	if v.marked != notKnown {
		c.add("meter.marked", v.marked, "")
	}
	c.add("meter.origin", v.origin, "")
	c.add("meter.removed", v.removed, "")
	c.add("meter.glow", v.glow, "")
	if !v.rests {
		return
	}
	zero := 0.0
	switch {
	case v.right:
		c.add("meter.zero_at", "right", "")
	case v.centre():
		zero = 0.5
		c.add("meter.zero_at", "centre", "")
	}
	c.add("meter.zero_offset", strconv.FormatFloat(math.Round(1e4*(v.rest-zero))/100, 'f', -1, 64)+" %", "")
}

// steps adds the readings themselves.
func (c *changes) steps(all []Step) {
	for n, s := range all {
		path := fmt.Sprintf("survey.step.%d.", n+1)
		c.add(path+"volts", strconv.FormatFloat(s.Volts, 'f', -1, 64), "")
		c.add(path+"source", s.Source, "")
		c.add(path+"series", s.Series, "")
		c.add(path+"needle", s.Needle, "")
		c.add(path+"terminals", s.Terminals, "")
	}
}
