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

// TestPulsedCoilRMS holds the closed form to the current followed in small steps, period
// after period: an independent computation.
func TestPulsedCoilRMS(t *testing.T) {
	const to, before, coil, inductance, period = 5.0, 4000.0, 600.0, 0.3, 64e-6
	for _, duty := range []float64{0.1, 0.5, 0.9} {
		const steps = 20000
		dt, current := period/steps, 0.0
		sum, square := 0.0, 0.0
		for n := range 40 * steps {
			pin := 0.0
			if float64(n%steps) < duty*steps {
				pin = to
			}
			at := pin - before*current // across the coil
			current += (at - coil*current) / inductance * dt
			if n >= 39*steps {
				sum, square = sum+at, square+at*at
			}
		}
		mean := sum / steps
		want := math.Sqrt(square/steps - mean*mean)
		assert.InEpsilon(t, want, PulsedCoilRMS(to, duty, before/(before+coil), inductance/(before+coil)/period), 1e-3, "duty %v", duty)
	}
	assert.InEpsilon(t, 0.25*PulsedRMS(to, 0.3, 0), PulsedCoilRMS(to, 0.3, 0.75, 0), 1e-12, "without inductance it divides")
}

func ExamplePulsedCoilRMS() {
	fmt.Printf("%.2f V\n", PulsedCoilRMS(5, 0.5, 0.985, 0.04)) // 20 mH and 60 Ω behind 3.94 kΩ at 8 kHz
	// Output: 1.00 V
}
