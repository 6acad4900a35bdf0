package spread

import (
	"math"
	"slices"
)

// A result's own band is doubted by few kits, and held or replaced by many.
const (
	fewKits  = 64
	manyKits = 1000
)

// doubtful are the results whose band may not hold what it should: those of which
// the moves of the single inputs do not add up (a trimmer held, a jump, a bend), by
// a few kits with all inputs anywhere between their ends, or go one way; and those
// whose band goes further than any kit.
func (s *spreader) doubtful() []int {
	const off = 0.04 // of the deviation; found by trying: with it no band of 135 builds held less than 92 %
	squares := make([]float64, len(s.rows))
	places := places(len(s.inputs), fewKits)
	for i := range fewKits {
		s.put(places, i)
		s.evaluate()
		for j, x := range s.values {
			if d := x - s.rows[j].Value - s.sum(j, places, i); s.apart(j, s.rows[j].Value+d) {
				squares[j] += d * d
			}
		}
	}
	s.reset()
	var doubtful []int
	for j := range s.rows {
		deviation := s.deviation(j)
		only := deviation == 0 && s.bands[j].Moved() // by several inputs together
		if only || s.saturates(j) || s.bands[j].beyondWorst() || math.Sqrt(squares[j]/fewKits) > off*deviation || s.lopsided(j) {
			doubtful = append(doubtful, j)
		}
	}
	return doubtful
}

// saturates says whether a result is full scale reached by a trimmer that is held at an
// end in some kits within the band and not in others.
func (s *spreader) saturates(j int) bool {
	row, b := s.rows[j], &s.bands[j]
	if row.ID != "hand.full_scale_reached" || !b.Moved() {
		return false
	}
	return math.IsNaN(s.whole.Circuit.Hands[row.Index].Setting) && b.Low <= 1+row.Hair() && b.High >= 1-row.Hair()
}

// beyondWorst says whether a band goes where no kit does: the result saturates.
func (b *Band) beyondWorst() bool {
	hair := 1e-3 * (b.High - b.Low)
	return b.Low < b.WorstLow-hair || b.High > b.WorstHigh+hair
}

// put makes the i-th of kits of given places.
func (s *spreader) put(places [][]float64, i int) {
	for k := range s.inputs {
		s.kit.set(k, places[k][i])
	}
}

func (s *spreader) reset() {
	for k := range s.inputs {
		s.kit.reset(k)
	}
}

// sum is how far the i-th of kits would move a result did each input do so by
// itself, on the parabola through its value and its ends.
func (s *spreader) sum(j int, places [][]float64, i int) float64 {
	sum := 0.0
	for _, k := range s.movers[j] {
		m, at := s.moves[k][j], places[k][i]
		sum += at * ((m.upper-m.lower)/2 + at*(m.upper+m.lower)/2)
	}
	return sum
}

// deviation is the standard deviation that the inputs give a result, each by itself.
func (s *spreader) deviation(j int) float64 {
	square := 0.0
	for _, k := range s.movers[j] {
		half := (s.moves[k][j].rise() + s.moves[k][j].fall()) / 2
		square += half * half / 3
	}
	return math.Sqrt(square)
}

// lopsided says whether inputs move a result more one way than the other: several
// together its mean, or one by more than twice as much, 1.6 times where it makes
// nearly all of the spread: then a bend at its very end is not hidden by the others.
func (s *spreader) lopsided(j int) bool {
	const off, little = 0.05, 0.02 // of the deviation, of the spread; found by trying, as in doubtful
	mean, most := 0.0, 2.0
	if s.sums[j].Concentration() > 0.95 {
		most = 1.6
	}
	for _, k := range s.movers[j] {
		m := s.moves[k][j]
		mean += (m.upper + m.lower) / 4
		rise, fall := m.rise(), m.fall()
		if max(rise, fall) > most*min(rise, fall) && s.sums[j].Share(rise, fall) > little {
			return true
		}
	}
	// Where one input makes it all, its ends alone count.
	return math.Abs(mean)*(1-s.sums[j].Concentration()) > off*s.deviation(j)
}

// simulate judges the bands of doubtful results by many kits, and replaces those
// that do not hold what they should by the points between which 95 % of the kits lie.
func (s *spreader) simulate(doubtful []int) {
	if len(doubtful) == 0 {
		return
	}
	rows := make([]Row, len(doubtful))
	for n, j := range doubtful {
		rows[n] = s.rows[j]
	}
	a := assembly{kit: s.kit, whole: s.whole}
	a.only(rows)
	places := places(len(s.inputs), manyKits)
	all, values := make([]float64, manyKits*len(rows)), make([]float64, len(rows))
	for i := range manyKits {
		s.put(places, i)
		a.solve(values)
		for n, x := range values {
			all[n*manyKits+i] = x
		}
	}
	for n, j := range doubtful {
		s.judge(j, all[n*manyKits:(n+1)*manyKits], places)
	}
}

// judge holds the band of a result against simulated values of it.
func (s *spreader) judge(j int, values []float64, places [][]float64) {
	const fewest, most = 0.945, 0.965 // shares that a sound band may hold of so many kits
	b := &s.bands[j]
	inside, sound := 0, make([]float64, 0, len(values))
	for _, x := range values {
		if math.IsNaN(x) {
			continue
		}
		sound = append(sound, x)
		if s.apart(j, x) {
			b.WorstLow, b.WorstHigh = min(b.WorstLow, x), max(b.WorstHigh, x)
		}
		if b.Low <= x && x <= b.High || !s.apart(j, x) {
			inside++
		}
	}
	if len(sound) < fewKits { // hardly a kit has the result
		return
	}
	share := float64(inside) / float64(len(sound))
	holds := b.Low < b.High && !s.saturates(j) && !b.beyondWorst() && fewest <= share && share <= most
	if holds || !b.Moved() {
		return
	}
	slices.Sort(sound)
	b.Simulated = true
	tail := 0.025 - math.Sqrt(0.025*0.975/float64(len(sound))) // by a standard error, so that few kits do not make it narrow
	b.Low, b.High = min(percentile(sound, tail), s.rows[j].Value), max(percentile(sound, 1-tail), s.rows[j].Value)
	if b.Low < b.High {
		b.Shares = s.sharesOf(j, values, places)
	}
}

// sharesOf are the inputs' shares in the spread of simulated values within the
// band: how much the mean of the kits with an input in one tenth of its tolerance
// varies from tenth to tenth. Looked at are those that move the result by
// themselves, where there are any; left out, those that do so no more than by chance.
func (s *spreader) sharesOf(j int, values []float64, places [][]float64) []Share {
	b := &s.bands[j]
	clipped := make([]float64, len(values))
	mean := 0.0
	for i, x := range values {
		if clipped[i] = min(max(x, b.Low), b.High); math.IsNaN(x) {
			clipped[i] = s.rows[j].Value
		}
		mean += clipped[i] / float64(len(values))
	}
	spread := 0.0
	for _, x := range clipped {
		spread += (x - mean) * (x - mean)
	}
	if spread == 0 { // all kits alike, and other than the build
		return b.Shares
	}
	looked := s.movers[j]
	if len(looked) == 0 {
		looked = s.all
	}
	var shares []Share
	for _, k := range looked {
		shares = append(shares, Share{s.inputs[k], squaresBetween(clipped, mean, places[k]) / spread})
	}
	largestFirst(shares)
	return beyondChance(shares)
}

// beyondChance are the shares, of which the largest stands first, that are more than
// chance makes of so many kits, without what it makes; they sum up to 1.
func beyondChance(shares []Share) []Share {
	const chance = 4 * float64(tenths-1) / manyKits
	n := 1
	for n < len(shares) && shares[n].Share > chance {
		n++
	}
	if shares = shares[:n]; n == 1 {
		shares[0].Share = 1
		return shares
	}
	whole := 0.0
	for i := range shares {
		shares[i].Share = max(shares[i].Share-chance/4, 0)
		whole += shares[i].Share
	}
	for i := range shares {
		shares[i].Share /= whole
	}
	return shares
}

// tenths of a tolerance, in which kits are put together.
const tenths = 10

// squaresBetween is the sum of squares between the tenths of an input's tolerance, given
// its places.
func squaresBetween(values []float64, mean float64, places []float64) float64 {
	var sums, counts [tenths]float64
	for i, x := range values {
		n := min(int((places[i]+1)/2*tenths), tenths-1)
		sums[n], counts[n] = sums[n]+x-mean, counts[n]+1
	}
	squares := 0.0
	for n, sum := range sums {
		squares += sum * sum / counts[n] // each tenth has its kits: see places
	}
	return squares
}
