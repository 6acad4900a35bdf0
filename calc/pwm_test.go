package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

func ExamplePinVoltage() {
	// Common practice, no source: 240 of 256 counts leave about 4.7 V of 5 V.
	fmt.Println(PinVoltage(5, 240, 256), "V")
	// Output: 4.6875 V
}

func ExamplePWMFrequency() {
	// Ponikvar, EDN Design Ideas: 64 counts of 32 768 Hz have a period of about 2 ms.
	fmt.Println(PWMFrequency(32768, 1, 64), "Hz")
	// Output: 512 Hz
}

func TestPWMFrequency(t *testing.T) {
	assert.Equal(t, 976.5625, PWMFrequency(2e6, 8, 256)) // derived: 2 MHz/2 048
}

func TestChainByHand(t *testing.T) {
	// Derived: 10 kΩ on 5 V at half duty is 250 µA; into the empty capacitor
	// behind 1 kΩ 5 mA flow.
	c := Chain{Before: 1000, After: 9000}
	assert.InEpsilon(t, 250e-6, c.Current(2.5), 1e-15)
	assert.InEpsilon(t, 500e-6, c.PinPeak(5), 1e-15)
	c.Capacitor = 1e-6
	assert.InEpsilon(t, 5e-3, c.PinPeak(5), 1e-15)
}

// TestRailCurrent: an independent computation, the mean over all duties of what
// the high part of a period draws with the node at its mean.
func TestRailCurrent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Chain{Before: rapid.Float64Range(50, 2e4).Draw(t, "before"),
			After: rapid.Float64Range(1, 2e4).Draw(t, "after")}
		rail, top := rapid.Float64Range(1, 24).Draw(t, "rail"), rapid.Float64Range(0.01, 1).Draw(t, "top")
		bare := quad.Fixed(func(d float64) float64 { return d * rail / (c.Before + c.After) }, 0, top, 10, nil, 0) / top
		assert.InEpsilon(t, bare, c.RailCurrent(rail, top), 1e-9)
		filtered := quad.Fixed(func(d float64) float64 {
			node := d * rail * c.After / (c.Before + c.After)
			return d * (rail - node) / c.Before
		}, 0, top, 10, nil, 0) / top
		c.Capacitor = 1e-6
		assert.InEpsilon(t, filtered, c.RailCurrent(rail, top), 1e-9)
		assert.GreaterOrEqual(t, filtered*(1+1e-12), bare, "the capacitor costs current")
	})
}

// TestFromRail: its mean over the duties is RailCurrent, which is held above.
func TestFromRail(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Chain{Before: rapid.Float64Range(50, 2e4).Draw(t, "before"), After: rapid.Float64Range(1, 2e4).Draw(t, "after")}
		rail, top := rapid.Float64Range(1, 24).Draw(t, "rail"), rapid.Float64Range(0.01, 1).Draw(t, "top")
		for _, c.Capacitor = range []float64{0, 1e-6} {
			mean := quad.Fixed(func(d float64) float64 { return c.FromRail(rail, d) }, 0, top, 10, nil, 0) / top
			assert.InEpsilon(t, c.RailCurrent(rail, top), mean, 1e-9)
		}
	})
}

// TestSwept: an independent computation, the mean of FromRail over the duties; and of a
// duty that stays, FromRail itself. Open before the node nothing is drawn, open behind it
// only what the capacitor takes.
func TestSwept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Chain{Before: rapid.Float64Range(50, 2e4).Draw(t, "before"), After: rapid.Float64Range(1, 2e4).Draw(t, "after")}
		from, to := rapid.Float64Range(0, 0.5).Draw(t, "from"), rapid.Float64Range(0.51, 1).Draw(t, "to")
		for _, c.Capacitor = range []float64{0, 1e-6} {
			mean := quad.Fixed(func(d float64) float64 { return c.FromRail(5, d) }, from, to, 10, nil, 0) / (to - from)
			assert.InEpsilon(t, mean, c.Swept(5, from, to), 1e-9)
			assert.InEpsilon(t, mean, c.Swept(5, to, from), 1e-9)
			assert.InDelta(t, c.FromRail(5, to), c.Swept(5, to, to), 1e-12)
		}
	})
	open := math.Inf(1)
	assert.Zero(t, Chain{Before: open, After: 640, Capacitor: 1e-6}.Swept(5, 0, 1))
	assert.InDelta(t, 5.0/1000*(0.5-1.0/3), Chain{Before: 1000, After: open, Capacitor: 1e-6}.Swept(5, 0, 1), 1e-15)
}
