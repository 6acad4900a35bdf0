package judge

import (
	"math"

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
		options: subject.supplyOptions, choices: subject.supplyChoices, named: subject.supplyName, also: []string{"overload_worst"},
		told: func(s subject) string {
			if s.b.Battery.Cells == 0 {
				return "no cells to run down"
			}
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
			c := &s.p.Circuit.Crystal
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
