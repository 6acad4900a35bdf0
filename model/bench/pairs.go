package bench

import (
	"cmp"
	"math"
	"slices"
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
	return false
}

// Pairs are looked for among the singles that explain most, each by the ways that do.
const (
	pairedSingles = 12
	pairedNodes   = 4
)

// pairs are the candidates of two causes at once, weighed.
func (k *look) pairs(entries []*entry) []*entry {
	type half struct {
		e     *entry
		score float64
		nodes []node
	}
	var halves []half
	for _, e := range entries {
		if e.a == nil || len(e.a.causes) != 1 {
			continue
		}
		score, nodes := k.partly(e)
		halves = append(halves, half{e, score + math.Log(e.a.prior), nodes})
	}
	slices.SortStableFunc(halves, func(a, b half) int { return cmp.Compare(b.score, a.score) })
	halves = halves[:min(len(halves), pairedSingles)]
	squares := 0.0 // of all singles' priors: what the pairs' are in proportion to
	sum := 0.0
	for _, e := range entries {
		if e.a != nil && len(e.a.causes) == 1 {
			sum += e.a.prior
			squares += e.a.prior * e.a.prior
		}
	}
	scale := priorPairs * sum / ((sum*sum - squares) / 2)
	var all []*entry
	w := newWorld(k.x.build)
	for i := range halves {
		for j := range i {
			a, b := halves[i], halves[j]
			pair := &candidate{
				causes: []*cause{a.e.a.causes[0], b.e.a.causes[0]}, faults: append(slices.Clone(a.e.a.faults), b.e.a.faults...),
				index: []int{a.e.a.index[0], b.e.a.index[0]}, prior: scale * a.e.a.prior * b.e.a.prior,
			}
			all = append(all, k.entry(pair, k.x.pairWays(w, pair, a.nodes, b.nodes)))
		}
	}
	return all
}

// partly is how well a candidate explains the readings that it can, each by itself, and
// the amounts by which it does.
func (k *look) partly(e *entry) (score float64, nodes []node) {
	type scored struct {
		s     *seen
		score float64
	}
	var ways []scored
	for n := range e.ways {
		s := &e.ways[n]
		sum := 0.0
		for m := range k.taken {
			t := &k.taken[m]
			if t.Before {
				continue
			}
			off := min(k.off(s.w, t), 4)
			sum -= off * off / 2
		}
		ways = append(ways, scored{s, sum})
	}
	slices.SortStableFunc(ways, func(a, b scored) int { return cmp.Compare(b.score, a.score) })
	for _, w := range ways {
		amount := w.s.w.setup.faults[0].amount
		if len(nodes) < pairedNodes && !slices.ContainsFunc(nodes, func(n node) bool { return n.amount == amount }) {
			nodes = append(nodes, node{amount, w.s.w.width, 1})
		}
	}
	return ways[0].score, nodes
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
				x.finish(one)
				one.weight = 1 / total[0] / total[1] / float64(len(trims))
				all = append(all, one)
			}
		}
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
	row := x.read(s)
	for j := range row {
		row[j] -= one.mean[j]
		if math.IsNaN(row[j]) || math.IsInf(row[j], 0) {
			row[j] = 0
		}
	}
	one.rows = append(one.rows, row)
}
