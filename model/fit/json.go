package fit

import (
	"encoding/json"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
)

type (
	resultJSON struct {
		Meters []meterJSON `json:"meters"`
	}
	meterJSON struct {
		Name    string    `json:"name"`
		Verdict string    `json:"verdict"`
		Why     string    `json:"why"`
		Missing []string  `json:"missing"`
		Ways    []wayJSON `json:"ways"`
	}
	wayJSON struct {
		ID        string               `json:"id"`
		Verdict   string               `json:"verdict"`
		Changes   []judge.ChangeRecord `json:"changes"`
		Parts     []string             `json:"parts"`
		Likely    *float64             `json:"likely"`
		Worst     *float64             `json:"worst"`
		LifeOn    *float64             `json:"life_on"`
		LifeMixed *float64             `json:"life_mixed"`
		Current   *float64             `json:"current"`
		Faults    int                  `json:"faults"`
		Cautions  int                  `json:"cautions"`
	}
)

// JSON returns meters as other programs read them, in SI units but for minutes of the dial
// and hours of life; null is what does not exist.
func JSON(meters []*Meter) ([]byte, error) {
	out := resultJSON{[]meterJSON{}}
	for _, m := range meters {
		j := meterJSON{m.Name, m.Verdict, m.Why, notNil(m.Missing), []wayJSON{}}
		for _, w := range m.Ways {
			j.Ways = append(j.Ways, wayJSON{
				w.ID, w.Verdict, judge.Records(m.Build(), w.Changes), notNil(w.Parts), model.OrNull(w.Likely), model.OrNull(w.Worst),
				model.OrNull(w.LifeOn), model.OrNull(w.LifeMixed), model.OrNull(w.Current), w.Faults, w.Cautions,
			})
		}
		out.Meters = append(out.Meters, j)
	}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}
