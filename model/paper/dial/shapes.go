// Package dial writes sheets with dials as SVG, PDF and PNG, in true size: what stands where
// is the model's package of the same name, here called plate. The same sheet gives the
// same bytes on any day and any machine.
package dial

import (
	"math"

	"example.com/needlewright/model/letters"

	plate "example.com/needlewright/model/dial"
)

// A shape is a path on a sheet, in mm: stroked where it has a width, else filled.
type shape struct {
	path  []letters.Segment
	width float64 // of the stroke, mm
	grey  float64 // 0 black to 1 white
}

// What is drawn finely, mm, and how light a mirror band is.
const (
	fine       = 0.12
	mirrorGrey = 0.88
	crossArm   = 1.2 // of the cross at a pivot or in a hole
)

// shapesOf are those of a sheet, in the order in which they are drawn.
func shapesOf(p *plate.Page) []shape {
	var all []shape
	for _, d := range p.Plates {
		all = append(all, shapesOfPlate(d)...)
	}
	for _, l := range p.Checks {
		all = append(all, stroked(l))
		for _, end := range checkEnds(l) {
			all = append(all, stroked(end))
		}
	}
	return append(all, filled(p.Words)...)
}

func shapesOfPlate(d *plate.Plate) []shape {
	var all []shape
	if m := d.Mirror; m != nil {
		path := bandPath(d.Pivot, *m)
		all = append(all, shape{path: path, grey: mirrorGrey}, shape{path: path, width: fine})
	}
	all = append(all, shape{path: arcPath(d.Pivot, d.Radius, d.Start, d.Start+d.Sweep), width: d.Weight})
	for _, l := range d.Ends {
		all = append(all, stroked(l))
	}
	for _, t := range d.Ticks {
		all = append(all, stroked(t.Line))
	}
	all = append(all, filled(outlines(d.Numerals))...)
	if s := d.Second; s != nil {
		if s.Radius < d.Radius {
			all = append(all, shape{path: arcPath(d.Pivot, s.Radius, d.Start, d.Start+d.Sweep), width: fine})
		}
		for _, t := range s.Lines {
			all = append(all, stroked(t.Line))
		}
		all = append(all, filled(outlines(s.Numerals))...)
	}
	if d.Title != nil {
		all = append(all, filled([]letters.Outline{*d.Title})...)
	}
	for _, c := range append(append([]plate.Circle{}, d.Holes...), d.Windows...) {
		all = append(all, shape{path: circlePath(c), width: fine})
	}
	for _, l := range fineLines(d) {
		all = append(all, stroked(l))
	}
	return all
}

// fineLines are the crosses at the pivot and in the holes, and the cut marks.
func fineLines(d *plate.Plate) []plate.Line {
	lines := cross(d.Pivot)
	for _, h := range d.Holes {
		lines = append(lines, cross(h.Middle)...)
	}
	return append(lines, d.Cuts...)
}

// cross is where a centre punch is set.
func cross(at plate.Point) []plate.Line {
	return []plate.Line{
		{From: plate.Point{X: at.X - crossArm, Y: at.Y}, To: plate.Point{X: at.X + crossArm, Y: at.Y}, Width: fine},
		{From: plate.Point{X: at.X, Y: at.Y - crossArm}, To: plate.Point{X: at.X, Y: at.Y + crossArm}, Width: fine},
	}
}

// checkEnds are the short lines across a check line's ends, which a ruler is laid to.
func checkEnds(l plate.Line) []plate.Line {
	const arm = 1.5
	var ends []plate.Line
	across := l.From.Y == l.To.Y
	for _, p := range []plate.Point{l.From, l.To} {
		if across {
			ends = append(ends, plate.Line{From: plate.Point{X: p.X, Y: p.Y - arm}, To: plate.Point{X: p.X, Y: p.Y + arm}, Width: fine})
		} else {
			ends = append(ends, plate.Line{From: plate.Point{X: p.X - arm, Y: p.Y}, To: plate.Point{X: p.X + arm, Y: p.Y}, Width: fine})
		}
	}
	return ends
}

func outlines(numerals []plate.Numeral) []letters.Outline {
	var all []letters.Outline
	for _, n := range numerals {
		all = append(all, n.Outline)
	}
	return all
}

func filled(outlines []letters.Outline) []shape {
	var all []shape
	for _, o := range outlines {
		all = append(all, shape{path: o.Segments})
	}
	return all
}

func stroked(l plate.Line) shape {
	return shape{path: []letters.Segment{to(letters.Move, l.From), to(letters.Line, l.To)}, width: l.Width}
}

// to is a segment that ends at a point.
func to(op letters.Op, points ...plate.Point) letters.Segment {
	s := letters.Segment{Op: op}
	copy(s.Points[:], points)
	return s
}

// arcPath goes round a pivot from an angle to another, degrees clockwise from straight up.
func arcPath(pivot plate.Point, radius, from, till float64) []letters.Segment {
	path := []letters.Segment{to(letters.Move, onCircle(pivot, radius, from))}
	return append(path, turning(pivot, radius, from, till)...)
}

// turning goes on round a pivot, in cubic curves of at most 15°, which leave the circle by
// less than a millionth of a millimetre.
func turning(pivot plate.Point, radius, from, till float64) []letters.Segment {
	const most = 15.0
	n := int(math.Ceil(math.Abs(till-from)/most - 1e-9))
	step := (till - from) / float64(max(n, 1))
	arm := 4.0 / 3 * math.Tan(step*math.Pi/180/4) * radius // of the control points; derived
	var path []letters.Segment
	for k := range n {
		a, b := from+step*float64(k), from+step*float64(k+1)
		p, q := onCircle(pivot, radius, a), onCircle(pivot, radius, b)
		path = append(path, to(letters.Cube, ahead(p, a, arm), ahead(q, b, -arm), q))
	}
	return path
}

func circlePath(c plate.Circle) []letters.Segment { return arcPath(c.Middle, c.Radius, 0, 360) }

// bandPath is the outline of a band.
func bandPath(pivot plate.Point, b plate.Band) []letters.Segment {
	path := arcPath(pivot, b.Outer, b.From, b.To)
	path = append(path, to(letters.Line, onCircle(pivot, b.Inner, b.To)))
	path = append(path, turning(pivot, b.Inner, b.To, b.From)...)
	return append(path, to(letters.Line, onCircle(pivot, b.Outer, b.From)))
}

func onCircle(pivot plate.Point, radius, angle float64) plate.Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return plate.Point{X: pivot.X + radius*sin, Y: pivot.Y - radius*cos}
}

// ahead is a point on the tangent of a circle, clockwise.
func ahead(p plate.Point, angle, by float64) plate.Point {
	sin, cos := math.Sincos(angle * math.Pi / 180)
	return plate.Point{X: p.X + by*cos, Y: p.Y + by*sin}
}
