package whatif

import (
	"math"
	"strings"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// shownDigits are those of a value of an input that no series gives.
const shownDigits = 5

// Asked is the question in a sentence, with what is now.
func (q *Question) Asked() string {
	p := newProbe(q)
	now, value := p.Field.Number(q.Doc.Build, q.FieldIndex), "not given"
	result := math.NaN()
	if !math.IsNaN(now) {
		value, result = q.Field.Text(q.Doc.Build, q.FieldIndex), p.at(now)
	}
	text := q.Path() + ", now " + value
	if exists(result) {
		text += ", which gives " + q.outcome(result).Text()
	}
	return "For " + q.ResultID() + " to be " + q.outcome(q.Want).Text() + " (" + text + "):"
}

// outcome is the result at some value.
func (q *Question) outcome(y float64) circuit.Outcome {
	return circuit.Outcome{Result: q.Result, Value: y}
}

// ValueText is a value of the input as people read it, in as few digits as it has, or a few.
func (q *Question) ValueText(x float64) string {
	if q.isWhole() {
		return q.text(x)
	}
	exact := quantity.Format(quantity.Value{Number: x}, q.Field.Unit)
	if short := quantity.Show(x, q.Field.Unit, shownDigits); len(short) < len(exact) {
		return short
	}
	return exact
}

// Text is a solution as people read it, with the tolerance that the input has.
func (q *Question) Text(s *Solution) string {
	_, tolerance, has := strings.Cut(q.Field.Text(q.Doc.Build, q.FieldIndex), " ±")
	if has {
		tolerance = " ±" + tolerance
	}
	if s.From == s.To {
		return q.ValueText(s.From) + tolerance
	}
	return q.ValueText(s.From) + " to " + q.ValueText(s.To) + tolerance + ", anywhere from one to the other"
}

// Where says where a value that is to be had is by a solution.
func (s *Solution) Where(c Choice) string {
	switch {
	case c.Value < s.From:
		return "next below"
	case c.Value > s.To:
		return "next above"
	case s.From == s.To:
		return "just that"
	}
	return "within"
}
