// Package whatif answers what would be: which value of an input makes a result so much
// (Reach), and what differs between two builds (Compare). It changes no build.
package whatif

import (
	"math"
	"strconv"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Choice is a value of an input, and what the result is then; both in their base units.
type Choice struct{ Value, Result float64 }

// A probe looks at one result while one input of a build takes other values.
type probe struct {
	*Question
	groups circuit.Groups
	plan   circuit.Plan
}

func newProbe(q *Question) *probe { return &probe{Question: q, groups: q.Result.Group.With()} }

// at is the result where the input has a value; NaN where there is no such result, or the
// build would have a problem.
func (p *probe) at(x float64) float64 {
	b := p.Doc.Build.Changed([]model.Change{p.Change(x)})
	if !p.Doc.Takes(b, p.Field, p.FieldIndex) {
		return math.NaN()
	}
	circuit.Wire(b, &p.plan.Circuit)
	p.plan.Solve(p.groups)
	return circuit.Finite(*p.Result.At(&p.plan, p.ResultIndex))
}

// text is a value of the input as the file would have it: a tolerance stays as it is.
func (q *Question) text(x float64) string {
	switch v := q.Field.At(q.Doc.Build, q.FieldIndex).(type) {
	case *quantity.Value:
		other := *v
		other.Number = x
		return quantity.Format(other, q.Field.Unit)
	default:
		return strconv.Itoa(int(x))
	}
}

// Change is the change that gives the input a value: a tolerance stays as it is.
func (q *Question) Change(x float64) model.Change {
	return model.Change{Field: q.Field, Index: q.FieldIndex, Text: q.text(x)}
}

// isWhole says whether the input takes whole numbers alone.
func (q *Question) isWhole() bool {
	_, whole := q.Field.At(q.Doc.Build, q.FieldIndex).(*int)
	return whole
}
