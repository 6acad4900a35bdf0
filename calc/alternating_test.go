package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestPulsedRMS holds the closed form to the voltage followed in small steps, period
// after period, until it repeats itself: an independent computation.
func TestPulsedRMS(t *testing.T) {
	const to, steps = 3.0, 20000
	for _, duty := range []float64{0.02, 0.3, 0.5, 0.9} {
		for _, ratio := range []float64{0, 0.05, 0.4, 2, 20} {
			periods := 2 + int(10*ratio)
			voltage, sum, square := to*duty, 0.0, 0.0
			for period := range periods {
				last := period == periods-1
				for step := range steps {
					target := 0.0
					if float64(step)+0.5 < duty*steps {
						target = to
					}
					before := voltage
					voltage = target
					if ratio > 0 {
						voltage = target + (before-target)*math.Exp(-1/(ratio*steps))
					}
					if !last {
						continue
					}
					middle := voltage
					if ratio > 0 {
						middle = (before + voltage) / 2
					}
					sum += middle / steps
					square += middle * middle / steps
				}
			}
			want := math.Sqrt(square - sum*sum)
			assert.InEpsilon(t, want, PulsedRMS(to, duty, ratio), 1e-3, "duty %v, ratio %v", duty, ratio)
		}
	}
}

// TestPulsedRMSOfAWellSmoothedPulse: straight lines take over without a step.
func TestPulsedRMSOfAWellSmoothedPulse(t *testing.T) {
	below, above := PulsedRMS(3, 0.3, 999.9), PulsedRMS(3, 0.3, 1000.1)
	assert.InEpsilon(t, below, above, 1e-3)
	assert.Zero(t, PulsedRMS(3, 0, 1))
	assert.Zero(t, PulsedRMS(3, 1, 1))
}

// Half of the time at 3 V, not smoothed: 1.5 V on both sides of the mean.
func ExamplePulsedRMS() {
	fmt.Printf("%.2f V\n", PulsedRMS(3, 0.5, 0))
	// Output: 1.50 V
}
