package quantity

import (
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// allUnits are all there are, those that no field or result has among them.
var allUnits = append([]Unit{Watts, Milliwatts, Millimetres, PercentPerSecond}, units...)

// allNames is every accepted spelling of a unit that is written out, in small letters,
// with its symbol.
func allNames() map[string]string {
	all := maps.Clone(spoken)
	for name, symbol := range lettered {
		for _, prefix := range prefixes {
			if prefix != "" {
				all[prefix+name] = prefix + symbol
			}
		}
	}
	return all
}

func capitalized(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// Every accepted spelling reads as its symbol does in every unit, to the last bit, and is
// refused where that is; some unit takes it.
func TestNamesReadAsTheirSymbols(t *testing.T) {
	names := allNames()
	require.Greater(t, len(names), 300)
	for _, name := range slices.Sorted(maps.Keys(names)) {
		spellings := []string{name}
		if spoken[name] != "" { // behind a prefix letter capitals would change that
			spellings = append(spellings, capitalized(name), strings.ToUpper(name))
		}
		for _, said := range spellings {
			taken := false
			for _, u := range allUnits {
				for _, texts := range [][2]string{{"3.7 " + names[name], "3.7 " + said}, {"3.7 " + names[name] + " ±0.5 " + names[name], "3.7 " + said + " ±0.5" + said}} {
					want, refused := Parse(texts[0], u)
					got, err := Parse(texts[1], u)
					require.Equal(t, refused == nil, err == nil, "%q in %q: %v, %v", said, u.Symbol(), err, refused)
					if err == nil {
						require.Equal(t, want, got, "%q in %q", said, u.Symbol())
						taken = true
					}
				}
			}
			assert.True(t, taken, "%q is a unit of nothing", said)
		}
	}
}

// A unit that is written out is one of what it measures alone: "metres" are no milliohms,
// and "farads" no degrees. Only "meg" is a prefix, which goes with all that take one.
func TestNamesMeasureOneThing(t *testing.T) {
	same := map[string]string{"dial time": "time"}
	for name := range allNames() {
		nouns := map[string]bool{}
		for _, u := range allUnits {
			if _, err := Parse("3.7 "+name, u); err == nil {
				noun := kinds[u.kind].noun
				if same[noun] != "" {
					noun = same[noun]
				}
				nouns[noun] = true
			}
		}
		if name != "meg" && name != "megs" {
			assert.Len(t, nouns, 1, "%q measures %v", name, nouns)
		}
	}
}

// No symbol that was read before has become a name with another meaning: what the kinds
// know, with every prefix, is no name, or the name of itself.
func TestNamesTakeNoSymbolAway(t *testing.T) {
	letters := append([]string{"u", "\u03bc", "K"}, prefixes[:]...)
	looked := 0
	for i := range kinds {
		symbols := append([]string{kinds[i].symbol}, kinds[i].also...)
		for _, by := range kinds[i].accepts {
			symbols = append(symbols, by.symbol)
		}
		for _, symbol := range symbols {
			for _, letter := range letters {
				text := letter + symbol
				named, is := symbolFor(text)
				if !is {
					continue
				}
				looked++
				for k := range kinds {
					power, by, known := kinds[k].lookup(text)
					powerOfName, byOfName, knownByName := kinds[k].lookup(named)
					assert.Equal(t, known, knownByName, "%q is %q", text, named)
					if known {
						assert.Equal(t, power, powerOfName, "%q is %q", text, named)
						assert.Equal(t, by, byOfName, "%q is %q", text, named)
					}
				}
			}
		}
	}
	assert.Positive(t, looked, "ohm and deg are both")
}

// A unit in words becomes the unit as it stands: the digits stay, and so do codes of
// IEC 60062 and a prefix alone.
func TestWordsBecomeUnits(t *testing.T) {
	for _, c := range []struct {
		typed, want string
		u           Unit
	}{
		{"101 ohms", "101 Ω", Ohms},
		{"1.50 kilohms ±5 percent", "1.50 kΩ ±5 %", Ohms},
		{"1,5 Kohm", "1,5 kΩ", Ohms},
		{"640 R", "640 Ω", Ohms},
		{"2 meg", "2 MΩ", Ohms},
		{"500 uA", "500 µA", Microamperes},
		{"500uA", "500 µA", Microamperes},
		{"500 \u03bcA ±10 microamps", "500 µA ±10 µA", Microamperes},
		{"4.93 Volt", "4.93 V", Volts},
		{"1e-1 farads", "1e-1 F", Microfarads},
		{"90 degrees", "90°", Degrees},
		{"70 fahrenheit", "70 °F", Celsius},
		{"2 minutes", "2 min", Seconds},
		{"4k7", "4k7", Ohms},
		{"4k7 ohms", "4k7 Ω", Ohms},
		{"10k", "10k", Ohms},
		{"10 k", "10 k", Ohms},
		{"640Ω", "640Ω", Ohms},
		{"µ47", "µ47", Microfarads},
		{"60 cm", "60 cm", Millimetres},
		{"five ohms", "five ohms", Ohms},
	} {
		assert.Equal(t, c.want, Complete(c.typed, "", c.u), c.typed)
	}
}

// A comma that may part thousands is told of with what it is read as.
func TestComma(t *testing.T) {
	for _, c := range []struct {
		typed, want string
		u           Unit
	}{
		{"1,200", "1,200 Ω is 1.2 Ω: the comma is the decimal sign", Ohms},
		{"1,200 ohms ±2 %", "1,200 Ω is 1.2 Ω: the comma is the decimal sign", Ohms},
		{"1,200 mA", "1,200 mA is 1.2 mA: the comma is the decimal sign", Microamperes},
		{"1,2", "", Ohms},
		{"1,200 x", "", Ohms},
		{"1200", "", Ohms},
		{"", "", Ohms},
	} {
		assert.Equal(t, c.want, Comma(c.typed, c.u), c.typed)
	}
}

func TestTolerance(t *testing.T) {
	for text, want := range map[string]string{"640 +-5 %": "5 %", "640 Ω ± 2 Ω": "2 Ω", "640 ±0": "0"} {
		tolerance, ok := Tolerance(text)
		assert.True(t, ok, text)
		assert.Equal(t, want, tolerance, text)
	}
	_, ok := Tolerance("640 Ω")
	assert.False(t, ok)
}
