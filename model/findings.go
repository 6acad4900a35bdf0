package model

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Severity is how bad a finding is.
type Severity uint8

// The severities, mildest first.
const (
	Sound Severity = iota // no finding
	Note
	Caution
	Fault
)

func (s Severity) String() string { return [...]string{"sound", "note", "caution", "fault"}[s] }

// A Finding is a judgement of a build: what is so, and what to do.
type Finding struct {
	ID       string
	About    string // a hand's or lamp's name, or ""
	Severity Severity
	Text     string
	Advice   string
	Field    string // path of the field that most likely mends it
}

// String is the finding in words, without its advice: "fault: hours: …".
func (f Finding) String() string {
	if f.About == "" {
		return f.Severity.String() + ": " + f.Text
	}
	return f.Severity.String() + ": " + f.About + ": " + f.Text
}

// Findings judges a solved plan, the worst first, in the order of the table
// where they are alike.
func Findings(b *Build, p *Plan) []Finding {
	var found []Finding
	for _, rule := range rules {
		for i := range rule.of(b) {
			s, text, advice := rule.judge(b, p, i)
			if s == Sound {
				continue
			}
			field := fieldTable[rule.field]
			f := Finding{ID: rule.id, Severity: s, Text: text, Advice: advice, Field: field.PathOf(b, i)}
			if field.list != "" {
				f.About = nameOf(b, field.list, i)
			}
			if rule.mend != nil {
				path, index := rule.mend(b, p, i)
				f.Field = fieldTable[path].PathOf(b, index)
			}
			found = append(found, f)
		}
	}
	slices.SortStableFunc(found, func(a, b Finding) int { return cmp.Compare(b.Severity, a.Severity) })
	return found
}

// A rule is one row of the findings table.
type rule struct {
	id    string
	field string // that mends it; a rule of a hand's or lamp's field judges each of them
	judge func(b *Build, p *Plan, i int) (s Severity, text, advice string)
	mend  func(b *Build, p *Plan, i int) (field string, index int) // where it is not always field that mends it
}

// of is how many hands or lamps the rule judges, 1 for the whole build.
func (r *rule) of(b *Build) int { return fieldTable[r.field].Of(b) }

// none is a limit that is never passed.
var none = math.Inf(1)

// above grades a number that should be small by the limits it passes.
func above(x, note, caution, fault float64) Severity {
	switch {
	case x > fault:
		return Fault
	case x > caution:
		return Caution
	case x > note:
		return Note
	}
	return Sound // so is NaN: what does not exist is not judged
}

// below grades a number that should be large.
func below(x, note, caution, fault float64) Severity { return above(-x, -note, -caution, -fault) }

// show is a number as people read it, in three digits.
func show(x float64, u quantity.Unit) string { return quantity.Show(x, u, 3) }

const day, year = 24, calc.HoursAYear // h

// rules is the findings table. Limits: common practice, no source, unless a row
// says otherwise.
var rules = []rule{
	{id: "trimmer_travel", field: "hand.drive.fixed", judge: func(b *Build, p *Plan, i int) (Severity, string, string) {
		h := &p.Hands[i]
		better := h.SeriesNeeded - b.Hands[i].Drive.Trimmer.Number/2
		advice := "Take a smaller trimmer, or a higher rail: there is too little voltage to drop."
		if better > 0 {
			near := plainText(calc.NearestPreferred(better, calc.E24), quantity.Ohms)
			advice = "A fixed resistor of " + near + " brings the trimmer near its middle."
		}
		return above(math.Abs(h.TrimmerTravel-0.5), none, 0.4, 0.5),
			"Full scale asks for " + show(h.TrimmerTravel, quantity.Percent) + " of the trimmer's travel.", advice
	}},
	{id: "full_scale_reached", field: "hand.drive.fixed", judge: func(_ *Build, p *Plan, i int) (Severity, string, string) {
		reached, needed := p.Hands[i].FullScaleReached, p.Hands[i].SeriesNeeded
		advice := "Bring the series resistance to " + show(needed, quantity.Ohms) + ", trimmer included."
		if needed < 0 {
			advice = "The rail is too low for this coil even without any: a higher rail, or a meter that needs less voltage."
		}
		return above(math.Abs(reached-1), none, 0.01, 0.03),
			"At the top code the needle gets " + show(reached, quantity.Percent) + " of its full-scale current.", advice
	}, mend: func(b *Build, _ *Plan, i int) (string, int) {
		if b.Hands[i].Drive.Setting.Given() {
			return "hand.drive.setting", i
		}
		return "hand.drive.fixed", i
	}},
	{id: "overload_worst", field: "hand.drive.fixed", judge: func(b *Build, p *Plan, i int) (Severity, string, string) {
		worst := p.Hands[i].OverloadWorst
		return above(worst, 1, b.Hands[i].Meter.Overload.Number, 2),
			"Pin high, trimmer at zero: " + show(worst, quantity.Times) + " times full scale.",
			"Set the trimmer to its maximum before the first power-up; a larger fixed resistor and a smaller trimmer protect the coil for good."
	}},
	{id: "pin_mean_current", field: "hand.meter.full_scale", judge: func(b *Build, p *Plan, i int) (Severity, string, string) {
		mean := p.Hands[i].FullScaleReached * b.Hands[i].Meter.FullScale.Number
		share := mean / b.Hands[i].Drive.PinLimit.Number
		return above(share, 0.25, 0.5, 1),
			"At the top code the pin gives " + show(mean, quantity.Milliamperes) + ", " + show(share, quantity.Percent) + " of its limit.",
			"Its voltage sags and drifts well below the limit: a more sensitive meter, or a driver stage."
	}},
	{id: "pin_peak_current", field: "hand.drive.stage", judge: func(b *Build, p *Plan, i int) (Severity, string, string) {
		peak := p.Hands[i].PinPeakCurrent
		share := peak / b.Hands[i].Drive.PinLimit.Number
		return above(share, none, 0.5, 1),
			"Into the empty capacitor the pin gives " + show(peak, quantity.Milliamperes) + ", " + show(share, quantity.Percent) + " of its limit.",
			"Put more resistance before the capacitor."
	}},
	{id: "ripple_needle", field: "hand.drive.capacitor", judge: func(_ *Build, p *Plan, i int) (Severity, string, string) {
		return above(p.Hands[i].RippleNeedle/p.Minutes(i), 0.002, 0.005, 0.02),
			"The needle trembles by " + dialTime(p.Hands[i].RippleNeedle) + ".",
			"A faster PWM or a larger capacitor steadies it; 0.2 % of the scale is what the eye sees."
	}},
	{id: "fade_error", field: "converter.kind", judge: func(_ *Build, p *Plan, _ int) (Severity, string, string) {
		worst, at := 0.0, 0
		for i := range p.Hands {
			if share := p.Hands[i].FadeError / p.Minutes(i); share > worst {
				worst, at = share, i
			}
		}
		if worst == 0 {
			return Sound, "", ""
		}
		return above(worst, none, 0.01, 0.05),
			"As the cells fade the needle falls back by up to " + dialTime(p.Hands[at].FadeError) + ".",
			"Hold the rail with a converter: the needle follows it one to one."
	}},
	{id: "temperature_error", field: "hand.drive.resistor_tempco", judge: func(_ *Build, p *Plan, i int) (Severity, string, string) {
		h := &p.Hands[i]
		return above(h.TemperatureError, h.Step, 0.02*p.Minutes(i), none),
			"Over the room's temperatures full scale wanders by " + dialTime(h.TemperatureError) + ".",
			"More series resistance against the copper coil, or trim at the room's middle temperature."
	}},
	{id: "equal_steps", field: "hand.drive.top", judge: func(b *Build, p *Plan, i int) (Severity, string, string) {
		_, steps := dial(b.Hands[i].Shows)
		d := &b.Hands[i].Drive
		if steps%d.Top == 0 || d.Top%steps == 0 || b.Hands[i].Correct == "codes" { // a table makes unequal steps anyhow
			return Sound, "", ""
		}
		return Note, fmt.Sprintf("%d codes do not share the dial's %d steps evenly.", d.Top, steps),
			fmt.Sprintf("A top code of %d makes equal steps.", equalTop(steps, d.Counts))
	}},
	{id: "scale_class", field: "hand.meter.class", judge: func(b *Build, p *Plan, i int) (Severity, string, string) {
		class := b.Hands[i].Meter.Class.Number
		if b.Hands[i].Correct != "none" {
			return Sound, "", ""
		}
		return above(class*p.Minutes(i), p.Hands[i].Step, none, none),
			"Class " + show(class, quantity.Percent) + " alone is ±" + dialTime(class*p.Minutes(i)) + ", more than a code.",
			"Measure the scale at some codes and straighten it: worth more than more bits."
	}},
	{id: "rail_maximum", field: "rail.maximum", judge: func(b *Build, _ *Plan, _ int) (Severity, string, string) {
		most := mostRail(b)
		advice := "A lower rail."
		switch {
		case most <= b.Rail.Voltage.High(): // not the cells' doing
		case b.Converter.Kind == "boost":
			advice = "Fewer cells, or a regulator between: a step-up passes a higher input through."
		default:
			advice = "Fewer cells, or a regulator between: nothing else holds the rail down."
		}
		return above(most, none, none, b.Rail.Maximum.Number),
			"The rail can come to " + show(most, quantity.Volts) + "; the controller stands " + show(b.Rail.Maximum.Number, quantity.Volts) + ".", advice
	}, mend: func(b *Build, _ *Plan, _ int) (string, int) {
		if mostRail(b) > b.Rail.Voltage.High() {
			return "battery.cells", 0
		}
		return "rail.voltage", 0
	}},
	{id: "passes_through", field: "battery.cells", judge: func(b *Build, p *Plan, _ int) (Severity, string, string) {
		if !hasBattery(&b.Battery) || b.Converter.Kind != "boost" {
			return Sound, "", ""
		}
		fresh := p.circuit.Battery.Pack.Fresh()
		rail := b.Rail.Voltage.Number
		return above(fresh, rail-0.2, rail, none), // the fault is rail_maximum's
			"The fresh pack stands at " + show(fresh, quantity.Volts) + ", near or above the rail of " + show(b.Rail.Voltage.Number, quantity.Volts) + ".",
			"The step-up passes it through and full scale is off until the cells fade: one cell less."
	}},
	{id: "brown_out", field: "load.minimum_voltage", judge: func(b *Build, _ *Plan, _ int) (Severity, string, string) {
		minimum := b.Load.MinimumVoltage.Number
		return below(b.Rail.Voltage.Number, -none, minimum+0.2, minimum),
			"The rail of " + show(b.Rail.Voltage.Number, quantity.Volts) + " is near or below the controller's minimum of " + show(minimum, quantity.Volts) + ".",
			"A higher rail, or a lower brown-out setting if the controller has one."
	}},
	{id: "load_offset", field: "crystal.capacitor_in", judge: func(_ *Build, p *Plan, _ int) (Severity, string, string) {
		off, each := p.Crystal.LoadOffset, p.Crystal.CapacitorEach
		advice := "Two capacitors of " + show(each, quantity.Picofarads) + " make the load it is cut for."
		if each <= 0 {
			advice = "The stray alone is more than the load it is cut for: a crystal for a larger load, or shorter tracks."
		}
		return above(math.Abs(off), 10, 20, 100),
			"The load capacitors put the crystal off by " + show(off, quantity.PPM) + ", " + show(calc.SecondsADay*off, quantity.SecondsPerDay) + ".", advice
	}},
	{id: "gain_margin", field: "crystal.transconductance", judge: func(b *Build, p *Plan, _ int) (Severity, string, string) {
		// Source: ST AN2867 asks for 5.
		needs := show(p.Crystal.TransconductanceCritical, quantity.Microsiemens)
		if !b.Crystal.Transconductance.Given() && !math.IsNaN(p.Crystal.TransconductanceCritical) {
			return Note, "Whether the crystal starts for sure is not known: it needs " + needs + ", five times over.",
				"Give the oscillator's transconductance from the controller's data sheet."
		}
		return below(p.Crystal.GainMargin, -none, 5, 3),
			"The oscillator has " + show(p.Crystal.GainMargin, quantity.Times) + " times the " + needs + " the crystal needs; 5 is safe.",
			"A crystal with a smaller load or series resistance, or a stronger oscillator setting."
	}},
	{id: "lamp_voltage", field: "lamp.forward", judge: func(b *Build, _ *Plan, i int) (Severity, string, string) {
		over := b.Rail.Voltage.Number - b.Lamps[i].Forward.Number
		if over <= 0 {
			return Fault, "The rail does not reach above the lamp's own voltage: it stays dark.", "A higher rail, or a lamp of another colour."
		}
		return below(over, -none, 0.5, -none),
			"The rail is only " + show(over, quantity.Volts) + " above the lamp's own voltage.",
			"Its brightness follows every change of the rail: a lamp of another colour needs less."
	}},
	{id: "lamp_current", field: "lamp.resistor", judge: func(_ *Build, p *Plan, i int) (Severity, string, string) {
		current := p.Lamps[i].Current
		if current > 0 && current < 0.3e-3 {
			return Note, "At " + show(current, quantity.Milliamperes) + " the lamp is dim.", "A smaller resistor; 1 to 2 mA is bright."
		}
		return above(current, none, 10e-3, 20e-3),
			"The lamp takes " + show(current, quantity.Milliamperes) + ".",
			"A larger resistor: 1 to 2 mA is bright enough, and the lamps are most of what a waking clock draws."
	}},
	{id: "lamp_unknown", field: "lamp.forward", judge: func(_ *Build, p *Plan, i int) (Severity, string, string) {
		if !math.IsNaN(p.Lamps[i].Current) {
			return Sound, "", ""
		}
		return Caution, "What the lamp draws is not known, and so how long the cells last is not either.",
			"Give its forward voltage and its resistor."
	}},
	{id: "load_unknown", field: "load.controller_on", judge: func(b *Build, _ *Plan, _ int) (Severity, string, string) {
		if !hasBattery(&b.Battery) || b.Load.ControllerOn.Given() && b.Load.ControllerOff.Given() && b.Battery.Capacity.Given() {
			return Sound, "", ""
		}
		return Note, "How long the cells last is not known in full: the controller's currents and the cells' capacity are needed.",
			"Measure what it takes awake and asleep; typical cells are in the list."
	}},
	{id: "pack_carries", field: "battery.cell", judge: func(b *Build, p *Plan, _ int) (Severity, string, string) {
		if !hasBattery(&b.Battery) || !math.IsNaN(p.Battery.CurrentOn) || math.IsNaN(p.Battery.RailCurrentOn) {
			return Sound, "", ""
		}
		return Fault, "The fresh pack cannot carry the waking clock: its own resistance takes too much.",
			"Larger cells, more of them, or less load."
	}},
	{id: "life_on", field: "load.controller_on", judge: func(b *Build, p *Plan, _ int) (Severity, string, string) {
		life, load := p.Battery.LifeOn, p.Battery.RailCurrentOn
		advice := "Let it sleep when nobody looks: the controller takes " + show(b.Load.ControllerOn.Number/load, quantity.Percent) + " of the load."
		if _, lamps := p.heaviestLamp(); lamps > load/2 {
			advice = "The lamps are " + show(lamps/load, quantity.Percent) + " of the load: larger resistors, or let it sleep when nobody looks."
		}
		return below(life, 60*day, 30*day, day), "Always awake the cells last " + Duration(life) + ".", advice
	}, mend: func(_ *Build, p *Plan, _ int) (string, int) {
		if i, lamps := p.heaviestLamp(); lamps > p.Battery.RailCurrentOn/2 {
			return "lamp.resistor", i
		}
		return "load.controller_on", 0
	}},
	{id: "life_standby", field: "load.controller_off", judge: func(b *Build, p *Plan, _ int) (Severity, string, string) {
		life, shelf := p.Battery.LifeStandby, b.Battery.ShelfLife.Number*year
		if life == shelf {
			return Note, "Asleep the cells last their shelf life of " + Duration(life) + ": it decides.", "Nothing is gained by a smaller sleeping current."
		}
		advice := "Find what is still awake: a pin left floating, a pull-up, a lamp, the brown-out detector."
		if share := quiescentShare(b, p); share > 0.5 {
			advice = "The converter's own current is " + show(share, quantity.Percent) + " of it: look there first."
		}
		return below(life, -none, year, 30*day), "Asleep the cells last " + Duration(life) + ".", advice
	}, mend: func(b *Build, p *Plan, _ int) (string, int) {
		if quiescentShare(b, p) > 0.5 {
			return "converter.quiescent", 0
		}
		return "load.controller_off", 0
	}},
	{id: "cell_safety", field: "battery.cell", judge: func(b *Build, _ *Plan, _ int) (Severity, string, string) {
		switch cell := b.Battery.Cell; {
		case b.Battery.Cells == 0:
			return Sound, "", ""
		case strings.HasPrefix(cell, "CR"):
			return Note, "A swallowed coin cell can kill a child.", "A holder closed with a screw; if one is swallowed, emergency help at once."
		case strings.HasPrefix(cell, "Li-ion"):
			return Note, "A shorted lithium cell burns.", "Protected cells only, in a holder with a fuse, charged on a proper charger; never solder to a cell. Local rules decide."
		}
		return Sound, "", ""
	}},
}

// heaviestLamp is the kind of lamp that takes most from the rail, and what all
// lamps take together, A.
func (p *Plan) heaviestLamp() (index int, all float64) {
	most := 0.0
	for i := range p.Lamps {
		takes := p.circuit.Lamps[i].Share * p.Lamps[i].Current
		if takes > most {
			index, most = i, takes
		}
		all += takes
	}
	return index, all
}

// quiescentShare is the converter's own share of what a sleeping clock takes.
func quiescentShare(b *Build, p *Plan) float64 {
	if b.Converter.Kind == "none" {
		return 0
	}
	return b.Converter.Quiescent.Number / p.Battery.CurrentOff
}

// equalTop is the largest top code up to counts that shares the dial's steps
// evenly.
func equalTop(steps, counts int) int {
	if counts >= steps {
		return counts / steps * steps
	}
	for t := counts; t > 1; t-- {
		if steps%t == 0 {
			return t
		}
	}
	return 1
}
