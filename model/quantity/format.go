package quantity

import (
	"fmt"
	"math"
	"strconv"
)

// Format prints v exactly: Parse with the same unit gives the same Value, bit for bit. It takes the fewest
// digits that do so and the prefix that leaves 1 to 999 before the decimal sign: "4.7 kΩ ±5 %"; tenths of
// the unit itself stay in it: "0.9 V".
// A Value that is not given, or not finite, prints as "".
func Format(v Value, u Unit) string {
	if !finite(v.Number) {
		return ""
	}
	var room [96]byte
	b := appendNumber(room[:0], v.Number, -1, u)
	switch {
	case v.Tolerance == 0:
	case v.Share:
		b = appendNumber(append(b, " ±"...), v.Tolerance, -1, Percent)
	default:
		b = appendNumber(append(b, " ±"...), v.Tolerance, -1, u)
	}
	return string(b)
}

// Show prints x, in u's Base, for people: rounded to so many significant digits (1 to 17), zeros at the end
// kept: "4.70 kΩ", "12.3 ms". Parse reads the rounded number back. What is not finite prints as "–".
func Show(x float64, u Unit, digits int) string {
	if !finite(x) {
		return "–"
	}
	if x == 0 {
		x, digits = 0, 1 // neither "0.00" nor "-0"
	}
	var room [96]byte
	return string(appendNumber(room[:0], x, min(max(digits, 1), 17)-1, u))
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// appendNumber prints x with its unit; decimals after the first digit, -1 for as few as are exact.
func appendNumber(b []byte, x float64, decimals int, u Unit) []byte {
	r := &kinds[u.kind]
	var room [32]byte
	digits, power := split(strconv.AppendFloat(room[:0], math.Abs(x), 'e', decimals, 64))
	if x != 0 {
		power -= r.power
	}
	if math.Signbit(x) {
		b = append(b, '-')
	}
	prefix, direct := r.scale(power)
	if decimals < 0 && power == int(u.power)-1 { // tenths of the field's own unit stay in it: 0.9 V
		prefix, direct = int(u.power), true
	}
	if direct {
		b = appendPlain(b, digits, power-prefix)
	} else {
		b = appendPlain(b, digits, 0)
		b = strconv.AppendInt(append(b, 'e'), int64(power), 10)
	}
	b = append(b, separator(u.kind)...)
	b = append(b, prefixes[prefix/3+5]...)
	return append(b, r.symbol...)
}

// separator returns what stands between a number and its unit.
func separator(k kind) string {
	if k == plain || k == degrees {
		return ""
	}
	return " "
}

// scale chooses the power of the prefix for a number whose first digit has this power of ten,
// and says whether the number can be written without an exponent.
func (r *row) scale(power int) (prefix int, direct bool) {
	if !r.prefixed {
		return 0, -9 <= power && power < 15
	}
	if power < -15 || power >= 12 {
		return 0, false
	}
	prefix = (power+15)/3*3 - 15 // rounded down to a multiple of 3
	return min(prefix, r.largest), true
}

// split takes strconv's "d.ddde±dd" apart into its digits and the power of ten of the first one.
func split(text []byte) (digits []byte, power int) {
	e := len(text) - 1
	for text[e] != 'e' {
		e--
	}
	for _, c := range text[e+2:] {
		power = power*10 + int(c-'0')
	}
	if text[e+1] == '-' {
		power = -power
	}
	if e == 1 {
		return text[:1], power
	}
	return append(text[:1], text[2:e]...), power
}

// appendPlain prints digits without an exponent, the first one having this power of ten.
func appendPlain(b, digits []byte, power int) []byte {
	if power < 0 {
		b = append(b, "0."...)
		b = appendZeros(b, -power-1)
		return append(b, digits...)
	}
	whole := min(power+1, len(digits))
	b = append(b, digits[:whole]...)
	if whole == len(digits) {
		return appendZeros(b, power+1-whole)
	}
	b = append(b, '.')
	return append(b, digits[whole:]...)
}

func appendZeros(b []byte, n int) []byte {
	for range n {
		b = append(b, '0')
	}
	return b
}

// Grouped returns a number, 0 or more, with its thousands apart: "20 000".
func Grouped(n int) string {
	if n < 1000 {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%s %03d", Grouped(n/1000), n%1000)
}

// Counted returns a number of things in words: "1 fault", "2 faults". What is a noun whose
// plural adds an s.
func Counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return strconv.Itoa(n) + " " + what + "s"
}
