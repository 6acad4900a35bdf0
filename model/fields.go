package model

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Pane is the form a field stands on.
type Pane uint8

// The panes with forms, in their order on the screen, and none.
const (
	MeterPane Pane = iota
	FilterPane
	CrystalPane
	BatteryPane
	DialPane
	ScalePane // whose rows are a table of its own
	NoPane    // of the file alone
)

// A Field is one value of the build file: where it stands, what it means, what
// is allowed, and what helps to find it. The fields table is the one way in for
// reading, setting, forms and bands.
type Field struct {
	Path    string                     // in the file, without a name: "hand.meter.coil"
	Pane    Pane                       // the form it stands on
	Group   string                     // the heading it stands under
	Label   string                     // what the form calls it
	Unit    quantity.Unit              // of a bare number; of quantities only
	Least   string                     // the least that is allowed; quantities and counts
	Most    string                     // the most
	Choices []string                   // what may be chosen; nil: anything
	Called  map[string]string          // what else people call a choice
	Absent  string                     // what an absent value means; "": it is not known
	New     string                     // what a new build writes; "": nothing
	Must    bool                       // it must be given
	Spared  func(root any, i int) bool // of one that must: what else is given does without it; nil: nothing
	Usual   [2]string                  // least and most that are usual; "": all that is allowed
	Beyond  string                     // what a value beyond that means
	TooMuch string                     // what to do where a value is above Most; "": check the prefix
	Help    string                     // what it is
	Measure string                     // how to find it on the bench; "" where that says nothing
	Series  calc.Series                // of preferred numbers, of parts that are bought; nil: any value

	Evidence bool // it says how a thing is, which no advice may make up; else it is a choice

	place         place
	schema        *Schema
	low, high     float64    // Least and Most as numbers
	typical       [2]float64 // Usual as numbers
	absent        quantity.Value
	absentCount   int
	list, element string // "hand", "meter.coil" of "hand.meter.coil"; "hand.scale", "at" of "hand.scale.at"; list "" outside lists
	row           bool   // its list is owned by another
	table         bool   // it holds pairs, or rows of three
	longest       int    // characters it takes
}

// A place finds a field's value in what its file was read into, a *Build of a
// build: how many there are (hands, lamps) and the i-th, a pointer: *quantity.Value,
// *int, *string, *[]calc.Point, *[]calc.Charge or *[]Hole.
type place struct {
	of func(root any) int
	at func(root any, i int) any
}

// Of returns how many values of the field there are: in a *Build, of a build's field.
func (f *Field) Of(root any) int { return f.place.of(root) }

// At returns a pointer to the i-th value of the field.
func (f *Field) At(root any, i int) any { return f.place.at(root, i) }

// PathOf returns the path of the i-th value, with the hand's or lamp's name:
// "hand.hours.meter.coil".
func (f *Field) PathOf(root any, i int) string {
	if f.list == "" {
		return f.Path
	}
	names := func(l *list, i int) (string, int) { return f.schema.element(root, l, i) }
	return f.schema.listOf(f.list).path(i, f.element, names)
}

// Allowed says in words what may be given.
func (f *Field) Allowed() string {
	switch {
	case f.Choices != nil:
		return inWords(f.Choices)
	case f.Least == f.Most:
		return f.Least
	case f.Least != "":
		return f.Least + " to " + f.Most
	}
	return ""
}

// Text returns the i-th value as it could be written in the file; "" where it
// is not known.
func (f *Field) Text(root any, i int) string {
	switch v := f.At(root, i).(type) {
	case *quantity.Value:
		return quantity.Format(*v, f.Unit)
	case *int:
		return strconv.Itoa(*v)
	case *string:
		return *v
	case *[]calc.Point:
		return pointsText(*v)
	case *[]calc.Charge:
		return curveText(*v)
	case *[]Hole:
		return holesText(*v)
	}
	panic("unreachable: a field's place is of no known type")
}

// spelled is a text as the field spells it: yes and no, where TOML has its own
// words for them.
func (f *Field) spelled(text string) string {
	if !slices.Contains(f.Choices, "yes") {
		return text
	}
	switch text {
	case "true":
		return "yes"
	case "false":
		return "no"
	}
	return text
}

// inWords joins choices as a sentence does: "a, b or c".
func inWords(choices []string) string {
	quotedChoices := make([]string, len(choices))
	for i, c := range choices {
		quotedChoices[i] = strconv.Quote(c)
	}
	last := len(quotedChoices) - 1
	if last == 0 {
		return quotedChoices[0]
	}
	return strings.Join(quotedChoices[:last], ", ") + " or " + quotedChoices[last]
}

// Fitting returns the choices that a text may mean, in the order of the table: those that
// differ from it only in capitals and spaces, or else those that hold each of its words,
// with what else they are called. There may be none.
func (f *Field) Fitting(text string) []string { return fitting(f.Choices, f.Called, text) }

// Beginning returns the choices that begin with a text, in any case, or else those one of
// whose words does, with what else they are called.
func (f *Field) Beginning(text string) []string { return begun(f.Choices, f.Called, text) }

// meant names the choices that a text may mean, or else the one with the fewest letters to
// change.
func (f *Field) meant(text string) string {
	if fitting := f.Fitting(text); fitting != nil {
		return inWords(fitting)
	}
	return inWords([]string{nearest(text, f.Choices)})
}

// prepare works out what follows from a row of a schema.
func (f *Field) prepare(s *Schema) {
	f.schema = s
	if l := s.listAt(f.Path); l != nil {
		f.row = l.in != nil
		f.list, f.element = l.name, strings.TrimPrefix(f.Path, l.name+".")
	}
	f.absent, f.longest = quantity.Absent(), longestOf(f)
	f.Evidence = slices.Contains(evidence, f.Path)
	switch f.zero().(type) {
	case *quantity.Value:
		f.low, f.high = quantity.MustParse(f.Least, f.Unit).Number, quantity.MustParse(f.Most, f.Unit).Number
		f.absent = quantity.MustParse(f.Absent, f.Unit)
		f.typical = [2]float64{quantity.MustParse(f.Usual[0], f.Unit).Number, quantity.MustParse(f.Usual[1], f.Unit).Number}
	case *int:
		f.low, f.high = float64(quantity.MustParseCount(f.Least)), float64(quantity.MustParseCount(f.Most))
		f.absentCount = quantity.MustParseCount(f.Absent)
		f.typical = [2]float64{float64(quantity.MustParseCount(f.Usual[0])), float64(quantity.MustParseCount(f.Usual[1]))}
	case *[]calc.Point, *[]calc.Charge, *[]Hole:
		f.table = true
	}
}

// zero returns the field's place in an empty file with one of everything.
func (f *Field) zero() any {
	return f.At(f.schema.room(func(string, int) int { return 1 }), 0)
}

// Number is a quantity or count as a number, NaN where it is not given.
func (f *Field) Number(root any, i int) float64 {
	switch v := f.At(root, i).(type) {
	case *quantity.Value:
		return v.Number
	case *int:
		return float64(*v)
	}
	return math.NaN()
}

// Range returns the least and the most that is allowed of a quantity or count, in its
// unit's base.
func (f *Field) Range() (least, most float64) { return f.low, f.high }

// UsualRange returns the least and the most that is usual, in the unit's base; NaN or 0
// where nothing is said of it.
func (f *Field) UsualRange() (least, most float64) { return f.typical[0], f.typical[1] }

// IsAsAbsent says whether a quantity of a build is what it is where the file gives none.
func (f *Field) IsAsAbsent(root any, i int) bool { return f.Number(root, i) == f.absent.Number }

// isWords says whether a field holds free words.
func (f *Field) isWords() bool {
	_, text := f.zero().(*string)
	return text && f.Choices == nil
}

// IsTable says whether the field holds a table: the points of a law, a discharge curve,
// the holes of a dial.
func (f *Field) IsTable() bool { return f.table }

// List is the name of the list the field's table belongs to, "hand", "lamp", "hand.scale" …;
// "" where it stands once.
func (f *Field) List() string { return f.list }

// IsRow says whether the field stands in the rows that each element of a list has, as a
// hand has those of its survey: they say what was seen, and no result is worked out of
// their tolerances.
func (f *Field) IsRow() bool { return f.row }

// Cells is how many values a row of the field's table has: 2, of a hole 3.
func (f *Field) Cells() int {
	if _, holes := f.zero().(*[]Hole); holes {
		return 3
	}
	return 2
}

// PairsOf returns how many pairs a build holds in a table, built-in ones
// counted; 0 for any other field.
func (f *Field) PairsOf(b *Build, index int) int {
	switch v := f.At(b, index).(type) {
	case *[]calc.Point:
		return len(*v)
	case *[]calc.Charge:
		return len(*v)
	case *[]Hole:
		return len(*v)
	}
	return 0
}

// Evidence are the fields that say how a thing is: what was measured or read off, how
// far it may be off, what it came out of and how it stands. Whoever has the thing in
// hand knows them; no advice may make them up.
var evidence = strings.Fields(`
rail.voltage rail.drift rail.trimmed_at rail.maximum
hand.meter.coil hand.meter.coil_copper hand.meter.full_scale hand.meter.class hand.meter.sweep
hand.meter.law hand.meter.table hand.meter.inductance hand.meter.period hand.meter.overshoot hand.meter.damping
hand.meter.movement_tempco hand.meter.internal hand.meter.internal_kind hand.meter.origin hand.meter.removed hand.meter.marked
hand.meter.overload hand.meter.stop hand.meter.zero_offset hand.meter.stick hand.meter.position_for
hand.meter.kind hand.meter.zero_at hand.meter.scale_from hand.meter.ohms_per_volt hand.meter.shunt_drop hand.meter.glow
hand.meter.terminal_resistance hand.meter.terminal_full_scale hand.meter.position hand.meter.panel_for hand.meter.panel hand.meter.trimmed_in_place hand.meter.diameter hand.meter.neighbour
hand.scale.at hand.scale.code hand.scale.of hand.scale.stands hand.scale.going
hand.survey.step.volts hand.survey.step.source hand.survey.step.series hand.survey.step.across hand.survey.step.needle hand.survey.step.terminals
walk.stage walk.hand walk.rested_on walk.met.id walk.met.value walk.met.by walk.met.rested_on
hand.drive.pin_resistance hand.drive.pin_limit hand.drive.pin_high hand.drive.pin_low hand.drive.pin_tempco hand.drive.resistor_tempco
hand.drive.switch_resistance hand.drive.switch_drop crystal.stray crystal.motional crystal.shunt crystal.esr crystal.transconductance crystal.tolerance crystal.ageing
crystal.curvature crystal.turnover crystal.room_low crystal.room_high crystal.measured crystal.measured_at crystal.lost_counts
load.controller_on load.controller_off load.package_limit
lamp.forward lamp.pin_resistance drain.on drain.off drain.from reading.at reading.value reading.note reading.before battery.used
multimeter.volts multimeter.ohms multimeter.amps multimeter.hertz multimeter.digits multimeter.input
multimeter.burden_microamps multimeter.burden_milliamps`)

// Choices are all others: parts that are bought, with what comes with them, what the
// firmware is given, the dial, and how the clock is used.
var choices = strings.Fields(`
format title builder hand.name hand.shows hand.noon hand.correct hand.mark hand.meter.in_circuit hand.meter.diodes
hand.drive.clock hand.drive.prescale hand.drive.counts hand.drive.top hand.drive.duty_offset hand.drive.rounding hand.drive.pwm_wanted hand.drive.ramp_tick
hand.drive.stage hand.drive.fixed hand.drive.trimmer hand.drive.trimmer_turns hand.drive.setting hand.drive.resistor_rating
hand.drive.capacitor hand.drive.capacitor_at hand.drive.capacitor_kind hand.drive.capacitor_rating rail.capacitor
crystal.frequency crystal.load crystal.capacitor_in crystal.capacitor_out
crystal.counter_bits crystal.prescale crystal.reload crystal.tick_counted
battery.cell battery.cells battery.capacity battery.cutoff battery.resistance battery.resistance_end battery.series_drop
battery.self_discharge battery.shelf battery.curve
converter.kind converter.efficiency converter.quiescent converter.minimum_input converter.dropout
load.hours_on load.minimum_voltage
lamp.name lamp.resistor lamp.lit lamp.count lamp.resistor_rating drain.name button.name button.pull button.wakes button.pull_to hand.drive.dummy hand.drive.by
hand.dial.width hand.dial.height hand.dial.pivot_x hand.dial.pivot_y hand.dial.radius hand.dial.start hand.dial.numerals hand.dial.numeral_style
hand.dial.numerals_along hand.dial.numeral_height hand.dial.ticks hand.dial.title hand.dial.title_height hand.dial.mirror hand.dial.second_scale
hand.dial.holes hand.dial.windows hand.dial.end_marks`)
