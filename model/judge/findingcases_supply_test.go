package judge

// supplyCases are of rail, converter and cells.
var supplyCases = []ruleCase{
	// 5 V ±1 %; four fresh cells of 1.59 V.
	both("rail_maximum", Fault, "rail.maximum", "5.04 V", "5.06 V"),
	both("rail_maximum", Fault, "rail.maximum", "6.35 V", "6.37 V", "battery.cells", "4"),
	both("pack_voltage", Fault, "battery.curve", "[[0, 20.1], [100, 5]]", "[[0, 19.9], [100, 5]]"), // of three cells
	// Three fresh cells, 4.77 V: 0.2 V below the rail, and at it.
	both("passes_through", Note, "rail.voltage", "4.96 V", "4.98 V"),
	both("passes_through", Warning, "rail.voltage", "4.76 V", "4.78 V"),
	both("passes_through", Note, "converter.kind", "boost", "linear", "rail.voltage", "4.96 V"),
	both("brown_out", Warning, "load.minimum_voltage", "4.81 V", "4.79 V"),
	both("brown_out", Fault, "load.minimum_voltage", "5.01 V", "4.99 V"),
	both("rail_drift", Note, "rail.drift", "0.417 %", "0.416 %"),                                // a code of 240 is 0.41667 %
	both("rail_drift", Warning, "rail.drift", "1.01 %", "0.99 %"),                               // as full_scale_reached and fade_error
	both("rail_drift", Warning, "rail.drift", "1.01 %", "0.99 %", "hand.hours.drive.top", "20"), // though a code is 5 %
	// The rail of 5 V falls to the brown-out: 1 % and 5 %.
	both("fade_error", Warning, "load.minimum_voltage", "4.9495 V", "4.9505 V", "converter.kind", "none"),
	both("fade_error", Fault, "load.minimum_voltage", "4.749 V", "4.751 V", "converter.kind", "none"),
	// 0.25 + 2·3.1 + 1/1.1 mA are 7.3591 mA.
	both("pins_together", Warning, "load.package_limit", "14.7 mA", "14.75 mA"),
	both("pins_together", Fault, "load.package_limit", "7.35 mA", "7.37 mA"),
	both("load_unknown", Note, "load.controller_on", "", "2 mA"),
	both("load_unknown", Note, "load.controller_off", "", "2 µA"),
	both("load_unknown", Note, "battery.capacity", "", "1 Ah", "battery.cell", ""),
	// (4.77 V - R·40 µA)² = 4·R·5 V·6.1997 mA/0.8 (public-1.json): R = 146.4 Ω, 48.81 Ω a cell.
	both("pack_carries", Fault, "battery.resistance", "48.9 Ω", "48.7 Ω"),
	// 0.8791 mA less than 3, 9, 300 and, with a lamp's 3.1 mA, 50 mA.
	both("peak_cell_current", Warning, "load.controller_on", "2.13 mA", "2.12 mA", and(dark, []string{"battery.cell", "CR2032"})...),
	both("peak_cell_current", Fault, "load.controller_on", "8.13 mA", "8.12 mA", and(dark, []string{"battery.cell", "CR2032"})...),
	both("peak_cell_current", Warning, "load.controller_on", "299.2 mA", "299.1 mA", dark...),
	both("peak_cell_current", Warning, "load.controller_on", "46.1 mA", "46 mA", and(dark, []string{"battery.cell", "alkaline 9 V block", "lamp.seconds.count", "1"})...),
	// A cell without resistance rests at 1.23 V with 20 % left: three are at 3.69 V, five 1.15 V above the rail.
	both("stranded", Fault, "converter.minimum_input", "3.691 V", "3.689 V", "battery.resistance", "0"),
	both("stranded", Warning, "load.minimum_voltage", "3.691 V", "3.689 V", "battery.resistance", "0", "converter.kind", "none"),
	both("stranded", Warning, "converter.dropout", "1.152 V", "1.148 V", "battery.resistance", "0", "converter.kind", "linear", "battery.cells", "5"),
	both("stranded", Warning, "converter.minimum_input", "3.201 V", "3.199 V", "battery.resistance", "0"), // used up at 3·1.10 V
	// Three cells of 0.9 and of 1.0 V; a regulator holds 5 V from 5.2 V on, five cells of 1.05 V end at 5.25 V.
	both("past_cutoff", Note, "converter.minimum_input", "2.69 V", "2.70 V"),
	both("past_cutoff", Warning, "converter.minimum_input", "2.99 V", "3.00 V", "battery.cell", "LSD NiMH AA", "battery.cutoff", ""),
	both("past_cutoff", Note, "battery.cutoff", "1.05 V", "1.04 V", "converter.kind", "linear", "converter.dropout", "0.2 V", "battery.cells", "5"),
	both("past_cutoff", Note, "converter.kind", "boost", "none", "converter.minimum_input", "2.69 V"),
	// 2·0.5·3.1 + 0.5/1.1 mA of lamps, and 0.64516 mA for the hand (public-1.json): half of all with 2.9094 mA.
	both("lamps_share", Note, "load.controller_on", "2.90 mA", "2.92 mA", evenDischarge...),
	// 5 V·2 µA/0.8 over 4.77 V is 2.6205 µA, and nine times that; 40 µA last 51 122 h, 5.832 a (public-1.json).
	both("converter_share", Note, "converter.quiescent", "2.63 µA", "2.61 µA", "battery.shelf", "50 a"),
	both("converter_share", Warning, "converter.quiescent", "23.6 µA", "23.5 µA"),
	both("converter_share", Warning, "battery.shelf", "5.84 a", "5.83 a"),
	// 6.1997 mA by public-1.json: 60, 30 and 1 days of 8.928, 4.464 and 0.1488 Ah.
	both("life_on", Note, "battery.capacity", "8.92 Ah", "8.93 Ah", evenDischarge...),
	both("life_on", Warning, "battery.capacity", "4.46 Ah", "4.47 Ah", evenDischarge...),
	both("life_on", Fault, "battery.capacity", "148 mAh", "149 mAh", evenDischarge...),
	// 2.5 Ah: a year at 285.19 µA, 30 days at 3.472 mA; the shelf of 10 a decides below 28.519 µA.
	both("life_standby", Note, "load.controller_off", "28.5 µA", "28.6 µA", evenDischarge...),
	both("life_standby", Warning, "load.controller_off", "286 µA", "285 µA", evenDischarge...),
	both("life_standby", Fault, "load.controller_off", "3.48 mA", "3.47 mA", evenDischarge...),
}

// crystalCases are of the crystal, its load and its rate.
var crystalCases = []ruleCase{
	// Stray alone, C: 1500·(1/(1.2 + C) - 1/13.7) ppm: 10, 20, 100 and -10 at 11.354, 10.384, 5.960 and 13.877 pF;
	// there -20 and -100 with twice and ten times the motional 3 fF.
	both("load_offset", Note, "crystal.stray", "11.35 pF", "11.36 pF", "crystal.capacitor_in", "0"),
	both("load_offset", Warning, "crystal.stray", "10.38 pF", "10.39 pF", "crystal.capacitor_in", "0"),
	both("load_offset", Fault, "crystal.stray", "5.96 pF", "5.97 pF", "crystal.capacitor_in", "0"),
	both("load_offset", Note, "crystal.stray", "13.88 pF", "13.87 pF", "crystal.capacitor_in", "0"),
	both("load_offset", Warning, "crystal.stray", "13.88 pF", "13.87 pF", "crystal.capacitor_in", "0", "crystal.motional", "6 fF"),
	both("load_offset", Fault, "crystal.stray", "13.88 pF", "13.87 pF", "crystal.capacitor_in", "0", "crystal.motional", "30 fF"),
	// Twice 12.5 pF less stray is left.
	both("stray_alone", Warning, "crystal.stray", "11.51 pF", "11.49 pF"),
	both("stray_alone", Fault, "crystal.stray", "12.5 pF", "12.49 pF"),
	both("large_capacitors", Warning, "crystal.capacitor_in", "33.1 pF", "33 pF"),
	both("large_capacitors", Warning, "crystal.capacitor_out", "33.1 pF", "33 pF"),
	both("capacitor_ratio", Note, "crystal.capacitor_in", "22.6 pF", "22.5 pF"), // of 15 pF
	both("capacitor_ratio", Warning, "crystal.capacitor_out", "45.1 pF", "45 pF"),
	// 1.6409 µS by public-1.json, five and three times.
	both("gain_margin", Warning, "crystal.transconductance", "8.2 µS", "8.21 µS"),
	both("gain_margin", Fault, "crystal.transconductance", "4.92 µS", "4.93 µS"),
	both("gain_margin", Note, "crystal.transconductance", "", "9 µS"),
	both("gain_margin", Note, "crystal.esr", "60 kΩ", "", "crystal.transconductance", ""),
	both("gain_margin", Note, "crystal.shunt", "1.2 pF", "", "crystal.transconductance", ""), // nothing is known of it
	// 90 and 180 s in 30.4375 days are 34.223 and 68.446 ppm, 1.12142 and 2.24285 Hz.
	both("month_drift", Note, "crystal.measured", "32769.13 Hz", "32769.12 Hz", true32...),
	both("month_drift", Note, "crystal.measured", "32766.87 Hz", "32766.88 Hz", true32...),
	both("month_drift", Warning, "crystal.measured", "32770.25 Hz", "32770.24 Hz", true32...),
	both("month_drift", Warning, "crystal.measured", "32765.75 Hz", "32765.76 Hz", true32...),
}

// lampCases are of lamps and buttons.
var lampCases = []ruleCase{
	both("lamp_voltage", Warning, "lamp.seconds.forward", "4.505 V", "4.495 V"),
	both("lamp_voltage", Fault, "lamp.afternoon.forward", "5 V", "4.99 V"),
	// 3.1 V: 0.3, 10 and 20 mA at 10 333, 310 and 155 Ω; 3.1 mA as it is.
	both("lamp_current", Note, "lamp.seconds.resistor", "10.34 kΩ", "10.33 kΩ"),
	both("lamp_current", Warning, "lamp.seconds.resistor", "309 Ω", "311 Ω"),
	both("lamp_current", Fault, "lamp.seconds.resistor", "154.5 Ω", "155.5 Ω"),
	both("lamp_current", Fault, "hand.hours.drive.pin_limit", "3.09 mA", "3.11 mA"),
	both("lamp_current", Note, "lamp.afternoon.forward", "4.99 V", "5 V"), // dark is not dim: lamp_voltage says it
	// 9.61 mW in 1 kΩ, 19.22 mW in 500 Ω.
	both("lamp_power", Warning, "lamp.seconds.resistor_rating", "19.2 mW", "19.3 mW"),
	both("lamp_power", Fault, "lamp.seconds.resistor_rating", "19.2 mW", "19.3 mW", "lamp.seconds.resistor", "500 Ω"),
	both("lamp_unknown", Warning, "lamp.seconds.forward", "", "1.9 V"),
	both("lamp_unknown", Warning, "lamp.afternoon.resistor", "", "1 kΩ"),
	// 2.5 Ah in 60 days is 1736.1 µA, 2 µA of it the controller's: 5 V over 2883.3 Ω.
	both("button_wedged", Note, "button.set.pull", "2.88 kΩ", "2.89 kΩ", evenDischarge...),
	both("button_wedged", Note, "button.set.wakes", "press", "release"),
	both("button_wedged", Note, "button.set.wakes", "press", "no"),
}

// usualCases are of values that are allowed but not usual; the usual ends
// themselves are usual.
var usualCases = []ruleCase{
	both("unusual", Warning, "hand.hours.meter.coil", "4.99 Ω", "5 Ω"),
	both("unusual", Warning, "hand.hours.meter.coil", "10.01 kΩ", "10 kΩ"),
	both("unusual", Warning, "hand.hours.meter.full_scale", "9.99 µA", "10 µA"),
	both("unusual", Warning, "hand.hours.meter.full_scale", "20.01 mA", "20 mA"),
	both("unusual", Warning, "rail.voltage", "1.79 V", "1.8 V"),
	both("unusual", Warning, "rail.voltage", "5.51 V", "5.5 V"),
	both("unusual", Warning, "hand.hours.drive.counts", "239", "240", "hand.hours.drive.top", "200"),
	both("unusual", Warning, "hand.hours.drive.counts", "1025", "1024"),
	both("unusual", Warning, "hand.hours.drive.trimmer", "99 Ω", "100 Ω"),
	both("unusual", Warning, "hand.hours.drive.trimmer", "100.1 kΩ", "100 kΩ"),
	both("unusual", Warning, "crystal.load", "5.99 pF", "6 pF"),
	both("unusual", Warning, "crystal.load", "12.51 pF", "12.5 pF"),
}
