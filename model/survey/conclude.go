package survey

import "math"

// A Verdict is what the survey has found.
type Verdict struct {
	Verdict    string // "known", "partly", "stop"
	Why        string
	Resistance Value // Ω, of the closed case at its terminals
	FullScale  Value // A, at its terminals
	Coil       Value // Ω, of the movement
	Movement   Value // A, its full scale
	Inside     string
	Law        string // "linear", "square", "uneven", "" where it is not known
	Changes    []Change
}

// The words of a verdict.
const (
	Known   = "known"
	Partly  = "partly"
	Stopped = "stop" // nothing more is to be connected
)

// A Value is what was measured, with the band that holds it in 95 % of surveys; NaN where
// nothing is known, or has no bound.
type Value struct{ Value, Low, High float64 }

// nothing is a Value of which nothing is known.
var nothing = Value{math.NaN(), math.NaN(), math.NaN()}

// IsKnown says whether there is a value.
func (v Value) IsKnown() bool { return !math.IsNaN(v.Value) }

func stop(why string) *Verdict {
	return &Verdict{Verdict: Stopped, Why: why, Resistance: nothing, FullScale: nothing, Coil: nothing, Movement: nothing, Inside: notKnown}
}

// conclude says what the readings leave of the meter.
func (d *dialogue) conclude() *Verdict {
	v := stop("")
	p := d.posterior()
	v.Resistance = p.resistance
	if !d.hasMoved() && d.least() <= 15 {
		v.Why, v.Inside = "No movement at 15 Ω: a shunt is inside, or a strap is across the terminals: look, take it off, survey again.", "shunt"
		return v
	}
	if !d.hasMoved() && p.resistance.High < sticksUnder && d.lastTerminals() > sticksFrom && !d.byDial(p).IsKnown() {
		v.Why = "The needle does not move, and its terminals take what any bare coil would show: look whether it sticks, and whether the coil is open."
		return v
	}
	v.Verdict = Partly
	if power, seen := d.law(); seen {
		v.Law = map[float64]string{1: "linear", 2: "square", 0: "uneven"}[power]
	}
	switch {
	case d.farthest() >= wellMoved:
		v.FullScale = p.fullScale
	default:
		v.FullScale = d.byDial(p)
	}
	v.Inside = inside(p)
	switch v.Inside {
	case "none":
		v.Coil, v.Movement = v.Resistance, v.FullScale
	case "multiplier":
		v.Movement = v.FullScale
	}
	switch {
	case v.Resistance.IsKnown() && v.FullScale.IsKnown():
		v.Verdict, v.Why = Known, "Resistance and full scale were measured at the terminals."
	case !d.hasMoved():
		v.Why = "The needle did not move as far as these sources bring it, and the dial's word does not tell: look whether it sticks."
	default:
		v.Why = "Full scale is not reachable with these sources, and the dial's word does not tell."
	}
	return v
}

// wellMoved is how far up the scale a needle must have been to be read for its full scale.
const wellMoved = 0.2

// farthest is how far the needle has moved.
func (d *dialogue) farthest() float64 {
	most := 0.0
	for n := range d.readings {
		if r := &d.readings[n]; !r.terminals {
			most = max(most, math.Abs(d.moved(r)))
		}
	}
	return most
}

func (d *dialogue) hasMoved() bool { return d.farthest() >= none }

// least is the least resistance that the needle was read behind, Ω.
func (d *dialogue) least() float64 {
	least := math.Inf(1)
	for _, r := range d.readings {
		least = min(least, r.at.Series)
	}
	return least
}

// inside is what the volts across the coil at full scale suggest: 20 to 500 mV are a bare
// movement's, up to 10 mA.
func inside(p posterior) string {
	low, high := p.volts.Low, p.volts.High
	switch {
	case p.fullScale.Low > 15e-3 && high < 0.3:
		return "shunt"
	case low > 0.5:
		return "multiplier"
	case high < 0.6 && p.fullScale.High < 15e-3:
		return "none"
	}
	return notKnown
}
