package calc

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// A shape is a family of laws from 0, 0 to 1, 1, strictly rising for every bend in
// its range.
type shape struct {
	from, to float64 // the bends
	at       func(bend, current float64) float64
}

// shapes are those that scales may have, the straight one first. Common practice, no
// source: a sag, a square as of moving iron and thermocouples, sines as of a coil in a
// straight field, each crowded at the left or at the right end; an S, flat, steep or
// neither at both ends; growth by the same factor.
var shapes = [...]shape{
	{at: func(_, x float64) float64 { return x }},
	{-0.99, 0.99, func(bend, x float64) float64 { return x - bend*x*(1-x) }},
	{-0.5, 1, func(bend, x float64) float64 { return x - bend*x*(1-x)*(1-2*x) }},
	{0.25, 4, power},
	{0.25, 4, func(bend, x float64) float64 { return 1 - power(bend, 1-x) }},
	{0.5, 3, sine},
	{0.5, 3, func(bend, x float64) float64 { return 1 - sine(bend, 1-x) }},
	{0.4, 2.5, odds},
	{0.5, 3.5, func(bend, x float64) float64 { return mathext.RegIncBeta(bend, bend, x) }},
	{-15, 15, logistic},
	{-0.99, 0.99, func(bend, x float64) float64 { return x - bend*math.Sin(2*math.Pi*x)/(2*math.Pi) }},
	{-8, 8, growth},
}

func power(bend, x float64) float64 { return math.Pow(x, bend) }

func sine(bend, x float64) float64 { return math.Pow(math.Sin(math.Pi/2*x), bend) }

// odds bends the logarithm of x : (1-x), so that both ends are flat, or steep.
func odds(bend, x float64) float64 { return 1 / (1 + math.Pow((1-x)/x, bend)) }

// logistic is the middle of an S that goes on beyond both ends; below 0 its inverse.
func logistic(bend, x float64) float64 {
	const straight = 1e-3
	k := math.Abs(bend)
	switch {
	case k < straight:
		return x
	case bend < 0:
		return 0.5 + 2/k*math.Atanh((2*x-1)*math.Tanh(k/4))
	}
	return 0.5 + math.Tanh(k/2*(x-0.5))/(2*math.Tanh(k/4))
}

// growth rises by the same factor in every part of the way.
func growth(bend, x float64) float64 {
	const straight = 1e-6
	if math.Abs(bend) < straight {
		return x
	}
	return math.Expm1(bend*x) / math.Expm1(bend)
}

// through returns the bend with which a shape comes nearest to points, by least
// squares: the best of some, then the golden section.
func (s *shape) through(points []Point) float64 {
	const some, golden, enough = 20, 0.3819660112501051, 1e-6
	off := func(bend float64) float64 { return s.off(bend, points) }
	width, best, least := (s.to-s.from)/some, s.from, math.Inf(1)
	for i := range some + 1 {
		if bend := s.from + float64(i)*width; off(bend) < least {
			best, least = bend, off(bend)
		}
	}
	low, high := max(s.from, best-width), min(s.to, best+width)
	a, b := low+golden*(high-low), high-golden*(high-low)
	offA, offB := off(a), off(b)
	for high-low > enough {
		if offA < offB {
			high, b, offB = b, a, offA
			a = low + golden*(high-low)
			offA = off(a)
		} else {
			low, a, offA = a, b, offB
			b = high - golden*(high-low)
			offB = off(b)
		}
	}
	return (low + high) / 2
}

// off is the sum of the squares by which points are off a shape.
func (s *shape) off(bend float64, points []Point) float64 {
	sum := 0.0
	for _, p := range points {
		e := s.at(bend, p.Current) - p.Scale
		sum += e * e
	}
	return sum
}

// inverse returns the share of current at which a shape is at a share of the scale.
func (s *shape) inverse(bend, scale float64) float64 {
	low, high := 0.0, 1.0
	for low < high {
		middle := (low + high) / 2
		if middle == low || middle == high {
			break
		}
		if s.at(bend, middle) < scale {
			low = middle
		} else {
			high = middle
		}
	}
	return high
}
