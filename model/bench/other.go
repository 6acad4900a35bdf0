package bench

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// otherLog is the logarithm of prior and likelihood of a fault that the table does not
// know: some of the readings are strays, which may be anything, and the others are
// together as in a sound clock.
func (k *look) otherLog() float64 {
	var logs []float64
	for _, w := range k.x.all[0].ways {
		logs = append(logs, math.Log(priorOther*w.weight)+k.strays(w))
	}
	return sumOfLogs(logs)
}

// How many readings a fault that the table does not know puts off: their share has the
// density of a Beta law with these two, so that one at least is likely.
const straysIn, straysOut = 1, 4

// stray is about how often a reading is one, by which it is decided which are.
const stray = 0.05

// strayFrom is from how many deviations on a number may be a stray.
const strayFrom = 4.5

// strays is the logarithm of the likelihood of the readings if those that fit a way of the
// sound clock least are strays.
func (k *look) strays(w *way) float64 {
	log, strays, all := 0.0, 0, 0
	var numbers []int
	for n := range k.taken {
		t := &k.taken[n]
		if t.Before {
			continue
		}
		all++
		chance, is := k.x.chance(w, t)
		switch anything := k.anything(t); {
		case !is && k.off(w, t) < strayFrom:
			numbers = append(numbers, n)
		case !is || chance < stray*anything:
			log, strays = log+math.Log(anything), strays+1
		default:
			log += math.Log(chance)
		}
	}
	off, fits := k.strayNumbers(w, numbers)
	strays += off
	a, _ := math.Lgamma(straysIn + float64(strays))
	b, _ := math.Lgamma(straysOut + float64(all-strays))
	c, _ := math.Lgamma(straysIn + straysOut + float64(all))
	d, _ := math.Lgamma(straysIn)
	e, _ := math.Lgamma(straysOut)
	f, _ := math.Lgamma(straysIn + straysOut)
	return log + fits + a + b - c - d - e + f
}

// strayNumbers says how many of some numbers are strays, and the logarithm of the
// likelihood of all.
func (k *look) strayNumbers(w *way, numbers []int) (strays int, log float64) {
	if len(numbers) == 0 {
		return 0, 0
	}
	s := seen{w: w, numbers: numbers}
	s.fit = k.newFit(&s)
	log = s.told
	logDet := s.logDet
	left := len(numbers)
	gone := make([]bool, left)
	for range numbers {
		most, worst := 0.0, -1
		for a, n := range numbers {
			if gone[a] {
				continue
			}
			precision := s.inverse.At(a, a)
			square := s.residual[a] * s.residual[a] / precision
			if square < strayFrom*strayFrom {
				continue
			}
			fits := -square/2 + math.Log(precision/fullTurn)/2
			if by := math.Log(stray*k.anything(&k.taken[n])) - fits; by > most {
				most, worst = by, a
			}
		}
		if worst < 0 {
			break
		}
		log += math.Log(k.anything(&k.taken[numbers[worst]]))
		logDet += math.Log(s.inverse.At(worst, worst)) // of those that are left
		s.drop(worst)
		gone[worst], left, strays = true, left-1, strays+1
	}
	return strays, log - (s.square()+logDet+float64(left)*math.Log(fullTurn))/2
}

// drop takes a number out of those that are weighed together: nothing is known of it then.
func (s *seen) drop(b int) {
	n := len(s.residual)
	s.residual = s.without(b)
	own := s.inverse.At(b, b)
	column := mat.NewVecDense(n, nil)
	for a := range n {
		column.SetVec(a, s.inverse.At(a, b))
	}
	s.inverse.SymRankOne(s.inverse, -1/own, column)
}

// anything is how likely a reading is where nothing is known of it.
func (k *look) anything(t *Taken) float64 {
	p := &k.x.spots[t.spot]
	const ends = 0.1 // none, over and below, together
	switch {
	case t.kind == word:
		return 1 / float64(len(p.words))
	case p.with == levels:
		return 1.0 / 3
	case t.kind != number:
		return ends / 2
	}
	value := math.Abs(t.Value)
	switch p.with {
	case eye, untapped:
		return (1 - ends) / 1.2
	case moving, tapping:
		return (1 - ends) / 0.6
	case volts:
		return (1 - ends) / (1.2 * max(k.x.build.Rail.Voltage.Number, 1))
	case flashes:
		return (1 - ends) / 3
	case days:
		return (1 - ends) / 2000
	}
	const decades = 5
	least := p.with.nothing()
	return (1 - ends) / (max(value, least, 1e-9) * math.Ln10 * decades)
}
