package spread

import (
	"math"
	"slices"
	"strconv"

	"example.com/needlewright/model/quantity"
)

// Percentiles are the shares of the kits at which a histogram says what they are
// below.
var Percentiles = [...]float64{0.025, 0.05, 0.25, 0.5, 0.75, 0.95, 0.975}

// A Histogram is how a number spreads over many kits. The numbers are in the
// base of its unit.
type Histogram struct {
	Unit        quantity.Unit
	Least, Most float64
	At          [len(Percentiles)]float64 // the percentiles
	Bins        []Bin                     // rising, each from where the one before ends

	scale scale
	step  float64 // of the bins, in the scale
}

// A Bin counts the kits from one value to below another.
type Bin struct {
	From, To float64
	Kits     int
}

// A scale is what people read a number in.
type scale struct {
	name string
	size float64 // in the unit's base
}

// mostBins is how many a histogram has, or up to two more where its least and its
// most value do not lie within as many whole ones.
const mostBins = 20

// alike is how near together, as a share of them, numbers are one but for
// rounding.
const alike = 1e-9

// newHistogram sorts the numbers and counts them; nil where any is not finite: the
// result does not exist for the build then.
func newHistogram(numbers []float64, u quantity.Unit) *Histogram {
	slices.Sort(numbers) // NaN comes first
	h := &Histogram{Unit: u, Least: numbers[0], Most: numbers[len(numbers)-1]}
	if math.IsNaN(h.Least) || math.IsInf(h.Least, 0) || math.IsInf(h.Most, 0) {
		return nil
	}
	for i, share := range Percentiles {
		h.At[i] = percentile(numbers, share)
	}
	h.scale = scaleFor(u, max(math.Abs(h.Least), math.Abs(h.Most)))
	h.count(numbers)
	return h
}

// percentile is the number below which a share of sorted ones lies: on the
// straight line between the two next to it.
func percentile(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := int(at)
	if i+1 == len(sorted) {
		return sorted[i]
	}
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}

// percentileOf is the percentile of numbers in any order, none of them NaN; it
// changes the order. It sorts no more than it must (C. A. R. Hoare's FIND).
func percentileOf(numbers []float64, share float64) float64 {
	n := int(share * float64(len(numbers)-1))
	for low, high := 0, len(numbers)-1; low < high; {
		middle, i, j := numbers[(low+high)/2], low, high
		for i <= j {
			for numbers[i] < middle {
				i++
			}
			for numbers[j] > middle {
				j--
			}
			if i <= j {
				numbers[i], numbers[j] = numbers[j], numbers[i]
				i, j = i+1, j-1
			}
		}
		switch {
		case n <= j:
			high = j
		case n >= i:
			low = i
		default:
			low, high = n, n
		}
	}
	if n+1 < len(numbers) {
		numbers[n+1] = slices.Min(numbers[n+1:]) // the next in order, for percentile
	}
	return percentile(numbers, share)
}

// count fills the bins. Their width is 1, 2 or 5 of a power of ten in the scale,
// and they begin at whole multiples of it.
func (h *Histogram) count(sorted []float64) {
	span := h.Most - h.Least
	if span <= alike*max(math.Abs(h.Least), math.Abs(h.Most)) {
		h.Bins = []Bin{{h.Least, h.Most, len(sorted)}}
		return
	}
	h.step = oneTwoFive(span / h.scale.size / mostBins)
	place := func(x float64) float64 { return math.Floor(x / h.scale.size / h.step) }
	first := place(h.Least)
	h.Bins = make([]Bin, int(place(h.Most)-first)+1)
	for i := range h.Bins {
		at := first + float64(i)
		h.Bins[i].From, h.Bins[i].To = at*h.step*h.scale.size, (at+1)*h.step*h.scale.size
	}
	for _, x := range sorted {
		h.Bins[int(place(x)-first)].Kits++
	}
}

// oneTwoFive is the least of 1, 2 and 5 of a power of ten that is not below x.
func oneTwoFive(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, n := range [...]float64{1, 2, 5} {
		if n*power >= x {
			return n * power
		}
	}
	return 10 * power
}

// scaleFor is what numbers up to a largest one are read in.
func scaleFor(u quantity.Unit, largest float64) scale {
	switch {
	case u == quantity.Hours:
		d, _ := quantity.DurationFor(largest)
		return scale{d.Name, d.Hours}
	case u == quantity.Minutes && largest < 1:
		return scale{"s", 1.0 / 60}
	}
	return scale{u.Symbol(), u.Factor()}
}

// In is what the texts of a histogram are in: "min", "days".
func (h *Histogram) In() string { return h.scale.name }

// Text is one of its numbers as people read it, all of them in as many decimals,
// the largest in four digits.
func (h *Histogram) Text(x float64) string {
	largest := max(math.Abs(h.Least), math.Abs(h.Most)) / h.scale.size
	places := 3
	if largest > 0 {
		places = min(max(3-int(math.Floor(math.Log10(largest))), 0), 6)
	}
	return decimalText(x/h.scale.size, places)
}

// Ends are the texts of a bin's ends.
func (h *Histogram) Ends(b Bin) (from, to string) {
	if h.step == 0 {
		return h.Text(b.From), h.Text(b.To)
	}
	places := max(0, -int(math.Floor(math.Log10(h.step)+alike)))
	return decimalText(b.From/h.scale.size, places), decimalText(b.To/h.scale.size, places)
}

// decimalText is a number with so many decimals, and no -0.
func decimalText(x float64, places int) string {
	text := strconv.FormatFloat(x, 'f', places, 64)
	if zero := strconv.FormatFloat(0, 'f', places, 64); text == "-"+zero {
		return zero
	}
	return text
}
