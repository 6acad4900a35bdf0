// Package faulty makes up clocks as somebody built them, sound or with faults, and
// says what a person with an inexpensive multimeter writes down at their test points.
// Tests alone use it: it judges what finds faults, and so it shares no equation with
// that, nor with the rooms that solve a build. It rests on the pages of the contract,
// on package model for reading a build, and on numbers worked by hand.
//
// Where the contract leaves something open, it is decided here as a repairer would:
//
//   - Each reading has errors of its own; a multimeter's error is not the same twice.
//   - A display's last digit goes with the value alone, down to any small value.
//   - What is below 5 mV, 0.5 µA or 0.5 Ω is written as "none"; places are written in
//     whole percents, any of those within the eye's error, friction in half ones.
//   - The rail moves by its drift after trimming, but stays within its own tolerance.
//   - The class bends the scale only where the law is no table and correct is "none".
//   - A needle left behind by friction stands off by all of it, on the side it came
//     from: asleep and needle_tapped, which counts the way as positive.
//   - A meter the wrong way round reads below zero at its terminals, the red lead on
//     its plus; a moving iron (square law) cannot be the wrong way round.
//   - A square law is the same both ways round; other laws go on below zero as above.
//   - A step-up whose pack stands above its rail, cannot carry the load or has less
//     than minimum_input passes its input through; a linear one falls with its input.
//     Trimmed is at the rail's own voltage all the same.
//   - A converter, or a drop before the rail, lets no current back into the cells.
//   - A rail below minimum_voltage awake holds the controller as reset_low does, but
//     its reset pin stands at the rail; it does not fall asleep either. So does any
//     rail below 0.5 V.
//   - rail.voltage_on and battery.voltage_on are read as battery.current_on is: hands
//     at 0, lamps as lit. battery.current_off goes to the milliampere range above 4 mA.
//   - A wire may be open at the pin, or between the resistors and the meter with the
//     capacitor left on the resistors' side.
//   - Swapped pins are probed where the wires of the hand begin; while a hand is parked
//     all other outputs are low, and a lamp on a hand's pin is dark while the hand is at 0.
//   - A button that keeps the clock awake while pressed does so when it is joined.
//   - The dummy takes the coil's place alone: what is planned in its case stays before it.
//   - The tick is flashed on any output, so that a dark lamp does not hide it; a clock
//     that stands still has no drift to read.
//   - A crystal's frequency is read at measured_at, or trimmed_at, new; its drift is
//     counted later, aged, at any temperature of the room.
//   - turn_effect has no answer where the needle lies at a stop before or after the turn.
//   - Trimmed is with the needle on the top mark, zero_offset and class included.
//   - needle_moving: all four causes that may show there do so in one half of clocks.
//   - Of a given meter what was found inside is a multiplier or a shunt; the other is
//     not left in. Where nothing was found, either may be.
//   - The rail is set wrong where a converter or an outside supply sets it.
//   - What is left out: pin_high and pin_low, heat, the 1 Ω of protecting diodes.
package faulty

import (
	"math/rand/v2"

	"example.com/needlewright/model"
)

// A Clock is one clock as somebody built it: parts within their tolerances
// (rectangular), trimmed by eye as far as the trimmer goes, with faults or without.
type Clock struct {
	circuit
	build  *model.Build
	bench  Bench
	faults []Fault

	parts  uint64 // the seed of its parts
	seed   uint64 // of the errors of its readings
	points []point
	at     map[string]int
}

// Make builds one clock, with what is to be drawn of the faults drawn: amounts within
// their ranges (factors log-uniform, the rest uniform), places, and of causes that may
// have been there when the trimmer was set, whether they were (one half, unless the
// fault says so). What is given is kept.
func Make(b *model.Build, random *rand.Rand, faults ...Fault) *Clock {
	return MakeAt(UsualBench(), b, random, faults...)
}

// MakeAt does the same with another multimeter, or a pack of which more is known.
func MakeAt(bench Bench, b *model.Build, random *rand.Rand, faults ...Fault) *Clock {
	parts, amounts, seed := random.Uint64(), random.Uint64(), random.Uint64()
	drawn := make([]Fault, len(faults))
	draw := rand.New(rand.NewPCG(amounts, 2))
	for i, f := range faults {
		drawn[i] = complete(b, f, draw)
	}
	return assemble(bench, b, parts, seed, drawn)
}

// assemble builds a clock of the parts that a seed stands for, with faults as they are.
func assemble(bench Bench, b *model.Build, parts, seed uint64, faults []Fault) *Clock {
	c := &Clock{build: b, bench: bench, parts: parts, seed: seed, faults: faults}
	eyes := c.draw(b, bench, rand.New(rand.NewPCG(parts, 1)))
	for _, f := range faults {
		if f.TrimmedWithIt {
			c.change(b, f)
		}
	}
	c.trimming = true
	for i := range c.hands {
		c.trim(i, eyes[i])
	}
	c.trimming = false
	for _, f := range faults {
		if !f.TrimmedWithIt {
			c.change(b, f)
		}
	}
	c.settle()
	c.kept = map[state][3]float64{}
	c.points = c.measure()
	c.at = make(map[string]int, len(c.points))
	for i, p := range c.points {
		c.at[p.id] = i
	}
	return c
}

// Faults returns the clock's faults as they were drawn.
func (c *Clock) Faults() []Fault { return c.faults }

// Points returns the ids of the test points of this clock that have an answer.
func (c *Clock) Points() []string {
	ids := make([]string, len(c.points))
	for i, p := range c.points {
		ids[i] = p.id
	}
	return ids
}
