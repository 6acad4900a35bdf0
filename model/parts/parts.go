// Package parts is the parts list of a build: what it is made of, with values, tolerances and
// what each has to stand, how many for so many kits, what for, and what else would do. It has
// the parts of model/network, and what is bought with them.
package parts

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/network"
	"example.com/needlewright/model/quantity"
)

// A Line is parts that are alike.
type Line struct {
	What      string   `json:"what"`
	Value     string   `json:"value"`     // "8.2 kΩ", "alkaline C"; "" where there is none
	Tolerance string   `json:"tolerance"` // "1 %"; "" where none is given
	Rating    string   `json:"rating"`    // what it has to stand: "125 mW"; "" where that is not known
	Each      int      `json:"each"`      // for one clock
	Needed    int      `json:"needed"`    // for all kits, with spares
	For       []string `json:"for"`
	Instead   string   `json:"instead"` // what else would do
	IDs       []string `json:"ids"`     // of model/network; of what is not wired one of its own
}

// Meters is what the line of a meter is: the builder brings it, and there are no spares.
const Meters = "meter (the builder's own)"

// A List is what is needed of all parts of a build.
type List struct {
	Title  string  `json:"title"`
	Kits   int     `json:"kits"`
	Spares float64 `json:"spares"` // a share
	Parts  []Line  `json:"parts"`
}

// New returns the list for so many kits, 1 or more, and a share of spares, 0 or more, which
// are rounded up line by line.
func New(n *network.Network, kits int, spares float64) *List {
	l := &lister{n: n, b: n.Build, p: n.Plan}
	for k := range n.Parts {
		l.part(&n.Parts[k])
	}
	for i := range l.b.Hands {
		l.dummy(i)
	}
	for k := range l.lines {
		line := &l.lines[k]
		line.Needed = line.Each * kits
		if line.What != Meters {
			line.Needed += int(math.Ceil(float64(line.Each*kits)*spares - 1e-9)) // 10 % of 10 is one, whatever the last bit says
		}
	}
	return &List{n.Build.Title, kits, spares, l.lines}
}

// A lister is a list in the making.
type lister struct {
	n     *network.Network
	b     *model.Build
	p     *circuit.Plan
	lines []Line
}

// add adds a line, or to one that is alike.
func (l *lister) add(line Line) {
	for k := range l.lines {
		old := &l.lines[k]
		if old.What == line.What && old.Value == line.Value && old.Tolerance == line.Tolerance && old.Rating == line.Rating && old.Instead == line.Instead {
			old.Each += line.Each
			old.IDs = append(old.IDs, line.IDs...)
			for _, what := range line.For {
				if !slices.Contains(old.For, what) {
					old.For = append(old.For, what)
				}
			}
			return
		}
	}
	l.lines = append(l.lines, line)
}

// part adds a part of the network by its kind.
func (l *lister) part(p *network.Part) {
	row, known := kinds[p.Kind]
	if !known {
		panic("no row in the table of parts for " + string(p.Kind))
	}
	line := Line{What: row.what, Each: 1, For: []string{l.use(p)}, Instead: row.instead, IDs: []string{p.ID}}
	if p.Unit != quantity.Times {
		line.Value, line.Tolerance = valueOf(p.Value, p.Unit)
	}
	row.fill(l, p, &line)
	l.add(line)
	if p.Kind == network.Cells {
		l.add(Line{What: "holder", Value: "for " + quantity.Counted(l.b.Battery.Cells, "cell"), Each: 1, For: []string{"the cells"}, IDs: []string{p.ID}, Instead: "several smaller ones in series; of coin cells one that a screw closes"})
	}
}

// valueOf is a value without its tolerance, and that by itself.
func valueOf(v quantity.Value, u quantity.Unit) (value, tolerance string) {
	if !v.Given() {
		return "not given", ""
	}
	tolerance, _ = quantity.Tolerance(quantity.Format(v, u))
	return quantity.Format(quantity.Value{Number: v.Number}, u), strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(tolerance), "±"))
}

// use says what a part is for.
func (l *lister) use(p *network.Part) string {
	switch {
	case p.Hand >= 0:
		return "hand " + p.Of + ": " + p.Name
	case p.Lamp >= 0:
		return "lamp " + l.b.Lamps[p.Lamp].Name
	case p.Of != "":
		return "button " + p.Of + ": " + p.Name
	case p.Kind == network.Resistor, p.Kind == network.Capacitor:
		return p.Name
	}
	return "the clock"
}

// dummy adds the resistor that stands in a meter's place at the first power-up.
func (l *lister) dummy(i int) {
	h := &l.b.Hands[i]
	ohms := h.Dummy()
	if math.IsNaN(ohms) {
		return
	}
	c := l.p.Circuit.Hands[i]
	amps := c.Rail / (c.Pin + c.Stage + c.Fixed + c.Multiplier + ohms)
	l.add(Line{
		What: "resistor", Value: quantity.Format(quantity.Value{Number: ohms}, quantity.Ohms), Rating: watts(amps * amps * ohms),
		Each: 1, For: []string{"hand " + h.Name + ": in the meter's place at the first power-up, stranded leads"}, IDs: []string{"hand." + h.Name + ".dummy"},
		Instead: "the next that is there: put its ohms in hand.drive.dummy, and what to expect follows",
	})
}

// twice is what a rating is of what a part gets: common practice, no source.
const twice = 2

// watts is the least that shops have from twice a power on.
func watts(power float64) string {
	return least(twice*power, quantity.Milliwatts, 0.125, 0.25, 0.5, 1, 2, 5, 10, 25, 50, 100)
}

// volts is the same of a capacitor's volts.
func volts(v float64) string {
	return least(twice*v, quantity.Volts, 6.3, 10, 16, 25, 35, 50, 63, 100, 160, 250, 400, 630)
}

// semiconductor is the same of a diode's or transistor's volts and amps.
func semiconductor(v, amps float64) string {
	return join(least(twice*v, quantity.Volts, 20, 30, 40, 60, 100, 200, 400, 600), amperes(amps))
}

// amperes is the same of amps.
func amperes(amps float64) string {
	return least(twice*amps, quantity.Milliamperes, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10)
}

// least is the least of rising values from x on: common practice, no source. Beyond the last
// it is x itself; "" where x is not known.
func least(x float64, u quantity.Unit, values ...float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return ""
	}
	for _, v := range values {
		if v >= x*(1-1e-12) {
			return quantity.Format(quantity.Value{Number: v}, u)
		}
	}
	return "more than " + quantity.Show(x, u, 3)
}

// join joins what is there.
func join(texts ...string) string {
	return strings.Join(slices.DeleteFunc(texts, func(s string) bool { return s == "" }), ", ")
}

// load is the most that the clock takes from its rail, A.
func (l *lister) load() float64 {
	on := l.p.Circuit.Supply.ControllerOn + l.p.Circuit.Supply.RailDrainOn
	for i := range l.p.Circuit.Lamps {
		on += l.p.Circuit.Lamps[i].Count * l.p.Lamps[i].Current
	}
	for i := range l.p.Circuit.Hands {
		on += l.p.Circuit.Hands[i].MostFromRail()
	}
	return on
}

// stuck is what a hand's driver gives at most, its trimmer at zero, A.
func (l *lister) stuck(i int) float64 {
	c := &l.p.Circuit.Hands[i]
	resistance, _ := c.Shunted()
	return c.Rail / (c.Pin + c.Stage + c.Fixed + c.Multiplier + resistance)
}

// pins is how many pins of the controller are used.
func (l *lister) pins(p *network.Part) string { return quantity.Counted(len(p.Terminals)-2, "pin") }

// counts is the largest PWM that a hand asks for.
func (l *lister) counts() string {
	most := 0
	for i := range l.b.Hands {
		most = max(most, l.b.Hands[i].Drive.Counts)
	}
	if most == 0 {
		return ""
	}
	return fmt.Sprintf("PWM of %d counts", most)
}
