package spread

import (
	"math"
	"math/rand/v2"
	"sync"

	"example.com/needlewright/model/circuit"
)

// An assembly solves the kits of a build one after another. What a kit's parts do
// not touch is taken from the plan of the build itself: the codes, which no
// tolerance reaches, and ripple and motion where what they follow from is the same.
type assembly struct {
	kit    *kit
	whole  *circuit.Plan // of the build itself
	plan   circuit.Plan  // of the kit solved last
	rows   []Row         // the results that are looked at
	groups circuit.Groups
}

// only looks at some results alone, and leaves out what none of them needs.
func (a *assembly) only(rows []Row) {
	a.rows, a.groups = rows, 0
	for _, r := range rows {
		a.groups |= r.Group
	}
	a.groups = a.groups.With()
}

// solve solves the kit as it is set and puts its results into values, NaN where
// one does not exist or is infinite.
func (a *assembly) solve(values []float64) {
	p := &a.plan
	circuit.Wire(a.kit.build, &p.Circuit)
	p.Hands = append(p.Hands[:0], a.whole.Hands...)
	for i := range p.Circuit.Hands {
		p.SolveHand(i, a.groups&^a.same(i))
	}
	p.Solve(a.groups &^ circuit.OfHands)
	for j, row := range a.rows {
		values[j] = circuit.Finite(*row.At(p, row.Index))
		if row.Positive && math.IsNaN(values[j]) {
			values[j] = 0
		}
	}
}

// same are the groups of a hand's results that the kit does not move.
func (a *assembly) same(i int) circuit.Groups {
	h, whole := &a.plan.Circuit.Hands[i], &a.whole.Circuit.Hands[i]
	groups := circuit.Codes
	if a.groups&circuit.Ripple != 0 {
		d, of := h.Drive(), whole.Drive()
		if h.Ripple(&d) == whole.Ripple(&of) {
			groups |= circuit.Ripple
		}
	}
	if h.Movement == whole.Movement && h.Stop == whole.Stop && h.RampTick == whole.RampTick {
		groups |= circuit.Swing
	}
	return groups
}

// places are, for so many kits, the places of each input between its ends, -1 to
// 1: in each of as many equal parts of the tolerance lies one kit, in an order of
// its own (latin hypercube), so that few kits spread as evenly as many. The same
// every time.
func places(inputs, kits int) [][]float64 {
	columns.Lock()
	defer columns.Unlock()
	for len(columns.of[kits]) < inputs {
		columns.of[kits] = append(columns.of[kits], draw(len(columns.of[kits]), kits))
	}
	return columns.of[kits][:inputs]
}

// columns are the places that were drawn already, by the number of kits.
var columns = struct {
	sync.Mutex
	of map[int][][]float64
}{of: map[int][][]float64{}}

// draw draws the places of one input.
func draw(input, kits int) []float64 {
	random := rand.New(rand.NewPCG(2026, uint64(input)))
	column := make([]float64, kits)
	for i, part := range random.Perm(kits) {
		column[i] = 2*(float64(part)+random.Float64())/float64(kits) - 1
	}
	return column
}
