// Package quantity turns what a person types into numbers and back: "4.7 kΩ ±5 %", "1k2", "84 % ±5 %".
//
// A field or a result has a [Unit]: what a bare number means and in which unit it is printed. Numbers inside
// the program are in the unit [Unit.Base] names: SI base units, ratios as fractions, offsets in ppm,
// temperatures in °C, capacities in Ah, lives in h. [Format] prints exactly, so that [Parse] reads the same
// bits back; [Show] rounds for people.
//
// No number is ever multiplied by a power of ten on the way: the exponent is moved in the text, and strconv
// rounds once. That is why "4.7 µF" is the float64 nearest to 4.7e-6.
package quantity

import (
	"math"
	"strconv"
)

// Value is a number with the tolerance written beside it.
type Value struct {
	Number    float64 // in the unit's Base; NaN: not given
	Tolerance float64 // >= 0, as written: in the unit's Base, or a fraction of Number if Share; 0: none
	Share     bool    // Tolerance is a fraction of Number; never for percent, where it is points, nor for °C
}

// Absent returns the Value of an optional field that was left empty.
func Absent() Value { return Value{Number: math.NaN()} }

// Given reports whether there is a number at all.
func (v Value) Given() bool { return !math.IsNaN(v.Number) }

// Half returns the half width of the tolerance in the unit's Base, >= 0; 0 where there is no tolerance.
func (v Value) Half() float64 {
	if v.Share {
		return math.Abs(v.Number) * v.Tolerance
	}
	return v.Tolerance
}

// Low returns the lower end of the tolerance in the unit's Base; NaN if no number is given.
func (v Value) Low() float64 { return v.Number - v.Half() }

// High returns the upper end of the tolerance in the unit's Base; NaN if no number is given.
func (v Value) High() float64 { return v.Number + v.Half() }

// Error says in plain words why a text could not be read.
type Error struct {
	Given    string // the whole text as typed; may hold control characters
	Problem  string // what is wrong; printable
	Remedy   string // what to write instead; printable
	Measures string // what a unit that is of no use here measures: "voltage"; "" where that is not what is wrong
}

// Error returns the problem and the remedy in one sentence.
func (e *Error) Error() string { return e.Problem + "; " + e.Remedy }

// quote returns typed text fit for a message: in quotation marks, printable, at most 24 runes of it.
func quote(text string) string { return strconv.Quote(short(text)) }

// short cuts text after 24 runes.
func short(text string) string {
	const longest = 24
	runes := 0
	for i := range text {
		if runes == longest {
			return text[:i] + "…"
		}
		runes++
	}
	return text
}
