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

// mostDrop is the most that two diodes of silicon take, V. Common practice, no source.
const mostDrop = 1.4

// mayRectify says whether a rectifier may be inside.
func (d *dialogue) mayRectify() bool {
	return d.kind != "moving coil" && d.kind != "moving iron" && d.kind != "thermal"
}

// boundsOf are what a reading of the terminals leaves of their resistance, Ω.
func (d *dialogue) boundsOf(r *reading) bounds {
	v, rs, t := d.volts(r.at), d.ohms(r.at.Series), ofMeter(r.value)
	of := func(volts, series, terminals float64) float64 {
		if terminals >= volts {
			return math.Inf(1)
		}
		return behindInput(max(0, series*terminals/(volts-terminals)))
	}
	b := bounds{low: of(v.value+v.half, rs.value-rs.half, max(0, t.value-t.half)), high: of(v.value-v.half, rs.value+rs.half, t.value+t.half)}
	b.least = b.low
	if d.mayRectify() {
		b.least *= max(0, 1-mostDrop/max(t.value, mostDrop))
	}
	return b
}

// current is the most that can pass the movement of any meter that the answers so far
// allow, A.
func (d *dialogue) current(s *state) float64 {
	v, r := d.volts(s.at), d.ohms(s.at.Series)
	return (v.value + v.half) / (r.value - r.half + s.low)
}

// called is a connection in words, drawn in text.
func called(c Connection) string {
	return fmt.Sprintf("%v V ── %s ── meter ── back to the source", c.Volts, quantity.Show(c.Series, quantity.Ohms, 2))
}

// rise is the largest possible rise of the current from where it is to a connection. Of more
// resistance at the terminals a larger source makes more, of less a smaller resistor.
func (d *dialogue) rise(s *state, c Connection) float64 {
	v, r := d.volts(s.at), d.ohms(s.at.Series)
	w, q := d.volts(c), d.ohms(c.Series)
	from, to := r.value+r.half, q.value-q.half
	ohms := (from + s.low) / (to + s.low)
	if math.IsInf(s.high, 1) {
		ohms = max(ohms, 1)
	} else {
		ohms = max(ohms, (from+s.high)/(to+s.high))
	}
	return (w.value + w.half) / (v.value - v.half) * ohms
}

// lastTerminals are the volts at the terminals as they were read last.
func (d *dialogue) lastTerminals() float64 {
	for n := len(d.readings) - 1; n >= 0; n-- {
		if d.readings[n].terminals {
			return d.readings[n].value
		}
	}
	return 0
}
