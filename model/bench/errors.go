package bench

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A kind says what a reading gives.
type kind uint8

const (
	number  kind = iota
	over         // beyond the end
	under        // below the needle's lower stop
	nothing      // too little to be told from none
	word
	foreign // of no point of this build
	unread  // nothing, or nothing that can be read
)

// An instrument is what a reading is taken with, and so how far it may be off.
type instrument uint8

const (
	eye      instrument = iota // at a needle's place, tapped
	untapped                   // the same without tapping
	moving                     // at how far a needle moves
	tapping                    // at how far it moves when tapped
	volts
	ohms
	amps
	hertz
	levels  // an AC range, which is judged in levels alone
	flashes // a watch, over a hundred flashes
	days    // a good clock, over days
	counter // a frequency counter
	words   // nothing: it is seen
)

// Limits of the eye, shares of the scale, and of clocks. The contract's own.
const (
	eyeTapped  = 0.015
	eyeMoves   = 0.01
	eyeTaps    = 0.005
	tickLimit  = 0.3 / 100 // s
	driftLimit = 1.0       // s
	daysTaken  = 3         // that a drift is watched for, where it is not said
	ppmCounter = 2e-6
	leastLevel = 5e-3 // V, below which no AC range is believed
)

// displayed is the number of counts of the display.
const displayed = 4000

// lastDigit is what the last digit of the display means at a value, in its unit: the
// smallest range that shows it, and no range below the least.
func lastDigit(x, least float64) float64 {
	top := least
	for top < math.Abs(x) && top < 1e12 {
		top *= 10
	}
	return top / displayed
}

// leastRange is below any reading that is told from none.
func (in instrument) leastRange() float64 {
	switch in {
	case volts, levels:
		return 4e-3
	case ohms:
		return 0.4
	case amps:
		return 0.4e-6
	}
	return 0.04
}

// limit is how far a reading of a value may be off at most, given what its last digit
// means, NaN where it is the display's.
func (in instrument) limit(m *model.Multimeter, x, digit float64, stick float64) float64 {
	switch in {
	case eye:
		return eyeTapped
	case untapped:
		return eyeTapped + stick
	case moving:
		return eyeMoves
	case tapping:
		return eyeTaps
	case flashes:
		return tickLimit
	case days:
		if math.IsNaN(digit) {
			return driftLimit / daysTaken
		}
		return driftLimit * digit
	case counter:
		return ppmCounter * math.Abs(x)
	}
	shown := lastDigit(x, in.leastRange())
	if math.IsNaN(digit) {
		digit = shown
	}
	return math.Abs(x)*in.share(m) + float64(m.Digits)*shown + digit/2
}

// share is how far the multimeter may be off, of its reading.
func (in instrument) share(m *model.Multimeter) float64 {
	switch in {
	case volts, levels:
		return m.Volts.Number
	case ohms:
		return m.Ohms.Number
	case amps:
		return m.Amps.Number
	case hertz:
		return m.Hertz.Number
	}
	return 0
}

// nothing is below what a reading counts as none.
func (in instrument) nothing() float64 {
	switch in {
	case volts, levels:
		return 5e-3
	case ohms:
		return 0.5
	case amps:
		return 0.5e-6
	case eye, untapped:
		return eyeTapped
	case moving:
		return eyeMoves
	case tapping:
		return eyeTaps
	}
	return 0
}

// written is the instrument whose readings are written down alike: they may be taken for
// one another.
func (in instrument) written() instrument {
	switch in {
	case levels:
		return volts
	case untapped:
		return eye
	}
	return in
}

// noneOf is what a reading of none is: too little to be told from it on the multimeter, and
// a number for the eye.
func (in instrument) noneOf() kind {
	switch in {
	case volts, ohms, amps:
		return nothing
	}
	return number
}

// writtenDigit is what the last digit of a text means in the unit of the value that was
// read from it, NaN where that cannot be told.
func writtenDigit(text string, value float64) float64 {
	number := strings.TrimLeft(strings.TrimSpace(text), "+-−")
	end := strings.IndexFunc(number, func(r rune) bool { return (r < '0' || r > '9') && r != '.' && r != ',' })
	if end < 0 {
		end = len(number)
	}
	digits := strings.ReplaceAll(number[:end], ",", ".")
	v, err := quantity.Parse(digits, quantity.Times)
	if err != nil || v.Number == 0 || value == 0 {
		return math.NaN()
	}
	_, fraction, _ := strings.Cut(digits, ".")
	return math.Abs(value) / v.Number * math.Pow10(-len(fraction))
}
