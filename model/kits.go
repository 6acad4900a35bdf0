package model

import (
	"math"
	"math/rand/v2"
)

// An assembly solves the kits of a build one after another. What a kit's parts do
// not touch is taken from the plan of the build itself: the codes, which no
// tolerance reaches, and ripple and motion where what they follow from is the same.
type assembly struct {
	kit   *kit
	whole *Plan // of the build itself
	plan  Plan  // of the kit solved last
	rows  []Row // the results that are looked at

	skipSmooth, skipSupply bool // none of the rows needs it
}

// solve solves the kit as it is set and puts its results into values, NaN where
// one does not exist.
func (a *assembly) solve(values []float64) {
	p, c := &a.plan, &a.plan.circuit
	wire(a.kit.build, c)
	p.Hands = append(p.Hands[:0], a.whole.Hands...)
	for i := range c.Hands {
		a.solveHand(&c.Hands[i], &a.whole.circuit.Hands[i], &p.Hands[i])
	}
	p.solveLamps(c)
	p.Crystal = solveCrystal(&c.Crystal)
	if a.skipSupply {
		p.Battery, p.Supply = a.whole.Battery, a.whole.Supply
		p.Buttons = append(p.Buttons[:0], a.whole.Buttons...)
	} else {
		p.solveSupply(c)
	}
	for j, row := range a.rows {
		values[j] = *row.At(p, row.Index)
		if row.Positive && math.IsNaN(values[j]) {
			values[j] = 0
		}
	}
}

// solveHand solves a hand into the plan of the same hand as the build gives it.
func (a *assembly) solveHand(h, whole *HandCircuit, p *HandPlan) {
	chain := h.chain()
	h.solveSeries(p, chain)
	if !a.skipSmooth && h.ripple(chain) != whole.ripple(whole.chain()) {
		h.solveSmooth(p, chain)
	}
	if h.Movement != whole.Movement || h.Stop != whole.Stop || h.RampTick != whole.RampTick {
		h.solveMotion(p)
	}
	p.FreshError = math.NaN()
}

// places draws, for so many kits, the places of each input between its ends, -1
// to 1: in each of as many equal parts of the tolerance lies one kit, in an order
// of its own (latin hypercube), so that few kits spread as evenly as many. The
// same every time.
func places(inputs, kits int) [][]float64 {
	columns := make([][]float64, inputs)
	for k := range columns {
		random := rand.New(rand.NewPCG(2026, uint64(k)))
		columns[k] = make([]float64, kits)
		for i, part := range random.Perm(kits) {
			columns[k][i] = 2*(float64(part)+random.Float64())/float64(kits) - 1
		}
	}
	return columns
}
