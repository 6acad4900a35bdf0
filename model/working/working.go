// Package working shows how each result of a build comes about, a line a step: words, an
// expression with the build's own numbers, and its answer. Each line is true by itself: what
// is printed of it, computed, gives what is printed as its answer.
//
// The lines come from the formulas of the results and the tables of letters here; digits are
// chosen so that the last line tells the plan's own number.
package working

import (
	"cmp"
	"fmt"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
)

// A Working is how a result, or the choice of a part, comes about.
type Working struct {
	spread.Row // with its band; of a part without a result

	Name   string // "hours.trimmer_setting", "hours.series"
	Label  string
	Shown  string // its value as people read it
	About  string // "hand: hours"
	Unit   quantity.Unit
	Number float64 // its value, in its unit's base
	Steps  []Step
	Trials []Trial // of a part: what was tried, the best first
	Order  string  // by what they are ordered
	Why    string  // it matters
	Held   string  // what the value is held against, in a sentence; "": nothing

	build *model.Build
}

// Of returns the working of a result of a solved build, without its band. An error says that
// its lines do not come to the plan's number.
func Of(b *model.Build, p *circuit.Plan, o circuit.Outcome) (*Working, error) {
	return OfRow(b, p, spread.Row{Outcome: o})
}

// OfRow returns the working of a result with its band.
func OfRow(b *model.Build, p *circuit.Plan, row spread.Row) (w *Working, err error) {
	o := row.Outcome
	id := o.IDOf(b, o.Index)
	defer func() {
		if trouble := recover(); trouble != nil {
			err = fmt.Errorf("%s: %v", id, trouble)
		}
	}()
	d := newDesk(b, p, o.List(), o.Index)
	w = &Working{
		Row: row, Name: id, Label: strings.TrimSpace(o.Label), Shown: o.Text(), About: about(b, o.List(), o.Index),
		Unit: o.Unit, Number: o.Value, Why: d.rows[o.ID].why, build: b,
	}
	if held := workings[o.ID].verdict; held != nil {
		w.Held = held(d)
	}
	w.Label = cmp.Or(d.rows[o.ID].label, w.Label)
	if way, ok := ways[o.ID]; ok {
		w.Steps, err = way(d, o)
		return w, err
	}
	w.Steps, err = d.write(d.formula(d.formulaOf(o.Result)), d.rows[o.ID].words, o.Unit, o.Value, rounding(o))
	return w, err
}

// A Trial is a choice of a part that was tried: what it leaves to find, the figures by which
// it is judged, and a line of what it gives, without an expression where it gives no such
// thing.
type Trial struct {
	Step
	Figures string
}

// about is whose hand or lamp it is.
func about(b *model.Build, list string, i int) string {
	if list == "hand" || list == "lamp" || list == "button" {
		return list + ": " + b.NameOf(list, i)
	}
	return ""
}

// here marks the choice that the build has.
const here = "▸ "
