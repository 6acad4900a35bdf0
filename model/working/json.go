package working

import (
	"encoding/json"

	"example.com/needlewright/model"
)

// Parts of a working in the form of the catalogue.
type (
	workingJSON struct {
		ID     string      `json:"id"`
		Label  string      `json:"label"`
		Steps  []stepJSON  `json:"steps"`
		Value  float64     `json:"value"`
		Unit   string      `json:"unit"`
		Low    *float64    `json:"low"`
		High   *float64    `json:"high"`
		Shares []shareJSON `json:"shares"`
		Why    string      `json:"why"`
		Source string      `json:"source"`
	}
	stepJSON struct {
		Words      string `json:"words"`
		Expression string `json:"expression"`
		Answer     string `json:"answer"`
		Exact      bool   `json:"exact"`
	}
	shareJSON struct {
		Path  string  `json:"path"`
		Share float64 `json:"share"`
	}
)

// JSON returns the working in the form of the catalogue.
func (w *Working) JSON() ([]byte, error) {
	const least = 0.001 // share worth naming
	out := workingJSON{ID: w.Name, Label: w.Label, Value: w.Number, Unit: w.Unit.Base(), Steps: []stepJSON{}, Shares: []shareJSON{}, Why: w.Why, Source: w.From()}
	for _, s := range w.Steps {
		out.Steps = append(out.Steps, stepJSON(s))
	}
	for _, t := range w.Trials {
		if t.Expression != "" {
			out.Steps = append(out.Steps, stepJSON(t.Step))
		}
	}
	if w.Band != nil {
		out.Low, out.High = &w.Band.Low, &w.Band.High
		for _, s := range w.Band.Shares {
			if s.Share > least {
				out.Shares = append(out.Shares, shareJSON{s.Path(w.build), s.Share})
			}
		}
	}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}
