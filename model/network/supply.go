package network

import (
	"fmt"
	"strconv"

	"example.com/needlewright/model/quantity"
)

// supply wires what feeds the clock, up to the controller.
func (w *wiring) supply() {
	w.section = "Supply"
	bare := Part{Hand: -1, Lamp: -1, Value: quantity.Absent()}
	if w.b.Battery.HasCells() {
		w.cells(bare)
	} else {
		plug := bare
		plug.ID, plug.Kind, plug.Name, plug.Words = "supply", PlugIn, "plug-in supply", quantity.Format(w.b.Rail.Voltage, quantity.Volts)
		w.add(plug,
			joint{"−", Ground, Off, continuity, "a bought, isolated one, never bare mains; of a board that has its own socket this is its GND pin, and its 5 V or 3.3 V pin is the rail: nothing is cut"},
			joint{"+", Rail, On, w.railVolts() + " from rail line to ground line", "the wrong way round it kills the controller: measure before it is in. " + w.off()})
	}
	if w.b.Rail.Capacitor.Number > 0 {
		c := bare
		c.ID, c.Kind, c.Name, c.Value, c.Unit = "rail.capacitor", Capacitor, "rail capacitor", w.b.Rail.Capacitor, quantity.Microfarads
		c.Polar = c.Value.Number >= leastPolar
		w.add(c,
			joint{minusOf(c.Polar), Ground, Off, continuity, stripe(c.Polar)},
			joint{plusOf(c.Polar), Rail, On, w.railVolts() + " from rail line to ground line; the capacitor stays cold", w.off() + " " + discharge})
	}
	w.n.Parts = append(w.n.Parts, *w.controller) // its place in the list; its pins come with what they drive
	w.pin(joint{"ground", Ground, Off, continuity, "a board has the names beside its pins; on a bare chip find the notch or dot of pin 1, and count from there as its papers do"})
	w.pin(joint{"supply", Rail, On, w.railVolts() + " from its supply pin to its ground pin", "its own papers say what its pins need besides, mostly 100 nF from supply to ground close by. " + w.off()})
}

// cells wires the holder, what keeps reversed cells off, and the converter.
func (w *wiring) cells(bare Part) {
	b := w.b
	pack := w.p.Circuit.Battery.Pack
	fresh, plus := pack.Fresh(), "cells"
	if drop := b.Battery.SeriesDrop.Number; !HasConverter(b) && !(drop > 0) {
		plus = Rail
	}
	cells := bare
	cells.ID, cells.Kind, cells.Name, cells.Words = "battery", Cells, "cells' holder", fmt.Sprintf("%d × %s", b.Battery.Cells, b.Battery.Cell)
	if b.Battery.Cell == "" {
		cells.Words = strconv.Itoa(b.Battery.Cells) + " cells"
	}
	rest := quantity.Show(fresh, quantity.Volts, 3)
	w.add(cells,
		joint{"−", Ground, Off, continuity, "black lead"},
		joint{"+", plus, On, rest + " with fresh cells, from rail line to ground line", "red lead; the two never touch. " + w.off()})
	input := "cells"
	if drop := b.Battery.SeriesDrop; drop.Number > 0 {
		input = "input"
		if !HasConverter(b) {
			input = Rail
		}
		d := bare
		d.ID, d.Kind, d.Name, d.Value, d.Unit = "battery.diode", Polarity, "polarity diode", drop, quantity.Volts
		w.add(d,
			joint{"plain end", "cells", On, rest + " from it to ground line, fresh cells", "the stripe looks away from the cells. " + w.off()},
			joint{"striped end", input, On, "about " + quantity.Show(max(0, fresh-drop.Number), quantity.Volts, 2) + " to ground line, fresh cells", w.off()})
	}
	if !HasConverter(b) {
		return
	}
	c := bare
	c.ID, c.Kind, c.Name = "converter", Converter, ConverterName(b)
	w.add(c,
		joint{"ground", Ground, Off, continuity, ""},
		joint{"input", input, On, "close to " + quantity.Show(max(0, fresh-b.Battery.SeriesDrop.Number), quantity.Volts, 2) + " from input to ground, fresh cells", "input and output changed for one another kill it. " + w.off()},
		joint{"output", Rail, On, w.railVolts() + " from rail line to ground line", "set it before anything else is on the rail, where it can be set. " + w.off()})
}

// railVolts is what the rail has to be: of bare cells, and where fresh ones stand above what a
// step-up makes, theirs.
func (w *wiring) railVolts() string {
	b := w.b
	left := 0.0
	if b.Battery.HasCells() {
		left = max(0, w.p.Circuit.Battery.Pack.Fresh()-b.Battery.SeriesDrop.Number)
	}
	if b.Battery.HasCells() && !HasConverter(b) || b.Converter.Kind == "boost" && left > b.Rail.Voltage.Number {
		return "about " + quantity.Show(left, quantity.Volts, 2) + ", fresh cells,"
	}
	return within(b.Rail.Voltage, quantity.Volts)
}

// leastPolar is from where on capacitors are taken to be electrolytic, F, as the findings do
// where no kind is given.
const leastPolar = 1e-6

const discharge = "Discharge it through 1 kΩ before you go on."

// What the leads of capacitors and what to mind of them are called.
func minusOf(polar bool) string {
	if polar {
		return "−"
	}
	return "one end"
}

func plusOf(polar bool) string {
	if polar {
		return "+"
	}
	return "other end"
}

func stripe(polar bool) string {
	if polar {
		return "the lead at the stripe is −; the long lead is +. The wrong way round it can burst."
	}
	return "either way round"
}

// crystal wires it with its two capacitors.
func (w *wiring) crystal() {
	if !hasCrystal(w.b) {
		return
	}
	w.section = "Crystal"
	x := &w.b.Crystal
	w.pin(joint{terminal: "crystal in", net: "crystal.in"})
	w.pin(joint{terminal: "crystal out", net: "crystal.out"})
	c := Part{ID: "crystal", Kind: Crystal, Name: "crystal", Hand: -1, Lamp: -1, Value: x.Frequency, Unit: quantity.Kilohertz}
	const nearby = "as close to the pins as can be; either way round"
	w.add(c,
		joint{"one lead", "crystal.in", Off, joined, nearby + "; its leads break easily, and heat harms it"},
		joint{"other lead", "crystal.out", Off, joined + "; open, above 1 MΩ, from pin to pin", ""})
	for _, load := range []struct {
		id, name, net string
		value         quantity.Value
	}{{"crystal.capacitor_in", "crystal's capacitor in", "crystal.in", x.CapacitorIn}, {"crystal.capacitor_out", "crystal's capacitor out", "crystal.out", x.CapacitorOut}} {
		if !(load.value.Number > 0) {
			continue
		}
		c := Part{ID: load.id, Kind: Capacitor, Name: load.name, Hand: -1, Lamp: -1, Value: load.value, Unit: quantity.Picofarads}
		w.add(c,
			joint{"one end", load.net, Off, joined, "either way round; by its marking, before it is in"},
			joint{"other end", Ground, Off, continuity + "; open, above 1 MΩ, from the pin to ground line", "by the shortest way to the controller's ground"})
	}
}

// button wires one with its pull resistor.
func (w *wiring) button(i int) {
	b := &w.b.Buttons[i]
	w.section = "Button " + b.Name
	net, id := "button."+b.Name, "button."+b.Name
	up, down := Rail, Ground
	if b.To == "ground" {
		up, down = Ground, Rail
	}
	w.pin(joint{terminal: ButtonPin(b), net: net})
	w.add(Part{ID: id + ".pull", Kind: Resistor, Name: "pull resistor", Of: b.Name, Hand: -1, Lamp: -1, Value: b.Pull, Unit: quantity.Ohms},
		joint{"one end", net, Off, within(b.Pull, quantity.Ohms) + " across it", "either way round; by the ohmmeter before it is in"},
		joint{"other end", up, Off, within(b.Pull, quantity.Ohms) + " from the pin to the " + up, ""})
	w.add(Part{ID: id, Kind: Button, Name: "button", Of: b.Name, Hand: -1, Lamp: -1, Value: quantity.Absent()},
		joint{"one side", net, Off, joined, "of four legs two and two are joined: use two that are open until it is pressed"},
		joint{"other side", down, Off, "pressed: below 1 Ω from the pin to the " + down + "; released: not", ""})
}

// lamps wires all of a kind, each with a resistor and on a pin of its own.
func (w *wiring) lamps(i int) {
	l := &w.b.Lamps[i]
	w.section = "Lamp " + l.Name
	for k := 1; k <= l.Count; k++ {
		id, of := fmt.Sprintf("lamp.%s.%d", l.Name, k), l.Name
		if l.Count > 1 {
			of += " " + strconv.Itoa(k)
		}
		w.pin(joint{terminal: lampPin(l, k), net: id + ".pin"})
		w.add(Part{ID: id + ".resistor", Kind: Resistor, Name: "resistor", Of: of, Hand: -1, Lamp: i, Value: l.Resistor, Unit: quantity.Ohms},
			joint{"one end", id + ".pin", Off, within(l.Resistor, quantity.Ohms) + " across it", "either way round; by the ohmmeter before it is in"},
			joint{terminal: "other end", net: id + ".led"})
		w.add(Part{ID: id + ".led", Kind: LED, Name: "LED", Of: of, Hand: -1, Lamp: i, Value: l.Forward, Unit: quantity.Volts},
			joint{"long lead", id + ".led", Off, joined, "the long lead (+) to the resistor"},
			joint{"short lead", Ground, Off, "diode range, + on the resistor's lead: it glows faintly or reads its forward volts; the other way round nothing", "the short lead (−), at the flat side, to ground"})
	}
}
