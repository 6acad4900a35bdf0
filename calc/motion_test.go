package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func ExampleDampingFromOvershoot() {
	// A public page of formulas: 20 % is 0.4559. Course notes on control: 25 % is
	// 0.4037.
	for _, m := range []float64{0.20, 0.25} {
		fmt.Printf("%.0f %%: %.4f\n", 100*m, math.Floor(1e4*DampingFromOvershoot(m))/1e4)
	}
	// Output:
	// 20 %: 0.4559
	// 25 %: 0.4037
}

func ExampleMovement_Settling() {
	// Ogata, Modern Control Engineering, Ex. 5-1 (from memory): damping 0.6 and 5
	// rad/s. An independent simulation in steps: 2 % is reached at 1.188 s and 5 % at
	// 1.046 s, where the envelope says 1.33 s and 1 s. The fourth figure is an
	// independent computation, the root in 15 figures.
	m := Movement{Period: 2 * math.Pi / 5, Damping: 0.6}
	fmt.Printf("%.4f s, %.4f s\n", m.Settling(0.02), m.Settling(0.05))
	// Output: 1.1886 s, 1.0458 s
}

func TestFirstSwingPublished(t *testing.T) {
	// Ogata, the same (from memory): it peaks at 0.785 s, 9.5 % past its end.
	m := Movement{Period: 2 * math.Pi / 5, Damping: 0.6}
	assert.InDelta(t, -0.095, m.Remaining(0.785), 0.0005)
	assert.Less(t, m.Remaining(0.785), m.Remaining(0.75))
	assert.Less(t, m.Remaining(0.785), m.Remaining(0.82))
}

func TestDampingPublished(t *testing.T) {
	// Derived: -ln M/√(π² + ln² M).
	for _, c := range []struct{ overshoot, want float64 }{{0.05, 0.690}, {0.10, 0.591}, {0.15, 0.517}} {
		assert.InDelta(t, c.want, DampingFromOvershoot(c.overshoot), 0.0005)
	}
	// Course notes on control: 25 % and 5 s between peaks: 0.6868 rad/s, poles at
	// -0.2773 ± j0.6283.
	z := DampingFromOvershoot(0.25)
	w := 2 * math.Pi / 5 / 2 / math.Sqrt(1-z*z)
	assert.InDelta(t, 0.6868, w, 0.00005)
	assert.InDelta(t, 0.2773, z*w, 0.00005)
	assert.Equal(t, 1.0, DampingFromOvershoot(0)) // the catalogue: 1 if there is none
	assert.Zero(t, DampingFromOvershoot(1))       // derived: swings for ever
	assert.True(t, math.IsNaN(DampingFromOvershoot(1.01)))
	assert.True(t, math.IsNaN(DampingFromOvershoot(-0.01)))
}

// TestOvershootOfTheMotion: derived; the first swing past the end, wherever the
// needle is seen to turn, gives its damping back.
func TestOvershootOfTheMotion(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		overshoot := rapid.Float64Range(0.001, 0.9).Draw(t, "overshoot")
		m := Movement{Period: rapid.Float64Range(0.05, 20).Draw(t, "period"), Damping: DampingFromOvershoot(overshoot)}
		// The first minimum by thirds, between the start and 1.2 damped periods.
		a, b := 0.0, 1.2*m.Period/math.Sqrt(1-m.Damping*m.Damping)*0.8
		for range 100 {
			c, d := a+(b-a)/3, b-(b-a)/3
			if m.Remaining(c) < m.Remaining(d) {
				b = d
			} else {
				a = c
			}
		}
		assert.InDelta(t, -overshoot, m.Remaining(a), 1e-9)
	})
}

// TestRemainingAgainstMatrixExponential: an independent computation.
func TestRemainingAgainstMatrixExponential(t *testing.T) {
	for _, z := range []float64{0.03, 0.3, 0.6, 1 - 1e-4, 1 - 1e-9, 1, 1 + 1e-9, 1 + 1e-4, 1.4, 3, 10} {
		m := Movement{Period: 1.1, Damping: z}
		w := 2 * math.Pi / 1.1
		assert.Equal(t, 1.0, m.Remaining(0))
		for _, x := range []float64{1e-6, 0.01, 0.1, 0.5, 1, 2, 5, 20} {
			var e mat.Dense
			e.Exp(mat.NewDense(2, 2, []float64{0, x, -w * w * x, -2 * z * w * x}))
			assert.InDelta(t, e.At(0, 0), m.Remaining(x), 1e-12, "damping %v, %v s", z, x)
		}
	}
}

// dampings are those worth a test: swinging, near critical on both sides, sluggish.
var dampings = []float64{0, 0.03, 0.3, 0.6, 1 - 1e-4, 1 - 1e-9, 1, 1 + 1e-9, 1 + 1e-4, 1.4, 3, 10}

// TestAdvanceAgainstMatrixExponential: an independent computation.
func TestAdvanceAgainstMatrixExponential(t *testing.T) {
	for _, z := range dampings {
		m := Movement{Period: 1.1, Damping: z}
		w := 2 * math.Pi / 1.1
		for _, dt := range []float64{0, 1e-6, 1.0 / 30, 0.1, 0.5, 1, 2, 5, 20} {
			var e mat.Dense
			e.Exp(mat.NewDense(2, 2, []float64{0, dt, -w * w * dt, -2 * z * w * dt}))
			for _, s := range []Swing{{1, 0}, {0, 1}, {0.3, -2}} {
				const target = 0.7
				got := m.Advance(s, target, dt)
				off := s.Place - target
				assert.InDelta(t, target+e.At(0, 0)*off+e.At(0, 1)*s.Speed, got.Place, 1e-11, "damping %v, %v s", z, dt)
				assert.InDelta(t, e.At(1, 0)*off+e.At(1, 1)*s.Speed, got.Speed, 1e-10, "damping %v, %v s", z, dt)
			}
		}
	}
}

// TestAdvanceAfterAStep: derived; from rest it is what Remaining says, its speed
// the slope of that, and after any time, long or short, no more than a swing.
func TestAdvanceAfterAStep(t *testing.T) {
	for _, z := range dampings {
		m := Movement{Period: 1.1, Damping: z}
		for _, dt := range []float64{1e-300, 1e-9, 0.01, 0.2, 0.7, 1.3, 4, 60, 1e5, 1e300} {
			got := m.Advance(Swing{}, 1, dt)
			assert.InDelta(t, 1-m.Remaining(dt), got.Place, 1e-15, "damping %v, %v s", z, dt)
			assert.True(t, -1e-9 <= got.Place && got.Place <= 2+1e-9, "damping %v, %v s: %v", z, dt, got)
			assert.Less(t, math.Abs(got.Speed), m.Frequency()*(1+1e-9), "damping %v, %v s", z, dt)
			if 0.01 <= dt && dt <= 60 {
				const h = 1e-5
				slope := (m.Remaining(dt-h) - m.Remaining(dt+h)) / (2 * h)
				assert.InDelta(t, slope, got.Speed, 1e-7, "damping %v, %v s", z, dt)
			}
		}
	}
}

// TestAdvanceInParts: derived; two waits in a row are one wait.
func TestAdvanceInParts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Movement{Period: rapid.Float64Range(0.05, 20).Draw(t, "period"),
			Damping: rapid.Float64Range(0, 10).Draw(t, "damping")}
		s := Swing{rapid.Float64Range(-1, 2).Draw(t, "place"), rapid.Float64Range(-10, 10).Draw(t, "speed")}
		target := rapid.Float64Range(0, 1).Draw(t, "target")
		first, second := rapid.Float64Range(0, 30).Draw(t, "first"), rapid.Float64Range(0, 30).Draw(t, "second")
		parts := m.Advance(m.Advance(s, target, first), target, second)
		whole := m.Advance(s, target, first+second)
		size := 1 + math.Abs(s.Place) + math.Abs(s.Speed)*m.Period
		assert.InDelta(t, whole.Place, parts.Place, 1e-10*size)
		assert.InDelta(t, whole.Speed, parts.Speed, 1e-10*size*m.Frequency())
		none := m.Advance(s, target, 0)
		assert.InDelta(t, s.Place, none.Place, 1e-15*size, "no time, no motion, but for target + (place − target)")
		assert.Equal(t, s.Speed, none.Speed, "no time, no change of speed")
	})
}

// settledBackwards is an independent computation: from long after, backwards to
// the first sample outside the band, and halving.
func settledBackwards(m Movement, band float64) float64 {
	slow := m.Damping
	if m.Damping > 1 {
		slow = m.Damping - math.Sqrt(m.Damping*m.Damping-1)
	}
	last := -2 * (math.Log(band) - 3) / (slow * m.Frequency())
	step := m.Period / 200
	t := last
	for t > 0 && math.Abs(m.Remaining(t)) < band {
		t -= step
	}
	a, b := t, t+step
	for range 60 {
		if c := (a + b) / 2; math.Abs(m.Remaining(c)) < band {
			b = c
		} else {
			a = c
		}
	}
	return b
}

func TestSettlingAgainstSampling(t *testing.T) {
	for _, band := range []float64{0.3, 0.05, 0.015, 1e-3, 1e-6, 1e-9} {
		for _, z := range []float64{0.03, 0.1, 0.3, 0.434, 0.6, 0.7, 0.8, 0.9, 0.99, 1 - 1e-6, 1 - 1e-12, 1, 1 + 1e-12, 1.001, 1.4, 3, 10} {
			m := Movement{Period: 1.1, Damping: z}
			assert.InEpsilon(t, settledBackwards(m, band), m.Settling(band), 1e-9, "damping %v, band %v", z, band)
		}
	}
	assert.True(t, math.IsInf(Movement{Period: 1, Damping: 0}.Settling(0.015), 1), "never")
}

// TestSettlingLaws: derived.
func TestSettlingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Movement{Period: rapid.Float64Range(0.05, 20).Draw(t, "period"),
			Damping: rapid.Float64Range(0.03, 10).Draw(t, "damping")}
		band := rapid.Float64Range(1e-4, 0.5).Draw(t, "band")
		at := m.Settling(band)
		assert.InDelta(t, band, math.Abs(m.Remaining(at)), 1e-9, "it is the band's edge")
		for k := 1; k <= 300; k++ {
			after := at * (1 + float64(k)/30)
			assert.LessOrEqual(t, math.Abs(m.Remaining(after)), band*(1+1e-9), "%v s, after %v s", after, at)
		}
		slower := Movement{m.Period * 3, m.Damping}
		assert.InEpsilon(t, 3*at, slower.Settling(band), 1e-9, "goes with the period")
		assert.GreaterOrEqual(t, m.Settling(band/2), at, "a narrower band takes longer")
	})
}

// TestSettlingContinuous: derived; for a fixed band settling follows the damping
// without a gap except where a peak just leaves the band, at overshoot^k = band.
func TestSettlingContinuous(t *testing.T) {
	const band, step = 0.015, 1e-5
	jumps := 0
	before := Movement{Period: 1, Damping: 0.3}.Settling(band)
	for z := 0.3 + step; z < 2; z += step {
		now := Movement{Period: 1, Damping: z}.Settling(band)
		if math.Abs(now-before) > 0.02 {
			jumps++
			overshoot := math.Exp(-math.Pi * z / math.Sqrt(1-z*z))
			k := math.Log(band) / math.Log(overshoot)
			assert.InDelta(t, math.Round(k), k, 1e-3, "a jump at damping %v, k %v", z, k)
		}
		before = now
	}
	// Overshoots of 35.5 % (damping 0.3) to none: its powers 1, 2, 3 and 4 pass
	// 1.5 % on the way, at dampings 0.80, 0.56, 0.41 and 0.32.
	assert.Equal(t, 4, jumps)
}

func BenchmarkSettling(b *testing.B) {
	for _, z := range []float64{0.45, 1.4} {
		m := Movement{Period: 1.1, Damping: z}
		b.Run(fmt.Sprint("damping ", z), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				m.Settling(0.015)
			}
		})
	}
}
