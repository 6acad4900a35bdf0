package calc

import (
	"math"
	"strconv"
)

// A Series is the preferred numbers of one decade, rising, the first of them 10
// or 100.
type Series []int

// The series that parts come in. E3, E6, E12 and E24 are those of IEC 60063, whose
// lists were read second-hand; trimmers in steps of 1-2-5 are common practice,
// no source.
var (
	E3         = Series{10, 22, 47}
	E6         = Series{10, 15, 22, 33, 47, 68}
	E12        = Series{10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82}
	E24        = Series{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91}
	OneTwoFive = Series{10, 20, 50}
)

// NextPreferred returns the preferred value next above x, or next below it, over
// all decades, and never x itself. It is the float64 nearest to its decimal
// number, so that 4.7e-6 is 4.7e-6. x is over 0 and finite, in any unit; NaN
// otherwise.
//
// Source: IEC 60063 for the series (lists read second-hand); the search is derived
func NextPreferred(x float64, series Series, up bool) float64 {
	if !(x > 0) || math.IsInf(x, 1) {
		return math.NaN()
	}
	// The logarithm may be a hair off: the decades beside its own are searched too.
	decade := int(math.Floor(math.Log10(x))) - len(strconv.Itoa(series[0])) + 1
	if up {
		for power := decade - 1; ; power++ {
			for _, n := range series {
				if y := decimal(n, power); y > x {
					return y
				}
			}
		}
	}
	for power := decade + 1; ; power-- {
		for i := len(series) - 1; i >= 0; i-- {
			if y := decimal(series[i], power); y < x {
				return y
			}
		}
	}
}

// NearestPreferred returns the preferred value whose ratio to x is nearest to 1,
// the smaller one of two as near. x is over 0 and finite; NaN otherwise.
//
// Source: IEC 60063 for the series (lists read second-hand); the choice by ratio is derived
func NearestPreferred(x float64, series Series) float64 {
	above := NextPreferred(x, series, true)
	atOrBelow := NextPreferred(above, series, false)
	if x/atOrBelow <= above/x {
		return atOrBelow
	}
	return above
}

// decimal returns n·10^power, rounded once; an infinity beyond what a float64
// holds.
func decimal(n, power int) float64 {
	y, _ := strconv.ParseFloat(strconv.Itoa(n)+"e"+strconv.Itoa(power), 64)
	return y
}
