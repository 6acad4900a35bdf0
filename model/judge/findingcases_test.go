package judge

import (
	"fmt"
	"slices"
	"strconv"
)

// A ruleCase changes the build of caseText so that a row of the findings table
// just speaks with a severity, and so that it just does not.
type ruleCase struct {
	id             string
	severity       Severity
	path           string
	beyond, inside string
	more           []string // paths and values of both
}

// both makes a case of one path and its two values.
func both(id string, s Severity, path, beyond, inside string, more ...string) ruleCase {
	return ruleCase{id, s, path, beyond, inside, more}
}

// noCopper leaves the movement's own drift alone to move full scale.
var noCopper = []string{"hand.hours.meter.coil_copper", "0 %", "hand.hours.drive.resistor_tempco", "0", "hand.hours.drive.pin_tempco", "0"}

// evenDischarge makes a life of capacity over current.
var evenDischarge = []string{"converter.kind", "none", "battery.curve", "[[0, 1.6], [100, 1.6]]", "battery.resistance", "0", "battery.self_discharge", "0"}

// noFilter lets the coil have the pin's own pulses; pure leaves the capacitor alone to smooth them.
var (
	noFilter = []string{"hand.hours.drive.capacitor", "0"}
	pure     = []string{"hand.hours.meter.inductance", "0"}
)

// small is a meter of 5 mA behind 500 Ω and a trimmer of 500 Ω, of which it takes 287.5 Ω.
var small = []string{"hand.hours.meter.full_scale", "5 mA", "hand.hours.meter.coil", "100 Ω", "hand.hours.drive.stage", "0",
	"hand.hours.drive.fixed", "500 Ω", "hand.hours.drive.trimmer", "500 Ω"}

// dark leaves the controller and a hand of at most 0.8791 mA: U·through/(4·after·before), 5 V·18.75/(4·17.2·1550 Ω).
var dark = []string{"lamp.seconds.count", "0", "lamp.afternoon.count", "0", "converter.kind", "none"}

// true32 counts each tick as long as it is, and has been measured at its turnover.
var true32 = []string{"crystal.lost_counts", "0", "crystal.measured_at", "25 °C"}

// atCoil puts the capacitor behind all of the series resistance.
var atCoil = []string{"hand.hours.drive.capacitor_at", "coil"}

func and(changes ...[]string) []string { return slices.Concat(changes...) }

// ruleCases: the limits are common practice, no source (gain margin: ST
// AN2867; overload: IEC 60051, read second-hand). Where on the input a limit lies
// is derived by hand, as said above each, from numbers of the build public-1; where
// it says "script", by an independent one that shares no code with this program.
var ruleCases = slices.Concat(kindCases, scaleCases, handCases, meterCases, supplyCases, crystalCases, lampCases, usualCases)

// kindCases are of what kind of meter it is, and whether it can be driven.
var kindCases = []ruleCase{
	both("kind", Fault, "hand.hours.meter.kind", "cross coil", "moving coil"),
	both("kind", Warning, "hand.hours.meter.kind", "rectifier", "moving iron"),
	both("law_assumed", Note, "hand.hours.meter.law", "", "square", "hand.hours.meter.kind", "moving iron"),
	both("law_assumed", Note, "hand.hours.meter.kind", "thermal", "rectifier", "hand.hours.meter.law", ""),
	both("driven", Fault, "hand.hours.meter.full_scale", "201 mA", "200 mA"),
	// A shunt of the coil's own 920 Ω doubles it.
	both("driven", Fault, "hand.hours.meter.full_scale", "101 mA", "100 mA", "hand.hours.meter.internal_kind", "shunt",
		"hand.hours.meter.internal", "920 Ω", "hand.hours.meter.in_circuit", "yes"),
	// 1920 Ω make up what is inside; 1 % of that and 1 % of x: x = 1939.2 Ω/0.99 = 1958.8 Ω, and 1900.8 Ω/1.01 = 1882.0 Ω.
	both("terminals_apart", Warning, "hand.hours.meter.terminal_resistance", "1.959 kΩ ±1 %", "1.9585 kΩ ±1 %", found...),
	both("terminals_apart", Warning, "hand.hours.meter.terminal_resistance", "1.8815 kΩ ±1 %", "1.8825 kΩ ±1 %", found...),
	both("glow", Warning, "hand.hours.meter.glow", "yes", "no"),
	both("glow", Warning, "hand.hours.meter.glow", "unknown", "no"),
	both("half_scale", Note, "hand.hours.meter.zero_at", "centre", "right"),
	both("half_scale", Note, "hand.hours.drive.by", "pin", "bridge", "hand.hours.meter.zero_at", "centre", "hand.hours.drive.capacitor_kind", "film"),
	both("bridge_rest", Fault, "hand.hours.meter.zero_at", "left", "centre", "hand.hours.drive.by", "bridge"),
	both("bridge_capacitor", Warning, "hand.hours.drive.capacitor", "1 µF", "0.995 µF", "hand.hours.drive.by", "bridge", "hand.hours.drive.capacitor_kind", ""),
	both("bridge_capacitor", Fault, "hand.hours.drive.capacitor_kind", "electrolytic", "film", "hand.hours.drive.by", "bridge", "hand.hours.drive.capacitor", "1 µF"),
	both("suppressed_zero", Fault, "hand.hours.correct", "none", "codes", "hand.hours.meter.scale_from", "20 %"),
	both("suppressed_zero", Fault, "hand.hours.correct", "dial", "codes", "hand.hours.meter.scale_from", "20 %"),
}

// found is a case that was measured, and opened.
var found = []string{"hand.hours.meter.coil", "920 Ω ±1 %", "hand.hours.meter.internal", "1 kΩ ±1 %", "hand.hours.meter.internal_kind", "multiplier"}

// evenScale are seven readings of an even scale, of the top code of the case's build.
var evenScale = scaleRows("0 %", "16.7 %", "33.3 %", "50 %", "66.7 %", "83.3 %", "100 %")

// scaleRows are readings at sixths of 240 codes.
func scaleRows(places ...string) []string {
	var rows []string
	for k, place := range places {
		path := fmt.Sprintf("hand.hours.scale.%d.", k+1)
		rows = append(rows, path+"code", strconv.Itoa(40*k), path+"of", "240", path+"stands", place)
	}
	return rows
}

// scaleCases are of what was measured of a scale. The catalogue: three points do with both
// ends among them; 5 % off an even scale is more than 1.5 %; the cube root of 1/240 is 16 % of
// the scale, 38 times an even step.
var scaleCases = []ruleCase{
	both("scale_few", Note, "hand.hours.scale.4.stands", "", "50 %", scaleRows("0 %", "", "", "50 %", "", "", "100 %")...),
	both("scale_outlier", Warning, "hand.hours.scale.4.stands", "55 %", "50 %", evenScale...),
	both("scale_rescaled", Note, "hand.hours.scale.4.of", "241", "240", evenScale...),
	both("scale_steep", Warning, "hand.hours.correct", "codes", "dial", scaleRows("0 %", "55.03 %", "69.34 %", "79.37 %", "87.36 %", "94.10 %", "100 %")...),
}

// handCases are of what drives a hand.
var handCases = []ruleCase{
	// Travel is (16 280 Ω - fixed)/5 kΩ: 90, 10, 100 and 0 % at 11.78, 15.78, 11.28 and 16.28 kΩ.
	both("trimmer_travel", Warning, "hand.hours.drive.fixed", "11.77 kΩ", "11.79 kΩ"),
	both("trimmer_travel", Warning, "hand.hours.drive.fixed", "15.79 kΩ", "15.77 kΩ"),
	both("trimmer_travel", Fault, "hand.hours.drive.fixed", "11.27 kΩ", "11.29 kΩ"),
	both("trimmer_travel", Fault, "hand.hours.drive.fixed", "16.29 kΩ", "16.27 kΩ"),
	// The band of the catalogue, by script (at 13 kΩ it is that of public-1.bands.json): 98 % at 12 095.7 Ω, 2 % at 15 692.3 Ω.
	both("travel_band", Warning, "hand.hours.drive.fixed", "12.095 kΩ ±1 %", "12.097 kΩ ±1 %"),
	both("travel_band", Warning, "hand.hours.drive.fixed", "15.693 kΩ ±1 %", "15.692 kΩ ±1 %"),
	// 18 750 Ω are 16 280 Ω of fixed and trimmer: 30 and 60 % of it, 5625 and 11 250 Ω, beside 10 655 and 5030 Ω.
	both("trimmer_share", Note, "hand.hours.drive.fixed", "10.65 kΩ", "10.66 kΩ", "hand.hours.drive.trimmer", "20 kΩ"),
	both("trimmer_share", Warning, "hand.hours.drive.fixed", "5.02 kΩ", "5.04 kΩ", "hand.hours.drive.trimmer", "20 kΩ"),
	// 720 min·5 kΩ/(100·turns)/18 750 Ω is a quarter of 3 min at 2.56 turns; half a percent of 15 625 Ω is 3 min.
	both("trim_step", Note, "hand.hours.drive.trimmer_turns", "2.55", "2.57"),
	both("trim_step", Warning, "hand.hours.drive.trimmer", "15.7 kΩ", "15.6 kΩ", "hand.hours.drive.trimmer_turns", "1"),
	// 18 750 Ω is full scale, 15 470 Ω stand beside the setting: 0.99, 1.01, 0.97, 1.03 at 3469.4, 3094.4, 3859.9, 2733.9 Ω.
	both("full_scale_reached", Warning, "hand.hours.drive.setting", "3.47 kΩ", "3.469 kΩ"),
	both("full_scale_reached", Warning, "hand.hours.drive.setting", "3.094 kΩ", "3.095 kΩ"),
	both("full_scale_reached", Fault, "hand.hours.drive.setting", "3.86 kΩ", "3.859 kΩ"),
	both("full_scale_reached", Fault, "hand.hours.drive.setting", "2.733 kΩ", "2.734 kΩ"),
	// 5.05 V over 245 µA is 20 612 Ω, 2421.6 Ω of it at their least besides fixed: 1, 1.2, 2 times at 18 374, 14 904, 7964 Ω.
	both("overload_worst", Note, "hand.hours.drive.fixed", "18.37 kΩ ±1 %", "18.38 kΩ ±1 %"),
	both("overload_worst", Warning, "hand.hours.drive.fixed", "14.90 kΩ ±1 %", "14.91 kΩ ±1 %"),
	both("overload_worst", Fault, "hand.hours.drive.fixed", "7.96 kΩ ±1 %", "7.97 kΩ ±1 %"),
	both("overload_worst", Warning, "hand.hours.meter.overload", "1.345", "1.35"), // 1.348 by public-1.json
	// 250 µA at the top code.
	both("pin_mean_current", Note, "hand.hours.drive.pin_limit", "0.998 mA", "1.002 mA"),
	both("pin_mean_current", Warning, "hand.hours.drive.pin_limit", "0.499 mA", "0.501 mA"),
	both("pin_mean_current", Fault, "hand.hours.drive.pin_limit", "0.249 mA", "0.251 mA"),
	// 5 V over 1550 Ω, 3.226 mA.
	both("pin_peak_current", Warning, "hand.hours.drive.pin_limit", "6.45 mA", "6.46 mA"),
	both("pin_peak_current", Fault, "hand.hours.drive.pin_limit", "3.22 mA", "3.23 mA"),
	// 1 and 3 % of 18 750 Ω, which the trimmer makes up for: 187.5 and 562.5 Ω.
	both("pin_share", Note, "hand.hours.drive.pin_resistance", "188 Ω", "187 Ω"),
	both("pin_share", Warning, "hand.hours.drive.pin_resistance", "563 Ω", "562 Ω"),
	// 15 and 40 % of 18 750 Ω, 2812.5 and 7500 Ω, are 56.25 and 93.75 % of coils of 5 and 8 kΩ.
	both("coil_share", Note, "hand.hours.meter.coil_copper", "56.3 %", "56.2 %", "hand.hours.meter.coil", "5 kΩ", "hand.hours.drive.fixed", "10 kΩ"),
	both("coil_share", Warning, "hand.hours.meter.coil_copper", "93.8 %", "93.7 %", "hand.hours.meter.coil", "8 kΩ", "hand.hours.drive.fixed", "5 kΩ"),
	// A stage of 500 Ω, emptied and filled over every duty: 10.339 mW at most, by script.
	both("resistor_power", Warning, "hand.hours.drive.resistor_rating", "20.6 mW", "20.7 mW", "hand.hours.drive.stage", "500 Ω"),
	both("resistor_power", Fault, "hand.hours.drive.resistor_rating", "10.3 mW", "10.4 mW", "hand.hours.drive.stage", "500 Ω"),
	// 5 V over 937.5 Ω is 5.333 mA: 14.222 mW in 500 Ω.
	both("trimmer_power", Warning, "hand.hours.drive.resistor_rating", "28.4 mW", "28.5 mW", small...),
	both("trimmer_power", Fault, "hand.hours.drive.resistor_rating", "14.2 mW", "14.3 mW", small...),
	// A square wave of 5 V/18 750 Ω on a needle of 0.9 s and 22 %, its harmonics summed by script: 0.2, 0.5, 2 % at
	// 28.517, 18.050 and 9.0615 Hz, of clock = 2048·f.
	both("ripple_needle", Note, "hand.hours.drive.clock", "58.3 kHz", "58.5 kHz", noFilter...),
	both("ripple_needle", Warning, "hand.hours.drive.clock", "36.9 kHz", "37.0 kHz", noFilter...),
	both("ripple_needle", Fault, "hand.hours.drive.clock", "18.5 kHz", "18.6 kHz", noFilter...),
	// f·0.9 s is 25 and 8 at 27.778 and 8.889 Hz, of clock = 2048·f; at 20 Hz 10.346 µF leave 0.2 %, by the script above.
	both("pwm_slow", Warning, "hand.hours.drive.clock", "56.8 kHz", "56.9 kHz", noFilter...),
	both("pwm_slow", Fault, "hand.hours.drive.clock", "18.20 kHz", "18.21 kHz", noFilter...),
	both("pwm_slow", Warning, "hand.hours.drive.capacitor", "10.3 µF", "10.4 µF", "hand.hours.drive.clock", "40.96 kHz"),
	// Of half duty 16/15·tanh(T/4τ) of full scale, T = 1.024 ms and τ = C·1421.87 Ω: 10 and 50 % at 1.9148 and 0.35409 µF.
	both("hum", Note, "hand.hours.drive.capacitor", "1.91 µF", "1.92 µF", pure...),
	both("hum", Warning, "hand.hours.drive.capacitor", "0.354 µF", "0.355 µF", pure...),
	// Nobody hears 100 Hz or 8 kHz, 204.8 kHz and 16.384 MHz over 2048.
	both("hum", Warning, "hand.hours.drive.clock", "205 kHz", "204.8 kHz", and(noFilter, pure)...),
	both("hum", Warning, "hand.hours.drive.clock", "16.38 MHz", "16.384 MHz", and(noFilter, pure)...),
	// 1/(2πC·1421.87 Ω) is a third of 976.56 Hz at 0.34386 µF.
	both("filter_idle", Note, "hand.hours.drive.capacitor", "0.343 µF", "0.344 µF"),
	// Over all codes 5 V·(T/2 - (1-a)·T²/3)/a of 18 750 Ω, of which T/2 is the meter's, T = 15/16: as much again at
	// a = 3/11, 5113.6 Ω with the pin.
	both("filter_draws", Note, "hand.hours.drive.stage", "5.06 kΩ", "5.07 kΩ", "hand.hours.drive.fixed", "10 kΩ"),
	// ln 512·C·1421.87 Ω is a third of 1.22647 s (public-1.json) at 46.090 µF, and 1 s at 112.74 µF.
	both("filter_settling", Note, "hand.hours.drive.capacitor", "46.1 µF", "46.0 µF"),
	both("filter_settling", Warning, "hand.hours.drive.capacitor", "113 µF", "112.5 µF", "hand.hours.shows", "60 s"),
	// At the coil, the trimmer held at zero, 14 550 Ω of 15 470 Ω stand before the node: of 3 µA that is 0.3 % of 940.5 µA. Trimmed it is
	// 3 µA·(1 - 920 Ω·I/4.6875 V), 1 % of 283.3 µA. Behind the stage only 1550 Ω of 18 750 Ω do. A small one, or a film, is no electrolytic.
	both("capacitor_leak", Note, "hand.hours.meter.full_scale", "0.940 mA", "0.941 mA", atCoil...),
	both("capacitor_leak", Warning, "hand.hours.meter.full_scale", "283 µA", "284 µA", atCoil...),
	both("capacitor_leak", Warning, "hand.hours.drive.capacitor", "1 µF", "0.999 µF", atCoil...),
	both("capacitor_leak", Warning, "hand.hours.drive.capacitor_kind", "electrolytic", "film", and(atCoil, []string{"hand.hours.drive.capacitor", "0.1 µF"})...),
	both("capacitor_leak", Warning, "hand.hours.drive.capacitor_at", "coil", "stage"),
	// 5 V ±1 %, and half as much again.
	both("capacitor_voltage", Warning, "hand.hours.drive.capacitor_rating", "7.57 V", "7.58 V"),
	both("capacitor_voltage", Fault, "hand.hours.drive.capacitor_rating", "5.04 V", "5.06 V"),
	// Of half duty the mean square is (8/15)²·(1 - tanh(z)/z), z = T/4τ: half a code and one of 240 at 1.2093 and 0.85128 µF.
	both("law_ripple", Note, "hand.hours.drive.capacitor", "1.205 µF", "1.215 µF", and(pure, []string{"hand.hours.meter.law", "square"})...),
	both("law_ripple", Warning, "hand.hours.drive.capacitor", "0.848 µF", "0.853 µF", and(pure, []string{"hand.hours.meter.law", "square"})...),
	// Bare pulses of 16/15 at half duty: half of law(16/15) less law(8/15) is 0.5 less the scale at half the current, whatever
	// lies beyond. Half a code and one of 240 are 0.20833 and 0.41667 %.
	both("law_ripple", Note, "hand.hours.meter.table", halfAt("50.209 %"), halfAt("50.208 %"), and(noFilter, pure)...),
	both("law_ripple", Warning, "hand.hours.meter.table", halfAt("50.417 %"), halfAt("50.416 %"), and(noFilter, pure)...),
	// The node's equation solved at 20 001 duties by script, with 50 Ω the other way: 0.75 and 3 min at 57.528 and 80.340 Ω
	// low, at 57.530 and 80.374 Ω high.
	both("pin_bend", Note, "hand.hours.drive.pin_low", "57.54 Ω", "57.52 Ω", "hand.hours.drive.pin_high", "50 Ω"),
	both("pin_bend", Warning, "hand.hours.drive.pin_low", "80.4 Ω", "80.3 Ω", "hand.hours.drive.pin_high", "50 Ω"),
	both("pin_bend", Note, "hand.hours.drive.pin_high", "57.54 Ω", "57.52 Ω", "hand.hours.drive.pin_low", "50 Ω"),
	both("pin_bend", Warning, "hand.hours.drive.pin_high", "80.4 Ω", "80.3 Ω", "hand.hours.drive.pin_low", "50 Ω"),
	// A code of 240 of 12 h is 3 min.
	both("code_step", Note, "hand.hours.mark", "5.99 min", "6 min"),
	both("code_step", Warning, "hand.hours.mark", "2.99 min", "3 min"),
	// 240 divides 720, 250 does not.
	both("equal_steps", Note, "hand.hours.drive.top", "250", "240", "hand.hours.correct", "none"),
	both("equal_steps", Note, "hand.hours.correct", "none", "codes", "hand.hours.drive.top", "250"),
}

// halfAt is a law with the scale at half the current.
func halfAt(scale string) string {
	return `[["0 %", "0 %"], ["50 %", "` + scale + `"], ["100 %", "100 %"]]`
}

// meterCases are of the meter itself.
var meterCases = []ruleCase{
	both("inside", Note, "hand.hours.meter.in_circuit", "yes", "no", "hand.hours.meter.internal_kind", "multiplier", "hand.hours.meter.internal", "1 kΩ"),
	// A multiplier stands where the setting stood, and at 0 the trimmer can do no more: 0.99 and 0.97 as of the setting
	// above. A trimmer of 1 kΩ at its end leaves 16 470 Ω besides: 1.01 and 1.03 at 2094.4 and 1733.9 Ω.
	both("inside", Warning, "hand.hours.meter.internal", "3.47 kΩ", "3.469 kΩ", multiplier...),
	both("inside", Fault, "hand.hours.meter.internal", "3.86 kΩ", "3.859 kΩ", multiplier...),
	both("inside", Warning, "hand.hours.meter.internal", "2.094 kΩ", "2.095 kΩ", and(multiplier, []string{"hand.hours.drive.trimmer", "1 kΩ"})...),
	both("inside", Fault, "hand.hours.meter.internal", "1.733 kΩ", "1.734 kΩ", and(multiplier, []string{"hand.hours.drive.trimmer", "1 kΩ"})...),
	// The trimmer at 0, a shunt S leaves 18 750·S/(15 470·S + 14 550·920 Ω): 0.99 and 0.97 at 3858.3 and 3468.0 Ω.
	both("inside", Warning, "hand.hours.meter.internal", "3.858 kΩ", "3.859 kΩ", shunt...),
	both("inside", Fault, "hand.hours.meter.internal", "3.467 kΩ", "3.469 kΩ", shunt...),
	both("inside_value", Warning, "hand.hours.meter.internal", "", "1 kΩ", "hand.hours.meter.internal_kind", "shunt", "hand.hours.meter.in_circuit", "yes"),
	both("inside_value", Warning, "hand.hours.meter.in_circuit", "yes", "no"), // of no known kind either
	// The coil has 920 Ω.
	both("inside_is_coil", Warning, "hand.hours.meter.internal", "920 Ω", "921 Ω", "hand.hours.meter.internal_kind", "multiplier"),
	both("inside_is_coil", Warning, "hand.hours.meter.internal_kind", "multiplier", "shunt", "hand.hours.meter.internal", "920 Ω"),
	both("never_at_rest", Note, "hand.hours.meter.period", "0.367 s", "0.366 s", "hand.hours.shows", "60 s"), // 1.22647 s at 0.9 s (public-1.json)
	both("never_at_rest", Warning, "hand.hours.meter.period", "0.734 s", "0.733 s", "hand.hours.shows", "60 s"),
	// The diode equation with its constants, trimmed and solved at 4000 currents by script: 0.75 and 3 min at 998.1 and 1236.6 Ω.
	both("diode_bend", Note, "hand.hours.meter.coil", "999 Ω", "997 Ω", "hand.hours.meter.diodes", "silicon"),
	both("diode_bend", Warning, "hand.hours.meter.coil", "1237 Ω", "1236 Ω", "hand.hours.meter.diodes", "silicon"),
	// Half a code of 240 is 0.20833 %.
	both("zero_off", Note, "hand.hours.meter.zero_offset", "0.209 %", "0.208 %"),
	both("zero_off", Note, "hand.hours.meter.zero_offset", "-0.209 %", "-0.208 %"),
	both("zero_off", Warning, "hand.hours.meter.zero_offset", "2.005 %", "1.995 %"),
	both("zero_off", Warning, "hand.hours.meter.zero_offset", "-2.005 %", "-1.995 %"),
	// Two codes of 240 are 0.8333 %.
	both("friction", Note, "hand.hours.meter.stick", "0.834 %", "0.833 %"),
	both("friction", Warning, "hand.hours.meter.stick", "2.005 %", "1.995 %"),
	both("mounting", Note, "hand.hours.meter.panel", "steel", "not steel", "hand.hours.meter.panel_for", "not steel"),
	both("mounting", Note, "hand.hours.meter.position", "flat", "upright", "hand.hours.meter.position_for", "upright"),
	both("mounting", Note, "hand.hours.meter.trimmed_in_place", "no", "yes", "hand.hours.meter.panel_for", "steel", "hand.hours.meter.panel", "not steel"),
	both("neighbour", Note, "hand.hours.meter.neighbour", "89.9 mm", "90 mm", "hand.hours.meter.diameter", "60 mm"),
	// 720 min · 7 K · 1.08 of scale a share of current: a code of 3 min at 551.1 ppm/K, 2 % of the scale at 2645.5.
	both("temperature_error", Note, "hand.hours.meter.movement_tempco", "552 ppm/K", "551 ppm/K", noCopper...),
	both("temperature_error", Warning, "hand.hours.meter.movement_tempco", "-2646 ppm/K", "-2645 ppm/K", noCopper...),
	// At 500 ppm/K it is a code from 7.716 K on, below 29 °C.
	both("temperature_error", Note, "rail.trimmed_at", "21.2 °C", "21.3 °C", and(noCopper, []string{"hand.hours.meter.movement_tempco", "500 ppm/K"})...),
	// Derived: 8 bits hold 255, 16 bits 65 535.
	both("top_code", Warning, "hand.hours.drive.top", "256", "255"),
	both("top_code", Warning, "hand.hours.drive.counts", "256", "257", "hand.hours.drive.top", "256"),
	both("top_code", Warning, "hand.hours.drive.top", "65536", "65535", "hand.hours.drive.counts", "65536"),
	both("scale_class", Note, "hand.hours.meter.class", "0.417 %", "0.416 %", "hand.hours.meter.law", "linear"), // a code is 0.41667 %
	both("scale_class", Note, "hand.hours.meter.law", "linear", "table", "hand.hours.meter.class", "2.5 %", "hand.hours.meter.table", "[[0, 0], [50, 47], [100, 100]]"),
	both("scale_class", Note, "hand.hours.meter.table", "[[0, 0], [100, 100]]", "[[0, 0], [50, 50], [100, 100]]", "hand.hours.meter.class", "2.5 %", "hand.hours.meter.law", "table"),
	// Half a code and one of 240 are 0.20833 and 0.41667 %.
	both("uneven_scale", Warning, "hand.hours.meter.table", halfAt("50.209 %"), halfAt("50.208 %"), "hand.hours.correct", "none"),
	both("uneven_scale", Fault, "hand.hours.meter.table", halfAt("49.583 %"), halfAt("49.584 %"), "hand.hours.correct", "none"),
	both("uneven_scale", Fault, "hand.hours.correct", "none", "dial", "hand.hours.meter.law", "square"),
	both("uneven_scale", Fault, "hand.hours.correct", "none", "codes", "hand.hours.meter.law", "square"),
	// 20 and 500 mV over 920 Ω: 21.739 and 543.48 µA.
	both("coil_voltage", Warning, "hand.hours.meter.full_scale", "21.7 µA", "21.8 µA"),
	both("coil_voltage", Warning, "hand.hours.meter.full_scale", "544 µA", "543 µA"),
	both("origin", Fault, "hand.hours.meter.origin", "mains", "salvaged"),
	both("origin", Fault, "hand.hours.meter.origin", "high voltage", "new"),
	both("origin", Fault, "hand.hours.meter.removed", "", "yes", "hand.hours.meter.origin", "mains"),
	both("origin", Fault, "hand.hours.meter.removed", "unknown", "yes", "hand.hours.meter.origin", "high voltage"),
	both("origin", Warning, "hand.hours.meter.origin", "vehicle", "military"),
	both("origin", Warning, "hand.hours.meter.removed", "no", "yes", "hand.hours.meter.origin", "vehicle"),
}

var (
	multiplier = []string{"hand.hours.meter.internal_kind", "multiplier", "hand.hours.meter.in_circuit", "yes"}
	shunt      = []string{"hand.hours.meter.internal_kind", "shunt", "hand.hours.meter.in_circuit", "yes"}
)
