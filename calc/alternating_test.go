package calc

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// Independent: an RC stepped by the exact solution of each small step, its values squared
// and averaged.
func TestPulsedRMS(t *testing.T) {
	for _, duty := range []float64{0.05, 0.5, 0.9} {
		for _, ratio := range []float64{0.02, 0.3, 2, 40, 900} {
			const n = 20_000
			v, decay := duty, math.Exp(-1/(n*ratio))
			sum, squares := 0.0, 0.0
			for period := range 2 + int(12*ratio) {
				sum, squares = 0, 0
				for k := range n {
					target := 0.0
					if float64(k) < duty*n {
						target = 1
					}
					next := target + (v-target)*decay
					middle := target + (v-target)*math.Sqrt(decay)
					sum, squares, v = sum+middle, squares+middle*middle, next
				}
				if period > 400 { // settled from the mean long since
					break
				}
			}
			want := math.Sqrt(squares/n - sum/n*sum/n)
			assert.InEpsilon(t, 5*want, PulsedRMS(5, duty, ratio), 2e-3, "%v %v", duty, ratio)
		}
	}
	assert.InDelta(t, 2.5, PulsedRMS(5, 0.5, 0), 1e-12)
	assert.InEpsilon(t, PulsedRMS(5, 0.5, 999.9), PulsedRMS(5, 0.5, 1000.1), 1e-3)
	assert.Zero(t, PulsedRMS(5, 0, 1))
	assert.Zero(t, PulsedRMS(5, 1, 1))
}
