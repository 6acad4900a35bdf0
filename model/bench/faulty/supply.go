package faulty

import (
	"math"

	"example.com/needlewright/calc"
)

// A supply is what stands before the rail: cells, or something outside, and a converter.
type supply struct {
	kind     string // converter.kind
	outside  bool   // no cells
	cells    int
	reversed bool // one cell the wrong way round
	curve    []calc.Charge

	used, fresh, spent, contacts, drop      float64 // share; Ω a cell, fresh and used up; Ω of all contacts; V
	efficiency, quiescent, minimum, dropout float64
	rail                                    float64 // V, as the trimmer was set
	moved, setWrong, sag                    float64 // factors since: drift, a wrong setting, awake alone
	passes                                  bool
	lead                                    float64 // Ω, from the converter to the rail
	least                                   float64 // V, below which the controller is held
}

// packDrains is what is taken from the pack before the converter.
func (c *circuit) packDrains(awake bool) float64 {
	sum := 0.0
	for _, d := range c.drains {
		if d.fromPack {
			sum += d.current(awake)
		}
	}
	return sum
}

// rest is the pack's voltage without a load.
func (p *supply) rest() float64 {
	one := restOf(p.curve, p.used)
	if p.reversed {
		return one * float64(p.cells-2)
	}
	return one * float64(p.cells)
}

// restOf reads a cell's curve at a share used, on straight lines.
func restOf(curve []calc.Charge, used float64) float64 {
	for i := 1; i < len(curve); i++ {
		if used <= curve[i].Used || i == len(curve)-1 {
			a, b := curve[i-1], curve[i]
			return a.Rest + (math.Min(used, b.Used)-a.Used)*(b.Rest-a.Rest)/(b.Used-a.Used)
		}
	}
	return curve[0].Rest
}

// inner is the pack's resistance with its contacts.
func (p *supply) inner() float64 {
	return float64(p.cells)*(p.fresh+(p.spent-p.fresh)*p.used) + p.contacts
}

// set is the voltage that the rail is set to.
func (c *circuit) set(awake bool) float64 {
	p := &c.supply
	if c.trimming {
		return p.rail
	}
	v := p.rail * p.moved * p.setWrong
	if awake {
		v *= p.sag
	}
	return v
}

// give returns the voltage behind the converter while it gives a current, and what the
// pack gives then.
func (c *circuit) give(s state, current float64) (volts, pack float64) {
	p := &c.supply
	awake := c.isAwake(s)
	set := c.set(awake)
	if p.outside {
		return set, current
	}
	if p.kind != "none" || p.drop > 0 {
		current = math.Max(0, current)
	}
	beside := c.packDrains(awake)
	if p.kind != "none" {
		beside += p.quiescent
	}
	top, ohms := p.rest()-p.drop, p.inner()+s.packLead
	if top <= 0 {
		return 0, 0
	}
	straight := top - ohms*(current+beside)
	switch {
	case p.kind == "none" || p.passes:
		return straight, current + beside
	case p.kind == "linear":
		return math.Min(set, straight-p.dropout), current + beside
	}
	w, power := top-ohms*beside, set*current/p.efficiency
	input := (w + math.Sqrt(w*w-4*ohms*power)) / 2 // NaN where the pack cannot carry it
	if input > 0 && input >= p.minimum && input < set {
		return set, power/input + beside
	}
	if input >= set {
		return math.Max(set, straight), current + beside
	}
	return math.Min(set, straight), current + beside
}

// powered returns the rail at the controller and what rail and pack give. A finished
// clock keeps what it has worked out.
func (c *circuit) powered(s state) (rail, current, pack float64) {
	if c.kept == nil {
		return c.work(s)
	}
	k, ok := c.kept[s]
	if !ok {
		k[0], k[1], k[2] = c.work(s)
		c.kept[s] = k
	}
	return k[0], k[1], k[2]
}

func (c *circuit) work(s state) (rail, current, pack float64) {
	if c.trimming && !c.supply.passes {
		return c.supply.rail, 0, 0 // nobody asks for the currents then
	}
	lead := c.supply.lead + s.railLead
	behind := func(u float64) float64 {
		current = c.drawn(s, u)
		volts, _ := c.give(s, current)
		return volts - lead*current
	}
	rail = math.Max(0, bisect(0, 256, func(u float64) float64 { return behind(u) - u }))
	if rail < 1e-9 {
		return 0, 0, 0
	}
	current = c.drawn(s, rail)
	_, pack = c.give(s, current)
	return rail, current, pack
}

func (c *circuit) rail(s state) float64 {
	rail, _, _ := c.powered(s)
	return rail
}

// settle finds out whether the controller is held: by its reset pin, or by a rail that
// is too low when it wakes.
func (c *circuit) settle() {
	c.load.held = c.load.reset
	if !c.load.held && c.rail(idle) < math.Max(c.supply.least, 0.5) {
		c.load.held = true
	}
}
