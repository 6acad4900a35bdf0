package calc

import "math"

// Overshoot returns how far past its end the needle swings after a step, as a
// share of the step: exp(-πζ/√(1-ζ²)), and 0 from critical damping on.
//
// Source: [Ogata], from memory
func (m Movement) Overshoot() float64 {
	if m.Damping >= 1 {
		return 0
	}
	return math.Exp(-math.Pi * m.Damping / math.Sqrt((1-m.Damping)*(1+m.Damping)))
}

// ImpactSpeed returns the speed, shares of the scale a second, with which a needle
// that steps from rest by step, a share of the scale over 0, first reaches a stop
// beyond, a share of the scale (0 or more), past its end; 0 where it does not
// reach it or only touches it. With the stop at the end itself it is the speed of
// passing it, ω·step·exp(-ζ/√(1-ζ²)·(π/2 + asin ζ)), 0 from critical damping on.
//
// Source: derived
func (m Movement) ImpactSpeed(step, beyond float64) float64 {
	past := beyond / step
	if m.Damping >= 1 || past >= m.Overshoot() {
		return 0
	}
	n := newRinging(m.Damping)
	if n.pass == 0 { // so near to critical damping that past is 0 too
		return 0
	}
	// At the angle a of its swing past the end it is pass/r·e^(-ka)·sin a beyond it,
	// and turns at acos ζ.
	reach := past * n.r / n.pass
	a := root(func(a float64) float64 { return reach - math.Exp(-n.k*a)*math.Sin(a) }, 0, math.Atan2(n.r, n.z))
	sin, cos := math.Sincos(a)
	return max(0, m.Frequency()*step*n.pass*math.Exp(-n.k*a)*(cos-n.k*sin))
}

// RampOvershoot returns how far past its end the needle swings, as a share of
// the whole way, when its target goes evenly from rest to the end in time
// seconds, 0 (a step) or more; 0 from critical damping on. It is the most of all
// instants: during a ramp the speed is what a step has covered by then, never
// negative, so that every needle turns for the first time after the ramp's end.
// No ramp gives more than the step does.
//
// Source: derived
func (m Movement) RampOvershoot(time float64) float64 {
	x := m.Frequency() * time
	if m.Damping >= 1 || x <= 0 {
		return m.Overshoot()
	}
	n := newRinging(m.Damping)
	share, _ := n.overshoot(x)
	return share
}

// ShortestRamp returns the time, s, of the shortest ramp from which on every
// longer one keeps RampOvershoot at or below most, a share of the way, 1e-9 <=
// most < 1; 0 where a step does already, NaN where most is less. Where the damping
// is low (below 0.036 for most = 1 %, below 0.27 for any) a shorter ramp may keep
// it too, if it lasts about a whole number of swings, so that its end stops the
// swing that its start began. A needle's period is only known to some percent:
// such a ramp is not returned. That is why the time jumps where the crest between
// two such ramps just comes to most.
//
// Source: derived
func (m Movement) ShortestRamp(most float64) float64 {
	switch {
	case !(most >= 1e-9): // NaN neither
		return math.NaN()
	case m.Overshoot() <= most:
		return 0
	}
	n := newRinging(m.Damping)
	return n.last(most) / m.Frequency()
}

// A ringing is a needle that swings, in radians of its undamped frequency: its
// damping z, its damped frequency r = √(1-z²), k = z/r, and the speed pass with
// which it first passes the end of a step of 1, half of π and asin z after it.
type ringing struct{ z, r, k, pass float64 }

func newRinging(z float64) ringing {
	r := math.Sqrt((1 - z) * (1 + z))
	return ringing{z, r, z / r, math.Exp(-z / r * (math.Pi/2 + math.Atan2(z, r)))}
}

// overshoot returns RampOvershoot for a ramp of x radians, over 0, and the slope
// of its logarithm. After the ramp's end the needle is off its end by
// (g(t) - g(t-x))/x, where g is the lag behind a ramp less its steady value: one
// swing, with the size of w = 1 - e^((-z+ir)x); the needle turns half of π, asin z
// and arg w after the ramp's end.
func (n *ringing) overshoot(x float64) (share, slope float64) {
	died := -math.Expm1(-n.z * x)
	sin, cos := math.Sincos(n.r * x / 2)
	re, im := died+2*(1-died)*sin*sin, 2*(1-died)*sin*cos
	w := math.Hypot(re, im)
	return n.pass * w / x * math.Exp(-n.k*math.Atan2(im, re)), im/w/w/n.r - 1/x
}

// last returns the last ramp, radians, that gives most, where a step gives more.
// It comes from the long ramps, turn by turn of rx, to the first crest above most
// and then to where it falls to most.
func (n *ringing) last(most float64) float64 {
	to := n.longest(most)
	for turn := math.Floor(n.r * to / (2 * math.Pi)); turn >= 1; turn-- {
		start := 2 * math.Pi * turn / n.r
		crest := n.crest(start, min(to, start+math.Pi/n.r))
		if share, _ := n.overshoot(crest); share > most {
			return n.fall(most, crest, to)
		}
		to = crest
	}
	return n.fall(most, 0, to) // the first turn has no crest
}

// longest returns a ramp, radians, beyond which none gives most: a close bound.
// None gives more than one of such a length that its end adds to the swing of its
// start as well as it can, at rx = π + asin z + asin(zE) and whole turns with E =
// e^(-zx). What that gives times x falls with x, so that each round changes the
// side, from below (no swing left of the start) to above.
func (n *ringing) longest(most float64) float64 {
	x := n.pass / most
	for range 3 {
		e := math.Exp(-n.z * x)
		ze := n.z * e
		x = n.pass / most * (math.Sqrt(1-ze*ze) + n.r*e) * math.Exp(n.k*math.Asin(ze))
	}
	return x * (1 + 1e-15) // above whatever the rounding
}

// fall returns where overshoot, above most at or after a, falls to it before b:
// Newton's method on 1/overshoot, which is all but straight for long ramps;
// halving where that leaves the bracket or starts in the hollow before b.
func (n *ringing) fall(most, a, b float64) float64 {
	x := b
	for range 100 {
		share, slope := n.overshoot(x)
		if share > most {
			a = x
		} else {
			b = x
		}
		next := x + (1-share/most)/slope
		if !(share > most/2 && a <= next && next <= b) {
			next = (a + b) / 2
		}
		if math.Abs(next-x) <= 1e-10*x {
			return next
		}
		x = next
	}
	return x
}

// crest returns where overshoot is greatest between the start of a turn and end,
// in its first half, if it rises and falls again there; otherwise the start, or
// end itself where it rises to it. Its slope has the sign of
// x·sin rx - 2r·(cosh zx - cos rx), which is concave: Newton's method comes down
// from the end without passing the crest. Both are taken times e^(-zx).
func (n *ringing) crest(start, end float64) float64 {
	x := end
	for x > start {
		e := math.Exp(-n.z * x)
		sin, cos := math.Sincos(n.r * x)
		d := e*x*sin - n.r*(1-2*e*cos+e*e)
		slope := e*(sin+n.r*x*cos-2*n.r*n.r*sin) - n.r*n.z*(1-e*e)
		if slope >= 0 {
			return start
		}
		if d/slope <= 1e-9*x {
			return x
		}
		x -= d / slope
	}
	return start
}
