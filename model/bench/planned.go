package bench

import (
	"math"
	"strings"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// An input is a row of the table of readings that measure something of the plan: the
// point, the field that it measures, and how.
type input struct {
	point string // behind the name of its hand or lamp
	field string
	there func(b *model.Build, i int) bool
	// value is what a reading makes of the field, and by how much the field moves with
	// the reading. plan is what a sound clock reads there. nil: the reading itself.
	value func(x *Bench, i int, reading, plan float64) (value, per float64)
	eye   bool // it is read by eye: no ± goes with it
}

// inputs is the table. The first row of a point that is there counts.
var inputs = []input{
	{point: "rail.voltage_on", field: "rail.voltage", there: func(b *model.Build, _ int) bool {
		return !b.Battery.HasCells() || b.Converter.Kind != "none" // else it is what the pack leaves
	}},
	{point: "terminals_ohms", field: "hand.meter.terminal_resistance", there: func(b *model.Build, i int) bool {
		return b.Hands[i].Meter.AsMeasured()
	}},
	{point: "terminals_ohms", field: "hand.meter.coil", there: func(b *model.Build, i int) bool {
		m := &b.Hands[i].Meter
		return m.InternalKind == "none" || m.InCircuit != "yes"
	}},
	{point: "series_resistance", field: "hand.drive.setting", there: hasTrimmer, value: func(x *Bench, i int, reading, _ float64) (float64, float64) {
		return reading - x.circuit.Hands[i].Stage - x.circuit.Hands[i].Fixed, 1
	}},
	{point: "series_resistance", field: "hand.drive.fixed", there: hasFixed, value: func(x *Bench, i int, reading, _ float64) (float64, float64) {
		return reading - x.circuit.Hands[i].Stage, 1
	}},
	{point: "needle_unpowered", field: "hand.meter.zero_offset", eye: true, value: func(x *Bench, i int, reading, _ float64) (float64, float64) {
		return reading - x.circuit.Hands[i].Rest, 1
	}},
	{point: "needle_tapped", field: "hand.meter.stick", eye: true},
	{point: "pwm_frequency", field: "hand.drive.clock", value: func(x *Bench, i int, reading, _ float64) (float64, float64) {
		d := &x.build.Hands[i].Drive
		per := float64(d.Prescale) * float64(d.Counts)
		return reading * per, per
	}},
	{point: "resistance", field: "lamp.resistor"},
	{point: "crystal.frequency", field: "crystal.measured"},
	{point: "battery.current_off", field: "converter.quiescent", there: hasConverter, value: func(x *Bench, _ int, reading, plan float64) (float64, float64) {
		return orNothing(x.build.Converter.Quiescent.Number) + reading - plan, 1
	}},
	{point: "battery.current_off", field: "load.controller_off", value: controllerOff},
	{point: "rail.current_off", field: "load.controller_off", value: controllerOff},
	{point: "battery.current_on", field: "load.controller_on", value: func(x *Bench, _ int, reading, plan float64) (float64, float64) {
		per := 1.0
		if x.build.Converter.Kind == "boost" { // what the cells give of it: power in is power out over the efficiency
			per = x.build.Converter.Efficiency.Number * x.sound.mean[x.spotBy("battery.voltage_on")] / x.build.Rail.Voltage.Number
		}
		return orNothing(x.build.Load.ControllerOn.Number) + (reading-plan)*per, per
	}},
}

// controllerOff leaves the sleeping controller what the reading is above the plan.
func controllerOff(x *Bench, _ int, reading, plan float64) (value, per float64) {
	return orNothing(x.build.Load.ControllerOff.Number) + reading - plan, 1
}

// Planned is the change that takes a reading over into the plan, with the multimeter's ±;
// why says why there is none: it measures no input, or what it gives cannot be.
func (x *Bench) Planned(r *Read) (change model.Change, why string) {
	in := x.inputOf(r.spot)
	switch {
	case r.spot < 0 || r.kind == unread:
		return change, "There is no reading here that could be taken over."
	case in == nil:
		return change, "This point measures no value of the plan by itself: it is compared with it."
	case r.kind != number:
		return change, "A reading without a number does not go into the plan."
	}
	s := &x.spots[r.spot]
	field := model.Builds.Field(in.field)
	index := 0
	if field.List() != "" {
		index = s.index
	}
	value, per := r.Value, 1.0
	if in.value != nil {
		value, per = in.value(x, s.index, r.Value, x.sound.mean[r.spot])
	}
	half := 0.0
	if !in.eye {
		half = per * s.with.limit(&x.build.Meter, r.Value, r.digit, 0)
	}
	if in.value != nil && half > 0 {
		value = rounded(value, half)
	}
	label := strings.TrimSpace(field.Label) + nameOfPlaced(x.build, field, index)
	text := quantity.Format(quantity.Value{Number: value, Tolerance: rounded(half, half)}, field.Unit)
	least, most := field.Range()
	if in.field == "hand.drive.setting" {
		most = x.circuit.Hands[s.index].Trimmer
	}
	if !(value >= least && value <= most) {
		return change, label + " would be " + quantity.Show(value, field.Unit, 3) + ", and may be " +
			quantity.Show(least, field.Unit, 3) + " to " + quantity.Show(most, field.Unit, 3) + ": look for a fault, or take the reading again."
	}
	return model.Change{Field: field, Index: index, Text: text}, ""
}

// inputOf is the row of the inputs that a spot has, nil where there is none.
func (x *Bench) inputOf(spot int) *input {
	if spot < 0 {
		return nil
	}
	s := &x.spots[spot]
	for n := range inputs {
		if in := &inputs[n]; in.point == s.point.id && (in.there == nil || in.there(x.build, s.index)) {
			return in
		}
	}
	return nil
}

// IsInput says whether a reading at a point can go into the plan.
func (x *Bench) IsInput(id string) bool { return x.inputOf(x.spotBy(id)) != nil }

// rounded is a value to two digits of what it may be off by, which is above 0.
func rounded(value, half float64) float64 {
	if !(half > 0) {
		return value
	}
	step := math.Pow10(int(math.Floor(math.Log10(half))) - 1)
	n := math.Round(value / step)
	if step < 1 { // so that no tail of binary digits is printed
		return n / math.Round(1/step)
	}
	return n * step
}
