package quantity

import (
	"math"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"
)

// What Parse accepts, Format prints and Parse reads back as the same Value, bit for bit, in every unit; what it
// refuses, it refuses with Given as typed and a printable message.
func FuzzParse(f *testing.F) {
	for _, c := range readable {
		f.Add(c.text)
	}
	for _, c := range unreadable {
		f.Add(c.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, u := range units {
			v, err := Parse(text, u)
			if err != nil {
				checkRefusal(t, err.(*Error), text)
				continue
			}
			printed := Format(v, u)
			again, err := Parse(printed, u)
			if err != nil {
				t.Fatalf("%q in %q printed as %q: %v", text, u.Symbol(), printed, err)
			}
			if math.Float64bits(again.Number) != math.Float64bits(v.Number) || again.Half() != v.Half() || again.Share != v.Share {
				t.Fatalf("%q in %q is %v, printed as %q, read back as %v", text, u.Symbol(), v, printed, again)
			}
			if v.Half() < 0 || v.Share && (u == Percent || u == Celsius) || math.IsInf(v.Number, 0) || !v.Given() {
				t.Fatalf("%q in %q gave %v", text, u.Symbol(), v)
			}
		}
	})
}

// ParseCount accepts only what Parse reads as the same whole number.
func FuzzParseCount(f *testing.F) {
	for _, text := range []string{"32768", "-3", "\u22123", "+5", "4.7", "1e3", "32 768", "5 %", "3 ±1", "", "- 7 "} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ParseCount(text)
		if err != nil {
			checkRefusal(t, err.(*Error), text)
			return
		}
		if v, err := Parse(text, Times); err != nil || v.Number != float64(n) {
			t.Fatalf("%q counted as %d, read as %v, %v", text, n, v.Number, err)
		}
	})
}

func checkRefusal(t *testing.T, problem *Error, text string) {
	if problem.Given != text || problem.Problem == "" || problem.Remedy == "" {
		t.Fatalf("%q refused with %+v", text, problem)
	}
	unprintable := func(c rune) bool { return !unicode.IsPrint(c) }
	if message := problem.Error(); !utf8.ValidString(message) || strings.ContainsFunc(message, unprintable) {
		t.Fatalf("%q refused with %q", text, message)
	}
}
