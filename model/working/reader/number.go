package reader

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// units are those that take a prefix, in SI; an Ah is in ampere hours.
var units = map[string]float64{"V": 1, "A": 1, "Ω": 1, "W": 1, "F": 1, "Hz": 1, "s": 1, "S": 1, "H": 1, "J": 1, "C": 1, "m": 1, "Ah": 1, "Wh": 1}

// bare are those that take none.
var bare = map[string]float64{"1": 1, "%": 1e-2, "ppm": 1e-6, "min": 60, "h": 1, "a": 1, "day": 1, "K": 1, "°C": 1, "°": math.Pi / 180}

// prefixes are those of the SI.
var prefixes = map[string]float64{"f": 1e-15, "p": 1e-12, "n": 1e-9, "µ": 1e-6, "m": 1e-3, "k": 1e3, "M": 1e6, "G": 1e9}

// inside finds the numbers in an expression.
var inside = regexp.MustCompile(number)

const number = `(-?\d+(?:\.(\d+))?(?:e([-+]?\d+))?)(?: ([%°A-Za-zΩµ]+(?:/[A-Za-z]+²?)?))?`

var quantity = regexp.MustCompile("^" + number)

// Number reads a number with its unit, "8.685 kΩ": its value in SI units, and half a
// unit of its last digit.
func Number(text string) (value, half float64, err error) {
	value, half, length, err := leading(text)
	if err == nil && length != len(text) {
		err = fmt.Errorf("%q is not a number with a unit", text)
	}
	return value, half, err
}

// leading reads the number that a text begins with.
func leading(text string) (value, half float64, length int, err error) {
	m := quantity.FindStringSubmatch(text)
	if m == nil {
		return 0, 0, 0, fmt.Errorf("no number at %q", text)
	}
	if value, err = strconv.ParseFloat(m[1], 64); err != nil {
		return 0, 0, 0, err
	}
	size, err := Size(m[4])
	exponent, _ := strconv.Atoi(m[3])
	return value * size, math.Pow10(exponent-len(m[2])) / 2 * math.Abs(size), len(m[0]), err
}

// Size is what a unit is in SI units, "kΩ" 1000, "ppm/pF" 1e6; "" is 1.
func Size(unit string) (float64, error) {
	if unit == "" {
		return 1, nil
	}
	over, under, divided := strings.Cut(unit, "/")
	size, err := single(over)
	if err != nil || !divided {
		return size, err
	}
	by, err := single(strings.TrimSuffix(under, "²"))
	if strings.HasSuffix(under, "²") {
		by *= by
	}
	return size / by, err
}

func single(unit string) (float64, error) {
	for _, table := range []map[string]float64{bare, units} {
		if size, ok := table[unit]; ok {
			return size, nil
		}
	}
	for prefix, by := range prefixes {
		if size, ok := units[strings.TrimPrefix(unit, prefix)]; ok && strings.HasPrefix(unit, prefix) {
			return by * size, nil
		}
	}
	return 0, fmt.Errorf("no unit %q", unit)
}

var (
	hours   = regexp.MustCompile(`\d (?:[a-zµ]?[AW]?h|%/a|a)(?:[ )^|,]|$)`)
	seconds = regexp.MustCompile(`\d (?:[a-zµ]?s|min|[kM]?Hz|%/s)(?:[ )^|,]|$)`)
)

// mixed tells whether an expression has both hours and seconds, which no calculator
// would take for one another.
func mixed(expression string) bool {
	return hours.MatchString(expression) && seconds.MatchString(expression)
}
