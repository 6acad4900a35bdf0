package whatif

import (
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// How densely the range of an input is looked at, before it is looked at more closely where
// the result comes near what is wanted. A test holds it against scans of 10 000 values.
const (
	aDecade     = 80     // places
	evenly      = 800    // over the whole range
	smallest    = 1e-12  // of the most, below which a quantity is 0: see package model
	mostCounts  = 20_000 // of which each is tried
	mostCoded   = 70_000 // likewise, where a result goes up and down with each code
	aboutAnchor = 3      // powers of two between places beside an anchor
)

// places are the values at which the range of an input is looked at first, rising: evenly,
// evenly in the logarithm, and the closer the nearer to each value and result of the build
// that is of the same unit, for there corners lie.
func (q *Question) places() []float64 {
	low, high := q.Field.Range()
	if most := q.tried(); q.isWhole() && high-low <= most {
		var all []float64
		for x := low; x <= high; x++ {
			all = append(all, x)
		}
		return all
	}
	all := []float64{low, high, 0}
	for n := range evenly {
		all = append(all, low+(high-low)*float64(n)/evenly)
	}
	largest := max(math.Abs(low), high)
	least := max(low, largest*smallest)
	ratio := math.Pow(10, 1.0/aDecade)
	if decades := math.Log10(largest / least); decades < evenly/aDecade {
		ratio = math.Pow(10, decades/evenly)
	}
	for x := least; x < largest; x *= ratio {
		all = append(all, x, -x)
	}
	for _, a := range q.anchors() {
		all = append(all, a)
		for by := 1.0; by > 1e-12; by /= 1 << aboutAnchor {
			all = append(all, a*(1+by), a*(1-by))
		}
	}
	if q.isWhole() {
		for n := range all {
			all[n] = math.Round(all[n])
		}
	}
	all = slices.DeleteFunc(all, func(x float64) bool { return !(x >= low && x <= high) })
	slices.Sort(all)
	return slices.Compact(all)
}

// tried is how many whole numbers are tried one by one.
func (q *Question) tried() float64 {
	if q.Result.Group == circuit.Codes {
		return mostCoded
	}
	return mostCounts
}

// anchors are values near which a result may have a corner, or a problem begin: those of the
// build's own inputs and results that are of the same unit, or counts and what a counter
// holds.
func (q *Question) anchors() []float64 {
	b := q.Doc.Build
	var all []float64
	for _, f := range model.Builds.Fields {
		if f.IsRow() {
			continue
		}
		for i := range f.Of(b) {
			switch v := f.At(b, i).(type) {
			case *quantity.Value:
				if v.Given() && !q.isWhole() && f.Unit.Base() == q.Field.Unit.Base() {
					all = append(all, v.Number)
				}
			case *int:
				if q.isWhole() {
					all = append(all, float64(*v))
				}
			}
		}
	}
	if q.isWhole() {
		return append(all, math.Exp2(float64(b.Crystal.CounterBits)))
	}
	var p circuit.Plan
	circuit.Evaluate(b, &p)
	for _, o := range circuit.Outcomes(&p) {
		if o.Unit.Base() == q.Field.Unit.Base() {
			all = append(all, o.Value)
		}
	}
	return all
}
