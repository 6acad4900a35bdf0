package walk

import (
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

// walkOf is the walk of a document without problems.
func walkOf(t testing.TB, d *model.Document) *Walk {
	t.Helper()
	require.Empty(t, modeltest.Messages(d.Problems), d.Text)
	var p circuit.Plan
	circuit.Evaluate(d.Build, &p)
	return Of(d, judge.Findings(d.Build, &p))
}

// stateOf is the state of a stage of a hand in a document.
func stateOf(t testing.TB, d *model.Document, id, hand string) *State {
	t.Helper()
	s := walkOf(t, d).Find(id, hand)
	require.NotNil(t, s, id+" "+hand)
	return s
}

// answered is a document with an answer to the question of a stage that asks for a field, a
// point or a sign by this name.
func answered(t testing.TB, d *model.Document, id, hand, asks, text string) *model.Document {
	t.Helper()
	s := stateOf(t, d, id, hand)
	for _, page := range s.Pages {
		for k := range page {
			if q := &page[k]; q.Field+q.Point+q.Sign == asks {
				return s.Answer(q, text, "teacher")
			}
		}
	}
	require.Fail(t, "nothing asks for "+asks, id)
	return d
}

// planned is what a sound clock reads at a test point, as one would write it down.
func planned(t testing.TB, d *model.Document, id string) string {
	t.Helper()
	x := bench.Sound(d.Build)
	place, ok := x.PlaceOf(id)
	require.True(t, ok, id)
	for _, p := range x.Verdicts(nil).Points {
		if p.ID == id {
			return modeltest.ValueText(p.Value, place.Unit)
		}
	}
	require.Fail(t, id)
	return ""
}

// finished is the bakery's clock, of which every stage is done.
func finished(t testing.TB) *model.Document {
	t.Helper()
	return model.Open(modeltest.Example("bakery"))
}
