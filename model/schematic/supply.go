package schematic

import (
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
)

// The boxes of what the trunk goes through.
const (
	boxLeft  = 0
	boxRight = 18
)

// boxed draws a part as a box that the trunk comes out of below; where it comes in above, the
// box is joined there too. A wire to ground leaves it at its right.
func (l *ladder) boxed(top, bottom string, labelled ...string) {
	const rows = 4
	l.box(boxLeft, l.y, boxRight, l.y+rows)
	l.text(2, l.y+1, boxRight-3, top)
	l.text(boxRight-7, l.y+2, 6, "ground")
	l.text(2, l.y+3, boxRight-3, bottom)
	l.across(boxRight, boxRight+2, l.y+2)
	l.text(boxRight+4, l.y+2, 11, network.Ground)
	for k, text := range labelled { // beside its upper rows stand no figures
		l.text(labels, l.y+k, across-labels, text)
	}
	l.y += rows
	l.on()
}

// supply draws what feeds the clock, and what takes from it.
func (l *ladder) supply(f *network.SupplyFlow) {
	b := l.n.Build
	l.heading(l.y, "Supply, awake")
	l.y += 2
	l.head(l.y)
	l.y++
	l.active = []int{trunk}
	if b.Battery.HasCells() {
		l.cells(f)
	} else {
		p := l.n.Find("supply")
		l.drawn(p.ID)
		l.number(through, l.y+3, f.In.Text())
		l.boxed("plug-in supply", "+", p.Words, "a certified, isolated one")
	}
	l.node(network.Rail, f.Rail.Text())
	l.number(through, l.y, f.Total.Text())
	l.on()
	if p := l.n.Find("rail.capacitor"); p != nil {
		symbol := capacitorAcross
		if p.Polar {
			symbol = polarAcross
		}
		l.taker("", symbol, p.Name+" "+p.Text(), f.Rail.Text(), "0")
		l.drawn(p.ID)
	}
	for k := range b.Buttons {
		l.taker("button "+b.Buttons[k].Name, intoNext, "released; below", "", "0")
	}
	for _, t := range f.Takers {
		to, says := "", "drain "+t.Name
		if t.Hand >= 0 {
			to, says = "hand "+b.Hands[t.Hand].Name, "below"
			if l.n.Find(t.Part).Kind == network.Resistor {
				says = "gates' pull, below"
			}
		}
		l.taker(to, intoNext, says, "", t.Amps.Text())
	}
	l.taker("controller", intoNext, "its supply pin; below", f.Rail.Text(), f.Chip.Text())
	l.active = nil
	l.y += 2
}

// taker is a row of what takes current from the trunk.
func (l *ladder) taker(to string, s symbol, says, volts, amps string) {
	l.across(trunk, trunk+2, l.y)
	l.put(s, trunk+3, l.y)
	if s == capacitorAcross || s == polarAcross {
		l.across(trunk+5, trunk+6, l.y)
		to = "ground line"
	}
	l.text(trunk+8, l.y, labels-trunk-9, to)
	l.text(labels, l.y, across-labels-10, says)
	l.figures(l.y, volts, amps)
	l.on()
}

// cells draws the holder, the diode against reversed cells, and the converter.
func (l *ladder) cells(f *network.SupplyFlow) {
	b := l.n.Build
	p := l.n.Find("battery")
	l.drawn(p.ID)
	l.number(through, l.y+3, f.FromCells.Text())
	l.boxed("cells' holder", "+", p.Words, "fresh "+quantity.Show(f.Rest, quantity.Volts, 3)+", inside "+quantity.Show(f.Inside, quantity.Ohms, 2))
	if d, c := l.n.Find("battery.diode"), l.n.Find("converter"); d != nil || c != nil || len(f.Direct) > 0 {
		l.node("cells' +", f.Pack.Text())
		l.on()
	}
	for _, t := range f.Direct {
		l.taker("", intoNext, "drain "+t.Name, "", t.Amps.Text())
	}
	if p := l.n.Find("battery.diode"); p != nil {
		l.drawn(p.ID)
		l.label(l.y, p.Name, "stripe downwards")
		l.figures(l.y, f.Dropped.Text(), f.In.Text())
		l.put(diodeDown, trunk, l.y)
		l.symbol(trunk, 1)
		if network.HasConverter(b) {
			l.node("input", f.Input.Text())
			l.on()
		}
	}
	if p := l.n.Find("converter"); p != nil {
		l.drawn(p.ID)
		l.number(through, l.y+1, f.In.Text())
		l.number(through, l.y+2, "to ground "+f.Return.Text())
		l.number(through, l.y+3, f.Total.Text())
		l.boxed("input", "output", p.Name)
	}
}
