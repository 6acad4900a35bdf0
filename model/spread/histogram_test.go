package spread

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// Wants by hand: of 0, 10 … 100 the share q lies below 100·q.
func TestPercentile(t *testing.T) {
	numbers := []float64{100, 0, 30, 10, 20, 50, 40, 90, 80, 70, 60}
	h := newHistogram(numbers, quantity.Minutes)
	assert.InDeltaSlice(t, []float64{2.5, 5, 25, 50, 75, 95, 97.5}, h.At[:], 1e-12)
	assert.Equal(t, []float64{0, 100}, []float64{h.Least, h.Most})
	assert.Equal(t, 7.0, percentile([]float64{7}, 0.975))
}

func TestPercentileOf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		numbers := rapid.SliceOfN(rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.SampledFrom([]float64{0, 1, 2})), 1, 200).Draw(t, "numbers")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		sorted := slices.Sorted(slices.Values(numbers))
		require.Equal(t, percentile(sorted, share), percentileOf(numbers, share))
	})
}

// Laws of bins: they follow one another, begin with the least and end with the
// most, are 1, 2 or 5 of a power of ten wide, are not too many, and count every
// number where it lies.
func TestBins(t *testing.T) {
	units := []quantity.Unit{quantity.Minutes, quantity.Hours, quantity.Percent, quantity.SecondsPerDay}
	rapid.Check(t, func(t *rapid.T) {
		middle := rapid.Float64Range(-1e5, 1e5).Draw(t, "middle")
		reach := math.Pow(10, rapid.Float64Range(-3, 4).Draw(t, "power of ten of the reach"))
		numbers := rapid.SliceOfN(rapid.Float64Range(middle-reach, middle+reach), 1, 300).Draw(t, "numbers")
		all := slices.Clone(numbers)
		h := newHistogram(numbers, rapid.SampledFrom(units).Draw(t, "unit"))
		require.Equal(t, slices.Min(all), h.Least)
		require.Equal(t, slices.Max(all), h.Most)
		if h.step == 0 {
			require.Equal(t, []Bin{{h.Least, h.Most, len(all)}}, h.Bins)
			return
		}
		require.LessOrEqual(t, len(h.Bins), mostBins+2) // a span of 20 widths touches 22 of them at most
		digits := h.step / math.Pow(10, math.Floor(math.Log10(h.step)+1e-9))
		require.True(t, modeltest.Near(digits, 1, 1e-9) || modeltest.Near(digits, 2, 1e-9) || modeltest.Near(digits, 5, 1e-9), "%v", digits)
		hair := 1e-9 * max(math.Abs(h.Least), math.Abs(h.Most)) // a number beside an edge may count to either side
		count := 0
		for i, b := range h.Bins {
			if i > 0 {
				require.Equal(t, h.Bins[i-1].To, b.From)
			}
			wide := h.step * h.scale.size // the ends are rounded each for itself
			require.InDelta(t, wide, b.To-b.From, 1e-9*wide+2e-15*max(math.Abs(b.From), math.Abs(b.To)))
			inside, surely := 0, 0
			for _, x := range all {
				if b.From-hair <= x && x < b.To+hair {
					inside++
				}
				if b.From+hair <= x && x < b.To-hair {
					surely++
				}
			}
			require.True(t, surely <= b.Kits && b.Kits <= inside, "%+v: %d to %d", b, surely, inside)
			count += b.Kits
		}
		require.Equal(t, len(all), count)
		require.NotZero(t, h.Bins[0].Kits)
		require.NotZero(t, h.Bins[len(h.Bins)-1].Kits)
	})
}

// Wants by hand: 12 h in hours, 40 days in days, half a minute in seconds.
func TestHistogramTexts(t *testing.T) {
	for _, c := range []struct {
		numbers            []float64
		unit               quantity.Unit
		in, text, from, to string
	}{
		{[]float64{12, 13}, quantity.Hours, "h", "12.00", "12.00", "12.05"},
		{[]float64{40 * 24, 60 * 24}, quantity.Hours, "days", "40.00", "40", "41"},
		{[]float64{2 * 8766, 12 * 8766}, quantity.Hours, "years", "2.00", "2.0", "2.5"},
		{[]float64{0.1, 0.5}, quantity.Minutes, "s", "6.00", "6", "8"},
		{[]float64{2, 4}, quantity.Minutes, "min", "2.000", "2.0", "2.1"},
		{[]float64{-0.05, 1.15}, quantity.Percent, "%", "-5.0", "-10", "0"},
		{[]float64{-1e-9, 1.9}, quantity.SecondsPerDay, "s/day", "0.000", "-0.1", "0.0"},
		{[]float64{3, 3}, quantity.SecondsPerDay, "s/day", "3.000", "3.000", "3.000"},
	} {
		h := newHistogram(c.numbers, c.unit)
		from, to := h.Ends(h.Bins[0])
		assert.Equal(t, []string{c.in, c.text, c.from, c.to}, []string{h.In(), h.Text(h.Least), from, to})
	}
	assert.Nil(t, newHistogram([]float64{1, math.NaN()}, quantity.Hours))
	assert.Nil(t, newHistogram([]float64{1, math.Inf(1)}, quantity.Hours))
}
