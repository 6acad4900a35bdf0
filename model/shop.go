package model

import (
	"fmt"
	"slices"
	"strconv"

	"example.com/needlewright/calc"
)

// Parts that shops have, in the units of their fields, rising.
var (
	Resistors      = preferred(calc.E24, 0, 6)        // 10 Ω to 9.1 MΩ
	Trimmers       = preferred(calc.OneTwoFive, 0, 5) // 10 Ω to 5 MΩ
	Capacitors     = preferred(calc.E6, -10, -5)      // 1 nF to 680 µF
	LoadCapacitors = preferred(calc.E24, -13, -11)    // 1 pF to 910 pF
)

// preferred lists a series of two-digit numbers, times ten to the powers from one
// to another.
func preferred(series calc.Series, from, to int) []float64 {
	var all []float64
	for power := from; power <= to; power++ {
		for _, n := range series {
			x, _ := strconv.ParseFloat(fmt.Sprintf("%de%d", n, power), 64)
			all = append(all, x)
		}
	}
	return all
}

// Between are those of rising numbers that are from least to most.
func Between(rising []float64, least, most float64) []float64 {
	from, _ := slices.BinarySearch(rising, least)
	to := from
	for to < len(rising) && rising[to] <= most {
		to++
	}
	return rising[from:to]
}
