package network

import (
	"strings"
	"unicode"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// An End is where a wire ends: at a terminal of a part, or on one of the board's lines.
type End struct{ Part, Terminal string }

// String is the end in words: "fixed resistor, one end".
func (e End) String() string {
	if e.Terminal == "" {
		return e.Part
	}
	return e.Part + ", " + e.Terminal
}

// A State is what the clock has to be like while a connection is checked.
type State string

// The states in which connections are checked, of a clock with cells, and plugged in.
const (
	Off       State = "cells out"
	On        State = "cells in"
	Unplugged State = "unplugged"
	Plugged   State = "plugged in"
)

// A Connection is one wire, or one lead of a part that is soldered to another, with how it is
// checked before the next is made.
type Connection struct {
	ID       string // stable: the part's id and its terminal, "hand.hours.fixed.one-end"
	Section  string // "Supply", "Hand hours"
	From, To End
	State    State
	Expect   string // what the multimeter says then
	Mind     string // polarity, orientation, and what can go wrong; may be ""
	Meter    bool   // it joins a meter, which comes last, after the first power-up
	Net      string // what it is part of
}

// A wiring is a network in the making.
type wiring struct {
	n          *Network
	b          *model.Build
	p          *circuit.Plan
	first      map[string]End // of each net, where its next wire goes
	controller *Part
	section    string
	meterNow   bool
}

// A joint is how a terminal of a part is joined, and how that is checked.
type joint struct {
	terminal, net string
	state         State
	expect, mind  string
}

const (
	continuity = "continuity, below 1 Ω, from lead to line"
	joined     = "continuity, below 1 Ω, between the two"
)

// add adds a part and makes its connections, terminal by terminal.
func (w *wiring) add(p Part, joints ...joint) {
	for _, j := range joints {
		p.Terminals = append(p.Terminals, Terminal{j.terminal, j.net})
	}
	w.n.Parts = append(w.n.Parts, p)
	for _, j := range joints {
		w.join(&p, j)
	}
}

// pin adds a terminal of the controller, which is where a net begins or a wire from it.
func (w *wiring) pin(j joint) {
	w.controller.Terminals = append(w.controller.Terminals, Terminal{j.terminal, j.net})
	w.join(w.controller, j)
}

// join is one connection, unless the terminal is the first of its net: then others come to it.
func (w *wiring) join(p *Part, j joint) {
	from := End{p.Called(w.b), j.terminal}
	to, there := w.first[j.net]
	if !there {
		w.first[j.net] = from
		return
	}
	if j.state == "" {
		j.state = Off
	}
	if !w.b.Battery.HasCells() {
		j.state = map[State]State{Off: Unplugged, On: Plugged}[j.state]
	}
	w.n.Connections = append(w.n.Connections, Connection{
		ID: p.ID + "." + slug(j.terminal), Section: w.section, From: from, To: to,
		State: j.state, Expect: j.expect, Mind: j.mind, Meter: w.meterNow, Net: j.net,
	})
}

// slug is a terminal's name as a part of an id.
func slug(terminal string) string {
	switch terminal {
	case "+":
		return "plus"
	case "−":
		return "minus"
	}
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' {
			return r
		}
		return '-'
	}, strings.ToLower(terminal))
}

// off ends what is to be minded of a check with power on.
func (w *wiring) off() string {
	if w.b.Battery.HasCells() {
		return "Take the cells out again."
	}
	return "Unplug it again."
}

// between says what a range is: "8.12 kΩ to 8.28 kΩ".
func between(low, high float64, u quantity.Unit) string {
	one, other := quantity.Show(low, u, 3), quantity.Show(high, u, 3)
	if one == other {
		return one
	}
	return one + " to " + other
}

// within is what a multimeter says of a value with its tolerance.
func within(v quantity.Value, u quantity.Unit) string {
	if !v.Given() {
		return "its value, which is not given"
	}
	return between(v.Low(), v.High(), u)
}
