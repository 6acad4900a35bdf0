package quantity

import (
	"math"
	"strings"
	"unicode/utf8"
)

// Unit is a field's or a result's own unit. It is comparable; the zero Unit is Times.
type Unit struct {
	kind  kind
	power int8 // of the prefix: -6 for µ
}

// Symbol returns the unit as the form shows it, "µA"; "" for plain numbers.
func (u Unit) Symbol() string { return prefixes[u.power/3+5] + kinds[u.kind].symbol }

// Example returns what a person may type, as a message names it: "0.2 mA or 200 µA".
func (u Unit) Example() string { return kinds[u.kind].example }

// Factor returns how much 1 of this unit is in the unit's Base: 1e-6 for µA, 0.01 for %.
func (u Unit) Factor() float64 { return math.Pow10(u.ownPower()) }

// Base returns the symbol of the unit numbers have inside the program and in JSON: "A" for µA; "" for ratios.
func (u Unit) Base() string { return kinds[u.kind].base }

// ownPower returns the power of ten a bare number carries.
func (u Unit) ownPower() int { return int(u.power) + kinds[u.kind].power }

// The units that fields and results use.
var (
	Volts            = Unit{kind: voltage}
	Millivolts       = Unit{kind: voltage, power: -3}
	Ohms             = Unit{kind: resistance}
	Kiloohms         = Unit{kind: resistance, power: 3}
	Amperes          = Unit{kind: current}
	Milliamperes     = Unit{kind: current, power: -3}
	Microamperes     = Unit{kind: current, power: -6}
	Farads           = Unit{kind: capacitance}
	Microfarads      = Unit{kind: capacitance, power: -6}
	Picofarads       = Unit{kind: capacitance, power: -12}
	Femtofarads      = Unit{kind: capacitance, power: -15}
	Henries          = Unit{kind: inductance}
	Millihenries     = Unit{kind: inductance, power: -3}
	Hertz            = Unit{kind: frequency}
	Kilohertz        = Unit{kind: frequency, power: 3}
	Megahertz        = Unit{kind: frequency, power: 6}
	Siemens          = Unit{kind: conductance}
	Microsiemens     = Unit{kind: conductance, power: -6}
	Seconds          = Unit{kind: seconds}
	Milliseconds     = Unit{kind: seconds, power: -3}
	Watts            = Unit{kind: power}
	Milliwatts       = Unit{kind: power, power: -3}
	Millimetres      = Unit{kind: length, power: -3}
	Hours            = Unit{kind: hours}
	Years            = Unit{kind: years}
	AmpereHours      = Unit{kind: charge}
	Percent          = Unit{kind: percent}
	PPM              = Unit{kind: ppm}
	PPMPerKelvin     = Unit{kind: ppmPerKelvin}
	PPMPerKelvin2    = Unit{kind: ppmPerKelvin2}
	PercentPerYear   = Unit{kind: percentPerYear}
	Celsius          = Unit{kind: celsius}
	Degrees          = Unit{kind: degrees}
	Times            = Unit{kind: plain}       // a plain ratio such as 1.2
	Minutes          = Unit{kind: dialMinutes} // of the dial's own time
	PPMPerPicofarad  = Unit{kind: ppmPerPicofarad}
	SecondsPerDay    = Unit{kind: secondsPerDay}
	PercentPerSecond = Unit{kind: percentPerSecond}
	OhmsPerVolt      = Unit{kind: ohmsPerVolt}
)

type kind uint8

const (
	plain kind = iota
	voltage
	resistance
	current
	capacitance
	inductance
	frequency
	conductance
	power
	length
	seconds
	hours
	years
	charge
	percent
	ppm
	ppmPerKelvin
	ppmPerKelvin2
	percentPerYear
	celsius
	degrees
	dialMinutes
	ppmPerPicofarad
	secondsPerDay
	percentPerSecond
	ohmsPerVolt
)

// row says all there is to know about one kind of unit.
type row struct {
	noun     string   // what it measures
	symbol   string   // as printed
	also     []string // other spellings
	base     string
	power    int          // power of ten between symbol and base
	prefixed bool         // takes the letters f to G
	largest  int          // power of the largest prefix printed
	coded    bool         // a letter may stand for the decimal point
	accepts  []conversion // other units of the same kind, without prefixes
	example  string       // good input, as a remedy names it
}

// conversion turns another unit into the base: less its zero, times and then per, so that whole numbers stay whole.
type conversion struct {
	symbol     string
	times, per float64
	zero       float64 // of the other unit, where the base's own 0 is; a difference has none
}

// same is the conversion of a unit that needs none.
var same = conversion{times: 1, per: 1}

// fahrenheit is a spelling of degrees Fahrenheit: 32 °F is 0 °C, and 9 of them are 5 K.
func fahrenheit(symbol string) conversion { return conversion{symbol, 5, 9, 32} }

// hoursPerYear is the catalogue's year, 365.25 days.
const hoursPerYear = 8766

// Times take no code letters, since "1h30" and "5m30" mean something else to most people; and seconds are not
// printed with k, M or G, which nobody uses.
var kinds = [...]row{
	plain:       {example: "1.2"},
	voltage:     {noun: "voltage", symbol: "V", base: "V", prefixed: true, largest: 9, coded: true, example: "3.3 V or 3V3"},
	resistance:  {noun: "resistance", symbol: "Ω", also: []string{"\u2126", "Ohm", "ohm", "R"}, base: "Ω", prefixed: true, largest: 9, coded: true, example: "4.7 kΩ or 4k7"},
	current:     {noun: "current", symbol: "A", base: "A", prefixed: true, largest: 9, coded: true, example: "0.2 mA or 200 µA"},
	capacitance: {noun: "capacitance", symbol: "F", also: []string{"farad"}, base: "F", prefixed: true, largest: 9, coded: true, example: "4.7 µF, 12 pF or 4n7"},
	inductance:  {noun: "inductance", symbol: "H", base: "H", prefixed: true, largest: 9, coded: true, example: "35 mH"},
	frequency:   {noun: "frequency", symbol: "Hz", base: "Hz", prefixed: true, largest: 9, coded: true, example: "32.768 kHz"},
	conductance: {noun: "conductance", symbol: "S", base: "S", prefixed: true, largest: 9, coded: true, example: "4 µS"},
	power:       {noun: "power", symbol: "W", base: "W", prefixed: true, largest: 9, coded: true, example: "250 mW"},
	length: {noun: "length", symbol: "m", also: []string{"metre"}, base: "m", prefixed: true, example: "60 mm",
		accepts: []conversion{{"cm", 1, 100, 0}}},
	seconds: {noun: "time", symbol: "s", base: "s", prefixed: true, example: "1.1 s, 20 ms or 2 min",
		accepts: []conversion{{"min", 60, 1, 0}, {"h", 3600, 1, 0}}},
	hours: {noun: "time", symbol: "h", base: "h", example: "14 h, 30 min or 2 d",
		accepts: []conversion{{"min", 1, 60, 0}, {"d", 24, 1, 0}}},
	years: {noun: "time", symbol: "a", base: "a", example: "10 a (years) or 90 d",
		accepts: []conversion{{"d", 24, hoursPerYear, 0}, {"h", 1, hoursPerYear, 0}}},
	charge:         {noun: "charge", symbol: "Ah", base: "Ah", prefixed: true, largest: 9, coded: true, example: "2.5 Ah or 220 mAh"},
	percent:        {noun: "share", symbol: "%", power: -2, example: "85 %"},
	ppm:            {noun: "offset", symbol: "ppm", base: "ppm", example: "20 ppm"},
	ppmPerKelvin:   {noun: "temperature coefficient", symbol: "ppm/K", also: []string{"ppm/°C"}, base: "ppm/K", example: "100 ppm/K"},
	ppmPerKelvin2:  {noun: "curvature", symbol: "ppm/K²", also: []string{"ppm/K2", "ppm/K^2"}, base: "ppm/K²", example: "0.034 ppm/K²"},
	percentPerYear: {noun: "yearly share", symbol: "%/a", base: "1/a", power: -2, example: "3 %/a (a year)"},
	celsius: {noun: "temperature", symbol: "°C", also: []string{"℃", "C"}, base: "°C", example: "23 °C",
		accepts: []conversion{fahrenheit("°F"), fahrenheit("℉"), fahrenheit("F")}}, // F is no farad where a temperature is meant
	degrees: {noun: "angle", symbol: "°", also: []string{"deg"}, base: "°", example: "90°"},
	dialMinutes: {noun: "dial time", symbol: "min", base: "min", example: "3.5 min or 30 s",
		accepts: []conversion{{"s", 1, 60, 0}, {"h", 60, 1, 0}}},
	ppmPerPicofarad:  {noun: "load sensitivity", symbol: "ppm/pF", base: "ppm/pF", example: "-9.3 ppm/pF"},
	secondsPerDay:    {noun: "rate", symbol: "s/day", also: []string{"s/d"}, base: "s/day", example: "-1.9 s/day"},
	ohmsPerVolt:      {noun: "sensitivity", symbol: "Ω/V", also: []string{"\u2126/V", "Ohm/V", "ohm/V", "ohms/V", "ohms per volt", "R/V"}, base: "Ω/V", prefixed: true, largest: 9, coded: true, example: "1 kΩ/V or 20 000 Ω/V"},
	percentPerSecond: {noun: "speed", symbol: "%/s", base: "1/s", power: -2, example: "320 %/s (of the scale, a second)"},
}

// prefixes as printed, from femto, three powers of ten apart; the empty one in the middle is none.
var prefixes = [...]string{"f", "p", "n", "µ", "m", "", "k", "M", "G"}

// prefixPower returns the power of ten of a typed prefix letter.
func prefixPower(letter rune) (int, bool) {
	switch letter {
	case 'f':
		return -15, true
	case 'p':
		return -12, true
	case 'n':
		return -9, true
	case '\u00b5', '\u03bc', 'u':
		return -6, true
	case 'm':
		return -3, true
	case 'k', 'K':
		return 3, true
	case 'M':
		return 6, true
	case 'G':
		return 9, true
	}
	return 0, false
}

// spells reports whether text is the row's symbol, without a prefix.
func (r *row) spells(text string) bool {
	if text == r.symbol {
		return true
	}
	for _, other := range r.also {
		if text == other {
			return true
		}
	}
	return false
}

// lookup finds what a typed unit means: its power of ten and a conversion to apply after it.
// The unit's own symbols go before prefix letters, so that "60 s" is seconds and "5 m" is milli.
func (r *row) lookup(text string) (power int, by conversion, found bool) {
	if r.spells(text) {
		return r.power, same, true
	}
	for _, by := range r.accepts {
		if text == by.symbol {
			return 0, by, true
		}
	}
	if !r.prefixed {
		return 0, same, false
	}
	letter, size := utf8.DecodeRuneInString(text)
	power, found = prefixPower(letter)
	return power, same, found && (size == len(text) || r.spells(text[size:]))
}

// pointLetter returns the power of ten of a letter that stands for the decimal point at the start of text,
// and its length; 0 if there is none. IEC 60062 has the prefixes and R; V, A and the like are common practice.
func (r *row) pointLetter(text string) (power, size int) {
	if !r.coded {
		return 0, 0
	}
	letter, size := utf8.DecodeRuneInString(text)
	if size == len(text) || !isDigit(text[size]) {
		return 0, 0
	}
	if r.spells(text[:size]) {
		return 0, size
	}
	if power, found := prefixPower(letter); found {
		return power, size
	}
	return 0, 0
}

// respell returns the ways to write a unit of this kind that differ from text only in capitals.
func (r *row) respell(text string) []string {
	var found []string
	for _, by := range r.accepts {
		if strings.EqualFold(text, by.symbol) {
			found = append(found, by.symbol)
		}
	}
	for i := range prefixes {
		prefix := prefixes[(i+5)%len(prefixes)] // none first
		if prefix != "" && !r.prefixed {
			continue
		}
		for _, symbol := range append([]string{r.symbol}, r.also...) {
			if symbol != "" && strings.EqualFold(text, prefix+symbol) {
				found = append(found, prefix+r.symbol)
				break
			}
		}
	}
	return found
}

// foreign names what a unit of another kind measures; "" if no kind knows it.
func foreign(text string) string {
	for i := range kinds {
		r := &kinds[i]
		if _, _, found := r.lookup(text); found && text != "" && !isPrefix(text) {
			return r.noun
		}
	}
	return ""
}

// isPrefix reports whether text is a prefix letter alone, which every kind would take for its own.
func isPrefix(text string) bool {
	letter, size := utf8.DecodeRuneInString(text)
	_, found := prefixPower(letter)
	return found && size == len(text)
}
