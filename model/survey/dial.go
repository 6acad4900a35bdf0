package survey

import (
	"math"
	"strings"
	"unicode"

	"example.com/needlewright/model/quantity"
)

// A marked is what the dial says: amperes or volts at full scale, 0 where it does not.
type marked struct{ amps, volts float64 }

// dial is what the dial says; nil where that is nothing.
func (d *dialogue) dial() *marked {
	if !strings.ContainsFunc(d.marked, unicode.IsLetter) { // a number without its unit says nothing
		return nil
	}
	if volts, err := quantity.ParsePlain(d.marked, quantity.Volts); err == nil && volts.Number > 0 {
		return &marked{volts: volts.Number}
	}
	if amps, err := quantity.ParsePlain(d.marked, quantity.Amperes); err == nil && amps.Number > 0 {
		return &marked{amps: amps.Number}
	}
	return nil
}

// mean is what a rectifier makes of the volts that its dial says, of a sine: 2·√2/π.
const mean = 2 * math.Sqrt2 / math.Pi

// off is by how much a meter is off what the dial says, a logarithm.
func (k *marked) off(m *meter) float64 {
	switch {
	case k.amps > 0:
		return math.Log(m.fullScale / k.amps)
	case m.drop > 0:
		return math.Log(m.fullScale * m.ohms / k.volts / mean)
	}
	return math.Log(m.fullScale * m.ohms / k.volts)
}

// log is the logarithm of how likely a meter is by the dial's word. Of ten dials seven are
// right within their class, two have drifted, and one is of another meter or of a multiplier
// or shunt outside, which may be anything within some decades. Common practice, no source.
func (k *marked) log(m *meter) float64 {
	if k == nil {
		return 0
	}
	off, anything := k.off(m), 0.15/10
	return math.Log(0.65*bell(off, 0.02) + 0.2*bell(off, 0.08) + anything)
}

// bell is the density of a normal spread at x from its middle.
func bell(x, deviation float64) float64 {
	return math.Exp(-x*x/2/deviation/deviation) / deviation / math.Sqrt(2*math.Pi)
}

// byDial is full scale by the dial's word, where the readings do not contradict it: volts
// over the terminals' resistance. A dial in amperes confirms nothing unless the needle moved.
func (d *dialogue) byDial(p posterior) Value {
	const class, movedEnough = 0.05, 0.04
	dial := d.dial()
	switch {
	case dial == nil:
	case dial.volts > 0 && p.resistance.IsKnown():
		half := math.Hypot(class, (p.resistance.High-p.resistance.Low)/2/p.resistance.Value)
		volts := dial.volts
		if p.rectifier > 0.5 {
			volts *= mean
		}
		return p.agree(volts/p.resistance.Value, half)
	case dial.amps > 0 && d.farthest() >= movedEnough:
		return p.agree(dial.amps, class)
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
