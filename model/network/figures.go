package network

import (
	"math"
	"strconv"
	"strings"
)

// A Measure is how figures of one kind are printed: in one unit with one number of decimals,
// so that what is printed adds up.
type Measure struct {
	Unit     string
	Factor   float64 // of the unit in a base unit: 1e-6 of µA
	Decimals int
}

// A Figure is a number as it is printed, in units of its last digit: sums and differences of
// figures are exact.
type Figure struct {
	Of    Measure
	Last  int64
	Known bool
}

// Round is a number as a figure; one that is not known where it is no number.
func (m Measure) Round(x float64) Figure {
	last := x / m.Factor * math.Pow10(m.Decimals)
	if math.IsNaN(last) || math.Abs(last) > 1e15 {
		return Figure{Of: m}
	}
	return Figure{m, int64(math.Round(last)), true}
}

// Plus is the sum of two figures of one measure.
func (f Figure) Plus(g Figure) Figure {
	return Figure{f.Of, f.Last + g.Last, f.Known && g.Known}
}

// Minus is their difference.
func (f Figure) Minus(g Figure) Figure {
	return Figure{f.Of, f.Last - g.Last, f.Known && g.Known}
}

// Text is the figure with its unit: "240.0 µA", "?" where it is not known.
func (f Figure) Text() string {
	if !f.Known {
		return "?"
	}
	sign, digits := "", strconv.FormatInt(f.Last, 10)
	if f.Last < 0 {
		sign, digits = "-", digits[1:]
	}
	if n := f.Of.Decimals; n > 0 {
		if short := n + 1 - len(digits); short > 0 {
			digits = strings.Repeat("0", short) + digits
		}
		digits = digits[:len(digits)-n] + "." + digits[len(digits)-n:]
	}
	return sign + digits + " " + f.Of.Unit
}

// Volts is how volts are printed next to a smallest one that still matters, V: with three
// digits of that, millivolts at least and ten microvolts at most.
func Volts(smallest float64) Measure {
	m := Measure{"V", 1, 3}
	for m.Decimals < 5 && smallest < math.Pow10(2-m.Decimals)*0.9995 {
		m.Decimals++
	}
	return m
}

// Currents is how currents are printed of which this is the largest, A: with four digits of
// it; in mA where that is not known.
func Currents(largest float64) Measure {
	m := Measure{"mA", 1e-3, 3}
	switch {
	case largest < 0.9995e-3:
		m = Measure{"µA", 1e-6, 3}
	case largest >= 0.9995:
		m = Measure{"A", 1, 3}
	}
	for m.Decimals > 0 && largest/m.Factor >= math.Pow10(4-m.Decimals)*0.99995 {
		m.Decimals--
	}
	return m
}
