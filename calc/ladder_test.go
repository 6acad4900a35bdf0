package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc/nodal"
)

// drawOhms draws a resistance, now and then an open or a short.
func drawOhms(t *rapid.T, name string) float64 {
	switch rapid.IntRange(0, 7).Draw(t, name+" is") {
	case 0:
		return math.Inf(1)
	case 1:
		return 0
	}
	return math.Pow(10, rapid.Float64Range(-1, 6).Draw(t, name))
}

// TestVoltagesByNodes: independent, package nodal.
func TestVoltagesByNodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rungs := make([]Rung, rapid.IntRange(1, 5).Draw(t, "rungs"))
		var branches []nodal.Branch
		for k := range rungs {
			rungs[k] = Rung{drawOhms(t, "series"), drawOhms(t, "across")}
			branches = append(branches, nodal.Branch{From: k + 1, To: k + 2, Ohms: rungs[k].Series}, nodal.Branch{From: k + 2, Ohms: rungs[k].Across})
		}
		shorted := true // a source that is shorted has no voltage of its own
		for _, r := range rungs {
			if shorted = shorted && r.Series == 0; shorted && r.Across == 0 {
				return
			}
		}
		got := make([]float64, len(rungs))
		Voltages(1, rungs, got)
		want := nodal.Voltages(len(rungs)+2, branches)
		for k, v := range got {
			if math.IsNaN(want[k+2]) {
				require.True(t, math.IsNaN(v), "%v: %v at %d, which floats", rungs, v, k)
				continue
			}
			require.InDelta(t, want[k+2], v, 1e-9, "%v at %d", rungs, k)
		}
	})
}

// TestLadderByNodes: independent, package nodal: the current at the ladder's end, and what the
// source gives.
func TestLadderByNodes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, first := NewLadder(), 0.0
		n := rapid.IntRange(1, 5).Draw(t, "rungs")
		var branches []nodal.Branch
		for k := range n {
			series, across := drawOhms(t, "series"), drawOhms(t, "across")
			if k == 0 && series == 0 {
				series = 1 // so that the source is never shorted
			}
			if k == 0 {
				first = series
			}
			l = l.Series(series).Across(across)
			branches = append(branches, nodal.Branch{From: k + 1, To: k + 2, Ohms: series}, nodal.Branch{From: k + 2, Ohms: across})
		}
		end := math.Pow(10, rapid.Float64Range(0, 4).Draw(t, "end"))
		want := nodal.Voltages(n+2, append(branches, nodal.Branch{From: n + 1, Ohms: end}))
		last, source := want[n+1], 0.0
		if !math.IsInf(first, 1) {
			source = (1 - want[2]) / first
		}
		assert.InDelta(t, last/end, l.Current(1, end), 1e-9*last/end+1e-12)
		assert.InDelta(t, source, l.Conductance(end), 1e-9*source+1e-11)
	})
}

// A 1 kΩ resistor, then 1 kΩ across: half the voltage, behind 500 Ω. Derived.
func ExampleLadder() {
	l := NewLadder().Series(1000).Across(1000)
	fmt.Println(l.Share, l.Resistance, "Ω")
	fmt.Printf("%.1f mA through 500 Ω at 5 V\n", 1000*l.Current(5, 500))
	// Output:
	// 0.5 500 Ω
	// 2.5 mA through 500 Ω at 5 V
}
