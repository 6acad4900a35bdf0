package working

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// needleLetters are those of the dial, of the needle's motion, of the room, and of small
// effects.
var needleLetters = map[string]entry{
	"S":          plain("The dial's whole time", quantity.Minutes, func(d *desk) float64 { return d.wired().Minutes }),
	"S_f":        found("What full scale moves it by", quantity.Minutes, func(d *desk) string { return choose(d.wired().Bridge, "S/2", "S") }),
	"S_w":        found("What the whole scale stands for", quantity.Minutes, func(d *desk) string { return choose(d.wired().Used < 1, "2·S", "S") }),
	"n":          plain("Instants", quantity.Times, func(d *desk) float64 { return float64(d.wired().Steps) }),
	"scale_from": plain("Where the scale begins", quantity.Percent, func(d *desk) float64 { return d.meter().ScaleFrom.Number }),

	"period":    given("The needle's period", quantity.Seconds, func(d *desk) quantity.Value { return d.meter().Period }),
	"damping":   given("Its damping", quantity.Times, func(d *desk) quantity.Value { return d.meter().Damping }),
	"overshoot": given("Its first swing past", quantity.Percent, func(d *desk) quantity.Value { return d.meter().Overshoot }),
	"sluggish":  plain("No overshoot", quantity.Times, func(*desk) float64 { return 1 }),
	"l":         always("Its logarithm", quantity.Times, "ln(1/overshoot)"),
	"ζ": found("The needle's damping", quantity.Times, func(d *desk) string {
		switch m := d.meter(); {
		case m.Damping.Given():
			return "damping"
		case m.Overshoot.Number == 0:
			return "sluggish"
		}
		return "l/sqrt(π² + l²)"
	}),
	"ω_n":          always("Its own frequency, a second", quantity.Times, "2·π/period"),
	"ring":         always("Of that it swings by", quantity.Times, "sqrt(1 − ζ²)"),
	"stop":         plain("The stop beyond", quantity.Percent, func(d *desk) float64 { return d.meter().Stop.Number }),
	"wake":         found("Where it is sent at waking", quantity.Times, func(d *desk) string { return choose(d.wired().Minutes == 1, "1 − 5/60", "1 − five_minutes/S") }),
	"from_rest":    found("Of that from where it rests", quantity.Times, func(d *desk) string { return choose(d.wired().Bridge, "wake − 0.5", "wake") }),
	"codes":        found("Codes of the whole dial", quantity.Times, func(d *desk) string { return choose(d.wired().Bridge, "2·T", "T") }),
	"five_minutes": plain("Minutes before the wrap", quantity.Minutes, func(*desk) float64 { return 5 }),
	"ramp_tick": found("The ramp's tick, a PWM period", quantity.Seconds, func(d *desk) string {
		return choose(d.drive().RampTick.Given(), "tick_given", "1/pwm_frequency")
	}),
	"ramp":       tried("Ramp at least (ramp_time)", quantity.Seconds, func(d *desk) float64 { return d.solved().RampTime }),
	"tick_given": given("The ramp's tick", quantity.Seconds, func(d *desk) quantity.Value { return d.drive().RampTick }),
	"turns":      plain("Its turns", quantity.Times, func(d *desk) float64 { return d.drive().TrimmerTurns.Number }),

	"drift_given": given("The rail's drift", quantity.Percent, func(d *desk) quantity.Value { return d.b.Rail.Drift }),
	"drift":       found("Drift of what the switch passes", quantity.Percent, func(d *desk) string { return choose(d.drive().Drop() != 0, "drift_given·rail/U", "drift_given") }),
	"zero_offset": given("The zero", quantity.Percent, func(d *desk) quantity.Value { return d.meter().ZeroOffset }),
	"stick":       given("The friction", quantity.Percent, func(d *desk) quantity.Value { return d.meter().Stick }),
	"mounting":    found("Another mounting than asked for", quantity.Percent, mountingOf),
	"neighbour":   given("Its distance", quantity.Millimetres, func(d *desk) quantity.Value { return d.meter().Neighbour }),
	"diameter":    given("The meter's diameter", quantity.Millimetres, func(d *desk) quantity.Value { return d.meter().Diameter }),
	"high_given":  given("The pin when high", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().PinHigh }),
	"low_given":   given("The pin when low", quantity.Ohms, func(d *desk) quantity.Value { return d.drive().PinLow }),
	"pin_high":    found("Both pins, one high", quantity.Ohms, func(d *desk) string { return choose(d.wired().Bridge, "high_given + low_given", "high_given") }),
	"pin_low":     found("Both pins, both low", quantity.Ohms, func(d *desk) string { return choose(d.wired().Bridge, "2·low_given", "low_given") }),
	"bow":         always("How bowed it is", quantity.Times, "d·R_c·(pin_low − pin_high)/((R_b + pin_high)·(R_b + pin_low + R_c))"),

	"room": {words: says("The room"), unit: quantity.Celsius, value: func(d *desk, _ string) quantity.Value {
		if p := d.solved(); d.awry(p.Warm[0]) > d.awry(p.Warm[1]) {
			return d.b.Crystal.RoomLow
		}
		return d.b.Crystal.RoomHigh
	}},
	"trimmed_at":  given("When it was trimmed", quantity.Celsius, func(d *desk) quantity.Value { return d.b.Rail.TrimmedAt }),
	"cold_copper": plain("Where copper has none", quantity.Celsius, func(*desk) float64 { return 234.5 }),
	"warmer":      always("Warmer by", quantity.Celsius, "room − trimmed_at"),
	"coil_tempco": plain("", quantity.PPMPerKelvin, func(d *desk) float64 { return d.meter().MovementTempco.Number }),
	"tempco":      plain("The resistors' change", quantity.PPMPerKelvin, func(d *desk) float64 { return d.drive().ResistorTempco.Number }),
	"pin_tempco":  plain("The pin's change", quantity.PPMPerKelvin, func(d *desk) float64 { return d.drive().PinTempco.Number }),
	"pin_warm":    always("The pin then", quantity.Ohms, "R_p·(1 + pin_tempco·warmer)"),
	"rest_warm":   always("The resistors then", quantity.Ohms, "(R_x − R_p)·(1 + tempco·warmer)"),
	"coil_warm":   always("The coil then", quantity.Ohms, "coil·(1 − copper + copper·(cold_copper + room)/(cold_copper + trimmed_at))"),
	"Q":           found("All that counts", quantity.Ohms, func(d *desk) string { return d.withShunt("R_x + coil + R_x·coil/R_n", "R_x + coil") }),
	"R_x_warm":    always("All but the coil then", quantity.Ohms, "pin_warm + rest_warm"),
	"Q_warm": found("All that counts then", quantity.Ohms, func(d *desk) string {
		return d.withShunt("R_x_warm + coil_warm + R_x_warm·coil_warm/R_n", "R_x_warm + coil_warm")
	}),
	"pull": found("The movement then", quantity.Times, func(d *desk) string {
		return choose(d.meter().MovementTempco.Given() && d.meter().MovementTempco.Number != 0, "1 + coil_tempco·warmer", "1")
	}),
	"e": always("The needle is driven off by", quantity.Percent, "Q/Q_warm·pull − 1"),

	"volts":      always("The coil at full scale", quantity.Volts, "I_fs·R_m"),
	"leak":       always("A diode's leak then", quantity.Amperes, "leaks·(exp(volts/bends) − 1)"),
	"series":     always("All in series, trimmed with it", quantity.Ohms, "(top_voltage − volts)/(I_fs + leak)"),
	"u":          always("The coil's, in diode's steps", quantity.Times, "volts/bends"),
	"worst":      always("Where it is bent most", quantity.Times, "ln((exp(u) − 1)/u)/u"),
	"leak_there": always("The leak there", quantity.Amperes, "leaks·(exp(worst·u) − 1)"),

	"floor":      always("Where the cells end, as the hand has it", quantity.Volts, "pack_floor − drop"),
	"fresh_rail": always("The rail on fresh cells", quantity.Volts, "v_in.on − drop"),
}

// awry is by how much, of the dial, a needle is off that is driven more by a share.
func (d *desk) awry(share float64) float64 {
	if d.wired().Dial {
		return math.Abs(share)
	}
	return math.Abs(d.wired().Law.At(1+share) - 1)
}

// mountingOf are the shares of the scale that the mounting may cost.
func mountingOf(d *desk) string {
	off := func(asked, is string) bool {
		return asked != "any" && is != "" && asked != is && d.meter().TrimmedInPlace != "yes"
	}
	return choose(off(d.meter().PanelFor, d.meter().Panel), "0.05", "0") + " + " + choose(off(d.meter().PositionFor, d.meter().Position), "0.02", "0")
}

// crystalLetters are those of the crystal and its counter.
var crystalLetters = map[string]entry{
	"C_in":             given("The one at the input", quantity.Picofarads, func(d *desk) quantity.Value { return d.b.Crystal.CapacitorIn }),
	"C_out":            given("The one at the output", quantity.Picofarads, func(d *desk) quantity.Value { return d.b.Crystal.CapacitorOut }),
	"stray":            given("The stray", quantity.Picofarads, func(d *desk) quantity.Value { return d.b.Crystal.Stray }),
	"load":             given("The load it is for", quantity.Picofarads, func(d *desk) quantity.Value { return d.b.Crystal.Load }),
	"C_m":              given("Its motional capacitance", quantity.Femtofarads, func(d *desk) quantity.Value { return d.b.Crystal.Motional }),
	"C_0":              given("Its shunt capacitance", quantity.Picofarads, func(d *desk) quantity.Value { return d.b.Crystal.Shunt }),
	"ESR":              given("Its resistance", quantity.Ohms, func(d *desk) quantity.Value { return d.b.Crystal.ESR }),
	"transconductance": given("The oscillator's", quantity.Siemens, func(d *desk) quantity.Value { return d.b.Crystal.Transconductance }),
	"frequency":        given("Its frequency", quantity.Hertz, func(d *desk) quantity.Value { return d.b.Crystal.Frequency }),
	"measured":         given("As measured", quantity.Hertz, func(d *desk) quantity.Value { return d.b.Crystal.Measured }),
	"prescale":         plain("The prescaler", quantity.Times, func(d *desk) float64 { return float64(d.b.Crystal.Prescale) }),
	"bits":             plain("Its bits", quantity.Times, func(d *desk) float64 { return float64(d.b.Crystal.CounterBits) }),
	"reload":           plain("Its reload", quantity.Times, func(d *desk) float64 { return float64(d.b.Crystal.Reload) }),
	"lost_counts":      plain("Counts lost", quantity.Times, func(d *desk) float64 { return float64(d.b.Crystal.LostCounts) }),
	"tick_given":       given("What the program counts", quantity.Seconds, func(d *desk) quantity.Value { return d.b.Crystal.TickCounted }),
	"tolerance":        plain("Its tolerance", quantity.PPM, func(d *desk) float64 { return d.b.Crystal.Tolerance.Number }),
	"ageing":           plain("Its ageing", quantity.PPM, func(d *desk) float64 { return d.b.Crystal.Ageing.Number }),
	"curvature":        given("Its curvature", quantity.PPMPerKelvin2, func(d *desk) quantity.Value { return d.b.Crystal.Curvature }),
	"turnover":         given("Its turnover", quantity.Celsius, func(d *desk) quantity.Value { return d.b.Crystal.Turnover }),
	"room_low":         given("The room, coldest", quantity.Celsius, func(d *desk) quantity.Value { return d.b.Crystal.RoomLow }),
	"room_high":        given("The room, warmest", quantity.Celsius, func(d *desk) quantity.Value { return d.b.Crystal.RoomHigh }),
	"measured_at":      plain("The room then", quantity.Celsius, func(d *desk) float64 { return d.p.Circuit.Crystal.MeasuredAt }),
	"day":              plain("", quantity.SecondsPerDay, func(*desk) float64 { return 86400 }),
	"rate_found":       tried("A day (crystal.rate)", quantity.SecondsPerDay, func(d *desk) float64 { return noDust("crystal.rate", d.p.Crystal.Rate) }),
	"month":            plain("", quantity.Times, func(*desk) float64 { return 30.4375 }),
	"year":             plain("", quantity.Times, func(*desk) float64 { return 365.25 }),

	"pair": found("The two in a row", quantity.Picofarads, func(d *desk) string {
		c := &d.p.Circuit.Crystal
		return choose(c.In == 0 || c.Out == 0, "0", "C_in·C_out/(C_in + C_out)")
	}),
	"all_load":  always("All that it works into", quantity.Picofarads, "C_0 + load_actual"),
	"all_meant": always("All that it is for", quantity.Picofarads, "C_0 + load"),
	"all_true":  always("All that this frequency speaks of", quantity.Picofarads, "1/(1/all_meant + 2·base/C_m)"),
	"counts":    always("Counts to a tick", quantity.Times, "2^bits − reload + lost_counts"),
	"meant":     always("Counts that were meant", quantity.Times, "2^bits − reload"),
	"miscounted": found("What the counter gains", quantity.PPM, func(d *desk) string {
		return choose(d.b.Crystal.TickCounted.Given(), "tick_given·frequency/(prescale·counts) − 1", choose(d.b.Crystal.LostCounts == 0, "0", "meant/counts − 1"))
	}),
	"base": found("The crystal, at turnover", quantity.PPM, func(d *desk) string {
		return choose(d.b.Crystal.Measured.Given(), "measured/frequency − 1 + curvature·(measured_at − turnover)²", "load_offset")
	}),
	"gain": always("Both together", quantity.PPM, "base + miscounted"),
	"unknown": found("What is not known of it", quantity.PPM, func(d *desk) string {
		return choose(d.b.Crystal.Measured.Given(), "ageing", "tolerance + ageing")
	}),
	"fall_low":  always("Fall when it is coldest", quantity.PPM, "curvature·(room_low − turnover)²"),
	"fall_high": always("Fall when it is warmest", quantity.PPM, "curvature·(room_high − turnover)²"),
	"room_mid":  always("The room's middle", quantity.Celsius, "(room_low + room_high)/2"),
	"fall_mid":  always("Fall in the middle", quantity.PPM, "curvature·(room_mid − turnover)²"),
	"fall_year": always("Mean fall, the room a sine", quantity.PPM, "fall_mid + curvature·(room_high − room_low)²/8"),
	"fall_most": found("", quantity.PPM, func(d *desk) string { return choose(d.coldIsFarther(), "fall_low", "fall_high") }),
	"fall_least": found("", quantity.PPM, func(d *desk) string {
		x := &d.b.Crystal
		if x.RoomLow.Number <= x.Turnover.Number && x.Turnover.Number <= x.RoomHigh.Number {
			return "0"
		}
		return choose(d.coldIsFarther(), "fall_high", "fall_low")
	}),
}

// coldIsFarther says whether the coldest room is farther from the crystal's turnover than the
// warmest.
func (d *desk) coldIsFarther() bool {
	x := &d.b.Crystal
	return math.Abs(x.RoomLow.Number-x.Turnover.Number) > math.Abs(x.RoomHigh.Number-x.Turnover.Number)
}

// lampLetters are those of a lamp.
var lampLetters = map[string]entry{
	"rail":           handLetters["rail"],
	"forward":        given("What the lamp itself takes", quantity.Volts, func(d *desk) quantity.Value { return d.lamp().Forward }),
	"resistor":       given("Its resistor", quantity.Ohms, func(d *desk) quantity.Value { return d.lamp().Resistor }),
	"pin_resistance": given("The pin", quantity.Ohms, func(d *desk) quantity.Value { return d.lamp().PinResistance }),
}

func (d *desk) lamp() *model.Lamp { return &d.b.Lamps[d.i] }
