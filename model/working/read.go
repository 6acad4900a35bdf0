package working

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A sum is what a calculator makes of a printed expression: the number, and by how much a
// calculator of 16 digits may be off it.
type sum struct{ x, off float64 }

const hair = 0x1p-52 // of a number, what one more step of a calculator may be off

func exactly(x float64) sum { return sum{x, math.Abs(x) * hair} }

func (s sum) rounded() sum {
	if math.IsInf(s.x, 0) {
		return s
	}
	s.off += math.Abs(s.x) * hair
	return s
}

// Read computes a printed expression, or a single number, from what is printed alone, in SI
// units; % is 0.01 and ppm 0.000001, other units that have no prefix are themselves.
func Read(text string) (float64, error) {
	s, err := compute(text)
	return s.x, err
}

func compute(text string) (s sum, err error) {
	l := line{text}
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("%s: %v before %q", text, trouble, l.rest)
		}
	}()
	s = l.sum()
	if l.skip(); len(l.rest) > 0 {
		return s, errors.New(text + ": something is left over: " + l.rest)
	}
	return s, nil
}

// A line is a printed expression being read.
type line struct{ rest string }

func (l *line) skip() { l.rest = strings.TrimLeft(l.rest, " ") }

// take eats a text if it is next.
func (l *line) take(text string) bool {
	l.skip()
	rest, ok := strings.CutPrefix(l.rest, text)
	l.rest = rest
	return ok
}

func (l *line) must(text string) {
	if !l.take(text) {
		panic("no " + text)
	}
}

func (l *line) sum() sum {
	s := l.product()
	for {
		switch {
		case l.take("+"):
			t := l.product()
			s = sum{s.x + t.x, s.off + t.off}.rounded()
		case l.take("−"):
			t := l.product()
			s = sum{s.x - t.x, s.off + t.off}.rounded()
		default:
			return s
		}
	}
}

func (l *line) product() sum {
	s := l.power()
	for {
		switch {
		case l.take("×"):
			s = times(s, l.power())
		case l.take("/"):
			s = over(s, l.power())
		case l.take("∥"):
			t := l.power()
			s = over(times(s, t), sum{s.x + t.x, s.off + t.off}.rounded())
		default:
			return s
		}
	}
}

func times(s, t sum) sum {
	return sum{s.x * t.x, math.Abs(s.x)*t.off + math.Abs(t.x)*s.off}.rounded()
}

func over(s, t sum) sum {
	if math.IsInf(t.x, 0) {
		return sum{s.x / t.x, 0}
	}
	return sum{s.x / t.x, (s.off + math.Abs(s.x/t.x)*t.off) / math.Abs(t.x)}.rounded()
}

func (l *line) power() sum {
	s := l.atom()
	if !l.take("^") {
		return s
	}
	n := l.power()
	x := math.Pow(s.x, n.x)
	off := math.Abs(n.x * math.Pow(s.x, n.x-1) * s.off)
	if n.off > 0 && n.x != math.Trunc(n.x) {
		off += math.Abs(x*math.Log(s.x)) * n.off
	}
	return sum{x, off}.rounded()
}

func exponential(s sum) sum {
	e := math.Exp(s.x)
	if math.IsInf(e, 1) { // its inverse is nothing, to all digits
		return sum{e, 0}
	}
	return sum{e, e * s.off}
}

// functions are what a line may call by name.
var functions = []struct {
	name string
	of   func(s sum) sum
}{
	{"√(", func(s sum) sum { r := math.Sqrt(s.x); return sum{r, s.off / max(2*r, math.Sqrt(s.off))} }},
	{"ln(", func(s sum) sum { return sum{math.Log(s.x), math.Abs(s.off / s.x)} }},
	{"exp(", exponential},
	{"cos(", func(s sum) sum { return sum{math.Cos(s.x), s.off} }},
}

func (l *line) atom() sum {
	if l.skip(); l.rest != "" && (l.rest[0] >= '0' && l.rest[0] <= '9') {
		return l.number()
	}
	for _, f := range functions {
		if l.take(f.name) {
			s := l.sum()
			l.must(")")
			return f.of(s).rounded()
		}
	}
	switch {
	case l.take("("):
		s := l.sum()
		l.must(")")
		return s
	case l.take("|"):
		s := l.sum()
		l.must("|")
		return sum{math.Abs(s.x), s.off}
	case l.take("⌊"):
		s := l.sum()
		l.must("⌋")
		return sum{math.Floor(s.x), 0}
	case l.take("max("):
		return l.pick(func(a, b float64) bool { return a >= b })
	case l.take("min("):
		return l.pick(func(a, b float64) bool { return a <= b })
	case l.take("π"):
		return exactly(math.Pi)
	}
	return l.number()
}

// pick is the larger or the smaller of two.
func (l *line) pick(first func(a, b float64) bool) sum {
	s := l.sum()
	l.must(",")
	t := l.sum()
	l.must(")")
	if first(s.x, t.x) {
		return s
	}
	return t
}

// number reads a number with its unit, if it has one.
func (l *line) number() sum {
	n := 0
	for n < len(l.rest) && (l.rest[n] >= '0' && l.rest[n] <= '9' || l.rest[n] == '.' || l.rest[n] == '-' && (n == 0 || l.rest[n-1] == 'e') || l.rest[n] == 'e' && n > 0) {
		n++
	}
	x, err := strconv.ParseFloat(l.rest[:n], 64)
	if err != nil {
		panic("no number")
	}
	l.rest = l.rest[n:]
	return times(exactly(x), sum{factor(l.unit()), 0})
}

// unit eats a unit, after a space or at once: letters, and / between letters.
func (l *line) unit() string {
	rest := strings.TrimPrefix(l.rest, " ")
	n := 0
	for at, c := range rest {
		if !isUnit(c) && !(c == '/' && at > 0 && startsUnit(rest[at+1:])) {
			break
		}
		n = at + utf8.RuneLen(c)
	}
	if n > 0 {
		l.rest = rest[n:]
	}
	return rest[:n]
}

// startsUnit says whether a text begins with a letter of a unit.
func startsUnit(text string) bool {
	c, _ := utf8.DecodeRuneInString(text)
	return c != utf8.RuneError && isUnit(c)
}

// isUnit says whether a character is of a unit.
func isUnit(c rune) bool { return c != 'π' && unicode.IsLetter(c) || strings.ContainsRune("%°²", c) }

// factor is how much one of a printed unit is in SI units.
func factor(unit string) float64 {
	over, under, ratio := strings.Cut(unit, "/")
	if ratio {
		return factor(over) / factor(under)
	}
	switch unit {
	case "":
		return 1
	case "%":
		return 0.01
	case "ppm":
		return 1e-6
	case "min", "h", "Hz", "m": // no prefix
		return 1
	}
	letter, size := utf8.DecodeRuneInString(unit)
	if size == len(unit) {
		return 1
	}
	switch letter {
	case 'f':
		return 1e-15
	case 'p':
		return 1e-12
	case 'n':
		return 1e-9
	case 'µ':
		return 1e-6
	case 'm':
		return 1e-3
	case 'k':
		return 1e3
	case 'M':
		return 1e6
	case 'G':
		return 1e9
	}
	return 1
}

// lastDigit is how much one of the last digit of a printed number is, in SI units.
func lastDigit(text string) float64 {
	number, unit, _ := strings.Cut(strings.TrimSpace(text), " ")
	number, exponent, _ := strings.Cut(number, "e")
	_, decimals, _ := strings.Cut(number, ".")
	power, _ := strconv.Atoi(exponent)
	return math.Pow10(power-len(decimals)) * factor(unit)
}
