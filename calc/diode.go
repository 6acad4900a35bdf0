package calc

import "math"

// What a small silicon diode is taken to be, at room temperature: chosen to pass
// through 0.02 µA at 0.1 V, 0.2 at 0.2 V, 0.55 at 0.25 V and 2.5 µA at 0.32 V.
const (
	saturation = 2.5e-9  // A
	emission   = 46.3e-3 // V, the emission coefficient times the thermal voltage
	diodeOhms  = 1       // Ω, of the diode itself, about; only where nothing else holds its current
)

// DiodeLeak returns the current, A, past a coil that two antiparallel silicon
// diodes protect, at a voltage across them, V, 0 or more: what the one that
// conducts carries. The other adds at most 2.5 nA, which is left out. Typical at
// room temperature; a real pair may leak twice or half as much, and more when
// warm. +Inf over some 32 V: no chain brings as much to them, see DiodeMost.
//
// Source: the diode equation, from memory; its constants by common practice, no source
func DiodeLeak(voltage float64) float64 { return saturation * math.Expm1(voltage/emission) }

// DiodeMost returns the most current, A, that a supply, V, over 0, drives past a
// coil, Ω, over 0, that two antiparallel silicon diodes protect, through a series
// resistance, Ω, 0 or more. What the coil takes is left to it, and the diode that
// conducts adds about 1 Ω of its own, so that there is an end without a series
// resistance too. Less than supply/series and than supply/1 Ω.
//
// Supply, series and coil are one source to the diode (Thévenin).
//
// Source: derived from DiodeLeak
func DiodeMost(supply, series, coil float64) float64 {
	share := coil / (series + coil)
	return DiodeLeak(behind(supply*share, supply*share, series*share+diodeOhms, math.Inf(1)))
}

// DiodeVoltage returns the voltage, V, across a coil, Ω, +Inf where it is open, that two
// antiparallel silicon diodes protect, behind a series resistance, Ω, over 0, on a supply,
// V, 0 or more.
//
// Source: derived from DiodeLeak
func DiodeVoltage(supply, series, coil float64) float64 {
	if supply == 0 || math.IsInf(series, 1) {
		return 0
	}
	return behind(supply, supply, series, coil)
}

// behind is the voltage across a coil with the diodes, behind a series resistance on
// a supply; most is no less than it.
//
// It solves v + series·(v/coil + i(v)) = supply for v. What either part of the left
// side alone would make of the right is no less than v either, and from there
// Newton's steps fall to it: the left side only bends upwards.
func behind(most, supply, series, coil float64) float64 {
	at := min(most, supply/(1+series/coil), emission*math.Log1p(supply/(series*saturation)))
	for range 60 {
		leak := DiodeLeak(at)
		step := (at*(1+series/coil) + series*leak - supply) / (1 + series/coil + series*(leak+saturation)/emission)
		at -= step
		if !(step > 1e-15*most) {
			break
		}
	}
	return at
}

// DiodeBend returns the largest deviation of the coil's current from the
// straight line, as a share of full scale, where two antiparallel silicon diodes
// lie across a coil, Ω, of the given full-scale current, A, both over 0; + is
// more current, so that the needle shows late. In series, Ω, is all the rest of
// the chain, trimmed with the diodes in place so that the coil gets full scale
// at the top: (E-V)/(fullScale+DiodeLeak(V)) for a mean pin voltage E and
// V = fullScale·coil, so 0 or more. The voltage across the coil is taken as
// steady; without a capacitor the coil is at one voltage or at none, the leak
// goes with the duty, and nothing is bent.
//
// The supply that gives the coil a share y of full scale is explicit, so no
// equation is left to solve: with a leak i(v) and E = V + series·(fullScale+i(V))
// the deviation is series·(y·i(V) - i(yV))/E. With u = V/emission and
// g = (e^u-1)/u it is largest at y = ln g/u.
//
// Source: derived from DiodeLeak
func DiodeBend(fullScale, coil, series float64) float64 {
	v := fullScale * coil
	u := v / emission
	p := u / -math.Expm1(-u) // g = e^u/p; all below is divided by g, which may overflow
	inverse := p * math.Exp(-u)
	supply := (v+series*fullScale)*inverse + series*saturation*u
	return series * saturation * (u - math.Log(p) - 1 + inverse) / supply
}

// DiodeBendAt returns that deviation at a share of the supply, 0 to 1; the other
// arguments are those of DiodeBend.
//
// Source: derived from DiodeLeak
func DiodeBendAt(fullScale, coil, series, share float64) float64 {
	v := fullScale * coil
	supply := share * (v + series*(fullScale+DiodeLeak(v)))
	return behind(v, supply, series, coil)/v - share
}
