package bench

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A point is a row of the test points' table: where the probes go, in which state of the
// clock, and what a circuit makes of it.
type point struct {
	id      string // behind the name of its hand, lamp or button
	of      string // "hand", "lamp", "button"; "": the clock
	label   string // on a line of a screen, behind the name of its hand, lamp or button
	unit    quantity.Unit
	with    instrument
	cost    float64
	state   string
	probes  string
	mind    string // what can go wrong, or be hurt
	caution string // the field whose cautions hold here too: the hand acts as it does there
	there   func(b *model.Build, i int) bool
	value   func(s *scene, i int) float64
	words   []string                                            // that are its readings, in place of numbers
	chance  func(s *scene, i int, kind *circumstance) []float64 // of each of the words
}

// The states of the clock, as a person reads them.
const (
	unpowered = "cells out, nothing else feeding it"
	sleeping  = "asleep"
	waking    = "awake, hands at code 0"
	atHalf    = "parked at half of the top code"
	atTop     = "parked at the top code"
)

const (
	touchTerminals = "One slip from the pin to a rail ends it: one hand, a clip for ground."
	backToVolts    = "Afterwards the leads go back to volts, or the next voltage reading shorts the pack."
	capacitorFull  = "Wait until the capacitor is charged by the ohmmeter."
)

func hasStage(b *model.Build, i int) bool   { return b.Hands[i].Drive.Stage.Number > 0 }
func hasFixed(b *model.Build, i int) bool   { return b.Hands[i].Drive.Fixed.Number > 0 }
func hasTrimmer(b *model.Build, i int) bool { return b.Hands[i].Drive.Trimmer.Number > 0 }
func hasCells(b *model.Build, _ int) bool   { return b.Battery.HasCells() }
func hasConverter(b *model.Build, _ int) bool {
	return b.Battery.HasCells() && b.Converter.Kind != "none"
}
func hasLamps(b *model.Build, i int) bool   { return b.Lamps[i].Count > 0 }
func hasCrystal(b *model.Build, _ int) bool { return b.Crystal.Frequency.Given() }

// top makes a value at the top code, and so on.
func top(f func(s *scene, i int, code float64) float64) func(*scene, int) float64 {
	return func(s *scene, i int) float64 { return f(s, i, s.planTop(i)) }
}

func halfway(f func(s *scene, i int, code float64) float64) func(*scene, int) float64 {
	return func(s *scene, i int) float64 { return f(s, i, half(s.planTop(i))) }
}

func zero(f func(s *scene, i int, code float64) float64) func(*scene, int) float64 {
	return func(s *scene, i int) float64 { return f(s, i, 0) }
}

// half and quarters are the codes at which a clock is parked.
func half(top float64) float64     { return math.Floor(top / 2) }
func quarters(top float64) float64 { return math.Floor(3 * top / 4) }

// planTop is the code at which the firmware parks for the top.
func (s *scene) planTop(i int) float64 { return s.c.Hands[i].Top }

// points is the table of test points. Costs are the contract's.
var points = []point{
	{id: "needle_unpowered", of: "hand", label: "Needle at rest", unit: quantity.Percent, with: eye, cost: 0, state: unpowered, probes: "look at the needle, tap the case",
		value: func(s *scene, i int) float64 { return s.c.Hands[i].ZeroOffset + s.c.Hands[i].Rest }},
	{id: "needle_asleep", of: "hand", label: "Needle, asleep", unit: quantity.Percent, with: untapped, cost: 0, state: sleeping, probes: "look at the needle",
		value: func(s *scene, i int) float64 {
			h := &s.c.Hands[i]
			if !h.HighAsleep {
				return s.place(i, 0)
			}
			return s.place(i, h.Reads(s.off.rail))
		}},
	{id: "needle_half", of: "hand", label: "Needle at half", unit: quantity.Percent, with: eye, cost: 0, state: atHalf, probes: "look at the needle, coming from below, tap",
		value: halfway((*scene).needle)},
	{id: "needle_top", of: "hand", label: "Needle at top", unit: quantity.Percent, with: eye, cost: 0, state: atTop, probes: "look at the needle, coming from below, tap",
		value: top((*scene).needle)},
	{id: "needle_tapped", of: "hand", label: "Needle, tapped", unit: quantity.Percent, with: tapping, cost: 0, state: atHalf + ", coming from the top", probes: "how far the needle moves when the case is tapped",
		value: func(s *scene, i int) float64 { return s.c.Hands[i].Stick }},
	{id: "needle_moving", of: "hand", label: "Needle, moving", with: words, cost: 0, state: atTop + " for a minute", probes: "watch the needle",
		words: []string{"steady", "trembles", "jumps", "drifts"}, chance: moves},
	{id: "turn_effect", of: "hand", label: "Trimmer turned", unit: quantity.Percent, with: moving, cost: 2, state: "parked at three quarters of the top code", probes: "turn the trimmer a fifth of its turns towards more resistance, or less where its end comes first; how far the needle moves",
		mind: "Note its place and turn it back; not while the needle is at its stop.", there: hasTrimmer, value: (*scene).turned},
	{id: "pin_voltage_asleep", of: "hand", label: "Pin, asleep", unit: quantity.Volts, with: volts, cost: 1, state: sleeping, probes: "pin to ground, DC", mind: touchTerminals,
		value: func(s *scene, i int) float64 {
			if !s.c.Hands[i].HighAsleep {
				return 0
			}
			return orNothing(s.c.Hands[i].Probed(s.off.rail, circuit.BehindPin, s.meter.Input.Number)[circuit.BehindPin])
		}},
	{id: "pin_voltage_half", of: "hand", label: "Pin at half", unit: quantity.Volts, with: volts, cost: 1, state: atHalf, probes: "pin to ground, DC", mind: touchTerminals, value: halfway((*scene).pinVoltage)},
	{id: "pin_voltage_top", of: "hand", label: "Pin at top", unit: quantity.Volts, with: volts, cost: 1, state: atTop, probes: "pin to ground, DC", mind: touchTerminals, value: top((*scene).pinVoltage)},
	{id: "stage_voltage_top", of: "hand", label: "Stage at top", unit: quantity.Volts, with: volts, cost: 1, state: atTop, probes: "across the stage resistor, DC", there: hasStage,
		value: func(s *scene, i int) float64 { return s.across(i, circuit.BehindStage) }},
	{id: "fixed_voltage_top", of: "hand", label: "Fixed at top", unit: quantity.Volts, with: volts, cost: 1, state: atTop, probes: "across the fixed resistor, DC", there: hasFixed,
		value: func(s *scene, i int) float64 { return s.across(i, circuit.BehindFixed) }},
	{id: "trimmer_voltage_top", of: "hand", label: "Trimmer at top", unit: quantity.Volts, with: volts, cost: 1, state: atTop, probes: "across the trimmer, DC", there: hasTrimmer,
		value: func(s *scene, i int) float64 { return s.across(i, circuit.BehindTrimmer) }},
	{id: "coil_voltage_top", of: "hand", label: "Meter at top", unit: quantity.Volts, with: volts, cost: 1, state: atTop, probes: "at the meter's terminals, DC",
		value: top((*scene).terminals)},
	{id: "node_ac_half", of: "hand", label: "AC at half", unit: quantity.Volts, with: levels, cost: 1, state: atHalf, probes: "AC volts across the capacitor, or the coil where there is none",
		mind: "AC ranges are poor above 400 Hz: only whether it is none, as planned or far more counts.", value: (*scene).alternating},
	{id: "pwm_frequency", of: "hand", label: "PWM frequency", unit: quantity.Hertz, with: hertz, cost: 1, state: atHalf, probes: "pin to ground, Hz", mind: touchTerminals,
		value: func(s *scene, i int) float64 {
			if d := s.duty(i, half(s.planTop(i))); !(d > 0 && d < 1) {
				return 0
			}
			return s.c.Hands[i].PWM
		}},
	{id: "series_resistance", of: "hand", label: "Series ohms", unit: quantity.Ohms, with: ohms, cost: 3, state: "cells out, the meter's lead off", probes: "on the outer ends of stage, fixed resistor and trimmer", mind: capacitorFull,
		value: func(s *scene, i int) float64 {
			h := &s.c.Hands[i]
			return h.Stage + h.Fixed + h.InForce()
		}},
	{id: "terminals_ohms", of: "hand", label: "Meter's ohms", caution: "hand.meter.coil", unit: quantity.Ohms, with: ohms, cost: 3, state: "the meter's lead off", probes: "at the meter's terminals, the highest range first, down only while that range's test current is below half of full scale",
		mind:  "An ohmmeter's current can burn a coil and bend its needle: never a lower range.",
		value: (*scene).meterOhms},
	{id: "dummy_voltage_zero", of: "hand", label: "Dummy at zero", unit: quantity.Volts, with: volts, cost: 3, state: "a resistor of the coil's size in the meter's place, code 0", probes: "across it, DC", value: zero((*scene).dummy)},
	{id: "dummy_voltage_half", of: "hand", label: "Dummy at half", unit: quantity.Volts, with: volts, cost: 3, state: "a resistor of the coil's size in the meter's place, half of the top code", probes: "across it, DC", value: halfway((*scene).dummy)},
	{id: "dummy_voltage_top", of: "hand", label: "Dummy at top", unit: quantity.Volts, with: volts, cost: 3, state: "a resistor of the coil's size in the meter's place, the top code", probes: "across it, DC", value: top((*scene).dummy)},

	{id: "rail.voltage_on", label: "Rail, awake", unit: quantity.Volts, with: volts, cost: 1, state: waking, probes: "at the controller, DC", value: func(s *scene, _ int) float64 { return s.on.rail }},
	{id: "rail.voltage_asleep", label: "Rail, asleep", unit: quantity.Volts, with: volts, cost: 1, state: sleeping, probes: "at the controller, DC", value: func(s *scene, _ int) float64 { return s.off.rail }},
	{id: "battery.voltage_rest", label: "Pack at rest", unit: quantity.Volts, with: volts, cost: 1, state: "circuit off", probes: "at the holder's leads, DC", there: hasCells, value: func(s *scene, _ int) float64 { return max(0, s.c.Battery.Pack.Fresh()) }},
	{id: "battery.voltage_on", label: "Pack, awake", unit: quantity.Volts, with: volts, cost: 1, state: waking, probes: "at the holder's leads, DC", there: hasCells, value: func(s *scene, _ int) float64 { return s.on.pack }},
	{id: "battery.contacts_drop", label: "Contacts", unit: quantity.Millivolts, with: volts, cost: 1, state: waking, probes: "across each contact, from the cell's cap to the holder's lead, added up", there: hasCells,
		value: func(s *scene, _ int) float64 { return s.on.current * s.contacts }},
	{id: "battery.current_on", label: "Current, awake", caution: "load.controller_on", unit: quantity.Milliamperes, with: amps, cost: 3, state: waking, probes: "in the cells' lead, mA range, averaged over ten flashes", mind: backToVolts, there: hasCells,
		value: func(s *scene, _ int) float64 {
			return s.supply(func(rail float64) float64 { return s.awake(rail, -1, 0, true) }, true, s.meter.BurdenLarge.Number).current
		}},
	{id: "battery.current_off", label: "Current asleep", caution: "load.controller_off", unit: quantity.Microamperes, with: amps, cost: 3, state: sleeping, probes: "in the cells' lead, µA range: bridge the multimeter with a clip until the clock sleeps, then lift the clip", mind: backToVolts, there: hasCells,
		value: func(s *scene, _ int) float64 {
			return s.onRange(func(burden float64) float64 { return s.supply(s.asleep, false, burden).current })
		}},
	{id: "rail.current_off", label: "Rail's current", caution: "load.controller_off", unit: quantity.Microamperes, with: amps, cost: 3, state: sleeping, probes: "between the converter and the rest, µA range", mind: backToVolts, there: hasConverter,
		value: func(s *scene, _ int) float64 { return s.onRange(s.railAsleep) }},

	{id: "voltage_on", of: "lamp", label: "Volts, lit", unit: quantity.Volts, with: volts, cost: 1, state: "lit", probes: "across its resistor, DC", there: hasLamps,
		value: func(s *scene, i int) float64 {
			if s.reset && !(s.c.Lamps[i].ShareAsleep > 0) {
				return 0
			}
			return s.c.Lamps[i].Current(s.on.rail) * s.c.Lamps[i].Resistor
		}},
	{id: "voltage_asleep", of: "lamp", label: "Volts, asleep", unit: quantity.Volts, with: volts, cost: 1, state: sleeping, probes: "across its resistor, DC", there: hasLamps,
		value: func(s *scene, i int) float64 {
			if !(s.c.Lamps[i].ShareAsleep > 0) {
				return 0
			}
			return s.c.Lamps[i].Current(s.off.rail) * s.c.Lamps[i].Resistor
		}},
	{id: "resistance", of: "lamp", label: "Its resistor", unit: quantity.Ohms, with: ohms, cost: 1, state: "cells out", probes: "across its resistor", there: hasLamps, value: func(s *scene, i int) float64 { return s.c.Lamps[i].Resistor }},
	{id: "lights", of: "lamp", label: "Lights", with: words, cost: 0, state: "awake, then asleep", probes: "look", there: hasLamps, words: []string{"yes", "no", "always"}, chance: lights},

	{id: "clock.tick", label: "Tick", unit: quantity.Seconds, with: flashes, cost: 0, state: "awake", probes: "between two flashes, averaged over 100", there: hasCrystal, value: func(s *scene, _ int) float64 {
		if s.reset {
			return 0
		}
		return orNothing(s.crystal().TickPeriod)
	}},
	{id: "clock.drift", label: "Drift", unit: quantity.SecondsPerDay, with: days, cost: 0, state: "running", probes: "against a good clock, over days", there: hasCrystal, value: func(s *scene, _ int) float64 {
		if p := s.crystal(); !s.reset && !math.IsNaN(p.Rate) {
			return s.gains(&p)
		}
		return -calc.SecondsADay * circuit.PPM // it stands still
	}},
	{id: "crystal.frequency", label: "Crystal", caution: "crystal.measured", unit: quantity.Kilohertz, with: counter, cost: 3, state: "awake", probes: "at a buffered output of the clock that is counted, with a counter", mind: "Never at the crystal's own pins: a probe stops or slows it.", there: hasCrystal,
		value: func(s *scene, _ int) float64 {
			c := &s.c.Crystal
			switch {
			case c.Stopped || s.reset:
				return 0
			case !math.IsNaN(c.Measured) && c.Fast == 0:
				return c.Measured * (1 + c.Off/circuit.PPM)
			}
			return c.Frequency * (1 + (s.crystal().LoadOffset+c.Off)/circuit.PPM) * (1 + c.Fast)
		}},
	{id: "released", of: "button", label: "Released", unit: quantity.Volts, with: volts, cost: 1, state: "awake, the button released", probes: "its pin to ground, DC", mind: touchTerminals, value: func(s *scene, i int) float64 { return s.button(i, false) }},
	{id: "pressed", of: "button", label: "Pressed", unit: quantity.Volts, with: volts, cost: 1, state: "awake, the button pressed", probes: "its pin to ground, DC", mind: touchTerminals, value: func(s *scene, i int) float64 { return s.button(i, true) }},
	{id: "reset.voltage", label: "Reset pin", unit: quantity.Volts, with: volts, cost: 1, state: "awake", probes: "reset pin to ground, DC", mind: touchTerminals, value: func(s *scene, _ int) float64 {
		if s.held() {
			return 0
		}
		return s.on.rail
	}},
}

// onRange is what a current is on the smaller ranges, or on the larger ones where those do
// not hold it, by what it is for a burden, Ω.
func (s *scene) onRange(current func(burden float64) float64) float64 {
	const most = 4e-3 // A
	small, large := current(s.meter.BurdenSmall.Number), current(s.meter.BurdenLarge.Number)
	if small <= most && large <= most {
		return small
	}
	return large
}

// railAsleep is what the sleeping clock takes from its rail through a burden, Ω.
func (s *scene) railAsleep(burden float64) float64 {
	load := s.off.load
	for range 3 { // less rail, less load
		load = s.asleep(max(0, s.off.rail-burden*load))
	}
	return max(0, load)
}

// crystal is the crystal and its counter, solved.
func (s *scene) crystal() circuit.CrystalPlan { return s.c.Crystal.Solve() }

// gains is the rate, s/day, for ticks that are far from what is counted too: there the
// crystal's own offset acts on what is counted.
func (s *scene) gains(p *circuit.CrystalPlan) float64 {
	counted := s.c.Crystal.TickCounted / p.TickPeriod
	off := p.Rate/calc.SecondsADay/circuit.PPM - (counted - 1)
	return calc.SecondsADay * circuit.PPM * ((1+off)*counted - 1)
}

// button is what a button's pin reads.
func (s *scene) button(i int, pressed bool) float64 {
	b := &s.c.Buttons[i]
	rest, other := s.on.rail*calc.Across(s.meter.Input.Number, b.Pull), 0.0
	if math.IsInf(b.Pull, 1) {
		rest = s.on.rail * s.floating
	}
	if s.toGround[i] {
		other = s.on.rail
		if !math.IsInf(b.Pull, 1) {
			rest = 0
		}
	}
	if pressed || b.Held {
		return other
	}
	return rest
}
