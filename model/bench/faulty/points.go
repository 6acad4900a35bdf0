package faulty

import (
	"math"
	"math/rand/v2"

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

// The bring-up mode's codes of a hand.
func (c *Clock) parked(i, code int) state { return state{hand: i, code: code, awake: true} }

// handPoints are the test points of a hand.
func (c *Clock) handPoints(i int) []point {
	h := &c.hands[i]
	all := c.needlePoints(i)
	add := func(id string, k kind, value float64) {
		all = append(all, point{id: h.name + "." + id, kind: k, value: value})
	}
	zero, half, top := c.parked(i, 0), c.parked(i, h.top/2), c.parked(i, h.top)
	probed := func(s state, where tap) means {
		dummy := where == atDummy
		return solve(h.chain(where, c.bench.Multimeter.Input, dummy), c.rail(s), c.duty(i, s), h.diodes && !dummy)
	}
	add("pin_voltage_asleep", volts, probed(asleep, atPin).v[ofPin])
	add("pin_voltage_half", volts, probed(half, atPin).v[ofPin])
	add("pin_voltage_top", volts, probed(top, atPin).v[ofPin])
	plan := c.build.Hands[i].Drive
	if plan.Stage.Number > 0 {
		add("stage_voltage_top", volts, probed(top, atStage).across(ofStage))
	}
	if plan.Fixed.Number > 0 {
		add("fixed_voltage_top", volts, probed(top, atFixed).across(ofFixed))
	}
	if plan.Trimmer.Number > 0 {
		add("trimmer_voltage_top", volts, probed(top, atTrimmer).across(ofTrimmer))
	}
	add("coil_voltage_top", volts, h.polarity*probed(top, atTerminals).v[ofMeterLead])
	add("node_ac_half", alternating, c.nodeAC(i, half))
	add("pwm_frequency", hertz, c.pwmAt(i, half))
	if h.stage+h.fixed+h.setting > 0 {
		add("series_resistance", ohms, h.stage+h.fixed+h.setting)
	}
	add("terminals_ohms", ohms, h.multiplier+parallel(h.coil, h.shunt))
	add("dummy_voltage_zero", volts, probed(zero, atDummy).v[ofCase])
	add("dummy_voltage_half", volts, probed(half, atDummy).v[ofCase])
	add("dummy_voltage_top", volts, probed(top, atDummy).v[ofCase])
	return all
}

// nodeAC is what the multimeter's AC range sees at the capacitor, or at the meter
// where none is planned.
func (c *Clock) nodeAC(i int, s state) float64 {
	h := &c.hands[i]
	pick := func(w wave) complex128 { return w.node }
	if !(c.build.Hands[i].Drive.Capacitor.Number > 0) {
		pick = func(w wave) complex128 { return w.terminals }
	}
	duty := c.duty(i, s)
	if duty == 0 || duty == 1 {
		return 0
	}
	return c.rail(s) * h.rms(duty, pick)
}

// pwmAt is the frequency at the hand's pin: none where the pin does not change.
func (c *Clock) pwmAt(i int, s state) float64 {
	if duty := c.duty(i, s); duty == 0 || duty == 1 {
		return 0
	}
	return c.hands[c.hands[i].from].pwm
}

// needlePoints are those for which a hand is looked at.
func (c *Clock) needlePoints(i int) []point {
	h := &c.hands[i]
	stand := func(s state) float64 { return h.place(c.rail(s), c.duty(i, s)) }
	half, top, three := c.parked(i, h.top/2), c.parked(i, h.top), c.parked(i, 3*h.top/4)
	place := func(id string, y float64) point { return h.seen(point{id: h.name + "." + id, kind: places, value: y}) }
	halfway := h.seen(point{kind: friction, id: h.name + ".needle_tapped", value: stand(half)})
	halfway.value = h.stick
	if halfway.word != "" {
		halfway.word, halfway.value = "", 0 // it lies at a stop
	}
	all := []point{
		place("needle_unpowered", h.zero),
		place("needle_asleep", stand(asleep)+h.stick*h.polarity),
		place("needle_half", stand(half)),
		place("needle_top", stand(top)),
		halfway,
		{id: h.name + ".needle_moving", kind: words, word: c.moving(i, top)},
	}
	before := stand(three)
	after, ok := c.turned(i, three)
	if free := h.seen(point{value: before}).word == "" && h.seen(point{value: after}).word == ""; ok && free {
		all = append(all, point{id: h.name + ".turn_effect", kind: moves, value: after - before})
	}
	return all
}

// seen is a place as a person sees it: beyond a stop the needle lies there.
func (h *hand) seen(p point) point {
	switch {
	case p.value > 1+h.stop:
		p.word = "over"
	case p.value < -h.stop:
		p.word = "below"
	}
	return p
}

// turned is the needle's place after the trimmer was turned by a fifth towards more
// resistance, or towards less where its end comes first.
func (c *Clock) turned(i int, s state) (float64, bool) {
	h := &c.hands[i]
	if h.track == 0 {
		return 0, false
	}
	was, kept := h.setting, c.kept
	c.kept = nil
	defer func() { h.setting, c.kept = was, kept }()
	if !h.turnsNothing && !math.IsInf(was, 1) {
		fifth := h.track / 5
		if was+fifth > h.track {
			fifth = -fifth
		}
		h.setting += fifth
	}
	return h.place(c.rail(s), c.duty(i, s)), true
}

// moving is what the needle does in a minute at the top.
func (c *Clock) moving(i int, s state) string {
	h := &c.hands[i]
	may := rand.New(rand.NewPCG(c.seed, uint64(i))).IntN(2) == 0
	swing := 0.0
	if duty := c.duty(i, s); duty > 0 && duty < 1 {
		swing = h.tremble(c.rail(s))
	}
	if swing > 0.005 || swing > 0.002 && may {
		return "trembles"
	}
	for _, f := range c.faults {
		if !may || f.About != "" && f.About != h.name || c.duty(i, s) == 0 {
			continue
		}
		switch f.ID {
		case "needle_sticks", "contacts_bad":
			return "jumps"
		case "capacitor_leaky", "cells_weak":
			return "drifts"
		}
	}
	return "steady"
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
