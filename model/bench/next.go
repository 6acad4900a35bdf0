package bench

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A Step is a reading that is worth taking.
type Step struct {
	At   string
	Why  string
	Gain float64 // bits, as expected
	Cost float64
}

// worth is the least gain for which anything is measured, bits.
const worth = 0.01

// mostWays is how many ways count: the likeliest.
const mostWays = 150

// A guess is a way that may be, with its share.
type guess struct {
	entry int
	share float64
	s     *seen
}

// next are the readings worth taking, the best for their cost first.
func (k *look) next(taken []Taken, entries []*entry) []Step {
	guesses := k.guesses(entries)
	var steps []Step
	for j := range k.x.spots {
		p := &k.x.spots[j]
		before := false
		given := slices.ContainsFunc(taken, func(t Taken) bool {
			if t.spot == j && t.Before {
				before = true
			}
			return t.spot == j && !t.Before && t.kind != unread
		})
		if given || k.hurts(j, guesses) {
			continue
		}
		outcomes := k.outcomes(j, guesses, len(entries))
		gain := information(known(outcomes, entries))
		if gain < worth && !before {
			continue
		}
		why := k.why(outcomes, entries)
		if before {
			why, gain = "Taken before the last repair.", gain+retaken
		}
		steps = append(steps, Step{At: p.id, Why: why, Gain: gain, Cost: p.cost})
	}
	slices.SortStableFunc(steps, func(a, b Step) int { return cmp.Compare(b.value(), a.value()) })
	return steps
}

// known are the outcomes of what may be foretold: no reading can be aimed at a fault that
// the table does not know, unless it is likely enough to be told from the others.
func known(outcomes [][]float64, entries []*entry) [][]float64 {
	const likely = 0.2
	var rows [][]float64
	for n, e := range entries {
		if e.a != nil || e.share > likely {
			rows = append(rows, outcomes[n])
		}
	}
	return rows
}

// retaken is what a reading that was taken before the last repair is worth more, bits: it
// is taken again first.
const retaken = 10

func (s *Step) value() float64 { return s.Gain / (1 + s.Cost/4) }

// guesses are the ways that count.
func (k *look) guesses(entries []*entry) []guess {
	var all []guess
	for n, e := range entries {
		for m := range e.ways {
			s := &e.ways[m]
			if share := e.share * math.Exp(s.log-e.log); share > 1e-5 {
				all = append(all, guess{entry: n, share: share, s: s})
			}
		}
		if e.a == nil { // anything: no way of its own
			all = append(all, guess{entry: n, share: e.share})
		}
	}
	slices.SortStableFunc(all, func(a, b guess) int { return cmp.Compare(b.share, a.share) })
	return all[:min(len(all), mostWays)]
}

// hurts says whether a reading could hurt the meter as it may be now: its needle would be
// driven far beyond its end while it is taken.
func (k *look) hurts(j int, guesses []guess) bool {
	p := &k.x.spots[j]
	if p.hand < 0 || !(p.state == atTop || p.state == atHalf || p.with == moving) {
		return false
	}
	driven := k.x.spotOf(p.hand, "needle_top")
	if p.state == atHalf {
		driven = k.x.spotOf(p.hand, "needle_half")
	}
	if driven < 0 { // where the needle stands is not known
		return false
	}
	const likelyEnough = 0.2
	sum := 0.0
	for _, g := range guesses {
		if g.s != nil && g.s.w.mean[driven] > mostDriven {
			sum += g.share
		}
	}
	return sum > likelyEnough
}

// mostDriven is how far a needle may be driven, of its scale: what a meter stands for good.
const mostDriven = 1.25

// outcomes are, of each entry, how likely each outcome of a reading is together with it.
func (k *look) outcomes(j int, guesses []guess, entries int) [][]float64 {
	p := &k.x.spots[j]
	var bins int
	var chances func(n int) []float64
	switch {
	case p.words != nil:
		bins = len(p.words)
		chances = func(n int) []float64 { return guesses[n].s.w.chance[j] }
	case p.with == levels:
		bins = 3
		plan := max(k.x.sound.mean[j], leastLevel)
		chances = func(n int) []float64 {
			w := guesses[n].s.w
			return []float64{k.x.levelChance(w, j, plan/10), k.x.levelChance(w, j, plan), k.x.levelChance(w, j, plan*10)}
		}
	default:
		at := make([]predicted, len(guesses))
		for n := range guesses {
			at[n] = k.predict(j, &guesses[n])
		}
		edges := edgesOf(at)
		bins = len(edges) + 2
		chances = func(n int) []float64 { return k.turned(j, at[n], edges) }
	}
	all := make([][]float64, entries)
	for n := range all {
		all[n] = make([]float64, bins)
	}
	for n := range guesses {
		g := &guesses[n]
		if g.s == nil {
			for b := range bins {
				all[g.entry][b] += g.share / float64(bins)
			}
			continue
		}
		for b, c := range chances(n) {
			all[g.entry][b] += g.share * c
		}
	}
	return all
}

// predicted is what a way, with the readings so far, makes of a point: nothing where it is
// no way at all, and infinite where it is open.
type predicted struct {
	mean, deviation float64
	none            bool
	turn            *turn // that may as well go the other way
}

// otherWay is the same of a trimmer that was turned the other way.
func (p predicted) otherWay() predicted {
	return predicted{mean: p.turn.mean, deviation: p.deviation}
}

func (k *look) predict(j int, g *guess) predicted {
	s := g.s
	if s == nil {
		return predicted{none: true}
	}
	mean := s.w.mean[j]
	if math.IsInf(mean, 0) {
		return predicted{mean: mean}
	}
	noise := s.w.noise[j]
	variance := s.w.spread[j]*s.w.spread[j] + noise*noise
	if n := len(s.numbers); n > 0 && s.inverse != nil {
		with := make([]float64, n)
		for _, row := range s.w.rows {
			if own := row[j]; own != 0 {
				for a, t := range s.numbers {
					with[a] += own * row[k.taken[t].spot]
				}
			}
		}
		for a := range with {
			mean += with[a] * s.residual[a]
		}
		v := mat.NewVecDense(n, with)
		variance -= mat.Inner(v, s.inverse, v)
	}
	return predicted{mean: mean, deviation: math.Sqrt(max(variance, noise*noise/2)), turn: s.w.turnAt(j)}
}

// edgesOf cut what a point may read into parts that the ways tell apart.
func edgesOf(all []predicted) []float64 {
	var at []float64
	for _, p := range all {
		if p.turn != nil {
			p := p.otherWay()
			at = append(at, p.mean-p.deviation, p.mean+p.deviation)
		}
		if !p.none && !math.IsInf(p.mean, 0) {
			at = append(at, p.mean-p.deviation, p.mean+p.deviation)
		}
	}
	slices.Sort(at)
	const most = 28
	var edges []float64
	for n := range most {
		if len(at) == 0 {
			break
		}
		if e := at[n*(len(at)-1)/(most-1)]; len(edges) == 0 || e > edges[len(edges)-1] {
			edges = append(edges, e)
		}
	}
	return edges
}

// turned is how likely a way makes each part, whichever way a trimmer is turned.
func (k *look) turned(j int, at predicted, edges []float64) []float64 {
	chances := k.binned(j, at, edges)
	if at.turn == nil {
		return chances
	}
	for n, other := range k.binned(j, at.otherWay(), edges) {
		chances[n] += (other - chances[n]) * at.turn.chance
	}
	return chances
}

// binned is how likely a way makes each part; the last is none of them: open, or over.
func (k *look) binned(j int, at predicted, edges []float64) []float64 {
	chances := make([]float64, len(edges)+2)
	if p := &k.x.spots[j]; math.IsInf(at.mean, 0) || p.isPlace() && at.mean > 1+p.stop {
		chances[len(edges)+1] = 1
		return chances
	}
	before := 0.0
	for n, e := range edges {
		now := below((e - at.mean) / at.deviation)
		chances[n], before = now-before, now
	}
	chances[len(edges)] = 1 - before
	return chances
}

// information is what an outcome tells of the entries, bits, as expected: those that add up
// to less than 1 tell so much less.
func information(outcomes [][]float64) float64 {
	if len(outcomes) == 0 {
		return 0
	}
	of := make([]float64, len(outcomes))
	all := make([]float64, len(outcomes[0]))
	total := 0.0
	for n, row := range outcomes {
		for b, p := range row {
			of[n] += p
			all[b] += p
			total += p
		}
	}
	sum := 0.0
	for n, row := range outcomes {
		for b, p := range row {
			if p > 1e-12 {
				sum += p * math.Log2(p*total/(of[n]*all[b]))
			}
		}
	}
	return sum
}

// why says which two of the likeliest a reading tells apart best.
func (k *look) why(outcomes [][]float64, entries []*entry) string {
	const among = 6
	best, a, b := 0.0, -1, -1
	for i := range min(among, len(entries)) {
		for j := range i {
			if d := apart(outcomes[i], outcomes[j]) * math.Sqrt(entries[i].share*entries[j].share); d > best {
				best, a, b = d, j, i
			}
		}
	}
	if a < 0 {
		return "It tells the causes apart."
	}
	return "It tells " + k.named(entries[a]).ID + " from " + k.named(entries[b]).ID + "."
}

// apart is by how much two rows of outcomes differ, 0 to 1.
func apart(a, b []float64) float64 {
	sumA, sumB, d := 0.0, 0.0, 0.0
	for n := range a {
		sumA, sumB = sumA+a[n], sumB+b[n]
	}
	if sumA == 0 || sumB == 0 {
		return 0
	}
	for n := range a {
		d += math.Abs(a[n]/sumA-b[n]/sumB) / 2
	}
	return d
}

// couldRaise says whether a reading at a point could make any cause likelier than so much.
func couldRaise(outcomes [][]float64, entries []*entry, to float64) bool {
	for b := range outcomes[0] {
		sum := 0.0
		for n := range outcomes {
			sum += outcomes[n][b]
		}
		for n, row := range outcomes {
			if entries[n].a == nil || len(entries[n].a.causes) == 0 {
				continue
			}
			of := 0.0
			for _, p := range row {
				of += p
			}
			if of > 0 && row[b] > 0.2*of && row[b] > to*sum {
				return true
			}
		}
	}
	return false
}

// The contract's: nothing is not above so much while a cheap reading could raise a cause
// above so much.
const (
	mostNothing = 0.9
	raisedTo    = 0.1
	cheap       = 1
)

// hold holds nothing down while a cheap reading could still tell otherwise.
func (k *look) hold(taken []Taken, entries []*entry) {
	n := slices.IndexFunc(entries, func(e *entry) bool { return e.a != nil && len(e.a.causes) == 0 })
	if entries[n].share <= mostNothing {
		return
	}
	guesses := k.guesses(entries)
	for j := range k.x.spots {
		given := slices.ContainsFunc(taken, func(t Taken) bool { return t.spot == j && !t.Before && t.kind != unread })
		if given || k.x.spots[j].cost > cheap || !couldRaise(k.outcomes(j, guesses, len(entries)), entries, raisedTo) {
			continue
		}
		rest := 1 - entries[n].share
		for m, e := range entries {
			if m == n {
				e.share = mostNothing
			} else if rest > 0 {
				e.share *= (1 - mostNothing) / rest
			}
		}
		return
	}
}
