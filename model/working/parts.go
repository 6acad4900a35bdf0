package working

import (
	"context"
	"fmt"
	"math"
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
	"pwm":             {before: "hand.pwm_frequency", list: "hand", formula: by("clock/(prescale·N)"), unit: quantity.Hertz, why: "The PWM must be too fast for the needle to follow, and for ears to hear, and have a code for each place."},
	"series":          {before: "hand.series_needed", list: "hand", formula: by("(top_voltage/I_fs − R_there − R_f)/R_t"), unit: quantity.Percent, why: "The trimmer must reach full scale in every kit, and its end must not burn the coil."},
	"supply":          {list: "battery", formula: by("cells·cell_fresh"), unit: quantity.Volts, why: "The cells must carry the clock, last long, and never lift the rail over what it stands."},
	"top":             {before: "hand.step", list: "hand", formula: by("S_f/T"), unit: quantity.Minutes, why: "A top code that shares the dial evenly makes every mark a code."},
	"filter":          {before: "hand.ripple_voltage_worst", list: "hand", formula: filtered("C·(R_a ∥ R_c)", "U/R_chain/I_fs"), unit: quantity.Seconds, why: "It must still the needle, and cost the cells little."},
	"load_capacitors": {before: "crystal.load_offset", list: "crystal", formula: by("pair + stray"), unit: quantity.Picofarads, why: "With its own load the crystal keeps its own time."},
	"lamp":            {before: "lamp.current", list: "lamp", formula: by("max(0, rail − forward)/(resistor + pin_resistance)"), unit: quantity.Milliamperes, why: "It must be seen, and spare the cells."},
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
	_, order, options := judge.Options(b, p, f, i)
	if part.ID == "series" {
		steps, err := neighbours(b, p, i)
		if err != nil {
			return nil, err
		}
		w.Steps = append(w.Steps, steps...)
	}
	for _, option := range options {
		step, err := row.try(b, i, &option)
		if err != nil {
			return nil, err
		}
		if step != nil {
			w.Steps = append(w.Steps, *step)
		}
		w.Trials = append(w.Trials, trial(&option))
	}
	w.Order = order
	return w, nil
}

// here marks the choice that the build has.
const here = "▸ "

// try is what a choice gives, in a line; none where it gives no such thing.
func (row *partRow) try(b *model.Build, i int, option *judge.Option) (*Step, error) {
	changed := b.Changed(option.Changes)
	var p circuit.Plan
	circuit.Evaluate(changed, &p)
	d := newDesk(changed, &p, row.list, i)
	unit := row.unit
	if row.list == "hand" && p.Circuit.Hands[i].Capacitor == 0 && unit == quantity.Seconds || row.list == "battery" && !p.Circuit.Battery.Present {
		return nil, nil
	}
	e := d.formula(row.formula(d))
	if x := e.value(); math.IsNaN(x) || math.IsInf(x, 0) {
		return nil, nil
	}
	steps, err := d.write(e, "", unit, e.value()/scale(unit), 0)
	if err != nil {
		return nil, err
	}
	step := steps[len(steps)-1]
	step.Words = option.Choice
	if len(option.Changes) == 0 {
		step.Words = here + step.Words
	}
	return &step, nil
}

// trial is what a choice leaves to find, and the figures by which it is judged.
func trial(o *judge.Option) string {
	text := o.Choice
	if len(o.Changes) == 0 {
		text = here + text
	}
	text += ": " + quantity.Counted(o.Left.Faults, "fault") + ", " + quantity.Counted(o.Left.Cautions, "caution") + ", " + quantity.Counted(o.Left.Notes, "note")
	for _, f := range o.Figures {
		text += "; " + f.Name + " " + f.Value
	}
	return text
}

// trialKits are how many kits are made of each neighbour of a fixed resistor.
const trialKits = 2000

// neighbours are where the present trimmer stands with the fixed resistors of E24 beside the
// present one, and how many kits trim up then.
func neighbours(b *model.Build, p *circuit.Plan, i int) ([]Step, error) {
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

// about is whose hand or lamp it is.
func about(b *model.Build, list string, i int) string {
	if list == "hand" || list == "lamp" || list == "button" {
		return list + ": " + b.NameOf(list, i)
	}
	return ""
}

// trialLines are what was tried, as text.
func (w *Working) trialLines() []string {
	lines := wrap("Tried, the best first; " + strings.TrimSpace(here) + " is what the build has. " + w.Order)
	for _, t := range w.Trials {
		lines = append(lines, hang("   "+t, wordsAt+2)...)
	}
	return lines
}
