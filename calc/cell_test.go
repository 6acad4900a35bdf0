package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func ExampleSupply_Draw() {
	// Texas Instruments E2E thread 1074967: 100 µA at 5 V out of 1.5 V, at 75 %.
	s := Supply{Kind: Boost, Rail: 5, Efficiency: 0.75}
	d, _ := s.Draw(1.5, 100e-6)
	fmt.Printf("%.2f µA\n", d.Current*1e6)
	// Output: 444.44 µA
}

func TestDrawPublished(t *testing.T) {
	for _, c := range []struct {
		s                Supply
		rest, load, want float64
		within           float64
	}{
		// Texas Instruments E2E 1074967: a converter that takes 6.5 µA at 3.3 V and
		// 0.5 µA at 1.5 V draws 14.8 µA.
		{Supply{Kind: Boost, Rail: 3.3, Efficiency: 1, Quiescent: 0.5e-6}, 1.5, 6.5e-6, 14.8e-6, 0.05e-6},
		// Texas Instruments E2E 883179: 2 A at 3.8 V out of 1.8 V, at 90 %.
		{Supply{Kind: Boost, Rail: 3.8, Efficiency: 0.9}, 1.8, 2, 4.69, 0.005},
		// A hobby page on step-up converters: 2 A at 5 V are 0.8 A at 10 V, 0.533 A at 15 V, at 80 %.
		{Supply{Kind: Boost, Rail: 10, Efficiency: 0.8}, 5, 0.8, 2, 1e-9},
		{Supply{Kind: Boost, Rail: 15, Efficiency: 0.8}, 5, 0.533, 2, 0.002},
	} {
		d, ok := c.s.Draw(c.rest, c.load)
		require.True(t, ok)
		assert.InDelta(t, c.want, d.Current, c.within)
	}
	// Makers' sheets of alkaline AA cells, read second-hand: 1 A through 0.15 to 0.30 Ω
	// leaves 1.35 to 1.20 V of 1.5 V.
	for _, c := range []struct{ resistance, want float64 }{{0.15, 1.35}, {0.30, 1.20}} {
		s := Supply{Resistance: c.resistance}
		d, ok := s.Draw(1.5, 1)
		require.True(t, ok)
		assert.InDelta(t, c.want, d.Voltage, 1e-12)
	}
}

func TestDrawByHand(t *testing.T) {
	// Derived. Linear: the load and the converter's own current.
	s := Supply{Kind: LinearRegulator, Rail: 3.3, Quiescent: 10e-6, Resistance: 100}
	d, ok := s.Draw(4.5, 990e-6)
	require.True(t, ok)
	assert.InDelta(t, 1e-3, d.Current, 1e-15)
	assert.InDelta(t, 4.4, d.Voltage, 1e-12)
	// Derived. 4 W into the best resistance are all a source of 4 V and 1 Ω has;
	// it then stands at 2 V.
	s = Supply{Kind: Boost, Rail: 5, Efficiency: 1, Resistance: 1}
	d, ok = s.Draw(4, 0.8)
	require.True(t, ok)
	assert.InDelta(t, 2, d.Voltage, 1e-6)
	_, ok = s.Draw(4, 0.8001)
	assert.False(t, ok, "more than there is")
	_, ok = s.Draw(0, 0.8)
	assert.False(t, ok, "no voltage at all")
	s.Quiescent = 10
	_, ok = s.Draw(4, 1e-3)
	assert.False(t, ok, "the converter's own current is too much")
	// Derived. Passed through, a boost adds only its own current.
	s = Supply{Kind: Boost, Rail: 5, Efficiency: 0.8, Quiescent: 20e-6, Resistance: 1}
	d, ok = s.Draw(6, 10e-3)
	require.True(t, ok)
	assert.InDelta(t, 10.02e-3, d.Current, 1e-15)
}

func drawSupply(t *rapid.T) (s Supply, rest, load float64) {
	number := func(name string, a, b float64) float64 { return rapid.Float64Range(a, b).Draw(t, name) }
	s = Supply{Kind: rapid.SampledFrom([]ConverterKind{NoConverter, Boost, LinearRegulator}).Draw(t, "kind"),
		Rail: number("rail", 1.5, 10), Efficiency: number("efficiency", 0.3, 1),
		Quiescent: number("quiescent", 0, 1e-3), Resistance: number("resistance", 1e-3, 100)}
	return s, number("rest", 0.5, 12), number("load", 1e-6, 0.1)
}

// TestDrawBalances: derived; at the answer Ohm's law holds and, while a boost
// steps up, so does the balance of power.
func TestDrawBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, rest, load := drawSupply(t)
		d, ok := s.Draw(rest, load)
		if !ok {
			w := rest - s.Resistance*s.Quiescent // the most a source gives is w²/4R
			assert.True(t, w <= 0 || s.Rail*load/s.Efficiency > w*w/4/s.Resistance*(1-1e-9))
			return
		}
		assert.InDelta(t, rest, d.Voltage+s.Resistance*d.Current, 1e-9*rest, "Ohm's law")
		through := load + s.Quiescent
		switch {
		case s.Kind == Boost && math.Abs(d.Current-through) > 1e-12*through:
			assert.Less(t, d.Voltage, s.Rail)
			assert.InEpsilon(t, s.Rail*load, s.Efficiency*d.Voltage*(d.Current-s.Quiescent), 1e-9, "power")
			assert.GreaterOrEqual(t, d.Voltage, (rest-s.Resistance*s.Quiescent)/2, "the upper of two answers")
		case s.Kind == NoConverter:
			assert.Equal(t, load, d.Current)
		default:
			assert.InEpsilon(t, through, d.Current, 1e-12)
		}
	})
}

// TestEndsAt: derived; just above its answer the pack carries the load over the
// floor, just below it does not.
func TestEndsAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _, load := drawSupply(t)
		floor := rapid.Float64Range(0, 11).Draw(t, "floor")
		switch {
		case rapid.Bool().Draw(t, "floor at the rail"):
			floor = s.Rail
		case rapid.Bool().Draw(t, "floor just below it"):
			floor = 0.999 * s.Rail
		}
		if rapid.Bool().Draw(t, "on the brink at the rail") {
			s.Efficiency = 1
			s.Resistance = 1.1 * s.Rail / load
		}
		end := s.EndsAt(floor, load)
		const hair = 1e-9
		d, ok := s.Draw(end*(1+hair), load)
		assert.True(t, ok && d.Voltage >= floor, "above: %+v, %v", d, ok)
		d, ok = s.Draw(end*(1-hair), load)
		assert.True(t, !ok || d.Voltage <= floor, "below: %+v, %v", d, ok)
	})
}

// TestPassesAt: derived; there the pack's voltage meets the rail.
func TestPassesAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, _, load := drawSupply(t)
		at := s.PassesAt(load)
		if s.Kind != Boost || at == 0 {
			d, ok := s.Draw(s.carriesFrom(load)*(1+1e-9)+1e-9, load)
			through := load
			if s.Kind != NoConverter {
				through += s.Quiescent
			}
			assert.True(t, ok)
			assert.InEpsilon(t, through, d.Current, 1e-12, "passes as soon as it carries")
			return
		}
		below, ok := s.Draw(at*(1-1e-9), load)
		assert.True(t, ok && below.Voltage < s.Rail)
		assert.InEpsilon(t, s.Rail, below.Voltage, 1e-3)
		above, ok := s.Draw(at*(1+1e-9), load)
		assert.True(t, ok && above.Voltage >= s.Rail)
		assert.InEpsilon(t, load+s.Quiescent, above.Current, 1e-12)
	})
}
