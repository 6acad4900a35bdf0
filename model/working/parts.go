package working

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
)

// A partRow is what the working of a chosen part needs beside the choices: the result whose
// working leads up to it, and a formula that says in a line what a choice gives.
type partRow struct {
	before  string // the last part of a result's id
	list    string // of the letters of the formula
	formula func(d *desk) string
	unit    quantity.Unit
	why     string
}

// partRows is a row for each part.
var partRows = map[string]partRow{
	"pwm":    {before: "hand.pwm_frequency", list: "hand", formula: by("clock/(prescale·N)"), unit: quantity.Hertz, why: "The PWM must be too fast for the needle to follow, and for ears to hear, and have a code for each place."},
	"series": {before: "hand.series_needed", list: "hand", formula: by("(R_all − R_there − R_f)/R_t"), unit: quantity.Percent, why: "The trimmer must reach full scale in every kit, and its end must not burn the coil."},
	"supply": {list: "battery", formula: by("cells·cell_fresh"), unit: quantity.Volts, why: "The cells must carry the clock, last long, and never lift the rail over what it stands."},
	"top":    {before: "hand.step", list: "hand", formula: by("S_f/T"), unit: quantity.Minutes, why: "A top code that shares the dial evenly makes every mark a code."},
	"filter": {before: "hand.ripple_voltage_worst", list: "hand", formula: filtered("C·(R_a ∥ R_c)", "U/R_chain/I_fs"), unit: quantity.Seconds, why: "It must still the needle, and cost the cells little."},
	"load_capacitors": {before: "crystal.load_offset", list: "crystal", formula: func(d *desk) string {
		c := &d.p.Circuit.Crystal
		return choose(c.In == 0 || c.Out == 0, "stray", "C_in·C_out/(C_in + C_out) + stray")
	}, unit: quantity.Picofarads, why: "With its own load the crystal keeps its own time."},
	"lamp": {before: "lamp.current", list: "lamp", formula: by("max(0, rail − forward)/(resistor + pin_resistance)"), unit: quantity.Milliamperes, why: "It must be seen, and spare the cells."},
}

// partIDs are the names of the parts that a build can have chosen.
func partIDs(b *model.Build, p *circuit.Plan) []string {
	var ids []string
	for _, part := range judge.Parts() {
		for i := range part.Field.Of(b) {
			if part.ID == "load_capacitors" && math.IsNaN(p.Crystal.LoadOffset) || part.ID == "supply" && !p.Circuit.Battery.Present {
				continue
			}
			ids = append(ids, partID(b, &part, i))
		}
	}
	return ids
}

// partID is the name of the part of the i-th hand or lamp.
func partID(b *model.Build, part *judge.Part, i int) string {
	switch list := part.Field.List(); list {
	case "hand":
		return b.NameOf(list, i) + "." + part.ID
	case "lamp":
		return list + "." + b.NameOf(list, i) + "." + part.ID
	}
	return part.ID
}

// PartAt is the name of the part that a field of the i-th hand or lamp belongs to, "" where it
// is none.
func PartAt(b *model.Build, f *model.Field, i int) string {
	part, ok := judge.PartAt(f)
	if !ok {
		return ""
	}
	if part.Field.List() == "" {
		i = 0
	}
	return partID(b, &part, i)
}

// ofPart returns the working of a chosen part: what leads up to it, what each choice gives and
// leaves to find, the best first, and by what they are ordered.
func ofPart(b *model.Build, p *circuit.Plan, id string) (*Working, error) {
	for _, part := range judge.Parts() {
		for i := range part.Field.Of(b) {
			if partID(b, &part, i) == id {
				return partOf(b, p, &part, i)
			}
		}
	}
	return nil, &Missing{Name: id}
}

func partOf(b *model.Build, p *circuit.Plan, part *judge.Part, i int) (*Working, error) {
	row := partRows[part.ID]
	f := part.Field
	w := &Working{Name: partID(b, part, i), Label: part.Title, Why: row.why, Unit: f.Unit, Number: f.Number(b, i), build: b, About: about(b, f.List(), i)}
	w.Shown = model.OrNone(model.NominalText(f.Text(b, i)))
	if part.ID == "pwm" {
		w.Unit, w.Number = quantity.Hertz, p.Hands[i].PWMFrequency
		w.Shown = quantity.Show(w.Number, w.Unit, fewest)
	}
	if math.IsNaN(w.Number) {
		w.Number = 0
	}
	for _, o := range circuit.Outcomes(p) {
		if o.ID == row.before && o.Index == i {
			led, err := Of(b, p, o)
			if err != nil {
				return nil, err
			}
			w.Steps = led.Steps
		}
	}
	if part.ID == "series" {
		steps, err := neighbours(b, i)
		if err != nil {
			return nil, err
		}
		together, err := proof(b, p, i)
		if err != nil {
			return nil, err
		}
		w.Steps = slices.Concat(w.Steps, steps, together)
	}
	var options []judge.Option
	_, w.Order, options = judge.Options(b, p, f, i)
	for _, option := range options {
		tried, err := row.try(b, i, &option)
		if err != nil {
			return nil, err
		}
		w.Trials = append(w.Trials, tried)
	}
	return w, nil
}

// try is a choice tried.
func (row *partRow) try(b *model.Build, i int, option *judge.Option) (Trial, error) {
	t := Trial{Step: Step{Words: option.Choice + ": " + leftText(&option.Left)}}
	if len(option.Changes) == 0 {
		t.Words = here + t.Words
	}
	var figures []string
	for _, f := range option.Figures {
		figures = append(figures, f.Name+" "+f.Value)
	}
	t.Figures = strings.Join(figures, ", ")
	changed := b.Changed(option.Changes)
	var p circuit.Plan
	circuit.Evaluate(changed, &p)
	d := newDesk(changed, &p, row.list, i)
	if row.list == "hand" && p.Circuit.Hands[i].Capacitor == 0 && row.unit == quantity.Seconds || row.list == "battery" && !p.Circuit.Battery.Present {
		return t, nil
	}
	e := d.formula(row.formula(d))
	if x := e.value(); math.IsNaN(x) || math.IsInf(x, 0) {
		return t, nil
	}
	steps, err := d.write(e, t.Words, row.unit, e.value()/scale(row.unit), 0)
	if err != nil {
		return t, err
	}
	t.Step = steps[len(steps)-1]
	return t, nil
}

// leftText is what a choice leaves to find: "1 caution, 6 notes".
func leftText(l *judge.Left) string {
	var texts []string
	for _, x := range [...]struct {
		n    int
		what string
	}{{l.Faults, "fault"}, {l.Cautions, "caution"}, {l.Notes, "note"}} {
		if x.n > 0 {
			texts = append(texts, quantity.Counted(x.n, x.what))
		}
	}
	if texts == nil {
		return "nothing found"
	}
	return strings.Join(texts, ", ")
}

// trialKits are how many kits are made of each neighbour of a fixed resistor.
const trialKits = 2000

// proof are two lines that put the parts together again: all resistance with the trimmer as it
// is set, and the current that the top code then drives.
func proof(b *model.Build, p *circuit.Plan, i int) ([]Step, error) {
	d := newDesk(b, p, "hand", i)
	if math.IsNaN(p.Hands[i].PinMeanCurrent) || math.IsInf(p.Hands[i].PinMeanCurrent, 0) {
		return nil, nil
	}
	d.let("together", "Proof: all with the trimmer set", quantity.Ohms, "R_there + R_f + r")
	steps, err := d.write(d.formula("top_voltage/together"), "Proof: its current at top code", quantity.Amperes, p.Hands[i].PinMeanCurrent, 0)
	if err != nil {
		return nil, err
	}
	return slices.DeleteFunc(steps, func(s Step) bool { return !strings.HasPrefix(s.Words, "Proof") }), nil
}

// neighbours are where the present trimmer stands with the fixed resistors of E24 beside the
// present one, and how many kits trim up then.
func neighbours(b *model.Build, i int) ([]Step, error) {
	drive := &b.Hands[i].Drive
	fixed := drive.Fixed.Number
	if !(fixed > 0) || drive.Trimmer.Number == 0 || drive.Setting.Given() {
		return nil, nil
	}
	var steps []Step
	for _, x := range [...]float64{calc.NextPreferred(fixed, calc.E24, false), fixed, calc.NextPreferred(fixed, calc.E24, true)} {
		value := drive.Fixed
		value.Number = x
		f := model.Builds.Field("hand.drive.fixed")
		text := quantity.Format(value, f.Unit)
		changed := b.Changed([]model.Change{{Field: f, Index: i, Text: text}})
		y, err := spread.NewYield(context.Background(), changed, trialKits, 1, nil)
		if err != nil {
			return nil, err
		}
		var plan circuit.Plan
		circuit.Evaluate(changed, &plan)
		d := newDesk(changed, &plan, "hand", i)
		e := d.formula("(series_needed − R_f)/R_t")
		lines, err := d.write(e, "", quantity.Percent, plan.Hands[i].TrimmerTravel, 1e-12)
		if err != nil {
			return nil, err
		}
		step := lines[len(lines)-1]
		step.Words = fmt.Sprintf("%s: %s of kits trim up", model.NominalText(text), spread.ShareOf(y.Hands[i].TrimUp, y.Kits))
		if x == fixed {
			step.Words = here + step.Words
		}
		steps = append(steps, step)
	}
	return steps, nil
}
