package survey

// A needle that has not moved where less than so many ohms, Ω, take so much, V, may stick.
const sticksUnder, sticksFrom = 30e3, 20e-3

// Where the survey may stop: the needle is far enough up to be read well.
const enough = 0.6

// further is the next connection: the most current that the rules allow. ok is false where
// there is no more to come.
func (d *dialogue) further(s *state) (next Connection, ok bool) {
	if s.share >= enough {
		return next, false
	}
	if s.share == 0 && len(s.ohms) > 0 { // it should move by now, and does not: look whether it sticks
		if last := s.ohms[len(s.ohms)-1]; last.high < sticksUnder && d.lastTerminals() > sticksFrom {
			return next, false
		}
	}
	var best Connection
	now := d.through(s.at)
	most := now
	for _, volts := range []float64{1.5, 9} {
		if volts == 9 && !(len(s.ohms) > 0 && s.ohms[len(s.ohms)-1].low > 900 && s.share < 0.5) {
			continue
		}
		for _, r := range nominals {
			c := Connection{volts, r}
			if volts == 9 && (r < 1e3 || s.nineIsMissing(d)) {
				continue
			}
			if s.upper*d.rise(s, c) <= mostDriven && d.through(c) > most {
				best, most = c, d.through(c)
			}
		}
	}
	const worthIt = 1.25
	return best, most >= worthIt*now
}

// mostDriven is how far up the scale a needle may be brought at most.
const mostDriven = 0.95

// nineIsMissing asks for the 9 V block when it is wanted first.
func (s *state) nineIsMissing(d *dialogue) bool {
	if !s.asked9 {
		s.asked9, s.nine = true, d.source(9, nil, 0)
	}
	return !s.nine
}
