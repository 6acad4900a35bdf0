package working

import (
	"math"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// meterLetters are what is in a hand's case: the coil, and what is left inside beside it.
var meterLetters = map[string]entry{
	"coil":        found("The coil, behind what the case shows", quantity.Ohms, coilOf),
	"full_scale":  found("The movement's full scale", quantity.Amperes, fullScaleOf),
	"usual":       plain("A coil's usual voltage", quantity.Volts, func(*desk) float64 { return circuit.UsualCoilVoltage }),
	"R_n":         found("The shunt inside", quantity.Ohms, shuntOf),
	"R_i":         found("In series inside", quantity.Ohms, multiplierOf),
	"R_m":         found("Coil and shunt", quantity.Ohms, func(d *desk) string { return d.withShunt("coil ∥ R_n", "coil") }),
	"I_fs":        found("Full scale with the shunt", quantity.Amperes, func(d *desk) string { return d.closed("I_T", d.withShunt("full_scale·(1 + coil/R_n)", "full_scale")) }),
	"R_meter":     {words: says("The meter, all inside"), unit: quantity.Ohms, formula: meterOf},
	"R_T":         {words: says("The closed case"), unit: quantity.Ohms, formula: caseOf},
	"I_T":         {words: says("Its full scale"), unit: quantity.Amperes, formula: caseScaleOf},
	"I_least":     found("Least full scale", quantity.Amperes, func(d *desk) string { return caseScaleOf(d, "low") }),
	"inductance":  given("The coil's inductance", quantity.Henries, func(d *desk) quantity.Value { return d.meter().Inductance }),
	"copper":      given("Its share of copper", quantity.Percent, func(d *desk) quantity.Value { return d.meter().CoilCopper }),
	"I_of_shunt":  always("What goes past the coil", quantity.Amperes, "I_T − full_scale"),
	"leaks":       plain("What a diode begins with", quantity.Amperes, func(*desk) float64 { return 2.5e-9 }),
	"bends":       plain("Its voltage a factor e", quantity.Volts, func(*desk) float64 { return 46.3e-3 }),
	"leak_of_cap": plain("What it may leak", quantity.Amperes, func(*desk) float64 { return 3e-6 }),
}

// closed is one formula for a closed case that was measured, another for any other meter.
func (d *desk) closed(measured, other string) string {
	if d.meter().AsMeasured() {
		return measured
	}
	return other
}

// withShunt is one formula where a shunt is left inside, another without.
func (d *desk) withShunt(with, without string) string {
	if !math.IsInf(d.wired().Shunt, 1) {
		return with
	}
	return without
}

func coilOf(d *desk) string {
	m, c := d.meter(), d.wired()
	switch {
	case !m.AsMeasured():
		return "coil_given"
	case m.Coil.Given() && c.Coil == m.Coil.Number:
		return "coil_given"
	case !m.Coil.Given() && c.Coil == circuit.UsualCoilVoltage/c.FullScale:
		return "usual/full_scale"
	}
	return "R_T·I_T/full_scale" // it has all the volts of the terminals
}

func fullScaleOf(d *desk) string {
	if m := d.meter(); !m.AsMeasured() || m.FullScale.Given() && d.wired().FullScale == m.FullScale.Number {
		return "scale_given"
	}
	return "I_T"
}

func shuntOf(d *desk) string {
	return d.withShunt(d.closed("coil·full_scale/I_of_shunt", "internal"), "0")
}

func multiplierOf(d *desk) string {
	switch c := d.wired(); {
	case c.Multiplier == 0:
		return "0"
	case d.meter().AsMeasured():
		return "R_T − R_m"
	}
	return "internal"
}

// meterOf is all resistance between the meter's terminals.
func meterOf(d *desk, of string) string {
	if of == "" && !d.meter().AsMeasured() {
		return "R_m + R_i"
	}
	return caseOf(d, of)
}

// caseOf is what a case shows: as measured, or as it follows from what is inside. For the
// least of it a shunt is at its other end.
func caseOf(d *desk, of string) string {
	other := ""
	if of != "" {
		of, other = ".low", ".high"
	}
	m := d.meter()
	switch {
	case m.AsMeasured() && m.TerminalResistance.Given():
		return "case_ohms" + of
	case !m.LeftInside():
		return "coil_given" + of
	case m.InternalKind == "shunt":
		return "coil_given" + of + " ∥ internal" + other
	}
	return "coil_given" + of + " + internal" + of
}

func caseScaleOf(d *desk, of string) string {
	other := ""
	if of != "" {
		of, other = ".low", ".high"
	}
	m := d.meter()
	switch {
	case m.AsMeasured() && m.TerminalFullScale.Given():
		return "case_scale" + of
	case m.LeftInside() && m.InternalKind == "shunt":
		return "scale_given" + of + "·(1 + coil_given" + of + "/internal" + other + ")"
	}
	return "scale_given" + of
}
