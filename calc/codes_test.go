package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleQuantisation_Errors() {
	// Common practice, no source: twelve hours in steps of three minutes are 240
	// codes. Derived: of three minutes in a row one is met, one 1/3 code short, one
	// 1/3 code over, so at most 1 min off.
	c := Quantisation{Law: &Law{}, Top: 240, Steps: 720}
	largest, rms := c.Errors()
	fmt.Printf("%.3f min, rms %.3f min\n", 720*largest, 720*rms)
	// Output: 1.000 min, rms 0.816 min
}

func TestErrorsLinear(t *testing.T) {
	// Derived: rounded down, one is met, one is 1 min and one 2 min early.
	c := Quantisation{Law: &Law{}, Top: 240, Steps: 720, Down: true}
	largest, rms := c.Errors()
	assert.InDelta(t, 2, 720*largest, 1e-9)
	assert.InDelta(t, math.Sqrt(5.0/3), 720*rms, 1e-9)
	// Derived: a code an instant has no error.
	for _, down := range []bool{false, true} {
		for _, n := range []int{1, 60, 720, 1440} {
			c := Quantisation{Law: &Law{}, Top: float64(n), Steps: n, Down: down}
			largest, rms := c.Errors()
			assert.Less(t, largest, 1e-15)
			assert.Less(t, rms, 1e-15)
		}
	}
}

func TestCodeAtABreak(t *testing.T) {
	// The catalogue: "a T·x within 1e-9 below the break counting as on it".
	down := Quantisation{Law: &Law{}, Top: 240, Steps: 720, Down: true}
	nearest := Quantisation{Law: &Law{}, Top: 240, Steps: 720}
	for _, c := range []struct {
		r       Quantisation
		x, want float64
	}{
		{down, 7, 7}, {down, 7 - 1e-10, 7}, {down, 7 - 1e-8, 6}, {down, 7.999, 7}, {down, 240, 240},
		{nearest, 6.5, 7}, {nearest, 6.5 - 1e-10, 7}, {nearest, 6.5 - 1e-8, 6}, {nearest, 7.499, 7}, {nearest, 240, 240},
	} {
		assert.Equal(t, c.want, c.r.Code(c.x/240), "%v, down %v", c.x, c.r.Down)
	}
}

// slowErrors is an independent computation: the catalogue's words instant by
// instant, with the inverse of the law by bisection.
func slowErrors(r *Quantisation) (largest, rms float64) {
	for s := range r.Steps {
		y := float64(s) / float64(r.Steps)
		x := y
		if r.Codes {
			low, high := 0.0, 1.0
			for range 60 {
				if mid := (low + high) / 2; r.Law.At(mid) < y {
					low = mid
				} else {
					high = mid
				}
			}
			x = high
		}
		code := math.Floor(r.Top*x + 0.5 + 1e-9)
		if r.Down {
			code = math.Floor(r.Top*x + 1e-9)
		}
		current := (code + r.Offset) / (r.Top + r.Offset)
		shown := r.Law.At(current)
		if r.Dial {
			shown = current
		}
		largest = max(largest, math.Abs(shown-y))
		rms += (shown - y) * (shown - y) / float64(r.Steps)
	}
	return largest, math.Sqrt(rms)
}

func TestErrorsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		law := drawLaw(t)
		top := float64(rapid.IntRange(10, 2000).Draw(t, "top"))
		c := Quantisation{Law: law, Top: top, Steps: rapid.SampledFrom([]int{60, 720, 1440}).Draw(t, "steps"),
			Down: rapid.Bool().Draw(t, "down"), Offset: float64(rapid.IntRange(0, 1).Draw(t, "offset"))}
		way := rapid.SampledFrom([]string{"none", "codes", "dial"}).Draw(t, "correct")
		c.Codes, c.Dial = way == "codes", way == "dial"

		largest, rms := c.Errors()
		wantLargest, wantRMS := slowErrors(&c)
		assert.InDelta(t, wantLargest, largest, 1e-12)
		assert.InDelta(t, wantRMS, rms, 1e-12)
		assert.LessOrEqual(t, rms, largest+1e-15)
		if way == "none" && law.Kind != Linear || c.Offset > 0 {
			return // the law's own error has no such bound
		}
		// Derived: a step, or half of one, through the steepest part shown.
		bound, slope := 1/top, 1.0
		if !c.Down {
			bound /= 2
		}
		if c.Codes {
			slope = law.steepest()
		}
		assert.LessOrEqual(t, largest, bound*slope+1e-8)
	})
}

func BenchmarkErrors(b *testing.B) {
	law := Law{Kind: Table, Points: []Point{{0, 0}, {0.25, 0.21}, {0.5, 0.46}, {0.75, 0.73}, {1, 1}}}
	c := Quantisation{Law: &law, Top: 240, Steps: 720, Codes: true}
	b.ReportAllocs()
	for b.Loop() {
		c.Errors()
	}
}
