package whatif

import (
	"cmp"
	"math"
	"runtime"
	"slices"
	"sync"

	"example.com/needlewright/model/circuit"
)

// A search is a range of values as far as it is known.
type search struct {
	*probe
	known []place // rising
}

// look looks at more values, on all processors.
func (s *search) look(values []float64) {
	fresh := make([]place, len(values))
	workers := runtime.GOMAXPROCS(0)
	var wait sync.WaitGroup
	for w := range workers {
		wait.Go(func() {
			p := newProbe(s.Question)
			for n := w; n < len(values); n += workers {
				fresh[n] = place{values[n], p.at(values[n])}
			}
		})
	}
	wait.Wait()
	s.add(fresh)
}

// add adds places that were looked at.
func (s *search) add(fresh []place) {
	s.known = append(s.known, fresh...)
	slices.SortFunc(s.known, func(a, b place) int { return cmp.Compare(a.Value, b.Value) })
	s.known = slices.CompactFunc(s.known, func(a, b place) bool { return a.Value == b.Value })
}

// hits says whether a result is what is wanted, but for rounding.
func (s *search) hits(y float64) bool {
	const rounding = 1e-12
	off := math.Abs(y - s.Want)
	return off <= rounding*math.Abs(s.Want) || off <= (circuit.Outcome{Result: s.Result}).Hair() || s.isWhole() && off <= s.Within
}

// exists says whether there is a result.
func exists(y float64) bool { return !math.IsNaN(y) }

// between is the value amid two others, by their digits; ok is false where there is none.
func (s *search) between(a, b float64) (mid float64, ok bool) {
	switch {
	case s.isWhole():
		mid = math.Floor((a + b) / 2)
	case a < 0 && b > 0:
		mid = 0
	case a < 0:
		mid = -math.Float64frombits(math.Float64bits(-b)/2 + math.Float64bits(-a)/2)
	default:
		mid = math.Float64frombits(math.Float64bits(a)/2 + math.Float64bits(b)/2)
	}
	return mid, a < mid && mid < b
}

// halve closes in on where a condition that holds of one place and not of the other begins.
func (s *search) halve(a, b place, holds func(y float64) bool) (place, place) {
	first := holds(a.Result)
	for {
		x, ok := s.between(min(a.Value, b.Value), max(a.Value, b.Value))
		if !ok {
			return a, b
		}
		if mid := (place{x, s.at(x)}); holds(mid.Result) == first {
			a = mid
		} else {
			b = mid
		}
	}
}

// How closely the range is looked at where the result comes near: rounds of halving, and how
// many places are known then at most.
const rounds, mostKnown = 5, 30_000

// closer looks more closely: at where results begin to exist, where they come near what is
// wanted, and where they turn.
func (s *search) closer() {
	var ends []place
	for i := range s.known[1:] {
		if a, b := s.known[i], s.known[i+1]; exists(a.Result) != exists(b.Result) {
			a, b = s.halve(a, b, exists)
			ends = append(ends, a, b)
		}
	}
	s.add(ends)
	for range rounds {
		var more []float64
		for i := range s.known[1:] {
			if s.isNear(i) {
				if x, ok := s.between(s.known[i].Value, s.known[i+1].Value); ok {
					more = append(more, x)
				}
			}
		}
		if len(s.known)+len(more) > mostKnown {
			break
		}
		s.look(more)
	}
	s.add(s.turned())
}

// mostTurns is how many turns of the result are looked at, those first at which it comes
// nearest: what has more of them is noise.
const mostTurns = 100

// turned are places about where the result turns before it is what is wanted.
func (s *search) turned() []place {
	var at []int
	for i := range s.known {
		if s.turns(i) {
			at = append(at, i)
		}
	}
	slices.SortStableFunc(at, func(i, k int) int {
		return cmp.Compare(math.Abs(s.known[i].Result-s.Want), math.Abs(s.known[k].Result-s.Want))
	})
	var all []place
	for _, i := range at[:min(len(at), mostTurns)] {
		all = append(all, s.turn(s.known[i-1].Value, s.known[i+1].Value)...)
	}
	return all
}

// isNear says whether the result may be what is wanted between a place and the next: it is
// as near as it moves from place to place there.
func (s *search) isNear(i int) bool {
	a, b := s.known[i].Result, s.known[i+1].Result
	moves := math.Abs(b - a)
	if i > 0 {
		moves = max(moves, orNone(a-s.known[i-1].Result))
	}
	if i+2 < len(s.known) {
		moves = max(moves, orNone(s.known[i+2].Result-b))
	}
	const none = 1e-9
	return moves > none*math.Abs(s.Want) && min(a, b)-moves <= s.Want && s.Want <= max(a, b)+moves // not of NaN
}

// orNone is how far a result moves, 0 where it does not exist.
func orNone(by float64) float64 {
	if math.IsNaN(by) {
		return 0
	}
	return math.Abs(by)
}

// turns says whether the result comes nearer to what is wanted at a place than beside it,
// without passing it, and may come so near between these.
func (s *search) turns(i int) bool {
	if i == 0 || i+1 == len(s.known) {
		return false
	}
	a, b, c := s.known[i-1].Result-s.Want, s.known[i].Result-s.Want, s.known[i+1].Result-s.Want
	if !(a*b > 0 && b*c > 0) {
		return false
	}
	a, b, c = math.Abs(a), math.Abs(b), math.Abs(c)
	const none = 1e-9
	moves := max(a, c) - b
	return b <= a && b <= c && moves > none*math.Abs(s.Want) && b < 2*moves
}

// turn are the places where the result comes nearest to what is wanted between two values, by
// golden sections.
func (s *search) turn(from, to float64) []place {
	if s.isWhole() && to-from <= 2 {
		return nil
	}
	const golden, steps = 0.6180339887498949, 70
	var all []place
	off := func(x float64) float64 {
		if s.isWhole() {
			x = math.Round(x)
		}
		y := s.at(x)
		all = append(all, place{x, y})
		if math.IsNaN(y) {
			return math.Inf(1)
		}
		return math.Abs(y - s.Want)
	}
	a, b := to-golden*(to-from), from+golden*(to-from)
	offA, offB := off(a), off(b)
	for range steps {
		if offA <= offB {
			to, b, offB = b, a, offA
			a = to - golden*(to-from)
			offA = off(a)
		} else {
			from, a, offA = a, b, offB
			b = from + golden*(to-from)
			offB = off(b)
		}
		if !(from < a && a < b && b < to) {
			break
		}
	}
	return all
}
