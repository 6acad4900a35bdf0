package report

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench"
)

// Parts of what the bench says in the form of the catalogue.
type (
	pointJSON struct {
		ID     string   `json:"id"`
		Unit   string   `json:"unit"`
		Value  *float64 `json:"value,omitempty"`
		Low    *float64 `json:"low,omitempty"`
		High   *float64 `json:"high,omitempty"`
		Least  *float64 `json:"least,omitempty"`
		Most   *float64 `json:"most,omitempty"`
		Words  []string `json:"words,omitempty"`
		State  string   `json:"state"`
		Probes string   `json:"probes"`
		Cost   float64  `json:"cost"`
	}
	readingJSON struct {
		At      string   `json:"at"`
		Given   string   `json:"given"`
		Value   any      `json:"value"`
		Verdict string   `json:"verdict"`
		Low     *float64 `json:"low,omitempty"`
		High    *float64 `json:"high,omitempty"`
	}
	amountJSON struct {
		Value float64 `json:"value"`
		Unit  string  `json:"unit"`
	}
	causeJSON struct {
		ID          string      `json:"id"`
		About       string      `json:"about"`
		Probability float64     `json:"probability"`
		Amount      *amountJSON `json:"amount"`
		Explains    []string    `json:"explains"`
		Contradicts []string    `json:"contradicts"`
		Confirm     string      `json:"confirm"`
		Mend        string      `json:"mend"`
	}
	nextJSON struct {
		At   string  `json:"at"`
		Why  string  `json:"why"`
		Gain float64 `json:"gain"`
		Cost float64 `json:"cost"`
	}
)

// Bench returns what the build's readings say.
func (r *Report) Bench() *bench.Report { return bench.New(r.Build).Judge(r.Build.Readings) }

// addBench puts what the bench says into the form of the catalogue.
func (out *reportJSON) addBench(b *bench.Report) {
	out.Points, out.Readings, out.Causes, out.Next = []pointJSON{}, []readingJSON{}, []causeJSON{}, []nextJSON{}
	for _, p := range b.Points {
		out.Points = append(out.Points, pointJSON{p.ID, p.Unit, model.OrNull(p.Value), model.OrNull(p.Low), model.OrNull(p.High), model.OrNull(p.Least), model.OrNull(p.Most), p.Words, p.State, p.Probes, p.Cost})
	}
	for _, t := range b.Readings {
		out.Readings = append(out.Readings, readingJSON{t.At, t.Given, valueOf(&t), string(t.Verdict), model.OrNull(t.Low), model.OrNull(t.High)})
	}
	for _, c := range b.Causes {
		if c.Probability < leastProbability {
			continue
		}
		j := causeJSON{c.ID, c.About, c.Probability, nil, notNil(c.Explains), notNil(c.Contradicts), c.Confirm, c.Mend}
		if !math.IsNaN(c.Amount) {
			j.Amount = &amountJSON{c.Amount, c.Unit}
		}
		out.Causes = append(out.Causes, j)
	}
	for _, s := range b.Next {
		out.Next = append(out.Next, nextJSON{s.At, s.Why, s.Gain, s.Cost})
	}
}

// leastProbability is of the least likely cause that is told.
const leastProbability = 0.0001

// valueOf is a reading's value: a number, or its word; null where there is none.
func valueOf(t *bench.Read) any {
	switch {
	case t.Word != "":
		return t.Word
	case math.IsInf(t.Value, 1):
		return "over"
	case math.IsInf(t.Value, -1):
		return "below"
	case math.IsNaN(t.Value):
		return nil
	}
	return t.Value
}

func notNil(list []string) []string {
	if list == nil {
		return []string{}
	}
	return list
}
