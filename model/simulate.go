package model

import (
	"math"
	"slices"
)

const (
	samples = 64   // kits with all inputs anywhere, by which a band is doubted
	kits    = 1000 // by which a doubtful one is replaced
)

// doubtful are the results whose band may not hold what it should, by a few kits
// with all inputs anywhere between their ends: those of which the moves of
// the single inputs do not add up (held trimmer, jumps, bends), or add up to a
// mean far from the value.
func (s *spreader) doubtful() []int {
	places := places(len(s.inputs), samples)
	off := make([]float64, len(s.rows)) // sums of the squares
	for i := range samples {
		for k := range s.inputs {
			s.kit.set(k, places[k][i])
		}
		s.evaluate()
		for j, x := range s.values {
			sum := s.rows[j].Value
			for k := range s.inputs {
				sum += s.moves[k][j].at(places[k][i])
			}
			if s.apart(j, x) || s.apart(j, sum) {
				off[j] += (x - sum) * (x - sum)
			}
		}
	}
	var doubtful []int
	for j := range s.rows {
		mean, square := 0.0, 0.0
		for k := range s.inputs {
			m := s.moves[k][j]
			mean += (m.upper + m.lower) / 4
			half := (m.rise() + m.fall()) / 2
			square += half * half / 3
		}
		if !(math.Abs(mean) <= 0.2*math.Sqrt(square) && math.Sqrt(off[j]/samples) <= 0.15*math.Sqrt(square)) || square == 0 && s.bands[j].Moved() {
			doubtful = append(doubtful, j)
		}
	}
	return doubtful
}

// at is how far the result would move with the input at a place, -1 to 1, were it
// to move evenly.
func (m move) at(place float64) float64 {
	if place < 0 {
		return -place * m.lower
	}
	return place * m.upper
}

// simulate replaces the bands of doubtful results by the points of simulated
// kits, unless they hold as many as they should.
func (s *spreader) simulate(doubtful []int) {
	if len(doubtful) == 0 {
		return
	}
	run := assembly{kit: s.kit, whole: s.whole}
	for _, j := range doubtful {
		run.rows = append(run.rows, s.rows[j])
	}
	run.skip()
	places := places(len(s.inputs), kits)
	columns := make([][]float64, len(doubtful))
	values := make([]float64, len(doubtful))
	for i := range kits {
		for k := range s.inputs {
			s.kit.set(k, places[k][i])
		}
		run.solve(values)
		for n, x := range values {
			columns[n] = append(columns[n], x)
		}
	}
	for n, j := range doubtful {
		s.judge(j, columns[n], places)
	}
}

// skip leaves out what none of the rows needs.
func (a *assembly) skip() {
	a.skipSmooth = !slices.ContainsFunc(a.rows, func(r Row) bool { return r.OfHand() && r.Question == Smooth || r.ID == "hand.law_ripple_error" })
	a.skipSupply = !slices.ContainsFunc(a.rows, func(r Row) bool { return !r.OfHand() && !r.OfLamp() && r.list() != "crystal" || r.Positive })
}

// judge gives a result the band that simulated kits have, unless its own holds
// as many as it should.
func (s *spreader) judge(j int, values []float64, places [][]float64) {
	b := &s.bands[j]
	inside, sound := 0, make([]float64, 0, len(values))
	for _, x := range values {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		sound = append(sound, x)
		b.WorstLow, b.WorstHigh = min(b.WorstLow, x), max(b.WorstHigh, x)
		if b.Low <= x && x <= b.High || !s.apart(j, x) {
			inside++
		}
	}
	const fewest, most = 0.942, 0.972
	if share := float64(inside) / float64(len(sound)); fewest <= share && (share <= most || b.Low == b.High) {
		return
	}
	slices.Sort(sound)
	b.Simulated = true
	b.Low, b.High = min(point(sound, 0.025), s.rows[j].Value), max(point(sound, 0.975), s.rows[j].Value)
}

// point is the value below which a share of sorted values lies.
func point(sorted []float64, share float64) float64 {
	at := share * float64(len(sorted)-1)
	i := min(int(at), len(sorted)-2)
	return sorted[i] + (at-float64(i))*(sorted[i+1]-sorted[i])
}
