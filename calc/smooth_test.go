package calc

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

func ExampleNewSmooth() {
	// Derived: a moving iron's scale is a square, of which these are points.
	law := NewSmooth([]Point{{0, 0}, {0.25, 0.0625}, {0.5, 0.25}, {0.75, 0.5625}, {1, 1}})
	fmt.Printf("%.3f of the scale at a tenth of the current\n", law.At(0.1))
	// Output: 0.010 of the scale at a tenth of the current
}

func ExampleQuantisation_CoarsestStep() {
	// Derived: of a cube root in 240 codes the first is the cube root of 1/240, 115.9 of 720 min.
	law := NewSmooth(sample(math.Cbrt, 6))
	c := Quantisation{Law: &law, Top: 240, Steps: 720, Codes: true}
	step, at := c.CoarsestStep()
	fmt.Printf("%.1f min from %.0f min on\n", 720*step, 720*at)
	// Output: 115.9 min from 0 min on
}

// A scale is a law in closed form, and the most that codes straightened by seven points of it may be
// off beyond the reading, in steps of the dial between neighbouring codes: the contract's 1.5.
type closedScale struct {
	name string
	at   func(x float64) float64
}

var closedScales = []closedScale{
	{"square", func(x float64) float64 { return x * x }},
	{"cosine", func(x float64) float64 { return (1 - math.Cos(math.Pi*x)) / 2 }},
	{"quarter sine", func(x float64) float64 { return math.Sin(math.Pi / 2 * x) }},
	{"smoothstep", func(x float64) float64 { return x * x * (3 - 2*x) }},
	{"smoother step", func(x float64) float64 { return x * x * x * (x*(6*x-15) + 10) }},
	{"logistic", func(x float64) float64 { return 0.5 + math.Tanh(4*(x-0.5))/(2*math.Tanh(2)) }},
	{"steep logistic", func(x float64) float64 { return 0.5 + math.Tanh(5*(x-0.5))/(2*math.Tanh(2.5)) }},
	{"wave", func(x float64) float64 { return x - 0.12*math.Sin(2*math.Pi*x) }},
	{"sag", func(x float64) float64 { return 0.3*x + 0.7*x*x }},
	{"straight", func(x float64) float64 { return x }},
}

// sample is a scale at the ends of so many equal parts of the current.
func sample(at func(x float64) float64, parts int) []Point {
	points := make([]Point, parts+1)
	for i := range points {
		x := float64(i) / float64(parts)
		points[i] = Point{x, at(x)}
	}
	points[parts].Scale = 1
	return points
}

// stepsOff is an independent judge: by how many local steps the codes of a law that was fitted are
// off on the scale as it is, beyond what was read wrong.
func stepsOff(at func(x float64) float64, fitted *Law, top, read float64) float64 {
	c := Quantisation{Law: fitted, Top: top, Steps: 720, Codes: true}
	most, code := 0.0, 0.0
	for s := range 721 {
		y := float64(s) / 720
		for code < top-1 && at((code+1)/top) <= y {
			code++
		}
		off := math.Abs(at(c.Code(y)/top)-y) - read
		most = max(most, off/(at((code+1)/top)-at(code/top)))
	}
	return most
}

// Seven points of scales in closed form. The bound is the contract's.
func TestSmoothStraightens(t *testing.T) {
	const allowed = 1.5
	for _, s := range closedScales {
		for _, top := range []float64{240, 720} {
			law := NewSmooth(sample(s.at, 6))
			off := stepsOff(s.at, &law, top, 0)
			assert.LessOrEqual(t, off, allowed, "%s, %v codes", s.name, top)
			points := sample(s.at, 6)
			for i := range points { // as read to the minute of twelve hours
				points[i].Scale = math.Round(720*points[i].Scale) / 720
			}
			law = NewSmooth(points)
			read := stepsOff(s.at, &law, top, 0.5/720)
			assert.LessOrEqual(t, read, allowed, "%s, %v codes, read to the minute", s.name, top)
			plain := plainlyThrough(sample(s.at, 6))
			t.Logf("%-14s %v codes: %.2f steps, read to the minute %.2f; the cubic alone %.2f", s.name, top, off, read, stepsOff(s.at, &plain, top, 0))
		}
	}
}

// plainlyThrough is the cubic through points with no shape.
func plainlyThrough(points []Point) Law {
	var s smooth
	s.join(points)
	return Law{Kind: Smooth, Points: points, smooth: &s}
}

// Points that are each read wrong by up to half a percent, as common practice has it, and by a fifth of
// that: of most scales nearly all are straightened. The shares are of these samples; the bound is the contract's.
func TestSmoothStraightensReadings(t *testing.T) {
	const runs = 10
	random := rand.New(rand.NewPCG(8, 1))
	for _, read := range []float64{0.001, 0.005} {
		missed := 0
		for _, s := range closedScales {
			for _, top := range []float64{240, 720} {
				for range runs {
					points := sample(s.at, 6)
					for i := 1; i < 6; i++ {
						points[i].Scale += read * (2*random.Float64() - 1)
					}
					if law := NewSmooth(points); stepsOff(s.at, &law, top, read) > 1.5 {
						missed++
					}
				}
			}
		}
		share := float64(missed) / float64(runs*2*len(closedScales))
		t.Logf("read within %v: %.1f %% missed", read, 100*share)
		assert.LessOrEqual(t, share, map[float64]float64{0.001: 0.01, 0.005: 0.05}[read])
	}
}

// Independently computed: the slopes by the formula of the paper of 1984, three points at the ends, and the
// Bezier points of each cubic by de Casteljau's rule, in exact fractions, in another language.
func TestJoinPublished(t *testing.T) {
	law := plainlyThrough([]Point{{0, 0}, {0.1, 0.02}, {0.3, 0.18}, {0.6, 0.6}, {0.9, 0.85}, {1, 1}})
	for _, c := range []struct{ x, want float64 }{
		{0.05, 1.0 / 160}, {0.2, 33.0 / 400}, {0.4, 187.0 / 603}, {0.5, 14077.0 / 30150}, {0.75, 30959.0 / 42880}, {0.95, 1763.0 / 1920},
	} {
		assert.InDelta(t, c.want, law.At(c.x), 1e-15, "at %v", c.x)
		assert.InDelta(t, c.x, law.Inverse(c.want), 1e-14, "inverse of %v", c.want)
	}
}

// The library's own evaluation of the same cubic.
func TestJoinIsTheLibrarys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		points := drawTable(t).Points
		law := plainlyThrough(points)
		xs, ys := make([]float64, len(points)), make([]float64, len(points))
		for i, p := range points {
			xs[i], ys[i] = p.Current, p.Scale
		}
		var cubic interp.FritschButland
		assert.NoError(t, cubic.Fit(xs, ys))
		x := rapid.Float64Range(0, 1).Draw(t, "x")
		assert.InDelta(t, cubic.Predict(x), law.At(x), 1e-12)
	})
}

// The pieces are the shape as it is seen through its points, to a hundred-thousandth of the scale: far below
// what can be read, and below the steps of 16-bit codes.
func TestLayIsTheShape(t *testing.T) {
	for _, s := range closedScales {
		points := sample(s.at, 6)
		law := NewSmooth(points)
		cubic := monotone(law.smooth.along(points))
		for k := range 1001 {
			x := float64(k) / 1000
			assert.InDelta(t, law.smooth.shape.at(law.smooth.bend, cubic.Predict(x)), law.At(x), 1e-5, "%s at %v", s.name, x)
		}
	}
}

func TestSmoothKeepsItsPoints(t *testing.T) {
	points := []Point{{0, 0}, {0.5, 0.3}, {1, 1}}
	law := NewSmooth(points)
	points[1].Scale = 0.4
	assert.InDelta(t, 0.3, law.At(0.5), 1e-15)
	assert.Equal(t, 0.3, law.Points[1].Scale)
	assert.Len(t, law.LeftOut(), 3)
}

// Straight lines between the corners of a law are the law, of a smooth one nearly.
func TestCorners(t *testing.T) {
	for _, s := range closedScales {
		law := NewSmooth(sample(s.at, 6))
		lines := Law{Kind: Table, Points: law.Corners()}
		for k := range 1001 {
			x := float64(k) / 1000
			assert.InDelta(t, law.At(x), lines.At(x), 1e-4, "%s at %v", s.name, x)
		}
		assert.Equal(t, lines.Points, lines.Corners())
	}
	assert.Nil(t, (&Law{Kind: Square}).Corners())
}

// A point that is off stands off what the others say by more than they do.
func TestLeftOut(t *testing.T) {
	points := sample(closedScales[0].at, 8)
	law := NewSmooth(points)
	for i, off := range law.LeftOut() {
		assert.InDelta(t, 0, off, 1e-6, "derived: a square is foretold by any of its points, %d", i)
	}
	points[4].Scale += 0.05
	law = NewSmooth(points)
	off := law.LeftOut()
	assert.Greater(t, off[4], 0.03)
	for i := range off {
		assert.LessOrEqual(t, math.Abs(off[i]), off[4])
	}
	assert.Zero(t, off[0])
	assert.Zero(t, off[8])
}

// Past full scale a smooth law goes on straight, though it be flat at its end.
func TestSmoothPastFullScale(t *testing.T) {
	for _, s := range closedScales {
		law := NewSmooth(sample(s.at, 6))
		slope := (1 - s.at(0.99)) / 0.01 // the mean over the last hundredth
		assert.InEpsilon(t, 1+0.1*slope, law.At(1.1), 1e-5, s.name)
		assert.InDelta(t, 1.1, law.Inverse(law.At(1.1)), 1e-9, s.name)
	}
}

// Every shape rises strictly from 0, 0 to 1, 1 whatever its bend, and its inverse undoes it.
func TestShapes(t *testing.T) {
	for i := range shapes {
		s := &shapes[i]
		for _, share := range []float64{0, 0.25, 0.5, 0.75, 1} {
			bend := s.from + share*(s.to-s.from)
			assert.InDelta(t, 0, s.at(bend, 0), 1e-12, "shape %d, bend %v", i, bend)
			assert.InDelta(t, 1, s.at(bend, 1), 1e-12, "shape %d, bend %v", i, bend)
			last := 0.0
			for k := 1; k < 100; k++ {
				y := s.at(bend, float64(k)/100)
				assert.GreaterOrEqual(t, y, last, "shape %d, bend %v, %d", i, bend, k)
				assert.InDelta(t, y, s.at(bend, s.inverse(bend, y)), 1e-12, "shape %d, bend %v, %d", i, bend, k)
				last = y
			}
		}
	}
}

// Derived: steps of the dial between codes are the differences of what they show.
func TestCoarsestStep(t *testing.T) {
	linear := Quantisation{Law: &Law{}, Top: 240, Steps: 720}
	step, _ := linear.CoarsestStep()
	assert.InDelta(t, 1.0/240, step, 1e-15)
	square := Quantisation{Law: &Law{Kind: Square}, Top: 240, Steps: 720, Codes: true}
	step, at := square.CoarsestStep()
	assert.InDelta(t, 1-(239.0/240)*(239.0/240), step, 1e-15)
	assert.InDelta(t, (239.0/240)*(239.0/240), at, 1e-15)
	square.Dial, square.Codes = true, false
	step, _ = square.CoarsestStep()
	assert.InDelta(t, 1.0/240, step, 1e-15, "a dial that is drawn to the needle has even steps")
}

func BenchmarkSmooth(b *testing.B) {
	points := sample(closedScales[1].at, 6)
	smooth, table := NewSmooth(points), Law{Kind: Table, Points: points}
	for name, law := range map[string]*Law{"smooth": &smooth, "table": &table} {
		b.Run(name, func(b *testing.B) {
			c := Quantisation{Law: law, Top: 720, Steps: 1440, Codes: true}
			b.ReportAllocs()
			for b.Loop() {
				c.Errors()
			}
		})
	}
	b.Run("new", func(b *testing.B) {
		for b.Loop() {
			NewSmooth(points)
		}
	})
}
