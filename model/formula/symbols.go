package formula

import (
	"math"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/scale"
)

// Of returns the letters of catalogue.md for one result of a build, from the
// build alone; and the other results of its kin, by the last part of their ids.
func Of(b *model.Build, p *circuit.Plan, r *circuit.Result, i int) Symbols {
	s := Symbols{"π": math.Pi, "ln": math.Log, "abs": math.Abs, "max": math.Max, "min": math.Min, "series": series, "ratio": ratio, "U": b.Rail.Voltage.Number}
	for _, other := range circuit.Results {
		if other.List() == r.List() && other.ID != r.ID {
			s[other.ID[strings.LastIndexByte(other.ID, '.')+1:]] = *other.At(p, i)
		}
	}
	switch r.List() {
	case "hand":
		s.ofHand(b, &b.Hands[i])
		s["cells"], s["resistance"], s["lamps_all"] = float64(b.Battery.Cells), b.Battery.Resistance.Number, lampsAll(b, p)
	case "crystal":
		s.ofCrystal(b)
	case "lamp":
		l := &b.Lamps[i]
		s["forward"], s["resistor"], s["pin_resistance"] = l.Forward.Number, l.Resistor.Number, l.PinResistance.Number
	case "button":
		s.ofBattery(b, p)
		s["pull"], s["wedged"] = b.Buttons[i].Pull.Number, s.wedged(b, i)
	case "load", "rail":
		s.ofSupply(b, p)
	case "battery":
		s.ofBattery(b, p)
	}
	return s
}

func (s Symbols) ofHand(b *model.Build, h *model.Hand) {
	m, d := &h.Meter, &h.Drive
	u, top, counts := b.Rail.Voltage.Number-d.Drop(), float64(d.Top), float64(d.Counts)
	s["U"] = u
	offset := float64(d.DutyOffset)
	s["N"], s["T"], s["offset"], s["d_0"], s["d"] = counts, top, offset, offset/counts, (top+offset)/counts
	s["d_half"] = (math.Min(top, float64(d.Counts/2)) + offset) / counts
	s["clock"], s["prescale"] = d.Clock.Number, float64(d.Prescale)
	coil, fullScale, multiplier, shunt := leftInside(m)
	s["coil"], s["full_scale"] = m.Coil.Number, m.FullScale.Number
	s["R_m"], s["I_fs"], s["R_i"], s["C"] = coil, fullScale, multiplier, d.Capacitor.Number
	s["R_p"], s["R_s"], s["R_f"], s["R_t"] = d.Source().Number, d.Stage.Number, d.Fixed.Number, d.Trimmer.Number

	// r: as given, or set for full scale and held within the trimmer.
	needed := u*(top+offset)/counts/fullScale - coil - multiplier - d.Source().Number - d.Stage.Number
	r := math.Min(math.Max(needed-d.Fixed.Number, 0), d.Trimmer.Number)
	if d.Setting.Given() {
		r = d.Setting.Number
	}
	before, after := d.Source().Number+d.Stage.Number+d.Fixed.Number+r, multiplier+coil
	if d.CapacitorAt == "stage" {
		before, after = d.Source().Number+d.Stage.Number, d.Fixed.Number+r+multiplier+coil
	}
	s["r"], s["R_a"], s["R_c"], s["k"] = r, before, after, after/(before+after)

	size := map[string][2]float64{"12 h": {720, 720}, "24 h": {1440, 1440}, "60 min": {60, 60}, "60 s": {1, 60}}[h.Shows]
	s["S"], s["n"] = size[0], size[1]
	s["S_f"], s["S_w"] = size[0], size[0] // of full-scale current, of the whole scale
	s["rest"], s["codes"] = 0.0, top      // where it rests, and how many the whole dial has
	s["stop"], s["stop_below"] = m.Stop.Number, m.Stop.Number
	switch {
	case d.By == "bridge":
		s["S_f"] = size[0] / 2
		s["rest"], s["codes"] = 0.5, 2*top
	case m.ZeroAt == "centre": // to the left of the middle there is as much of the scale again
		s["S_w"], s["stop"], s["stop_below"] = 2*size[0], 2*m.Stop.Number, 1+2*m.Stop.Number
	}

	zeta := m.Damping.Number
	if !m.Damping.Given() {
		l := math.Log(m.Overshoot.Number)
		zeta = -l / math.Sqrt(math.Pi*math.Pi+l*l)
		if m.Overshoot.Number == 0 {
			zeta = 1
		}
	}
	s["ζ"], s["ω_n"] = zeta, 2*math.Pi/m.Period.Number
	s["settling"] = func(w, z, band float64) float64 {
		return calc.Movement{Period: 2 * math.Pi / w, Damping: z}.Settling(band)
	}
	s.ofSmallEffects(b, h, zeta)
	s.ofExtremes(b, h)
	rest := before + after - coil
	s["copper"] = m.CoilCopper.Number * (1 + rest/shunt) // of R_m, by how much the coil's current changes with it
	s.ofLaw(b, h, rest, shunt)
	s.ofRipple(h, before, after-coil, shunt, zeta)
}

// ofExtremes are the worst ends of parts, and where bare cells end.
func (s Symbols) ofExtremes(b *model.Build, h *model.Hand) {
	most := b.Rail.Voltage.High()
	if b.Battery.Cells > 0 && b.Converter.Kind != "linear" {
		most = math.Max(most, float64(b.Battery.Cells)*b.Battery.Curve[0].Rest)
	}
	m := h.Meter
	least := m
	least.Coil.Number, least.FullScale.Number, least.Internal.Number = m.Coil.Low(), m.FullScale.Low(), m.Internal.Low()
	if m.InternalKind == "shunt" {
		least.Internal.Number = m.Internal.High() // that takes least past the coil
	}
	least.TerminalResistance.Number, least.TerminalFullScale.Number = m.TerminalResistance.Low(), m.TerminalFullScale.Low()
	coil, fullScale, multiplier, _ := leftInside(&least)
	if m.AsMeasured() {
		coil, fullScale = closed(&least)
		multiplier = 0
	}
	s["U_max"], s["I_least"] = most, fullScale
	s["R_least"] = coil + multiplier + h.Drive.Source().Low() + h.Drive.Stage.Low() + h.Drive.Fixed.Low()
	s["floor"] = floorOf(b) - h.Drive.Drop()
}

func (s Symbols) ofLaw(b *model.Build, h *model.Hand, rest, shunt float64) {
	law := lawOf(h)
	s["law"] = law.At
	s["shown"] = law.At
	if h.Correct == "dial" {
		s["shown"] = func(x float64) float64 { return x }
	}
	// e of catalogue.md, temperature_error.
	at, c := b.Rail.TrimmedAt.Number, h.Meter.CoilCopper.Number
	e := func(t float64) float64 {
		delta := t - at
		ohms := func(rest, coil float64) float64 { return rest + coil + rest*coil/shunt }
		pin := h.Drive.Source().Number
		more := ((rest-pin)*h.Drive.ResistorTempco.Number + pin*h.Drive.PinTempco.Number) * 1e-6 * delta
		coil, _ := movement(&h.Meter)
		warm := ohms(rest+more, coil*(1-c+c*(234.5+t)/(234.5+at)))
		return ohms(rest, coil)/warm*(1+orNothing(h.Meter.MovementTempco.Number)*1e-6*delta) - 1
	}
	s["e_low"], s["e_high"] = e(b.Crystal.RoomLow.Number), e(b.Crystal.RoomHigh.Number)
	coding := func(top, n float64) *calc.Quantisation {
		return &calc.Quantisation{Law: &law, Top: top, Steps: int(n), Down: h.Drive.Rounding == "down", Codes: h.Correct == "codes", Dial: h.Correct == "dial", Offset: float64(h.Drive.DutyOffset), Bridge: h.Drive.By == "bridge"}
	}
	s["coding_error_largest"] = func(top, n float64) float64 { largest, _ := coding(top, n).Errors(); return largest }
	s["coding_error_rms"] = func(top, n float64) float64 { _, rms := coding(top, n).Errors(); return rms }
}

// ofRipple takes the resistances before the capacitor, between it and the coil, and
// across the coil with its inductance.
func (s Symbols) ofRipple(h *model.Hand, before, between, shunt, zeta float64) {
	behind := calc.NewLadder().Series(between).Across(shunt)
	node := calc.NewLadder().Series(before)
	if behind.Load > 0 {
		node = node.Across(1 / behind.Load)
	}
	k := behind.Share
	coil, fullScale := movement(&h.Meter)
	ripple := func(u, duty float64) *calc.Ripple {
		return &calc.Ripple{
			Rail: u * node.Share, Duty: duty, Period: float64(h.Drive.Prescale) * float64(h.Drive.Counts) / h.Drive.Clock.Number,
			Chain:      calc.Chain{Before: node.Resistance, After: (behind.Resistance + coil) / (k * k), Capacitor: h.Drive.Capacitor.Number},
			Inductance: h.Meter.Inductance.Number / (k * k), FullScale: fullScale * k,
			Movement: calc.Movement{Period: h.Meter.Period.Number, Damping: zeta},
		}
	}
	s["ripple_of_coil"] = func(u, duty float64) float64 { return ripple(u, duty).Coil() / (fullScale * k) }
	s["law_shift"] = func(u, duty float64) float64 {
		law := lawOf(h)
		return ripple(u, duty).LawShift(&law)
	}
	s["ripple_at_node"] = func(u, duty float64) float64 { return ripple(u, duty).Node() }
	s["ripple_of_needle"] = func(u, duty float64) float64 { return ripple(u, duty).Needle() }
}

func (s Symbols) ofCrystal(b *model.Build) {
	x := &b.Crystal
	for name, v := range map[string]float64{
		"C_in": x.CapacitorIn.Number, "C_out": x.CapacitorOut.Number, "stray": x.Stray.Number, "load": x.Load.Number,
		"C_m": x.Motional.Number, "C_0": x.Shunt.Number, "ESR": x.ESR.Number, "transconductance": x.Transconductance.Number,
		"frequency": x.Frequency.Number, "prescale": float64(x.Prescale), "bits": float64(x.CounterBits),
		"reload": float64(x.Reload), "lost_counts": float64(x.LostCounts),
		"curvature": x.Curvature.Number, "turnover": x.Turnover.Number, "room_low": x.RoomLow.Number, "room_high": x.RoomHigh.Number,
	} {
		s[name] = v
	}
	fall := func(t float64) float64 { return x.Curvature.Number * (t - x.Turnover.Number) * (t - x.Turnover.Number) }
	low, high := x.RoomLow.Number, x.RoomHigh.Number
	s["fall_most"], s["fall_least"] = math.Max(fall(low), fall(high)), math.Min(fall(low), fall(high))
	if low <= x.Turnover.Number && x.Turnover.Number <= high {
		s["fall_least"] = 0.0
	}
	s["base"], s["unknown"] = s["load_offset"], x.Tolerance.Number+x.Ageing.Number
	if x.Measured.Given() {
		at := b.Rail.TrimmedAt.Number
		if x.MeasuredAt.Given() {
			at = x.MeasuredAt.Number
		}
		s["base"], s["unknown"] = (x.Measured.Number/x.Frequency.Number-1)*1e6+fall(at), x.Ageing.Number
	}
	s["tick_counted"] = float64(x.Prescale) * (math.Exp2(float64(x.CounterBits)) - float64(x.Reload)) / x.Frequency.Number
	if x.TickCounted.Given() {
		s["tick_counted"] = x.TickCounted.Number
	}
}

// ofSmallEffects are what a real meter and pin have besides. It needs R_a, R_c
// and k.
func (s Symbols) ofSmallEffects(b *model.Build, h *model.Hand, zeta float64) {
	m, d := &h.Meter, &h.Drive
	s["turns"], s["drift"], s["internal"] = d.TrimmerTurns.Number, b.Rail.Drift.Number*b.Rail.Voltage.Number/s["U"].(float64), m.Internal.Number
	s["zero_offset"], s["stick"] = m.ZeroOffset.Number, m.Stick.Number
	s["neighbour"], s["diameter"] = m.Neighbour.Number, m.Diameter.Number
	other := func(asked, is string) float64 {
		if asked == "any" || is == "" || asked == is || m.TrimmedInPlace == "yes" {
			return 0
		}
		return 1
	}
	s["other_panel"], s["other_position"] = other(m.PanelFor, m.Panel), other(m.PositionFor, m.Position)
	s["pin_high"], s["pin_low"], s["trim_step"] = d.PinHigh.Number, d.PinLow.Number, calc.TrimStep
	if d.By == "bridge" { // the other pin is low
		s["pin_high"], s["pin_low"] = d.PinHigh.Number+d.PinLow.Number, 2*d.PinLow.Number
	}
	s["terminals"] = func(coil, inside float64) float64 {
		if m.AsMeasured() {
			resistance, _ := closed(m)
			return resistance
		}
		if m.InternalKind == "shunt" {
			return coil * inside / (coil + inside)
		}
		return coil + inside
	}
	s["taken"] = func(coil, inside float64) float64 {
		if m.AsMeasured() {
			_, fullScale := closed(m)
			return fullScale / m.FullScale.Number
		}
		if m.InternalKind == "shunt" {
			return 1 + coil/inside
		}
		return 1
	}
	s["leak"], s["most_leak"] = calc.DiodeLeak, calc.DiodeMost
	s["diode_bend"] = func(series float64) float64 { return calc.DiodeBend(s["I_fs"].(float64), s["R_m"].(float64), series) }
	s["wake"] = 1 - 5/s["S"].(float64)
	if s["S"] == 1.0 {
		s["wake"] = 1 - 5.0/60
	}
	movement := calc.Movement{Period: m.Period.Number, Damping: zeta}
	s["overshoot"] = func(float64) float64 { return movement.Overshoot() }
	s["strike"], s["shortest_ramp"] = movement.ImpactSpeed, movement.ShortestRamp
	s["ramp_tick"] = d.RampTick.Number
	if !d.RampTick.Given() {
		s["ramp_tick"] = float64(d.Prescale) * float64(d.Counts) / d.Clock.Number
	}
	s.ofHeat(h)
	s["fresh_rail"] = freshRail(b) - d.Drop()
}

// ofHeat are the pin's bend, and the squares of the currents that heat resistors,
// over fine steps of the duty.
func (s Symbols) ofHeat(h *model.Hand) {
	d := &h.Drive
	u, before, after, k := s["U"].(float64), s["R_a"].(float64), s["R_c"].(float64), s["k"].(float64)
	s["pin_bend"] = func(high, low float64) float64 {
		return calc.PinBend{
			High: high, Low: low, Before: before - d.Source().Number, After: after, Capacitor: d.Capacitor.Number, Top: s["d"].(float64),
		}.Largest()
	}
	steady := math.Pow(u/(before+after), 2)
	s["heat_stage"], s["heat_fixed"] = steady, steady
	if bend := k * (2 - k); d.Capacitor.Number > 0 && 1/(2*bend) < 1 {
		x := 1 / (2 * bend)
		s["heat_stage"] = u * u / before / before * (x - bend*x*x)
		if d.CapacitorAt == "coil" {
			s["heat_fixed"] = s["heat_stage"]
		}
	}
}

// leftInside is the coil, Ω, and its full scale, A, with a shunt beside it that is left
// inside the case; a multiplier that is, Ω; and the shunt by itself, +Inf for none.
func leftInside(m *model.Meter) (coil, fullScale, multiplier, shunt float64) {
	coil, fullScale, inside := m.Coil.Number, m.FullScale.Number, m.Internal.Number
	switch {
	case m.AsMeasured():
		return leftClosed(m)
	case m.InCircuit != "yes" || math.IsNaN(inside):
	case m.InternalKind == "shunt":
		return coil * inside / (coil + inside), fullScale * (1 + coil/inside), 0, inside
	case m.InternalKind == "multiplier":
		return coil, fullScale, inside, math.Inf(1)
	}
	return coil, fullScale, 0, math.Inf(1)
}

// closed is the resistance, Ω, and full scale, A, of a closed case that was measured, what
// was not measured as it follows from what is inside.
func closed(m *model.Meter) (resistance, fullScale float64) {
	bare := *m
	bare.TerminalResistance, bare.TerminalFullScale = quantity.Absent(), quantity.Absent()
	coil, fullScale, multiplier, _ := leftInside(&bare)
	resistance = coil + multiplier
	if m.TerminalResistance.Given() {
		resistance = m.TerminalResistance.Number
	}
	if m.TerminalFullScale.Given() {
		fullScale = m.TerminalFullScale.Number
	}
	return resistance, fullScale
}

// movement is the coil, Ω, and its own full scale, A: 0.1 V at full scale where a closed
// case was measured and the coil was not.
func movement(m *model.Meter) (coil, fullScale float64) {
	coil, fullScale = m.Coil.Number, m.FullScale.Number
	if !m.AsMeasured() {
		return coil, fullScale
	}
	resistance, taken := closed(m)
	if !(fullScale < taken) {
		fullScale = taken
	}
	if math.IsNaN(coil) {
		coil = 0.1 / fullScale
	}
	return math.Min(coil, resistance*taken/fullScale), fullScale // the coil has no more volts than the terminals
}

// leftClosed is what leftInside is of a closed case that was measured: what the terminals
// take beyond the movement goes through a shunt, and what is left of their volts stands
// across a multiplier.
func leftClosed(m *model.Meter) (coil, fullScale, multiplier, shunt float64) {
	resistance, taken := closed(m)
	coil, fullScale = movement(m)
	shunt = math.Inf(1)
	if fullScale < taken {
		shunt = coil * fullScale / (taken - fullScale)
	}
	beside := coil * fullScale / taken
	return beside, taken, resistance - beside, shunt
}

// lawOf is the law by which a hand's meter is judged.
func lawOf(h *model.Hand) calc.Law {
	if f := scale.Of(h); f != nil && f.Enough {
		return f.Law
	}
	m := &h.Meter
	law := calc.Law{From: m.ScaleFrom.Number}
	switch {
	case m.Law == "square" || m.Law == "" && (m.Kind == "moving iron" || m.Kind == "thermal"):
		law.Kind = calc.Square
	case m.Law == "table":
		law.Kind, law.Points = calc.Table, m.Table
	}
	return law
}

// series is what two capacitors in series make; nothing where one is not there.
func series(a, b float64) float64 {
	if a == 0 || b == 0 {
		return 0
	}
	return a * b / (a + b)
}

// ratio is a over b, and nothing where there is none of either.
func ratio(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	return a / b
}
