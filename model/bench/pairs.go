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
	e    *entry
	ways []*way
	offs [][]float64 // by how many deviations each reading is off, at each amount
}

// A pairing is two partners, and how well one or the other explains each reading.
type pairing struct {
	a, b         *partner
	ofA, ofB     []*way
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
		way   *way
		offs  []float64
		score float64
	}
	var ways []scored
	for n := range e.ways {
		w := e.ways[n].w
		one := scored{way: w, offs: make([]float64, len(k.taken))}
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
		if len(h.ways) < pairedNodes && !amongst(h.ways, w.way) {
			h.ways, h.offs = append(h.ways, w.way), append(h.offs, w.offs)
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
	for i := range a.ways {
		for j := range b.ways {
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
		p.ofA, p.ofB = kept(p.ofA, a.ways[c.i]), kept(p.ofB, b.ways[c.j])
	}
	return p
}

// kept is a list with one more, where there is room and it is not there yet.
func kept(list []*way, w *way) []*way {
	if len(list) == keptNodes || amongst(list, w) {
		return list
	}
	return append(list, w)
}

// amongst says whether a list has a way by the same amount.
func amongst(list []*way, w *way) bool {
	return slices.ContainsFunc(list, func(o *way) bool { return o.setup.faults[0].amount == w.setup.faults[0].amount })
}

// pairWays works a pair out for some amounts of both, each by one of its own ways: those
// that were left out count as if they explained nothing.
func (x *Bench) pairWays(w *world, pair *candidate, first, second []*way) []*way {
	var all []*way
	share := 1 / float64(len(nodesPlaced(single(pair, 0), x.circuit))) / float64(len(nodesPlaced(single(pair, 1), x.circuit)))
	for _, a := range first {
		for _, b := range second {
			trims := []bool{false}
			if pair.causes[0].trims || pair.causes[1].trims {
				trims = []bool{false, true}
			}
			for _, trimmed := range trims {
				u := setup{hand: -1, trimmed: trimmed, faults: []placed{a.setup.faults[0], b.setup.faults[0]}}
				one := x.together(w, pair, u, a, b)
				one.weight = share / float64(len(trims))
				if one.part != nil {
					one.weight *= one.part.weight
				}
				all = append(all, one)
			}
		}
	}
	return all
}

// together is a way of two faults at once. What all points read is worked out; by how much
// the unknowns move a point is taken from the way of that fault which moves it most.
func (x *Bench) together(w *world, pair *candidate, u setup, a, b *way) *way {
	was := w.used
	one := &way{setup: u, width: a.width, part: a.part, lowRail: a.lowRail || b.lowRail, extra: max(a.extra, b.extra), less: a.less}
	if one.part == nil {
		one.part = b.part
	}
	if one.part != nil {
		w.used = one.part.middle
	}
	s, _ := w.scene(&u, &x.build.Meter)
	w.used = was
	one.mean, one.chance, one.less = x.read(s), x.words(s, pair.circumstance()), s.less
	mine := make([]bool, len(x.spots)) // of the first fault
	for j := range x.spots {
		one.mean[j] = orNothing(one.mean[j])
		mine[j] = x.movedBy(a, j) >= x.movedBy(b, j)
	}
	pick := func(first, second []float64) []float64 {
		row := make([]float64, len(x.spots))
		for j := range row {
			if from := second; mine[j] {
				row[j] = first[j]
			} else if from != nil {
				row[j] = from[j]
			}
		}
		return row
	}
	nothing := make([]float64, len(x.spots))
	common := len(x.unknowns)
	for l := range common {
		one.rows = append(one.rows, pick(a.rows[l], b.rows[l]))
	}
	for _, row := range a.rows[common:] {
		one.rows = append(one.rows, pick(row, nothing))
	}
	for _, row := range b.rows[common:] {
		one.rows = append(one.rows, pick(nothing, row))
	}
	for _, t := range slices.Concat(a.turns, b.turns) {
		if from := map[bool]*way{true: a, false: b}[mine[t.spot]]; from.turnAt(t.spot) != nil && one.turnAt(t.spot) == nil {
			one.turns = append(one.turns, *from.turnAt(t.spot))
		}
	}
	x.finish(one)
	return one
}

// movedBy is by how many deviations a way moves a point off what the sound clock reads.
func (x *Bench) movedBy(w *way, j int) float64 {
	off := math.Abs(orNothing(w.mean[j]-x.sound.mean[j])) / math.Hypot(x.sound.spread[j], x.sound.noise[j])
	return orNothing(off)
}

// single is one half of a pair.
func single(pair *candidate, n int) *candidate {
	return &candidate{causes: pair.causes[n : n+1], faults: pair.faults[n : n+1], index: pair.index[n : n+1]}
}
