// Package spread is what comes of parts that are anywhere within their tolerances: the
// band of each result and who makes it, and what many kits come to.
package spread

import (
	"cmp"
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Band is how far a result may be off its value for the tolerances of the
// parts, in the result's base unit. What nothing moves has its value everywhere.
type Band struct {
	Low, High           float64 // 95 % of all kits lie between
	WorstLow, WorstHigh float64 // the least and the most of any kit that was evaluated, those with all parts at their ends among them
	Simulated           bool    // Low and High are points of simulated kits
	Shares              []Share // of the inputs that move it, the largest first
}

// Moved says whether any tolerance moves the result.
func (b *Band) Moved() bool { return b.WorstLow < b.WorstHigh }

// A Share is the part, 0 to 1, that an input has in the spread of a result.
type Share struct {
	Input
	Share float64
}

// A Row is one result of one build, with its band.
type Row struct {
	circuit.Outcome
	Band *Band // nil where it was not worked out
}

// Rows returns the results that exist for a build without their bands, in the order of
// the table, all of a hand together.
func Rows(p *circuit.Plan) []Row {
	outcomes := circuit.Outcomes(p)
	rows := make([]Row, len(outcomes))
	for i, o := range outcomes {
		rows[i].Outcome = o
	}
	return rows
}

// Spread returns the results of a solved build with their bands, by catalogue.md,
// "Bands".
func Spread(b *model.Build, p *circuit.Plan) []Row {
	s := newSpreader(b, p, Rows(p))
	s.move()
	s.corner()
	s.simulate(s.doubtful())
	for j := range s.rows {
		s.rows[j].Band = &s.bands[j]
		if row := s.rows[j]; row.Unit == quantity.Picofarads && row.Value >= 0 { // no capacitor is less than none
			row.Band.Low, row.Band.WorstLow = max(row.Band.Low, 0), max(row.Band.WorstLow, 0)
		}
	}
	return s.rows
}

// A spreader works out the bands of a build.
type spreader struct {
	assembly
	inputs []Input
	all    []int         // their numbers
	values []float64     // of the rows, of the kit at hand
	moves  [][]move      // by input, then row
	movers [][]int       // by row, the inputs that move it, each by itself
	sums   []calc.Spread // by row
	bands  []Band        // by row
}

// A move is by how much an input moves a result at its upper and at its lower end.
type move struct{ upper, lower float64 }

// rise is how far the result rises at one of the ends, 0 or more.
func (m move) rise() float64 { return max(m.upper, m.lower, 0) }

// fall is how far it falls at one of them.
func (m move) fall() float64 { return max(-m.upper, -m.lower, 0) }

func newSpreader(b *model.Build, p *circuit.Plan, rows []Row) *spreader {
	kit := newKit(b)
	s := &spreader{
		assembly: assembly{kit: kit, whole: p, rows: rows, groups: circuit.All}, inputs: kit.inputs,
		values: make([]float64, len(rows)), movers: make([][]int, len(rows)), sums: make([]calc.Spread, len(rows)), bands: make([]Band, len(rows)),
	}
	moves := make([]move, len(rows)*len(s.inputs))
	for k := range s.inputs {
		s.all = append(s.all, k)
		s.moves = append(s.moves, moves[k*len(rows):(k+1)*len(rows)])
	}
	for j, row := range rows {
		s.bands[j] = Band{Low: row.Value, High: row.Value, WorstLow: row.Value, WorstHigh: row.Value}
	}
	return s
}

// evaluate solves the kit as it is set, and remembers the extremes.
func (s *spreader) evaluate() {
	s.solve(s.values)
	for j, x := range s.values {
		if b := &s.bands[j]; s.apart(j, x) {
			b.WorstLow, b.WorstHigh = min(b.WorstLow, x), max(b.WorstHigh, x)
		}
	}
}

// apart says whether a result differs from its value by more than rounding.
func (s *spreader) apart(j int, x float64) bool {
	row := s.rows[j]
	return math.Abs(x-row.Value) > row.Hair() // not of NaN
}

// move evaluates the build with each input at either end, and makes the bands
// of that.
func (s *spreader) move() {
	for k := range s.inputs {
		s.kit.set(k, 1)
		s.evaluate()
		for j, x := range s.values {
			if s.apart(j, x) {
				s.moves[k][j].upper = x - s.rows[j].Value
			}
		}
		s.kit.set(k, -1)
		s.evaluate()
		for j, x := range s.values {
			if s.apart(j, x) {
				s.moves[k][j].lower = x - s.rows[j].Value
			}
			s.sums[j].Add(s.moves[k][j].rise(), s.moves[k][j].fall())
		}
		s.kit.reset(k)
	}
	for j, row := range s.rows {
		b := &s.bands[j]
		b.Low, b.High = s.sums[j].Low(row.Value), s.sums[j].High(row.Value)
		for k, in := range s.inputs {
			if m := s.moves[k][j]; m != (move{}) {
				s.movers[j] = append(s.movers[j], k)
				b.Shares = append(b.Shares, Share{in, s.sums[j].Share(m.rise(), m.fall())})
			}
		}
		largestFirst(b.Shares)
	}
}

// largestFirst sorts shares; of equal ones that of the earlier field is first.
func largestFirst(shares []Share) {
	slices.SortStableFunc(shares, func(x, y Share) int { return cmp.Compare(y.Share, x.Share) })
}

// A pattern is the end, 1 or -1, at which each input stands; 0 is its value.
type pattern []int8

// corner evaluates the build with all inputs at their ends: for each result
// where each input lowers it and where each raises it. Results that ask for
// different inputs share a kit.
func (s *spreader) corner() {
	var patterns []pattern
	for j := range s.rows {
		for _, sign := range [2]float64{1, -1} {
			patterns = merge(patterns, s.extreme(j, sign))
		}
	}
	for _, p := range patterns {
		for k, end := range p {
			s.kit.set(k, float64(end))
		}
		s.evaluate()
	}
	s.reset()
}

// extreme is the pattern in which every input raises a result, sign 1, or lowers
// it, sign -1.
func (s *spreader) extreme(j int, sign float64) pattern {
	p := make(pattern, len(s.inputs))
	for _, k := range s.movers[j] {
		switch upper, lower := sign*s.moves[k][j].upper, sign*s.moves[k][j].lower; {
		case upper > max(lower, 0):
			p[k] = 1
		case lower > 0:
			p[k] = -1
		}
	}
	return p
}

// merge adds a pattern to those that are there, into the first that asks for no
// other end of an input.
func merge(patterns []pattern, p pattern) []pattern {
	for _, q := range patterns {
		if q.take(p) {
			return patterns
		}
	}
	return append(patterns, p)
}

// take takes over the ends of another pattern, unless one differs.
func (p pattern) take(other pattern) bool {
	for k := range p {
		if p[k]*other[k] < 0 {
			return false
		}
	}
	for k := range p {
		if other[k] != 0 {
			p[k] = other[k]
		}
	}
	return true
}
