package calc

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func ExampleNextPreferred() {
	// Birthplace: the E24 and E12 lists of IEC 60063, read second-hand.
	fmt.Println(NextPreferred(4700, E24, true), NextPreferred(5000, E24, false), NextPreferred(8.2e-12, E12, true))
	// Output: 5100 4700 1e-11
}

// TestSeriesAgainstTheFormula: IEC 60063 by its rule, the two digits of
// 10^(i/n) rounded, but for the eight places of E24 at which its lists depart
// from it (lists read second-hand, the formula recomputed here).
func TestSeriesAgainstTheFormula(t *testing.T) {
	irregular := map[int]int{26: 27, 29: 30, 32: 33, 35: 36, 38: 39, 42: 43, 46: 47, 83: 82}
	byFormula, departures := Series{}, 0
	for i := range 24 {
		n := int(math.Round(10 * math.Pow(10, float64(i)/24)))
		if listed, ok := irregular[n]; ok {
			n = listed
			departures++
		}
		byFormula = append(byFormula, n)
	}
	assert.Equal(t, 8, departures)
	assert.Equal(t, byFormula, E24)
	// Each series is every second number of the next one: the standard's own rule.
	for i, n := range E12 {
		assert.Equal(t, E24[2*i], n)
	}
	for i, n := range E6 {
		assert.Equal(t, E12[2*i], n)
	}
	for i, n := range E3 {
		assert.Equal(t, E6[2*i], n)
	}
}

// TestNextPreferred: birthplace: the lists, with the decades written by hand.
func TestNextPreferred(t *testing.T) {
	for _, c := range []struct {
		x        float64
		series   Series
		up, down float64
	}{
		{4.7e3, E24, 5.1e3, 4.3e3},
		{4.7e-6, E12, 5.6e-6, 3.9e-6},
		{9.1e3, E24, 10e3, 8.2e3},
		{10, E24, 11, 9.1},
		{1e-12, E12, 1.2e-12, 0.82e-12},
		{1e6, E6, 1.5e6, 0.68e6},
		{5000, E24, 5100, 4700},
		{3300, OneTwoFive, 5000, 2000},
		{1000, OneTwoFive, 2000, 500},
		{4.8, Series{100, 475}, 10, 4.75}, // series of three digits
		{math.Nextafter(1000, 0), E24, 1000, 910},
		{math.Nextafter(1000, 2000), E24, 1100, 1000},
	} {
		assert.Equal(t, c.up, NextPreferred(c.x, c.series, true), "above %v", c.x)
		assert.Equal(t, c.down, NextPreferred(c.x, c.series, false), "below %v", c.x)
	}
	for power := -15; power <= 9; power++ { // where a logarithm may be a hair off
		x := decimal(1, power)
		assert.Equal(t, x, NextPreferred(math.Nextafter(x, 2*x), E12, false), "just above %v", x)
		assert.Equal(t, x, NextPreferred(math.Nextafter(x, 0), E12, true), "just below %v", x)
	}
	for _, x := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		assert.True(t, math.IsNaN(NextPreferred(x, E24, true)), "%v", x)
		assert.True(t, math.IsNaN(NearestPreferred(x, E24)), "%v", x)
	}
}

// TestNearestPreferred: birthplace: derived; between a and b the ratio turns at √(ab).
func TestNearestPreferred(t *testing.T) {
	assert.Equal(t, 18e-12, NearestPreferred(17e-12, E12)) // √(15·18) = 16.43
	assert.Equal(t, 15e-12, NearestPreferred(16.4e-12, E12))
	assert.Equal(t, 910.0, NearestPreferred(953, E24)) // √(910·1000) = 953.9
	assert.Equal(t, 1000.0, NearestPreferred(954, E24))
	assert.Equal(t, 4700.0, NearestPreferred(4700, E24))
}

// TestPreferredLaws: derived.
func TestPreferredLaws(t *testing.T) {
	series := rapid.SampledFrom([]Series{E6, E12, E24, OneTwoFive})
	rapid.Check(t, func(t *rapid.T) {
		s := series.Draw(t, "series")
		x := math.Pow(10, rapid.Float64Range(-15, 9).Draw(t, "power"))
		more := x * rapid.Float64Range(1, 3).Draw(t, "ratio")
		above, below := NextPreferred(x, s, true), NextPreferred(x, s, false)
		assert.Less(t, below, x)
		assert.Greater(t, above, x)
		assert.LessOrEqual(t, above, NextPreferred(more, s, true), "rises with x")
		assert.LessOrEqual(t, below, NextPreferred(more, s, false), "rises with x")

		n := rapid.SampledFrom(s).Draw(t, "number")
		power := rapid.IntRange(-15, 8).Draw(t, "decade")
		value := decimal(n, power)
		assert.Equal(t, value, NextPreferred(NextPreferred(value, s, true), s, false), "up and down")
		assert.Equal(t, value, NextPreferred(NextPreferred(value, s, false), s, true), "down and up")
		assert.Equal(t, value, NearestPreferred(value, s))

		nearest := NearestPreferred(x, s)
		assert.True(t, slices.Contains([]float64{above, NextPreferred(above, s, false)}, nearest))
		assert.LessOrEqual(t, math.Abs(math.Log(nearest/x)), math.Abs(math.Log(above/x))+1e-12)
		assert.LessOrEqual(t, math.Abs(math.Log(nearest/x)), math.Abs(math.Log(below/x))+1e-12)
	})
}
