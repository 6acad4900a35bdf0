package bench

import (
	"cmp"
	"math"
	"slices"

	"example.com/needlewright/model/circuit"
)

// unexplained says whether no single cause explains the readings: other is likely, or the
// best leaves far more than the errors allow.
func (k *look) unexplained(entries []*entry) bool {
	if len(k.taken) < 2 {
		return false
	}
	best := entries[0]
	for _, e := range entries {
		if e.share > best.share {
			best = e
		}
	}
	if best.a == nil || entries[len(entries)-1].share > 0.05 {
		return true
	}
	const tooFar = 3.5 // deviations
	for n := range k.taken {
		if t := &k.taken[n]; !t.Before && k.off(best.best.w, t) > tooFar {
			return true
		}
	}
	return best.best.farthest() > tooFar
}

// farthest is by how many deviations the number that fits worst is off what the others say.
func (s *seen) farthest() float64 {
	most := 0.0
	for a, r := range s.residual {
		most = max(most, math.Abs(r)/math.Sqrt(s.inverse.At(a, a)))
	}
	return most
}

// How many pairs are worked out, and by how many amounts of each of the two.
const (
	mostPairs   = 24
	pairedNodes = 6 // that are tried against each other
	keptNodes   = 2
)

// A partner is one cause of a pair, with the amounts by which it explains most.
type partner struct {
	e     *entry
	nodes []node
	offs  [][]float64 // by how many deviations each reading is off, at each amount
}

// A pairing is two partners, and how well one or the other explains each reading.
type pairing struct {
	a, b         *partner
	ofA, ofB     []node
	score, prior float64
}

// pairs are the likeliest candidates of two causes at once, weighed: those of which one or
// the other explains each reading.
func (k *look) pairs(entries []*entry) []*entry {
	var partners []partner
	sum, squares := 0.0, 0.0 // of all singles' priors
	for _, e := range entries {
		if e.a == nil || len(e.a.causes) != 1 {
			continue
		}
		partners = append(partners, k.partnerOf(e))
		sum, squares = sum+e.a.prior, squares+e.a.prior*e.a.prior
	}
	scale := priorPairs * sum / ((sum*sum - squares) / 2)
	var all []pairing
	for i := range partners {
		for j := range i {
			p := paired(&partners[j], &partners[i])
			p.prior = scale * p.a.e.a.prior * p.b.e.a.prior
			p.score += math.Log(p.prior)
			all = append(all, p)
		}
	}
	slices.SortStableFunc(all, func(a, b pairing) int { return cmp.Compare(b.score, a.score) })
	var weighed []*entry
	w := newWorld(k.x.build)
	for _, p := range all[:min(len(all), mostPairs)] {
		a, b := p.a.e.a, p.b.e.a
		pair := &candidate{
			causes: []*cause{a.causes[0], b.causes[0]}, faults: []*circuit.Fault{a.faults[0], b.faults[0]},
			index: []int{a.index[0], b.index[0]}, prior: p.prior,
		}
		weighed = append(weighed, k.entry(pair, k.x.pairWays(w, pair, p.ofA, p.ofB)))
	}
	return weighed
}

// partnerOf is a candidate with the amounts by which it explains most.
func (k *look) partnerOf(e *entry) partner {
	type scored struct {
		node  node
		offs  []float64
		score float64
	}
	var ways []scored
	for n := range e.ways {
		w := e.ways[n].w
		one := scored{node: node{w.setup.faults[0].amount, w.width, 1}, offs: make([]float64, len(k.taken))}
		for m := range k.taken {
			if t := &k.taken[m]; !t.Before {
				one.offs[m] = min(k.off(w, t), mostOff)
				one.score += one.offs[m] * one.offs[m]
			}
		}
		ways = append(ways, one)
	}
	slices.SortStableFunc(ways, func(a, b scored) int { return cmp.Compare(a.score, b.score) })
	h := partner{e: e}
	for _, w := range ways {
		known := slices.ContainsFunc(h.nodes, func(n node) bool { return n.amount == w.node.amount })
		if len(h.nodes) < pairedNodes && !known {
			h.nodes, h.offs = append(h.nodes, w.node), append(h.offs, w.offs)
		}
	}
	return h
}

// mostOff is from how many deviations on a reading counts as not explained at all.
const mostOff = 5

// paired is two partners by the amounts that go best together.
func paired(a, b *partner) pairing {
	type combination struct {
		i, j  int
		score float64
	}
	var all []combination
	for i := range a.nodes {
		for j := range b.nodes {
			c := combination{i: i, j: j}
			for n := range a.offs[i] {
				off := min(a.offs[i][n], b.offs[j][n])
				c.score -= off * off / 2
			}
			all = append(all, c)
		}
	}
	slices.SortStableFunc(all, func(x, y combination) int { return cmp.Compare(y.score, x.score) })
	p := pairing{a: a, b: b, score: all[0].score}
	for _, c := range all {
		p.ofA, p.ofB = kept(p.ofA, a.nodes[c.i]), kept(p.ofB, b.nodes[c.j])
	}
	return p
}

// kept is a list with one more, where there is room and it is not there yet.
func kept(list []node, n node) []node {
	if len(list) == keptNodes || slices.ContainsFunc(list, func(o node) bool { return o.amount == n.amount }) {
		return list
	}
	return append(list, n)
}

// pairWays works a pair out for some amounts of both: those that were left out count as
// if they explained nothing.
func (x *Bench) pairWays(w *world, pair *candidate, first, second []node) []*way {
	var all []*way
	total := [2]float64{float64(len(nodesPlaced(single(pair, 0), x.circuit))), float64(len(nodesPlaced(single(pair, 1), x.circuit)))}
	for _, a := range first {
		for _, b := range second {
			u := setup{hand: -1, faults: []placed{
				{pair.faults[0], pair.index[0], a.amount, pair.causes[0].factor}, {pair.faults[1], pair.index[1], b.amount, pair.causes[1].factor},
			}}
			trims := []bool{false}
			if pair.causes[0].trims || pair.causes[1].trims {
				trims = []bool{false, true}
			}
			for _, u.trimmed = range trims {
				one, _, _ := x.work(w, pair, u, a.width)
				x.widen(w, one, b.width)
				one.weight = 1 / total[0] / total[1] / float64(len(trims))
				all = append(all, one)
			}
		}
	}
	all = x.byUse(w, all)
	for _, one := range all {
		x.finish(one)
	}
	return all
}

// single is one half of a pair.
func single(pair *candidate, n int) *candidate {
	return &candidate{causes: pair.causes[n : n+1], faults: pair.faults[n : n+1], index: pair.index[n : n+1]}
}

// widen gives a way the width of its second amount.
func (x *Bench) widen(w *world, one *way, width float64) {
	if width == 0 {
		return
	}
	u := one.setup
	u.faults = slices.Clone(u.faults)
	if f := &u.faults[1]; f.inlog {
		f.amount *= math.Exp(width)
	} else {
		f.amount += width
	}
	s, _ := w.scene(&u, &x.build.Meter)
	one.rows = append(one.rows, x.moved(one, s))
}
