package circuit

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// UsualCoilVoltage is what stands across a moving coil at full scale where nobody
// measured its coil, V: the middle of 20 to 500 mV by their ratio. Common practice, no
// source; it counts for heat and copper alone.
const UsualCoilVoltage = 0.1

// wireMeter wires the movement with what is inside its case and still connected: a
// multiplier in series, a shunt across the coil, or what the closed case was measured to be.
func (c *HandCircuit) wireMeter(m *model.Meter) {
	c.Coil, c.FullScale, c.Multiplier, c.Shunt = m.Coil.Number, m.FullScale.Number, 0, math.Inf(1)
	c.TerminalResistance, c.TerminalFullScale = math.NaN(), math.NaN()
	switch {
	case m.AsMeasured():
		c.wireClosed(m)
	case !m.LeftInside():
	case m.InternalKind == "shunt":
		c.Shunt = m.Internal.Number
	default:
		c.Multiplier = m.Internal.Number
	}
}

// wireClosed wires a closed case by what its terminals show. Where they take more than the
// movement at full scale, the rest goes through a shunt; what is left of the resistance is
// in series.
func (c *HandCircuit) wireClosed(m *model.Meter) {
	resistance, fullScale := m.Terminals(model.Nominal, model.Nominal)
	c.TerminalResistance, c.TerminalFullScale = resistance, fullScale
	if !(c.FullScale < fullScale) { // NaN neither
		c.FullScale = fullScale
	}
	if !m.Coil.Given() {
		c.Coil = UsualCoilVoltage / c.FullScale
	}
	behind := c.Coil * c.FullScale / fullScale // of coil and shunt side by side
	if behind > resistance {
		c.Coil, behind = c.Coil*resistance/behind, resistance
	}
	if c.FullScale < fullScale {
		c.Shunt = c.Coil * c.FullScale / (fullScale - c.FullScale)
	}
	c.Multiplier = resistance - behind
}

// wireWorst wires what a stuck pin can drive the most through: each part at its worst end.
func (c *HandCircuit) wireWorst(h *model.Hand) {
	d := &h.Drive
	resistance, fullScale := h.Meter.Terminals(quantity.Value.Low, quantity.Value.High)
	c.LeastChain = d.Source().Low() + d.Stage.Low() + d.Fixed.Low() + resistance
	c.LeastFullScale = fullScale
}

// wireScale wires where the needle rests, and how much of its scale the dial takes: of one
// that rests in the middle half, but between two pins all.
func (c *HandCircuit) wireScale(h *model.Hand) {
	c.Mirrored = h.Meter.ZeroAt == "right"
	c.Rest, c.Used, c.Reach = 0, 1, 1
	if c.Bridge {
		c.Reach = 0.5
	}
	switch {
	case h.Meter.ZeroAt != "centre":
	case c.Bridge:
		c.Rest = 0.5
	default:
		c.Rest, c.Used = 0.5, 0.5
	}
}
