package dial

import (
	"fmt"
	"math"
)

// look notes what a person would not want to find on the print: what runs into something
// else, or over the edge.
func (d *drawing) look() {
	p := d.plate
	d.lookAtNumerals(p.Numerals)
	var before []namedCircle
	for _, of := range [...]struct {
		name string
		all  []Circle
	}{{"hole", p.Holes}, {"window", p.Windows}} {
		for i, c := range of.all {
			named := namedCircle{c, fmt.Sprintf("%s %d", of.name, i+1)}
			d.lookAtCircle(named, before)
			before = append(before, named)
		}
	}
	for _, t := range p.Ticks {
		if !alongLine(t.Line).within(p.Edge) {
			p.note("the scale runs over the plate's edge: a smaller radius, or a larger plate")
			break
		}
	}
	if d.form.SecondScale == d.hand.Shows {
		p.note("the second scale is of the same time as the first")
	}
}

// lookAtNumerals notes those that were asked for and have no room.
func (d *drawing) lookAtNumerals(all []Numeral) {
	p := d.plate
	over := false
	for i, n := range all {
		over = over || !n.hull.within(p.Edge)
		for k, other := range all[:i] {
			if n.hull.apart(other.hull) < 0 {
				p.note("numerals %s and %s run into each other: leave one out, or make them smaller", all[k].Text, n.Text)
			}
		}
	}
	if over {
		p.note("a numeral runs over the plate's edge: a smaller radius, or a larger plate")
	}
}

// A namedCircle is a hole or a window as the notes name it: "hole 2".
type namedCircle struct {
	Circle
	name string
}

// lookAtCircle notes what a hole or window runs into: the edge, those before it, numerals and
// ticks.
func (d *drawing) lookAtCircle(c namedCircle, before []namedCircle) {
	p, own := d.plate, round(c.Circle)
	if !own.within(p.Edge) {
		p.note("%s is not within the plate", c.name)
	}
	for _, other := range before {
		if math.Hypot(other.Middle.X-c.Middle.X, other.Middle.Y-c.Middle.Y) < other.Radius+c.Radius {
			p.note("%s and %s overlap", other.name, c.name)
		}
	}
	for _, n := range p.Numerals {
		if own.apart(n.hull) < 0 {
			p.note("%s cuts into numeral %s", c.name, n.Text)
		}
	}
	for _, t := range p.Ticks {
		if own.apart(alongLine(t.Line)) < 0 {
			p.note("%s cuts into the mark at %s", c.name, t.Time)
			break
		}
	}
}
