package working

import (
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model/quantity"
)

// Digits of printed answers.
const (
	fewest = 4  // that the answer of a working has
	usual  = 5  // that answers have where more are not needed
	most   = 15 // that a calculator has
)

// answer prints what a line comes to, in so many digits or as many more as it takes for
// every calculator to round it alike; fewer where it has no more. One that has few is printed
// with all of them, and with at least so many.
func answer(s sum, u quantity.Unit, digits, few, least int) string {
	if s.x == 0 || math.Abs(s.x) <= s.off {
		return show(0, u, 1)
	}
	for k := 1; k <= min(few, surely); k++ { // as it is, where it has so few
		if rounded := round(s.x, k); math.Abs(rounded-s.x) <= 8*hair*math.Abs(s.x) && s.off < 1e-9*math.Abs(s.x) {
			return show(rounded, u, max(k, least))
		}
	}
	for k := digits; k < most; k++ {
		if text := show(s.x, u, k); isClear(s, k) && isWritten(text, s.x) {
			return text
		}
	}
	for k := min(digits, most); k > 1; k-- {
		if text := show(s.x, u, k); isClear(s, k) && isWritten(text, s.x) {
			return text
		}
	}
	return show(s.x, u, most)
}

// surely is how many digits of a number are beyond what 16 digits can get wrong.
const surely = 12

// isWritten says whether a printed number tells one to its last printed digit: zeros that only
// stand in for digits do not.
func isWritten(text string, x float64) bool {
	y, err := Read(text)
	return err == nil && math.Abs(y-x) <= lastDigit(text)/2*(1+1e-9)+4*hair*math.Abs(x)
}

// scale is how much one of what numbers in a unit are kept in is to a calculator: of ppm a
// millionth.
func scale(u quantity.Unit) float64 { return factor(u.Base()) }

// show is quantity.Show of a calculator's number.
func show(x float64, u quantity.Unit, digits int) string {
	text := quantity.Show(x/scale(u), u, digits)
	number, unit, spaced := strings.Cut(text, " ")
	if whole, _, _ := strings.Cut(number, "."); len(whole) <= longest || strings.ContainsRune(number, 'e') {
		return text
	}
	number = strconv.FormatFloat(x/factor(unit), 'e', digits-1, 64)
	mantissa, power, _ := strings.Cut(number, "e+")
	text = mantissa + "e" + strings.TrimLeft(power, "0")
	if spaced {
		text += " " + unit
	}
	return text
}

// longest is how many figures stand before the decimal sign; what has more is written with a
// power of ten.
const longest = 9

// isClear says whether a number is so far from the middle between two of so many digits that
// every calculator rounds it alike.
func isClear(s sum, digits int) bool {
	unit := math.Pow10(int(math.Floor(math.Log10(math.Abs(s.x)))) - digits + 1)
	_, rest := math.Modf(math.Abs(s.x) / unit)
	return math.Abs(rest-0.5) > 0.02+2*s.off/unit && s.off < 0.05*unit
}

// round is a number in so many digits.
func round(x float64, digits int) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
	return y
}

// digitsOf counts the digits of a printed number, from the first that is not 0 on.
func digitsOf(text string) int {
	number, _, _ := strings.Cut(text, " ")
	number, _, _ = strings.Cut(number, "e")
	number = strings.TrimLeft(strings.ReplaceAll(number, ".", ""), "-0")
	return len(strings.Trim(number, "%°"))
}

// tells says whether a printed answer is a value to all its digits; what is nearer to 0 than
// rounding is 0.
func tells(text string, value, rounding float64) bool {
	x, err := Read(text)
	if err != nil {
		return false
	}
	if x == 0 {
		return math.Abs(value) <= rounding
	}
	rounding *= 1e-3
	last := lastDigit(text)
	return math.Abs(x-value) <= last/2+rounding+8*hair*math.Abs(value)
}
