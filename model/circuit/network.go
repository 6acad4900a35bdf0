package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// A PinState is what a hand's pin does.
type PinState uint8

// The states of a pin.
const (
	Works    PinState = iota // high for the code's share of each period
	Inverted                 // low for it
	Low                      // low at any code
	High                     // high at any code
	Floating                 // joined to nothing
	Lent                     // switched for something else, the same at any code
)

// Duty returns the share of the time for which the pin is high at a code, NaN where it
// floats.
func (h *HandCircuit) Duty(code float64) float64 {
	switch h.PinState {
	case Inverted:
		return 1 - (code+h.Offset)/h.Counts
	case Low:
		return 0
	case High:
		return 1
	case Floating:
		return math.NaN()
	case Lent:
		return h.Lent
	}
	return (code + h.Offset) / h.Counts
}

// pulses says whether the pin switches at all.
func (h *HandCircuit) pulses() bool { return h.PinState <= Inverted }

// TopVoltage returns the pin's mean voltage, V, at the top code.
func (h *HandCircuit) TopVoltage() float64 {
	if h.PinState == Works {
		return calc.PinVoltage(h.Rail, h.Top+h.Offset, h.Counts)
	}
	return h.Rail * h.Duty(h.Top)
}

// InForce returns the trimmer's setting, Ω: as given or frozen, or else set for full
// scale as far as it reaches.
func (h *HandCircuit) InForce() float64 { return h.setFor(h.SeriesNeeded()) }

// setFor is the setting where so much is needed in series, Ω.
func (h *HandCircuit) setFor(needed float64) float64 {
	if !math.IsNaN(h.Setting) {
		return h.Setting
	}
	return min(max(needed-h.Fixed, 0), h.Trimmer)
}

// SeriesNeeded returns the resistance, Ω, that fixed resistor and trimmer must have
// together for full scale at the top code, all else as it is. It is negative, or no
// number, where none does.
func (h *HandCircuit) SeriesNeeded() float64 { return h.neededFor(h.TopVoltage()) }

// neededFor is the same for a mean voltage of the pin at the top code, V.
func (h *HandCircuit) neededFor(top float64) float64 {
	if h.bare() {
		return calc.Multiplier(top, h.FullScale, h.Coil) - h.Pin - h.Stage
	}
	return h.neededByNetwork(top)
}

// neededByNetwork is the same of any network.
func (h *HandCircuit) neededByNetwork(top float64) float64 {
	before := calc.NewLadder().Series(h.Pin + h.Stage)
	if h.AtStage {
		before = before.Across(h.leak())
	}
	behind, reaches := h.meter()
	if !h.AtStage {
		reaches *= calc.Across(h.leak(), behind)
		behind = calc.SideBySide(behind, h.leak())
	}
	return calc.Multiplier(before.Share*top*reaches, h.FullScale, behind) - before.Resistance
}

// bare says whether the chain is what the plan means it to be, with nothing beside it or
// more in it: then the closed forms do, which take half the time.
func (h *HandCircuit) bare() bool {
	open := math.Inf(1)
	return h.Shunt == open && h.CoilLeak == open && h.CapacitorLeak == open && h.Multiplier == 0
}

// meter is the resistance between the meter's terminals, Ω, and the share of the
// current into them that reaches the coil.
func (h *HandCircuit) meter() (resistance, reaches float64) {
	inside := calc.SideBySide(h.Coil, h.Shunt) + h.Multiplier
	return calc.SideBySide(inside, h.CoilLeak), calc.Across(h.Shunt, h.Coil) * calc.Across(h.CoilLeak, inside)
}

// Shunted returns the coil as it is with what is left across it: its resistance, Ω, and
// its full-scale current, A.
func (h *HandCircuit) Shunted() (resistance, fullScale float64) {
	return calc.SideBySide(h.Coil, h.Shunt), h.FullScale / calc.Across(h.Shunt, h.Coil)
}

// leak is what lies across the capacitor, Ω; +Inf where there is none.
func (h *HandCircuit) leak() float64 {
	if h.Capacitor == 0 {
		return math.Inf(1)
	}
	return h.CapacitorLeak
}

// A Drive is a hand's network reduced to the chain of the formulas, twice. Without a
// fault in it both are the same.
type Drive struct {
	Setting float64    // Ω, of the trimmer
	Pin     calc.Chain // as the pin sees it

	// As the coil sees it, behind a share of the rail and in front of a coil of its own: the
	// current in the chain is to FullScale as the true one is to the coil's own full scale.
	Coil       calc.Chain
	Share      float64 // of the rail
	Inductance float64 // H
	FullScale  float64 // A
	Rest       float64 // Ω in series with the coil
}

// Drive returns a hand's network reduced.
func (h *HandCircuit) Drive() Drive {
	var d Drive
	h.drive(h.InForce(), &d)
	return d
}

// drive is the network reduced, the trimmer set to so many ohms.
func (h *HandCircuit) drive(setting float64, d *Drive) {
	before, after := h.Pin+h.Stage, h.Fixed+setting
	if !h.AtStage {
		before, after = before+after, 0
	}
	if through := before + (after + h.Coil); h.bare() && !math.IsInf(through, 1) {
		chain := calc.Chain{Before: before, After: after + h.Coil, Capacitor: h.Capacitor}
		*d = Drive{setting, chain, chain, 1, h.Inductance, h.FullScale, through - h.Coil}
		return
	}
	*d = h.driveByNetwork(setting, before, after)
}

// driveByNetwork is the same of any network. To what is before it a shunt across coil and
// inductance is an ideal transformer, and a load beside it.
func (h *HandCircuit) driveByNetwork(setting, before, after float64) Drive {
	terminals, _ := h.meter()
	behind := calc.NewLadder().Series(after).Across(h.CoilLeak).Series(h.Multiplier).Across(h.Shunt)
	node := calc.NewLadder().Series(before).Across(h.leak())
	if behind.Load > 0 {
		node = node.Across(1 / behind.Load)
	}
	d := Drive{
		Setting: setting,
		Pin:     calc.Chain{Before: before, After: calc.SideBySide(after+terminals, h.leak()), Capacitor: h.Capacitor},
		Coil:    calc.Chain{Before: node.Resistance, After: behind.Resistance + h.Coil, Capacitor: h.Capacitor},
		Share:   node.Share, Inductance: h.Inductance, FullScale: h.FullScale, Rest: before + after + h.Multiplier,
	}
	if math.IsInf(d.Coil.Before, 1) { // nothing comes as far as the node
		d.Share = 0
	}
	switch k := behind.Share; {
	case k == 0 || math.IsInf(d.Coil.After, 1): // nothing reaches the coil
		d.Coil.After, d.Inductance = math.Inf(1), 0
	case k < 1:
		d.Coil.After, d.Inductance, d.FullScale = d.Coil.After/(k*k), d.Inductance/(k*k), d.FullScale*k
	}
	return d
}

// share is the coil's mean current, as a share of its full scale, for a mean voltage of
// the pin, V: none where it floats, less than none in a meter that is the wrong way round.
func (h *HandCircuit) share(d *Drive, pin float64) float64 {
	if h.PinState == Floating {
		return 0
	}
	share := d.Coil.Current(d.Share*pin) / d.FullScale
	if h.Reversed {
		return -share
	}
	return share
}

// Reads is the coil's mean current, as a share of its full scale, for a mean voltage of the
// pin's driver, V; less than none in a meter that is the wrong way round.
func (h *HandCircuit) Reads(pin float64) float64 {
	d := h.Drive()
	return h.share(&d, pin)
}

// The places of a hand's network, in the order of Voltages.
const (
	BehindPin = iota
	BehindStage
	BehindFixed
	BehindTrimmer // the meter's terminals
	AtCoil
	places
)

// Voltages returns the mean voltages, V, along a hand's network for a mean voltage of
// the pin's driver, V: behind the pin's own resistance, the stage, the fixed resistor and
// the trimmer, and across the coil. NaN where a place floats.
func (h *HandCircuit) Voltages(pin float64) [places]float64 {
	return h.Probed(pin, BehindPin, math.Inf(1))
}

// Probed returns them with a resistance, Ω, from one of the places to ground: what measures
// them.
func (h *HandCircuit) Probed(pin float64, place int, input float64) [places]float64 {
	open := math.Inf(1)
	rungs := [places]calc.Rung{
		{Series: h.Pin, Across: open}, {Series: h.Stage, Across: open}, {Series: h.Fixed, Across: open},
		{Series: h.InForce(), Across: h.CoilLeak}, {Series: h.Multiplier, Across: calc.SideBySide(h.Shunt, h.Coil)},
	}
	if h.AtStage {
		rungs[BehindStage].Across = h.leak()
	} else {
		rungs[BehindTrimmer].Across = calc.SideBySide(h.leak(), h.CoilLeak)
	}
	if h.PinState == Floating {
		rungs[BehindPin].Series = open
	}
	rungs[place].Across = calc.SideBySide(rungs[place].Across, input)
	var v [places]float64
	calc.Voltages(pin, rungs[:], v[:])
	return v
}
