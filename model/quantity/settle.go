package quantity

import "strings"

// Complete returns what was typed as it is to stand in a file: with the unit that it was
// meant in, as that is printed ("101 Ω" of "101 ohms"), and, where it has no tolerance, with
// that of the text that it was typed over: "700" over "640 Ω ±1 %" is "700 Ω ±1 %". It reads
// as what was typed did. A tolerance of 0 drops what was there. What cannot be read, and a
// tolerance that would reach below zero, is left as it is.
func Complete(typed, before string, u Unit) string {
	number, tolerance, marked := cutTolerance(typed)
	v, err := Parse(typed, u)
	if err != nil {
		return typed
	}
	text := withUnit(number, u)
	switch {
	case marked && v.Tolerance == 0:
		return text
	case marked:
		return text + " ±" + withUnit(tolerance, u)
	}
	_, kept, had := cutTolerance(before)
	if !had {
		return text
	}
	with := text + " ±" + withUnit(kept, u)
	if v, err = Parse(with, u); err != nil || v.Tolerance == 0 || v.Number >= 0 && v.Number-v.Half() < 0 {
		return text
	}
	return with
}

// Tolerance returns what a text gives as the tolerance of its number, as written; ok is
// false where it gives none. "±0" is one.
func Tolerance(text string) (tolerance string, ok bool) {
	_, tolerance, ok = cutTolerance(text)
	return trim(tolerance), ok
}

// withUnit returns a number with the unit it is meant in, as that is printed: "µA" of "uA"
// and of "microamps". Digits stay as they are, and so does a letter for the decimal sign or
// for a prefix alone: "4k7", "10k". What cannot be read is left as it is.
func withUnit(number string, u Unit) string {
	number = trim(number)
	a, problem := scan(number, &kinds[u.kind])
	if problem != nil {
		return number
	}
	symbol := u.symbolOf(a)
	if symbol == a.said {
		return number
	}
	rest, _ := (&amount{}).scanNumber(number, &kinds[u.kind])
	return trim(strings.TrimSuffix(number, rest)) + separator(u.kind) + symbol
}

// symbolOf returns the unit that an amount is meant in, as it is printed.
func (u Unit) symbolOf(a amount) string {
	r := &kinds[u.kind]
	power, by, found := r.lookup(a.unit)
	switch {
	case a.bare():
		return u.Symbol()
	case !found: // a tolerance in %
		return a.unit
	case a.coded && a.unit == "", isPrefix(a.said) && !r.spells(a.said):
		return a.said
	case by != same:
		return by.symbol
	}
	return Unit{u.kind, int8(power - r.power)}.Symbol()
}

// Marking returns what three digits alone would be if they had been read off a part: two
// digits and how many zeros follow, of ohms on a resistor and of picofarads on a
// capacitor, as in IEC 60062: "104" is 100 nF, 0.1 µF. ok is false for all other text and
// units.
func Marking(text string, u Unit) (meant string, ok bool) {
	text = trim(text)
	if len(text) != 3 || countDigits(text) != 3 || text[0] == '0' || text[2] > '7' {
		return "", false
	}
	own := map[kind]Unit{resistance: Ohms, capacitance: Picofarads}
	of, ok := own[u.kind]
	if !ok {
		return "", false
	}
	v, err := Parse(text[:2]+"e"+text[2:], of)
	return Format(v, u), err == nil
}

// Thousands returns a text whose commas stand where thousands separators would with the
// digits together: "1,200 Ω" is "1200 Ω". A comma alone is read as the decimal sign.
func Thousands(text string) (meant string, ok bool) {
	s := trim(text)
	size := countDigits(s)
	if size < 1 || size > 3 || s[0] == '0' {
		return "", false
	}
	meant, s = s[:size], s[size:]
	for strings.HasPrefix(s, ",") {
		if s = s[1:]; countDigits(s) != 3 {
			return "", false
		}
		meant, s, ok = meant+s[:3], s[3:], true
	}
	return meant + s, ok
}

// Comma says what a text is whose comma may have been meant to part thousands, without a
// tolerance: "1,200 Ω is 1.2 Ω: the comma is the decimal sign". A bare number is in u. It is
// "" of any other text, and of what cannot be read.
func Comma(text string, u Unit) string {
	number, _, _ := cutTolerance(text)
	v, err := Parse(number, u)
	if _, ok := Thousands(number); !ok || err != nil {
		return ""
	}
	return withUnit(number, u) + " is " + Format(v, u) + ": the comma is the decimal sign"
}
