package survey

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"example.com/needlewright/model/quantity"
)

// byDial is full scale by the dial's word, where the readings do not contradict it: volts
// over the terminals' resistance. A dial in amperes confirms nothing unless the needle moved.
func (d *dialogue) byDial(p posterior) Value {
	const class, movedEnough = 0.05, 0.04
	if !strings.ContainsFunc(d.marked, unicode.IsLetter) { // a number without its unit says nothing
		return nothing
	}
	if volts, err := quantity.ParsePlain(d.marked, quantity.Volts); err == nil && volts.Number > 0 && p.resistance.IsKnown() {
		half := math.Hypot(class, (p.resistance.High-p.resistance.Low)/2/p.resistance.Value)
		return p.agree(volts.Number/p.resistance.Value, half)
	}
	if amps, err := quantity.ParsePlain(d.marked, quantity.Amperes); err == nil && amps.Number > 0 && d.farthest() >= movedEnough {
		return p.agree(amps.Number, class)
	}
	return nothing
}

// agree is a value with its band, where what was measured allows it.
func (p *posterior) agree(value, half float64) Value {
	if half > 0.08 || value < p.fullScale.Low || value > p.fullScale.High {
		return nothing
	}
	return Value{value, value * (1 - half), value * (1 + half)}
}

// sourceName tells sources apart whose errors are their own.
func sourceName(d *dialogue, c Connection) string {
	if _, ok := d.loaded[c]; ok {
		return quantityName(c.Volts) + " at " + quantityName(c.Series)
	}
	return quantityName(c.Volts)
}

func quantityName(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
