package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleMultiplier() {
	// Kuphaldt, Lessons In Electric Circuits I (DC), ch. 8 "Voltmeter design":
	// 1 mA and 500 Ω, made into a voltmeter of four ranges.
	for _, volts := range []float64{1, 10, 100, 1000} {
		fmt.Printf("%4.0f V: %.0f Ω\n", volts, Multiplier(volts, 1e-3, 500))
	}
	// Output:
	//    1 V: 500 Ω
	//   10 V: 9500 Ω
	//  100 V: 99500 Ω
	// 1000 V: 999500 Ω
}

func ExampleParallel() {
	// Kuphaldt, ch. 8 "Voltmeter impact on measured circuit": a meter of 10 MΩ
	// across 250 MΩ.
	fmt.Printf("%.3f MΩ\n", Parallel(250, 10))
	// Output: 9.615 MΩ
}

func TestMultiplierPublished(t *testing.T) {
	for _, c := range []struct{ volts, amps, coil, want float64 }{
		{100, 8e-3, 10, 12490},  // Bird, Electrical Circuit Theory and Technology, ch. 10 Problem 2: 12.49 kΩ
		{150, 5e-3, 20, 29980},  // public exam notes: 29.98 kΩ
		{30, 1e-3, 250, 29750},  // common practice, no source: a coil that drops 0.25 V, to read 30 V
		{5, 1e-3, 250, 4750},    // common practice, no source: the same on 5 V
		{0.2, 1e-3, 250, -50},   // derived: 0.2 V do not reach full scale
		{5, 250e-6, 305, 19695}, // derived: 20 kΩ in all less the coil
	} {
		assert.InEpsilon(t, c.want, Multiplier(c.volts, c.amps, c.coil), 1e-12)
	}
	// Kuphaldt, ch. 8 "Voltmeter design": the bare movement reads 0.5 V.
	assert.InEpsilon(t, 0.5, FullScaleVoltage(1e-3, 500), 1e-15)
}

// TestMultiplierInverse: derived, Ohm's law.
func TestMultiplierInverse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volts := rapid.Float64Range(0.5, 1000).Draw(t, "V")
		amps := rapid.Float64Range(5e-6, 1).Draw(t, "A")
		coil := rapid.Float64Range(0.5, 1e5).Draw(t, "Ω")
		series := Multiplier(volts, amps, coil)
		assert.InEpsilon(t, amps, volts/(series+coil), 1e-9)
		assert.InDelta(t, 0, Multiplier(FullScaleVoltage(amps, coil), amps, coil), 1e-9*coil)
	})
}

func TestCopperPublished(t *testing.T) {
	// Bakshi, Electronic Instrumentation and Measurements, Ex. 6.11: 1.5 Ω of
	// copper at 15 °C are 1.56012 Ω at 25 °C, in all 5.06012 Ω with 3.5 Ω in series.
	warm := 1.5 * CopperRatio(25, 15)
	assert.InDelta(t, 1.56012, warm, 5e-6)
	assert.InDelta(t, 5.06012, warm+3.5, 5e-6)
	// NBS Handbook 100, from memory: 0.00393/K at 20 °C.
	assert.InDelta(t, 0.00393, CopperRatio(21, 20)-1, 5e-6)
	// Derived from 0.00393/K at 20 °C: 1/(1/α20 + t - 20).
	for _, c := range []struct{ t, want float64 }{{0, 0.004265}, {15, 0.004009}, {20, 0.003930}, {23, 0.003884}, {25, 0.003854}} {
		assert.InDelta(t, c.want, CopperRatio(c.t+1, c.t)-1, 1.5e-6, "%v °C", c.t)
	}
}

func ExampleWarming_CurrentError() {
	// Bakshi, Ex. 6.11 (independently computed: -1.187 %): 1.5 Ω of copper and
	// 3.5 Ω that does not change, 15 mA, with a shunt for 20 A, from 15 to 25 °C.
	// The current through the meter is that of a meter with the shunt in series.
	shunt := 15e-3 * 5 / (20 - 15e-3)
	w := Warming{Coil: 1.5, Rest: 3.5 + shunt, Copper: 1, TrimmedAt: 15, RoomT: 25}
	fmt.Printf("%.3f %%\n", 100*w.CurrentError())
	// Output: -1.187 %
}

func TestWarming(t *testing.T) {
	// Bakshi, Ex. 6.11: Im/I goes from 7.4999e-4 (7.5 in full, so five figures
	// cut off: 14 millionths) to 7.41092e-4.
	shunt := 15e-3 * 5 / (20 - 15e-3)
	w := Warming{Coil: 1.5, Rest: 3.5 + shunt, Copper: 1, TrimmedAt: 15, RoomT: 25}
	assert.InDelta(t, 7.41092/7.4999, 1+w.CurrentError(), 14e-6)
	// The same with the shunt across coil and the 3.5 Ω, and a supply of any current: what is
	// in series is without end, and the coil's share alone changes.
	across := Warming{Coil: 1.5, Rest: 1e9, Beside: 1 / shunt, Copper: 1, TrimmedAt: 15, RoomT: 25}
	assert.InDelta(t, (shunt+1.5)/(shunt+1.5*CopperRatio(25, 15))-1, across.CurrentError(), 1e-9)
	// Derived: 100 Ω of copper behind 900 Ω has
	// 0.0393 %/K at 20 °C.
	w = Warming{Coil: 100, Rest: 900, Copper: 1, TrimmedAt: 20, RoomT: 20.001}
	assert.InDelta(t, -0.0393e-2, w.CurrentError()/0.001, 0.00005e-2)
	// Derived: the magnet alone; the resistors alone; and both undoing each other.
	w = Warming{Coil: 100, Rest: 900, MovementTempco: 200e-6, TrimmedAt: 20, RoomT: 30}
	assert.InDelta(t, 0.002, w.CurrentError(), 1e-12)
	w = Warming{Rest: 1000, ResistorTempco: 100e-6, TrimmedAt: 20, RoomT: 30}
	assert.InDelta(t, 1/1.001-1, w.CurrentError(), 1e-12)
	w.MovementTempco = 100e-6
	assert.InDelta(t, 0, w.CurrentError(), 1e-12)
	// Derived: of 1000 Ω 50 are a pin that gains 0.35 % a kelvin, ten kelvins warmer 1.75 Ω; all else stays.
	w = Warming{Rest: 1000, Pin: 50, PinTempco: 3500e-6, TrimmedAt: 20, RoomT: 30}
	assert.InDelta(t, 1000/1001.75-1, w.CurrentError(), 1e-12)
}

// TestWarmingLaws: derived.
func TestWarmingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := Warming{Coil: rapid.Float64Range(1, 5000).Draw(t, "coil"), Rest: rapid.Float64Range(0, 5e4).Draw(t, "rest"),
			Copper:    rapid.Float64Range(0.01, 1).Draw(t, "copper"),
			TrimmedAt: rapid.Float64Range(-10, 50).Draw(t, "trimmed at")}
		w.RoomT = w.TrimmedAt
		assert.InDelta(t, 0, w.CurrentError(), 1e-15, "no change, no error")
		w.RoomT += rapid.Float64Range(0.1, 30).Draw(t, "warmer")
		warm := w.CurrentError()
		assert.Negative(t, warm, "warm copper carries less")
		w.Rest *= 2
		w.Rest += 1
		assert.Greater(t, w.CurrentError(), warm, "more other resistance swamps it")
	})
}

// drawTable draws a strictly rising table from 0, 0 to 1, 1.
func drawTable(t *rapid.T) *Law {
	steps := rapid.SliceOfN(rapid.Float64Range(0.05, 1), 4, 20).Draw(t, "steps")
	n := len(steps) / 2
	current, scale := 0.0, 0.0
	for i := range n {
		current += steps[2*i]
		scale += steps[2*i+1]
	}
	l := &Law{Kind: Table, Points: []Point{{0, 0}}}
	c, s := 0.0, 0.0
	for i := range n - 1 {
		c += steps[2*i]
		s += steps[2*i+1]
		l.Points = append(l.Points, Point{c / current, s / scale})
	}
	l.Points = append(l.Points, Point{1, 1})
	return l
}

func drawLaw(t *rapid.T) *Law {
	switch kind := rapid.SampledFrom([]LawKind{Linear, Square, Table, Smooth}).Draw(t, "law"); kind {
	case Table:
		return drawTable(t)
	case Smooth:
		law := NewSmooth(drawTable(t).Points)
		return &law
	default:
		return &Law{Kind: kind}
	}
}

// steepest returns the greatest slope of a law on 0..1.
func (l *Law) steepest() float64 {
	switch l.Kind {
	case Square:
		return 2
	case Table:
		most := 0.0
		for i := 1; i < len(l.Points); i++ {
			a, b := l.Points[i-1], l.Points[i]
			most = max(most, (b.Scale-a.Scale)/(b.Current-a.Current))
		}
		return most
	case Smooth: // sought in small steps
		const parts = 20000
		most := 0.0
		for k := range parts {
			most = max(most, parts*(l.At(float64(k+1)/parts)-l.At(float64(k)/parts)))
		}
		return 1.1 * most
	}
	return 1
}

// TestLawLaws: derived.
func TestLawLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawLaw(t)
		x := rapid.Float64Range(0, 1.2).Draw(t, "x")
		more := x + rapid.Float64Range(1e-6, 1).Draw(t, "more")
		assert.Greater(t, l.At(more), l.At(x), "rising")
		slope := (l.At(x+1e-4) - l.At(x)) / 1e-4 // where it is flat, the last bit of a place is much current
		assert.InDelta(t, x, l.Inverse(l.At(x)), 1e-12+1e-15/slope, "inverse")
		assert.InDelta(t, x, l.At(l.Inverse(x)), 1e-12, "inverse")
		assert.LessOrEqual(t, math.Abs(l.At(1)-1)+math.Abs(l.At(0)), 1e-15, "from 0 to 1")
		for _, p := range l.Points {
			assert.InDelta(t, p.Scale, l.At(p.Current), 1e-12, "through its points")
		}
	})
}

func TestLawPastFullScale(t *testing.T) {
	table := Law{Kind: Table, Points: []Point{{0, 0}, {0.5, 0.4}, {1, 1}}}
	assert.InDelta(t, 1.12, table.At(1.1), 1e-12)      // derived: 1 + 0.1·0.6/0.5
	assert.InDelta(t, 1.1, table.Inverse(1.12), 1e-12) // derived
	square := Law{Kind: Square}
	assert.InDelta(t, 1.21, square.At(1.1), 1e-12) // derived: 1.1²
}
