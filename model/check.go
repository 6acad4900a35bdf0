package model

import (
	"encoding/json"
	"fmt"
	"math"
	"unicode"
	"unicode/utf16"
	"unicode/utf8"

	"example.com/needlewright/model/quantity"
)

// A Report is all that is known of a build without problems.
type Report struct {
	Build    *Build
	Plan     Plan
	Results  []Row
	Findings []Finding
	Better   []Suggestion // parts that would leave less to find; see Advised

	advised, banded bool
}

// Check evaluates and judges the text of a build. With problems there is no
// report.
func Check(text string) (*Report, []Problem) {
	b, problems := Read(text)
	if len(problems) > 0 {
		return nil, problems
	}
	return check(b).Advised().Banded(), nil
}

// Advised returns the report with what would mend its findings, and which parts
// would be better.
func (r *Report) Advised() *Report {
	if r.advised {
		return r
	}
	a := *r
	a.Findings, a.Better = advise(r.Build, &r.Plan)
	a.advised = true
	return &a
}

// IsAdvised says whether that was looked for.
func (r *Report) IsAdvised() bool { return r.advised }

func check(b *Build) *Report {
	r := &Report{Build: b}
	Evaluate(b, &r.Plan)
	r.Results = Rows(&r.Plan)
	r.Findings = Findings(b, &r.Plan)
	return r
}

// Worst is the severity of the worst finding.
func (r *Report) Worst() Severity {
	if len(r.Findings) == 0 {
		return Sound
	}
	return r.Findings[0].Severity
}

// Parts of a report in the form of the catalogue.
type (
	reportJSON struct {
		Title       string           `json:"title"`
		Results     []resultJSON     `json:"results"`
		Findings    []findingJSON    `json:"findings"`
		Suggestions []suggestionJSON `json:"suggestions"`
		Budget      []BudgetRecord   `json:"budget"`
		Cautions    []cautionJSON    `json:"cautions"`
	}
	findingJSON struct {
		ID       string         `json:"id"`
		About    string         `json:"about"`
		Severity string         `json:"severity"`
		Text     string         `json:"text"`
		Advice   string         `json:"advice"`
		Changes  []ChangeRecord `json:"changes"`
	}
	suggestionJSON struct {
		ID      string         `json:"id"`
		About   string         `json:"about"`
		Text    string         `json:"text"`
		Changes []ChangeRecord `json:"changes"`
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
	out := reportJSON{r.Build.Title, []resultJSON{}, []findingJSON{}, []suggestionJSON{}, []BudgetRecord{}, []cautionJSON{}}
	for _, row := range r.Results {
		out.Results = append(out.Results, row.json(r.Build))
	}
	for _, f := range r.Findings {
		out.Findings = append(out.Findings, findingJSON{f.ID, f.About, f.Severity.String(), f.Text, f.Advice, records(r.Build, f.Changes)})
	}
	for _, s := range r.Better {
		out.Suggestions = append(out.Suggestions, suggestionJSON{s.ID, s.About, s.Text, records(r.Build, s.Changes)})
	}
	for i := range r.Build.Hands {
		budget := r.Budget(i, AfterMonth)
		out.Budget = append(out.Budget, budget.Record(r.Build))
	}
	for _, d := range Cautions(r.Build) {
		out.Cautions = append(out.Cautions, cautionJSON{d.ID, d.To, d.Text, d.Source})
	}
	text, err := json.MarshalIndent(out, "", " ")
	return escapeControls(text), err
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

func (r Row) json(b *Build) resultJSON {
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

// escapeControls writes what JSON allows to stand bare, but a terminal would obey or
// turn its writing by (controls, marks of direction, all that is not graphic), as
// escapes. The lines of JSON itself stay.
func escapeControls(text []byte) []byte {
	var safe []byte
	for _, r := range string(text) {
		if r == '\n' || unicode.IsGraphic(r) {
			safe = utf8.AppendRune(safe, r)
			continue
		}
		for _, unit := range utf16.Encode([]rune{r}) {
			safe = fmt.Appendf(safe, `\u%04x`, unit)
		}
	}
	return safe
}

// Text returns the value as people read it, in four digits.
func (r Row) Text() string {
	switch {
	case math.Abs(r.Value) < r.Dust:
		return quantity.Show(0, r.Unit, 4)
	case r.Unit == quantity.Hours:
		return quantity.ShowDuration(r.Value)
	case r.Unit == quantity.Minutes:
		return quantity.DialTime(r.Value)
	}
	return quantity.Show(r.Value, r.Unit, 4)
}
