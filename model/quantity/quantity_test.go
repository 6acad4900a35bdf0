package quantity

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// units are all units a field or a result uses.
var units = []Unit{Volts, Millivolts, Ohms, Kiloohms, Amperes, Milliamperes, Microamperes, Farads, Microfarads,
	Picofarads, Femtofarads, Henries, Millihenries, Hertz, Kilohertz, Megahertz, Siemens, Microsiemens, Seconds,
	Milliseconds, Hours, Years, AmpereHours, Percent, PPM, PPMPerKelvin, PPMPerKelvin2, PercentPerYear, Celsius,
	Degrees, Times, Minutes, PPMPerPicofarad, SecondsPerDay}

type good struct {
	text string
	unit Unit
	want Value
}

func exactly(x float64) Value          { return Value{Number: x} }
func within(x, half float64) Value     { return Value{Number: x, Tolerance: half} }
func withShare(x, share float64) Value { return Value{Number: x, Tolerance: share, Share: true} }

// The wanted numbers are Go literals: the compiler rounds the decimal, not this package.
var readable = []good{
	// Texts: catalogue, "Quantities as text". Numbers: derived from the SI prefixes.
	{"1.2 kΩ", Ohms, exactly(1200)}, {"4K7", Ohms, exactly(4700)}, {"100n", Microfarads, exactly(100e-9)},
	{"22p", Picofarads, exactly(22e-12)}, {"3.4 fF", Femtofarads, exactly(3.4e-15)},
	{"200 uA", Microamperes, exactly(200e-6)}, {"0.2 mA", Microamperes, exactly(0.2e-3)},
	{"12,5 pF", Picofarads, exactly(12.5e-12)}, {"1e-3 A", Microamperes, exactly(1e-3)}, {"5 V", Volts, exactly(5)},
	{"85 %", Percent, exactly(0.85)}, {"20 ppm", PPM, exactly(20)}, {"0.034 ppm/K²", PPMPerKelvin2, exactly(0.034)},
	{"3 %/a", PercentPerYear, exactly(0.03)}, {"10 a", Years, exactly(10)}, {"14 h", Hours, exactly(14)},
	{"23 °C", Celsius, exactly(23)}, {"-10 °C", Celsius, exactly(-10)}, {"\u221210 °C", Celsius, exactly(-10)},
	{"90°", Degrees, exactly(90)},
	{"4.7 kΩ ±5 %", Ohms, withShare(4700, 0.05)}, {"1.00 mA ±0.02 mA", Microamperes, within(1e-3, 0.02e-3)},
	{"84 % ±5 %", Percent, within(0.84, 0.05)}, {"84 % +-5 %", Percent, within(0.84, 0.05)},
	{"84 % +/-5 %", Percent, within(0.84, 0.05)},

	// IEC 60062: R47, 4R7, 470R, 4K7, 47K, 47K3, 470K, 4M7, 2n2 read in the sources (section 4);
	// p47, 4p7, n47, 4n7, µ47, 4µ7 there from memory; n100 and 2M2 by the same rule.
	{"R47", Ohms, exactly(0.47)}, {"4R7", Ohms, exactly(4.7)}, {"470R", Ohms, exactly(470)}, {"47K", Ohms, exactly(47e3)},
	{"47K3", Ohms, exactly(47.3e3)}, {"470K", Ohms, exactly(470e3)}, {"4M7", Ohms, exactly(4.7e6)}, {"2M2", Ohms, exactly(2.2e6)},
	{"1k2", Ohms, exactly(1200)}, {"0R0", Ohms, exactly(0)}, {"p47", Picofarads, exactly(0.47e-12)}, {"4p7", Picofarads, exactly(4.7e-12)},
	{"2n2", Picofarads, exactly(2.2e-9)}, {"4n7", Microfarads, exactly(4.7e-9)}, {"n47", Microfarads, exactly(0.47e-9)},
	{"n100", Picofarads, exactly(0.1e-9)}, {"µ47", Microfarads, exactly(0.47e-6)}, {"u47", Microfarads, exactly(0.47e-6)},
	{"\u03bc47", Microfarads, exactly(0.47e-6)}, {"4µ7", Microfarads, exactly(4.7e-6)}, {"4k7Ω", Ohms, exactly(4700)},
	{"4n7 F", Microfarads, exactly(4.7e-9)}, {"-4k7", Ohms, exactly(-4700)}, {"32k768Hz", Hertz, exactly(32768)},

	// The unit's letter as the decimal point: common practice on circuit diagrams, no source.
	{"3V3", Volts, exactly(3.3)}, {"1A5", Amperes, exactly(1.5)}, {"4Ω7", Ohms, exactly(4.7)},

	// A bare number takes the field's own unit: catalogue.
	{"640", Ohms, exactly(640)}, {"500", Microamperes, exactly(500e-6)}, {"4.7", Microfarads, exactly(4.7e-6)},
	{"12.5", Picofarads, exactly(12.5e-12)}, {"14", Hours, exactly(14)}, {"85", Percent, exactly(0.85)},
	{"3", PercentPerYear, exactly(0.03)}, {"32.768", Kilohertz, exactly(32768)}, {"1.2", Times, exactly(1.2)},
	{"15 ±1.5", Picofarads, within(15e-12, 1.5e-12)}, {"84 ±5", Percent, within(0.84, 0.05)}, {"1.2 ±0.1", Times, within(1.2, 0.1)},
	{"640 ±1 %", Ohms, withShare(640, 0.01)}, {"640 ±6 Ω", Ohms, within(640, 6)},

	// One letter is a prefix unless it is the unit itself: catalogue.
	{"5k", Ohms, exactly(5000)}, {"5 m", Microamperes, exactly(5e-3)}, {"5 M", Ohms, exactly(5e6)}, {"2 G", Ohms, exactly(2e9)},
	{"4,7k", Ohms, exactly(4700)}, {"60 s", Seconds, exactly(60)}, {"3 MA", Amperes, exactly(3e6)}, {"5 f", Farads, exactly(5e-15)}, {"5 F", Farads, exactly(5)},

	// Spellings of one unit: catalogue for Ω and µ, common practice for the others.
	{"1 k\u2126", Ohms, exactly(1000)}, {"1 kOhm", Ohms, exactly(1000)}, {"1 KΩ", Ohms, exactly(1000)}, {"1 Mohm", Ohms, exactly(1e6)},
	{"1 kR", Ohms, exactly(1000)}, {"3 \u03bcA", Microamperes, exactly(3e-6)}, {"220 mAh", AmpereHours, exactly(0.22)},
	{"0.034 ppm/K2", PPMPerKelvin2, exactly(0.034)}, {"0.034 ppm/K^2", PPMPerKelvin2, exactly(0.034)},
	{"100 ppm/°C", PPMPerKelvin, exactly(100)}, {"23 C", Celsius, exactly(23)}, {"23 ℃", Celsius, exactly(23)}, {"90 deg", Degrees, exactly(90)},
	{"3.5 min", Minutes, exactly(3.5)}, {"-9.3 ppm/pF", PPMPerPicofarad, exactly(-9.3)}, {"-1.9 s/day", SecondsPerDay, exactly(-1.9)},

	// Other units of time. Derived: 60 s, 3600 s, 24 h; a year is 8766 h (catalogue).
	{"2 min", Seconds, exactly(120)}, {"1 h", Seconds, exactly(3600)}, {"20 ms", Seconds, exactly(0.02)}, {"90 min", Hours, exactly(1.5)},
	{"2 d", Hours, exactly(48)}, {"8766 h", Years, exactly(1)}, {"365.25 d", Years, exactly(1)},

	// Degrees Fahrenheit: 32 °F and 212 °F are the ice and the steam point, 0 °C and 100 °C; -40 is one on both scales. A
	// tolerance is a difference: 180 °F are 100 K. Derived by hand from these.
	{"32 °F", Celsius, exactly(0)}, {"212 ℉", Celsius, exactly(100)}, {"-40 F", Celsius, exactly(-40)}, {"77 degrees F", Celsius, exactly(25)},
	{"68 °F ±9 °F", Celsius, within(20, 5)}, {"68 Fahrenheit ±5 °C", Celsius, within(20, 5)}, {"20 °C ±9 F", Celsius, within(20, 5)},

	// Written out, as people say them; derived from the symbols.
	{"640 ohms", Ohms, exactly(640)}, {"640 Ohms ±1 percent", Ohms, withShare(640, 0.01)}, {"4.7 kilohms", Ohms, exactly(4700)},
	{"1 Megohm", Ohms, exactly(1e6)}, {"2.2 meg", Ohms, exactly(2.2e6)}, {"10 kohms", Ohms, exactly(10e3)}, {"4R7 ohms", Ohms, exactly(4.7)},
	{"5 Volt", Millivolts, exactly(5)}, {"60 millivolts", Volts, exactly(0.06)}, {"500 microamps", Milliamperes, exactly(500e-6)},
	{"1 milliamp", Microamperes, exactly(1e-3)}, {"20 mAmps", Microamperes, exactly(20e-3)}, {"0.1 AMPS", Microamperes, exactly(0.1)},
	{"4.7 micro farads", Picofarads, exactly(4.7e-6)}, {"1 Nanofarad", Microfarads, exactly(1e-9)}, {"32768 hertz", Kilohertz, exactly(32768)},
	{"1.1 seconds", Seconds, exactly(1.1)}, {"20 msec", Seconds, exactly(0.02)}, {"2 minutes", Seconds, exactly(120)}, {"14 hours", Hours, exactly(14)},
	{"2 days", Hours, exactly(48)}, {"10 years", Years, exactly(10)}, {"2.5 amp-hours", AmpereHours, exactly(2.5)}, {"85 per cent", Percent, exactly(0.85)},
	{"3 percent a year", PercentPerYear, exactly(0.03)}, {"-2 seconds a day", SecondsPerDay, exactly(-2)}, {"90 degrees", Degrees, exactly(90)},
	{"23 degrees C", Celsius, exactly(23)}, {"20 parts per million", PPM, exactly(20)}, {"5 farads", Microfarads, exactly(5)},

	// Free spaces, decimal signs, signs, exponents: common practice, no source.
	{"  5V ", Volts, exactly(5)}, {"5\u00a0V", Volts, exactly(5)}, {"\u20095\u2009V\u202f", Volts, exactly(5)}, {"4.7 k Ω", Ohms, exactly(4700)},
	{".5", Volts, exactly(0.5)}, {",5", Volts, exactly(0.5)}, {"5.", Volts, exactly(5)}, {"+5", Volts, exactly(5)}, {"- 5", Volts, exactly(-5)},
	{"1E+3 Ω", Ohms, exactly(1000)}, {"1e\u22123 A", Amperes, exactly(1e-3)}, {"1.5e3k", Ohms, exactly(1.5e6)},
	{"4.7 kΩ±5%", Ohms, withShare(4700, 0.05)}, {"4k7 ± 5 %", Ohms, withShare(4700, 0.05)}, {"23 °C ±2 °C", Celsius, within(23, 2)},
	{"90° ±1°", Degrees, within(90, 1)}, {"20 ppm ±5 %", PPM, withShare(20, 0.05)}, {"3 %/a ±50 %", PercentPerYear, withShare(0.03, 0.5)},
	{"3 %/a ±1 %/a", PercentPerYear, within(0.03, 0.01)}, {"50 Ω ±150 %", Ohms, withShare(50, 1.5)}, {"5 V ±0 %", Volts, exactly(5)},
	{"4.7 kΩ +/\u22125 %", Ohms, withShare(4700, 0.05)}, {"1 mA ±20 µ", Microamperes, within(1e-3, 20e-6)},
}

func TestParse(t *testing.T) {
	for _, c := range readable {
		v, err := Parse(c.text, c.unit)
		require.NoError(t, err, "%q", c.text)
		assert.Equal(t, c.want, v, "%q", c.text)
		again, err := Parse(Format(v, c.unit), c.unit)
		require.NoError(t, err, "%q printed as %q", c.text, Format(v, c.unit))
		assert.Equal(t, v, again, "%q printed as %q", c.text, Format(v, c.unit))
	}
}

type bad struct {
	text string
	unit Unit
	want string
}

// The messages are this package's own words, written down here so that a change of them is seen.
var unreadable = []bad{
	{"", Ohms, "nothing is written here; write 4.7 kΩ or 4k7"},
	{" \u00a0", Percent, "nothing is written here; write 85 %"},
	{"abc", Ohms, `"abc" is not a number; write 4.7 kΩ or 4k7`},
	{"abc", Celsius, `"abc" is not a number; write 23 °C`},
	{"-", Volts, `"-" is not a number; write 3.3 V or 3V3`},
	{".", Volts, `"." is not a number; write 3.3 V or 3V3`},
	{"k", Ohms, `"k" is not a number; write 4.7 kΩ or 4k7`},
	{"NaN", Times, `"NaN" is not a number; write 1.2`},
	{"Inf", Times, `"Inf" is not a number; write 1.2`},
	{"0x1F", Hertz, `"x1F" is not a unit known here; write 32.768 kHz`},
	{"1e999", Volts, "the number is too large to compute with; write 3.3 V or 3V3"},
	{"1e308 h", Seconds, "the number is too large to compute with; write 1.1 s, 20 ms or 2 min"},
	{"1e-999", Volts, "the number is too small to tell from zero; write 0, or a number that can be measured"},
	{"1e99999999999999999999", Volts, "the number is too large to compute with; write 3.3 V or 3V3"},
	{"5e", Volts, "the exponent has no digits; write it as in 1e-3, or leave the e out"},
	{"1e-", Amperes, "the exponent has no digits; write it as in 1e-3, or leave the e out"},
	{"1 e-3 A", Amperes, "the exponent stands apart from its number; write it without a space, as in 1e-3"},

	{"1,234.5", Ohms, `there are two decimal signs in "1,234.5"; write one '.' or ',' before the decimals and nothing between thousands, as in 1234.5`},
	{"1.2.3", Ohms, `there are two decimal signs in "1.2.3"; write one '.' or ',' before the decimals and nothing between thousands, as in 1234.5`},
	{"32 768", Hertz, "digits are written together, with nothing between them; write 32768, not 32 768"},
	{"32\u202f768 Hz", Hertz, "digits are written together, with nothing between them; write 32768, not 32 768"},
	{"32_768", Hertz, "digits are written together, with nothing between them; write 32768, not 32 768"},
	{"32'768", Hertz, "digits are written together, with nothing between them; write 32768, not 32 768"},
	{"4.7k5", Ohms, `"k" is a decimal sign or exponent too many; write 4.7 kΩ or 4k7`},
	{"4k7.5", Ohms, `"." is a decimal sign or exponent too many; write 4.7 kΩ or 4k7`},
	{"4k7e3", Ohms, `"e" is a decimal sign or exponent too many; write 4.7 kΩ or 4k7`},
	{"1e3.5", Ohms, `"." is a decimal sign or exponent too many; write 4.7 kΩ or 4k7`},
	{"1e3k5", Ohms, `"k" is a decimal sign or exponent too many; write 4.7 kΩ or 4k7`},
	{"4k7kΩ", Ohms, `the letter in place of the decimal sign is the prefix already, so "kΩ" is too much; write 4.7 kΩ or 4k7`},
	{"1h30", Seconds, `"h30" is not a unit known here; write 1.1 s, 20 ms or 2 min`},
	{"5m30", Seconds, `"m30" is not a unit known here; write 1.1 s, 20 ms or 2 min`},

	{"5 V", Ohms, `"V" is a unit of voltage; this is in Ω; write 4.7 kΩ or 4k7`},
	{"5 mV", Microamperes, `"mV" is a unit of voltage; this is in µA; write 0.2 mA or 200 µA`},
	{"4k7V", Ohms, `"V" is a unit of voltage; this is in Ω; write 4.7 kΩ or 4k7`},
	{"5 Ω", Times, `"Ω" is a unit of resistance; this is a plain number; write 1.2`},
	{"20 ppm", Percent, `"ppm" is a unit of offset; this is in %; write 85 %`},
	{"3 %", PercentPerYear, `"%" is a unit of share; this is in %/a; write 3 %/a (a year)`},
	{"23 °", Celsius, `"°" is a unit of angle; this is in °C; write 23 °C`},
	{"5 s", Hours, `"s" is not used here; this is in h; write 14 h, 30 min or 2 d`},
	{"5 k", Percent, `"k" is not a unit known here; write 85 %`},
	{"70 °f", Celsius, `capital and small letters matter in "°f"; write °F`},
	{"70 degrees", Celsius, `"degrees" is a unit of angle; this is in °C; write 23 °C`},
	{"70 farads", Celsius, `"farads" is a unit of capacitance; this is in °C; write 23 °C`},
	{"70 °F", Ohms, `"°F" is a unit of temperature; this is in Ω; write 4.7 kΩ or 4k7`},
	{"5 F", Ohms, `"F" is a unit of capacitance; this is in Ω; write 4.7 kΩ or 4k7`},
	{"5 volts", Ohms, `"volts" is a unit of voltage; this is in Ω; write 4.7 kΩ or 4k7`},
	{"5 Metres", Ohms, `"Metres" is a unit of length; this is in Ω; write 4.7 kΩ or 4k7`},
	{"4k7 kilohms", Ohms, `the letter in place of the decimal sign is the prefix already, so "kilohms" is too much; write 4.7 kΩ or 4k7`},
	{"5 MAMPS", Microamperes, `"MAMPS" is not a unit known here; write 0.2 mA or 200 µA`},
	{"2 weeks", Hours, `"weeks" is not a unit known here; write 14 h, 30 min or 2 d`},
	{"5 v", Volts, `capital and small letters matter in "v"; write V`},
	{"10 hz", Hertz, `capital and small letters matter in "hz"; write Hz`},
	{"10 KHZ", Hertz, `capital and small letters matter in "KHZ"; write kHz`},
	{"10 mhz", Hertz, `capital and small letters matter in "mhz"; write MHz or mHz`},
	{"1 kOHM", Ohms, `capital and small letters matter in "kOHM"; write kΩ`},
	{"5 MIN", Seconds, `capital and small letters matter in "MIN"; write min`},
	{"5 \x1b[0m\u202ek", Ohms, `"\x1b[0m\u202ek" is not a unit known here; write 4.7 kΩ or 4k7`},
	{"5 \xff", Ohms, `"\xff" is not a unit known here; write 4.7 kΩ or 4k7`},
	{"5 abcdefghijklmnopqrstuvwxyz", Ohms, `"abcdefghijklmnopqrstuvwx…" is not a unit known here; write 4.7 kΩ or 4k7`},

	{"4.7 kΩ ±5", Ohms, "a tolerance needs its unit; write ±5 % or ±5 Ω"},
	{"1k2 ±5", Ohms, "a tolerance needs its unit; write ±5 % or ±5 Ω"},
	{"84 % ±5", Percent, "a tolerance needs its unit; write ±5 %"},
	{"90° ±1", Degrees, "a tolerance needs its unit; write ±1 % or ±1°"},
	{"±5 %", Volts, "there is no value before the tolerance; write the value first, for example 3.3 V or 3V3"},
	{"5 V ±", Volts, "there is nothing after the tolerance mark; write ±5 % or ±5 V, or leave the mark out"},
	{"5 V ±1 % ±2 %", Volts, "there are two tolerance marks; write one tolerance, the same up and down"},
	{"5 V ±-1 %", Volts, "a tolerance goes both ways and has no sign of its own; write ±1 % or ±1 V"},
	{"5 V ±+1 V", Volts, "a tolerance goes both ways and has no sign of its own; write ±1 % or ±1 V"},
	{"5 V +5 -3 %", Volts, "only a symmetric tolerance is understood, the same up and down; write it as in ±5 %"},
	{"5 V +5/-3 %", Volts, "only a symmetric tolerance is understood, the same up and down; write it as in ±5 %"},
	{"5 V -3 %", Volts, "only a symmetric tolerance is understood, the same up and down; write it as in ±5 %"},
	{"5 V ±5/-3 %", Volts, "only a symmetric tolerance is understood, the same up and down; write it as in ±5 %"},
	{"70 °F ±2", Celsius, "a tolerance needs its unit; write ±2 °F"},
	{"70 °F ±5 %", Celsius, "a temperature has no tolerance in %; write it in degrees: ±5 °F"},
	{"23 °C ±5 %", Celsius, "a temperature has no tolerance in %; write it in degrees: ±5 °C"},
	{"5 V ±x", Volts, `"x" is not a number; write 3.3 V or 3V3`},
	{"5 V ±1k2 %", Volts, `"%" is a unit of share; this is in V; write 3.3 V or 3V3`},
	{"5 V ±1 A", Volts, `"A" is a unit of current; this is in V; write 3.3 V or 3V3`},
}

func TestParseRefuses(t *testing.T) {
	for _, c := range unreadable {
		v, err := Parse(c.text, c.unit)
		assert.EqualError(t, err, c.want, "%q", c.text)
		assert.False(t, v.Given(), "%q", c.text)
		var problem *Error
		require.ErrorAs(t, err, &problem)
		assert.Equal(t, c.text, problem.Given)
	}
}

func TestParsePlain(t *testing.T) {
	v, err := ParsePlain("47 %", Percent)
	require.NoError(t, err)
	assert.Equal(t, exactly(0.47), v) // derived: 47/100
	for _, text := range []string{"47 % ±1 %", "47 +-1", "47 % +/-1 %", "±", "47 ±x"} {
		_, err := ParsePlain(text, Percent)
		assert.EqualError(t, err, "no tolerance can be given here; leave out the ± and what follows it", text)
	}
}

func TestParseCount(t *testing.T) {
	for text, want := range map[string]int{"32768": 32768, "-3": -3, "\u22123": -3, "+5": 5, " 256 ": 256, "007": 7, "0": 0} {
		n, err := ParseCount(text)
		require.NoError(t, err, text)
		assert.Equal(t, want, n, text)
	}
	// Own words, as above.
	for text, want := range map[string]string{
		"":                     "nothing is written here; write a whole number, for example 256",
		"abc":                  `"abc" is not a whole number; write a whole number, for example 256`,
		"4.7":                  `"4.7" is not a whole number; write a whole number, for example 256`,
		"4,7":                  `"4,7" is not a whole number; write a whole number, for example 256`,
		"1e3":                  `"1e3" is not a whole number; write a whole number, for example 256`,
		"32 768":               "digits are written together, with nothing between them; write 32768, not 32 768",
		"32_768 ±1":            "digits are written together, with nothing between them; write 32768, not 32 768",
		"5 %":                  "a count has no unit or prefix; write digits alone, for example 256",
		"32k":                  "a count has no unit or prefix; write digits alone, for example 256",
		"3 ±1":                 "a count has no tolerance; write 3 alone",
		"-3 +-1":               "a count has no tolerance; write -3 alone",
		"99999999999999999999": "the number is too large to compute with; write a whole number, for example 256",
	} {
		_, err := ParseCount(text)
		assert.EqualError(t, err, want, "%q", text)
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v    Value
		unit Unit
		want string
	}{
		// The rules of printing (1 to 999 before the decimal sign, unit always there), worked by hand.
		{withShare(4700, 0.05), Ohms, "4.7 kΩ ±5 %"}, {within(1e-3, 20e-6), Microamperes, "1 mA ±20 µA"},
		{within(0.84, 0.05), Percent, "84 % ±5 %"}, {exactly(0.1e-9), Picofarads, "100 pF"}, {exactly(999), Ohms, "999 Ω"},
		{exactly(1000), Ohms, "1 kΩ"}, {exactly(0.9995), Volts, "0.9995 V"}, {exactly(0), Ohms, "0 Ω"}, {exactly(0), Percent, "0 %"},
		{exactly(90), Degrees, "90°"}, {exactly(1.2), Times, "1.2"}, {exactly(-10), Celsius, "-10 °C"}, {exactly(8766), Hours, "8766 h"},
		{exactly(999e9), Hertz, "999 GHz"}, {exactly(1e12), Hertz, "1e12 Hz"}, {exactly(1e-15), Farads, "1 fF"},
		{exactly(2.5e-16), Farads, "2.5e-16 F"}, {exactly(3600), Seconds, "3600 s"}, {exactly(0.025), Seconds, "25 ms"},
		{exactly(8.2e-7), Minutes, "0.00000082 min"}, {exactly(1.5e-12), Minutes, "1.5e-12 min"}, {exactly(0.03), PercentPerYear, "3 %/a"},
		{exactly(1e-9), Minutes, "0.000000001 min"}, {exactly(9e-10), Minutes, "9e-10 min"}, {exactly(999e12), Hours, "999000000000000 h"},
		{exactly(1e15), Hours, "1e15 h"}, {exactly(math.Copysign(0, -1)), Ohms, "-0 Ω"},
		{withShare(0, 0.05), Ohms, "0 Ω ±5 %"}, {Absent(), Ohms, ""}, {exactly(math.Inf(1)), Ohms, ""},
	} {
		assert.Equal(t, c.want, Format(c.v, c.unit))
	}
}

func TestShow(t *testing.T) {
	for _, c := range []struct {
		x      float64
		unit   Unit
		digits int
		want   string
	}{
		// Rounded by hand.
		{4700, Ohms, 3, "4.70 kΩ"}, {1e-3, Microamperes, 3, "1.00 mA"}, {0.0123, Seconds, 3, "12.3 ms"}, {999.7, Ohms, 3, "1.00 kΩ"},
		{999.7, Ohms, 4, "999.7 Ω"}, {0.8504, Percent, 3, "85.0 %"}, {51122.06, Hours, 3, "51100 h"}, {-1.8918, SecondsPerDay, 3, "-1.89 s/day"},
		{1.472e-5, Minutes, 3, "0.0000147 min"}, {0, Ohms, 3, "0 Ω"}, {math.Copysign(0, -1), Ohms, 3, "0 Ω"}, {123.4, Ohms, 2, "120 Ω"},
		{123.4, Ohms, 0, "100 Ω"}, {1.0 / 3, Times, 99, "0.33333333333333331"}, // the float64 is 0.3333333333333333148…
		{90, Degrees, 3, "90.0°"}, {math.NaN(), Ohms, 3, "–"}, {math.Inf(-1), Ohms, 3, "–"},
	} {
		assert.Equal(t, c.want, Show(c.x, c.unit, c.digits))
	}
}

func TestUnit(t *testing.T) {
	for _, c := range []struct {
		unit         Unit
		symbol, base string
		factor       float64
	}{
		// Derived from the SI prefixes; bases from the catalogue's "Units inside the program".
		{Microamperes, "µA", "A", 1e-6}, {Kiloohms, "kΩ", "Ω", 1e3}, {Femtofarads, "fF", "F", 1e-15}, {Megahertz, "MHz", "Hz", 1e6},
		{Milliseconds, "ms", "s", 1e-3}, {Hours, "h", "h", 1}, {Years, "a", "a", 1}, {AmpereHours, "Ah", "Ah", 1}, {Percent, "%", "", 0.01},
		{PercentPerYear, "%/a", "1/a", 0.01}, {PPM, "ppm", "ppm", 1}, {Celsius, "°C", "°C", 1}, {Degrees, "°", "°", 1}, {Times, "", "", 1},
		{Minutes, "min", "min", 1}, {PPMPerPicofarad, "ppm/pF", "ppm/pF", 1}, {SecondsPerDay, "s/day", "s/day", 1}, {Unit{}, "", "", 1},
	} {
		assert.Equal(t, c.symbol, c.unit.Symbol())
		assert.Equal(t, c.base, c.unit.Base())
		assert.Equal(t, c.factor, c.unit.Factor())
	}
}

// What a form shows and what a remedy proposes must be readable.
func TestSymbolsAndExamplesParse(t *testing.T) {
	for _, u := range units {
		v, err := Parse("1 "+u.Symbol(), u)
		require.NoError(t, err, u.Symbol())
		assert.Equal(t, exactly(u.Factor()), v, u.Symbol())
		examples, _, _ := strings.Cut(kinds[u.kind].example, " (")
		for _, text := range strings.FieldsFunc(strings.ReplaceAll(examples, " or ", ","), func(c rune) bool { return c == ',' }) {
			_, err := Parse(text, u)
			assert.NoError(t, err, "%s: %q", u.Symbol(), text)
		}
	}
}

// A comma between thousands, by hand; where one stands otherwise nothing is meant.
func TestThousands(t *testing.T) {
	for text, want := range map[string]string{
		"1,200": "1200", " 1,200 Ω": "1200 Ω", "12,000 ±5 %": "12000 ±5 %", "1,234,567 Hz": "1234567 Hz", "1,234.5": "1234.5", "640,655 ohms": "640655 ohms",
		"1,2": "", "1,2000": "", "1,200,5": "", "0,200": "", "1234,500": "", "1200": "", ",200": "", "": "", "1,200,": "", "-1,200": "",
	} {
		meant, ok := Thousands(text)
		assert.Equal(t, want != "", ok, text)
		if ok {
			assert.Equal(t, want, meant, text)
		}
	}
}

func TestValueEnds(t *testing.T) {
	// Derived by hand; the numbers are exact in binary.
	v := withShare(-8, 0.25)
	assert.Equal(t, []float64{2, -10, -6}, []float64{v.Half(), v.Low(), v.High()})
	v = within(8, 0.5)
	assert.Equal(t, []float64{0.5, 7.5, 8.5}, []float64{v.Half(), v.Low(), v.High()})
	assert.False(t, Absent().Given())
	assert.True(t, exactly(0).Given())
	assert.Zero(t, Absent().Half())
	assert.True(t, math.IsNaN(Absent().Low()))
}

func TestLongAndBrokenInput(t *testing.T) {
	many := 1 << 20
	// A million nines and a million zeros before the point: derived, 0.999… rounds to 1.
	v, err := Parse(strings.Repeat("0", many)+"."+strings.Repeat("9", many)+" V", Volts)
	require.NoError(t, err)
	assert.Equal(t, exactly(1), v)
	for _, piece := range []string{"9", "±", "\xff", "k", ".", " ", "\x00", "+/", "e"} {
		_, err := Parse(strings.Repeat(piece, many), Ohms)
		require.Error(t, err, "%q many times", piece)
		assert.Less(t, len(err.Error()), 300, "%q many times", piece)
	}
}

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		_, _ = Parse("4.7 kΩ ±5 %", Ohms)
	}
}

func BenchmarkShow(b *testing.B) {
	for b.Loop() {
		_ = Show(4712.3, Ohms, 3)
	}
}
