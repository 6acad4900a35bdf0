package quantity

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// A face says how the time of a dial is written: h:mm, mm:ss, or s where pairs is false.
type face struct {
	parts   float64 // of the whole: minutes, or seconds
	pairs   bool
	example string
}

// faces are those of the dials by what a hand shows.
var faces = map[string]face{
	"12 h":   {720, true, "5:53"},
	"24 h":   {1440, true, "17:53"},
	"60 min": {3600, true, "29:30"},
	"60 s":   {60, false, "29.5"},
}

// faceOf is that of a dial; twelve hours where it is not known.
func faceOf(shows string) face {
	if f, ok := faces[shows]; ok {
		return f
	}
	return faces["12 h"]
}

// ParseDial reads the time of a dial and returns its share of the whole, from 0 at the
// zero end to 1 at the top: h:mm of "12 h" and "24 h", mm:ss of "60 min", seconds of
// "60 s". The error is an *Error.
func ParseDial(text, shows string) (share float64, err error) {
	f := faceOf(shows)
	at, problem := f.parse(trim(text))
	if problem == nil && !(0 <= at && at <= f.parts) {
		problem = &Error{Problem: quote(trim(text)) + " is not on this dial", Remedy: "write " + f.format(0) + " to " + f.format(f.parts) + ", or a share, for example 102 %"}
	}
	if problem != nil {
		problem.Given = text
		return 0, problem
	}
	return at / f.parts, nil
}

// ParsePlace reads a place on a dial as a share of the scale, "49 %", from a quarter
// below it to a quarter beyond it, or as the time of ParseDial, and half of its last digit,
// a share of the scale too. The error is an *Error.
func ParsePlace(text, shows string) (place, half float64, err error) {
	f := faceOf(shows)
	written := trim(text)
	seconds, notSeconds := ParsePlain(written, Seconds)
	switch {
	case strings.Contains(written, ":"), !f.pairs && notSeconds == nil && seconds.Given():
		place, err = ParseDial(text, shows)
		return place, lastDigit(written) / 2 / f.parts, err
	case written != "" && strings.Trim(written, "+-\u22120123456789., ") == "":
		return 0, 0, &Error{Given: text, Problem: quote(written) + " may be a share or a time", Remedy: "write " + short(written) + " %, or a time of this dial, for example " + f.example}
	}
	v, err := ParsePlain(text, Percent)
	if err != nil {
		problem := err.(*Error)
		problem.Remedy = "write a share, for example 49 %, or a time of this dial, for example " + f.example
		return 0, 0, problem
	}
	const beyond = 0.25
	if v.Number < -beyond || v.Number > 1+beyond {
		return 0, 0, &Error{Given: text, Problem: quote(written) + " is far off the scale", Remedy: "write -25 % to 125 %"}
	}
	return v.Number, lastDigit(written) * Percent.Factor() / 2, nil
}

// FormatDial prints a share of a dial's whole, 0 to 1, as ParseDial reads it, rounded to
// the minute or, of "60 min" and "60 s", to the second. What is not finite prints as "–".
func FormatDial(share float64, shows string) string {
	f := faceOf(shows)
	if !finite(share) {
		return "–"
	}
	return f.format(share * f.parts)
}

func (f face) format(at float64) string {
	n := int(math.Round(at))
	if !f.pairs {
		return strconv.Itoa(n)
	}
	return fmt.Sprintf("%d:%02d", n/60, n%60)
}

// parse reads a time in parts of the face.
func (f face) parse(s string) (float64, *Error) {
	const pair = 2 // digits behind the colon
	if !f.pairs {
		if strings.Contains(s, ":") {
			return 0, &Error{Problem: quote(s) + " is not a time of a dial", Remedy: "write the seconds, for example " + f.example}
		}
		v, err := ParsePlain(s, Seconds)
		if err != nil {
			return 0, &Error{Problem: err.(*Error).Problem, Remedy: "write the seconds, for example " + f.example}
		}
		return v.Number, nil
	}
	first, second, colon := strings.Cut(s, ":")
	remedy := "write a time of this dial, for example " + f.example
	if n := countDigits(first); !colon || n == 0 || n > pair || n < len(first) || len(second) != pair || countDigits(second) != pair {
		return 0, &Error{Problem: quote(s) + " is not a time of a dial", Remedy: remedy}
	}
	a, _ := strconv.Atoi(first)
	b, _ := strconv.Atoi(second)
	if b > 59 {
		return 0, &Error{Problem: "there are 60 parts behind the colon, 00 to 59", Remedy: remedy}
	}
	return float64(60*a + b), nil
}

// lastDigit is what one of the last digit of a number means, in the number's own unit.
func lastDigit(written string) float64 {
	at := strings.IndexAny(written, ".,")
	if at < 0 {
		return 1
	}
	return math.Pow10(-countDigits(written[at+1:]))
}
