package bench

import "math"

// aFifth is by how much a trimmer is turned.
const aFifth = 0.2

// pastEnd is by how much a trimmer would be turned past its end, Ω, were it turned by a
// fifth towards more resistance.
func (s *scene) pastEnd(i int) float64 {
	h := &s.c.Hands[i]
	return h.InForce() + aFifth*h.Trimmer - h.Trimmer*(1+1e-9)
}

// turned is by how much a needle moves at three quarters of the top code when the trimmer
// is turned by a fifth.
func (s *scene) turned(i int) float64 {
	h := &s.c.Hands[i]
	if h.ByItsEnds {
		return 0
	}
	code := quarters(h.Top)
	before, was := s.needle(i, code), h.Setting
	by := aFifth * h.Trimmer
	if s.less[i] {
		by = -by
	}
	h.Setting = h.InForce() + by
	after := s.needle(i, code)
	h.Setting = was
	return after - before
}

// ends is how near each trimmer is to where its end comes first when it is turned: by how
// much it would be turned past it, Ω, and the square of what all unknowns make of that.
type ends struct{ past, square []float64 }

func newEnds(middle *scene) *ends {
	e := &ends{square: make([]float64, len(middle.c.Hands))}
	for i := range middle.c.Hands {
		e.past = append(e.past, middle.pastEnd(i))
	}
	return e
}

// add adds what one unknown makes of it.
func (e *ends) add(s *scene) {
	for i, past := range e.past {
		by := orNothing(s.pastEnd(i) - past)
		e.square[i] += by * by
	}
}

// turnsOf are the trimmers of a way that may as well have to be turned the other way.
func (x *Bench) turnsOf(middle *scene, e *ends) []turn {
	const rare = 0.003
	var all []turn
	for i, past := range e.past {
		j := x.spotOf(i, "turn_effect")
		if j < 0 || middle.c.Hands[i].ByItsEnds || math.IsInf(past, 0) || e.square[i] == 0 {
			continue
		}
		t := turn{spot: j, chance: below(-math.Abs(past) / math.Sqrt(e.square[i]))}
		if t.chance < rare {
			continue
		}
		middle.less[i] = !middle.less[i]
		t.mean = middle.turned(i)
		middle.less[i] = !middle.less[i]
		all = append(all, t)
	}
	return all
}

// turnAt is what a way has of a trimmer at a point that may as well be turned the other
// way, nil where nothing of the kind is there.
func (w *way) turnAt(spot int) *turn {
	for n := range w.turns {
		if w.turns[n].spot == spot {
			return &w.turns[n]
		}
	}
	return nil
}

// told is what a way makes of a number: of a trimmer that was turned the other way, what
// its own way would have shown in proportion. log is the logarithm of how likely the way
// is that was turned.
func (w *way) told(spot int, value float64) (as, log float64) {
	t := w.turnAt(spot)
	switch mean := w.mean[spot]; {
	case t == nil || t.mean == 0 || mean == 0:
		return value, 0
	case math.Abs(value-t.mean) < math.Abs(value-mean):
		return value * mean / t.mean, math.Log(t.chance)
	}
	return value, math.Log(1 - t.chance)
}
