package calc

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func ExampleTrimStep() {
	// Practice 1.22, no source: 5 kΩ in a chain of 9.7 kΩ, on a dial of 720 min,
	// "1.9 min" of one turn and "0.15" of 25.
	for _, turns := range []float64{1, 25} {
		fmt.Printf("%2.0f: %.2g min\n", turns, 720*TrimStep(5e3, turns)/9.7e3)
	}
	// Output:
	//  1: 1.9 min
	// 25: 0.15 min
}

// TestTrimStep: common practice, no source: half a percent of one turn, and R/(100·turns) of many.
func TestTrimStep(t *testing.T) {
	assert.InEpsilon(t, 25.0, TrimStep(5e3, 0.75), 1e-12)
	assert.InEpsilon(t, 25.0, TrimStep(5e3, 1), 1e-12)
	assert.InEpsilon(t, 25.0, TrimStep(5e3, 2), 1e-12, "where both meet")
	assert.InEpsilon(t, 5.0, TrimStep(5e3, 10), 1e-12)
	assert.Zero(t, TrimStep(0, 25))
}
