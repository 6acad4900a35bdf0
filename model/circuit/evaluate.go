package circuit

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
)

// Groups are groups of results that Solve can work out by themselves.
type Groups uint16

// The groups. Those of the supply need hands and lamps solved, by Reach and Lamps.
const (
	Reach    Groups = 1 << iota // of each hand: full scale
	FromRail                    // what it takes from the rail
	Steady                      // what else follows from steady currents; needs both
	Filter
	Ripple
	Codes
	Swing // of the needle
	Time  // crystal and counter
	Lamps
	Loads  // what the pack is asked for
	Supply // what all together ask of rail and cells; needs Loads

	All     = 1<<iota - 1
	OfHands = Reach | FromRail | Steady | Filter | Ripple | Codes | Swing
)

// With returns the groups and those that they need.
func (g Groups) With() Groups {
	if g&Supply != 0 {
		g |= Loads | Lamps | Steady
	}
	if g&Loads != 0 {
		g |= Lamps | FromRail
	}
	if g&Steady != 0 {
		g |= Reach | FromRail
	}
	return g
}

// Evaluate computes every result of a build without problems into a plan,
// whose memory it reuses.
func Evaluate(b *model.Build, p *Plan) {
	Wire(b, &p.Circuit)
	p.Solve(All)
}

// Solve computes groups of results of the plan's circuit, which it does not change; the
// others stay as they are. A value that the circuit does not have is NaN or infinite.
func (p *Plan) Solve(groups Groups) {
	c := &p.Circuit
	if len(p.Hands) != len(c.Hands) {
		p.Hands = slices.Grow(p.Hands[:0], len(c.Hands))[:len(c.Hands)]
	}
	for i := range c.Hands {
		p.SolveHand(i, groups)
	}
	if groups&Lamps != 0 {
		p.solveLamps()
	}
	if groups&Time != 0 {
		p.Crystal = c.Crystal.Solve()
	}
	if groups&Loads != 0 {
		p.solveLoads()
	}
	if groups&Supply != 0 {
		p.solveSupply()
	}
}

// SolveHand computes groups of one hand's results; what the cells do to it is among the
// Supply's.
func (p *Plan) SolveHand(i int, groups Groups) {
	if groups&OfHands != 0 {
		p.Circuit.Hands[i].solve(&p.Hands[i], groups)
	}
}

func (p *Plan) solveLamps() {
	c := &p.Circuit
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
