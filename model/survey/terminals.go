package survey

import (
	"fmt"
	"math"

	"example.com/needlewright/model/quantity"
)

// through is about what flows into the terminals at a connection, A.
func (d *dialogue) through(c Connection) float64 {
	return d.volts(c).value / (d.ohms(c.Series).value + d.terminalOhms())
}

// terminalOhms is about what the terminals have, Ω, by the last reading of them.
func (d *dialogue) terminalOhms() float64 {
	for n := len(d.readings) - 1; n >= 0; n-- {
		if r := &d.readings[n]; r.terminals {
			v, rs := d.volts(r.at).value, d.ohms(r.at.Series).value
			return behindInput(rs * r.value / max(v-r.value, 1e-9))
		}
	}
	return 0
}

// behindInput is a resistance without the multimeter's input across it, Ω.
func behindInput(together float64) float64 {
	if together >= 0.999*input {
		return math.Inf(1)
	}
	return together * input / (input - together)
}

// terminals asks for the volts at the terminals, and what they leave of the resistance.
func (d *dialogue) terminals(s *state) *Verdict {
	r := reading{at: s.at, terminals: true}
	a := &Ask{Kind: "terminals", Of: &Connection{s.at.Volts, s.at.Series}, Current: d.current(s), Text: called(s.at) + ". DC at the meter's terminals, the multimeter across them."}
	a.read = func(text string) error {
		if text == "none" {
			r.value = 0
			return nil
		}
		v, err := quantity.ParsePlain(text, quantity.Volts)
		if err == nil && (v.Number < -0.1 || v.Number > 1.3*s.at.Volts) {
			err = fmt.Errorf("%q is more than the source gives; look at the leads, and measure again", text)
		}
		r.value = math.Abs(v.Number)
		return err
	}
	if !d.ask(a) {
		return nil
	}
	d.readings = append(d.readings, r)
	b := d.boundsOf(&r)
	if len(s.ohms) == 0 && b.low > nothingThrough {
		return stop("No current flows through: an open coil or a loose lead.")
	}
	for _, other := range s.ohms {
		if low, high := max(b.low, other.low), min(b.high, other.high); low <= high { // two agree
			s.low = max(s.low, min(b.low, other.low))
		}
	}
	s.ohms = append(s.ohms, b)
	return nil
}

// nothingThrough is more than any meter has, Ω: 500 V at 25 µA are 20 MΩ, of which a reading
// leaves no more than 12 MΩ as its least.
const nothingThrough = 15e6

// boundsOf are what a reading of the terminals leaves of their resistance, Ω.
func (d *dialogue) boundsOf(r *reading) bounds {
	v, rs, t := d.volts(r.at), d.ohms(r.at.Series), ofMeter(r.value)
	of := func(volts, series, terminals float64) float64 {
		if terminals >= volts {
			return math.Inf(1)
		}
		return behindInput(max(0, series*terminals/(volts-terminals)))
	}
	return bounds{of(v.value+v.half, rs.value-rs.half, max(0, t.value-t.half)), of(v.value-v.half, rs.value+rs.half, t.value+t.half)}
}
