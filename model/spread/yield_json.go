package spread

import (
	"encoding/json"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A YieldResult is how one result spreads over the kits.
type YieldResult struct {
	ID    string // "hours.dial_error", "crystal.rate"
	Label string
	*Histogram
}

// LeftOut is what an error of the yield has not in it; the error budget has.
const LeftOut = "class, drift and friction"

// Results are the histograms that exist for the build, a hand's together.
func (y *Yield) Results() []YieldResult {
	var list []YieldResult
	add := func(id, label string, h *Histogram) {
		if h != nil {
			list = append(list, YieldResult{id, label, h})
		}
	}
	for i := range y.Hands {
		h := &y.Hands[i]
		add(h.Name+".trimmer_travel", h.Name+": trimmer travel", h.Travel)
		add(h.Name+".dial_error", h.Name+": largest dial error without "+LeftOut, h.Error)
	}
	add("crystal.rate", "Rate", y.Rate)
	add("battery.life_on", "Life, always awake", y.LifeOn)
	add("battery.life_mixed", "Life as used", y.LifeMixed)
	return list
}

// Texts are the input's value with its tolerance as it is, and halved.
func (t Tighter) Texts(b *model.Build) (whole, half string) {
	v := *t.Field.At(b, t.Index).(*quantity.Value)
	whole = quantity.Format(v, t.Field.Unit)
	if t.Field.Path == crystalTolerance {
		v.Number /= 2
	}
	v.Tolerance /= 2
	return whole, quantity.Format(v, t.Field.Unit)
}

type (
	otherJSON struct {
		Value float64 `json:"value"`
		Kits  int     `json:"kits"`
	}
	lackJSON struct {
		Kits     int         `json:"kits"`
		Trimmers []otherJSON `json:"trimmers"`
		Fixed    []otherJSON `json:"fixed"`
	}
	gainJSON struct {
		Kits    int     `json:"kits"`
		TrimUp  int     `json:"trim_up"`
		Error95 float64 `json:"dial_error_95"`
	}
	tighterJSON struct {
		Path  string `json:"path"`
		Value string `json:"value"`
		Half  string `json:"half"`
		gainJSON
	}
	handYieldJSON struct {
		Name    string        `json:"name"`
		TrimUp  int           `json:"trim_up"`
		More    lackJSON      `json:"need_more"`
		Less    lackJSON      `json:"need_less"`
		Before  gainJSON      `json:"before"`
		Tighter []tighterJSON `json:"tighter"`
	}
	percentileJSON struct {
		Share float64 `json:"share"`
		Value float64 `json:"value"`
	}
	binJSON struct {
		From float64 `json:"from"`
		To   float64 `json:"to"`
		Kits int     `json:"kits"`
	}
	histogramJSON struct {
		ID          string           `json:"id"`
		Unit        string           `json:"unit"`
		Least       float64          `json:"least"`
		Most        float64          `json:"most"`
		Percentiles []percentileJSON `json:"percentiles"`
		Bins        []binJSON        `json:"bins"`
	}
)

// JSON returns the yield in the form of the catalogue.
func (y *Yield) JSON() ([]byte, error) {
	out := struct {
		Title   string          `json:"title"`
		Kits    int             `json:"kits"`
		Seed    uint64          `json:"seed"`
		Inputs  int             `json:"inputs"`
		TrimUp  int             `json:"trim_up"`
		Hands   []handYieldJSON `json:"hands"`
		Results []histogramJSON `json:"results"`
	}{y.Build.Title, y.Kits, y.Seed, y.Inputs, y.TrimUp, []handYieldJSON{}, []histogramJSON{}}
	for i := range y.Hands {
		out.Hands = append(out.Hands, y.Hands[i].json(y.Build))
	}
	for _, r := range y.Results() {
		out.Results = append(out.Results, r.json())
	}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}

func (h *HandYield) json(b *model.Build) handYieldJSON {
	out := handYieldJSON{
		Name: h.Name, TrimUp: h.TrimUp, More: h.More.json(), Less: h.Less.json(),
		Before: gainJSON(h.Before), Tighter: []tighterJSON{},
	}
	for _, t := range h.Tighter {
		whole, half := t.Texts(b)
		out.Tighter = append(out.Tighter, tighterJSON{t.Path(b), whole, half, gainJSON(t.Gain)})
	}
	return out
}

func (l *Lack) json() lackJSON {
	out := lackJSON{l.Kits, []otherJSON{}, []otherJSON{}}
	for _, o := range l.Trimmers {
		out.Trimmers = append(out.Trimmers, otherJSON(o))
	}
	for _, o := range l.Fixed {
		out.Fixed = append(out.Fixed, otherJSON(o))
	}
	return out
}

func (r YieldResult) json() histogramJSON {
	out := histogramJSON{ID: r.ID, Unit: r.Unit.Base(), Least: r.Least, Most: r.Most}
	for i, share := range Percentiles {
		out.Percentiles = append(out.Percentiles, percentileJSON{share, r.At[i]})
	}
	for _, b := range r.Bins {
		out.Bins = append(out.Bins, binJSON(b))
	}
	return out
}
