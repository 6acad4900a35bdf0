package working

import (
	"example.com/needlewright/model/quantity"
)

// handLetters are the letters of a hand: its rail and pin, its chain and what is in its case.
// Most are those of catalogue.md, "Results".
var handLetters = map[string]entry{
	"rail": given("The rail", quantity.Volts, func(d *desk) quantity.Value { return d.b.Rail.Voltage }),
	"drop": plain("What the switch loses", quantity.Volts, func(d *desk) float64 { return d.drive().Drop() }),
	"U":    always("What the switch passes", quantity.Volts, "rail − drop"),

	"T":        plain("The top code", quantity.Times, func(d *desk) float64 { return float64(d.drive().Top) }),
	"N":        plain("The counts", quantity.Times, func(d *desk) float64 { return float64(d.drive().Counts) }),
	"offset":   plain("Counts beyond the code", quantity.Times, func(d *desk) float64 { return float64(d.drive().DutyOffset) }),
	"prescale": plain("The prescaler", quantity.Times, func(d *desk) float64 { return float64(d.drive().Prescale) }),
	"clock":    plain("The counter's clock", quantity.Hertz, func(d *desk) float64 { return d.drive().Clock.Number }),
	"d":        always("Duty at the top code", quantity.Times, "(T + offset)/N"),
	"d_0":      always("Duty at code 0", quantity.Times, "offset/N"),
	"T_half":   always("Code of most ripple", quantity.Times, "min(T, floor(N/2))"),
	"d_half":   always("Its duty", quantity.Times, "(T_half + offset)/N"),

	"pin":         given("The pin", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().PinResistance }),
	"transistor":  given("The switch", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().SwitchResistance }),
	"R_s":         given("The stage resistor", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().Stage }),
	"R_f":         given("The fixed resistor", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().Fixed }),
	"R_t":         given("The trimmer", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().Trimmer }),
	"setting":     given("The trimmer as it stands", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().Setting }),
	"C":           given("The capacitor", quantity.Farads, func(d *desk) quantity.Value { return d.drive().Capacitor }),
	"coil_given":  given("The coil", quantity.Ohms, func(d *desk) quantity.Value { return d.meter().Coil }),
	"scale_given": given("Full scale", quantity.Amperes, func(d *desk) quantity.Value { return d.meter().FullScale }),
	"internal":    given("What is in its case", quantity.Ohms, func(d *desk) quantity.Value { return d.meter().Internal }),
	"case_ohms":   given("The closed case", quantity.Ohms, func(d *desk) quantity.Value { return d.meter().TerminalResistance }),
	"case_scale":  given("Its full scale", quantity.Amperes, func(d *desk) quantity.Value { return d.meter().TerminalFullScale }),

	"R_p":    {words: says("Both pins"), unit: quantity.Ohms, formula: sourceOf},
	"r":      found("The trimmer", quantity.Ohms, trimmerOf),
	"r_held": {words: says("The trimmer, held at its end"), unit: quantity.Ohms, keep: true, formula: heldAt},
	"r_set":  tried("The trimmer (trimmer_setting)", quantity.Ohms, func(d *desk) float64 { return d.solved().TrimmerSetting }),

	"R_all":   always("All resistance it takes", quantity.Ohms, "top_voltage/I_fs"),
	"R_there": always("There already", quantity.Ohms, "R_meter + R_p + R_s"),
	"R_zero":  always("Trimmer at zero, all", quantity.Ohms, "R_there + R_f"),
	"R_chain": always("The whole chain", quantity.Ohms, "R_p + R_s + R_f + r + R_meter"),
	"R_x":     always("All but the coil", quantity.Ohms, "R_p + R_s + R_f + r + R_i"),
	"R_b":     always("Pin to node, pin left out", quantity.Ohms, "R_a − R_p"),
	"R_a": found("Before the node", quantity.Ohms, func(d *desk) string {
		if d.wired().AtStage {
			return "R_p + R_s"
		}
		return "R_p + R_s + R_f + r"
	}),
	"R_c": found("After the node", quantity.Ohms, func(d *desk) string {
		if d.wired().AtStage {
			return "R_f + r + R_meter"
		}
		return "R_meter"
	}),
	"k": always("Share after the node", quantity.Times, "R_c/R_chain"),

	"I_worst": always("Most current", quantity.Amperes, "U_max/R_least"),
	"U_max": found("The fresh pack", quantity.Volts, func(d *desk) string {
		if d.wired().MostRail > d.b.Rail.Voltage.High() {
			return "fresh"
		}
		return "rail.high"
	}),
	"R_least": always("Least resistance", quantity.Ohms, "R_meter.low + R_p.low + R_s.low + R_f.low"),
	"I_before": found("Most current before it", quantity.Amperes, func(d *desk) string {
		chain := d.wired().Drive().Pin
		if k := chain.After / (chain.Before + chain.After); d.wired().Capacitor > 0 && k*(2-k) > 0.5 {
			return "U/R_a/sqrt(4·k·(2 − k))"
		}
		return "U/R_chain"
	}),
	"I_after": always("Most current", quantity.Amperes, "U/R_chain"),
	"I_fixed": found("", quantity.Amperes, func(d *desk) string {
		if d.wired().AtStage || d.wired().Capacitor == 0 {
			return "I_after"
		}
		return "I_before"
	}),
}

// sourceOf is the resistance of what drives a hand.
func sourceOf(d *desk, of string) string {
	if of != "" {
		of = "." + of
	}
	switch d.drive().By {
	case "switch":
		return "transistor" + of
	case "bridge":
		return "2·pin" + of
	}
	return "pin" + of
}

// trimmerOf is the trimmer as it stands: as given, as it was set, or held at an end.
func trimmerOf(d *desk) string {
	switch at := d.solved().TrimmerSetting; {
	case d.drive().Setting.Given():
		return "setting"
	case d.wired().Trimmer == 0:
		return "0"
	case at <= 0 || at >= d.wired().Trimmer:
		return "r_held"
	}
	return "r_set"
}

// heldAt is the trimmer at the end at which it is held.
func heldAt(d *desk, _ string) string {
	if d.solved().TrimmerSetting <= 0 {
		return "max(r_set, 0)"
	}
	return "min(r_set, R_t)"
}
