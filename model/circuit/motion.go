package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// A Motion is the needles of a plan as they swing. What swings is each coil's
// current share, as in the needle's equation; the law makes a place of it. The
// zero Motion has no needles yet: Reset or Advance gives it those of a plan.
type Motion struct {
	swings []calc.Swing
	places []float64
}

// Reset puts every needle of a plan at rest where it stands at a time of day, in
// seconds from midnight.
func (m *Motion) Reset(p *Plan, seconds float64) {
	m.swings, m.places = m.swings[:0], m.places[:0]
	for i := range p.Hands {
		m.enter(p, i, seconds)
	}
}

// Advance lets dt seconds (0 or more, of any length) go by for the needles of a
// plan, each drawn all the while to where it is to stand at a time of day, in
// seconds from midnight. A hand that is new in the plan starts at rest there.
func (m *Motion) Advance(p *Plan, seconds, dt float64) {
	known := min(len(m.swings), len(p.Hands))
	m.swings, m.places = m.swings[:known], m.places[:known]
	for i := range known {
		h := &p.Circuit.Hands[i]
		m.swings[i] = h.Movement.Advance(m.swings[i], p.target(i, seconds), dt)
		m.places[i] = h.place(m.swings[i].Place)
	}
	for i := known; i < len(p.Hands); i++ {
		m.enter(p, i, seconds)
	}
}

// Place returns where on its scale the needle of a hand, from 0, now stands: a
// share of the scale, below 0 or above 1 where it swings past an end.
func (m *Motion) Place(hand int) float64 { return m.places[hand] }

// enter adds the needle of the i-th hand, at rest.
func (m *Motion) enter(p *Plan, i int, seconds float64) {
	target := p.target(i, seconds)
	m.swings = append(m.swings, calc.Swing{Place: target})
	m.places = append(m.places, p.Circuit.Hands[i].place(target))
}

// target is the current share to which a hand is driven at a time of day.
func (p *Plan) target(i int, seconds float64) float64 {
	return p.Needle(i, seconds).Current / p.Circuit.Hands[i].FullScale
}

// place is where on the whole scale the law puts a current share; a swing below zero is its
// mirror image.
func (h *HandCircuit) place(share float64) float64 {
	return h.OnScale(math.Copysign(h.Law.At(math.Abs(share)), share))
}

// OnScale returns where on the whole scale the needle stands that its law puts so far from
// its rest: 1 for full scale, below zero the other way.
func (h *HandCircuit) OnScale(moved float64) float64 { return h.Rest + (1-h.Rest)*moved }

// Mark returns where on the whole scale the mark of a share of the dial's time belongs: at
// the share itself, or where the needle will stand for it on a dial that is drawn to it.
func (h *HandCircuit) Mark(share float64) float64 {
	if h.Dial {
		return h.place((share - h.middle()) / h.Reach)
	}
	return h.start() + h.Used*share
}

// start is where on the whole scale the dial's time begins: where the needle rests, or, of a
// bridge, at the end.
func (h *HandCircuit) start() float64 { return 1 - h.Used }

// middle is the share of the dial's time at which the needle rests: 0, of a bridge half.
func (h *HandCircuit) middle() float64 { return 1 - h.Reach }

// ramped is the share of full scale that the firmware sends t seconds after a ramp
// to zero began.
func (h *HandCircuit) ramped(t, ramp float64) float64 {
	ticks := math.Floor(t / h.RampTick)
	return math.Round(h.Top*max(0, 1-ticks*h.RampTick/ramp)) / h.Top
}
