package survey

import (
	"fmt"
	"math"

	"example.com/needlewright/model/quantity"
)

// mostSteps is how many connections go further: with one at the end, and one after the leads
// were turned round, a survey makes at most 20.
const mostSteps = 18

// A state is how far the connections have come.
type state struct {
	at     Connection
	upper  float64 // share of the movement's full-scale current that may flow now
	share  float64 // of the scale, as it was read from the rest; 0 of none
	low    float64 // Ω, what the terminals have at least: 0 until two readings agree
	ohms   []bounds
	nine   bool // there is a 9 V block
	asked9 bool
}

// bounds are what a reading of the terminals leaves of their resistance, Ω.
type bounds struct{ low, high float64 }

// connect goes from the least current up until the needle tells enough.
func (d *dialogue) connect() *Verdict {
	if !d.source(1.5, nil, 0) {
		return stop("The first connection wants a cell of 1.5 V: anything more may be too much.")
	}
	s := &state{at: Connection{1.5, 1e6}}
	for range mostSteps {
		if v := d.needle(s); v != nil {
			return v
		}
		if d.wantsTerminals(s) {
			if v := d.terminals(s); v != nil {
				return v
			}
		}
		next, ok := d.further(s)
		if !ok {
			break
		}
		s.at = next
	}
	return d.settle(s)
}

// wantsTerminals says whether volts at the terminals tell something now: at the first
// connection, whether there is a coil at all; where the needle has begun to move, what it
// stands behind; and before any further step of a needle that does not move.
func (d *dialogue) wantsTerminals(s *state) bool {
	switch len(s.ohms) {
	case 0:
		return true
	case 1:
		return s.share > 0.04 || s.at.Series < 5e3
	}
	return s.share == 0 && s.at.Series < 1e3 && s.at.Series > 60
}

// settle takes what is still missing where the survey has come to its end: volts at the
// terminals, and the resistor.
func (d *dialogue) settle(s *state) *Verdict {
	ohms := d.terminalOhms()
	if v := d.again(s); v != nil {
		return v
	}
	if s.at.Series < leastMeasured {
		d.source(s.at.Volts, &s.at, d.current(s))
		return d.terminals(s)
	}
	if s.at.Series > ohms/3 {
		d.resistor(s.at.Series)
		return d.terminals(s)
	}
	best := s.at.Series // the terminals were read best behind what is like them
	for _, r := range d.readings {
		if r.terminals && math.Abs(math.Log(r.at.Series/ohms)) < math.Abs(math.Log(best/ohms)) {
			best = r.at.Series
		}
	}
	d.resistor(best)
	return nil
}

// again reads the needle once more where that tells most: at about half the current, which
// tells its law (half is linear, a quarter square, and anything else uneven), where it came
// far up; at about the same where it did not, and where resistors count as marked at the
// next, so that the eye's error and theirs do not stand alone.
func (d *dialogue) again(s *state) *Verdict {
	part := 2.0
	switch {
	case s.at.Series < leastMeasured:
		part = 1.5
	case s.share > 0 && s.share < enough && s.at.Series < d.terminalOhms()/3:
		part = 1.0
	case s.share < 0.3:
		return nil
	}
	last := d.through(s.at)
	off := func(c Connection) float64 { return math.Abs(math.Log(d.through(c) / last * part)) }
	best := Connection{}
	for _, r := range nominals {
		c := Connection{s.at.Volts, r}
		if c != s.at && d.through(c) < last && (best.Series == 0 || off(c) < off(best)) {
			best = c
		}
	}
	for _, r := range d.readings {
		if best.Series == 0 || !r.terminals && r.word == "" && r.at != s.at && off(r.at) < 0.25 {
			return nil
		}
	}
	was := *s
	s.at = best
	v := d.needle(s)
	*s = was
	return v
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

// How far below its rest a needle may be pressed by a current the wrong way, its stop being
// near, and how far up one may be that has not moved, of the scale.
const turned, unmoved = 0.01, 0.03

// needle asks where the needle stands at a connection, and turns the leads round where it
// presses below zero.
func (d *dialogue) needle(s *state) *Verdict {
	for {
		r := reading{at: s.at, value: math.NaN()}
		a := &Ask{Kind: "needle", Of: &Connection{s.at.Volts, s.at.Series}, Current: d.current(s), Text: called(s.at) + ". The multimeter off. Tap: where does the needle stand? none is less than 2 % from its rest."}
		a.read = func(text string) error {
			switch text {
			case "none", "below", "over":
				r.word = text
				return nil
			}
			v, err := share(text)
			if err == nil && !(v >= -0.3 && v <= 1.3) {
				err = fmt.Errorf("%q is not on the scale; write 12 %%, none, below or over", text)
			}
			r.value = v
			return err
		}
		if !d.ask(a) {
			v := stop("Where the needle stands was left out: no more can be told.")
			v.Verdict = Partly
			return v
		}
		moved := d.moved(&r)
		switch {
		case r.word == "over":
			return stop("The needle is over at a current that no meter of the answers before would be over at. Take the leads off, and begin again.")
		case r.word == "below" || moved < -turned && !d.centre() && !d.swapped:
			if d.swapped {
				return stop("The needle presses below zero both ways round: it is no meter that a clock can drive.")
			}
			d.swapped = true
			d.ask(&Ask{Kind: "swap", Text: "Take the leads off and turn them round.", read: done})
			continue
		case r.word == "none" || math.Abs(moved) < none:
			s.share, s.upper = 0, d.currentShare(unmoved/d.span())
			if r.word == "" {
				s.upper = d.currentShare(math.Abs(moved) + (eye+friction+rests)/d.span())
			}
		default:
			s.share = math.Abs(moved)
			s.upper = d.currentShare(s.share + (eye+friction+rests)/d.span())
		}
		if d.contradicts(&r) {
			if d.odd++; d.odd == 2 {
				return stop("The answers contradict each other: more current moved the needle less. Take the leads off, look whether it sticks, and begin again.")
			}
			s.upper = 1 // nothing further is safe by what was read
		}
		d.readings = append(d.readings, r)
		return nil
	}
}

// contradicts says whether a reading is less than one at less current, by more than the eye
// and friction make of both.
func (d *dialogue) contradicts(r *reading) bool {
	for n := range d.readings {
		before := &d.readings[n]
		if !before.terminals && d.through(before.at) < d.through(r.at) && math.Abs(d.moved(r)) < math.Abs(d.moved(before))-2*(eye+friction)/d.span() {
			return true
		}
	}
	return false
}

func done(s string) error {
	if s != "done" {
		return fmt.Errorf("write done when it is done")
	}
	return nil
}

// centre says whether the needle rests in the middle of its scale.
func (d *dialogue) centre() bool { return d.rest > 0.25 && d.rest < 0.75 }

// moved is how far a needle moved from its rest, of what its full scale is.
func (d *dialogue) moved(r *reading) float64 {
	if r.word != "" {
		return 0
	}
	if d.centre() {
		return (r.value - d.rest) / 0.5
	}
	return r.value - d.rest
}

// currentShare is the most of full-scale current that a share of the scale may stand for:
// the square root of it where the meter may be a moving iron.
func (d *dialogue) currentShare(y float64) float64 {
	law, known := d.law()
	switch {
	case known && law == 1 || y >= 1:
		return y
	case d.kind == "moving coil" || d.kind == "rectifier": // its scale may be uneven
		const lags = 0.3
		return y + lags*y*(1-y)
	}
	return math.Sqrt(y)
}

// law is the power of the current that the needle follows, by two readings that are far
// enough apart; known is false without.
func (d *dialogue) law() (power float64, known bool) {
	const told, apart = 0.08, 1.6 // of the scale; times the current
	var least, most *reading
	for n := range d.readings {
		r := &d.readings[n]
		switch {
		case r.terminals || r.word != "" || math.Abs(d.moved(r)) < told:
		case least == nil:
			least, most = r, r
		case d.through(r.at) > d.through(most.at):
			most = r
		case d.through(r.at) < d.through(least.at):
			least = r
		}
	}
	if least == nil || d.through(most.at) < apart*d.through(least.at) {
		return 1, false
	}
	return nearest(math.Log(math.Abs(d.moved(most)/d.moved(least))) / math.Log(d.through(most.at)/d.through(least.at))), true
}

// nearest is the law's power that is nearest: linear or square; 0 of neither.
func nearest(power float64) float64 {
	switch {
	case power > 0.75 && power < 1.3:
		return 1
	case power > 1.6 && power < 2.5:
		return 2
	}
	return 0
}

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
	if len(s.ohms) == 0 && b.low > 20e6 {
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
