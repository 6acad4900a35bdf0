package survey

// shuntsUnder is what a shunt or a strap has less than, Ω, where 15 Ω bring no movement.
const shuntsUnder = 30

// conclude says what the readings leave of the meter.
func (d *dialogue) conclude() *Verdict {
	v := stop("")
	p := d.posterior()
	v.Resistance = p.resistance
	if !d.hasMoved() && d.least() <= 15 && !(p.resistance.Low > shuntsUnder) {
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
	d.fullScale(v, &p)
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
		if v.FromDial {
			v.Why = "Resistance was measured at the terminals; full scale is what the dial says, and the readings allow it."
		}
	case d.leftOut:
		v.Why = "Where the needle stands was left out: no more can be told."
	case d.noNine:
		v.Why = "Full scale is not reachable with 1.5 V, and the dial's word does not tell: a block of 9 V would bring the needle further."
	case !d.hasMoved():
		v.Why = "Full scale is not reachable with these sources, and the dial's word does not tell: the needle did not move. Look whether it sticks."
	default:
		v.Why = "Full scale is not reachable with these sources, and the dial's word does not tell."
	}
	v.Why += " " + noOhmmeter(v.FullScale)
	return v
}

// tells is half of a band that tells something, of its value.
const tells = 0.25

// fullScale is what was measured, where the needle came far enough or the readings tell
// enough; else what the dial says.
func (d *dialogue) fullScale(v *Verdict, p *posterior) {
	v.FullScale = p.fullScale
	if d.farthest() >= wellMoved {
		return
	}
	if dial := d.byDial(*p); dial.IsKnown() {
		v.FullScale, v.FromDial = dial, true
	} else if !(p.fullScale.High-p.fullScale.Low < 2*tells*p.fullScale.Value) || !d.hasMoved() {
		v.FullScale = nothing
	}
}

// wellMoved is how far up the scale a needle must have been to be read for its full scale.
const wellMoved = 0.2

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
