package judge

import (
	"cmp"
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A Horizon is how long ago a clock was set to time.
type Horizon uint8

// The horizons.
const (
	AfterDay Horizon = iota
	AfterWeek
	AfterMonth
	AfterCells // as long as a set of cells lasts, used as the build says
)

func (h Horizon) String() string { return [...]string{"day", "week", "month", "cells"}[h] }

// days is how many days it is; NaN where how long the cells last is not known.
func (h Horizon) days(p *circuit.Plan) float64 {
	switch h {
	case AfterWeek:
		return 7
	case AfterMonth:
		return circuit.DaysAMonth
	case AfterCells:
		return circuit.Finite(p.Battery.LifeMixed) / day
	}
	return 1
}

// A Budget is how wrong one hand can read, in minutes of its dial, and what is to
// blame, the largest first; the trimmer was set at full scale and the clock was
// set to time so long ago. Definitions are in catalogue.md.
type Budget struct {
	Hand    int
	Horizon Horizon
	Rows    []BudgetRow
	Unknown []string // labels of what the build does not say enough of
	Worst   float64  // min, all the same way, at the place of the dial where that is most
	RSS     float64  // min, root of the sum of their squares, at the place where that is most: as much is likely

	WorstAt, LikelyAt string // the dial times of these places, of equal ones the first
}

// A BudgetRow is one thing that is to blame.
type BudgetRow struct {
	ID, Label string         // the last part of its id, "class"; "accuracy class"
	Amount    float64        // min, its largest on the dial
	Share     float64        // of its square in the sum of the squares of all amounts
	Advice    string         // what would reduce it, and by how much
	Changes   []model.Change // choices that would reduce it; none where no choice can
	Gain      float64        // min by which the RSS falls with the changes made; without any, were it gone altogether
	Field     string         // path of the field for what is to be measured; "" where nothing is
	IfSo      float64        // min by which the RSS falls where that comes out as Advice says

	source *source
	since  sinceSet
	places []float64 // amounts at the dial's places
}

// At returns the amount, min, at a share of the dial's time, 0 to 1.
func (row *BudgetRow) At(share float64) float64 {
	return math.Abs(row.source.over(&row.since)(share))
}

// A sinceSet is a hand some time after its clock was set.
type sinceSet struct {
	subject
	horizon Horizon
}

// A source is a row of the table of what makes a hand read wrong. Its size is
// given by gains, or by amount with a shape over the dial, or by amount and at.
type source struct {
	id, label string
	// gains are by what shares the needle's current may be off its plan, either way.
	gains func(s *sinceSet) [2]float64
	// amount is the largest of it on the dial, min: 0 or less than leastError where
	// there is none, NaN where it is not known.
	amount func(s *sinceSet) float64
	// shape is the part of amount that there is at a share of the dial.
	shape func(share float64) float64
	// at gives what there is at a share of the dial, min.
	at func(s *sinceSet) func(share float64) float64
	// standing says whether its sign is known, so that it is a part of the day curve;
	// nil: it is not, and the hand may read as much early as late.
	standing func(s *sinceSet) bool
	// needles says that Plan.Needle has it in itself.
	needles bool
}

// largest is the size of the source at its worst place, min.
func (e *source) largest(s *sinceSet) float64 {
	if e.gains == nil {
		return math.Abs(e.amount(s))
	}
	off, h := e.gains(s), s.circuit()
	return h.Minutes * max(h.MostByGain(off[0]), h.MostByGain(off[1]))
}

// over gives what the source does at a share of the dial, min, with its sign where
// that is known.
func (e *source) over(s *sinceSet) func(share float64) float64 {
	switch {
	case e.at != nil:
		return e.at(s)
	case e.gains == nil:
		most := e.amount(s)
		return func(share float64) float64 { return most * e.shape(share) }
	}
	off, h := e.gains(s), s.circuit()
	if h.Dial || h.Law.IsEven() { // each needs as much more of its own current
		most := e.largest(s)
		return func(share float64) float64 { return most * h.FromRest(share) }
	}
	return func(share float64) float64 {
		c := h.Wanted(share)
		a, b := h.MovedBy(c, off[0]*c), h.MovedBy(c, off[1]*c)
		if math.Abs(a) < math.Abs(b) {
			a = b
		}
		return h.Minutes * a
	}
}

// places are what the source does at the places of the dial, its instants and its
// end, min, without the sign.
func (e *source) places(s *sinceSet) []float64 {
	over, n := e.over(s), s.circuit().Steps
	all := make([]float64, n+1)
	for k := range all {
		all[k] = math.Abs(orNothing(over(float64(k) / float64(n)))) // a bend at its end may be 0 over 0
	}
	return all
}

// budget is the budget without what would reduce it.
func (s *sinceSet) budget() Budget {
	b := Budget{Hand: s.i, Horizon: s.horizon}
	squares := 0.0 // of amounts
	for k := range sources {
		e := &sources[k]
		switch x := e.largest(s); {
		case math.IsNaN(x):
			b.Unknown = append(b.Unknown, e.label)
		case x >= leastError:
			b.Rows = append(b.Rows, BudgetRow{ID: e.id, Label: e.label, Amount: x, source: e, since: *s, places: e.places(s)})
			squares += x * x
		}
	}
	worst, likely := b.most(itself, nil), b.most(square, nil)
	b.Worst, b.WorstAt = worst.sum, s.dialTime(worst.place)
	b.RSS, b.LikelyAt = math.Sqrt(likely.sum), s.dialTime(likely.place)
	for k := range b.Rows {
		row := &b.Rows[k]
		row.Share = row.Amount * row.Amount / squares
	}
	slices.SortStableFunc(b.Rows, func(a, b BudgetRow) int { return cmp.Compare(b.Amount, a.Amount) })
	return b
}

func itself(x float64) float64 { return x }
func square(x float64) float64 { return x * x }

// A peak is the place of the dial, from 0, at which a sum over rows is most.
type peak struct {
	place int
	sum   float64
}

// most is where the sum of what rows are there, all but one, is most; of places that
// are equal but for rounding the first.
func (b *Budget) most(of func(x float64) float64, but *BudgetRow) (p peak) {
	if len(b.Rows) == 0 {
		return peak{}
	}
	for k := range b.Rows[0].places {
		sum := 0.0
		for j := range b.Rows {
			if row := &b.Rows[j]; row != but {
				sum += of(row.places[k])
			}
		}
		if sum > p.sum*(1+1e-12) {
			p = peak{k, sum}
		}
	}
	return p
}

// Parts are what is off at a share of the dial, min, the clock just set: the sum of
// what stands, but for what the needle itself is off by, and the root of the sum of
// the squares of what may be either way.
func (b *Budget) Parts(share float64) (known, unknown float64) {
	for k := range b.Rows {
		e, s := b.Rows[k].source, &b.Rows[k].since
		switch {
		case e.needles || e.id == "drift":
		case e.standing != nil && e.standing(s):
			known += e.over(s)(share)
		default:
			off := e.over(s)(share)
			unknown += off * off
		}
	}
	return known, math.Sqrt(unknown)
}

// rss is the root of the sum of the squares of what is to blame, min, at the place of
// the dial where that is most.
func (s *sinceSet) rss() float64 {
	squares := make([]float64, s.circuit().Steps+1)
	for k := range sources {
		if sources[k].largest(s) >= leastError { // NaN is not
			for place, x := range sources[k].places(s) {
				squares[place] += x * x
			}
		}
	}
	return math.Sqrt(slices.Max(squares))
}

// leastError is the error, in minutes of the dial, below which there is none but
// of the computer's own rounding.
const leastError = 1e-9

// BudgetOfDay returns the budget of a hand whose clock was set a day ago, without what
// would reduce it.
func BudgetOfDay(b *model.Build, p *circuit.Plan, hand int) Budget {
	return BudgetAlone(b, p, hand, AfterDay)
}

// BudgetAlone returns the budget of a hand without what would reduce it.
func BudgetAlone(b *model.Build, p *circuit.Plan, hand int, horizon Horizon) Budget {
	return (&sinceSet{subject{b, p, hand}, horizon}).budget()
}
