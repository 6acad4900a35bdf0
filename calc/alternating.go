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
