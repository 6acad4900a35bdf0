package faulty

import (
	"math"
	"math/rand/v2"
)

// parked is the bring-up mode with one hand at a code.
func (c *Clock) parked(i, code int) state { return state{hand: i, code: code, awake: true} }

// handPoints are the test points of a hand.
func (c *Clock) handPoints(i int) []point {
	all := append(c.needlePoints(i), c.voltagePoints(i)...)
	all = append(all, c.pulsePoints(i)...)
	h := &c.hands[i]
	if h.stage+h.fixed+h.setting > 0 {
		all = append(all, point{id: h.name + ".series_resistance", kind: ohms, value: h.stage + h.fixed + h.setting})
	}
	all = append(all, point{id: h.name + ".terminals_ohms", kind: ohms, value: h.multiplier + parallel(h.coil, h.shunt)})
	for _, d := range []struct {
		id   string
		code int
	}{{"zero", 0}, {"half", h.top / 2}, {"top", h.top}} {
		m := c.probed(i, c.parked(i, d.code), atDummy)
		all = append(all, point{id: h.name + ".dummy_voltage_" + d.id, kind: volts, value: m.v[ofCase]})
	}
	return all
}

// probed are the mean voltages of a hand's chain with the probes somewhere.
func (c *Clock) probed(i int, s state, where tap) means {
	h, dummy := &c.hands[i], where == atDummy
	return solve(h.chain(where, c.bench.Multimeter.Input, dummy), c.rail(s), c.duty(i, s), h.diodes && !dummy)
}

// voltagePoints are the mean voltages of a hand.
func (c *Clock) voltagePoints(i int) []point {
	h, plan := &c.hands[i], &c.build.Hands[i].Drive
	var all []point
	add := func(id string, value float64) {
		all = append(all, point{id: h.name + "." + id, kind: volts, value: value})
	}
	half, top := c.parked(i, h.top/2), c.parked(i, h.top)
	add("pin_voltage_asleep", c.probed(i, asleep, atPin).v[ofPin])
	add("pin_voltage_half", c.probed(i, half, atPin).v[ofPin])
	add("pin_voltage_top", c.probed(i, top, atPin).v[ofPin])
	if plan.Stage.Number > 0 {
		add("stage_voltage_top", c.probed(i, top, atStage).across(ofStage))
	}
	if plan.Fixed.Number > 0 {
		add("fixed_voltage_top", c.probed(i, top, atFixed).across(ofFixed))
	}
	if plan.Trimmer.Number > 0 {
		add("trimmer_voltage_top", c.probed(i, top, atTrimmer).across(ofTrimmer))
	}
	add("coil_voltage_top", h.polarity*c.probed(i, top, atTerminals).v[ofMeterLead])
	return all
}

// pulsePoints are those of the pulses themselves, at half.
func (c *Clock) pulsePoints(i int) []point {
	h := &c.hands[i]
	half := c.parked(i, h.top/2)
	return []point{
		{id: h.name + ".node_ac_half", kind: alternating, value: c.nodeAC(i, half)},
		{id: h.name + ".pwm_frequency", kind: hertz, value: c.pwmAt(i, half)},
	}
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
