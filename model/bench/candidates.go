package bench

import (
	"math"

	"example.com/needlewright/model/circuit"
)

// A candidate is one or more causes of given elements, or none at all, with the ways in
// which they may be.
type candidate struct {
	causes []*cause
	faults []*circuit.Fault
	index  []int // of their elements
	prior  float64
	ways   []*way
}

// A way is a candidate by one amount, trimmed before or with it, its trimmer at one of
// its ends or between: what all points read then.
type way struct {
	weight float64 // among the candidate's own
	setup  setup
	width  float64     // of the amount, about its middle
	mean   []float64   // of all points
	rows   [][]float64 // by how much each unknown moves the points, by one of its deviations
	chance [][]float64 // of the words of a point
	spread []float64   // of all kits at each point
	noise  []float64   // of a reading of it, as the display shows it
	extra  float64     // s/day, more of the limit of clock.drift
	less   []bool      // of each hand: its trimmer is turned towards less resistance
	turns  []turn
	part   *use // of how far the cells are used, nil where that is known

	cells [][]reach // of the sound clock: how far fresh and used cells move each point, in 95 % of clocks and in all

	lowRail bool // the controller is held by a rail that is too low for it
}

// A turn is what a trimmer may show that may have to be turned the other way: its end may
// come first, or not, by where it was set.
type turn struct {
	spot   int
	chance float64 // of the other way
	mean   float64 // what it reads then
}

// A node is an amount, and what part of all amounts it stands for.
type node struct{ amount, width, weight float64 }

// nodesOf cuts the amounts of a fault into parts.
func nodesOf(k *cause, spans []circuit.Span) []node {
	if len(spans) == 0 {
		return []node{{0, 0, 1}}
	}
	var all []node
	for _, s := range spans {
		for _, n := range cut(k, s) {
			n.weight /= float64(len(spans))
			all = append(all, n)
		}
	}
	return all
}

// cut cuts one span, its parts in proportion to their amounts.
func cut(k *cause, s circuit.Span) []node {
	if s.Least == s.Most {
		return []node{{s.Least, 0, 1}}
	}
	if k.whole {
		var whole []node
		for x := s.Least; x <= s.Most; x++ {
			whole = append(whole, node{x, 0, 1 / (s.Most - s.Least + 1)})
		}
		return whole
	}
	sign, least, most := 1.0, s.Least, s.Most
	if most < 0 || least < 0 && most <= 0 {
		sign, least, most = -1, -s.Most, -s.Least
	}
	parts := int(math.Ceil(math.Log(most/least) / math.Log(partOf)))
	parts = min(max(parts, leastParts), mostParts)
	by := math.Pow(most/least, 1/float64(parts))
	var all []node
	for a := least; len(all) < parts; a *= by {
		b := a * by
		n := node{amount: sign * (a + b) / 2, width: spread((b - a) / 2), weight: (b - a) / (most - least)}
		if k.factor {
			n = node{sign * math.Sqrt(a*b), spread(math.Log(by) / 2), 1 / float64(parts)}
		}
		all = append(all, n)
	}
	return all
}

// A part of a span is no wider than a fifth of its amounts, where there is room.
const (
	partOf                = 1.25
	leastParts, mostParts = 4, 14
)

// Priors, the contract's own.
const (
	priorNothing = 0.08
	priorOther   = 0.03
	priorPairs   = 0.05 // of all pairs, to all singles
	priorSlip    = 0.002
)

// candidatesOf are nothing, and every single cause of a circuit; their priors add up to
// all but that of other and of pairs.
func candidatesOf(c *circuit.Circuit) []*candidate {
	all := []*candidate{{prior: priorNothing}}
	sum := 0.0
	for n := range causes {
		k := &causes[n]
		f := faultOf(k.id)
		for i := range f.Count(c) {
			if !f.IsThere(c, i) || k.id == "pins_swapped" && len(f.Spans(c, i)) == 0 {
				continue
			}
			often := max(k.often, 1)
			sum += often
			all = append(all, &candidate{causes: []*cause{k}, faults: []*circuit.Fault{f}, index: []int{i}, prior: often})
		}
	}
	singles := (1 - priorNothing - priorOther) / (1 + priorPairs)
	for _, a := range all[1:] {
		a.prior *= singles / sum
	}
	return all
}

// hand is whose the candidate is, -1 of the clock.
func (a *candidate) hand() int {
	for n, f := range a.faults {
		if f.Of == "hand" {
			return a.index[n]
		}
	}
	return -1
}

// circumstance is the candidate for what is seen in words.
func (a *candidate) circumstance() *circumstance {
	k := &circumstance{}
	for n, c := range a.causes {
		hand := -1
		if a.faults[n].Of == "hand" {
			hand = a.index[n]
		}
		k.causes, k.hands = append(k.causes, c.id), append(k.hands, hand)
	}
	return k
}
