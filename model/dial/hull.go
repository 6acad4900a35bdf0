package dial

import (
	"math"

	"example.com/needlewright/model/letters"
)

// A hull is a convex outline round something on a plate, by which it is told whether two
// things run into each other.
type hull []Point

// boxOf is the box of an outline that was turned.
func boxOf(o letters.Outline, at Point, turn float64) hull {
	w, h := o.Size()
	sin, cos := math.Sincos(turn * math.Pi / 180)
	var box hull
	for _, c := range [...]Point{xy(-w, -h), xy(w, -h), xy(w, h), xy(-w, h)} {
		x, y := c.X/2, c.Y/2
		box = append(box, xy(at.X+x*cos-y*sin, at.Y+x*sin+y*cos))
	}
	return box
}

// alongLine is the hull of a line.
func alongLine(l Line) hull {
	dx, dy := l.To.X-l.From.X, l.To.Y-l.From.Y
	long := math.Hypot(dx, dy)
	if long == 0 {
		return hull{l.From}
	}
	x, y := -dy/long*l.Width/2, dx/long*l.Width/2
	return hull{xy(l.From.X+x, l.From.Y+y), xy(l.To.X+x, l.To.Y+y), xy(l.To.X-x, l.To.Y-y), xy(l.From.X-x, l.From.Y-y)}
}

// round is the hull of a circle.
func round(c Circle) hull {
	const corners = 24
	var h hull
	for k := range corners {
		h = append(h, on(c.Middle, c.Radius/math.Cos(math.Pi/corners), 360*float64(k)/corners))
	}
	return h
}

// apart is how far two hulls stand from each other along the direction in which that is
// most, mm; negative where they run into each other.
func (h hull) apart(other hull) float64 { return max(h.beyond(other), other.beyond(h)) }

// beyond is the most by which another hull lies outside one of this one's sides.
func (h hull) beyond(other hull) float64 {
	most := math.Inf(-1)
	for i, a := range h {
		b := h[(i+1)%len(h)]
		nx, ny := b.Y-a.Y, a.X-b.X
		long := math.Hypot(nx, ny)
		if long == 0 {
			continue
		}
		own, least, far := math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, p := range h {
			own = max(own, (p.X*nx+p.Y*ny)/long)
			far = max(far, -(p.X*nx+p.Y*ny)/long)
		}
		for _, p := range other {
			least = min(least, (p.X*nx+p.Y*ny)/long)
		}
		most = max(most, least-own)
		least = math.Inf(1)
		for _, p := range other {
			least = min(least, -(p.X*nx+p.Y*ny)/long)
		}
		most = max(most, least-far)
	}
	return most
}

// within says whether a hull lies inside a plate.
func (h hull) within(e Rect) bool {
	for _, p := range h {
		if p.X < e.X || p.X > e.X+e.Width || p.Y < e.Y || p.Y > e.Y+e.Height {
			return false
		}
	}
	return true
}
