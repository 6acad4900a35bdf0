package calc

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"
)

// A smooth law goes through its points along a shape: one of the families of shape.go,
// bent so that the points lie on it as nearly as they can. Seen along the shape they
// are nearly a straight line, which the monotone cubic of Fritsch and Butland
// follows; seen as they are it would flatten a scale that is steep or flat at an
// end by several codes.

// NewSmooth returns the law that goes through points, at least two, both members
// strictly rising from 0, 0 to 1, 1. The shape it goes along is the one that comes
// near to the points, and by which each point is foretold by the others.
//
// Source: [Fritsch]; the shapes are common practice, no source
func NewSmooth(points []Point) Law {
	points = slices.Clone(points)
	s := smooth{shape: &shapes[0]}
	least := s.doubt(points)
	for i := 1; i < len(shapes) && len(points) > 2; i++ {
		const better = 1 - 1e-9 // of two that are as good the first
		other := smooth{shape: &shapes[i], bend: shapes[i].through(points)}
		if sum := other.doubt(points); sum < better*least {
			s, least = other, sum
		}
	}
	s.lay(points)
	return Law{Kind: Smooth, Points: points, smooth: &s}
}

// LeftOut returns by how much each point of a smooth law stands above what the others
// say of it, along the law's shape, as a share of the scale; 0 at both ends.
//
// Source: common practice, no source
func (l *Law) LeftOut() []float64 { return l.smooth.leftOut(l.Points) }

// Corners returns the points between which a law is straight: those of a table, of a
// smooth law so many that it is nearly so; none of others. They are not to be changed.
//
// Source: derived
func (l *Law) Corners() []Point {
	switch l.Kind {
	case Table:
		return l.Points
	case Smooth:
		return l.smooth.table.Points
	}
	return nil
}

// A smooth is what NewSmooth makes of points.
type smooth struct {
	shape  *shape
	bend   float64
	pieces []piece // cubics, from 0 to 1
	past   float64 // slope past full scale
	table  Law     // the ends of the pieces, with straight lines between
}

// A piece is a cubic: y + a·d + b·d² + c·d³ at d behind x.
type piece struct{ x, y, a, b, c, tillX, tillY float64 }

// along returns points as they are seen along the shape; nil where they do not rise there.
func (s *smooth) along(points []Point) []Point {
	seen := make([]Point, len(points))
	for i, p := range points {
		if seen[i] = p; 0 < p.Scale && p.Scale < 1 && s.shape != &shapes[0] {
			seen[i].Scale = s.shape.inverse(s.bend, p.Scale)
		}
		if i > 0 && seen[i].Scale <= seen[i-1].Scale {
			return nil
		}
	}
	return seen
}

// monotone is the cubic through points that rise.
func monotone(points []Point) *interp.FritschButland {
	xs, ys := make([]float64, len(points)), make([]float64, len(points))
	for i, p := range points {
		xs[i], ys[i] = p.Current, p.Scale
	}
	var cubic interp.FritschButland
	_ = cubic.Fit(xs, ys) // it has no error
	return &cubic
}

// leftOut is Law.LeftOut of points; +Inf where they do not rise along the shape.
func (s *smooth) leftOut(points []Point) []float64 {
	off, seen := make([]float64, len(points)), s.along(points)
	others := make([]Point, 0, len(points))
	for i := 1; i < len(points)-1; i++ {
		if off[i] = math.Inf(1); seen != nil {
			others = append(append(others[:0], seen[:i]...), seen[i+1:]...)
			off[i] = points[i].Scale - s.shape.at(s.bend, monotone(others).Predict(points[i].Current))
		}
	}
	return off
}

// doubt is the less the better points and the shape agree: what is foretold of them may
// by chance be right, and a shape that is near may be wrong at its ends; both together
// are not (found by trying scales of closed form, read with errors).
func (s *smooth) doubt(points []Point) float64 {
	sum := 0.0
	for _, off := range s.leftOut(points) {
		sum += off * off
	}
	return sum * s.shape.off(s.bend, points)
}

// lay lays the pieces through points: between two of them so many more along the
// shape, closer together at the ends of the scale, where it may be steep or flat.
func (s *smooth) lay(points []Point) {
	const pieces, least = 288, 8
	cubic := monotone(s.along(points)) // its shape was tried on them
	n, last := max(least, pieces/(len(points)-1)), len(points)-1
	nodes := points[:1:1]
	for i := 1; i <= last; i++ {
		from, to := points[i-1], points[i]
		for k := 1; k < n; k++ {
			way := float64(k) / float64(n)
			switch i {
			case 1:
				way *= way * way
			case last:
				way = 1 - (1-way)*(1-way)*(1-way)
			}
			x := from.Current + way*(to.Current-from.Current)
			node := Point{x, s.shape.at(s.bend, cubic.Predict(x))}
			if before := nodes[len(nodes)-1]; before.Current < x && x < to.Current && before.Scale < node.Scale && node.Scale < to.Scale {
				nodes = append(nodes, node)
			}
		}
		nodes = append(nodes, to)
	}
	s.join(nodes)
}

// join makes the pieces: the monotone cubic through nodes.
func (s *smooth) join(nodes []Point) {
	cubic := monotone(nodes)
	s.pieces = make([]piece, len(nodes)-1)
	for i := range s.pieces {
		from, to := nodes[i], nodes[i+1]
		w := to.Current - from.Current
		slope := (to.Scale - from.Scale) / w
		a, z := cubic.PredictDerivative(from.Current), cubic.PredictDerivative(to.Current)
		s.pieces[i] = piece{from.Current, from.Scale, a, (3*slope - 2*a - z) / w, (a + z - 2*slope) / (w * w), to.Current, to.Scale}
	}
	s.table = Law{Kind: Table, Points: nodes}
	const end = 0.01 // a slope at the very end may be 0
	s.past = (1 - cubic.Predict(1-end)) / end
}

// find returns the piece of a share of the scale, or else of current.
func (s *smooth) find(share float64, ofScale bool) int {
	low, high := 0, len(s.pieces)-1
	for low < high {
		middle := (low + high) / 2
		if share < s.pieces[middle].till(ofScale) {
			high = middle
		} else {
			low = middle + 1
		}
	}
	return low
}

func (p *piece) till(ofScale bool) float64 {
	if ofScale {
		return p.tillY
	}
	return p.tillX
}

// at is the share of the scale at a share of current on the piece of that number.
func (s *smooth) at(number int, current float64) float64 {
	if current >= 1 {
		return 1 + s.past*(current-1)
	}
	p := &s.pieces[number]
	return p.y + p.rise(current-p.x)
}

func (p *piece) rise(d float64) float64 { return d * (p.a + d*(p.b+d*p.c)) }

// inverse is the share of current at a share of the scale on the piece of that number:
// by bisection, hastened by Newton's method wherever that stays between its ends.
func (s *smooth) inverse(number int, scale float64) float64 {
	if scale >= 1 {
		return 1 + (scale-1)/s.past
	}
	const enough = 1e-11
	p := &s.pieces[number]
	low, high, rise := 0.0, p.tillX-p.x, scale-p.y
	d := high * rise / (p.tillY - p.y)
	for range 60 {
		over := p.rise(d) - rise
		if over > 0 {
			high = d
		} else {
			low = d
		}
		next := d - over/(p.a+d*(2*p.b+3*d*p.c))
		if !(low <= next && next <= high) {
			next = (low + high) / 2
		}
		moved := math.Abs(next - d)
		if d = next; moved <= enough*p.tillX { // Newton's next step would be its square
			break
		}
	}
	return p.x + d
}
