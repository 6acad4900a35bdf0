package quantity

import (
	"math"
	"math/big"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestFormatReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-1e6, 1e6), rapid.Float64Range(-1e-6, 1e-6)).Draw(t, "x")
		half := rapid.Float64Min(0).Draw(t, "half")
		for _, u := range units {
			text := Format(within(x, half), u)
			v, err := Parse(text, u)
			if err != nil || math.Float64bits(v.Number) != math.Float64bits(x) || v.Half() != half {
				t.Fatalf("%v ±%v in %q: %q read as %v, %v", x, half, u.Symbol(), text, v, err)
			}
		}
	})
}

func TestShowReadsBackRounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.OneOf(rapid.Float64Range(-1e300, 1e300), rapid.Float64Range(-1e4, 1e4), rapid.Float64Range(0, 1e-6)).Draw(t, "x")
		digits := rapid.IntRange(1, 17).Draw(t, "digits")
		// Independent: the standard library's rounding.
		want, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', digits-1, 64), 64)
		for _, u := range units {
			text := Show(x, u, digits)
			v, err := Parse(text, u)
			if err != nil || v.Number != want {
				t.Fatalf("%v in %q to %d digits: %q read as %v, %v", x, u.Symbol(), digits, text, v, err)
			}
		}
	})
}

// Every way to write a number means the float64 nearest to the decimal. Independent: exact fractions (math/big).
func TestParseIsExact(t *testing.T) {
	powers := map[string]int{"f": -15, "p": -12, "n": -9, "µ": -6, "m": -3, "": 0, "k": 3, "M": 6, "G": 9} // SI prefixes
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.StringMatching(`[0-9]{1,12}`).Draw(t, "whole")
		fraction := rapid.StringMatching(`[0-9]{1,12}`).Draw(t, "fraction")
		prefix := rapid.SampledFrom([]string{"f", "p", "n", "µ", "m", "", "k", "M", "G"}).Draw(t, "prefix")
		exact, _ := new(big.Rat).SetString(whole + "." + fraction + "e" + strconv.Itoa(powers[prefix]))
		want, _ := exact.Float64()
		texts := []string{whole + "." + fraction + " " + prefix + "V", whole + "," + fraction + prefix + "V",
			whole + "." + fraction + "e" + strconv.Itoa(powers[prefix]) + " V", whole + prefix + fraction}
		if prefix == "" {
			texts[3] = whole + "V" + fraction
		}
		for _, text := range texts {
			v, err := Parse(text, Volts)
			if err != nil || v.Number != want {
				t.Fatalf("%q read as %v, want %v, %v", text, v.Number, want, err)
			}
		}
	})
}

func TestParseIsMonotone(t *testing.T) {
	symbols := map[string]Unit{"min": Hours, "d": Years, "h": Years, "%": Percent, "µA": Amperes, "GHz": Kilohertz}
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Float64Range(-1e9, 1e9).Draw(t, "a")
		b := rapid.OneOf(rapid.Just(math.Nextafter(a, 2e9)), rapid.Float64Range(a, 1e9)).Draw(t, "b")
		for symbol, u := range symbols {
			low, errLow := Parse(strconv.FormatFloat(a, 'g', -1, 64)+symbol, u)
			high, errHigh := Parse(strconv.FormatFloat(b, 'g', -1, 64)+symbol, u)
			if tiny := math.Min(math.Abs(a), math.Abs(b)) < 1e-300; tiny && (errLow != nil || errHigh != nil) {
				continue // a refusal for being too small is no order
			}
			if errLow != nil || errHigh != nil || low.Number > high.Number {
				t.Fatalf("%v %s < %v %s read as %v, %v (%v, %v)", a, symbol, b, symbol, low.Number, high.Number, errLow, errHigh)
			}
		}
	})
}

// A text is completed to one that reads the same, but for the tolerance it had none of,
// and completing it again changes nothing.
func TestCompleteReadsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units).Draw(t, "unit")
		number := rapid.StringMatching(`-?[0-9]{1,4}([.,][0-9]{1,3})?(e-?[0-9])? ?([kmu]|ohms|Volts|milliamps|°F|uA|meg|R|mins|cm)?`)
		tolerance := rapid.StringMatching(`( ?(±|\+-) ?[0-9]{1,2} ?(%|°F|ohms)?)?`)
		typed := number.Draw(t, "typed") + tolerance.Draw(t, "tolerance")
		before := number.Draw(t, "before") + tolerance.Draw(t, "its tolerance")
		text := Complete(typed, before, u)
		was, err := Parse(typed, u)
		now, again := Parse(text, u)
		_, _, own := cutTolerance(typed)
		switch {
		case err != nil && text != typed:
			t.Fatalf("%q cannot be read, and became %q", typed, text)
		case err == nil && (again != nil || now.Number != was.Number || own && now != was):
			t.Fatalf("%q became %q, which is %v for %v, %v", typed, text, now, was, again)
		case Complete(text, "", u) != text:
			t.Fatalf("%q became %q", text, Complete(text, "", u))
		}
	})
}
