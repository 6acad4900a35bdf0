package spread

import (
	"math"
	"math/rand/v2"
	"strings"
	"sync"

	"example.com/needlewright/model/circuit"
)

// An assembly solves the kits of a build one after another. What a kit's parts do
// not touch is taken from the plan of the build itself: the codes, which no
// tolerance reaches, and ripple and motion where what they follow from is the same.
type assembly struct {
	kit   *kit
	whole *circuit.Plan // of the build itself
	plan  circuit.Plan  // of the kit solved last
	rows  []Row         // the results that are looked at

	skipHands, skipRipple, skipSupply bool // none of the rows needs them
}

// only looks at some results alone, and leaves out what none of them needs.
func (a *assembly) only(rows []Row) {
	a.rows = rows
	a.skipHands, a.skipRipple, a.skipSupply = true, true, true
	for _, r := range rows {
		switch list := r.List(); {
		case list == "crystal" || list == "lamp":
		case list != "hand" || r.Positive: // what fresh cells do to a hand
			a.skipHands, a.skipSupply = false, false
		default:
			a.skipHands = false
			a.skipRipple = a.skipRipple && !strings.Contains(r.ID, "ripple")
		}
	}
}

// solve solves the kit as it is set and puts its results into values, NaN where
// one does not exist or is infinite.
func (a *assembly) solve(values []float64) {
	p, c := &a.plan, &a.plan.Circuit
	circuit.Wire(a.kit.build, c)
	p.Hands = append(p.Hands[:0], a.whole.Hands...)
	for i := range c.Hands {
		if !a.skipHands {
			a.solveHand(&c.Hands[i], &a.whole.Circuit.Hands[i], &p.Hands[i])
		}
	}
	p.SolveLamps(c)
	p.Crystal = circuit.SolveCrystal(&c.Crystal)
	if a.skipSupply {
		p.Battery, p.Supply = a.whole.Battery, a.whole.Supply
		p.Buttons = append(p.Buttons[:0], a.whole.Buttons...)
	} else {
		p.SolveSupply(c)
	}
	for j, row := range a.rows {
		values[j] = circuit.Finite(*row.At(p, row.Index))
		if row.Positive && math.IsNaN(values[j]) {
			values[j] = 0
		}
	}
}

// solveHand solves a hand into the plan of the same hand as the build gives it.
func (a *assembly) solveHand(h, whole *circuit.HandCircuit, p *circuit.HandPlan) {
	chain := h.Chain()
	h.SolveSeries(p, chain)
	h.SolveFilter(p, chain)
	if !a.skipRipple && h.Ripple(chain) != whole.Ripple(whole.Chain()) {
		h.SolveRipple(p, chain)
	}
	if h.Movement != whole.Movement || h.Stop != whole.Stop || h.RampTick != whole.RampTick {
		h.SolveMotion(p)
	}
	p.FreshError = math.NaN()
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
