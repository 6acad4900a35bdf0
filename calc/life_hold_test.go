package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleHoldUp() {
	// 100 µF from 5 V down to a brown-out at 2.3 V, at 5 µA.
	fmt.Printf("%.0f s\n", HoldUp(100e-6, 5, 2.3, 5e-6))
	// Output: 54 s
}

// TestHoldUpPractice: an independent computation, from a list of this trade's
// practice, given to two figures: 54 s at 5 µA and 190 s at 1.4 µA.
func TestHoldUpPractice(t *testing.T) {
	assert.InDelta(t, 54, HoldUp(100e-6, 5, 2.3, 5e-6), 0.5)
	assert.InDelta(t, 190, HoldUp(100e-6, 5, 2.3, 1.4e-6), 5)
}

func TestHoldUpWithoutAnswer(t *testing.T) { // derived
	assert.Zero(t, HoldUp(0, 5, 2.3, 5e-6), "no capacitor")
	assert.Zero(t, HoldUp(100e-6, 2, 2.3, 5e-6), "starts below the level")
	assert.True(t, math.IsInf(HoldUp(100e-6, 5, 2.3, 0), 1), "nothing drawn")
	assert.True(t, math.IsNaN(HoldUp(0, 5, 2.3, 0)), "neither charge nor current")
	for i := range 4 {
		x := [4]float64{100e-6, 5, 2.3, 5e-6}
		x[i] = math.NaN()
		assert.True(t, math.IsNaN(HoldUp(x[0], x[1], x[2], x[3])), "%v", x)
	}
}

// TestHoldUpAgainstTime: an independent computation, the charge counted down in
// small steps of time.
func TestHoldUpAgainstTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(name string, a, b float64) float64 { return rapid.Float64Range(a, b).Draw(t, name) }
		capacitance, from, to := number("capacitance", 1e-6, 1e-2), number("from", 1, 10), number("to", 0, 9)
		current := number("current", 1e-6, 1e-3)
		const steps = 1000
		step := capacitance * 10 / current / steps // s, of what 10 V would last
		seconds := 0.0
		for charge := capacitance * from; charge > capacitance*to; charge -= current * step {
			seconds += step
		}
		assert.InDelta(t, seconds, HoldUp(capacitance, from, to, current), step*(1+1e-6))
	})
}
