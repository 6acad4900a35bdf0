package calc

import "math"

// A Quantisation says how a wanted place becomes a code, and what the code shows.
// Top and Steps are whole and at least 1; Codes and Dial exclude each other.
//
// Source: [Catalogue], code_error_max, duty_offset
type Quantisation struct {
	Law   *Law
	Top   float64 // the code at full scale
	Steps int     // instants at which the hand is judged, evenly over its whole time
	Down  bool    // round down instead of to the nearest code
	Codes bool    // the firmware's table straightens the law
	Dial  bool    // the dial is drawn to the law

	Offset float64 // counts for which the pin is high beyond the code, 0 or 1
	Bridge bool    // between two pins: codes −Top to Top drive the needle from its middle to either end
}

// nearBreak is how far below the break between two codes still counts as on
// it, so that the last bit of a product never decides a code.
const nearBreak = 1e-9

// Code returns the code, 0 to Top, of a bridge −Top to Top, for a wanted share of the
// scale, 0 to 1.
func (r *Quantisation) Code(share float64) float64 {
	if r.Bridge {
		half := *r
		half.Bridge = false
		return math.Copysign(half.Code(math.Abs(2*share-1)), 2*share-1) + 0 // no -0
	}
	if r.Codes {
		share = r.Law.Inverse(share)
	}
	return r.coded(share)
}

// coded is the code for a share of full-scale current.
func (r *Quantisation) coded(share float64) float64 {
	x := r.Top*share + nearBreak
	if !r.Down {
		x += 0.5
	}
	return float64(int(x)) // x >= 0: this is the floor
}

// Shown returns the share of the dial's time that the needle shows at a code,
// 0 to Top, of a bridge −Top to Top.
func (r *Quantisation) Shown(code float64) float64 {
	if r.Bridge {
		if code == 0 {
			return 0.5
		}
		half := *r
		half.Bridge = false
		return 0.5 + math.Copysign(half.Shown(math.Abs(code)), code)/2
	}
	share := r.share(code)
	if r.Dial {
		return share
	}
	return r.Law.At(share)
}

// share is the share of full-scale current at a code, full scale set at Top. At the middle
// of a bridge both pins are alike.
func (r *Quantisation) share(code float64) float64 {
	if r.Bridge {
		if code == 0 {
			return 0
		}
		return math.Copysign((math.Abs(code)+r.Offset)/(r.Top+r.Offset), code)
	}
	return (code + r.Offset) / (r.Top + r.Offset)
}

// CoarsestStep returns the largest step of the dial between two neighbouring codes, a
// share of its time, and where it begins. Where it is much more than 1/Top, no table of
// codes straightens the law there.
func (r *Quantisation) CoarsestStep() (step, at float64) {
	shown := r.Shown(0)
	for code := 1.0; code <= r.Top; code++ {
		next := r.Shown(code)
		if next-shown > step {
			step, at = next-shown, shown
		}
		shown = next
	}
	return step, at
}

// Errors returns the largest absolute error and the root mean square error of
// the code steps, as shares of the dial's time, over the instants 0..Steps-1.
// Setting, tolerances and the jump back at the wrap play no part.
func (r *Quantisation) Errors() (largest, rms float64) {
	if r.Bridge {
		return r.errorsOfBridge()
	}
	sum, code, shown := 0.0, -1.0, 0.0
	up, down := climb{law: r.Law, inverse: true}, climb{law: r.Law}
	for s := range r.Steps {
		y := float64(s) / float64(r.Steps)
		share := y
		if r.Codes {
			share = up.at(y)
		}
		if c := r.coded(share); c != code { // several instants share a code
			code, shown = c, r.share(c)
			if !r.Dial {
				shown = down.at(shown)
			}
		}
		e := math.Abs(shown - y)
		if e > largest {
			largest = e
		}
		sum += e * e
	}
	return largest, math.Sqrt(sum / float64(r.Steps))
}

// errorsOfBridge is Errors of a bridge, instant by instant.
func (r *Quantisation) errorsOfBridge() (largest, rms float64) {
	sum := 0.0
	for s := range r.Steps {
		y := float64(s) / float64(r.Steps)
		e := math.Abs(r.Shown(r.Code(y)) - y)
		largest = max(largest, e)
		sum += e * e
	}
	return largest, math.Sqrt(sum / float64(r.Steps))
}
