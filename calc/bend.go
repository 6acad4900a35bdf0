package calc

import "math"

// A PinBend is a pin that pulls up through another resistance than it pulls down
// through, behind it a filter. The node's voltage, taken as steady, is then
// no longer proportional to the duty d: with R and Rc the resistances around it,
//
//	d·(U-v)/(R+High) = (1-d)·v/(R+Low) + v/Rc.
//
// R+High and R+Low are over 0.
//
// Source: derived
type PinBend struct {
	High, Low     float64 // Ω of the pin when it is high, and when it is low
	Before, After float64 // Ω before the node, the pin left out, and after it, the coil included
	Capacitor     float64 // F, 0: none
	Top           float64 // the duty at full scale, 0 to 1
}

// Largest returns the largest deviation of the coil's current from a straight
// line between none and that at the top duty, which is trimmed for full scale, as
// a share of full scale; + is more current, so that the needle shows late. The
// rail does not matter. 0 without a capacitor, where the low pin carries nothing
// (the coil's inductance neglected).
//
// With q = Top·Rc·(Low-High)/((R+High)·(R+Low+Rc)) a share x of the top duty
// gives a share x·(1+q)/(1+qx) of full scale: most off at x = 1/(1+√(1+q)).
func (p PinBend) Largest() float64 {
	q := p.bow()
	s := 1 + math.Sqrt(1+q)
	return q / (s * s)
}

// At returns that deviation at a share of the top duty, 0 to 1: q·x(1-x)/(1+qx).
func (p PinBend) At(share float64) float64 {
	q := p.bow()
	return q * share * (1 - share) / (1 + q*share)
}

// bow is the q of Largest.
func (p PinBend) bow() float64 {
	if p.Capacitor == 0 {
		return 0
	}
	up, down := p.Before+p.High, p.Before+p.Low
	return p.Top * p.After * (p.Low - p.High) / (up * (down + p.After))
}
