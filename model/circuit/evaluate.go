package circuit

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
)

// Evaluate computes every result of a build without problems into a plan,
// whose memory it reuses.
func Evaluate(b *model.Build, p *Plan) {
	Wire(b, &p.Circuit)
	solve(&p.Circuit, p)
}

// solve computes a plan from a circuit.
func solve(c *Circuit, p *Plan) {
	p.Hands = p.Hands[:0]
	for i := range c.Hands {
		p.Hands = append(p.Hands, solveHand(&c.Hands[i]))
	}
	p.SolveLamps(c)
	p.Crystal = SolveCrystal(&c.Crystal)
	p.SolveSupply(c)
}

// SolveLamps computes the lamps.
func (p *Plan) SolveLamps(c *Circuit) {
	p.Lamps = p.Lamps[:0]
	for i := range c.Lamps {
		l := &c.Lamps[i]
		current := l.Current(c.Rail)
		p.Lamps = append(p.Lamps, LampPlan{Current: current, Power: current * current * l.Resistor})
	}
}

// DiodeSeries is all that is in series with the coil and its diodes, Ω, trimmed with
// them.
func (p *HandPlan) DiodeSeries(fullScale float64) float64 {
	return (p.TopVoltage - p.FullScaleVoltage) / (fullScale + calc.DiodeLeak(p.FullScaleVoltage))
}

// Finite is NaN for what no circuit gives.
func Finite(x float64) float64 {
	if math.IsInf(x, 0) {
		return math.NaN()
	}
	return x
}

// unlessZero is NaN for what is not there.
func unlessZero(x float64) float64 {
	if x == 0 {
		return math.NaN()
	}
	return x
}
