package schematic

import (
	"fmt"

	"example.com/needlewright/model"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
)

// pinsRight is the right side of the controller's box; what hangs on a pin begins behind it.
const pinsRight = 18

// board draws the controller with what hangs on its pins.
func (l *ladder) board(f *network.Flow) {
	b, s := l.n.Build, &f.Supply
	l.heading(l.y, "Controller")
	l.y += 2
	l.head(l.y)
	l.y++
	top := l.y
	l.y++
	l.drawn("controller")
	l.pinTo("supply", network.Rail, s.Rail.Text(), s.Chip.Text())
	l.pinTo("ground", network.Ground, "", s.Own.Text()+" its own")
	for _, t := range s.Pins {
		if t.Hand >= 0 {
			h := &b.Hands[t.Hand]
			down, bridge := f.Hands[t.Hand].Down, h.Drive.By == "bridge"
			l.pinTo(network.Pin(h, bridge && down), "hand "+h.Name+", below", "", t.Amps.Text())
			if bridge {
				l.pinTo(network.Pin(h, !down), "hand "+h.Name+", where it comes back", "", "")
			}
		}
	}
	for i := range b.Hands {
		if h := &b.Hands[i]; h.Drive.By == "switch" {
			l.pinTo(network.Pin(h, false), "gates of "+h.Name+", below", "", "")
		}
	}
	l.crystal()
	for i := range b.Buttons {
		l.button(&b.Buttons[i])
	}
	for _, t := range s.Pins {
		if t.Lamp >= 0 {
			l.lamp(t)
		}
	}
	l.box(0, top, pinsRight, l.y)
	l.y += 3
}

// pinTo is a row of a pin with where it goes.
func (l *ladder) pinTo(pin, to, volts, amps string) {
	l.pinName(pin)
	l.across(pinsRight, pinsRight+2, l.y)
	room := toGround - pinsRight - 14
	if volts == "" {
		room += toGround - labels - nodeWide
	}
	l.text(pinsRight+4, l.y, room, to)
	l.number(toGround, l.y, volts)
	l.number(through, l.y, amps)
	l.y += 2
}

// pinName writes a pin into the box, at its right side.
func (l *ladder) pinName(pin string) {
	l.number(pinsRight, l.y, clipped(l.printable(pin), pinsRight-2)+" ")
}

// crystal draws it between its two pins.
func (l *ladder) crystal() {
	p := l.n.Find("crystal")
	if p == nil {
		return
	}
	const x = pinsRight + 3
	l.drawn(p.ID)
	for k, load := range []struct{ pin, id string }{{"crystal in", "crystal.capacitor_in"}, {"crystal out", "crystal.capacitor_out"}} {
		l.pinName(load.pin)
		l.across(pinsRight, x, l.y)
		if c := l.n.Find(load.id); c != nil {
			l.drawn(c.ID)
			l.across(x, x+3, l.y)
			l.put(capacitorAcross, x+4, l.y)
			l.across(x+6, x+7, l.y)
			l.text(x+9, l.y, 24, "ground line, "+quantity.Format(quantity.Value{Number: c.Value.Number}, c.Unit))
		}
		if k == 0 {
			l.down(x, l.y, l.y+1)
			l.put(crystalUp, x, l.y+1)
			l.text(x+4, l.y+2, Width-x-5, "crystal "+quantity.Format(quantity.Value{Number: p.Value.Number}, p.Unit))
			l.down(x, l.y+3, l.y+4)
			l.y += 4
		}
	}
	l.y += 2
}

// button draws one with its pull resistor.
func (l *ladder) button(b *model.Button) {
	const x = pinsRight + 3
	up, down := network.Rail, network.Ground
	if b.To == "ground" {
		up, down = network.Ground, network.Rail
	}
	pull := l.n.Find("button." + b.Name + ".pull")
	l.drawn(pull.ID, "button."+b.Name)
	l.pinName(network.ButtonPin(b))
	l.across(pinsRight, x, l.y)
	l.horizontal(x, l.y, quantity.Format(quantity.Value{Number: b.Pull.Number}, quantity.Ohms), up)
	l.down(x, l.y, l.y+1)
	l.across(x, x+2, l.y+1)
	l.put(buttonAcross, x+3, l.y+1)
	l.across(x+7, x+8, l.y+1)
	l.text(x+10, l.y+1, 40, down+"; button "+b.Name)
	volts := l.n.Build.Rail.Voltage.Number
	pressed := volts / b.Pull.Number
	l.number(through, l.y+1, "pressed "+quantity.Show(pressed, quantity.Microamperes, 3))
	l.y += 3
}

// horizontal draws a resistor with its value in it, and where it goes.
func (l *ladder) horizontal(x, y int, value, to string) (end int) {
	value = l.printable(value)
	l.across(x, x+2, y)
	l.write(words{at: place{x + 3, y}, text: value, boxed: true})
	end = x + 3 + len([]rune(value)) + 4
	l.across(end, end+1, y)
	if to != "" {
		l.text(end+3, y, Width-end-4, to)
	}
	return end
}

// lamp draws one of a kind of lamps, lit.
func (l *ladder) lamp(t network.Taker) {
	lamp := &l.n.Build.Lamps[t.Lamp]
	resistor, pin, led, amps := l.n.LampFlow(t.Lamp)
	for k := 1; k <= lamp.Count; k++ {
		id := fmt.Sprintf("lamp.%s.%d", lamp.Name, k)
		l.drawn(id+".resistor", id+".led")
	}
	l.pinName("lamp " + lamp.Name)
	l.across(pinsRight, pinsRight+1, l.y)
	value := quantity.Format(quantity.Value{Number: lamp.Resistor.Number}, quantity.Ohms)
	if value == "" {
		value = "?"
	}
	end := l.horizontal(pinsRight+1, l.y, value, "")
	l.across(end, end+1, l.y)
	l.put(ledAcross, end+2, l.y)
	l.across(end+4, end+5, l.y)
	l.text(end+7, l.y, 11, network.Ground)
	l.number(through, l.y, "lit "+amps.Text())
	says := "lit: resistor " + resistor.Text() + ", LED " + led.Text()
	if pin.Last != 0 {
		says += ", pin " + pin.Text()
	}
	l.text(pinsRight+4, l.y+1, Width-pinsRight-5, says)
	often := "lit " + quantity.Format(quantity.Value{Number: lamp.Lit.Number}, quantity.Percent) + " of the time"
	if lamp.Count != 1 {
		often = fmt.Sprintf("%d of them, each on its own pin; %s", lamp.Count, often)
	}
	l.text(pinsRight+4, l.y+2, through-pinsRight-4, often)
	l.number(through, l.y+3, "all, on average "+t.Amps.Text())
	l.y += 5
}
