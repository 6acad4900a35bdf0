package survey

import "math"

// mostSteps is how many connections go further: with one at the end, and one after the leads
// were turned round, a survey makes at most 20.
const mostSteps = 18

// connect goes from the least current up until the needle tells enough.
func (d *dialogue) connect() *Verdict {
	if !d.source(1.5, nil, 0) {
		v := stop("Nothing was connected: the first connection is one single cell of 1.5 V (AA, AAA, C or D), since a block of 9 V may be too much for a meter that nobody knows. Get one, and go on from here; the block serves later.")
		v.Verdict = Partly
		return v
	}
	s := &state{at: Connection{1.5, 1e6}, high: math.Inf(1)}
	for range mostSteps {
		if v := d.needle(s); v != nil {
			return v
		}
		if d.leftOut {
			return nil
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
	if v := d.settle(s); v != nil || d.leftOut {
		return v
	}
	return d.doubt(s)
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
