package faulty

import "math"

// A circuit is the clock as its parts are, sound or not.
type circuit struct {
	hands   []hand
	lamps   []lamp
	buttons []button
	drains  []drain
	supply  supply
	crystal crystal
	load    load

	trimming bool                 // at the rail as it was set then
	kept     map[state][3]float64 // what the supply gives, by state; nil: not kept
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
func (c *circuit) isAwake(s state) bool {
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
func (c *circuit) duty(i int, s state) float64 {
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
func (c *circuit) handCurrent(i int, s state, rail float64) float64 {
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
func (c *circuit) drawn(s state, rail float64) float64 {
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

// trim sets the trimmer so that the needle stands at the top, by eye, as far as the
// trimmer goes.
func (c *circuit) trim(i int, eye float64) {
	h := &c.hands[i]
	if h.track == 0 || h.given {
		return
	}
	h.setting = bisect(0, h.track, func(ohms float64) float64 {
		h.setting = ohms
		s := state{hand: i, code: h.top, awake: true}
		return h.place(c.rail(s), c.duty(i, s)) - (1 + eye)
	})
}
