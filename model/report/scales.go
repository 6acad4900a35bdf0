package report

import (
	"fmt"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/scale"
)

// A Scale is what the rows of a hand's scale say, and how wrong it is by what is done about
// its scale: errors of the coding in minutes of its dial.
type Scale struct {
	*scale.Fitted
	Hand, Shows       string
	Rows, Read        int // in the file, and those that could be read
	None, Codes, Dial float64
	Steep             scale.Steep
	Minutes           float64 // of the whole dial
}

// Scales returns that of each hand that has rows.
func (r *Report) Scales() []Scale {
	var all []Scale
	for i := range r.Build.Hands {
		h := &r.Build.Hands[i]
		f := scale.Of(h)
		if f == nil {
			continue
		}
		s := Scale{Fitted: f, Hand: h.Name, Shows: h.Shows, Rows: len(h.Scale), Read: len(f.Seen), Minutes: r.Plan.Minutes(i)}
		if f.Enough {
			c := r.Plan.Circuit.Hands[i].Quantisation()
			left := f.Straightened(c)
			s.None, s.Codes, s.Dial = left.None*s.Minutes, left.Codes*s.Minutes, left.Dial*s.Minutes
			s.Steep = f.Steepest(c)
		}
		all = append(all, s)
	}
	return all
}

// Off is an error of so many minutes, in seconds on a dial of one: "86 min", "0.9 min".
func (s *Scale) Off(minutes float64) string {
	unit := "min"
	if s.Minutes == 1 {
		minutes, unit = minutes*60, "s"
	}
	if minutes < 9.95 {
		return fmt.Sprintf("%.1f %s", minutes, unit)
	}
	return fmt.Sprintf("%.0f %s", minutes, unit)
}

// String says in a line what the scale is before and after, or what is missing, and where
// to look next.
func (s *Scale) String() string {
	text := s.Hand + ": scale of " + quantity.Counted(s.Read, "reading") + ": "
	if s.Enough {
		text += s.Off(s.None) + " off as it is, " + s.Off(s.Codes) + " straightened by codes, " + s.Off(s.Dial) + " on a drawn dial"
	} else {
		text += s.Why
	}
	if next := s.Wanted(); len(next) > 0 {
		text += fmt.Sprintf("; look next at code %d", next[0])
	}
	return text
}

// Parts of a scale in the form of the catalogue.
type (
	scaleJSON struct {
		Hand      string        `json:"hand"`
		Rows      int           `json:"rows"`
		Enough    bool          `json:"enough"`
		Why       string        `json:"why"`
		Zero      *float64      `json:"zero,omitempty"`
		FullScale *float64      `json:"full_scale,omitempty"`
		Stick     *float64      `json:"stick,omitempty"`
		Scatter   *float64      `json:"scatter,omitempty"`
		Left      *float64      `json:"left,omitempty"`
		None      *float64      `json:"none,omitempty"`
		Codes     *float64      `json:"codes,omitempty"`
		Dial      *float64      `json:"dial,omitempty"`
		Steepest  *steepJSON    `json:"steepest,omitempty"`
		Outliers  []outlierJSON `json:"outliers"`
		Scaled    []int         `json:"scaled"`
		Next      *codeJSON     `json:"next,omitempty"`
	}
	steepJSON struct {
		Step float64 `json:"step"`
		At   string  `json:"at"`
	}
	outlierJSON struct {
		Row int     `json:"row"`
		Off float64 `json:"off"`
	}
	codeJSON struct {
		Code int      `json:"code"`
		Off  *float64 `json:"off,omitempty"`
	}
)

// record is a scale in the form of the catalogue; what is not known of it is left out.
func (s *Scale) record() scaleJSON {
	j := scaleJSON{Hand: s.Hand, Rows: s.Rows, Enough: s.Enough, Why: s.Why, Stick: model.OrNull(s.Stick), Scatter: model.OrNull(s.Scatter), Outliers: []outlierJSON{}, Scaled: []int{}}
	if s.Enough {
		left := s.MostLeft()
		j.Zero, j.FullScale, j.Left = &s.Zero, &s.FullScale, &left
		j.None, j.Codes, j.Dial = &s.None, &s.Codes, &s.Dial
		j.Steepest = &steepJSON{s.Steep.Step * s.Minutes, quantity.FormatDial(s.Steep.At, s.Shows)}
	}
	for _, o := range s.Outliers {
		j.Outliers = append(j.Outliers, outlierJSON{o.Row, o.Off})
	}
	j.Scaled = append(j.Scaled, s.Scaled...)
	if s.Next.Code >= 0 {
		j.Next = &codeJSON{s.Next.Code, model.OrNull(s.Next.Off)}
	}
	return j
}
