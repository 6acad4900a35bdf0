package calc

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/assert"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func ExampleFilterSettling() {
	// Levido, "PWM DAC Ripple Reduction", Circuit Cellar 7 Nov 2022, eq. 2: 8 bits
	// with RC = 64 T settle to one count of 256 in 355 T. One of 256 is half a
	// count of 128.
	fmt.Printf("%.0f T\n", FilterSettling(64, 128))
	// Output: 355 T
}

func TestFilterSettling(t *testing.T) {
	// Derived: a step of n bits is within one count after n·ln 2 time constants.
	for _, c := range []struct{ bits, want float64 }{{6, 4.159}, {8, 5.545}, {10, 6.931}, {12, 8.318}} {
		assert.InDelta(t, c.want, FilterSettling(1, math.Exp2(c.bits)/2), 0.0005)
	}
	rapid.Check(t, func(t *rapid.T) {
		tau, counts := rapid.Float64Range(1e-4, 1).Draw(t, "tau"), rapid.Float64Range(2, 65536).Draw(t, "counts")
		left := counts * math.Exp(-FilterSettling(tau, counts)/tau) // derived: of a step of all counts
		assert.InEpsilon(t, 0.5, left, 1e-9)
	})
}

func TestCorner(t *testing.T) {
	// Common practice, no source: 1 kΩ and 1 µF turn at 159 Hz.
	assert.InDelta(t, 159, Corner(1e3*1e-6), 0.5)
	// Derived: there the filter passes 1/√2 and lags by 45°.
	tau := 14e-3
	passed := 1 / (1 + complex(0, 2*math.Pi*Corner(tau)*tau))
	assert.InEpsilon(t, math.Sqrt2/2, cmplx.Abs(passed), 1e-12)
	assert.InEpsilon(t, -math.Pi/4, cmplx.Phase(passed), 1e-12)
}

func TestTimeConstant(t *testing.T) {
	assert.True(t, math.IsNaN(TimeConstant(Chain{Before: 1000, After: 1000})), "no capacitor")
	// Ponikvar, EDN Design Ideas: 6 bits want 16 T, T = 64/32 768 s, "τ = 32 ms"
	// of rounded 2 ms (exactly 31.25): 31.25 kΩ and 1 µF, hardly loaded.
	tau := TimeConstant(Chain{Before: 31.25e3, After: 1e12, Capacitor: 1e-6})
	assert.InEpsilon(t, 16*64.0/32768, tau, 1e-6)
	// Derived: loaded with as much again, half.
	assert.InEpsilon(t, tau/2, TimeConstant(Chain{Before: 31.25e3, After: 31.25e3, Capacitor: 1e-6}), 1e-6)
}

// TestTimeConstantOfTheNode: an independent computation, the node of stateSpace
// let go from 1 V.
func TestTimeConstantOfTheNode(t *testing.T) {
	r := bench()
	s := newStateSpace(&r)
	tau := TimeConstant(r.Chain)
	x := mat.NewVecDense(s.b.Len(), nil)
	x.SetVec(s.node, 1)
	assert.InEpsilon(t, math.Exp(-1), s.after(tau, x, 0).AtVec(s.node), 1e-9)
}
