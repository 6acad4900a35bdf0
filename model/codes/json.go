package codes

import (
	"encoding/json"

	"example.com/needlewright/model"
)

type (
	codesJSON struct {
		Title   string      `json:"title"`
		Hands   []handJSON  `json:"hands"`
		Timer   timerJSON   `json:"timer"`
		Setting settingJSON `json:"setting"`
	}
	handJSON struct {
		Name     string      `json:"name"`
		Instants int         `json:"instants"`
		Counts   int         `json:"counts"`
		Top      int         `json:"top"`
		Bits     int         `json:"bits"`
		Codes    []int       `json:"codes"`
		Recipe   *recipeJSON `json:"recipe"`
		Ramp     rampJSON    `json:"ramp"`
		Park     parkJSON    `json:"park"`
		Moves    []moveJSON  `json:"moves"`
	}
	recipeJSON struct {
		Multiply int64 `json:"multiply"`
		Add      int64 `json:"add"`
		Shift    int   `json:"shift"`
		Bits     int   `json:"bits"`
	}
	rampJSON struct {
		PerTick float64 `json:"codes_per_tick"`
		Tick    float64 `json:"tick"`
	}
	parkJSON struct {
		Zero         int  `json:"zero"`
		Half         int  `json:"half"`
		ThreeQuarter int  `json:"three_quarter"`
		Top          int  `json:"top"`
		Low          *int `json:"low,omitempty"`
	}
	moveJSON struct {
		Event   string  `json:"event"`
		From    int     `json:"from"`
		To      int     `json:"to"`
		Seconds float64 `json:"seconds"`
	}
	timerJSON struct {
		Clock       *float64   `json:"clock"`
		Prescale    int        `json:"prescale"`
		Reload      int        `json:"reload"`
		Bits        int        `json:"bits"`
		Tick        *float64   `json:"tick"`
		TickCounted *float64   `json:"tick_counted"`
		Trim        trimJSON   `json:"trim"`
		Loads       []loadJSON `json:"loads"`
	}
	trimJSON struct {
		Add   int64    `json:"add"`
		Unit  string   `json:"unit"`
		Every int64    `json:"every"`
		Left  *float64 `json:"left"`
	}
	loadJSON struct {
		How     string       `json:"how"`
		Changes []changeJSON `json:"changes"`
	}
	changeJSON struct {
		Path  string `json:"path"`
		Value string `json:"value"`
	}
	settingJSON struct {
		On    string   `json:"on"`
		Back  string   `json:"back"`
		Slow  int      `json:"slow"`
		After int      `json:"after"`
		Fast  int      `json:"fast"`
		Round float64  `json:"round"`
		Steps []string `json:"steps"`
	}
)

// JSON returns the codes in the form of the catalogue, in SI units.
func (c *Codes) JSON() ([]byte, error) {
	out := codesJSON{Title: c.Title, Hands: []handJSON{}, Timer: c.Timer.json()}
	for i := range c.Hands {
		out.Hands = append(out.Hands, c.Hands[i].json())
	}
	s := &c.Setting
	out.Setting = settingJSON{s.On, s.Back, s.Slow, s.After, s.Fast, s.Round, s.Steps}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}

func (h *Hand) json() handJSON {
	p := h.Park
	out := handJSON{
		Name: h.Name, Instants: h.Instants, Counts: h.Counts, Top: h.Top, Bits: h.Bits, Codes: h.Codes,
		Ramp: rampJSON{h.Ramp.PerTick, h.Ramp.Tick}, Park: parkJSON{p.Zero, p.Half, p.ThreeQuarter, p.Top, nil}, Moves: []moveJSON{},
	}
	if r := h.Recipe; r != nil {
		out.Recipe = &recipeJSON{r.Multiply, r.Add, r.Shift, r.Bits}
	}
	if h.Bridge {
		out.Park.Low = &p.Low
	}
	for _, m := range h.Moves {
		out.Moves = append(out.Moves, moveJSON{m.Event, m.From, m.To, m.Seconds})
	}
	return out
}

func (t *Timer) json() timerJSON {
	out := timerJSON{
		model.OrNull(t.Clock), t.Prescale, t.Reload, t.Bits, model.OrNull(t.Tick), model.OrNull(t.TickCounted),
		trimJSON{t.Trim.Add, t.Trim.Unit, t.Trim.Every, model.OrNull(t.Trim.Left)}, []loadJSON{},
	}
	for _, l := range t.Loads {
		load := loadJSON{How: l.How}
		for _, c := range l.Changes {
			load.Changes = append(load.Changes, changeJSON{c[0], c[1]})
		}
		out.Loads = append(out.Loads, load)
	}
	return out
}
