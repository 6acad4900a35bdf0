package quantity

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// A step is read in grains: whole minutes of "12 h" and "24 h", seconds of "60 min", tenths
// of a second of "60 s", so that each mark stands at a time that can be written.
var (
	grainsOf = map[float64]int{720: 720, 1440: 1440, 3600: 3600, 60: 600}
	unitsOf  = map[float64]map[string]float64{720: {"h": 60, "min": 1}, 1440: {"h": 60, "min": 1}, 3600: {"min": 60, "s": 1}, 60: {"s": 10}}
)

// ParseTicks reads how far the marks of a dial stand apart, "15 min, 1 h, 3 h", the short,
// the middle and the long ones, and returns into how many parts each kind divides the
// whole: 48, 12, 4 of "12 h". The long ones are among the middle ones, and these among the
// short ones. The error is an *Error.
func ParseTicks(text, shows string) (parts [3]int, err error) {
	f := faceOf(shows)
	fail := func(problem, remedy string) ([3]int, error) {
		return [3]int{}, &Error{Given: text, Problem: problem, Remedy: remedy}
	}
	written := strings.Split(text, ",")
	example := "write for example " + exampleTicks[f.parts]
	if len(written) != len(parts) {
		return fail("three kinds of marks are needed, "+strconv.Itoa(len(written))+" given", example+": short, middle, long")
	}
	for i, w := range written {
		grains, ok := f.step(w)
		whole := grainsOf[f.parts]
		switch {
		case !ok:
			return fail(quote(trim(w))+" is no time between marks", example)
		case grains < 1 || grains != math.Trunc(grains):
			return fail(quote(trim(w))+" is finer than a dial is marked", example)
		case grains > float64(whole) || whole%int(grains) != 0:
			return fail("marks every "+trim(w)+" do not come out even on this dial", example)
		}
		parts[i] = whole / int(grains)
		if i > 0 && parts[i-1]%parts[i] != 0 {
			return fail("marks every "+trim(w)+" are not among those every "+trim(written[i-1]), example)
		}
	}
	return parts, nil
}

// exampleTicks are marks that a dial usually has, by its whole in parts of its face: common
// practice, no source.
var exampleTicks = map[float64]string{720: "15 min, 1 h, 3 h", 1440: "30 min, 1 h, 6 h", 3600: "1 min, 5 min, 15 min", 60: "1 s, 5 s, 15 s"}

// DialGrains returns into how many parts a dial's whole is divided at most: minutes of
// "12 h" and "24 h", seconds of "60 min", tenths of a second of "60 s".
func DialGrains(shows string) int { return grainsOf[faceOf(shows).parts] }

// UsualTicks returns the marks that a dial usually has, as ParseTicks reads them.
func UsualTicks(shows string) string { return exampleTicks[faceOf(shows).parts] }

// step reads a time between marks in grains.
func (f face) step(text string) (grains float64, ok bool) {
	s := trim(text)
	digits := strings.TrimRight(s, "abcdefghijklmnopqrstuvwxyz \u00a0")
	n, err := strconv.ParseFloat(digits, 64)
	unit := unitsOf[f.parts][strings.Trim(s[len(digits):], " \u00a0")]
	if err != nil || unit == 0 || !(0 < n && n <= f.parts) {
		return 0, false
	}
	return math.Round(n*unit*1e9) / 1e9, true
}

// A Numeral is one of a dial: where it stands, a share of the whole, and its number.
type Numeral struct {
	Share  float64
	Number int
}

// ParseNumerals reads the numerals of a dial in their order along its scale, "12, 3, 6, 9,
// 12": hours of "12 h" and "24 h", minutes of "60 min", seconds of "60 s". The whole, 12,
// is the zero end where it stands first with another behind it, else the top. The error is
// an *Error.
func ParseNumerals(text, shows string) (numerals []Numeral, err error) {
	whole := DialNumbers(shows)
	example := "write for example " + exampleNumerals(whole)
	fail := func(problem, remedy string) ([]Numeral, error) {
		return nil, &Error{Given: text, Problem: problem, Remedy: remedy}
	}
	written := strings.Split(text, ",")
	for _, w := range written {
		n, notCount := ParseCount(w)
		switch {
		case notCount != nil:
			return fail(quote(trim(w))+" is no numeral of this dial", example+", \"all\" or \"none\"")
		case n < 0 || n > whole:
			return fail(strconv.Itoa(n)+" is not on this dial", "write 0 to "+strconv.Itoa(whole))
		}
		numerals = append(numerals, Numeral{float64(n) / float64(whole), n})
	}
	if len(numerals) > 1 && numerals[0].Number == whole {
		numerals[0].Share = 0
	}
	for i := 1; i < len(numerals); i++ {
		if numerals[i].Share <= numerals[i-1].Share {
			return fail(trim(written[i])+" does not stand behind "+trim(written[i-1]), "write them as they follow along the scale, "+exampleNumerals(whole))
		}
	}
	return numerals, nil
}

// DialNumbers returns what the numerals of a dial count to: 12 and 24 hours, 60 minutes or
// seconds.
func DialNumbers(shows string) int {
	switch faceOf(shows).parts {
	case 720:
		return 12
	case 1440:
		return 24
	}
	return 60
}

// exampleNumerals are those of the quarters.
func exampleNumerals(whole int) string {
	var quarters []string
	for k := range 5 {
		quarters = append(quarters, strconv.Itoa(whole*k/4))
	}
	quarters[0] = strconv.Itoa(whole)
	return strings.Join(quarters, ", ")
}

// ExactDial prints the time of a mark of a dial, a share of its whole, as ParseDial reads
// it: to the minute of "12 h" and "24 h", to the second of "60 min", to a tenth of a second of "60 s".
func ExactDial(share float64, shows string) string {
	f := faceOf(shows)
	if f.pairs {
		return f.format(share * f.parts)
	}
	return strconv.FormatFloat(math.Round(share*f.parts*10)/10, 'f', -1, 64)
}

// IsDialWord says whether a text stands for no list of numerals but for all or none of them.
func IsDialWord(text string) bool { return slices.Contains([]string{"all", "none"}, trim(text)) }
