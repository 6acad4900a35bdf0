package spread

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model"
)

// What is measured is worth knowing, what is bought worth buying; less than a second, and
// less than a fiftieth, is worth no line, but a kit more in a thousand is. Derived by hand.
func TestWorthALine(t *testing.T) {
	of := func(path string, trimUp int, error95 float64) Tighter {
		return Tighter{Input{Field: model.Builds.Field(path)}, Gain{1000, trimUp, error95}}
	}
	const second = 1.0 / 60 // min
	for _, c := range []struct {
		before     float64
		t          Tighter
		buy, learn int
	}{
		{20 * second, of("hand.drive.fixed", 900, 18*second), 1, 0},
		{20 * second, of("hand.drive.pin_resistance", 900, 18*second), 0, 1},
		{20 * second, of("hand.meter.coil", 900, 18*second), 0, 1},
		{20 * second, of("hand.drive.fixed", 900, 19.1*second), 0, 0},  // less than a second
		{100 * second, of("hand.drive.fixed", 900, 98.5*second), 0, 0}, // less than a fiftieth
		{20 * second, of("hand.drive.fixed", 901, 19.99*second), 1, 0}, // one more trims up
		{20 * second, of("hand.drive.fixed", 899, 10*second), 0, 0},    // one less does
		{20 * second, of("hand.meter.coil", 901, 19.99*second), 0, 1},
	} {
		h := HandYield{Before: Gain{1000, 900, c.before}, Tighter: []Tighter{c.t}}
		y := &Yield{Hands: []HandYield{h}}
		for k, want := range []int{c.buy, c.learn} {
			assert.Len(t, Tightenings[k].Of(&h), want, "%s %v", c.t.Field.Path, c.t.Gain)
			assert.Equal(t, want > 0, Tightenings[k].In(y))
		}
	}
}
