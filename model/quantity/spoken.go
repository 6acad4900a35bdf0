package quantity

import (
	"strings"
	"unicode/utf8"
)

// names are the units as people say and write them out, in small letters and without
// spaces. Capitals do not matter in them: a word is a unit in any case. A symbol that is
// no one's ("metre", "farad") keeps a name from meaning what its letter means elsewhere:
// m is a prefix too, and F is a degree of temperature.
var names = []struct {
	symbol, names string
	prefixed      bool // kilo and the like may stand before it
}{
	{"V", "volt volts", true},
	{"Ω", "ohm ohms", true},
	{"kΩ", "kilohm kilohms", false}, // the words lose a letter
	{"MΩ", "megohm megohms", false},
	{"A", "amp amps ampere amperes", true},
	{"farad", "farad farads", true},
	{"H", "henry henrys henries", true},
	{"Hz", "hertz", true},
	{"S", "siemens", true},
	{"W", "watt watts", true},
	{"metre", "metre metres meter meters", true},
	{"cm", "centimetre centimetres centimeter centimeters", false},
	{"s", "second seconds sec secs", true},
	{"min", "minute minutes mins", false},
	{"h", "hour hours hr hrs", false},
	{"d", "day days", false},
	{"a", "year years yr yrs", false},
	{"Ah", "amphour amphours amp-hour amp-hours amperehour amperehours ampere-hour ampere-hours", true},
	{"%", "percent pct", false},
	{"ppm", "partspermillion", false},
	{"%/a", "percentayear percentperyear %ayear %peryear %/year %/yr", false},
	{"s/day", "secondsaday secondsperday secondaday secondperday seconds/day secs/day sec/day", false},
	{"°", "degree degrees deg", false},
	{"°C", "celsius centigrade degc degreec degreesc degreecelsius degreescelsius", false},
	{"°F", "fahrenheit degf degreef degreesf degreefahrenheit degreesfahrenheit", false},
	{"M", "meg megs", false}, // of ohms, mostly
}

// prefixNames are what the prefixes are called.
var prefixNames = map[string]string{
	"femto": "f", "pico": "p", "nano": "n", "micro": "µ", "milli": "m", "kilo": "k", "mega": "M", "giga": "G",
}

// spoken holds the symbol of every name, with and without a prefix; lettered that of those
// that a prefix letter may stand before: "mAmps", "usec".
var spoken, lettered = func() (spoken, lettered map[string]string) {
	spoken, lettered = map[string]string{}, map[string]string{}
	for _, u := range names {
		for name := range strings.FieldsSeq(u.names) {
			spoken[name] = u.symbol
			if !u.prefixed {
				continue
			}
			lettered[name] = u.symbol
			for prefix, letter := range prefixNames {
				spoken[prefix+name] = letter + u.symbol
			}
		}
	}
	return spoken, lettered
}()

// longestName is more than any name has, in bytes.
const longestName = 32

// symbolFor returns the symbol of a unit that is written out, without spaces: "kΩ" of
// "kilohms". Capitals do not matter, but in what follows a prefix letter, which they
// change: "mAmps" and "MAmps", and "MAMPS" is none. ok is false of all other text.
func symbolFor(text string) (symbol string, ok bool) {
	if len(text) > longestName {
		return "", false
	}
	if symbol, ok = spoken[strings.ToLower(text)]; ok {
		return symbol, true
	}
	letter, size := utf8.DecodeRuneInString(text)
	if _, ok = prefixPower(letter); !ok {
		return "", false
	}
	name := text[size:]
	_, first := utf8.DecodeRuneInString(name)
	if small := strings.ToLower(name); len(small) == len(name) && small[first:] == name[first:] {
		if symbol, ok = lettered[small]; ok {
			return text[:size] + symbol, true
		}
	}
	return "", false
}
