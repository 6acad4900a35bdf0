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

// A load is what the rail feeds beside lamps and hands.
type load struct {
	on, off          float64 // A, the controller's
	leak, programmer float64 // A, always; + takes from the rail
	neverSleeps      bool
	reset            bool    // held by its reset pin
	held             bool    // held, by its reset pin or a low rail
	heldShare        float64 // of `on`, taken while held
}

// A lamp is an LED indicator, or several alike.
type lamp struct {
	name                                string
	forward, resistor, pin, lit, number float64
	always, dark                        bool
}

type drain struct {
	on, off  float64
	fromPack bool
}

// A button is a push button and its pull resistor.
type button struct {
	name            string
	pull            float64
	toGround, wakes bool
	joined          bool
	floats          float64 // share of the rail at its open pin; NaN: pulled
}

// A state is what the clock is doing while it is read, and what the multimeter in a
// lead takes, Ω.
type state struct {
	hand, code int // the hand that is parked, -1 none; the code in it
	awake, lit bool
	packLead   float64 // Ω of the multimeter between cells and converter
	railLead   float64 // and between converter and rail
}

// idle is awake, hands at 0, lamps as they flash, on the mean.
var idle = state{hand: -1, awake: true, lit: true}

// asleep is the clock asleep.
var asleep = state{hand: -1}

// isAwake says whether the controller is awake, as far as the supply is concerned.
func (c *Clock) isAwake(s state) bool {
	if s.awake || c.load.neverSleeps || c.load.held {
		return true
	}
	for _, b := range c.buttons {
		if b.joined && b.wakes {
			return true
		}
	}
	return false
}

// duty is how much of the time the pin is high on which a hand hangs.
func (c *Clock) duty(i int, s state) float64 {
	h := &c.hands[i]
	if h.lampPin >= 0 {
		return 0
	}
	from := &c.hands[h.from]
	switch {
	case from.stuckHigh, from.highAsleep && !s.awake && !c.load.held:
		return 1
	case from.silent, !s.awake, c.load.held:
		return 0
	}
	code := 0
	if s.hand == h.from {
		code = s.code &^ from.lostBit
	}
	duty := math.Min(1, float64(code+from.offset)/float64(from.counts))
	if from.inverted {
		return 1 - duty
	}
	return duty
}

// handCurrent is what a hand takes from the rail.
func (c *Clock) handCurrent(i int, s state, rail float64) float64 {
	h := &c.hands[i]
	duty := c.duty(i, s)
	if h.lampPin >= 0 && s.lit && !c.load.held {
		duty = c.lamps[h.lampPin].lit
	}
	m := solve(h.chain(nowhere, 0, false), rail, duty, h.diodes)
	bridge := (rail - m.v[ofTrimmer]) / h.bridge
	if h.capacitor == 0 || h.lampPin >= 0 || duty == 0 || duty == 1 {
		return math.Max(0, m.current) + bridge
	}
	before := h.pin + h.pinLead + h.stage
	if !h.atStage {
		before += h.fixed + h.setting
	}
	return duty*(rail-m.v[h.node()])/math.Max(1, before) + bridge // it empties into ground while the pin is low
}

// current is what a lamp's resistor carries while it is lit.
func (l *lamp) current(rail float64) float64 {
	if l.dark || math.IsNaN(l.forward) || math.IsNaN(l.resistor) {
		return 0
	}
	return math.Max(0, rail-l.forward) / (l.resistor + l.pin)
}

// drawn is what the clock takes from a rail.
func (c *Clock) drawn(s state, rail float64) float64 {
	awake := c.isAwake(s)
	current := c.load.leak + c.load.programmer
	switch {
	case c.load.held:
		current += c.load.on * c.load.heldShare
	case awake:
		current += c.load.on
	default:
		current += c.load.off
	}
	for _, d := range c.drains {
		if !d.fromPack {
			current += d.current(awake)
		}
	}
	for _, l := range c.lamps {
		switch {
		case l.always:
			current += l.number * l.current(rail)
		case s.awake && s.lit && !c.load.held:
			current += l.number * l.lit * l.current(rail)
		}
	}
	for _, b := range c.buttons {
		if b.joined {
			current += rail / b.pull
		}
	}
	for i := range c.hands {
		current += c.handCurrent(i, s, rail)
	}
	return current
}

func (d drain) current(awake bool) float64 {
	if awake {
		return d.on
	}
	return d.off
}

// packDrains is what is taken from the pack before the converter.
func (c *Clock) packDrains(awake bool) float64 {
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
func (c *Clock) set(awake bool) float64 {
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
func (c *Clock) give(s state, current float64) (volts, pack float64) {
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
	if input >= p.minimum && input < set {
		return set, power/input + beside
	}
	if input >= set {
		return math.Max(set, straight), current + beside
	}
	return math.Min(set, straight), current + beside
}

// powered returns the rail at the controller and what rail and pack give. A finished
// clock keeps what it has worked out.
func (c *Clock) powered(s state) (rail, current, pack float64) {
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

func (c *Clock) work(s state) (rail, current, pack float64) {
	if c.trimming && !c.supply.passes {
		return c.supply.rail, 0, 0 // nobody asks for the currents then
	}
	lead := c.supply.lead + s.railLead
	behind := func(u float64) float64 {
		current = c.drawn(s, u)
		volts, _ := c.give(s, current)
		return volts - lead*current
	}
	rail = math.Max(0, bisect(0, 64, func(u float64) float64 { return behind(u) - u }))
	if rail < 1e-9 {
		return 0, 0, 0
	}
	current = c.drawn(s, rail)
	_, pack = c.give(s, current)
	return rail, current, pack
}

func (c *Clock) rail(s state) float64 {
	rail, _, _ := c.powered(s)
	return rail
}

// settle finds out whether the controller is held: by its reset pin, or by a rail that
// is too low when it wakes.
func (c *Clock) settle() {
	c.load.held = c.load.reset
	if !c.load.held && c.rail(idle) < math.Max(c.supply.least, 0.5) {
		c.load.held = true
	}
}
