// Package measure says how to find out what an unknown meter is without hurting it: in
// steps, with the source to take and the resistor to begin with.
package measure

import (
	"fmt"
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// What the steps reckon with. Common practice, no source.
const (
	cellMost      = 1.7   // V of a fresh alkaline or zinc cell
	mostSensitive = 10e-6 // A, the full scale of the most sensitive meter that a pin drives
	firstShare    = 0.2   // of that, at most, with the first resistor
	knownShare    = 0.5   // of a full scale that is known: twice the resistance reckoned with
	off           = 0.05  // of a resistor as marked
	leastSeries   = 100.0 // Ω: where nothing moves with it, no coil is there to be found
)

// goOnBelow is the share of the scale below which the next smaller resistor may be
// taken, though the needle follow the square of the current and be misread by 4.5 % of
// the scale: the current rises by less than 2.5 times.
const goOnBelow = 0.1

// A Meter is what is known of a meter that is to be measured: its origin and whether it is
// out of its set, as the file has them, and its full scale, A, NaN where it is not known.
type Meter struct {
	Origin, Removed string
	FullScale       float64
}

// FromASet says whether a meter of this origin may still hang in something that can hurt.
func FromASet(origin string) bool {
	return slices.Contains([]string{"mains", "high voltage", "vehicle"}, origin)
}

// Steps returns how to find the value of a field, by its path, in steps; nil where there is
// nothing to say of it. A meter that is not known to be out of its set is not measured.
func Steps(path string, m Meter) []string {
	inItsSet := FromASet(m.Origin) && m.Removed != "yes"
	switch path {
	case "hand.meter.marked":
		return dial
	case "rail.voltage":
		return rail
	case "hand.meter.full_scale":
		if inItsSet {
			return leave
		}
		return append(upToTheMark(), "Then the multimeter's leads go back to volts.")
	case "hand.meter.coil":
		if inItsSet {
			return leave
		}
		return coil(m.FullScale)
	}
	return nil
}

// Steps of which no number depends on the meter.
var (
	dial = []string{
		"At the end of the scale or below it stands a range with its unit, such as 30 V, 1 mA or 100 µA: write it as it stands.",
		"It is kept beside what you measure, and nothing is reckoned from it: with a resistor or a shunt inside, the coil's own full scale is another.",
	}
	rail = []string{
		"The rail is what feeds the controller: a pin that is high gives this voltage.",
		"Clock awake and lamps on, the multimeter on volts from the controller's supply pin to its ground.",
		"Not built yet: what its regulator, step-up board or plug-in supply is sold for, such as 5 V or 3.3 V.",
	}
	leave = []string{
		"It is not measured while it is in its set, or while anything else hangs on its terminals: taking it out is for licensed practice, by local codes.",
		"Until it is out, choose that you do not know: a usual value stands in its place, marked ?.",
	}
)

// First returns the resistor, Ω, to begin with at one 1.5 V cell, and the most current,
// A, that it lets through a meter, whatever its coil is: for a meter of this full scale,
// A, or, where that is NaN, for one that may be as sensitive as 10 µA.
func First(fullScale float64) (series, current float64) {
	most := knownShare * fullScale
	if math.IsNaN(fullScale) {
		most = firstShare * mostSensitive
	}
	least := calc.Multiplier(cellMost, most, 0) // no coil at all
	series = calc.NextPreferred(least/(1-off), calc.E3, true)
	return series, upwards(cellMost / (series * (1 - off)))
}

// upwards is a number with two digits, and no less.
func upwards(x float64) float64 {
	digit := math.Pow(10, math.Floor(math.Log10(x))-1)
	return math.Ceil(x/digit) * digit
}

// next returns the next smaller resistor, Ω: the current rises to about twice.
func next(series float64) float64 { return calc.NextPreferred(series, calc.E3, false) }

// upToTheMark is how to bring an unknown needle to its last mark, the multimeter in the
// row.
func upToTheMark() []string {
	first, current := First(math.NaN())
	second := next(first)
	return []string{
		free,
		fmt.Sprintf("First a fresh 1.5 V cell, a resistor of %s and the meter in a row: no more than %s flow, which a meter of %s bears. Never the cell without a resistor, and never an ohmmeter.",
			ohms(first), amperes(current), amperes(mostSensitive)),
		"If the needle moves backwards, change its two leads.",
		fmt.Sprintf("While it stands below %s of the scale, take the next smaller resistor: %s, %s, %s and so on, none left out. If nothing moves at %s either, stop: the coil is open, or a shunt is inside.",
			quantity.Show(goOnBelow, quantity.Percent, 2), ohms(second), ohms(next(second)), ohms(next(next(second))), ohms(leastSeries)),
		"From there on, put in place of the resistor a variable one as large, turned to its most, in a row with a fixed one of a tenth of it and the multimeter on milliamperes, then microamperes. Turn it down slowly until the needle is on the last mark: the multimeter says the full scale.",
	}
}

// coil is how to find the resistance of the coil of a meter with this full scale, A, NaN
// where that is not known yet.
func coil(fullScale float64) []string {
	if math.IsNaN(fullScale) {
		return append(upToTheMark(),
			"Turn the variable resistor up, take the multimeter out, its leads back to volts, close the gap, and bring the needle to the last mark again.",
			atTheCoil(1e-3), inside, toHalf)
	}
	first, current := First(fullScale)
	return []string{
		free,
		fmt.Sprintf("First a fresh 1.5 V cell, a resistor of %s and the meter in a row: no more than %s flow, %s of its full scale. Never the cell without a resistor, and never an ohmmeter.",
			ohms(first), amperes(current), quantity.Show(current/fullScale, quantity.Percent, 2)),
		"Then put in place of the resistor a variable one as large, turned to its most, in a row with a fixed one of a tenth of it. Turn it down slowly until the needle is on the last mark.",
		atTheCoil(fullScale), inside, toHalf,
	}
}

// atTheCoil is how to find it with the needle on the last mark, with the numbers of a
// full scale, A.
func atTheCoil(fullScale float64) string {
	return fmt.Sprintf("With the needle held there, the multimeter on millivolts across the meter's two terminals: this voltage over the full scale is the coil. 100 mV at %s are %s.",
		quantity.Format(quantity.Value{Number: fullScale}, quantity.Microamperes), quantity.Show(0.1/fullScale, quantity.Ohms, 3))
}

// inside is what such a voltage tells besides.
const inside = "More than 500 mV: a resistor is inside, in line with the coil. Less than 20 mV: a shunt is inside."

// toHalf is the other way, for a multimeter that does not show millivolts. With half the
// current in the coil, the shunt is less than the coil by the coil's share of the cell's
// voltage: what feeds it gives more current as the voltage across it halves. Derived;
// TestToHalf holds it.
const toHalf = "Only if the multimeter has no millivolt range: leave all as it is, the needle on its last mark, and put a second variable resistor, turned to its most, across the meter's two terminals. Turn it down until the needle is at half, take it out, and measure it alone: it is the coil less the coil's share of the cell's voltage, 7 % at 100 mV of 1.5 V."

// free is what comes before any current.
const free = "Have the meter in hand, with nothing else on its terminals, and look that the needle swings free and rests at its first mark."

func ohms(x float64) string { return quantity.Format(quantity.Value{Number: x}, quantity.Ohms) }

func amperes(x float64) string { return quantity.Show(x, quantity.Microamperes, 2) }
