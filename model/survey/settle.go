package survey

import (
	"math"
	"slices"
)

// settle reads what makes the bands narrowest, until they are narrow enough: the needle or
// the terminals at a connection, or a resistor.
func (d *dialogue) settle(s *state) *Verdict {
	if s.at.Series < leastMeasured {
		d.source(s.at.Volts, &s.at, d.current(s))
	}
	half, known := d.half(s)
	if known {
		if v := d.aside(s, task{at: half}); v != nil {
			return v
		}
	}
	for !d.leftOut {
		p := d.posterior()
		widest := 0.0
		if d.isWithinReach(&p) {
			widest = p.fullScale.half()
		}
		count := len(d.readings) + d.besides
		isEnough := widest <= wanted || count >= long && widest <= bearable
		if isEnough && p.resistance.half() <= ofResistance || count >= longest {
			return nil
		}
		next, ok := d.plan(&p).best(d.tasks(s))
		if !ok {
			return nil
		}
		if v := d.aside(s, next); v != nil {
			return v
		}
	}
	return nil
}

// doubt asks once more for one reading where they do not fit together, for one of them is a
// slip: the one without which the others fit best. What is said then counts.
func (d *dialogue) doubt(s *state) *Verdict {
	if _, ok := d.fit(d.readings); ok {
		return nil
	}
	was, leftOut := d.readings, d.leftOut
	without := func(n int) []reading { return slices.Delete(slices.Clone(was), n, n+1) }
	slip, least := 0, math.Inf(1)
	for n := range was {
		if off, _ := d.fit(without(n)); off < least {
			slip, least = n, off
		}
	}
	d.readings = without(slip)
	d.because = "This does not fit what was read besides. Look at the resistor and the leads, and read once more. "
	v := d.aside(s, task{at: was[slip].at, terminals: was[slip].terminals})
	if len(d.readings) < len(was) { // it was skipped
		d.readings, d.leftOut = was, leftOut
	}
	return v
}

// fit is how well readings fit the likeliest meter.
func (d *dialogue) fit(readings []reading) (off float64, ok bool) {
	of := *d
	of.readings, of.weighed = readings, map[int]posterior{}
	p := of.posterior()
	rest, unsure := of.likelyRest()
	return newWeigher(of.seen(rest), of.span(), unsure/of.span(), of.dial()).fit(&of.plan(&p).m)
}

// isWithinReach says whether more readings tell full scale: the needle comes far enough up, or
// the dial does not say it and the band is not wide open.
func (d *dialogue) isWithinReach(p *posterior) bool {
	return d.farthest() >= wellMoved || d.hasMoved() && p.fullScale.half() < tells && !d.byDial(*p).IsKnown()
}

// half is where about half of the current flows that flows now: half of the place is a linear
// law, a quarter a square one. It is not wanted where two readings stand so already, or the
// needle has not come far.
func (d *dialogue) half(s *state) (c Connection, wanted bool) {
	if s.share < 0.3 {
		return c, false
	}
	now := d.through(s.at)
	off := func(c Connection) float64 { return math.Abs(math.Log(2 * d.through(c) / now)) }
	for n := range d.readings {
		if r := &d.readings[n]; !r.terminals && r.word == "" && off(r.at) < 0.3 {
			return c, false
		}
	}
	c = s.at
	for _, r := range nominals {
		if other := (Connection{s.at.Volts, r}); off(other) < off(c) {
			c = other
		}
	}
	return c, c != s.at
}

// aside does a task, and comes back to where the survey stood where that let less through.
func (d *dialogue) aside(s *state, t task) *Verdict {
	if t.resistor {
		d.resistor(t.at.Series)
		return nil
	}
	was := *s
	s.at = t.at
	v := (*Verdict)(nil)
	if t.terminals {
		before := len(d.readings)
		if v = d.terminals(s); len(d.readings) == before {
			d.besides++
		}
	} else {
		v = d.needle(s)
	}
	if t.terminals || d.through(t.at) < d.through(was.at) {
		s.at, s.upper, s.share = was.at, was.upper, was.share
	}
	return v
}

// tasks are what may be read next: at any connection that the rules allow, and the resistors
// there.
func (d *dialogue) tasks(s *state) []task {
	var all []task
	for _, c := range d.allowed(s) {
		all = append(all, task{at: c, terminals: true})
		if d.hasMoved() {
			all = append(all, task{at: c})
		}
	}
	for n := range d.readings {
		c := d.readings[n].at
		if _, known := d.series[c.Series]; !known && !d.asMarked && c.Series >= leastMeasured {
			all = append(all, task{at: c, resistor: true})
		}
	}
	return all
}

// allowed are the connections that the rules allow after the one that stands: those that
// were, and those at which the needle cannot come too far up.
func (d *dialogue) allowed(s *state) []Connection {
	var all []Connection
	for _, volts := range []float64{1.5, 9} {
		if _, known := d.sources[volts]; !known || volts == 9 && s.at.Volts != 9 && !d.mayTakeNine(s) {
			continue
		}
		for _, r := range nominals {
			c := Connection{volts, r}
			if volts == 9 && r < leastOfNine {
				continue
			}
			was := slices.ContainsFunc(d.readings, func(r reading) bool { return r.at == c })
			if was || s.upper*d.rise(s, c) <= mostDriven && (s.share > 0 || d.through(c) <= d.through(s.at)) {
				all = append(all, c)
			}
		}
	}
	return all
}
