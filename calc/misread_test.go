package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleMisreading_Largest() {
	// Derived: twelve hours in codes of three minutes are 1 min off at most, the last
	// code, 240, at 11:59, where full scale would be 12:00. With 1 % more current that
	// code stands at 12:07.2, 8.2 min late.
	c := Quantisation{Law: &Law{}, Top: 240, Steps: 720}
	m := c.Misreading()
	fmt.Printf("%.1f min, %.1f min\n", 720*m.Largest(1), 720*m.Largest(1.01))
	// Output: 1.0 min, 8.2 min
}

// slowLargest is an independent computation: the catalogue's words, instant by
// instant.
func slowLargest(r *Quantisation, times float64) float64 {
	largest := 0.0
	for s := range r.Steps {
		y := float64(s) / float64(r.Steps)
		shown := (r.Code(y) + r.Offset) / (r.Top + r.Offset) * times
		if !r.Dial {
			shown = r.Law.At(shown)
		}
		largest = max(largest, math.Abs(shown-y))
	}
	return largest
}

func drawQuantisation(t *rapid.T) *Quantisation {
	law := rapid.SampledFrom([]Law{
		{}, {Kind: Square},
		{Kind: Table, Points: []Point{{0, 0}, {0.5, 0.47}, {1, 1}}},
		{Kind: Table, Points: []Point{{0, 0}, {0.1, 0.3}, {0.6, 0.7}, {0.9, 0.75}, {1, 1}}},
		{Kind: Table, Points: []Point{{0, 0}, {0.3, 0.02}, {0.97, 0.99}, {1, 1}}},
	}).Draw(t, "law")
	straight := rapid.IntRange(0, 2).Draw(t, "straightened")
	return &Quantisation{Law: &law, Offset: float64(rapid.IntRange(0, 1).Draw(t, "offset")), Top: float64(rapid.IntRange(1, 1100).Draw(t, "top")),
		Steps: rapid.SampledFrom([]int{60, 720, 1440}).Draw(t, "steps"),
		Down:  rapid.Bool().Draw(t, "down"), Codes: straight == 1, Dial: straight == 2}
}

func TestMisreading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawQuantisation(t)
		m := c.Misreading()
		for range 8 {
			times := rapid.OneOf(rapid.Float64Range(0.99, 1.01), rapid.Float64Range(0.85, 1.15), rapid.Float64Range(0, 3), rapid.Float64Range(0, 200)).Draw(t, "times")
			assert.InDelta(t, slowLargest(c, times), m.Largest(times), 1e-14*max(1, times*times), "at %v", times)
		}
		largest, _ := c.Errors()
		assert.InDelta(t, largest, m.Largest(1), 1e-14)
	})
	c := Quantisation{Law: &Law{}, Top: 240, Steps: 720}
	assert.True(t, math.IsNaN(c.Misreading().Largest(math.NaN())))
}

func BenchmarkMisreading(b *testing.B) {
	table := Law{Kind: Table, Points: []Point{{0, 0}, {0.25, 0.22}, {0.5, 0.47}, {0.75, 0.74}, {1, 1}}}
	for name, c := range map[string]Quantisation{
		"linear": {Law: &Law{}, Top: 240, Steps: 720}, "uneven": {Law: &Law{}, Top: 255, Steps: 720},
		"table": {Law: &table, Top: 240, Steps: 720, Codes: true}, "fine": {Law: &table, Top: 1023, Steps: 1440},
	} {
		b.Run(name+" made", func(b *testing.B) {
			for b.Loop() {
				c.Misreading()
			}
		})
		m := c.Misreading()
		for _, times := range []float64{1.0005, 0.995, 1.05, 1.3, 2} {
			b.Run(fmt.Sprintf("%s at %v", name, times), func(b *testing.B) {
				for b.Loop() {
					m.Largest(times)
				}
			})
		}
	}
}
