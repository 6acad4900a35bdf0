package bench

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Bench is a build with all that may be wrong with it, worked out for every test point.
// Nothing changes it any more: readings are weighed against it.
type Bench struct {
	build    *model.Build
	spots    []spot
	unknowns []unknown
	all      []*candidate // the first is nothing
	sound    *way
	circuit  *circuit.Circuit
}

// A spot is a test point of a build.
type spot struct {
	*point
	id     string
	index  int // of its hand, lamp or button
	hand   int // whose it is, -1 of the clock
	stop   float64
	tapped int // the point that shows its friction, of a needle that is not tapped; else -1
}

// New works out a build without problems.
func New(b *model.Build) *Bench {
	x := &Bench{build: b, spots: spotsOf(b), unknowns: unknownsOf(b), circuit: new(circuit.Circuit)}
	circuit.Wire(b, x.circuit)
	x.all = candidatesOf(x.circuit)
	w := newWorld(b)
	for _, a := range x.all {
		a.ways = x.waysOf(w, a, nodesPlaced(a, x.circuit))
	}
	x.sound = x.all[0].ways[0]
	for _, w := range x.all[0].ways {
		if w.weight > x.sound.weight {
			x.sound = w
		}
	}
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
	x.dropTraceless()
	return x
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
	for l := range w.rows {
		w.rows[l] = pick(w.rows[l])
	}
	chance := make([][]float64, len(kept))
	for n, j := range kept {
		chance[n] = w.chance[j]
	}
	w.chance = chance
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
			for _, one := range x.regimes(w, a, u, n.width) {
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
	one = &way{weight: 1, setup: u, width: width, mean: x.read(middle)}
	for j := range one.mean {
		if len(a.causes) > 0 { // what a fault leaves without a value reads none
			one.mean[j] = orNothing(one.mean[j])
		}
	}
	one.chance = x.words(middle, a.circumstance())
	one.extra = x.rateLimit(middle)
	move := func(width float64, put func(*world, float64)) {
		put(w, width)
		s, n := w.scene(&u, &x.build.Meter)
		put(w, 0)
		one.rows, by = append(one.rows, x.moved(one, s)), append(by, orNothing(n-needed))
	}
	for _, k := range x.unknowns {
		move(k.width, k.put)
		if k.bent {
			x.straighten(one, w, u, k)
		}
	}
	if width > 0 {
		move(width, func(w *world, x float64) { w.amount = x })
	}
	switch {
	case u.has("magnet_near"):
		move(spread((mostSensitivity-leastSensitivity)/2), func(w *world, x float64) { w.sensitivity = 1 + x })
	case u.has("button_pull_missing"):
		move(spread(floatingMost/2), func(w *world, x float64) { w.floating = floatingMost/2 + x })
	}
	return one, needed, by
}

// moved is by how much a scene moves what all points read off the middle of a way: 0 where
// either reads none.
func (x *Bench) moved(one *way, s *scene) []float64 {
	row := x.read(s)
	for j := range row {
		if row[j] -= one.mean[j]; math.IsNaN(row[j]) || math.IsInf(row[j], 0) {
			row[j] = 0
		}
	}
	return row
}

// straighten puts the middle of what an unknown makes between both of its sides, and its
// last row as half of what lies between them.
func (x *Bench) straighten(one *way, w *world, u setup, k unknown) {
	k.put(w, -k.width)
	s, _ := w.scene(&u, &x.build.Meter)
	k.put(w, 0)
	row := one.rows[len(one.rows)-1]
	for j, v := range x.read(s) {
		down := v - one.mean[j]
		if math.IsNaN(down) || math.IsInf(down, 0) {
			continue
		}
		one.mean[j] += (row[j] + down) / 2
		row[j] = (row[j] - down) / 2
	}
}

// read is what all points read in a scene.
func (x *Bench) read(s *scene) []float64 {
	values := make([]float64, len(x.spots))
	for j := range x.spots {
		if p := &x.spots[j]; p.value != nil {
			values[j] = p.value(s, p.index)
		}
	}
	return values
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

// noise is the deviation of a reading of a point about what a way makes of it; digit is
// what the last digit of a reading means, NaN where that is the display's.
func (x *Bench) noise(w *way, j int, digit float64) float64 {
	if math.IsNaN(digit) {
		return w.noise[j]
	}
	return x.noiseOf(w, j, digit)
}

// noiseOf works that out.
func (x *Bench) noiseOf(w *way, j int, digit float64) float64 {
	p := &x.spots[j]
	stick := 0.0
	if p.tapped >= 0 {
		stick = math.Abs(w.mean[p.tapped])
	}
	limit := p.with.limit(&x.build.Meter, w.mean[j], digit, stick)
	if p.unit == quantity.SecondsPerDay {
		limit += w.extra
	}
	return spread(max(limit, 1e-12))
}
