package survey

import "math"

// mostSteps is how many connections go further: with one at the end, and one after the leads
// were turned round, a survey makes at most 20.
const mostSteps = 18

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
