package whatif

import (
	"encoding/json"
	"errors"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

type (
	choiceJSON struct {
		Value  float64 `json:"value"`
		Result float64 `json:"result"`
	}
	solutionJSON struct {
		From    float64      `json:"from"`
		To      float64      `json:"to"`
		Choices []choiceJSON `json:"choices"`
	}
	answerJSON struct {
		Path      string         `json:"path"`
		Unit      string         `json:"unit"`
		Solutions []solutionJSON `json:"solutions"`
		Nearest   *choiceJSON    `json:"nearest"`
	}
)

// JSON returns the answer in the form of the catalogue.
func (a *Answer) JSON() ([]byte, error) {
	if a.Field == nil {
		return nil, errors.New("nothing was asked")
	}
	out := answerJSON{Path: a.Path(), Unit: a.Field.Unit.Base(), Solutions: []solutionJSON{}}
	for _, s := range a.Solutions {
		o := solutionJSON{s.From, s.To, []choiceJSON{}}
		for _, c := range s.Choices {
			o.Choices = append(o.Choices, choiceJSON(c))
		}
		out.Solutions = append(out.Solutions, o)
	}
	if a.Nearest != nil {
		n := choiceJSON(*a.Nearest)
		out.Nearest = &n
	}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}

type (
	inputJSON struct {
		Path string `json:"path"`
		A    string `json:"a"`
		B    string `json:"b"`
	}
	resultJSON struct {
		ID   string   `json:"id"`
		Unit string   `json:"unit"`
		A    *float64 `json:"a"`
		B    *float64 `json:"b"`
	}
	likelyJSON struct {
		Hand string   `json:"hand"`
		A    *float64 `json:"a"`
		B    *float64 `json:"b"`
	}
	findingJSON struct {
		ID       string `json:"id"`
		About    string `json:"about"`
		Severity string `json:"severity"`
		Text     string `json:"text"`
	}
	comparisonJSON struct {
		Inputs   []inputJSON  `json:"inputs"`
		Results  []resultJSON `json:"results"`
		Likely   []likelyJSON `json:"minutes_likely"`
		Findings struct {
			Come []findingJSON `json:"come"`
			Gone []findingJSON `json:"gone"`
		} `json:"findings"`
	}
)

// JSON returns the comparison in the form of the catalogue.
func (c *Comparison) JSON() ([]byte, error) {
	out := comparisonJSON{Inputs: []inputJSON{}, Results: []resultJSON{}, Likely: []likelyJSON{}}
	for _, d := range c.Inputs {
		out.Inputs = append(out.Inputs, inputJSON{d.Path, d.A, d.B})
	}
	for _, d := range c.Results {
		out.Results = append(out.Results, resultJSON{d.ID, d.Unit.Base(), model.OrNull(d.A), model.OrNull(d.B)})
	}
	for _, d := range c.Likely {
		out.Likely = append(out.Likely, likelyJSON{d.Hand, model.OrNull(d.A), model.OrNull(d.B)})
	}
	out.Findings.Come, out.Findings.Gone = findingsJSON(c.Come), findingsJSON(c.Gone)
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}

func findingsJSON(findings []judge.Finding) []findingJSON {
	all := []findingJSON{}
	for _, f := range findings {
		all = append(all, findingJSON{f.ID, f.About, f.Severity.String(), f.Text})
	}
	return all
}
