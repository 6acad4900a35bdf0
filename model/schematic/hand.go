package schematic

import (
	"fmt"
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
)

// A handLadder is a hand's circuit in the making.
type handLadder struct {
	*ladder
	h       *model.Hand
	f       *network.HandFlow
	parts   []network.Drop // between driver and meter
	back    network.Figure // V to ground where the current comes back
	columns map[string]int // of the branches
}

// columnsOf are those of the branches that there are, what opens last next to the trunk.
func (l *handLadder) columnsOf() map[string]int {
	columns, x := map[string]int{}, firstBranch
	add := func(name string, there bool) {
		if there {
			columns[name], x = x, x+nextBranch
		}
	}
	diodes := l.h.Meter.Diodes == "silicon"
	add("shunt", !math.IsInf(l.n.Plan.Circuit.Hands[l.f.Hand].Shunt, 1))
	add("diode_2", diodes)
	add("diode_1", diodes)
	add("capacitor", l.h.Drive.Capacitor.Number > 0)
	return columns
}

// hand draws a hand from its driver to ground.
func (l *ladder) hand(f *network.HandFlow) {
	h := &l.n.Build.Hands[f.Hand]
	d := handLadder{ladder: l, h: h, f: f}
	last := len(f.Chain) - 1
	coil := f.Chain[last]
	d.back = network.Figure{Of: f.Driven.Of, Known: f.Driven.Known}
	if h.Drive.By == "bridge" {
		coil = f.Chain[last-1]
		d.back = coil.Behind
	}
	for _, c := range f.Chain[1:] {
		if c.Inside == "" {
			d.parts = append(d.parts, c)
		}
	}
	d.columns = d.columnsOf()
	l.heading(l.y, "Hand "+h.Name+" at "+l.n.TimeText(f.Hand, f.Needle.Share))
	l.text(0, l.y+1, Width, d.driven())
	means := "Volts and amps are averages over the pulses."
	if f.Down {
		means = "The current flows up. " + means
	}
	l.text(0, l.y+2, Width, means)
	l.y += 4
	l.head(l.y)
	l.y++
	l.active = []int{trunk}
	d.driver()
	d.series()
	d.meter(&coil)
	d.end()
	l.y += 2
}

// driven says what the firmware does at this time.
func (l *handLadder) driven() string {
	d := &l.h.Drive
	what := fmt.Sprintf("Code %g: the pin is high for %g of %d counts", l.f.Code, l.f.Code+float64(d.DutyOffset), d.Counts)
	switch {
	case d.By == "switch":
		what = fmt.Sprintf("Code %g: the upper transistor is on %g of %d counts", l.f.Code, l.f.Code+float64(d.DutyOffset), d.Counts)
	case l.f.Down:
		what = fmt.Sprintf("Code -%g: the lower pin is high for %g of %d counts", l.f.Code, l.f.Code+float64(d.DutyOffset), d.Counts)
	case d.By == "bridge":
		what = fmt.Sprintf("Code %g: the upper pin is high for %g of %d counts", l.f.Code, l.f.Code+float64(d.DutyOffset), d.Counts)
	}
	return what + "."
}

// driver draws what drives the chain, and the first node.
func (l *handLadder) driver() {
	name := "pin"
	if l.h.Drive.By == "switch" {
		name = "drains"
		l.transistors()
	} else {
		y := l.y
		l.pin(network.Pin(l.h, false))
		l.gives(y, l.f.Driven, !l.f.Down)
		l.label(y+3, "inside it "+l.inside(0))
		l.figures(y+3, l.f.Chain[0].Across.Text(), l.f.Chain[0].Through.Text())
	}
	if len(l.parts) == 0 {
		return // the meter is there
	}
	l.node(name, l.f.Chain[0].Behind.Text())
	l.filter("stage", !(l.h.Drive.Stage.Number > 0), l.f.Chain[0].Behind)
}

// gives says what a pin gives, and where it has it from.
func (l *handLadder) gives(y int, volts network.Figure, drives bool) {
	l.label(y+1, "gives on average")
	l.number(toGround, y+1, volts.Text())
	if !drives {
		return
	}
	l.label(y, "takes from the rail "+l.f.Rail.Text())
	if l.f.Low.Known && l.f.Low.Last != 0 {
		l.label(y+2, "low, lets "+l.f.Low.Text()+" to ground")
	}
}

// inside is what a driver has inside.
func (l *handLadder) inside(k int) string {
	return quantity.Show(l.f.Chain[k].Ohms, quantity.Ohms, 3)
}

// pin draws one of the controller's pins as a box that the trunk leaves.
func (l *ladder) pin(name string) {
	l.box(boxLeft, l.y, boxRight, l.y+3)
	l.text(2, l.y+1, boxRight-3, "controller")
	l.text(2, l.y+2, boxRight-3, name)
	l.y += 3
	l.on()
}

// transistors draws the pair that pulls both ways, with its gates.
func (l *handLadder) transistors() {
	const (
		upperRight            = 12
		lowerLeft, lowerRight = 8, 20
		gates                 = 23
	)
	y := l.y
	l.put(dot, trunk, y)
	l.text(labels, y, nodeWide, network.Rail)
	l.number(toGround, y, l.n.RailVolts(l.f.Driven.Of).Text())
	l.down(trunk, y, y+1)
	l.box(0, y+1, upperRight, y+5)
	l.text(2, y+2, 9, "source")
	l.text(2, y+3, 9, "upper")
	l.text(2, y+4, 9, "drain")
	l.text(upperRight-4, y+3, 4, "gate")
	l.down(trunk, y+5, y+11)
	l.label(y+1, "takes from the rail "+l.f.Rail.Text(), l.n.Find(l.id("upper")).Name+", P-channel")
	l.across(upperRight, gates, y+3)
	l.across(gates, gates+1, y+3)
	l.label(y+3, network.Pin(l.h, false)+", inverted")
	l.down(gates, y+3, y+8)
	l.horizontal(gates, y+4, quantity.Show(network.GatePull, quantity.Ohms, 2), network.Rail)
	l.label(y+5, "gives on average", "inside it "+l.inside(0))
	l.number(toGround, y+5, l.f.Driven.Text())
	l.figures(y+6, l.f.Chain[0].Across.Text(), l.f.Chain[0].Through.Text())
	l.across(trunk, lowerLeft, y+7)
	l.box(lowerLeft, y+6, lowerRight, y+10)
	l.text(lowerLeft+2, y+7, 9, "drain")
	l.text(lowerLeft+2, y+8, 9, "lower")
	l.text(lowerRight-4, y+8, 4, "gate")
	l.text(lowerLeft+2, y+9, 9, "source")
	l.across(lowerRight, gates, y+8)
	l.across(lowerRight, lowerRight+1, y+9)
	l.text(lowerRight+3, y+9, 11, network.Ground)
	l.label(y+10, l.n.Find(l.id("lower")).Name+", N-channel")
	if l.f.Low.Known && l.f.Low.Last != 0 {
		l.label(y+8, "low, lets "+l.f.Low.Text()+" through")
	}
	l.drawn(l.id("pull"), l.id("upper"), l.id("lower"))
	l.y = y + 11
}

// series draws the resistors and the trimmer, with a node behind each but the last.
func (l *handLadder) series() {
	for k := range l.parts {
		d := &l.parts[k]
		l.part(d)
		if k == len(l.parts)-1 {
			return
		}
		l.node("", d.Behind.Text())
		l.filter("stage", d.Part == l.id("stage"), d.Behind)
	}
}

// id is that of a part of the hand.
func (l *handLadder) id(part string) string { return "hand." + l.h.Name + "." + part }

// part draws a resistor or the trimmer.
func (l *handLadder) part(d *network.Drop) {
	p := l.n.Find(d.Part)
	y := l.y
	l.figures(y+1, d.Across.Text(), d.Through.Text())
	if p.Kind != network.Trimmer {
		l.label(y, p.Name, p.Text())
		l.drawn(p.ID)
		l.resistor(trunk)
		return
	}
	l.label(y, p.Name, p.Text(), "set to "+quantity.Show(d.Ohms, quantity.Ohms, 3))
	l.drawn(p.ID)
	l.box(trunk-1, y, trunk+1, y+2)
	l.across(trunk+1, trunk+3, y+1)
	l.down(trunk+3, y+1, y+3)
	l.across(trunk, trunk+3, y+3)
	l.put(arrowLeft, trunk+1, y+1)
	l.symbol(trunk, 2)
	l.on()
}

// filter opens the branch of the capacitor at this node, where it is there, and goes on.
func (l *handLadder) filter(at string, here bool, volts network.Figure) {
	if here && l.h.Drive.CapacitorAt == at && l.columns["capacitor"] > 0 {
		l.hang(volts, "capacitor")
		return
	}
	l.on()
}

// hang opens branches at this node and draws what is on each, one below the other.
func (l *handLadder) hang(volts network.Figure, ids ...string) {
	for _, id := range ids {
		l.branch(l.columns[id])
	}
	l.on()
	for _, id := range ids {
		p := l.n.Find(l.id(id))
		amps := "0"
		switch {
		case p.Kind == network.Diode:
			amps = "left out"
		case p.Polar:
			l.put(polarUp, l.columns[id], l.y)
		default:
			l.put(capacitorUp, l.columns[id], l.y)
		}
		if id == "diode_1" {
			l.put(diodeDown, l.columns[id], l.y)
		} else if id == "diode_2" {
			l.put(diodeUp, l.columns[id], l.y)
		}
		l.label(l.y, p.Name, p.Text())
		l.figures(l.y, volts.Minus(l.back).Text(), amps)
		l.drawn(p.ID)
		l.symbol(l.columns[id], 1)
	}
}

// meter draws the meter with what lies across its terminals and what is inside its case.
func (l *handLadder) meter(coil *network.Drop) {
	volts := coil.Behind.Plus(coil.Across)
	var inside *network.Drop
	for k := range l.f.Chain {
		if l.f.Chain[k].Inside == "multiplier" {
			inside = &l.f.Chain[k]
			volts = inside.Behind.Plus(inside.Across)
		}
	}
	l.node("meter's +", volts.Text())
	var ids []string
	if l.columns["capacitor"] > 0 && !slices.Contains(l.Drawn, l.id("capacitor")) {
		ids = append(ids, "capacitor")
	}
	if l.columns["diode_1"] > 0 {
		ids = append(ids, "diode_1", "diode_2")
	}
	l.hang(volts, ids...)
	if inside != nil {
		l.figures(l.y+1, inside.Across.Text(), inside.Through.Text())
		l.label(l.y, "inside the case:", "multiplier "+quantity.Show(inside.Ohms, quantity.Ohms, 3))
		l.resistor(trunk)
	}
	if shunt := l.n.Plan.Circuit.Hands[l.f.Hand].Shunt; !math.IsInf(shunt, 1) {
		l.node("inside the case", coil.Behind.Plus(coil.Across).Text())
		x := l.columns["shunt"]
		l.branch(x)
		l.on()
		l.label(l.y, "inside the case:", "shunt "+quantity.Show(shunt, quantity.Ohms, 3))
		l.figures(l.y+1, coil.Across.Text(), l.f.Shunt.Text())
		l.box(x-1, l.y, x+1, l.y+2)
		l.symbol(x, 2)
	}
	p := l.n.Find(l.id("meter"))
	m := &l.h.Meter
	text, top := "", ""
	if c := l.n.Plan.Circuit.Hands[l.f.Hand]; c.Coil > 0 {
		text = "coil " + quantity.Show(c.Coil, quantity.Ohms, 3)
		top = "full scale " + quantity.Show(c.FullScale, quantity.Microamperes, 3)
	}
	if m.AsMeasured() {
		text += " (closed case)"
	}
	l.label(l.y, p.Name, text, top)
	l.figures(l.y+1, coil.Across.Text(), l.f.Coil.Text())
	l.put(meterUp, trunk, l.y)
	l.drawn(p.ID)
	l.symbol(trunk, 2)
}

// end joins all that comes back: at the ground line, or at the other pin of a bridge.
func (l *handLadder) end() {
	if l.h.Drive.By != "bridge" {
		l.close()
		l.node("ground line", l.back.Text())
		return
	}
	l.close()
	l.node("meter's −", l.back.Text())
	l.on()
	y, last := l.y, len(l.f.Chain)-1
	l.box(boxLeft, y, boxRight, y+3)
	l.text(2, y+1, boxRight-3, "controller")
	l.text(2, y+2, boxRight-3, network.Pin(l.h, true))
	l.gives(y+1, l.f.Back, l.f.Down)
	l.label(y, "inside it "+l.inside(last))
	l.figures(y, l.f.Chain[last].Across.Text(), l.f.Chain[last].Through.Text())
	l.y += 3
}
