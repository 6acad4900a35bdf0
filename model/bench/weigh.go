package bench

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// A look is the readings that are weighed, and what each way makes of them.
type look struct {
	x     *Bench
	taken []Taken
	fits  map[uint64]fit

	hopeless float64 // how far numbers may be off, as a logarithm, for a way to be worked out
}

func newLook(x *Bench, taken []Taken) *look {
	return &look{x: x, taken: taken, fits: map[uint64]fit{}, hopeless: math.Inf(1)}
}

// A seen way is how well it explains the readings.
type seen struct {
	a       *candidate
	w       *way
	log     float64 // of its prior and of the readings' likelihood
	numbers []int   // of the readings, that are weighed together
	fit
}

// A fit is how well numbers that are weighed together agree with a way.
type fit struct {
	told     float64 // logarithm of how likely trimmers were turned the way they were
	inverse  *mat.SymDense
	logDet   float64   // of their covariance
	miss     []float64 // reading less mean
	residual []float64 // the same, times the inverse
}

const (
	unfit    = 1e-4 // of a reading that does not fit at all, where no density can be told: a slip of the pen
	tiny     = 1e-300
	fullTurn = 2 * math.Pi
)

// weighWay weighs all readings against one way.
func (k *look) weighWay(a *candidate, w *way) seen {
	s := seen{a: a, w: w, log: math.Log(a.prior*w.weight + tiny)}
	for n := range k.taken {
		t := &k.taken[n]
		if t.Before {
			continue
		}
		if chance, is := k.x.chance(w, t); is {
			s.log += math.Log(chance)
			continue
		}
		s.numbers = append(s.numbers, n)
	}
	if far := k.far(&s); far > k.hopeless {
		s.log -= far
		s.numbers = nil
		return s
	}
	k.weighNumbers(&s)
	return s
}

// margin is by how much the logarithm of a likelihood is less than that of what explains
// the readings better, so that nobody need work it out: its own spread, which is not known
// yet, among it.
const margin = 25

// most is the logarithm of the likelihood of numbers that fit a way as well as can be.
func (s *seen) most() float64 {
	return -(s.logDet + float64(len(s.numbers))*math.Log(fullTurn)) / 2
}

// far is the least by which the readings together are off, as a logarithm: what the one
// that is second furthest is off by itself. The furthest may have slipped.
func (k *look) far(s *seen) float64 {
	first, second := 0.0, 0.0
	for _, n := range s.numbers {
		t := &k.taken[n]
		value, _ := s.w.told(t.spot, t.Value)
		off := (value - s.w.mean[t.spot]) / k.x.deviation(s.w, t)
		switch off *= off; {
		case off > first:
			first, second = off, first
		case off > second:
			second = off
		}
	}
	return second / 2
}

// chance is how likely a way makes a reading that is no number there: a word, a level, one
// beyond an end. is is false of a number, which has a density.
func (x *Bench) chance(w *way, t *Taken) (chance float64, is bool) {
	switch {
	case t.kind == word:
		return w.chance[t.spot][t.word], true
	case x.spots[t.spot].with == levels:
		return x.levelChance(w, t.spot, t.Value), true
	case t.kind != number || math.IsInf(w.mean[t.spot], 0):
		return x.endChance(w, t), true
	}
	return 0, false
}

// deviation is that of a number at a point: of the kits of a way, and of reading it.
func (x *Bench) deviation(w *way, t *Taken) float64 {
	return math.Hypot(w.spread[t.spot], x.noise(w, t.spot, t.digit))
}

// endChance is the chance of a reading that is no number, or of a number where a way
// has none.
func (x *Bench) endChance(w *way, t *Taken) float64 {
	p, mean := &x.spots[t.spot], w.mean[t.spot]
	if math.IsInf(mean, 1) {
		if t.kind == over {
			return 1
		}
		return unfit
	}
	off := math.Hypot(w.spread[t.spot], x.noise(w, t.spot, math.NaN()))
	const edge = 0.0005 // of the scale, as near as a needle is told from its stop: one that rests on it is not beyond it
	at, past := math.Hypot(w.spread[t.spot], edge), 3*edge
	switch {
	case t.kind == nothing:
		limit := p.with.nothing()
		return max(unfit, below((limit-mean)/off)-below((-limit-mean)/off))
	case t.kind == over && p.isPlace():
		return max(unfit, below((mean-(1+p.stop)-past)/at))
	case t.kind == under && p.isPlace():
		return max(unfit, below((-p.stop-mean-past)/at))
	case t.kind == over && mean > 40e6:
		return 1
	}
	return unfit
}

// levelChance is the chance of what an AC range says, by the contract's levels.
func (x *Bench) levelChance(w *way, j int, value float64) float64 {
	plan := max(x.sound.mean[j], leastLevel)
	low, high := math.Log(plan/4), math.Log(plan*4)
	const unsure = 0.3 // of the logarithm of a cheap AC range
	mean := math.Log(max(w.mean[j], leastLevel))
	switch v := math.Log(max(value, leastLevel)); {
	case v < low:
		return max(hardly, below((low-mean)/unsure))
	case v > high:
		return max(hardly, below((mean-high)/unsure))
	}
	return max(hardly, below((high-mean)/unsure)-below((low-mean)/unsure))
}

// weighNumbers weighs the numbers together: what parts and trimming make common to
// several of them is not counted twice.
func (k *look) weighNumbers(s *seen) {
	if len(s.numbers) == 0 {
		return
	}
	s.fit = k.fitOf(s)
	s.log += s.told - (s.square()+s.logDet+float64(len(s.numbers))*math.Log(fullTurn))/2
	s.log += k.slips(s)
}

// square is the square of how far the numbers are off together, in deviations.
func (f *fit) square() float64 {
	sum := 0.0
	for a := range f.miss {
		sum += f.miss[a] * f.residual[a]
	}
	return sum
}

// fitOf is the fit of a way. Many ways read the same at the points that were read: each
// such fit is worked out once.
func (k *look) fitOf(s *seen) fit {
	key := k.key(s)
	f, known := k.fits[key]
	if !known {
		f = k.newFit(s)
		k.fits[key] = f
	}
	return f
}

// key tells the fits of ways apart by all that they are made of.
func (k *look) key(s *seen) uint64 {
	const offset, prime = 14695981039346656037, 1099511628211 // of FNV-1a
	key := uint64(offset)
	add := func(x uint64) { key = (key ^ x) * prime; key ^= key >> 32 }
	for _, n := range s.numbers {
		t := &k.taken[n]
		add(uint64(n))
		add(math.Float64bits(s.w.mean[t.spot]))
		add(math.Float64bits(k.x.noise(s.w, t.spot, t.digit)))
		if turn := s.w.turnAt(t.spot); turn != nil {
			add(math.Float64bits(turn.mean))
			add(math.Float64bits(turn.chance))
		}
		for l, row := range s.w.rows {
			if v := row[t.spot]; v != 0 {
				add(uint64(l))
				add(math.Float64bits(v))
			}
		}
	}
	return key
}

// newFit works out by how much each number is off, and what the others say of each.
func (k *look) newFit(s *seen) (f fit) {
	n := len(s.numbers)
	rows := mat.NewDense(n, max(len(s.w.rows), 1), nil)
	cov := mat.NewSymDense(n, nil)
	f.miss, f.residual = make([]float64, n), make([]float64, n)
	for a, m := range s.numbers {
		t := &k.taken[m]
		value, log := s.w.told(t.spot, t.Value)
		f.miss[a], f.told = orNothing(value-s.w.mean[t.spot]), f.told+log
		for l, row := range s.w.rows {
			rows.Set(a, l, row[t.spot])
		}
	}
	cov.SymOuterK(1, rows)
	for a, m := range s.numbers {
		noise := k.x.noise(s.w, k.taken[m].spot, k.taken[m].digit)
		cov.SetSym(a, a, cov.At(a, a)+noise*noise)
	}
	f.inverse, f.logDet = invert(cov)
	residual := mat.NewVecDense(n, f.residual)
	residual.MulVec(f.inverse, mat.NewVecDense(n, f.miss))
	return f
}

// beyond is by how much less likely a way is because the readings, with such residuals, ask
// more of an unknown than its limits allow: they are rectangular, and the normal law has
// none.
func (k *look) beyond(s *seen, residual []float64) float64 {
	const ends, unsure = 1.732, 0.6 // deviations: the limits of an even spread, and how well the readings tell
	sum := 0.0
	for _, row := range s.w.rows {
		at := 0.0
		for a, n := range s.numbers {
			at += row[k.taken[n].spot] * residual[a]
		}
		if past := math.Abs(at) - ends; past > 0 {
			sum += past * past / (2 * unsure * unsure)
		}
	}
	return sum
}

// without are the residuals were a reading not there.
func (s *seen) without(b int) []float64 {
	residual := make([]float64, len(s.residual))
	by := s.residual[b] / s.inverse.At(b, b)
	for a := range residual {
		if a != b {
			residual[a] = s.residual[a] - s.inverse.At(a, b)*by
		}
	}
	return residual
}

// slips is what the chance of a slip of the pen adds, as a logarithm: one of the readings
// is a decade, a sign or a neighbouring point off, and the others fit.
func (k *look) slips(s *seen) float64 {
	most := -k.beyond(s, s.residual)
	logs := []float64{most}
	for a, n := range s.numbers {
		t := &k.taken[n]
		variance := 1 / s.inverse.At(a, a)
		off := s.residual[a] * variance
		if off*off < slipFrom*slipFrom*variance {
			continue
		}
		mean := s.w.mean[t.spot] + s.miss[a] - off
		fits := -off*off/(2*variance) - math.Log(fullTurn*variance)/2
		log := math.Log(priorSlip*k.slip(s.w, t, mean, variance)+tiny) - fits
		if log < most-negligible {
			continue
		}
		log -= k.beyond(s, s.without(a))
		logs, most = append(logs, log), max(most, log)
	}
	return sumOfLogs(logs)
}

// slipFrom is from how many deviations on a number may have slipped: what is nearer to what
// the others say fits as it is.
const slipFrom = 2.5

// negligible is by how much a logarithm is less than another so that it does not count.
const negligible = 30

// slip is the density of a reading that slipped, where the true one would be about a mean.
func (k *look) slip(w *way, t *Taken, mean, variance float64) float64 {
	decade := (gauss(t.Value, 10*mean, 100*variance) + gauss(t.Value, mean/10, variance/100)) / 2
	sign := gauss(t.Value, -mean, variance)
	return (decade + sign + k.neighbours(w, t)) / 3
}

// neighbours is the density of a reading that belongs to a neighbouring point: mostly one
// of the two next to it in the list that are written alike, now and then any.
func (k *look) neighbours(w *way, t *Taken) float64 {
	const next = 0.8 // that it is one of the two
	all, before, after := tally{}, tally{}, tally{}
	class := k.x.spots[t.spot].with.written()
	for j := range k.x.spots {
		p := &k.x.spots[j]
		if j == t.spot || p.with.written() != class || p.words != nil || math.IsInf(w.mean[j], 0) {
			continue
		}
		off := math.Hypot(w.spread[j], w.noise[j])
		density := gauss(t.Value, w.mean[j], off*off)
		all.add(density)
		switch {
		case j < t.spot:
			before = tally{density, 1}
		case after.n == 0:
			after.add(density)
		}
	}
	before.sum, before.n = before.sum+after.sum, before.n+after.n
	return next*before.mean() + (1-next)*all.mean()
}

// A tally adds numbers up for their mean.
type tally struct {
	sum float64
	n   int
}

func (t *tally) add(x float64) { t.sum, t.n = t.sum+x, t.n+1 }

// mean is 0 of nothing.
func (t *tally) mean() float64 { return t.sum / float64(max(t.n, 1)) }

func gauss(x, mean, variance float64) float64 {
	return math.Exp(-(x-mean)*(x-mean)/(2*variance)) / math.Sqrt(fullTurn*variance)
}

// invert returns the inverse of a covariance and the logarithm of its determinant.
func invert(m *mat.SymDense) (inverse *mat.SymDense, logDet float64) {
	var c mat.Cholesky
	if !isKnown(m) { // or nothing would ever make it positive
		m = nothingTold(m.SymmetricDim())
	}
	for more := 1e-12; !c.Factorize(m); more *= 100 { // rounding has left it no longer positive
		for i := range m.SymmetricDim() {
			m.SetSym(i, i, m.At(i, i)*(1+more))
		}
	}
	inverse = mat.NewSymDense(m.SymmetricDim(), nil)
	if err := c.InverseTo(inverse); err != nil { // it says that it is ill conditioned, and is right enough
		return inverse, c.LogDet()
	}
	return inverse, c.LogDet()
}

// isKnown says whether every number of a covariance is one, and those on its diagonal are
// above 0.
func isKnown(m *mat.SymDense) bool {
	for i := range m.SymmetricDim() {
		for j := range i + 1 {
			if v := m.At(i, j); math.IsNaN(v) || math.IsInf(v, 0) || i == j && v <= 0 {
				return false
			}
		}
	}
	return true
}

// nothingTold is a covariance so wide that readings tell nothing by it.
func nothingTold(n int) *mat.SymDense {
	const wide = 1e30
	m := mat.NewSymDense(n, nil)
	for i := range n {
		m.SetSym(i, i, wide)
	}
	return m
}
