package judge

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// supplyRules judge what the whole clock has once: rail, converter, cells.
var supplyRules = []rule{
	{id: "rail_maximum", field: "rail.maximum", called: "most", unit: quantity.Volts, part: "supply", offer: subject.fewerCells, does: doing(breaks),
		figure: func(s subject) float64 { return mostRail(s.b) },
		limits: func(s subject) limits { return limits{never, never, s.b.Rail.Maximum.Number, false} },
		says: func(s subject, x string) string {
			return "The rail can come to " + x + "; the controller stands " + show(s.b.Rail.Maximum.Number, quantity.Volts) + "."
		},
		advice: func(s subject) string {
			switch {
			case circuit.MostRail(s.b) <= railHigh(s.b): // not the cells' doing
				return "A lower rail."
			case s.b.Converter.Kind == "boost":
				return "Fewer cells, or a regulator between: a step-up passes a higher input through."
			}
			return "Fewer cells, or a regulator between: nothing else holds the rail down."
		},
		mends: func(s subject) (string, int) {
			if circuit.MostRail(s.b) > railHigh(s.b) {
				return "battery.cells", 0
			}
			return "rail.voltage", 0
		}},
	// 60 V is the most of a direct voltage that counts as safe to touch. Common practice, no source.
	{id: "pack_voltage", field: "battery.cells", called: "fresh", unit: quantity.Volts, does: doing(hurts), offer: subject.fewerCells,
		figure: func(s subject) float64 {
			if !s.b.Battery.HasCells() {
				return math.NaN()
			}
			return s.p.Pack.Fresh()
		},
		limits: at(never, never, 60),
		says:   func(_ subject, x string) string { return "The fresh pack stands at " + x + ": a touch can kill." },
		advice: always("Fewer cells: a clock needs no more than a few volts. Above 60 V local codes and licensed practice decide.")},
	{id: "passes_through", field: "battery.cells", called: "fresh", unit: quantity.Volts, part: "supply", offer: subject.fewerCells,
		figure: func(s subject) float64 {
			if !s.b.Battery.HasCells() || s.b.Converter.Kind != "boost" {
				return math.NaN()
			}
			pack := &s.p.Pack
			return pack.Fresh() - pack.Supply.Drop
		},
		limits: func(s subject) limits { // the fault is rail_maximum's
			return limits{s.b.Rail.Voltage.Number - 0.2, s.b.Rail.Voltage.Number, never, false}
		},
		says: func(s subject, x string) string {
			text := "The fresh pack stands at " + x + ", near or above the rail of " + show(s.b.Rail.Voltage.Number, quantity.Volts)
			if i, most := worstHand(s.p, func(i int) float64 { return s.p.Hands[i].FreshError }); most > 0 {
				text += ": the needle" + s.ofHand(i) + " reads high by up to " + quantity.DialTime(most)
			}
			return text + "."
		},
		advice: always("The step-up passes it through and full scale is off until the cells fade: one cell less.")},
	{id: "brown_out", field: "load.minimum_voltage", unit: quantity.Volts,
		figure: func(s subject) float64 { return s.b.Rail.Voltage.Number },
		limits: func(s subject) limits {
			minimum := s.b.Load.MinimumVoltage.Number
			return limits{never, minimum + 0.2, minimum, true}
		},
		says: func(s subject, x string) string {
			return "The rail of " + x + " is near or below the controller's minimum of " + show(s.b.Load.MinimumVoltage.Number, quantity.Volts) + "."
		},
		advice: always("A higher rail within the controller's limit, or a lower brown-out setting, not below what the controller needs at its clock.")},
	{id: "pins_together", field: "load.package_limit", called: "together", unit: quantity.Percent, part: "lamp", does: doing(breaks),
		figure: func(s subject) float64 { return s.p.Supply.PinsTogether / s.b.Load.PackageLimit.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "All pins together give up to " + show(s.p.Supply.PinsTogether, quantity.Milliamperes) + ", " + x + " of what the controller stands."
		},
		advice: always("Larger lamp resistors, or a transistor for the lamps.")},
	{id: "load_unknown", field: "load.controller_on",
		figure: func(s subject) float64 {
			b := s.b
			return holds(b.Battery.HasCells() && !(b.Load.ControllerOn.Given() && b.Load.ControllerOff.Given() && b.Battery.Capacity.Given()))
		},
		limits: at(half, never, never),
		says: func(subject, string) string {
			return "How long the cells last is not known in full: the controller's currents and the cells' capacity are needed."
		},
		advice: always("Measure what it takes awake and asleep; typical cells are in the list.")},
	{id: "pack_carries", field: "battery.cell", part: "supply",
		figure: func(s subject) float64 {
			return holds(s.b.Battery.HasCells() && math.IsNaN(s.p.Battery.CurrentOn) && !math.IsNaN(s.p.Battery.RailCurrentOn))
		},
		limits: at(never, never, half),
		says: func(subject, string) string {
			return "The fresh pack cannot carry the waking clock: its own resistance takes too much."
		},
		advice: always("Larger cells, more of them, or less load.")},
	{id: "peak_cell_current", field: "battery.cell", called: "peak", unit: quantity.Milliamperes, part: "supply",
		figure: func(s subject) float64 { return s.p.Battery.CurrentPeak },
		limits: func(s subject) limits {
			most := model.MostOf(s.b.Battery.Cell)
			return limits{never, most, 3 * most, false}
		},
		says: func(s subject, x string) string {
			return "With every lamp lit the cells give " + x + "; " + s.b.Battery.Cell + " is good for " + show(model.MostOf(s.b.Battery.Cell), quantity.Milliamperes) + "."
		},
		advice: always("Larger cells, or larger lamp resistors: beyond that much of the capacity is lost.")},
	{id: "stranded", field: "converter.minimum_input", called: "left", unit: quantity.Percent, part: "supply",
		figure: func(s subject) float64 { return s.strandedByConverter() },
		limits: func(s subject) limits {
			l := limits{never, 0.2, never, false}
			if s.b.Converter.Kind == "boost" {
				l.fault = 0.2
			}
			return l
		},
		says: func(s subject, x string) string {
			return "The clock ends with " + x + " of the cells' charge left: the pack is below what the rail or its converter needs."
		},
		advice: always("Cells whose end lies above that, or a converter that starts lower.")},
	{id: "stranded", field: "converter.minimum_input", called: "above it by", unit: quantity.Volts, part: "supply",
		figure: func(s subject) float64 { return s.aboveMinimum() }, limits: atLeast(never, 0.1, never),
		says: func(s subject, _ string) string {
			return "At their end the cells under load are within 0.1 V of the converter's minimum input of " + show(s.b.Converter.MinimumInput.Number, quantity.Volts) + ", or below."
		},
		advice: always("It may restart over and over at the end: one cell more where the fresh pack stays below the rail, or a converter that starts lower.")},
	{id: "past_cutoff", field: "load.minimum_voltage", unit: quantity.Volts,
		figure: func(s subject) float64 { return s.pastCutoff() },
		limits: func(s subject) limits {
			if ruinedEmpty(s.b.Battery.Cell) {
				return limits{never, 0, never, false}
			}
			return limits{0, never, never, false}
		},
		says: func(s subject, x string) string {
			return "The converter goes on " + x + " below the pack's cutoff of " + show(s.p.Pack.Cutoff, quantity.Volts) + ": cells drawn empty " + map[bool]string{true: "are ruined", false: "leak"}[ruinedEmpty(s.b.Battery.Cell)] + "."
		},
		advice: always("Let the firmware measure the pack, stop at the cutoff and say so with a lamp; take empty cells out at once.")},
	{id: "lamps_share", field: "load.controller_on", called: "lamps' share", unit: quantity.Percent, part: "lamp",
		figure: func(s subject) float64 { return s.p.Battery.Awake.Lamps }, limits: at(0.5, never, never),
		says:   func(_ subject, x string) string { return "Awake, the lamps take " + x + " of what the cells give." },
		advice: always("Four times the resistor is half as bright to the eye."),
		mends: func(s subject) (string, int) {
			i, _ := heaviestLamp(s.p)
			return "lamp.resistor", i
		},
	},
	{id: "converter_share", field: "converter.quiescent", called: "share", unit: quantity.Percent,
		figure: func(s subject) float64 {
			if !s.lessAsleepGains() {
				return math.NaN()
			}
			return s.p.Battery.Asleep.Converter
		},
		limits: func(s subject) limits {
			l := limits{0.5, never, never, false}
			if s.p.Battery.LifeStandby < s.p.Pack.Shelf {
				l.caution = 0.9
			}
			return l
		},
		says: func(_ subject, x string) string {
			return "Asleep, the converter itself takes " + x + " of what the cells give."
		},
		advice: always("One with a smaller quiescent current; a power lamp on its board comes off.")},
	{id: "life_on", field: "load.controller_on", called: "awake", unit: quantity.Hours, part: "supply",
		figure: func(s subject) float64 { return s.p.Battery.LifeOn }, limits: atLeast(60*day, 30*day, day),
		says: func(_ subject, x string) string { return "Always awake the cells last " + x + "." },
		advice: func(s subject) string {
			load := s.p.Battery.RailCurrentOn
			if _, lamps := heaviestLamp(s.p); lamps > load/2 {
				return "The lamps are " + show(lamps/load, quantity.Percent) + " of the load: larger resistors, or let it sleep when nobody looks."
			}
			if share := s.b.Load.ControllerOn.Number / load; share > 0 {
				return "Let it sleep when nobody looks: the controller takes " + show(share, quantity.Percent) + " of the load."
			}
			return "Let it sleep when nobody looks."
		},
		mends: func(s subject) (string, int) {
			if i, lamps := heaviestLamp(s.p); lamps > s.p.Battery.RailCurrentOn/2 {
				return "lamp.resistor", i
			}
			return "load.controller_on", 0
		}},
	{id: "life_standby", field: "load.controller_off", called: "asleep", unit: quantity.Hours, part: "supply",
		figure: func(s subject) float64 { return s.p.Battery.LifeStandby }, limits: atLeast(never, year, 30*day),
		says: func(_ subject, x string) string { return "Asleep the cells last " + x + "." },
		advice: func(s subject) string {
			if share := s.p.Battery.Asleep.Converter; share > 0.5 {
				return "The converter's own current is " + show(share, quantity.Percent) + " of it: look there first."
			}
			return "Find what is still awake: a pin left floating, a pull-up, a lamp, the brown-out detector."
		},
		mends: func(s subject) (string, int) {
			if s.p.Battery.Asleep.Converter > 0.5 {
				return "converter.quiescent", 0
			}
			return "load.controller_off", 0
		}},
	{id: "life_standby", field: "battery.shelf", unit: quantity.Hours,
		figure: func(s subject) float64 {
			return holds(s.shelfDecides())
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			return "Asleep the cells last their shelf life of " + quantity.ShowDuration(s.p.Battery.LifeStandby) + ": it decides."
		},
		advice: func(s subject) string {
			if s.lessAsleepGains() {
				return "Never awake, nothing is gained by a smaller sleeping current; as it is used that takes " + show(s.asleepShare(), quantity.Percent) + " of what the cells give."
			}
			return "Nothing is gained by a smaller sleeping current."
		}},
}
