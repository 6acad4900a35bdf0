package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleDiodeBend() {
	// An invented hand: 500 µA, 640 Ω, protected by two diodes, on 4.69 V; its
	// deviation agrees with a bisection in TestDiodeBendAgainstBisection.
	const fullScale, coil = 500e-6, 640.0
	voltage := FullScaleVoltage(fullScale, coil)
	leak := DiodeLeak(voltage)
	series := (4.69 - voltage) / (fullScale + leak)
	fmt.Printf("%.2f V: %.1f µA past the coil, %.1f min late\n", voltage, 1e6*leak, 720*DiodeBend(fullScale, coil, series))
	// Output: 0.32 V: 2.5 µA past the coil, 1.9 min late
}

// TestDiodeLeakPractice: practice 1.8, computed there with a small-signal diode
// model whose constants are from memory; as many figures as it gives. Ours were
// chosen to pass through them: within 8 % as printed, 1 % of the one that matters.
func TestDiodeLeakPractice(t *testing.T) {
	for _, c := range []struct{ volts, microamps, tolerance float64 }{
		{0.1, 0.02, 0.08}, {0.2, 0.2, 0.08}, {0.25, 0.55, 0.01}, {0.32, 2.5, 0.01},
	} {
		assert.InEpsilon(t, c.microamps, 1e6*DiodeLeak(c.volts), c.tolerance, "%v V", c.volts)
	}
	// 2.5 µA is 0.5 % of 500 µA, 3.6 min of 720.
	assert.InDelta(t, 3.6, 720*DiodeLeak(0.32)/500e-6, 0.05)
	assert.Zero(t, DiodeLeak(0))
}

// coilShare bisects the coil's share y of its full-scale voltage, behind a series
// resistance on so many volts.
func coilShare(volts, fullScale, coil, series float64) float64 {
	low, high := 0.0, 2.0
	for range 70 {
		y := (low + high) / 2
		v := y * fullScale * coil
		if v/coil+2.5e-9*(math.Exp(v/46.3e-3)-1) < (volts-v)/series {
			low = y
		} else {
			high = y
		}
	}
	return low
}

// TestDiodeBendAgainstBisection: an independent computation, the circuit bisected
// at each of 2 000 supplies.
func TestDiodeBendAgainstBisection(t *testing.T) {
	for _, c := range []struct{ fullScale, coil, series float64 }{
		{500e-6, 640, 8700},  // 0.32 V
		{50e-6, 2000, 9e4},   // 0.1 V
		{1e-3, 75, 4600},     // 75 mV
		{100e-6, 6500, 4e4},  // 0.65 V
		{1e-3, 2000, 2700},   // 2 V
		{500e-6, 640, 20},    // hardly anything in series
		{20e-6, 25000, 2e5},  // 0.5 V, a small current
		{1e-3, 10000, 15000}, // 10 V: the diodes take all
	} {
		v := c.fullScale * c.coil
		supply := v + c.series*(c.fullScale+2.5e-9*(math.Exp(v/46.3e-3)-1))
		worst := 0.0
		const grid = 2000
		for k := range grid + 1 {
			x := float64(k) / grid
			if v > 1 { // the curve leaves 0 at once: crowd the grid there
				x = math.Exp(-float64(k) / grid * v / 46.3e-3 * 1.2)
			}
			worst = max(worst, coilShare(x*supply, c.fullScale, c.coil, c.series)-x)
		}
		assert.InEpsilon(t, worst, DiodeBend(c.fullScale, c.coil, c.series), 2e-5, "%v V", v)
		for _, x := range []float64{0, 1e-9, 0.03, 0.4, 0.9, 1} {
			assert.InDelta(t, coilShare(x*supply, c.fullScale, c.coil, c.series)-x, DiodeBendAt(c.fullScale, c.coil, c.series, x), 1e-12, "%v V at %v", v, x)
		}
	}
}

// TestDiodeBendLaws: derived.
func TestDiodeBendLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fullScale := math.Pow(10, rapid.Float64Range(-5, -2).Draw(t, "full scale, decades"))
		coil := rapid.Float64Range(1e-3, 1).Draw(t, "volts") / fullScale
		series := rapid.Float64Range(1, 1e5).Draw(t, "series")
		bend := DiodeBend(fullScale, coil, series)
		assert.True(t, bend > 0 && bend < 1, "late, by less than the whole scale: %v", bend)
		assert.Less(t, DiodeBend(fullScale, coil/2, series), bend, "less voltage, less bend")
		assert.Greater(t, DiodeBend(fullScale, coil, 2*series), bend, "a stiffer current, more bend")
		assert.Zero(t, DiodeBend(fullScale, coil, 0), "a stiff voltage")
		// Small voltages: the leak's second term alone, a parabola's sagitta; relative
		// to the supply, Is·u²/8·series/(V+series·I).
		const v = 1e-3
		u, small := v/46.3e-3, DiodeBend(fullScale, v/fullScale, series)
		assert.InEpsilon(t, 2.5e-9*u*u/8*series/(v+series*(fullScale+2.5e-9*u)), small, u, "at 1 mV")
	})
}

// TestDiodeBendFinite: derived; far beyond what the diodes stand, the coil has its
// share from the first part of the supply, and nothing overflows.
func TestDiodeBendFinite(t *testing.T) {
	before := 0.0
	for _, v := range []float64{3, 10, 30, 33, 100, 1e5} {
		bend := DiodeBend(1e-3, v/1e-3, 1e4)
		assert.True(t, bend > before && bend < 1, "%v V: %v", v, bend)
		before = bend
	}
	// Where the diodes take all, y = 1 - ln(u)/u and x = 1/u.
	u := 100 / 46.3e-3
	assert.InEpsilon(t, 1-math.Log(u)/u-1/u, DiodeBend(1e-3, 1e5, 1e4), 1e-12)
}

func BenchmarkDiodeBend(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		DiodeBend(500e-6, 640, 8700)
	}
}

// mostPastCoil bisects the voltage at the coil and its diodes, and for each the one
// at the diode itself behind its own ohm: the current past the coil.
func mostPastCoil(supply, series, coil float64) float64 {
	diode := func(node float64) float64 {
		low, high := 0.0, node
		for range 200 {
			if v := (low + high) / 2; v+2.5e-9*(math.Exp(v/46.3e-3)-1)*1 < node {
				low = v
			} else {
				high = v
			}
		}
		return node - low // through 1 Ω
	}
	low, high := 0.0, supply
	for range 200 {
		if node := (low + high) / 2; series*(node/coil+diode(node)) < supply-node {
			low = node
		} else {
			high = node
		}
	}
	return diode(low)
}

// TestDiodeMost: an independent computation, the network itself bisected, node by
// node.
func TestDiodeMost(t *testing.T) {
	for _, c := range []struct{ supply, series, coil float64 }{
		{5, 8700, 640}, {24, 0, 1e5}, {24, 1, 0.5}, {1, 5000, 0.5}, {5, 60, 1e4}, {24, 1e7, 1e5}, {1, 0, 0.5}, {3.3, 47, 300},
	} {
		want := mostPastCoil(c.supply, c.series, c.coil)
		assert.InDelta(t, want, DiodeMost(c.supply, c.series, c.coil), 1e-9*want+1e-14, "%+v", c)
	}
}

// TestDiodeMostLaws: derived. It is less than the supply can drive through the
// series resistance, or through the diode's own; more supply gives more, more in
// series less; and no number of the build makes it overflow.
func TestDiodeMostLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		supply := rapid.Float64Range(1, 24).Draw(t, "supply")
		series := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(1e-6, 1e7)).Draw(t, "series")
		coil := math.Pow(10, rapid.Float64Range(-0.3, 5).Draw(t, "coil, decades"))
		most := DiodeMost(supply, series, coil)
		assert.GreaterOrEqual(t, most, 0.0)
		assert.Less(t, most, supply/(series*coil/(series+coil)+1))
		assert.LessOrEqual(t, most, DiodeMost(supply*1.1, series, coil))
		assert.GreaterOrEqual(t, most, DiodeMost(supply, series*1.1+1e-3, coil))
	})
}
