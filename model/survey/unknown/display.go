package unknown

import (
	"math"
	"strconv"
)

// A display is a range of a multimeter of 4 000 counts: its end in the base unit, and
// how it is written.
type display struct {
	end      float64
	decimals int
	scale    float64
	unit     string
}

var (
	voltRanges = []display{{0.4, 1, 1e-3, "mV"}, {4, 3, 1, "V"}, {40, 2, 1, "V"}}
	ohmRanges  = []display{{400, 1, 1, "Ω"}, {4e3, 3, 1e3, "kΩ"}, {40e3, 2, 1e3, "kΩ"}, {400e3, 1, 1e3, "kΩ"}, {4e6, 3, 1e6, "MΩ"}, {40e6, 2, 1e6, "MΩ"}}
)

const counts = 4000

func (d display) digit() float64 { return d.end / counts }

// rangeOf is the smallest range that shows a value.
func rangeOf(ranges []display, x float64) display {
	for _, d := range ranges {
		if math.Round(math.Abs(x)/d.digit()) < counts {
			return d
		}
	}
	return ranges[len(ranges)-1]
}

// written is a value as the display shows it.
func written(ranges []display, x float64) string {
	d := rangeOf(ranges, x)
	steps := math.Round(x / d.digit())
	return strconv.FormatFloat(steps*d.digit()/d.scale, 'f', d.decimals, 64) + " " + d.unit
}

// shown is what the bench's multimeter shows of a value: off by a share of it and by
// some of its last digits, each anything within its limit; never below zero.
func (b *Bench) shown(ranges []display, x float64) string {
	d := rangeOf(ranges, x)
	m := b.Multimeter
	return written(ranges, max(0, x*(1+b.random.around(m.Share))+b.random.around(m.Digits)*d.digit()))
}

// read is a place as the eye reads it, in whole percents, not beyond the stops.
func (b *Bench) read(place float64) string {
	low, high := math.Ceil(100*(place-b.Eye)), math.Floor(100*(place+b.Eye))
	percent := math.Round(100 * place)
	if low < high {
		percent = low + float64(b.random.IntN(int(high-low)+1))
	}
	percent = math.Round(100 * atStops(percent/100))
	return strconv.Itoa(int(percent)) + " %"
}
