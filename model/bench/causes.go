package bench

import (
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A cause is a row of the causes' table: a fault of the circuit, how often it is met, and
// what a person does about it.
type cause struct {
	id      string
	often   float64                                                               // as often as the others; 0: once
	trims   bool                                                                  // the trimmer may have been set with it in place
	factor  bool                                                                  // its amounts are spread evenly in their logarithm
	unit    string                                                                // of its amount
	whole   bool                                                                  // its amounts are whole numbers
	place   bool                                                                  // its amount is a place or a state, which no number tells
	times   func(b *model.Build, c *circuit.Circuit, i int, times float64) string // its amount in words, a factor of something of the build
	spans   []circuit.Span                                                        // its amounts, where they are not the fault's own
	confirm string
	mend    string
}

// causes are all that can be told, in the order of the table of faults.
var causes = []cause{
	{id: "zero_not_set", often: 2, unit: "%", confirm: "Cells out, tap: the needle is not on zero.", mend: "Turn the zero screw, case closed and in its place, tapping; then trim full scale."},
	{id: "needle_sticks", unit: "%", confirm: "Come to half from below and from above: the needle stops at different places until it is tapped.", mend: "At one place: dust in the gap, paper or window touching. Everywhere: the jewel. Never open a dial that may be radium."},
	{id: "scale_uneven", unit: "%", confirm: "Zero and top are right, a quarter, half and three quarters are not.", mend: "Measure the scale at some codes and straighten it by the codes or the dial."},
	{id: "magnet_near", unit: "%", spans: []circuit.Span{{Least: -0.1, Most: -0.03}, {Least: 0.03, Most: 0.1}}, confirm: "Move the meter away from iron, magnets and loudspeakers: the needle moves.", mend: "Move them apart, or zero and trim in the final case."},
	// 1 or -1: by whose signs its terminals are read.
	{id: "meter_reversed", often: 2, place: true, spans: []circuit.Span{{Least: 1, Most: 1}, {Least: -1, Most: -1}}, confirm: "The needle presses below zero as soon as the code rises.", mend: "Change the meter's two leads over."},
	{id: "coil_open", confirm: "One lead off: the highest ohm range says open.", mend: "Look for a broken lead or hairspring; a broken coil wants another meter."},
	{id: "multiplier_left", trims: true, unit: "Ω", confirm: "One lead off: the terminals show far more ohms than the coil.", mend: "Plan with it, or take it out; never open a dial that may be radium."},
	{id: "shunt_left", trims: true, factor: true, unit: "Ω", confirm: "One lead off: the terminals show far fewer ohms than the coil.", mend: "Plan with it, or take it out; never open a dial that may be radium."},
	{id: "other_full_scale", times: fullScaleTimes, trims: true, factor: true, confirm: "Volts across the coil over its ohms are its current: the needle says another.", mend: "Put in the full scale as it is, and the parts that go with it."},
	// At the fixed resistor, the trimmer, the wire at the pin, and the wire at the meter.
	{id: "series_open", often: 3, place: true, spans: []circuit.Span{{Least: 1, Most: 1}, {Least: 2, Most: 2}, {Least: 3, Most: 3}, {Least: meterOff, Most: meterOff}}, confirm: "The open one shows the pin's whole voltage across it; none does where a wire is off.", mend: "Solder the joint anew, or the wire; else replace the part."},
	{id: "fixed_decade_high", trims: true, confirm: "Read its bands: one more nought.", mend: "Put the planned resistor in, the trimmer at its maximum first."},
	{id: "fixed_decade_low", trims: true, confirm: "Read its bands: one nought too few.", mend: "Put the planned resistor in, the trimmer at its maximum first."},
	{id: "trimmer_at_maximum", confirm: "Turn it back: the needle rises.", mend: "Trim full scale, from below."},
	{id: "trimmer_at_zero", confirm: "Turn it towards more: the needle falls.", mend: "Turn it to its maximum, then trim full scale from below."},
	{id: "trimmer_by_its_ends", confirm: "Turn it: nothing changes.", mend: "Wire its wiper and one end."},
	{id: "capacitor_missing", confirm: "AC volts stand where the capacitor should take them away.", mend: "Solder it in, its stripe the right way."},
	{id: "capacitor_decade", confirm: "Read what is printed on it.", mend: "Put the planned one in."},
	{id: "capacitor_leaky", times: coilTimes, trims: true, factor: true, confirm: "Lift one of its leads: the needle rises.", mend: "Put another in, film or ceramic, its stripe the right way."},
	{id: "capacitor_shorted", confirm: "Lift one of its leads: the needle rises from zero.", mend: "Look for a bridge of solder; else put another in."},
	{id: "pin_gives_nothing", confirm: "The pin reads nothing at any code.", mend: "In the program: this pin, as an output, joined to its PWM."},
	{id: "pin_stuck_high", confirm: "The pin reads the rail at any code, asleep too.", mend: "Take the meter off first. In the program: the PWM's polarity and its pin; then look for a bridge to the rail."},
	{id: "pins_swapped", place: true, confirm: "Tell the lamp to light, or the other hand to move: this needle answers.", mend: "Change the two over, in the program or on the board."},
	{id: "duty_inverted", confirm: "A higher code makes the pin's voltage less.", mend: "In the program: the PWM not inverted."},
	{id: "pwm_clock_off", factor: true, confirm: "The pin's frequency is a whole power of two off.", mend: "In the program: the counter's prescaler, and the controller's clock."},
	{id: "top_code_wrong", times: topTimes, trims: true, factor: true, confirm: "The pin's voltage at the top is off in the ratio of the codes.", mend: "In the program: the planned top code; then trim full scale."},
	{id: "pin_high_asleep", confirm: "Asleep, the pin reads the rail and the needle is up.", mend: "In the program: drive the pin low before sleeping."},
	{id: "rail_set_wrong", times: railTimes, factor: true, confirm: "The rail is off awake and asleep.", mend: "Set the converter's output, with the meter off; then trim full scale."},
	{id: "converter_passes", trims: true, confirm: "The rail is the pack's voltage.", mend: "Fewer cells, or the converter's enable pin; else replace it."},
	{id: "converter_sags", times: railTimes, factor: true, confirm: "The rail falls when the clock wakes.", mend: "A capacitor at the converter's input and output, shorter leads, fresh cells; else a stronger converter."},
	{id: "converter_idle_high", times: quiescentTimes, factor: true, confirm: "Asleep, the cells give far more than the rail takes.", mend: "Take the power lamp off its board; else a converter with a smaller quiescent current."},
	{id: "contacts_bad", often: 2, unit: "Ω", confirm: "Awake, volts stand across a contact.", mend: "Clean and bend the contacts, cells out; solder the lead anew."},
	{id: "cells_weak", often: 2, unit: "%", confirm: "At rest the cells are low.", mend: "Fresh cells, all of one kind; hand the old ones in."},
	{id: "cell_reversed", confirm: "At rest the pack is two cells' voltage low.", mend: "Take the cells out before any further reading, and put all in the right way round."},
	{id: "never_sleeps", confirm: "Asleep, the cells give what they do awake, less lamps and needle.", mend: "In the program: the sleep instruction, and what keeps waking it."},
	{id: "leak_asleep", unit: "A", confirm: "Lift one part after another: the sleeping current falls.", mend: "Look for a floating input, a power lamp, a pull resistor on a low pin."},
	{id: "programmer_attached", unit: "A", confirm: "Unplug it: the currents are right.", mend: "Unplug the programmer; it must not feed cells or converter."},
	{id: "reset_low", place: true, factor: true, confirm: "The reset pin reads low.", mend: "Its pull resistor to the rail; look for a bridge to ground, and at the brown-out setting."},
	{id: "lamp_always", confirm: "The lamp is lit while the clock sleeps.", mend: "In the program: the lamp's pin off before sleeping; look for a bridge."},
	{id: "lamp_dark", often: 2, confirm: "Nothing stands across its resistor.", mend: "Turn the lamp round; still dark: replace it."},
	{id: "lamp_decade_low", confirm: "Read the bands of its resistor.", mend: "Put the planned resistor in."},
	{id: "lamp_decade_high", confirm: "Read the bands of its resistor.", mend: "Put the planned resistor in."},
	// It may keep a clock awake that wakes while it is pressed, or not.
	{id: "button_joined", place: true, spans: []circuit.Span{{Least: 0, Most: 0}, {Least: keepsAwake, Most: keepsAwake}}, confirm: "Its pin reads pressed while nobody presses.", mend: "Turn the button by a quarter: two of its legs are joined inside."},
	{id: "button_pull_missing", place: true, confirm: "Its pin floats while nobody presses.", mend: "Put the pull resistor in, or switch the controller's own on."},
	{id: "load_capacitors_low", confirm: "Read what is printed on the load capacitors; one may be missing.", mend: "Put the planned ones in."},
	{id: "load_capacitors_high", factor: true, confirm: "Read what is printed on the load capacitors.", mend: "Put the planned ones in."},
	{id: "crystal_stopped", confirm: "No lamp flashes, with rail and reset right.", mend: "Solder the crystal anew, clean its flux; its load capacitors; else replace it."},
	{id: "clock_not_from_crystal", unit: "%", confirm: "The tick is off by far more than any crystal.", mend: "In the program: the counter's clock from the watch crystal."},
	{id: "reload_missing", confirm: "The tick is the counter's whole length.", mend: "In the program: load the counter at each overflow."},
	{id: "counts_lost", whole: true, unit: "", confirm: "It loses a few seconds a day, and the crystal is right.", mend: "In the program: load the counter without stopping it, or count what it loses."},
	{id: "tick_miscounted", factor: true, confirm: "The tick is right, and the dial runs twice as fast or half.", mend: "In the program: what is added at each tick."},
}

// meterOff is the place at which a chain is open when the wire at the meter is off.
const meterOff = 4

// keepsAwake is of a joined button that keeps the clock from sleeping.
const keepsAwake = 1

// causeOf is the row of a fault, nil where there is none.
func causeOf(id string) *cause {
	if k := slices.IndexFunc(causes, func(c cause) bool { return c.id == id }); k >= 0 {
		return &causes[k]
	}
	return nil
}

// faultOf is the circuit's row of a cause.
func faultOf(id string) *circuit.Fault {
	k := slices.IndexFunc(circuit.Faults, func(f circuit.Fault) bool { return f.ID == id })
	return &circuit.Faults[k]
}

// What amounts come to that are factors of something.
func coilTimes(_ *model.Build, c *circuit.Circuit, i int, times float64) string {
	return quantity.Show(times*c.Hands[i].Coil, quantity.Ohms, 2)
}

func fullScaleTimes(_ *model.Build, c *circuit.Circuit, i int, times float64) string {
	return quantity.Show(times*c.Hands[i].FullScale, quantity.Amperes, 2)
}

func topTimes(_ *model.Build, c *circuit.Circuit, i int, times float64) string {
	return quantity.Show(math.Round(times*c.Hands[i].Top), quantity.Times, 3)
}

func railTimes(b *model.Build, _ *circuit.Circuit, _ int, times float64) string {
	return quantity.Show(times*b.Rail.Voltage.Number, quantity.Volts, 2)
}

func quiescentTimes(b *model.Build, _ *circuit.Circuit, _ int, times float64) string {
	return quantity.Show(times*b.Converter.Quiescent.Number, quantity.Amperes, 2)
}
