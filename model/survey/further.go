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
	best, most := d.strongest(s, 1.5)
	if d.mayTakeNine(s) && !d.noNine {
		if _, by9 := d.strongest(s, 9); by9 >= worthIt*max(most, d.through(s.at)) && d.hasNine() {
			if nine, by9 := d.strongest(s, 9); by9 > most {
				best, most = nine, by9
			}
		}
	}
	return best, most > worthIt*d.through(s.at)
}

// worthIt is how much more current makes another connection worth it.
const worthIt = 1.25

// strongest is the connection to a source with the most current that the rules allow.
func (d *dialogue) strongest(s *state, volts float64) (best Connection, most float64) {
	for _, r := range nominals {
		c := Connection{volts, r}
		if volts == 9 && r < leastOfNine {
			continue
		}
		if s.upper*d.rise(s, c) <= mostDriven && d.through(c) > most {
			best, most = c, d.through(c)
		}
	}
	return best, most
}

// leastOfNine is the least resistor on 9 V, Ω.
const leastOfNine = 1e3

// mayTakeNine says whether 9 V are allowed: the terminals show enough resistance, and the
// needle is under half.
func (d *dialogue) mayTakeNine(s *state) bool {
	return len(s.ohms) > 0 && s.ohms[len(s.ohms)-1].low > 900 && s.share < 0.5
}

// mostDriven is how far up the scale a needle may be brought at most.
const mostDriven = 0.95

// hasNine asks for the 9 V block when it is wanted first.
func (d *dialogue) hasNine() bool {
	if _, known := d.sources[9]; !known && !d.noNine {
		d.noNine = !d.source(9, nil, 0)
	}
	return !d.noNine
}
