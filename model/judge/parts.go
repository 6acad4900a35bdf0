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
		order: "then fewest notes, what is nearest to what it has, or to the PWM that is wanted",
		figures: func(s subject) []Figure {
			return []Figure{bare("PWM", show(s.hand().PWMFrequency, quantity.Hertz)), named("one code", quantity.DialTime(s.hand().Step))}
		}},
	{id: "series", field: "hand.drive.fixed", title: "Fixed resistor and trimmer",
		beside:  []string{"hand.drive.trimmer", "hand.drive.setting"},
		options: subject.seriesOptions,
		missing: subject.seriesWanting,
		order:   "then what brings all kits to full scale, fewest notes, no second resistor, a travel of 20 to 80 %, a smaller trimmer",
		meets:   subject.reachedByAll, met: "all kits",
		figures: func(s subject) []Figure {
			h := s.hand()
			told := []Figure{named("travel", show(h.TrimmerTravel, quantity.Percent)), named("worst overload", show(h.OverloadWorst, quantity.Times))}
			if !math.IsNaN(h.TrimStep) {
				told = append(told, named("sets to", quantity.DialTime(h.TrimStep)))
			}
			return told
		}},
	{id: "supply", field: "battery.cells", title: "Cells and converter",
		beside:  []string{"battery.cell", "converter.kind"},
		options: subject.supplyOptions, choices: subject.supplyChoices, named: subject.supplyName, also: []string{"overload_worst"},
		order: "then fewest notes, cells that ask for no more care, and what is nearest to what it has",
		figures: func(s subject) []Figure {
			if s.b.Battery.Cells == 0 {
				return []Figure{bare("awake", "no cells to run down")}
			}
			return []Figure{named("awake", figureText(s.p.Battery.LifeOn, quantity.Hours)), named("as used", figureText(s.p.Battery.LifeMixed, quantity.Hours))}
		}},
	{id: "top", field: "hand.drive.top", title: "Top code",
		options: subject.topOptions, also: []string{"overload_worst", "full_scale_reached", "coil_share", "pin_share"},
		order: "then fewest notes, the counts it has, and what is nearest to them",
		figures: func(s subject) []Figure {
			return []Figure{named("one code", quantity.DialTime(s.hand().Step)), named("coding error", quantity.DialTime(s.hand().CodeErrorMax))}
		}},
	{id: "filter", field: "hand.drive.capacitor", title: "Stage and capacitor",
		beside:  []string{"hand.drive.stage", "hand.drive.capacitor_at", "hand.drive.capacitor_kind"},
		options: subject.filterOptions,
		order:   "then fewest notes, no capacitor, one at the coil, what draws least, the smaller one",
		figures: func(s subject) []Figure {
			h := s.hand()
			told := []Figure{named("trembles by", figureText(h.RippleNeedle/s.minutes(), quantity.Percent)), named("coil's ripple", show(h.RippleCurrent, quantity.Percent))}
			if !math.IsNaN(h.FilterSettling) {
				told = append(told, named("settles in", show(h.FilterSettling, quantity.Seconds)), named("draws", show(h.FilterCurrent, quantity.Microamperes)))
			}
			return told
		}},
	{id: "load_capacitors", field: "crystal.capacitor_in", title: "Load capacitors",
		beside:  []string{"crystal.capacitor_out"},
		options: subject.loadCapacitorOptions,
		missing: func(s subject) bool {
			c := &s.p.Circuit.Crystal
			return !(c.In > 0 || c.Out > 0) && s.p.Crystal.CapacitorEach > 0
		},
		order: "then fewest notes, the least offset, a part that is not of E12 counting as 1 ppm",
		figures: func(s subject) []Figure {
			c := &s.p.Crystal
			told := []Figure{bare("offset", figureText(c.LoadOffset, quantity.PPM)), bare("rate", figureText(calc.SecondsADay*c.LoadOffset, quantity.SecondsPerDay))}
			if !math.IsNaN(c.GainMargin) {
				told = append(told, named("margin", show(c.GainMargin, quantity.Times)))
			}
			return told
		}},
	{id: "lamp", field: "lamp.resistor", title: "Lamp's resistor",
		options: subject.lampOptions, also: []string{"life_on", "pack_carries", "peak_cell_current"},
		order: "then fewest notes, the brighter, but for four times what it has",
		figures: func(s subject) []Figure {
			told := []Figure{bare("current", show(s.p.Lamps[s.i].Current, quantity.Milliamperes))}
			if share := s.p.Battery.Awake.Lamps; !math.IsNaN(share) {
				text := show(share, quantity.Percent)
				told = append(told, Figure{"lamps' share", text, "lamps " + text + " of the waking current"})
			}
			return told
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
