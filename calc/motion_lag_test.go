package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleMovement_Lag() {
	// Invented: a slow seconds needle, 3 s and critically damped. The figure is that of
	// the needle stepped through time in TestLagAgainstTime.
	m := Movement{Period: 3, Damping: 1}
	fmt.Printf("%.3f of a step\n", m.Lag(1))
	// Output: 0.476 of a step
}

// steppedLag is an independent computation: the needle's equation stepped through
// time by Runge and Kutta's method, its target going on every dt until the start is
// forgotten.
func steppedLag(m Movement, dt float64) float64 {
	const steps = 2000
	w, h := 2*math.Pi/m.Period, dt/steps
	off, speed := 0.0, 0.0
	flow := func(off, speed float64) (float64, float64) { return speed, -w*w*off - 2*m.Damping*w*speed }
	for range 60 {
		off--
		for range steps {
			a0, b0 := flow(off, speed)
			a1, b1 := flow(off+h/2*a0, speed+h/2*b0)
			a2, b2 := flow(off+h/2*a1, speed+h/2*b1)
			a3, b3 := flow(off+h*a2, speed+h*b2)
			off += h / 6 * (a0 + 2*a1 + 2*a2 + a3)
			speed += h / 6 * (b0 + 2*b1 + 2*b2 + b3)
		}
	}
	return -off
}

func TestLagAgainstTime(t *testing.T) {
	assert.InDelta(t, 0.476, steppedLag(Movement{3, 1}, 1), 0.0005)
	for _, m := range []Movement{{3, 1}, {1.2, 0.3}, {4, 0.5}, {0.4, 0.6}, {2, 1.7}, {1, 0.9999999}} {
		assert.InDelta(t, steppedLag(m, 1), m.Lag(1), 1e-7, "%v", m)
	}
}

// TestLagLaws: derived; steps add up, only ratios of times count, and a needle that
// is quick has none.
func TestLagLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Movement{Period: rapid.Float64Range(0.05, 20).Draw(t, "period"), Damping: rapid.Float64Range(0.1, 10).Draw(t, "damping")}
		sum := 0.0
		for k := 1; k < 100000; k++ {
			left := m.Remaining(float64(k))
			sum += left
			if m.Frequency()*float64(k)*min(m.Damping, 0.5/m.Damping) > 50 { // all is over
				break
			}
		}
		assert.InDelta(t, sum, m.Lag(1), 1e-6*max(1, sum))
		assert.InDelta(t, m.Lag(1), Movement{Period: 3 * m.Period, Damping: m.Damping}.Lag(3), 1e-9*max(1, sum))
	})
	assert.InDelta(t, 0, Movement{Period: 0.05, Damping: 0.8}.Lag(1), 1e-12)
}
