package whatif

import (
	"math"
	"strconv"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A Question asks which value of one input of a build makes a result so much.
type Question struct {
	Doc         *model.Document // without problems
	Result      *circuit.Result
	ResultIndex int // of its hand or lamp
	Want        float64
	Within      float64 // as far as the digits in which it was asked for tell; of counts alone
	Field       *model.Field
	FieldIndex  int
}

// An Answer is all values of an input that make a result what was asked for.
type Answer struct {
	*Question
	Solutions []Solution  // rising
	Passes    [][2]Choice // where the result jumps past it, from one value to the next
	Nearest   *Choice     // as near as it comes, or the solution next to what is; nil: there is no such result
	Same      bool        // the input does not move the result
}

// A Solution is a value that does it, or all from one to another.
type Solution struct {
	From, To float64
	Choices  []Choice // values that are to be had: next below, within, next above
}

// A place is a value of the input with the result there.
type place = Choice

// Reach returns every value of an input, within what is allowed, that makes a result what is
// wanted. What makes a problem of the build, or leaves it without the result, is none. It
// looks at the whole range, more closely where the result comes near what is wanted, and
// closes in on each crossing by halves.
func Reach(q *Question) *Answer {
	s := &search{probe: newProbe(q)}
	s.look(q.places())
	s.closer()
	a := &Answer{Question: q}
	s.solve(a)
	for i := range a.Solutions {
		s.choose(&a.Solutions[i])
	}
	s.nearest(a)
	return a
}

// solve collects the solutions.
func (s *search) solve(a *Answer) {
	for i := 0; i < len(s.known); i++ {
		here := s.known[i]
		if s.hits(here.Result) {
			last := i
			for last+1 < len(s.known) && s.hits(s.known[last+1].Result) {
				last++
			}
			a.add(s.solution(s.end(i, -1), s.end(last, 1)))
			i = last
			continue
		}
		if i+1 == len(s.known) || s.hits(s.known[i+1].Result) || !((here.Result-s.Want)*(s.known[i+1].Result-s.Want) < 0) {
			continue
		}
		s.cross(a, here, s.known[i+1])
	}
	s.isSame(a)
}

// end is the first or the last value of those about a place that do it.
func (s *search) end(i, by int) float64 {
	if next := i + by; next >= 0 && next < len(s.known) {
		inside, _ := s.halve(s.known[i], s.known[next], s.hits)
		return inside.Value
	}
	return s.known[i].Value
}

// cross closes in on where the result passes what is wanted: there it is that, or jumps.
func (s *search) cross(a *Answer, from, to place) {
	left, right := s.halve(from, to, func(y float64) bool { return y > s.Want == (from.Result > s.Want) && exists(y) && !s.hits(y) })
	at := left
	if !exists(left.Result) || math.Abs(right.Result-s.Want) < math.Abs(left.Result-s.Want) {
		at = right
	}
	switch {
	case s.hits(at.Result):
		_, last := s.halve(to, at, func(y float64) bool { return !s.hits(y) })
		a.add(s.solution(at.Value, last.Value))
	case !s.isWhole() && math.Abs(left.Result-right.Result) <= 1e-6*max(math.Abs(s.Want), math.Abs(from.Result-to.Result)):
		a.add(s.solution(at.Value, at.Value))
	case exists(left.Result) && exists(right.Result):
		a.Passes = append(a.Passes, [2]Choice{left, right})
	}
}

// solution is what lies between two ends; those that are one but for rounding are one, and a
// value that people write in a few digits is that.
func (s *search) solution(from, to float64) Solution {
	const rounding = 1e-9
	if to-from <= rounding*math.Abs(from) && !s.isWhole() {
		x := s.plain(from)
		return Solution{From: x, To: x}
	}
	return Solution{From: s.plain(from), To: s.plain(to)}
}

// plain is a value in twelve digits where that does it too.
func (s *search) plain(x float64) float64 {
	const digits, rounding = 12, 1e-9
	if s.isWhole() {
		return x
	}
	if y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64); math.Abs(s.at(y)-s.Want) <= rounding*math.Abs(s.Want) {
		return y
	}
	return x
}

// add adds a solution, or lets the last one go on.
func (a *Answer) add(s Solution) {
	if n := len(a.Solutions); n > 0 && s.From <= a.Solutions[n-1].To*(1+1e-9) && s.From >= a.Solutions[n-1].From {
		a.Solutions[n-1].To = max(a.Solutions[n-1].To, s.To)
		return
	}
	a.Solutions = append(a.Solutions, s)
}

// isSame says whether the result is the same wherever it exists.
func (s *search) isSame(a *Answer) {
	least, most := math.Inf(1), math.Inf(-1)
	for _, p := range s.known {
		if exists(p.Result) {
			least, most = min(least, p.Result), max(most, p.Result)
		}
	}
	a.Same = most-least <= (circuit.Outcome{Result: s.Result, Value: most}).Hair()
}

// mostWithin is how many values that are to be had are named of those that do it.
const mostWithin = 5

// choose finds the values that are to be had next to a solution, and within it.
func (s *search) choose(x *Solution) {
	below, above := s.Field.Beside(x.From)
	switch low, _ := s.Field.Range(); {
	case !math.IsNaN(below):
		_, above = s.Field.Beside(below)
	case x.From == low:
		above = low
	}
	values := []float64{below}
	var within []float64
	for above <= x.To && len(within) <= mostWithin {
		within = append(within, above)
		_, above = s.Field.Beside(above)
	}
	if len(within) > mostWithin { // the first and the last of them
		_, above = s.Field.Beside(x.To)
		last, _ := s.Field.Beside(above)
		if math.IsNaN(above) {
			last, _ = s.Field.Beside(x.To)
		}
		within = []float64{within[0], last}
	}
	for _, v := range append(append(values, within...), above) {
		if math.IsNaN(v) {
			continue
		}
		if y := s.at(v); exists(y) {
			x.Choices = append(x.Choices, Choice{v, y})
		}
	}
}

// nearest finds how near the result comes, or of the solutions the one next to what is.
func (s *search) nearest(a *Answer) {
	now := s.Field.Number(s.Doc.Build, s.FieldIndex)
	for i := range a.Solutions {
		x := min(max(now, a.Solutions[i].From), a.Solutions[i].To)
		if math.IsNaN(now) {
			x = a.Solutions[i].From
		}
		if a.Nearest == nil || math.Abs(x-now) < math.Abs(a.Nearest.Value-now) {
			a.Nearest = &Choice{x, s.at(x)}
		}
	}
	if a.Nearest != nil {
		return
	}
	all := s.known
	for _, p := range a.Passes {
		all = append(all, p[:]...)
	}
	for _, p := range all {
		if !exists(p.Result) {
			continue
		}
		if a.Nearest == nil || s.isNearer(p, *a.Nearest, now) {
			a.Nearest = &Choice{p.Value, p.Result}
		}
	}
}

// isNearer says whether the result comes nearer at a place than at another, or as near at
// one nearer to what is now.
func (s *search) isNearer(p, than place, now float64) bool {
	off, least := math.Abs(p.Result-s.Want), math.Abs(than.Result-s.Want)
	if math.Abs(off-least) <= 1e-12*math.Abs(s.Want) {
		return math.Abs(p.Value-now) < math.Abs(than.Value-now)
	}
	return off < least
}
