package calc

import "math"

// TimeConstant returns the filter's time constant, s: its capacitor with the
// resistances on both sides of its node in parallel, the coil's inductance
// neglected. NaN without a capacitor, since there is no filter.
//
// Source: [Ponikvar] for RC; the loaded value is derived (Thévenin)
func TimeConstant(c Chain) float64 {
	if c.Capacitor == 0 {
		return math.NaN()
	}
	return c.Capacitor * SideBySide(c.Before, c.After)
}

// Corner returns the -3 dB frequency, Hz, of a time constant, s, more than 0.
//
// Source: derived, 1/(2πτ)
func Corner(tau float64) float64 { return 1 / (2 * math.Pi * tau) }

// FilterSettling returns the time, s, in which a filter of time constant tau,
// s, comes within half a count of counts, 1 or more, after a step of all of them.
//
// Source: [Levido], who settles to one count in τ·ln(counts); half a count is derived
func FilterSettling(tau, counts float64) float64 { return tau * math.Log(2*counts) }
