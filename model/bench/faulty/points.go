package faulty

import (
	"math"

	"example.com/needlewright/model"
)

// A point is a test point of one clock, with what is truly there.
type point struct {
	id    string
	kind  kind
	value float64
	word  string // in place of a value
}

// measure puts the probes everywhere, in the order of the contract.
func (c *Clock) measure() []point {
	var all []point
	for i := range c.hands {
		all = append(all, c.handPoints(i)...)
	}
	all = append(all, c.supplyPoints()...)
	for i := range c.lamps {
		all = append(all, c.lampPoints(&c.lamps[i])...)
	}
	all = append(all, c.timePoints()...)
	rail := c.rail(idle)
	for i := range c.buttons {
		all = append(all, c.buttonPoints(&c.buttons[i], rail)...)
	}
	reset := rail
	if c.load.reset {
		reset = 0
	}
	return append(all, point{id: "reset.voltage", kind: volts, value: reset})
}

// supplyPoints are those of cells, converter and rail.
func (c *Clock) supplyPoints() []point {
	rail, _, pack := c.powered(idle)
	all := []point{{id: "rail.voltage_on", kind: volts, value: rail}, {id: "rail.voltage_asleep", kind: volts, value: c.rail(asleep)}}
	if c.supply.outside {
		return all
	}
	p := &c.supply
	all = append(all, point{id: "battery.voltage_rest", kind: volts, value: p.rest()})
	if c.build.Load.ControllerOn.Given() && c.lampsKnown() {
		lead := idle
		lead.packLead = c.bench.Multimeter.Milliamps
		_, _, read := c.powered(lead)
		all = append(all,
			point{id: "battery.voltage_on", kind: volts, value: p.rest() - pack*p.inner()},
			point{id: "battery.contacts_drop", kind: volts, value: pack * p.contacts},
			point{id: "battery.current_on", kind: amperes, value: read})
	}
	if c.build.Load.ControllerOff.Given() {
		all = append(all, point{id: "battery.current_off", kind: amperes, value: c.sleeping(func(s *state, ohms float64) { s.packLead = ohms }, true)})
		if hasConverter(c.build) {
			all = append(all, point{id: "rail.current_off", kind: amperes, value: c.sleeping(func(s *state, ohms float64) { s.railLead = ohms }, false)})
		}
	}
	return all
}

// sleeping is a current asleep, on the microampere range where that holds it.
func (c *Clock) sleeping(put func(s *state, ohms float64), ofPack bool) float64 {
	read := func(ohms float64) float64 {
		s := asleep
		put(&s, ohms)
		_, current, pack := c.powered(s)
		if ofPack {
			return pack
		}
		return max(0, current) // a converter takes nothing back
	}
	if current := read(c.bench.Multimeter.Microamps); current <= 4e-3 && read(c.bench.Multimeter.Milliamps) <= 4e-3 {
		return current
	}
	return read(c.bench.Multimeter.Milliamps)
}

func (c *Clock) lampsKnown() bool {
	for _, l := range c.lamps {
		if math.IsNaN(l.forward + l.resistor) {
			return false
		}
	}
	return true
}

// lampPoints are those of a lamp.
func (c *Clock) lampPoints(l *lamp) []point {
	var all []point
	lit, dark := c.rail(state{hand: -1, awake: true, lit: true}), c.rail(asleep)
	on, off := 0.0, 0.0
	if !c.load.held || l.always {
		on = l.current(lit)
	}
	if l.always {
		off = l.current(dark)
	}
	if !math.IsNaN(l.forward + l.resistor) {
		all = append(all, point{id: "lamp." + l.name + ".voltage_on", kind: volts, value: on * l.resistor},
			point{id: "lamp." + l.name + ".voltage_asleep", kind: volts, value: off * l.resistor})
	}
	if !math.IsNaN(l.resistor) {
		all = append(all, point{id: "lamp." + l.name + ".resistance", kind: ohms, value: l.resistor})
	}
	word := "yes"
	switch {
	case l.dark, c.load.held && !l.always, on == 0 && !math.IsNaN(l.forward+l.resistor):
		word = "no"
	case l.always:
		word = "always"
	}
	return append(all, point{id: "lamp." + l.name + ".lights", kind: words, word: word})
}

// timePoints are those of what the clock counts.
func (c *Clock) timePoints() []point {
	x := &c.crystal
	if !x.countsKnown {
		return nil
	}
	still := x.stopped || c.load.held
	tick := point{id: "clock.tick", kind: ticks, value: x.tick(x.bench)}
	frequency := point{id: "crystal.frequency", kind: counter, value: x.hertz(x.bench)}
	if still {
		tick = point{id: tick.id, kind: words, word: "none"}
		frequency.value = 0
	}
	all := []point{tick}
	if x.known && !still {
		all = append(all, point{id: "clock.drift", kind: drift, value: x.drift()})
	}
	if x.known {
		all = append(all, frequency)
	}
	return all
}

// buttonPoints are those of a button. An open pin's voltage is what it floats at.
func (c *Clock) buttonPoints(b *button, rail float64) []point {
	input := c.bench.Multimeter.Input
	pulled, pressed := rail*input/(input+b.pull), 0.0
	if b.toGround {
		pulled, pressed = 0, rail
	}
	if !math.IsNaN(b.floats) {
		pulled = rail * b.floats
	}
	if b.joined {
		pulled = pressed
	}
	return []point{{id: "button." + b.name + ".released", kind: volts, value: pulled}, {id: "button." + b.name + ".pressed", kind: volts, value: pressed}}
}

// PointsOf returns the ids of the test points that a sound clock of a build has.
func PointsOf(b *model.Build) []string {
	return assemble(UsualBench(), b, 1, 1, nil).Points()
}
