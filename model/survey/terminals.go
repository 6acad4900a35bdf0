package survey

import (
	"fmt"
	"math"
	"strings"
)

// terminals asks for the volts at the terminals, and what they leave of the resistance.
func (d *dialogue) terminals(s *state) *Verdict {
	r := reading{at: s.at, terminals: true}
	a := &Ask{Kind: "terminals", Of: &Connection{s.at.Volts, s.at.Series}, Current: d.current(s), Text: called(s.at) + ". DC at the meter's terminals, the multimeter across them." + d.onceMore(s.at, true)}
	a.read = func(text string) error {
		r.text = text
		if text == "none" {
			r.value, r.text = 0, "0 V"
			return nil
		}
		v, err := inVolts(text, "13.2 mV")
		if err == nil && v.Number != 0 && !strings.ContainsAny(text, "vV") { // a multimeter may show either
			err = fmt.Errorf("%q: mV or V? write it with its unit, as 13.2 mV or 0.31 V", text)
		}
		if err == nil && (v.Number < -0.1 || v.Number > 1.3*s.at.Volts) {
			err = fmt.Errorf("%q is more than the source gives; look at the leads, and measure again", text)
		}
		r.value = math.Abs(v.Number)
		return err
	}
	if !d.askAgain(a) {
		return nil
	}
	d.readings = append(d.readings, r)
	b := d.boundsOf(&r)
	if len(s.ohms) == 0 && b.low > nothingThrough {
		return stop("No current flows through: an open coil or a loose lead.")
	}
	for _, other := range s.ohms {
		if low, high := max(b.low, other.low), min(b.high, other.high); low <= high { // two agree
			s.low, s.high = max(s.low, min(b.least, other.least)), min(s.high, max(b.high, other.high))
		}
	}
	s.ohms = append(s.ohms, b)
	return nil
}

// onceMore says that a connection was read before, "" where it was not.
func (d *dialogue) onceMore(at Connection, terminals bool) string {
	for _, r := range d.readings {
		if r.at == at && r.terminals == terminals {
			return " It was read so before: once more, the leads taken off and put on again, narrows what is known."
		}
	}
	return ""
}

// nothingThrough is more than any meter has, Ω: 500 V at 25 µA are 20 MΩ, of which a reading
// leaves no more than 12 MΩ as its least.
const nothingThrough = 15e6
