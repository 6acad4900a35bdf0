package bench

import (
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// New works out a build without problems.
func New(b *model.Build) *Bench {
	x := begun(b)
	beside(len(x.all), func(next func() (int, bool)) {
		w := newWorld(b)
		for n, ok := next(); ok; n, ok = next() {
			x.all[n].ways = x.waysByUse(w, x.all[n])
		}
	})
	x.end()
	x.dropTraceless()
	return x
}

// Sound works out the sound clock of a build alone, in a hundredth of the time: its points
// and Verdicts are those of New, and nothing is known of causes.
func Sound(b *model.Build) *Bench {
	x := begun(b)
	x.all = nil
	x.end()
	return x
}

// begun is a bench with its sound clock, before its causes are worked out and what is not
// there is left out.
func begun(b *model.Build) *Bench {
	x := &Bench{build: b, spots: spotsOf(b), unknowns: unknownsOf(b), circuit: new(circuit.Circuit)}
	circuit.Wire(b, x.circuit)
	x.all = candidatesOf(x.circuit)
	w := newWorld(b)
	x.unknowns = append(x.unknowns, w.trimsOf(b)...)
	x.uses, x.bent = w.usesOf(b)
	x.sound = x.soundOf(w, likeliest(x.waysOf(w, x.all[0], nodesPlaced(x.all[0], x.circuit))))
	return x
}

// end leaves out what has no value, and works out how far all ways spread.
func (x *Bench) end() {
	x.leaveOut()
	for j := range x.spots { // the friction of the needle is known by now
		if p := &x.spots[j]; p.with == untapped {
			p.tapped = x.spotOf(p.hand, "needle_tapped")
		}
	}
	for _, a := range x.all {
		for _, w := range a.ways {
			x.finish(w)
		}
	}
	x.finish(x.sound)
}

// likeliest is the way with the largest weight.
func likeliest(ways []*way) *way {
	most := ways[0]
	for _, w := range ways {
		if w.weight > most.weight {
			most = w
		}
	}
	return most
}

// finish works out how far a way's kits and readings spread.
func (x *Bench) finish(w *way) {
	w.spread, w.noise = make([]float64, len(x.spots)), make([]float64, len(x.spots))
	for j := range x.spots {
		sum := 0.0
		for _, row := range w.rows {
			sum += row[j] * row[j]
		}
		w.spread[j] = math.Sqrt(sum)
		w.noise[j] = x.noiseOf(w, j, math.NaN())
	}
}

// spotsOf are the test points of a build.
func spotsOf(b *model.Build) []spot {
	var all []spot
	for n := range points {
		p := &points[n]
		count, hand := 1, false
		switch p.of {
		case "hand":
			count, hand = len(b.Hands), true
		case "lamp":
			count = len(b.Lamps)
		case "button":
			count = len(b.Buttons)
		}
		for i := range count {
			if p.there != nil && !p.there(b, i) {
				continue
			}
			s := spot{point: p, id: p.id, index: i, hand: -1, tapped: -1}
			if hand {
				s.hand, s.stop = i, b.Hands[i].Meter.Stop.Number
			}
			switch p.of {
			case "hand":
				s.id = b.Hands[i].Name + "." + p.id
			case "lamp", "button":
				s.id = p.of + "." + b.NameOf(p.of, i) + "." + p.id
			}
			all = append(all, s)
		}
	}
	return all
}

// leaveOut takes the points out that have no value in a sound clock: something that they
// follow from is not known.
func (x *Bench) leaveOut() {
	var kept []int
	for j := range x.spots {
		if x.spots[j].words != nil || !math.IsNaN(x.sound.mean[j]) {
			kept = append(kept, j)
		}
	}
	if len(kept) == len(x.spots) {
		return
	}
	spots := make([]spot, len(kept))
	for n, j := range kept {
		spots[n] = x.spots[j]
	}
	x.spots = spots
	x.sound.keep(kept)
	for _, a := range x.all {
		for _, w := range a.ways {
			w.keep(kept)
		}
	}
}

func (w *way) keep(kept []int) {
	pick := func(from []float64) []float64 {
		to := make([]float64, len(kept))
		for n, j := range kept {
			to[n] = from[j]
		}
		return to
	}
	w.mean = pick(w.mean)
	rows := make([][]float64, len(w.rows)) // other ways share them
	for l := range w.rows {
		rows[l] = pick(w.rows[l])
	}
	w.rows = rows
	chance := make([][]float64, len(kept))
	for n, j := range kept {
		chance[n] = w.chance[j]
	}
	w.chance = chance
	for m, all := range w.cells { // the sound clock's own
		var cells []reach
		for _, j := range kept {
			cells = append(cells, all[j])
		}
		w.cells[m] = cells
	}
	w.turns = slices.Clone(w.turns)
	for n := range w.turns {
		w.turns[n].spot = slices.Index(kept, w.turns[n].spot)
	}
}

// nodesPlaced are the amounts of a candidate of one cause.
func nodesPlaced(a *candidate, c *circuit.Circuit) []node {
	if len(a.causes) == 0 {
		return []node{{0, 0, 1}}
	}
	spans := a.causes[0].spans
	if spans == nil {
		spans = a.faults[0].Spans(c, a.index[0])
	}
	return nodesOf(a.causes[0], spans)
}

// waysByUse are all ways of a candidate, by how far the cells are used.
func (x *Bench) waysByUse(w *world, a *candidate) []*way {
	nodes := nodesPlaced(a, x.circuit)
	if !x.bent {
		return x.byUse(w, x.waysOf(w, a, nodes))
	}
	was := w.used
	defer func() { w.used = was }()
	var all []*way
	for n := range x.uses { // each unknown moves the points in its own way
		part := &x.uses[n]
		w.used = part.middle
		for _, one := range x.waysOf(w, a, nodes) {
			row := x.readUsed(w, one, part.middle+spread(part.half))
			for j, v := range x.readUsed(w, one, part.middle) {
				row[j] = orNothing(row[j] - v)
			}
			one.rows, one.part, one.weight = append(one.rows, row), part, one.weight*part.weight
			all = append(all, one)
		}
	}
	return all
}

// waysOf works a candidate of one cause, or of none, out.
func (x *Bench) waysOf(w *world, a *candidate, nodes []node) []*way {
	var ways []*way
	for _, n := range nodes {
		u := setup{hand: a.hand()}
		if u.hand < 0 && len(x.build.Hands) > 0 {
			u.hand = 0
		}
		trims := []bool{false}
		if len(a.causes) > 0 {
			u.faults = []placed{{a.faults[0], a.index[0], n.amount, a.causes[0].factor}}
			if a.causes[0].trims {
				trims = []bool{false, true}
			}
		}
		for _, u.trimmed = range trims {
			for _, one := range x.byShare(w, func() []*way { return x.regimes(w, a, u, n.width) }) {
				one.weight *= n.weight / float64(len(trims))
				ways = append(ways, one)
			}
		}
	}
	return ways
}

// regimes are a setup's ways by where its trimmer ends up, with how likely each is.
func (x *Bench) regimes(w *world, a *candidate, u setup, width float64) []*way {
	h := u.hand
	if h < 0 || !(x.circuit.Hands[h].Trimmer > 0) || !math.IsNaN(x.circuit.Hands[h].Setting) {
		u.hand = -1
		one, _, _ := x.work(w, a, u, width)
		return []*way{one}
	}
	u.regime = within
	between, needed, by := x.work(w, a, u, width)
	most, off := x.circuit.Hands[h].Trimmer, norm(by)
	if math.IsNaN(needed) || math.IsInf(needed, 0) {
		u.regime = free
		between, _, _ = x.work(w, a, u, width)
		return []*way{between}
	}
	low, high := below(-needed/off), below((most-needed)/off)
	const rare = 0.01
	var all []*way
	for _, part := range []struct {
		at       regime
		from, to float64
		share    float64
	}{{atLeast, math.Inf(-1), -needed / off, low}, {within, -needed / off, (most - needed) / off, high - low}, {atMost, (most - needed) / off, math.Inf(1), 1 - high}} {
		if part.share < rare {
			continue
		}
		here := between
		if u.regime = part.at; part.at != within {
			here, _, _ = x.work(w, a, u, width)
		}
		here.weight = part.share
		if part.share < 1-rare {
			here.truncate(by, part.from, part.to)
		}
		all = append(all, here)
	}
	return all
}

// work works one way out: what all points read in its middle, and by how much each unknown
// moves them. needed is what the trimmer would have to be, and by how much each moves that.
func (x *Bench) work(w *world, a *candidate, u setup, width float64) (one *way, needed float64, by []float64) {
	middle, needed := w.scene(&u, &x.build.Meter)
	one = &way{weight: 1, setup: u, width: width, mean: x.read(middle), less: middle.less}
	for j := range one.mean {
		if len(a.causes) > 0 { // what a fault leaves without a value reads none
			one.mean[j] = orNothing(one.mean[j])
		}
	}
	one.chance = x.words(middle, a.circumstance())
	one.extra = x.rateLimit(middle)
	ends := newEnds(middle)
	move := func(width float64, put func(*world, float64)) {
		put(w, width)
		s, n := w.scene(&u, &x.build.Meter)
		put(w, 0)
		ends.add(s)
		one.rows, by = append(one.rows, x.moved(one, s)), append(by, orNothing(n-needed))
	}
	for _, k := range x.unknowns {
		move(k.width, k.put)
	}
	if width > 0 {
		move(width, func(w *world, x float64) { w.amount = x })
	}
	one.lowRail = middle.lowRail
	if one.lowRail {
		move(w.heldWidth, func(w *world, x float64) { w.heldBy = x })
	}
	switch {
	case u.has("magnet_near"):
		move(spread((mostSensitivity-leastSensitivity)/2), func(w *world, x float64) { w.sensitivity = 1 + x })
	case u.has("button_pull_missing"):
		move(spread(floatingMost/2), func(w *world, x float64) { w.floating = floatingMost/2 + x })
	}
	one.turns = x.turnsOf(middle, ends)
	return one, needed, by
}

// moved is by how much a scene moves what all points read off the middle of a way: 0 where
// either reads none.
func (x *Bench) moved(one *way, s *scene) []float64 {
	s.less = one.less
	row := x.read(s)
	for j := range row {
		if row[j] -= one.mean[j]; math.IsNaN(row[j]) || math.IsInf(row[j], 0) {
			row[j] = 0
		}
	}
	return row
}

// words are the chances of the words of all points that have some.
func (x *Bench) words(s *scene, k *circumstance) [][]float64 {
	all := make([][]float64, len(x.spots))
	for j := range x.spots {
		if p := &x.spots[j]; p.chance != nil {
			all[j] = p.chance(s, p.index, k)
		}
	}
	return all
}

// rateLimit is by how much the rate may be off besides, s/day, either way: the curve over
// the room, and ageing.
func (x *Bench) rateLimit(s *scene) float64 {
	p := s.c.Crystal.Solve()
	limit := (p.RateHigh - p.RateLow) / 2
	if !x.build.Crystal.Measured.Given() {
		limit -= s.c.Crystal.Tolerance * calc.SecondsADay
	}
	return max(0, orNothing(limit))
}

// truncate holds a way to those kits in which what the unknowns move together lies between
// two ends, in deviations.
func (w *way) truncate(by []float64, from, to float64) {
	off := norm(by)
	mean, deviation := truncated(from, to)
	for j := range w.mean {
		along := 0.0
		for l, row := range w.rows {
			along += row[j] * by[l] / off
		}
		w.mean[j] += mean * along
		for l, row := range w.rows {
			row[j] -= (1 - deviation) * along * by[l] / off
		}
	}
}

// beside has workers, one on each processor, do so many things: each takes the next by its
// number, until there is none.
func beside(things int, worker func(next func() (int, bool))) {
	var taken atomic.Int64
	next := func() (int, bool) {
		n := int(taken.Add(1)) - 1
		return n, n < things
	}
	var wait sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() { worker(next) })
	}
	wait.Wait()
}
