package judge

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// crystalRules judge the crystal and its load.
var crystalRules = []rule{
	{id: "load_offset", field: "crystal.capacitor_in", called: "offset", unit: quantity.PPM, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.LoadOffset }, off: math.Abs, limits: at(10, 20, 100),
		says: func(s subject, x string) string {
			return "The load capacitors put the crystal off by " + x + ", " + show(calc.SecondsADay*s.p.Crystal.LoadOffset, quantity.SecondsPerDay) + "."
		},
		advice: func(s subject) string {
			if each := s.p.Crystal.CapacitorEach; each > 0 {
				return "Two of " + show(each, quantity.Picofarads) + " would make the load it is cut for."
			}
			return "The stray alone is more than the load it is cut for."
		}},
	{id: "stray_alone", field: "crystal.load", unit: quantity.Picofarads,
		figure: func(s subject) float64 { return s.p.Crystal.CapacitorEach },
		limits: func(subject) limits { return limits{never, 2e-12, math.SmallestNonzeroFloat64, true} },
		says: func(_ subject, x string) string {
			return "The stray alone is nearly all the load this crystal is cut for, or more: " + x + " each are left for capacitors."
		},
		advice: always("A crystal for a larger load, or shorter tracks.")},
	{id: "large_capacitors", field: "crystal.capacitor_in", called: "largest", unit: quantity.Picofarads, part: "load_capacitors",
		figure: func(s subject) float64 {
			return max(s.p.Circuit.Crystal.In, s.p.Circuit.Crystal.Out)
		},
		limits: at(never, 33e-12, never),
		says: func(_ subject, x string) string {
			return "A load capacitor of " + x + " is more than a watch crystal starts with for sure."
		},
		advice: always("A crystal for a smaller load.")},
	{id: "capacitor_ratio", field: "crystal.capacitor_out", called: "ratio", unit: quantity.Times, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.CapacitorRatio }, limits: at(1.5, 3, never),
		says:   func(_ subject, x string) string { return "One load capacitor is " + x + " times the other." },
		advice: always("The nearer they are, the surer it starts.")},
	// ST AN2867 asks for 5.
	{id: "gain_margin", field: "crystal.transconductance", called: "margin", unit: quantity.Times, part: "load_capacitors",
		figure: func(s subject) float64 { return s.p.Crystal.GainMargin }, limits: atLeast(never, 5, 3),
		says: func(s subject, x string) string {
			return "The oscillator has " + x + " times the " + show(s.p.Crystal.TransconductanceCritical, quantity.Microsiemens) + " the crystal needs; 5 is safe."
		},
		advice: always("A crystal with a smaller load or series resistance, or a stronger oscillator setting within the crystal's drive level.")},
	{id: "gain_margin", field: "crystal.transconductance",
		figure: func(s subject) float64 {
			return holds(!s.b.Crystal.Transconductance.Given() && !math.IsNaN(s.p.Crystal.TransconductanceCritical))
		},
		limits: at(half, never, never),
		says: func(s subject, _ string) string {
			return "Whether the crystal starts for sure is not known: it needs " + show(s.p.Crystal.TransconductanceCritical, quantity.Microsiemens) + ", five times over."
		},
		advice: always("Give the oscillator's transconductance from the controller's data sheet.")},
	{id: "month_drift", field: "crystal.measured", called: "a month", unit: quantity.Seconds, part: "load_capacitors",
		figure: func(s subject) float64 { return s.knownDrift(60 * finestStep(s.p) / 2) }, off: math.Abs,
		limits: func(s subject) limits {
			finest := 60 * finestStep(s.p)
			return limits{finest / 2, finest, never, false}
		},
		says: func(s subject, x string) string {
			return "In a month it drifts by " + x + "; the finest hand's step is " + quantity.DialTime(finestStep(s.p)) + "."
		},
		advice: always("Measure the frequency on a buffered output and let the firmware count the true tick.")},
}

// lampRules judge each lamp, and each button.
var lampRules = []rule{
	{id: "lamp_voltage", field: "lamp.forward", unit: quantity.Volts,
		figure: func(s subject) float64 { return s.b.Rail.Voltage.Number - s.b.Lamps[s.i].Forward.Number },
		limits: func(subject) limits { return limits{never, 0.5, math.SmallestNonzeroFloat64, true} },
		says: func(_ subject, x string) string {
			return "The rail stands " + x + " above the lamp's own voltage: it stays dark, or follows every change of the rail."
		},
		advice: always("A higher rail within the controller's limit, or a lamp of another colour.")},
	{id: "lamp_current", field: "lamp.resistor", called: "current", unit: quantity.Milliamperes, part: "lamp", does: doing(breaks),
		figure: func(s subject) float64 { return s.p.Lamps[s.i].Current },
		limits: func(s subject) limits { return limits{never, 10e-3, min(20e-3, pinLimit(s.b)), false} },
		says:   func(_ subject, x string) string { return "The lamp takes " + x + "." },
		advice: always("1 to 2 mA is bright enough, and the lamps are most of what a waking clock draws.")},
	{id: "lamp_current", field: "lamp.resistor", called: "current", unit: quantity.Milliamperes, part: "lamp",
		figure: func(s subject) float64 {
			if c := s.p.Lamps[s.i].Current; c > 0 {
				return c
			}
			return math.NaN() // dark is not dim: lamp_voltage says it
		},
		limits: atLeast(0.3e-3, never, never),
		says:   func(_ subject, x string) string { return "At " + x + " the lamp is dim." },
		advice: always("A smaller resistor; 1 to 2 mA is bright.")},
	{id: "lamp_power", field: "lamp.resistor_rating", called: "heat", unit: quantity.Percent, part: "lamp", does: doing(breaks),
		figure: func(s subject) float64 { return s.p.Lamps[s.i].Power / s.b.Lamps[s.i].ResistorRating.Number }, limits: at(never, 0.5, 1),
		says: func(s subject, x string) string {
			return "The lamp's resistor turns " + show(s.p.Lamps[s.i].Power, quantity.Milliwatts) + " to heat, " + x + " of what it stands."
		},
		advice: always("A larger resistor, or a larger kind of one.")},
	{id: "lamp_unknown", field: "lamp.forward",
		figure: func(s subject) float64 { return holds(math.IsNaN(s.p.Lamps[s.i].Current)) }, limits: at(never, half, never),
		says: func(subject, string) string {
			return "What the lamp draws is not known, and so how long the cells last is not either."
		},
		advice: always("Give its forward voltage and its resistor.")},
	{id: "button_wedged", field: "button.pull", called: "wedged", unit: quantity.Hours,
		figure: func(s subject) float64 { return s.p.Buttons[s.i].WedgedLife }, limits: atLeast(60*day, never, never),
		says: func(_ subject, x string) string {
			return "Wedged in a drawer, the button empties the cells in " + x + "."
		},
		advice: always("A larger pull resistor, waking on release, or a recessed button."),
		offer: func(s subject) []model.Change {
			var changes []model.Change
			if s.b.Buttons[s.i].Pull.Number < 100e3 {
				changes = append(changes, model.Change{Field: model.Builds.Field("button.pull"), Index: s.i, Text: "100 kΩ"})
			}
			if s.b.Buttons[s.i].Wakes == "press" {
				changes = append(changes, model.Change{Field: model.Builds.Field("button.wakes"), Index: s.i, Text: "release"})
			}
			return changes
		}},
}

// rules is the findings table, of all files findings_*.go.
var rules = placed(kindRules, handRules, needleRules, scaleRules, supplyRules, crystalRules, lampRules, usualRules())
