package parts

import (
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
)

// A kind is a row of the table: what a part is called in a shop, what else would do, and what
// it has to stand, or is besides.
type kind struct {
	what, instead string
	fill          func(l *lister, p *network.Part, line *Line)
}

// none has nothing to stand.
func none(*lister, *network.Part, *Line) {}

// kinds is that table. What else would do: common practice, no source.
var kinds = map[network.Kind]kind{
	network.Cells: {"cell", "others of the same size: put them in battery.cell, and check says what becomes of rail and life", func(l *lister, _ *network.Part, line *Line) {
		line.Value, line.Each = l.b.Battery.Cell, l.b.Battery.Cells
		if line.Value == "" {
			line.Value = "not given"
		}
		if c := l.b.Battery.Capacity; c.Given() {
			line.Rating = quantity.Format(quantity.Value{Number: c.Number}, quantity.AmpereHours)
		}
	}},
	network.PlugIn: {"plug-in supply, certified and isolated", "cells, or another certified, isolated one of the same volts; never bare mains", func(l *lister, _ *network.Part, line *Line) {
		line.Value, line.Tolerance = valueOf(l.b.Rail.Voltage, quantity.Volts)
		line.Rating = amperes(l.load())
	}},
	network.Polarity: {"diode against reversed cells", "a Schottky diode loses 0.2 to 0.3 V, a P-channel MOSFET nearly none: put it in battery.series_drop", func(l *lister, _ *network.Part, line *Line) {
		line.Value += " lost"
		line.Rating = semiconductor(l.p.Circuit.Battery.Pack.Fresh(), l.p.Battery.CurrentPeak)
	}},
	network.Converter: {"converter", "another of the same output: put its quiescent current and efficiency in", func(l *lister, _ *network.Part, line *Line) {
		line.What = network.ConverterName(l.b)
		line.Value, line.Tolerance = valueOf(l.b.Rail.Voltage, quantity.Volts)
		line.Rating = join(amperes(l.load()), "input to "+quantity.Show(l.p.Circuit.Battery.Pack.Fresh(), quantity.Volts, 2))
	}},
	network.Controller: {"controller", "any with as many pins and such a PWM", func(l *lister, p *network.Part, line *Line) {
		line.Value = join(l.pins(p), l.counts())
		line.Rating = quantity.Format(quantity.Value{Number: l.b.Rail.Voltage.Number}, quantity.Volts)
	}},
	network.Resistor: {"resistor", "two in series that add up to it", resistor},
	network.Trimmer: {"trimmer", "one with fewer turns: it sets more coarsely", func(l *lister, p *network.Part, line *Line) {
		h := &l.p.Circuit.Hands[p.Hand]
		d := h.Drive()
		_, _, power := h.Heat(&d)
		line.Rating = watts(power)
		if turns := l.b.Hands[p.Hand].Drive.TrimmerTurns; turns.Given() {
			line.Rating = join(turnsText(turns), line.Rating)
		}
	}},
	network.Capacitor: {"capacitor", "", capacitor},
	network.Crystal: {"crystal", "another of the same load", func(l *lister, _ *network.Part, line *Line) {
		x := &l.b.Crystal
		if x.Tolerance.Number > 0 {
			line.Tolerance = quantity.Format(quantity.Value{Number: x.Tolerance.Number}, quantity.PPM)
		}
		if x.Load.Given() {
			line.Rating = "for a load of " + quantity.Format(quantity.Value{Number: x.Load.Number}, quantity.Picofarads)
		}
	}},
	network.LED: {"LED", "another colour with about as many forward volts", func(l *lister, p *network.Part, line *Line) {
		line.Rating = amperes(l.p.Lamps[p.Lamp].Current)
	}},
	network.Button:   {"push button", "any that closes while it is pressed", none},
	network.PChannel: {"P-channel MOSFET, on at the rail's volts", "any that is wholly on at so few volts", transistor},
	network.NChannel: {"N-channel MOSFET, on at the rail's volts", "any that is wholly on at so few volts", transistor},
	network.Diode: {"silicon diode", "any small one of silicon: not a Schottky, not germanium", func(l *lister, p *network.Part, line *Line) {
		line.Rating = semiconductor(circuit.MostRail(l.b), l.stuck(p.Hand))
	}},
	network.Meter: {Meters, "needlewright fit says whether another would do", func(_ *lister, p *network.Part, line *Line) { line.Value = p.Words }},
}

// turnsText is how many turns a trimmer has.
func turnsText(turns quantity.Value) string {
	if turns.Number == 1 {
		return "1 turn"
	}
	return quantity.Format(quantity.Value{Number: turns.Number}, quantity.Times) + " turns"
}

// transistor is one of a pair that switches a hand.
func transistor(l *lister, p *network.Part, line *Line) {
	line.Rating = semiconductor(circuit.MostRail(l.b), l.stuck(p.Hand))
}

// resistor is one of a hand, a lamp or a button.
func resistor(l *lister, p *network.Part, line *Line) {
	rail := l.b.Rail.Voltage.Number
	switch {
	case p.Lamp >= 0:
		line.Rating = watts(l.p.Lamps[p.Lamp].Power)
		line.Instead = "a larger one: the lamp is dimmer, and the cells last longer"
	case p.Hand < 0 || p.Name == "gates' pull resistor":
		line.Rating = watts(rail * rail / p.Value.Number)
		line.Instead = "half to twice as much"
	default:
		h := &l.p.Circuit.Hands[p.Hand]
		d := h.Drive()
		stage, fixed, _ := h.Heat(&d)
		line.Rating = watts(fixed)
		if p.Name == "stage resistor" {
			line.Rating = watts(stage)
		}
	}
}

// capacitor is one of a hand, the rail or the crystal.
func capacitor(l *lister, p *network.Part, line *Line) {
	line.Rating = volts(circuit.MostRail(l.b))
	switch {
	case p.Hand >= 0:
		if kind := l.b.Hands[p.Hand].Drive.CapacitorKind; kind != "" {
			line.What = kind + " capacitor"
		}
		line.Instead = "a larger one: the needle gets there more slowly"
		if p.Polar {
			line.Instead = "film or ceramic of as much: either way round, and it does not leak"
		}
	case p.ID == "rail.capacitor":
		line.Instead = "a larger one: it holds longer while cells are changed"
		if p.Polar {
			line.What = "electrolytic capacitor"
		}
	default:
		line.What = "ceramic capacitor"
		line.Instead = "two side by side that add up to it"
	}
}
