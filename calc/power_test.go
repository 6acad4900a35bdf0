package calc

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleChain_MostPowerBefore() {
	// An invented hand: 100 Ω in all before the capacitor, 82 Ω of it a resistor,
	// and a coil of 400 Ω, on 5 V. That resistor takes 82/100 of the power.
	// Derived: k = 0.8, U²/Ra/(4k(2-k)) = 65.10 mW; 10 mA of the coil's make 40 mW.
	c := Chain{Before: 100, After: 400, Capacitor: 100e-6}
	fmt.Printf("%.1f mW in the resistor, %.1f mW in the coil\n", 1e3*c.MostPowerBefore(5)*82/c.Before, 1e3*c.MostPowerAfter(5))
	// Output: 53.4 mW in the resistor, 40.0 mW in the coil
}

// TestPowerAgainstTime: an independent computation, the filter stepped through
// time at 400 duties.
func TestPowerAgainstTime(t *testing.T) {
	for _, c := range []Chain{
		{Before: 100, After: 400, Capacitor: 100e-6},
		{Before: 1000, After: 1000, Capacitor: 10e-6},
		{Before: 1550, After: 17200, Capacitor: 10e-6},
		{Before: 6500, After: 3500, Capacitor: 4.7e-6}, // k = 0.35, most at 0.87 of the duty
		{Before: 9400, After: 640, Capacitor: 4.7e-6},  // most at full duty
	} {
		most := 0.0
		for k := 1; k <= 400; k++ {
			_, heat := filterMeans(c.Before, c.Before, c.After, c.Capacitor, float64(k)/400)
			most = max(most, heat)
		}
		assert.InEpsilon(t, most*25, c.MostPowerBefore(5), 3e-5, "%+v", c)
		full, _ := filterMeans(c.Before, c.Before, c.After, c.Capacitor, 1)
		assert.InEpsilon(t, full*full*c.After*25, c.MostPowerAfter(5), 1e-9, "%+v", c)
	}
}

// TestPowerWithoutFilter: derived, Ohm's law: 5 V on 400 + 600 Ω are 5 mA,
// 10 mW in the one and 15 mW in the other.
func TestPowerWithoutFilter(t *testing.T) {
	c := Chain{Before: 400, After: 600}
	assert.InEpsilon(t, 10e-3, c.MostPowerBefore(5), 1e-12)
	assert.InEpsilon(t, 15e-3, c.MostPowerAfter(5), 1e-12)
	assert.Zero(t, Chain{After: 600}.MostPowerBefore(5), "nothing before")
}

// TestPowerLaws: derived from energy's being kept.
func TestPowerLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Chain{Before: rapid.Float64Range(10, 2e4).Draw(t, "before"), After: rapid.Float64Range(10, 2e4).Draw(t, "after"), Capacitor: 1e-6}
		rail := rapid.Float64Range(1, 24).Draw(t, "rail")
		before, after := c.MostPowerBefore(rail), c.MostPowerAfter(rail)
		bare := Chain{Before: c.Before, After: c.After}
		assert.GreaterOrEqual(t, before, bare.MostPowerBefore(rail), "filling and emptying costs")
		assert.LessOrEqual(t, before, rail*rail/c.Before/4*(1+1e-12)+bare.MostPowerBefore(rail), "d - d² at most on top")
		assert.InEpsilon(t, rail*bare.Current(rail), bare.MostPowerBefore(rail)+after, 1e-12, "all that the rail gives")
		assert.InEpsilon(t, 4*before, c.MostPowerBefore(2*rail), 1e-12, "goes with the rail squared")
		// What the rail gives over a sweep to any duty is all heat: the means over
		// the sweep of d - k(2-k)d² before, and of k(1-k)d² after.
		k, top := c.After/(c.Before+c.After), rapid.Float64Range(0.1, 1).Draw(t, "top")
		heat := rail * rail / c.Before * (top/2 - k*(2-k)*top*top/3 + k*(1-k)*top*top/3)
		assert.InEpsilon(t, heat, rail*c.RailCurrent(rail, top), 1e-12)
		assert.GreaterOrEqual(t, before*(1+1e-12), rail*rail/c.Before*(top-k*(2-k)*top*top), "none is more")
	})
}
