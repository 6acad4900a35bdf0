package quantity

import (
	"strconv"
	"strings"
)

// amount is one number and what follows it, as typed.
type amount struct {
	digits []byte // sign, digits and '.', as strconv reads them
	power  int    // power of ten: the exponent, or what the letter in place of the decimal point means
	signed bool
	coded  bool   // a letter stood for the decimal point
	unit   string // the symbol of what follows
	said   string // what follows as it was typed, without spaces: "kilohms" of "kΩ"
}

// bare reports that the number stands alone, so that the field's own unit is meant.
func (a amount) bare() bool { return a.unit == "" && !a.coded }

// scan splits text into a number and a unit, and refuses what only looks like one.
func scan(text string, r *row) (amount, *Error) {
	s := trim(text)
	if s == "" {
		return amount{}, &Error{Problem: "nothing is written here", Remedy: "write " + r.example}
	}
	a := amount{digits: make([]byte, 0, 32)}
	rest, problem := a.scanNumber(s, r)
	if problem != nil {
		return amount{}, problem
	}
	a.said = withoutSpaces(rest)
	var named bool
	if a.unit, named = symbolFor(a.said); named {
		return a, nil
	}
	a.unit = a.said
	if problem = a.checkRest(rest, r); problem != nil {
		return amount{}, problem
	}
	return a, nil
}

// scanNumber takes sign, digits and exponent from s and returns the rest.
func (a *amount) scanNumber(s string, r *row) (rest string, problem *Error) {
	rest, pointed, found := a.scanDigits(s, r)
	if !found {
		return s, &Error{Problem: quote(s) + " is not a number", Remedy: "write " + r.example}
	}
	if a.coded {
		return rest, nil
	}
	rest, raised, problem := a.scanExponent(rest)
	_, letter := r.pointLetter(rest)
	switch {
	case problem != nil:
		return rest, problem
	case pointed && !raised && startsWithPoint(rest):
		return rest, &Error{Problem: "there are two decimal signs in " + quote(s),
			Remedy: "write one '.' or ',' before the decimals and nothing between thousands, as in 1234.5"}
	case raised && startsWithPoint(rest):
		return rest, tooMany(rest[:1], r)
	case (pointed || raised) && letter > 0:
		return rest, tooMany(rest[:letter], r)
	}
	return rest, nil
}

// scanDigits takes sign and digits, with a decimal sign or a letter in its place, from s.
func (a *amount) scanDigits(s string, r *row) (rest string, pointed, found bool) {
	negative, s, signed := cutSign(s)
	if a.signed = signed; negative {
		a.digits = append(a.digits, '-')
	}
	s = trim(s)
	whole := countDigits(s)
	a.digits, rest = append(a.digits, s[:whole]...), s[whole:]
	power, size := r.pointLetter(rest)
	if a.coded = size > 0; a.coded {
		a.power = power
	} else if pointed = startsWithPoint(rest); pointed {
		size = 1
	} else {
		return rest, false, whole > 0
	}
	rest = rest[size:]
	fraction := countDigits(rest)
	a.digits = append(append(a.digits, '.'), rest[:fraction]...)
	return rest[fraction:], pointed, whole+fraction > 0
}

// scanExponent takes an exponent from the start of s; without digits it is left there as a unit, or refused.
func (a *amount) scanExponent(s string) (rest string, found bool, problem *Error) {
	if s == "" || (s[0] != 'e' && s[0] != 'E') {
		return s, false, nil
	}
	negative, rest, _ := cutSign(s[1:])
	size := countDigits(rest)
	if size == 0 && trim(rest) == "" {
		return s, false, &Error{Problem: "the exponent has no digits", Remedy: "write it as in 1e-3, or leave the e out"}
	}
	if size == 0 {
		return s, false, nil
	}
	const beyond = 10_000 // past every float64; strconv then says so
	for _, digit := range []byte(rest[:size]) {
		a.power = min(a.power*10+int(digit-'0'), beyond)
	}
	if negative {
		a.power = -a.power
	}
	return rest[size:], true, nil
}

// checkRest refuses what follows the number and cannot be a unit, each with its own remedy.
func (a *amount) checkRest(rest string, r *row) *Error {
	rest = trim(rest)
	_, raised, _ := (&amount{}).scanExponent(rest)
	switch {
	case a.coded && (raised || startsWithPoint(rest)):
		return tooMany(rest[:1], r)
	case goesOn(rest):
		return digitsApart()
	case raised:
		return &Error{Problem: "the exponent stands apart from its number", Remedy: "write it without a space, as in 1e-3"}
	case strings.ContainsAny(rest, "+-\u2212"):
		return &Error{Problem: "only a symmetric tolerance is understood, the same up and down", Remedy: "write it as in ±5 %"}
	}
	return nil
}

func tooMany(sign string, r *row) *Error {
	return &Error{Problem: quote(sign) + " is a decimal sign or exponent too many", Remedy: "write " + r.example}
}

// goesOn reports that what follows a number's digits is more digits, after a space, '_' or an apostrophe.
func goesOn(rest string) bool {
	if rest != "" && (rest[0] == '_' || rest[0] == '\'') {
		rest = rest[1:]
	}
	return countDigits(rest) > 0
}

func digitsApart() *Error {
	return &Error{Problem: "digits are written together, with nothing between them", Remedy: "write 32768, not 32 768"}
}

// number returns the amount in the base unit. Its digits and powers of ten are rounded once.
func (a amount) number(power int, by conversion, r *row) (float64, *Error) {
	text := strconv.AppendInt(append(a.digits, 'e'), int64(a.power+power), 10)
	typed, err := strconv.ParseFloat(string(text), 64)
	x := typed * by.times / by.per
	if err != nil || !finite(x) {
		return 0, &Error{Problem: "the number is too large to compute with", Remedy: "write " + r.example}
	}
	if x == 0 && strings.ContainsAny(string(a.digits), "123456789") {
		return 0, &Error{Problem: "the number is too small to tell from zero", Remedy: "write 0, or a number that can be measured"}
	}
	if by.zero != 0 {
		x = (typed - by.zero) * by.times / by.per
	}
	return x, nil
}

// cutSign takes one of the three signs from the start of s.
func cutSign(s string) (negative bool, rest string, signed bool) {
	if rest, found := strings.CutPrefix(s, "-"); found {
		return true, rest, true
	}
	if rest, found := strings.CutPrefix(s, "\u2212"); found {
		return true, rest, true
	}
	rest, signed = strings.CutPrefix(s, "+")
	return false, rest, signed
}

func countDigits(s string) int {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n
}

func startsWithPoint(s string) bool { return s != "" && (s[0] == '.' || s[0] == ',') }

func isDigit(c byte) bool { return '0' <= c && c <= '9' }

// isSpace knows the spaces that typists and word processors put between a number and its unit.
func isSpace(c rune) bool { return c == ' ' || c == '\u00a0' || c == '\u2009' || c == '\u202f' }

func trim(s string) string { return strings.TrimFunc(s, isSpace) }

// withoutSpaces removes the spaces before a unit, and inside one ("4.7 k Ω").
func withoutSpaces(s string) string {
	s = trim(s) // most have no others
	if !strings.ContainsAny(s, " \u00a0\u2009\u202f") {
		return s
	}
	return spaces.Replace(s)
}

var spaces = strings.NewReplacer(" ", "", "\u00a0", "", "\u2009", "", "\u202f", "")
