package network

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// hand wires what stands between a hand's pin and its meter.
func (w *wiring) hand(i int) {
	h := &w.b.Hands[i]
	w.section = "Hand " + h.Name
	at := w.driver(i, h)
	low, high := 0.0, 0.0 // Ω from the driver on
	for _, r := range seriesOf(h) {
		part, next := w.part(i, r.id, Resistor, r.name, r.value, quantity.Ohms), r.net
		low, high = low+r.value.Low(), high+r.value.High()
		if r.id == "trimmer" {
			part.Kind = Trimmer
			w.add(part,
				joint{"one end", at, Off, between(low, high, quantity.Ohms) + " from the pin's end of the chain to its other end", "turn it to its maximum now; the first power finds it there"},
				joint{terminal: "wiper", net: w.netOf(h, next)},
				joint{"other end", w.netOf(h, next), Off, between(low, high, quantity.Ohms) + " from the pin's end of the chain to the wiper, at its maximum; turning it back lessens that", "wiper and unused end joined: a bad wiper then leaves the whole track, and burns nothing"})
		} else {
			w.add(part,
				joint{"one end", at, Off, within(r.value, quantity.Ohms) + " across it" + soFar(low, high, r.value), "either way round; by the ohmmeter before it is in"},
				joint{terminal: "other end", net: w.netOf(h, next)})
		}
		at = w.netOf(h, next)
		if next == "stage" && h.Drive.CapacitorAt == "stage" {
			w.capacitor(i, h, at)
		}
	}
	w.ends(i, h, at)
}

// soFar is what the whole chain is up to here, where that is more than the part.
func soFar(low, high float64, v quantity.Value) string {
	if low == v.Low() && high == v.High() {
		return ""
	}
	return ", " + between(low, high, quantity.Ohms) + " from the pin's end of the chain to its free end"
}

// A resistance is one of a hand's chain.
type resistance struct {
	id, name string
	value    quantity.Value
	net      string // behind it
}

// seriesOf are the resistors and the trimmer of a hand's chain from its driver on. Where the
// capacitor has its own node, that is behind the stage resistor, or right at the driver.
func seriesOf(h *model.Hand) (chain []resistance) {
	d := &h.Drive
	for _, r := range []resistance{{"stage", "stage resistor", d.Stage, "stage"}, {"fixed", "fixed resistor", d.Fixed, "fixed"}, {"trimmer", "trimmer", d.Trimmer, "trimmer"}} {
		if r.value.Number > 0 {
			chain = append(chain, r)
		}
	}
	return chain
}

// netOf is a net of a hand.
func (w *wiring) netOf(h *model.Hand, net string) string { return "hand." + h.Name + "." + net }

// part is one of a hand.
func (w *wiring) part(i int, id string, kind Kind, name string, v quantity.Value, u quantity.Unit) Part {
	h := &w.b.Hands[i]
	return Part{ID: "hand." + h.Name + "." + id, Kind: kind, Name: name, Of: h.Name, Hand: i, Lamp: -1, Value: v, Unit: u}
}

// driver wires what drives the hand, and returns the net at which its chain begins.
func (w *wiring) driver(i int, h *model.Hand) (at string) {
	if h.Drive.By != "switch" {
		at = w.netOf(h, "pin")
		w.pin(joint{terminal: Pin(h, false), net: at})
		if h.Drive.By == "bridge" {
			w.pin(joint{terminal: Pin(h, true), net: w.back(h)})
		}
		if h.Drive.CapacitorAt == "stage" && !(h.Drive.Stage.Number > 0) {
			w.capacitor(i, h, at)
		}
		return at
	}
	gates, at := w.netOf(h, "gates"), w.netOf(h, "switch")
	w.pin(joint{terminal: Pin(h, false), net: gates})
	w.add(w.part(i, "pull", Resistor, "gates' pull resistor", quantity.Value{Number: GatePull}, quantity.Ohms),
		joint{"one end", gates, Off, quantity.Show(GatePull, quantity.Ohms, 2) + " across it", "it keeps the meter off while the pin floats at reset"},
		joint{"other end", Rail, Off, quantity.Show(GatePull, quantity.Ohms, 2) + " from the pin to the rail line", ""})
	const static = "leads by its papers: gate, drain and source differ from maker to maker; touch ground first, static kills it"
	w.add(w.part(i, "upper", PChannel, "upper transistor", quantity.Absent(), quantity.Times),
		joint{"gate", gates, Off, joined, static},
		joint{"source", Rail, Off, continuity, "source to the rail: the other way round it always conducts"},
		joint{terminal: "drain", net: at})
	w.add(w.part(i, "lower", NChannel, "lower transistor", quantity.Absent(), quantity.Times),
		joint{"gate", gates, Off, joined, static},
		joint{"source", Ground, Off, continuity, "source to ground"},
		joint{"drain", at, Off, "below 1 Ω between the two drains; with power on and the firmware not yet, 0 V from here to ground line", "the pin is inverted: low switches the upper one on. The firmware holds it high where other pins are held low, first of all at reset"})
	if h.Drive.CapacitorAt == "stage" && !(h.Drive.Stage.Number > 0) {
		w.capacitor(i, h, at)
	}
	return at
}

// back is where a hand's current comes back: ground, or the other pin of a bridge.
func (w *wiring) back(h *model.Hand) string {
	if h.Drive.By == "bridge" {
		return w.netOf(h, "back")
	}
	return Ground
}

// capacitor wires a hand's filter capacitor from a net.
func (w *wiring) capacitor(i int, h *model.Hand, at string) {
	d := &h.Drive
	if !(d.Capacitor.Number > 0) {
		return
	}
	c := w.part(i, "capacitor", Capacitor, "capacitor", d.Capacitor, quantity.Microfarads)
	c.Polar = d.MayLeak()
	if d.CapacitorKind != "" {
		c.Name = d.CapacitorKind + " capacitor"
	}
	open := "open once it is charged: far above 0 Ω from end to end"
	where := stripe(c.Polar)
	if c.Polar && d.By == "bridge" {
		where = "both ways round carry volts here: film or ceramic alone"
	}
	w.add(c,
		joint{plusOf(c.Polar), at, Off, joined, where},
		joint{minusOf(c.Polar), w.back(h), Off, open, discharge})
}

// ends wires what lies across the meter's terminals.
func (w *wiring) ends(i int, h *model.Hand, at string) {
	w.n.nodes(h.Name, at)
	if h.Drive.CapacitorAt != "stage" {
		w.capacitor(i, h, at)
	}
	if h.Meter.Diodes != "silicon" {
		return
	}
	const check = "diode range, both ways: 0.5 to 0.8 V"
	w.add(w.part(i, "diode_1", Diode, "first diode", quantity.Absent(), quantity.Times),
		joint{"plain end", at, Off, joined, "this one's stripe looks to the meter's −"},
		joint{"striped end", w.back(h), Off, "diode range, + on the plain end: 0.5 to 0.8 V; the other way round open", ""})
	w.add(w.part(i, "diode_2", Diode, "second diode", quantity.Absent(), quantity.Times),
		joint{"striped end", at, Off, joined, "this one's stripe looks to the meter's +"},
		joint{"plain end", w.back(h), Off, check, "the two look opposite ways"})
}

// nodes remembers at which net a hand's meter hangs.
func (n *Network) nodes(hand, net string) {
	if n.meters == nil {
		n.meters = map[string]string{}
	}
	n.meters[hand] = net
}

// meter wires it, after all else.
func (w *wiring) meter(i int) {
	h := &w.b.Hands[i]
	w.section, w.meterNow = "Meter of "+h.Name, true
	m := w.part(i, "meter", Meter, "meter", quantity.Absent(), quantity.Times)
	m.Words = meterText(&h.Meter)
	w.add(m,
		joint{"+", w.n.meters[h.Name], Off, "needle at rest: no ohmmeter at its terminals", w.before(i)},
		joint{"−", w.back(h), On, "code 0: " + atRest(h) + "; then codes rising, and it moves the right way", "it moves the wrong way: power off, change its two leads"})
	w.meterNow = false
}

// before is what has to be so before a meter goes on.
func (w *wiring) before(i int) string {
	dummy := w.b.Hands[i].Dummy()
	if math.IsNaN(dummy) {
		return "power off, trimmer at its maximum"
	}
	c := w.p.Circuit.Hands[i]
	c.Setting = c.InForce()
	c.Coil, c.Shunt = dummy, math.Inf(1)
	v := c.Voltages(c.TopVoltage())
	volts := v[len(v)-1]
	return "first " + quantity.Show(dummy, quantity.Ohms, 2) + " in its place: " + quantity.Show(volts, quantity.Volts, 3) + " across it at the top code, trimmer set; then power off, trimmer at its maximum, meter on"
}

// atRest is where the needle stands without current.
func atRest(h *model.Hand) string {
	if h.Meter.ZeroAt == "centre" {
		return "it rests in the middle"
	}
	return "it rests at its " + h.Meter.ZeroAt + " end"
}

// meterText is a meter as its builder knows it.
func meterText(m *model.Meter) string {
	text := ""
	add := func(what string, v quantity.Value, u quantity.Unit) {
		if v.Given() {
			if text != "" {
				text += ", "
			}
			text += what + quantity.Format(quantity.Value{Number: v.Number}, u)
		}
	}
	if m.AsMeasured() {
		add("closed case ", m.TerminalResistance, quantity.Ohms)
		add("full scale ", m.TerminalFullScale, quantity.Microamperes)
		if text != "" {
			return text
		}
	}
	add("coil ", m.Coil, quantity.Ohms)
	add("full scale ", m.FullScale, quantity.Microamperes)
	if m.LeftInside() {
		add(m.InternalKind+" left inside ", m.Internal, quantity.Ohms)
	}
	return text
}
