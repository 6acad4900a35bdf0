// Package network is what a build's clock is made of, as data: parts with their terminals,
// the nets that the terminals are joined to, the connections in the order in which they are
// made and checked, and the voltages and currents at a time of the dial. Parts lists,
// drawings and the walk are made from it, so that none of them can have a part that another
// has not.
package network

import (
	"strconv"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Kind is what a part is.
type Kind string

// The kinds of parts that a clock may have.
const (
	Cells      Kind = "cells"
	PlugIn     Kind = "plug-in supply"
	Polarity   Kind = "polarity diode"
	Converter  Kind = "converter"
	Controller Kind = "controller"
	Resistor   Kind = "resistor"
	Trimmer    Kind = "trimmer"
	Capacitor  Kind = "capacitor"
	Crystal    Kind = "crystal"
	LED        Kind = "LED"
	Button     Kind = "button"
	PChannel   Kind = "P-channel MOSFET"
	NChannel   Kind = "N-channel MOSFET"
	Diode      Kind = "silicon diode"
	Meter      Kind = "meter"
)

// A Terminal is a place of a part to which a wire goes.
type Terminal struct {
	Name string // as it is found on the part: "+", "long lead", "gate"
	Net  string // what it is joined to; terminals of one net are one node
}

// A Part is something that is bought, found or made, and wired.
type Part struct {
	ID        string // stable: "hand.hours.fixed", "lamp.seconds.1.led"
	Kind      Kind
	Name      string // "fixed resistor"
	Of        string // hand, lamp or button by its name; "" the clock's
	Hand      int    // -1: of no hand
	Lamp      int    // -1: of no lamp
	Value     quantity.Value
	Unit      quantity.Unit
	Words     string // in place of a value: "alkaline C"
	Polar     bool   // of a capacitor: it is an electrolytic, or may be one
	Terminals []Terminal
}

// The lines that run along a board: everything that shares them is joined there.
const (
	Ground = "ground line"
	Rail   = "rail line"
)

// A Network is a build's clock, wired.
type Network struct {
	Build       *model.Build
	Plan        *circuit.Plan
	Parts       []Part
	Connections []Connection

	meters map[string]string // of each hand, the net at its meter
}

// Of wires a build without problems, of which this is the plan.
func Of(b *model.Build, p *circuit.Plan) *Network {
	w := &wiring{n: &Network{Build: b, Plan: p}, b: b, p: p, first: map[string]End{Ground: {Part: Ground}, Rail: {Part: Rail}}}
	w.controller = &Part{ID: "controller", Kind: Controller, Name: "controller", Hand: -1, Lamp: -1, Value: quantity.Absent()}
	w.supply()
	w.crystal()
	for i := range b.Buttons {
		w.button(i)
	}
	for i := range b.Lamps {
		w.lamps(i)
	}
	for i := range b.Hands {
		w.hand(i)
	}
	for i := range b.Hands {
		w.meter(i)
	}
	for k := range w.n.Parts {
		if w.n.Parts[k].Kind == Controller {
			w.n.Parts[k] = *w.controller
		}
	}
	return w.n
}

// HasConverter says whether something stands between the cells and the rail.
func HasConverter(b *model.Build) bool {
	return b.Battery.HasCells() && (b.Converter.Kind == "boost" || b.Converter.Kind == "linear")
}

// ConverterName is what people call it.
func ConverterName(b *model.Build) string {
	if b.Converter.Kind == "boost" {
		return "step-up converter"
	}
	return "linear regulator"
}

// hasCrystal says whether there is one.
func hasCrystal(b *model.Build) bool { return b.Crystal.Frequency.Given() }

// GatePull is the resistor that keeps a pair of transistors from driving the meter while the
// controller's pin floats at reset, Ω. Common practice, no source.
const GatePull = 10e3

// Find returns the part of an id; nil where there is none.
func (n *Network) Find(id string) *Part {
	for k := range n.Parts {
		if n.Parts[k].ID == id {
			return &n.Parts[k]
		}
	}
	return nil
}

// Called is a part's name with what it is of, where the clock has several such: "hours:
// fixed resistor".
func (p *Part) Called(b *model.Build) string {
	switch {
	case p.Hand >= 0 && len(b.Hands) > 1, p.Hand < 0 && p.Of != "":
		return p.Of + ": " + p.Name
	}
	return p.Name
}

// Text is a part's value with its tolerance, "8.2 kΩ ±1 %", or what is said in its place;
// "?" of one that is not given.
func (p *Part) Text() string {
	switch {
	case p.Words != "":
		return p.Words
	case p.Unit == quantity.Times:
		return ""
	case !p.Value.Given():
		return "?"
	}
	return quantity.Format(p.Value, p.Unit)
}

// Pin is what the controller's pin of a hand is called; of a bridge there is a second one.
func Pin(h *model.Hand, second bool) string {
	switch {
	case second:
		return "pin " + h.Name + " down"
	case h.Drive.By == "bridge":
		return "pin " + h.Name + " up"
	}
	return "pin " + h.Name
}

// lampPin is what the controller's pin of the k-th lamp of its kind is called, from 1.
func lampPin(l *model.Lamp, k int) string {
	if l.Count == 1 {
		return "lamp " + l.Name
	}
	return "lamp " + l.Name + " " + strconv.Itoa(k)
}

// ButtonPin is the same of a button.
func ButtonPin(b *model.Button) string { return "button " + b.Name }
