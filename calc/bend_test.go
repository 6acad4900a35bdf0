package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExamplePinBend_Largest() {
	// Practice 1.15, computed there: 9 min of 720 for 445 Ω before a coil of
	// 1 350 Ω, on a pin of 75 Ω when high and 40 Ω when low.
	p := PinBend{High: 75, Low: 40, Before: 445, After: 1350, Capacitor: 47e-6, Top: 1}
	fmt.Printf("%.2f min\n", 720*p.Largest())
	// Output: -9.14 min
}

// TestPinBendPractice: practice 1.15, computed there, two figures or one. It names
// neither coil nor top duty for the first two.
func TestPinBendPractice(t *testing.T) {
	// The coil of the catalogue's example hand, 640 Ω, behind 9 kΩ: 0.05 min of 720.
	for _, top := range []float64{0.95, 1} {
		p := PinBend{High: 75, Low: 40, Before: 9000, After: 640, Capacitor: 4.7e-6, Top: top}
		assert.InDelta(t, -0.05, 720*p.Largest(), 0.0075)
	}
	// 0.5 kΩ, 0.11 min of 60: so of a coil of 75 Ω, which is ours. This holds no more
	// than that a usual coil gives it.
	p := PinBend{High: 75, Low: 40, Before: 500, After: 75, Capacitor: 47e-6, Top: 1}
	assert.InDelta(t, -0.11, 60*p.Largest(), 0.005)
	// 445 Ω before 1 350 Ω, 9 min of 720.
	for _, top := range []float64{240.0 / 256, 1} {
		p = PinBend{High: 75, Low: 40, Before: 445, After: 1350, Capacitor: 47e-6, Top: top}
		assert.InDelta(t, -9, 720*p.Largest(), 0.5)
	}
	// Its rule: no less than 100 times the difference before the capacitor. Derived:
	// the worst is then a coil much over that, a quarter of a hundredth.
	p = PinBend{High: 75, Low: 40, Before: 3500, After: 1e9, Capacitor: 1e-6, Top: 1}
	assert.InDelta(t, -0.25e-2, p.Largest(), 0.01e-2)
}

// filterMeans steps a filter through time: a node of a capacitor that a pin fills
// through up for the share duty of each period and empties through down for the
// rest, and a coil, all Ω. It returns the means over a period of the coil's
// current, A, and of the heat in up and down, W, on a rail of 1 V.
func filterMeans(up, down, coil, capacitor, duty float64) (current, heat float64) {
	const steps, periods = 100, 300 // of each phase; in a time constant
	period := capacitor * min(Parallel(up, coil), Parallel(down, coil)) / periods
	walk := func(v float64) float64 {
		current, heat = 0, 0
		phase := func(u, r, h float64) {
			flow := func(v float64) float64 { return ((u-v)/r - v/coil) / capacitor }
			for range steps {
				middle := v + flow(v)*h/2
				current += middle / coil * h / period
				heat += (u - middle) * (u - middle) / r * h / period
				v += flow(middle) * h
			}
		}
		phase(1, up, duty*period/steps)
		phase(0, down, (1-duty)*period/steps)
		return v
	}
	from0 := walk(0)
	walk(from0 / (1 - (walk(1) - from0))) // the start that a period leads back to
	return current, heat
}

// bends are the pins worth a reference, invented.
func bends() map[string]PinBend {
	return map[string]PinBend{
		"weak high":           {75, 40, 445, 1350, 47e-6, 0.9375},
		"weak low":            {40, 75, 445, 1350, 47e-6, 0.9375},
		"long chain":          {75, 40, 8700, 640, 4.7e-6, 0.9375},
		"bare pin":            {60, 25, 0, 2000, 100e-6, 1},
		"half duty":           {60, 25, 100, 900, 100e-6, 0.5},
		"as good as open low": {50, 5000, 100, 900, 100e-6, 1},
	}
}

// TestPinBendAgainstTime: an independent computation, the filter stepped through
// time at a thousand duties.
func TestPinBendAgainstTime(t *testing.T) {
	for name, p := range bends() {
		at := func(x float64) float64 {
			i, _ := filterMeans(p.Before+p.High, p.Before+p.Low, p.After, p.Capacitor, x*p.Top)
			return i
		}
		top, worst := at(1), 0.0
		for k := range 1000 {
			x := float64(k) / 1000
			if off := at(x)/top - x; math.Abs(off) > math.Abs(worst) {
				worst = off
			}
		}
		assert.InEpsilon(t, worst, p.Largest(), 2e-5, name)
		for _, x := range []float64{0, 0.13, 0.5, 0.77, 1} {
			assert.InDelta(t, at(x)/top-x, p.At(x), 2e-5*math.Abs(worst), "%s at %v", name, x)
		}
	}
}

// TestPinBendLaws: derived.
func TestPinBendLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ohms := func(name string, from float64) float64 { return rapid.Float64Range(from, 2e4).Draw(t, name) }
		p := PinBend{High: rapid.Float64Range(1, 200).Draw(t, "high"), Before: ohms("before", 0), After: ohms("after", 5),
			Capacitor: 1e-6, Top: rapid.Float64Range(0.1, 1).Draw(t, "top")}
		p.Low = p.High
		assert.Zero(t, p.Largest(), "one resistance")
		p.Low = p.High + rapid.Float64Range(1, 200).Draw(t, "more")
		bend := p.Largest()
		assert.Positive(t, bend, "a weaker low pin empties less")
		more := p
		more.Low += 10
		assert.Greater(t, more.Largest(), bend, "grows with the difference")
		less := p
		less.Top /= 2
		assert.Less(t, less.Largest(), bend, "less duty, less of it")
		less = p
		less.Before += 100
		assert.Less(t, less.Largest(), bend, "other resistance swamps it")
		scaled := PinBend{2 * p.High, 2 * p.Low, 2 * p.Before, 2 * p.After, p.Capacitor, p.Top}
		assert.InEpsilon(t, bend, scaled.Largest(), 1e-12, "only ratios count")
		other := p
		other.High, other.Low = p.Low, p.High
		assert.Negative(t, other.Largest(), "the other way round")
		p.Capacitor = 0
		assert.Zero(t, p.Largest(), "no filter")
	})
}

func BenchmarkPinBend(b *testing.B) {
	p := bends()["weak high"]
	b.ReportAllocs()
	for b.Loop() {
		p.Largest()
	}
}
