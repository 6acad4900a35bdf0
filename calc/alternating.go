package calc

import "math"

// PulsedRMS returns the rms of the changing part, V, of the voltage on a capacitor that
// is charged towards a voltage, V, for a share of each period, 0 to 1, and discharged
// towards nothing for the rest of it, in the steady state; ratio is the time constant
// over the period, 0 where nothing smooths. What an AC range says that takes true rms.
//
// Source: derived; both exponentials squared and integrated over a period
func PulsedRMS(to, duty, ratio float64) float64 {
	if !(duty > 0 && duty < 1) {
		return 0
	}
	const smooth = 1e3 // from here on the exponentials are straight lines
	switch {
	case ratio == 0:
		return to * math.Sqrt(duty*(1-duty))
	case ratio > smooth:
		return to * duty * (1 - duty) / ratio / math.Sqrt(12)
	}
	up, down := math.Exp(-duty/ratio), math.Exp(-(1-duty)/ratio)
	top := to * (1 - up) / (1 - up*down)
	bottom := top * down
	mean := to * duty
	square := to*to*duty - 2*to*(to-bottom)*ratio*(1-up) +
		((to-bottom)*(to-bottom)*(1-up*up)+top*top*(1-down*down))*ratio/2
	return math.Sqrt(max(0, square-mean*mean))
}

// PulsedCoilRMS returns the rms of the changing part, V, of the voltage on a coil that is
// driven in pulses through a resistance, with nothing that smooths: to is the pulses' own
// voltage, V, duty the share of each period for which they last, 0 to 1, before the
// resistance in front of the coil as a share of all, ratio the time constant, inductance
// over all resistance, over the period. What an AC range says that takes true rms.
//
// Source: derived; the coil's voltage is the pulse's less what its current leaves in
// front of it, and in a period's mean that current times its own change is nothing
func PulsedCoilRMS(to, duty, before, ratio float64) float64 {
	pulse, current := PulsedRMS(to, duty, 0), PulsedRMS(to, duty, ratio)
	return math.Sqrt(max(0, pulse*pulse-before*(2-before)*current*current))
}
