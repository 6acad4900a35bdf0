package class

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// A List is the builds of a class, or a shelf of clocks.
type List []*Row

// Faulty is how many of the builds have a fault.
func (l List) Faulty() int {
	n := 0
	for _, row := range l {
		if row.Faults > 0 {
			n++
		}
	}
	return n
}

type (
	handJSON struct {
		Name      string   `json:"name"`
		Coil      *float64 `json:"coil"`
		FullScale *float64 `json:"full_scale"`
		Parts     string   `json:"parts"`
		Overload  *float64 `json:"overload_worst"`
		Likely    *float64 `json:"minutes_likely"`
	}
	rowJSON struct {
		File     string     `json:"file"`
		Problem  string     `json:"problem"`
		Title    string     `json:"title"`
		Builder  string     `json:"builder"`
		Stage    string     `json:"stage"`
		Hands    []handJSON `json:"hands"`
		Overload *float64   `json:"overload_worst"`
		Likely   *float64   `json:"minutes_likely"`
		Life     *float64   `json:"life"`
		Faults   *int       `json:"faults"`
		Cautions *int       `json:"cautions"`
		Inside   *int       `json:"inside"`
		Readings *int       `json:"readings"`
	}
	listJSON struct {
		Builds []rowJSON `json:"builds"`
	}
)

// JSON returns the list in the form of the catalogue.
func (l List) JSON() ([]byte, error) {
	out := listJSON{Builds: []rowJSON{}}
	for _, row := range l {
		o := rowJSON{row.File, row.Problem, row.Title, row.Builder, row.Stage, []handJSON{}, model.OrNull(row.Overload), model.OrNull(row.Likely), model.OrNull(row.Life), nil, nil, nil, nil}
		if row.Problem == "" {
			o.Faults, o.Cautions, o.Inside, o.Readings = &row.Faults, &row.Cautions, &row.Inside, &row.Readings
		}
		for i := range row.Hands {
			h := &row.Hands[i]
			o.Hands = append(o.Hands, handJSON{h.Name, model.OrNull(h.Coil.Number), model.OrNull(h.FullScale.Number), h.Parts, model.OrNull(h.Overload), model.OrNull(h.Likely)})
		}
		out.Builds = append(out.Builds, o)
	}
	text, err := json.MarshalIndent(out, "", " ")
	return model.EscapeControls(text), err
}

// WriteCSV writes the list as a table: what each hand has for itself with semicolons between,
// the others as numbers, min and h.
func (l List) WriteCSV(w io.Writer) error {
	table := [][]string{{"file", "title", "builder", "stage", "coil", "full_scale", "parts", "overload_worst", "minutes_likely", "life", "faults", "cautions", "inside", "readings", "problem"}}
	for _, row := range l {
		cells := []string{row.File, row.Title, row.Builder, row.Stage, row.each((*Hand).CoilText), row.each((*Hand).FullScaleText), row.each(func(h *Hand) string { return h.Parts })}
		for i, text := range cells {
			cells[i] = model.CSVCell(text)
		}
		cells = append(cells, number(row.Overload), number(row.Likely), number(row.Life))
		for _, n := range []int{row.Faults, row.Cautions, row.Inside, row.Readings} {
			text := strconv.Itoa(n)
			if row.Problem != "" {
				text = ""
			}
			cells = append(cells, text)
		}
		table = append(table, append(cells, model.CSVCell(row.Problem)))
	}
	return csv.NewWriter(w).WriteAll(table)
}

// each is a text of each hand, with semicolons between.
func (row *Row) each(text func(*Hand) string) string {
	var all []string
	for i := range row.Hands {
		all = append(all, text(&row.Hands[i]))
	}
	return strings.Join(all, "; ")
}

// number is a number in full, "" for what is none.
func number(x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return strconv.FormatFloat(x, 'g', -1, 64)
}

// CoilText is the coil with its tolerance, "–" where it is not given.
func (h *Hand) CoilText() string { return given(h.Coil, quantity.Ohms) }

// FullScaleText is the full scale likewise.
func (h *Hand) FullScaleText() string { return given(h.FullScale, quantity.Microamperes) }

func given(v quantity.Value, u quantity.Unit) string {
	if !v.Given() {
		return "–"
	}
	return quantity.Format(v, u)
}
