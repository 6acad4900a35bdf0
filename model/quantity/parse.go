package quantity

import (
	"fmt"
	"strconv"
	"strings"
)

// Parse reads a number with an optional unit and an optional symmetric tolerance, as a person types them.
// A bare number is in u. The Value is in u's Base; the error is an *Error. Whether the number makes sense
// for its field (a negative resistance) is for the caller to judge.
// Codes with a letter for the decimal point (4k7) after IEC 60062.
func Parse(text string, u Unit) (Value, error) {
	v, problem := parse(text, u)
	if problem != nil {
		problem.Given = text
		return Absent(), problem
	}
	return v, nil
}

// ParsePlain reads like Parse where no tolerance has a meaning: in table and curve cells.
func ParsePlain(text string, u Unit) (Value, error) {
	if _, _, marked := cutTolerance(text); marked {
		return Absent(), &Error{Given: text, Problem: "no tolerance can be given here", Remedy: "leave out the ± and what follows it"}
	}
	return Parse(text, u)
}

// ParseCount reads a whole number, with or without a sign. The error is an *Error.
func ParseCount(text string) (int, error) {
	n, problem := parseCount(trim(text))
	if problem != nil {
		problem.Given = text
		return 0, problem
	}
	return n, nil
}

func parseCount(s string) (int, *Error) {
	const example = "write a whole number, for example 256"
	if s == "" {
		return 0, &Error{Problem: "nothing is written here", Remedy: example}
	}
	negative, rest, _ := cutSign(s)
	size := countDigits(trim(rest))
	digits, rest := trim(rest)[:size], trim(trim(rest)[size:])
	if negative {
		digits = "-" + digits
	}
	switch {
	case size == 0 || rest != "" && strings.IndexByte(".,eE", rest[0]) >= 0:
		return 0, &Error{Problem: quote(s) + " is not a whole number", Remedy: example}
	case goesOn(rest):
		return 0, digitsApart()
	case strings.ContainsAny(rest, "±+-\u2212"):
		return 0, &Error{Problem: "a count has no tolerance", Remedy: "write " + short(digits) + " alone"}
	case rest != "":
		return 0, &Error{Problem: "a count has no unit or prefix", Remedy: "write digits alone, for example 256"}
	}
	n, err := strconv.Atoi(digits)
	if err != nil {
		return 0, &Error{Problem: "the number is too large to compute with", Remedy: example}
	}
	return n, nil
}

func parse(text string, u Unit) (Value, *Error) {
	number, tolerance, marked := cutTolerance(text)
	r := &kinds[u.kind]
	if marked && trim(number) == "" {
		return Value{}, &Error{Problem: "there is no value before the tolerance", Remedy: "write the value first, for example " + r.example}
	}
	a, problem := scan(number, r)
	if problem != nil {
		return Value{}, problem
	}
	x, problem := u.inBase(a)
	if problem != nil || !marked {
		return Value{Number: x}, problem
	}
	half, share, problem := parseTolerance(tolerance, a, u)
	return Value{Number: x, Tolerance: half, Share: share && half > 0}, problem
}

// parseTolerance reads what stands after the tolerance mark of a value.
func parseTolerance(text string, of amount, u Unit) (half float64, share bool, problem *Error) {
	r := &kinds[u.kind]
	tolerances := func(digits string) string { return u.tolerances(digits, r.toleranceUnit(of, u)) }
	if trim(text) == "" {
		return 0, false, &Error{Problem: "there is nothing after the tolerance mark", Remedy: "write " + tolerances("5") + ", or leave the mark out"}
	}
	if _, _, again := cutTolerance(text); again {
		return 0, false, &Error{Problem: "there are two tolerance marks", Remedy: "write one tolerance, the same up and down"}
	}
	a, problem := scan(text, r)
	if problem != nil {
		return 0, false, problem
	}
	digits := short(strings.TrimPrefix(string(a.digits), "-"))
	switch {
	case a.signed:
		problem = &Error{Problem: "a tolerance goes both ways and has no sign of its own", Remedy: "write " + tolerances(digits)}
	case a.unit == "%" && u.kind == celsius:
		problem = &Error{Problem: "a temperature has no tolerance in %", Remedy: "write it in degrees: " + tolerances(digits)}
	case a.unit == "%" && u.kind != percent && !a.coded:
		half, problem = a.number(kinds[percent].power, same, r)
		return half, true, problem
	case a.bare() && !of.bare():
		problem = &Error{Problem: "a tolerance needs its unit", Remedy: "write " + tolerances(digits)}
	default:
		half, problem = u.differenceInBase(a)
	}
	return half, false, problem
}

// toleranceUnit is the unit that a tolerance is proposed in: of a temperature the value's own.
func (r *row) toleranceUnit(of amount, u Unit) string {
	if _, by, found := r.lookup(of.unit); found && by.zero != 0 {
		return by.symbol
	}
	return u.Symbol()
}

// tolerances names the ways to write a tolerance of so many digits on a value in u.
func (u Unit) tolerances(digits, symbol string) string {
	absolute := "±" + digits + separator(u.kind) + symbol
	if u.kind == percent || u.kind == celsius {
		return absolute
	}
	return "±" + digits + " % or " + absolute
}

// inBase returns the amount as a number in u's Base.
func (u Unit) inBase(a amount) (float64, *Error) {
	power, by, problem := u.means(a)
	if problem != nil {
		return 0, problem
	}
	return a.number(power, by, &kinds[u.kind])
}

// differenceInBase returns it where it is a difference, which is measured from no zero: 9 °F are 5 °C.
func (u Unit) differenceInBase(a amount) (float64, *Error) {
	power, by, problem := u.means(a)
	if problem != nil {
		return 0, problem
	}
	by.zero = 0
	return a.number(power, by, &kinds[u.kind])
}

// means says what the amount's unit means for u: its power of ten, and the conversion to apply after it.
func (u Unit) means(a amount) (power int, by conversion, problem *Error) {
	r := &kinds[u.kind]
	switch {
	case a.bare():
		return u.ownPower(), same, nil
	case a.coded && a.unit == "":
		return r.power, same, nil
	}
	power, by, found := r.lookup(a.unit)
	switch {
	case !found:
		return 0, same, u.unknown(a)
	case a.coded && !r.spells(a.unit):
		return 0, same, &Error{Problem: "the letter in place of the decimal sign is the prefix already, so " + quote(a.said) + " is too much", Remedy: "write " + r.example}
	}
	return power, by, nil
}

// unknown says why the amount's unit is none for u: capitals, another kind, or no unit at all.
func (u Unit) unknown(a amount) *Error {
	r, text := &kinds[u.kind], a.said
	if spellings := r.respell(a.unit); len(spellings) > 0 {
		return &Error{Problem: "capital and small letters matter in " + quote(text), Remedy: "write " + strings.Join(spellings, " or ")}
	}
	here := "this is in " + u.Symbol()
	if u.kind == plain {
		here = "this is a plain number"
	}
	problem := quote(text) + " is not a unit known here"
	noun := foreign(a.unit)
	switch noun {
	case "":
	case r.noun:
		problem = quote(text) + " is not used here; " + here
	default:
		problem = quote(text) + " is a unit of " + noun + "; " + here
	}
	return &Error{Problem: problem, Remedy: "write " + r.example, Measures: noun}
}

// cutTolerance splits text at its first tolerance mark: ±, +- or +/-.
func cutTolerance(text string) (value, tolerance string, marked bool) {
	for i := 0; i < len(text); i++ {
		rest, found := strings.CutPrefix(text[i:], "±")
		if !found && text[i] == '+' {
			if negative, after, _ := cutSign(strings.TrimPrefix(text[i+1:], "/")); negative {
				rest, found = after, true
			}
		}
		if found {
			return text[:i], rest, true
		}
	}
	return text, "", false
}

// MustParse reads a value of a table of ours, and panics where it cannot be read; "" is
// not given.
func MustParse(text string, u Unit) Value {
	if text == "" {
		return Absent()
	}
	v, err := Parse(text, u)
	if err != nil {
		panic(fmt.Sprintf("table: %q: %v", text, err))
	}
	return v
}

// MustParseCount does the same with a count; "" is 0.
func MustParseCount(text string) int {
	if text == "" {
		return 0
	}
	n, err := ParseCount(text)
	if err != nil {
		panic(fmt.Sprintf("table: %q: %v", text, err))
	}
	return n
}
