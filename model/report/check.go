// Package report is all that is known of a build together, for screens, text and JSON.
package report

import (
	"encoding/json"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/spread"
)

// A Report is all that is known of a build without problems.
type Report struct {
	Build    *model.Build
	Plan     circuit.Plan
	Results  []spread.Row
	Findings []judge.Finding
	Better   []judge.Suggestion // parts that would leave less to find; see Advised
	Likely   []float64          // min, how far each hand is likely off a day after its clock was set; see Advised
	Assumed  int                // values that the text says are assumed, or their tolerances are

	doc *model.Document // which says what is assumed

	advised, banded bool
}

// Check evaluates and judges the text of a build. With problems there is no
// report.
func Check(text string) (*Report, []model.Problem) {
	b, problems := model.Read(text)
	if len(problems) > 0 {
		return nil, problems
	}
	return check(b).heeding(model.Open(text)).Advised().Banded(), nil
}

// Advised returns the report with what would mend its findings, which parts
// would be better, and how far each hand is likely off.
func (r *Report) Advised() *Report {
	if r.advised {
		return r
	}
	a := *r
	a.Findings, a.Better = judge.Advise(r.Build, &r.Plan)
	a.measureFirst()
	a.Likely = r.LikelyOff()
	a.advised = true
	return &a
}

// LikelyOff returns how far each hand is likely off a day after its clock was set, min.
func (r *Report) LikelyOff() []float64 {
	off := make([]float64, len(r.Build.Hands))
	for i := range off {
		off[i] = judge.BudgetOfDay(r.Build, &r.Plan, i).RSS
	}
	return off
}

// AfterMonth returns the error budget of a hand a month after its clock was set, without what
// would reduce it.
func (r *Report) AfterMonth(hand int) judge.Budget {
	return judge.BudgetAlone(r.Build, &r.Plan, hand, judge.AfterMonth)
}

// Text returns the text that it is of, without what is left of a longer one.
func (r *Report) Text() string { return r.doc.Text }

// Like returns the report with the findings, the advice and the bands of another of the
// same text.
func (r *Report) Like(other *Report) *Report {
	a := *other
	a.Build, a.Plan, a.doc = r.Build, r.Plan, r.doc
	return &a
}

// IsAdvised says whether that was looked for.
func (r *Report) IsAdvised() bool { return r.advised }

func check(b *model.Build) *Report {
	r := &Report{Build: b}
	circuit.Evaluate(b, &r.Plan)
	r.Results = spread.Rows(&r.Plan)
	r.Findings = judge.Findings(b, &r.Plan)
	return r
}

// heeding returns the report with what the build's document says is only assumed.
func (r *Report) heeding(d *model.Document) *Report {
	r.Assumed, r.doc = d.CountAssumed(), d
	r.measureFirst()
	return r
}

// measureFirst has the advice on evidence that is only assumed begin with measuring it,
// where it does not so by itself.
func (r *Report) measureFirst() {
	if r.Assumed == 0 {
		return
	}
	for i := range r.Findings {
		f := &r.Findings[i]
		field, k, ok := r.doc.Find(f.Field)
		if ok && field.Evidence && r.doc.Mark(field, k) == "assumed" && !strings.HasPrefix(f.Advice, "Measure ") {
			f.Advice = strings.Trim(field.Label, " ±") + " is assumed: measure it first. " + f.Advice
		}
	}
}

// Worst is the severity of the worst finding.
func (r *Report) Worst() judge.Severity {
	if len(r.Findings) == 0 {
		return judge.Sound
	}
	return r.Findings[0].Severity
}

// Parts of a report in the form of the catalogue.
type (
	reportJSON struct {
		Title       string               `json:"title"`
		Results     []resultJSON         `json:"results"`
		Findings    []findingJSON        `json:"findings"`
		Suggestions []suggestionJSON     `json:"suggestions"`
		Budget      []judge.BudgetRecord `json:"budget"`
		Scales      []scaleJSON          `json:"scales,omitempty"`
		Cautions    []cautionJSON        `json:"cautions"`
		Points      []pointJSON          `json:"points"`
		Readings    []readingJSON        `json:"readings"`
		Causes      []causeJSON          `json:"causes"`
		Next        []nextJSON           `json:"next"`
		Stages      []stageJSON          `json:"stages"`
	}
	findingJSON struct {
		ID       string               `json:"id"`
		About    string               `json:"about"`
		Severity string               `json:"severity"`
		Text     string               `json:"text"`
		Advice   string               `json:"advice"`
		Changes  []judge.ChangeRecord `json:"changes"`
	}
	suggestionJSON struct {
		ID      string               `json:"id"`
		About   string               `json:"about"`
		Text    string               `json:"text"`
		Changes []judge.ChangeRecord `json:"changes"`
	}
	cautionJSON struct {
		ID     string `json:"id"`
		To     string `json:"to"`
		Text   string `json:"text"`
		Source string `json:"source"`
	}
)

// JSON returns the report in the form of the catalogue.
func (r *Report) JSON() ([]byte, error) {
	out := reportJSON{Title: r.Build.Title, Results: []resultJSON{}, Findings: []findingJSON{}, Suggestions: []suggestionJSON{}, Budget: []judge.BudgetRecord{}, Cautions: []cautionJSON{}}
	for k := range r.Results {
		out.Results = append(out.Results, jsonOf(&r.Results[k], r.Build))
	}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, findingJSON{f.ID, f.About, f.Severity.String(), f.Text, f.Advice, judge.Records(r.Build, f.Changes)})
	}
	for _, s := range r.Better {
		out.Suggestions = append(out.Suggestions, suggestionJSON{s.ID, s.About, s.Text, judge.Records(r.Build, s.Changes)})
	}
	for i := range r.Build.Hands {
		budget := r.Budget(i, judge.AfterMonth)
		out.Budget = append(out.Budget, budget.Record(r.Build))
	}
	for _, s := range r.Scales() {
		out.Scales = append(out.Scales, s.record())
	}
	for _, d := range caution.Of(r.Build) {
		out.Cautions = append(out.Cautions, cautionJSON{d.ID, d.To, d.Text, d.Source})
	}
	out.addBench(r.Bench())
	out.Stages = r.stages()
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}

// A resultJSON is a result in the form of the catalogue; what is not known of its
// band is null or left out.
type resultJSON struct {
	ID        string      `json:"id"`
	Value     float64     `json:"value"`
	Unit      string      `json:"unit"`
	Low       *float64    `json:"low"`
	High      *float64    `json:"high"`
	WorstLow  *float64    `json:"worst_low"`
	WorstHigh *float64    `json:"worst_high"`
	Band      string      `json:"band,omitempty"`
	Shares    []shareJSON `json:"shares"`
}

type shareJSON struct {
	Path  string  `json:"path"`
	Share float64 `json:"share"`
}

// Alike says whether two reports are of builds with the same hands, lamps and
// buttons, so that their results can be compared one by one.
func (r *Report) Alike(other *Report) bool {
	return len(r.Plan.Hands) == len(other.Plan.Hands) && len(r.Plan.Lamps) == len(other.Plan.Lamps) && len(r.Plan.Buttons) == len(other.Plan.Buttons)
}

// Of evaluates and judges a document's build, not yet advised; nil where
// there are problems.
func Of(d *model.Document) *Report {
	if len(d.Problems) > 0 {
		return nil
	}
	return check(d.Build).heeding(d)
}

// Banded returns the report with the band of every result.
func (r *Report) Banded() *Report {
	if r.banded {
		return r
	}
	a := *r
	a.Results = spread.Spread(r.Build, &r.Plan)
	a.banded = true
	return &a
}

// IsBanded says whether the bands were worked out.
func (r *Report) IsBanded() bool { return r.banded }

// Budget returns the error budget of a hand, from 0, with what would reduce it.
func (r *Report) Budget(hand int, horizon judge.Horizon) judge.Budget {
	return judge.BudgetOf(r.Build, &r.Plan, hand, horizon)
}

// Options lists what may be chosen for a field and the parts that go with it, the
// best first, the title of it, and by what it is ordered; nothing where the field is no part.
func (r *Report) Options(f *model.Field, index int) (title, order string, options []judge.Option) {
	return judge.Options(r.Build, &r.Plan, f, index)
}

// Sensitivities returns how a result moves with every value it depends on, most
// first.
func (r *Report) Sensitivities(row spread.Row) []spread.Sensitivity {
	return spread.Sensitivities(r.Build, row)
}

func jsonOf(r *spread.Row, b *model.Build) resultJSON {
	const least = 0.001 // share worth naming
	out := resultJSON{ID: r.IDOf(b, r.Index), Value: r.Value, Unit: r.Unit.Base(), Shares: []shareJSON{}}
	if r.Band == nil {
		return out
	}
	out.Low, out.High, out.WorstLow, out.WorstHigh = &r.Band.Low, &r.Band.High, &r.Band.WorstLow, &r.Band.WorstHigh
	if r.Band.Simulated {
		out.Band = "simulated"
	}
	for _, s := range r.Band.Shares {
		if s.Share > least {
			out.Shares = append(out.Shares, shareJSON{s.Path(b), s.Share})
		}
	}
	return out
}
