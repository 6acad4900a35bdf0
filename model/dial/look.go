package dial

import "fmt"

// look notes what a person would not want to find on the print: what runs into something
// else, or over the edge.
func (d *drawing) look() {
	p := d.plate
	d.lookAtNumerals(p.Numerals)
	for _, of := range [...]struct {
		name string
		all  []Circle
	}{{"hole", p.Holes}, {"window", p.Windows}} {
		for i, c := range of.all {
			name := fmt.Sprintf("%s %d", of.name, i+1)
			if !round(c).within(p.Edge) {
				p.note("%s is not within the plate", name)
			}
			d.lookAtCircle(name, of.name == "hole", i, c)
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

// lookAtCircle notes what a hole or window runs into: those before it, numerals and ticks.
func (d *drawing) lookAtCircle(name string, hole bool, i int, c Circle) {
	p, own := d.plate, round(c)
	before := append([]Circle{}, p.Holes...)
	names := func(k int) string { return fmt.Sprintf("hole %d", k+1) }
	if hole {
		before = before[:i]
	} else {
		before = append(before, p.Windows[:i]...)
		names = func(k int) string {
			if k < len(p.Holes) {
				return fmt.Sprintf("hole %d", k+1)
			}
			return fmt.Sprintf("window %d", k-len(p.Holes)+1)
		}
	}
	for k, other := range before {
		if dx, dy := other.Middle.X-c.Middle.X, other.Middle.Y-c.Middle.Y; dx*dx+dy*dy < (other.Radius+c.Radius)*(other.Radius+c.Radius) {
			p.note("%s and %s overlap", names(k), name)
		}
	}
	for _, n := range p.Numerals {
		if own.apart(n.hull) < 0 {
			p.note("%s cuts into numeral %s", name, n.Text)
		}
	}
	for _, t := range p.Ticks {
		if own.apart(alongLine(t.Line)) < 0 {
			p.note("%s cuts into the mark at %s", name, t.Time)
			break
		}
	}
}
