package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleLoadActual() {
	// Texas Instruments E2E thread 1027237: 15 pF each with 2 pF of the pin, and
	// 0.5 pF stray, are a load of 9 pF.
	fmt.Printf("%.1f pF\n", LoadActual(17e-12, 17e-12, 0.5e-12)*1e12)
	// Output: 9.0 pF
}

func ExamplePulling_Offset() {
	// TI SLAA423A, "Load capacitance", crystal 3a: series resonance 32 761.488 Hz,
	// motional 2.774 fF, shunt 1.416 pF, made for 5.563 pF, where it runs at
	// 32 768.000 Hz, 198.77 ppm higher. Series resonance is an infinite load; the
	// last figure is lost in the four figures of the motional capacitance.
	p := Pulling{Motional: 2.774e-15, Shunt: 1.416e-12}
	fmt.Printf("%.2f ppm\n", p.Offset(5.563e-12, math.Inf(1)))
	fmt.Printf("%.2f ppm per pF\n", p.Sensitivity(5.563e-12))
	// Output:
	// 198.74 ppm
	// -28.48 ppm per pF
}

func ExampleOscillation_TransconductanceCritical() {
	// ST community thread on a low-speed oscillator: ESR 70 kΩ, shunt 1 pF, load
	// 12.5 pF at 32 768 Hz need 2.1631 µS; 8.5 µS have a margin of 3.9295, under
	// the 5 that is asked for.
	o := Oscillation{Frequency: 32768, ESR: 70e3, Shunt: 1e-12, Load: 12.5e-12}
	g := o.TransconductanceCritical()
	fmt.Printf("%.4f µS, margin %.4f\n", g*1e6, 8.5e-6/g)
	// Output: 2.1631 µS, margin 3.9295
}

func ExampleCounter_TickPeriod() {
	// Common practice, no source: 16 bits on a watch crystal overflow every 2 s,
	// and every 1 s when loaded with 32 768.
	fmt.Println(Counter{Prescale: 1, Bits: 16}.TickPeriod(32768), "s")
	fmt.Println(Counter{Prescale: 1, Bits: 16, Reload: 32768}.TickPeriod(32768), "s")
	// Output:
	// 2 s
	// 1 s
}

func TestLoadPublished(t *testing.T) {
	const pF = 1e-12
	for _, c := range []struct{ in, out, stray, want float64 }{
		{37, 37, 2, 20.5},  // Electronics SE q. 566036: 33 pF each with 4 pF of the pin
		{12, 12, 0, 6},     // Electronics SE q. 121659
		{27, 27, 0, 13.5},  // Electronics SE q. 121659
		{0, 12, 3, 3},      // derived: one capacitor missing
		{12, 0, 3, 3},      // derived
		{10, 15, 1, 6 + 1}, // derived: 150/25
		{1e9, 15, 0, 15},   // derived: one of them a short
	} {
		assert.InEpsilon(t, c.want, LoadActual(c.in*pF, c.out*pF, c.stray*pF)/pF, 1e-7)
	}
	for _, c := range []struct{ load, stray, want float64 }{
		{15, 5, 20}, // AN2867, from memory
		{9, 4, 10},  // a public notebook following AN2867
	} {
		assert.InEpsilon(t, c.want, CapacitorEach(c.load*pF, c.stray*pF)/pF, 1e-12)
	}
}

func TestPullingPublished(t *testing.T) {
	// TI SLAA423A, "Load capacitance": two measured watch crystals, 3a and 3b.
	for _, c := range []struct{ series, motional, shunt, load float64 }{
		{32761.488, 2.774e-15, 1.416e-12, 5.563e-12},
		{32765.367, 2.181e-15, 1.061e-12, 12.511e-12},
	} {
		p := Pulling{c.motional, c.shunt}
		want := (32768.000/c.series - 1) * 1e6
		// four figures of the motional capacitance: 2 parts in 10 000
		assert.InEpsilon(t, want, p.Offset(c.load, math.Inf(1)), 2e-4)
	}
	b := Pulling{2.181e-15, 1.061e-12} // 3b; what follows is an independent computation from it
	assert.InDelta(t, -5.92, b.Sensitivity(12.511e-12), 0.005)
	assert.InDelta(t, 18.24, b.Offset(10e-12, 12.511e-12), 0.005)
}

// The load that TI SLAA423A's crystal 3b sees where it runs 18.24 ppm fast: 10 pF, and
// sees at 32 768 Hz: its own 12.511 pF.
func TestLoadByFrequency(t *testing.T) {
	b := Pulling{2.181e-15, 1.061e-12}
	assert.InDelta(t, 10e-12, b.Load(18.24, 12.511e-12), 1e-15)
	assert.InDelta(t, 12.511e-12, b.Load(0, 12.511e-12), 1e-24)
	assert.True(t, math.IsNaN(b.Load(-90, 12.511e-12)), "80.35 ppm down is its series resonance: no load makes it slower")
	rapid.Check(t, func(t *rapid.T) { // derived: there and back
		load := rapid.Float64Range(1, 40).Draw(t, "load") * 1e-12
		assert.InEpsilon(t, load, b.Load(b.Offset(load, 12.5e-12), 12.5e-12), 1e-9)
	})
}

// The mean of a year by adding it up, day by day.
func TestParabolicMean(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low, high := rapid.Float64Range(-20, 20).Draw(t, "low"), rapid.Float64Range(20, 50).Draw(t, "high")
		sum := 0.0
		for day := range 365 {
			room := (low+high)/2 - (high-low)/2*math.Cos(2*math.Pi*float64(day)/365)
			sum += Parabolic(0.034, room, 25) / 365
		}
		assert.InDelta(t, sum, ParabolicMean(0.034, 25, low, high), 1e-9)
	})
}

// TestPullingLaws: derived.
func TestPullingLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pico := func(name string, a, b float64) float64 { return rapid.Float64Range(a, b).Draw(t, name) * 1e-12 }
		p := Pulling{pico("motional", 1e-3, 10e-3), pico("shunt", 0.5, 7)}
		a, b := pico("actual", 3, 30), pico("specified", 3, 30)
		assert.InDelta(t, 0, p.Offset(b, b), 1e-12)
		assert.InDelta(t, p.Offset(a, b), -p.Offset(b, a), 1e-9, "there and back")
		const h = 1e-4 // pF: a finite difference
		slope := (p.Offset(a+h*1e-12, b) - p.Offset(a-h*1e-12, b)) / (2 * h)
		assert.InEpsilon(t, slope, p.Sensitivity(a), 1e-6, "the sensitivity is the slope")
		assert.InEpsilon(t, b, LoadActual(CapacitorEach(b, 1e-12), CapacitorEach(b, 1e-12), 1e-12), 1e-12)
	})
}

func TestParabolicPublished(t *testing.T) {
	for _, c := range []struct{ curvature, t, want float64 }{
		{0.030, 45, 12.0},                                     // TF20 crystal data sheet 008-0353-0 Rev C fig. 1
		{0.04, -10, 49},                                       // a crystal maker's note
		{0.04, 60, 49},                                        // the same
		{0.034, 5, 13.6}, {0.035, 45, 14.0}, {0.036, 5, 14.4}, // derived: 20² of it
	} {
		assert.InDelta(t, c.want, Parabolic(c.curvature, c.t, 25), 1e-9)
	}
	// Derived: 14.0 ppm of 86 400 s are 1.21 s. A public page on time: 5.8 ppm are
	// 0.5 s a day.
	assert.InDelta(t, 1.21, 14.0*SecondsADay, 0.005)
	assert.InDelta(t, 0.5, 5.8*SecondsADay, 0.005)
}

// TestParabolicRange: an independent computation, a walk through the room.
func TestParabolicRange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-20, 50).Draw(t, "low")
		high := low + rapid.Float64Range(0, 40).Draw(t, "wide")
		least, greatest := math.Inf(1), math.Inf(-1)
		const n = 1000
		for i := range n + 1 {
			f := Parabolic(0.034, low+(high-low)*float64(i)/n, 25)
			least, greatest = min(least, f), max(greatest, f)
		}
		gotLeast, gotGreatest := ParabolicRange(0.034, 25, low, high)
		assert.InDelta(t, least, gotLeast, 0.034*math.Pow((high-low)/n, 2)+1e-12)
		assert.InDelta(t, greatest, gotGreatest, 1e-9)
	})
}

func TestTransconductancePublished(t *testing.T) {
	// Public notebook following AN2867, and ST community thread 779811 (sources
	// 6j): 16 MHz, shunt 7 pF, load 9 pF; ESR 80 Ω, and with 100 Ω in series.
	o := Oscillation{Frequency: 16e6, ESR: 80, Shunt: 7e-12, Load: 9e-12}
	assert.InDelta(t, 0.82792e-3, o.TransconductanceCritical(), 0.00001e-3)
	assert.InDelta(t, 20.53, 17e-3/o.TransconductanceCritical(), 0.005)
	assert.InDelta(t, 9.059, 5*1.5e-3/o.TransconductanceCritical(), 0.0005)
	o.ESR += 100
	assert.InDelta(t, 1.8629e-3, o.TransconductanceCritical(), 0.0001e-3)
	assert.InDelta(t, 9.126, 17e-3/o.TransconductanceCritical(), 0.0005)
	// AN2867, from memory: 8 MHz, load 10 pF: 0.23 mA/V, margin 107 of 25 mA/V.
	o = Oscillation{Frequency: 8e6, ESR: 80, Shunt: 7e-12, Load: 10e-12}
	assert.InDelta(t, 0.23e-3, o.TransconductanceCritical(), 0.005e-3)
	assert.InDelta(t, 107, 25e-3/o.TransconductanceCritical(), 0.5)
}

func TestTickPeriod(t *testing.T) {
	// Derived: 49 152 of 65 536 loaded, every second pulse counted, is 1 s again;
	// one count lost at each is 1/16 384 s more.
	c := Counter{Prescale: 2, Bits: 16, Reload: 49152}
	assert.Equal(t, 1.0, c.TickPeriod(32768))
	c.Lost = 1
	assert.InEpsilon(t, 1+1.0/16384, c.TickPeriod(32768), 1e-15)
}

// What is not known stays so, whatever the room.
func TestParabolicRangeUnknown(t *testing.T) {
	least, greatest := ParabolicRange(math.NaN(), 25, 15, 30)
	assert.True(t, math.IsNaN(least), "least")
	assert.True(t, math.IsNaN(greatest), "greatest")
}

// Of all fractions between two numbers by trying every denominator from 1 on.
func TestSimplest(t *testing.T) {
	for _, c := range []struct {
		low, high  float64
		add, every int64
	}{
		{0.3, 0.35, 1, 3}, {-0.35, -0.3, -1, 3}, {3.1415, 3.1416, 333, 106}, {3.14159, 3.141593, 355, 113}, // derived; Archimedes' and Zu's fractions of π
		{-1, 1, 0, 1}, {2, 2, 2, 1}, {0.5, 0.5, 1, 2}, {1e-9, 1e-8, 1, 100_000_000}, {math.NaN(), 1, 0, 1}, {1e300, 1e301, 0, 1},
	} {
		add, every := Simplest(c.low, c.high)
		assert.Equal(t, [2]int64{c.add, c.every}, [2]int64{add, every}, "%v to %v", c.low, c.high)
	}
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-5, 5).Draw(t, "low")
		high := low + rapid.Float64Range(1e-4, 0.5).Draw(t, "wide")
		const hair = 1e-12 // what rounding may make of an end
		add, every := Simplest(low, high)
		assert.True(t, low-hair <= float64(add)/float64(every) && float64(add)/float64(every) <= high+hair)
		for n := int64(1); n < every; n++ {
			assert.Greater(t, math.Ceil((low+hair)*float64(n)), math.Floor((high-hair)*float64(n)), "%d is less than %d", n, every)
		}
		if next := add - int64(math.Copysign(1, float64(add))); add != 0 {
			assert.False(t, low+hair <= float64(next)/float64(every) && float64(next)/float64(every) <= high-hair, "nearer to 0")
		}
	})
}
