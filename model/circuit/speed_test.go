package circuit

import (
	"testing"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/modeltest"
)

var kept float64 // keeps the compiler from leaving a floor out

// The floor of evaluating a build: the formulas that take time, with their numbers
// at hand.
func BenchmarkEvaluateToFloor(b *testing.B) {
	for _, file := range []string{"public-1.toml", "three-hands.toml", "whole.toml"} {
		b.Run(file, func(b *testing.B) {
			build, p := soundPlan(b, modeltest.Text(b, file))
			c := p.Circuit
			modeltest.ToFloor(b, func() { Evaluate(build, p) }, func() { kept = bareFormulas(&c, p) })
		})
	}
}

// bareFormulas is what calc has to work out for a circuit, added up.
func bareFormulas(c *Circuit, p *Plan) float64 {
	sum := 0.0
	for i := range c.Hands {
		h := &c.Hands[i]
		d := h.Drive()
		ripple := h.Ripple(&d)
		sum += ripple.Node() + ripple.Needle()
		if h.Law.Kind != calc.Linear {
			sum += ripple.LawShift(&h.Law)
		}
		if h.Inductance > 0 {
			sum += ripple.Coil()
		}
		coding := h.Quantisation()
		largest, rms := coding.Errors()
		sum += largest + rms + h.PinBend(&d).Largest()
		sum += h.warmed(&d, h.RoomLow) + h.warmed(&d, h.RoomHigh)
		sum += h.Movement.Settling(settled) + h.Movement.ImpactSpeed(1, h.Stop) + h.Movement.ImpactSpeed(h.wakes(), 1+h.Stop-h.wakes())
		if h.Movement.Overshoot() > mostPast {
			sum += h.Movement.ShortestRamp(mostPast)
		}
		if h.Diodes {
			sum += calc.DiodeBend(h.FullScale, h.Coil, h.Fixed)
		}
	}
	sum += c.Crystal.Pulling.Offset(c.Crystal.In, c.Crystal.Load)
	if battery := &c.Battery; battery.Present {
		pack := battery.Pack
		pack.On, pack.Off = p.Pack.On, p.Pack.Off
		fresh, _ := pack.DrawFresh(true)
		sum += fresh.Current + pack.Life(24) + pack.Life(0) + pack.Life(battery.HoursOn) + pack.Stranded(24)
	}
	return sum
}
