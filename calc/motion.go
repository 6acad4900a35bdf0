package calc

import "math"

// DampingFromOvershoot returns the damping ratio of a needle whose first swing
// past its end is the given share of the step, 0 <= overshoot <= 1. No
// overshoot is taken as critical damping, 1, though a sluggish needle has none
// either: its damping must be given. NaN outside the range.
//
// Source: [Ogata], from memory
func DampingFromOvershoot(overshoot float64) float64 {
	switch {
	case overshoot == 0:
		return 1
	case overshoot > 1:
		return math.NaN()
	}
	l := math.Log(overshoot)
	return -l / math.Sqrt(math.Pi*math.Pi+l*l)
}

// A Movement is a needle on its spring: the undamped natural period, s, over 0,
// and the damping ratio.
//
// Source: [Ogata], from memory; the one expression for every damping is derived
type Movement struct{ Period, Damping float64 }

// Frequency returns the undamped angular frequency, rad/s.
func (m Movement) Frequency() float64 { return 2 * math.Pi / m.Period }

// Remaining returns how far a needle still is from its end, as a share of the
// step, t seconds (0 or more) after the current stepped; it starts at 1 and swings below 0
// where the needle overshoots. The same expression serves every damping: its
// sine (or hyperbolic sine) over its argument tends to 1 at critical damping.
func (m Movement) Remaining(t float64) float64 {
	remaining, _ := m.response(t)
	return remaining
}

// response returns what is left of a step at t, s, and where a knock of one a
// second has brought the needle by then, s. The knock is the step's slope over
// -ω², so that these two and the damping make up every motion.
func (m Movement) response(t float64) (remaining, knock float64) {
	x, z := m.Frequency()*t, m.Damping
	if z < 1 {
		r := math.Sqrt((1 - z) * (1 + z))
		sinc := 1.0
		if r*x != 0 {
			sinc = math.Sin(r*x) / (r * x)
		}
		decay := math.Exp(-z * x)
		return decay * (math.Cos(r*x) + z*x*sinc), decay * t * sinc
	}
	r := math.Sqrt((z - 1) * (z + 1))
	q, sinhc := 2*r*x, 2.0 // (1-e^-q)/(rx)
	if r*x != 0 {
		sinhc = -math.Expm1(-q) / (r * x)
	}
	decay := math.Exp(-x/(z+r)) / 2
	return decay * (1 + math.Exp(-q) + z*x*sinhc), decay * t * sinhc
}

// A Swing is a needle in motion: its place, a share of the scale, and its speed,
// shares a second.
type Swing struct{ Place, Speed float64 }

// Advance returns the swing dt seconds (0 or more) later, with the current held
// all the while where the needle comes to rest at target, a share of the scale.
// It solves θ” + 2ζωθ' + ω²θ = ω²·target exactly, so that dt may be of any length.
func (m Movement) Advance(s Swing, target, dt float64) Swing {
	w := m.Frequency()
	remaining, knock := m.response(dt)
	off := s.Place - target
	return Swing{
		Place: target + off*remaining + s.Speed*knock,
		Speed: s.Speed*(remaining-2*m.Damping*w*knock) - off*w*w*knock,
	}
}

// Settling returns the last instant, s, at which the needle is band (a share of
// the step, 0 < band < 1) from its end after a step: the true curve, not its
// envelope. It jumps by about half a swing where a peak just leaves the band,
// and is infinite without damping.
func (m Movement) Settling(band float64) float64 {
	if m.Damping <= 0 {
		return math.Inf(1)
	}
	// y time constants after the step no needle is farther than (1+y)·e^-y, which
	// is within the band from here on:
	last := (1 - 2*math.Log(band)) / m.Frequency()
	if m.Damping >= 1 {
		last *= m.Damping + math.Sqrt((m.Damping-1)*(m.Damping+1))
		return root(func(t float64) float64 { return m.Remaining(t) - band }, 0, last)
	}
	last /= m.Damping
	// The swings peak at multiples of half the damped period, each M times
	// the one before: past the last peak outside the band the needle comes in
	// once and stays.
	half := math.Pi / (m.Frequency() * math.Sqrt((1-m.Damping)*(1+m.Damping)))
	lnM := -m.Damping * m.Frequency() * half
	k := math.Floor(math.Log(band) / lnM)
	sign := 1 - 2*math.Mod(k, 2)
	return root(func(t float64) float64 { return sign*m.Remaining(t) - band }, k*half, min((k+1)*half, last))
}

// root returns where f, falling from a to b, crosses zero: false position with
// the Illinois halving, kept in its bracket. Where f starts at or below zero
// the crossing is a itself.
func root(f func(float64) float64, a, b float64) float64 {
	fa, fb := f(a), f(b)
	if fa <= 0 {
		return a
	}
	for range 60 {
		if math.Abs(b-a) <= 1e-15*math.Abs(b) {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		switch {
		case fc == 0:
			return c
		case (fc < 0) != (fb < 0):
			a, fa = b, fb
		default:
			fa /= 2
		}
		if c == b {
			return c
		}
		b, fb = c, fc
	}
	return b
}

// Lag returns how far behind its place a needle is at the end of each dt seconds
// (over 0) when its target goes on by one step every dt, as it has for long: a
// share of the step, below 0 where it swings ahead. A needle that is quick enough
// has none. It is the sum of Remaining over dt, 2·dt, 3·dt ... NaN without
// damping where the swings never die.
//
// In the frame that goes on with the target, place and speed at the end of a dt
// are what Advance makes of those at the end of the one before, less a step:
// s = M·(s - (1, 0)), two equations for s.
//
// Source: derived
func (m Movement) Lag(dt float64) float64 {
	place, speed := m.Advance(Swing{Place: 1}, 0, dt), m.Advance(Swing{Speed: 1}, 0, dt)
	a, b, c, d := 1-place.Place, -speed.Place, -place.Speed, 1-speed.Speed // I - M
	return (place.Place*d - place.Speed*b) / (a*d - b*c)
}
