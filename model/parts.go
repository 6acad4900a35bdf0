package model

import (
	"math"
	"strconv"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// parts is the table of parts that are suggested, in the order in which they are
// best taken over: the supply says how much the series parts must stand, the top
// code how much of it is lost, and the lamps take what is left.
var parts = []part{
	{id: "pwm", field: "hand.drive.pwm_wanted", title: "Prescaler and counts",
		beside:  []string{"hand.drive.prescale", "hand.drive.counts"},
		options: subject.pwmOptions, missing: subject.otherPWMWanted, also: []string{"ripple_needle", "hum", "law_ripple"},
		told: func(s subject) string {
			return show(s.hand().PWMFrequency, quantity.Hertz) + ", one code " + quantity.DialTime(s.hand().Step)
		}},
	{id: "series", field: "hand.drive.fixed", title: "Fixed resistor and trimmer",
		beside:  []string{"hand.drive.trimmer", "hand.drive.setting"},
		options: subject.seriesOptions,
		missing: subject.seriesWanting,
		told: func(s subject) string {
			h := s.hand()
			text := "travel " + show(h.TrimmerTravel, quantity.Percent) + ", worst overload " + show(h.OverloadWorst, quantity.Times)
			if !math.IsNaN(h.TrimStep) {
				text += ", sets to " + quantity.DialTime(h.TrimStep)
			}
			return text
		}},
	{id: "supply", field: "battery.cells", title: "Cells and converter",
		beside:  []string{"battery.cell", "converter.kind"},
		options: subject.supplyOptions, also: []string{"overload_worst"},
		told: func(s subject) string {
			return "awake " + figureText(s.p.Battery.LifeOn, quantity.Hours) + ", as used " + figureText(s.p.Battery.LifeMixed, quantity.Hours)
		}},
	{id: "top", field: "hand.drive.top", title: "Top code",
		options: subject.topOptions, also: []string{"overload_worst", "full_scale_reached", "coil_share", "pin_share"},
		told: func(s subject) string {
			return "one code " + quantity.DialTime(s.hand().Step) + ", coding error " + quantity.DialTime(s.hand().CodeErrorMax)
		}},
	{id: "filter", field: "hand.drive.capacitor", title: "Stage and capacitor",
		beside:  []string{"hand.drive.stage", "hand.drive.capacitor_at", "hand.drive.capacitor_kind"},
		options: subject.filterOptions,
		told: func(s subject) string {
			h := s.hand()
			text := "trembles by " + figureText(h.RippleNeedle/s.minutes(), quantity.Percent) + ", coil's ripple " + show(h.RippleCurrent, quantity.Percent)
			if !math.IsNaN(h.FilterSettling) {
				text += ", settles in " + show(h.FilterSettling, quantity.Seconds) + ", draws " + show(h.FilterCurrent, quantity.Microamperes)
			}
			return text
		}},
	{id: "load_capacitors", field: "crystal.capacitor_in", title: "Load capacitors",
		beside:  []string{"crystal.capacitor_out"},
		options: subject.loadCapacitorOptions,
		missing: func(s subject) bool {
			c := &s.p.circuit.Crystal
			return !(c.In > 0 || c.Out > 0) && s.p.Crystal.CapacitorEach > 0
		},
		told: func(s subject) string {
			c := &s.p.Crystal
			text := figureText(c.LoadOffset, quantity.PPM) + ", " + figureText(calc.SecondsADay*c.LoadOffset, quantity.SecondsPerDay)
			if !math.IsNaN(c.GainMargin) {
				text += ", margin " + show(c.GainMargin, quantity.Times)
			}
			return text
		}},
	{id: "lamp", field: "lamp.resistor", title: "Lamp's resistor",
		options: subject.lampOptions, also: []string{"life_on", "pack_carries", "peak_cell_current"},
		told: func(s subject) string {
			text := show(s.p.Lamps[s.i].Current, quantity.Milliamperes)
			if share := s.p.Battery.Awake.Lamps; !math.IsNaN(share) {
				text += ", lamps " + show(share, quantity.Percent) + " of the waking current"
			}
			return text
		}},
}

// partTable finds the parts by their ids.
var partTable = func() map[string]*part {
	table := map[string]*part{}
	for k := range parts {
		table[parts[k].id] = &parts[k]
	}
	return table
}()

// Usual tolerances of parts. Common practice, no source.
const (
	resistorTolerance, trimmerTolerance        = 0.01, 0.10
	capacitorTolerance, loadCapacitorTolerance = 0.20, 0.05
	lampResistorTolerance                      = 0.05
)

// sized is a part of a size, with the tolerance of the present one, or the usual
// one of its kind.
func sized(present quantity.Value, x, tolerance float64) quantity.Value {
	v := quantity.Value{Number: x}
	if x > 0 {
		v.Tolerance, v.Share = tolerance, true
		if present.Share && present.Tolerance > 0 {
			v.Tolerance = present.Tolerance
		}
	}
	return v
}

// change is another text for a field of the subject.
func (s subject) change(path, text string) Change { return Change{Builds.Field(path), s.i, text} }

// count is another count.
func (s subject) count(path string, n int) Change { return s.change(path, strconv.Itoa(n)) }

// size is another part of a kind with such a tolerance.
func (s subject) size(path string, x, tolerance float64) Change {
	f := Builds.Field(path)
	present := f.At(s.b, s.i).(*quantity.Value)
	return s.change(path, quantity.Format(sized(*present, x, tolerance), f.Unit))
}

// loadCapacitorOptions are pairs of E24 by the rate they leave; one that is of E12
// too goes before one as near that is not.
func (s subject) loadCapacitorOptions() [][]Change {
	const scarcer = 1.0 // ppm that a pair may leave less for each that is not of E12
	type pair struct{ in, out float64 }
	var list shortlist[pair]
	plan := *s.p
	c := &plan.circuit.Crystal
	for k, in := range loadCapacitors {
		if in < 2e-12 || in > 33e-12 { // less is lost in the stray, more starts badly
			continue
		}
		for j, out := range loadCapacitors[k:] {
			if out > 3*in {
				break
			}
			c.In, c.Out = in, out
			plan.Crystal = solveCrystal(c)
			var score score
			for r := range crystalRules {
				severity, _ := crystalRules[r].grade(subject{s.b, &plan, 0})
				score.add(severity)
			}
			off := scarcer * (number01(!ofE12(k)) + number01(!ofE12(k+j)))
			if left := plan.Crystal.LoadOffset; !math.IsNaN(left) {
				off += math.Abs(left)
			}
			list.add(pair{in, out}, ranked(score, off, out/in))
		}
	}
	return list.changes(func(p pair) []Change {
		return []Change{
			s.size("crystal.capacitor_in", p.in, loadCapacitorTolerance),
			s.size("crystal.capacitor_out", p.out, loadCapacitorTolerance),
		}
	})
}

// ofE12 says whether the k-th of E24 is of E12 too: every other one is.
func ofE12(k int) bool { return k%2 == 0 }
