package model

import (
	"math"

	"example.com/needlewright/calc"
)

// symbolsOf are the letters of catalogue.md for one result of a build, from the
// build alone; and the other results of its kin, by the last part of their ids.
func symbolsOf(b *Build, p *Plan, r *Result, i int) symbols {
	s := symbols{"π": math.Pi, "ln": math.Log, "abs": math.Abs, "max": math.Max, "U": b.Rail.Voltage.Number}
	for _, other := range results {
		if other.list() == r.list() && other.ID != r.ID {
			s[last(other.ID)] = *other.At(p, i)
		}
	}
	switch r.list() {
	case "hand":
		s.ofHand(b, &b.Hands[i])
	case "crystal":
		s.ofCrystal(b)
	case "lamp":
		l := &b.Lamps[i]
		s["forward"], s["resistor"], s["pin_resistance"] = l.Forward.Number, l.Resistor.Number, l.PinResistance.Number
	case "battery":
		s.ofBattery(b, p)
	}
	return s
}

func (s symbols) ofHand(b *Build, h *Hand) {
	m, d := &h.Meter, &h.Drive
	u, top, counts := b.Rail.Voltage.Number, float64(d.Top), float64(d.Counts)
	s["N"], s["T"], s["d"], s["n_half"] = counts, top, top/counts, math.Min(top, float64(d.Counts/2))
	s["clock"], s["prescale"] = d.Clock.Number, float64(d.Prescale)
	s["R_m"], s["I_fs"], s["C"] = m.Coil.Number, m.FullScale.Number, d.Capacitor.Number
	s["R_p"], s["R_s"], s["R_f"], s["R_t"] = d.PinResistance.Number, d.Stage.Number, d.Fixed.Number, d.Trimmer.Number

	// r: as given, or set for full scale and held within the trimmer.
	needed := u*top/counts/m.FullScale.Number - m.Coil.Number - d.PinResistance.Number - d.Stage.Number
	r := math.Min(math.Max(needed-d.Fixed.Number, 0), d.Trimmer.Number)
	if d.Setting.Given() {
		r = d.Setting.Number
	}
	before, after := d.PinResistance.Number+d.Stage.Number+d.Fixed.Number+r, m.Coil.Number
	if d.CapacitorAt == "stage" {
		before, after = d.PinResistance.Number+d.Stage.Number, d.Fixed.Number+r+m.Coil.Number
	}
	s["r"], s["R_a"], s["R_c"], s["k"] = r, before, after, after/(before+after)

	size := map[string][2]float64{"12 h": {720, 720}, "24 h": {1440, 1440}, "60 min": {60, 60}, "60 s": {1, 60}}[h.Shows]
	s["S"], s["n"] = size[0], size[1]

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
	s.ofExtremes(b, h)
	s.ofLaw(b, h, before+after-m.Coil.Number)
	s.ofRipple(h, calc.Chain{Before: before, After: after, Capacitor: d.Capacitor.Number}, zeta)
}

// ofExtremes are the worst ends of parts, and where bare cells end.
func (s symbols) ofExtremes(b *Build, h *Hand) {
	most := b.Rail.Voltage.High()
	if b.Battery.Cells > 0 && b.Converter.Kind != "linear" {
		most = math.Max(most, float64(b.Battery.Cells)*b.Battery.Curve[0].Rest)
	}
	s["U_max"], s["I_least"] = most, h.Meter.FullScale.Low()
	s["R_least"] = h.Meter.Coil.Low() + h.Drive.PinResistance.Low() + h.Drive.Stage.Low() + h.Drive.Fixed.Low()
	s["floor"] = floorOf(b)
}

// floorOf is the pack voltage at which the clock ends.
func floorOf(b *Build) float64 {
	floor := math.Max(b.Battery.Cutoff.Number*float64(b.Battery.Cells), b.Converter.MinimumInput.Number)
	switch b.Converter.Kind {
	case "linear":
		return math.Max(floor, b.Rail.Voltage.Number+b.Converter.Dropout.Number)
	case "none":
		return math.Max(floor, b.Load.MinimumVoltage.Number)
	}
	return floor
}

func (s symbols) ofLaw(b *Build, h *Hand, rest float64) {
	law := calc.Law{Points: h.Meter.Table}
	switch h.Meter.Law {
	case "square":
		law.Kind = calc.Square
	case "table":
		law.Kind = calc.Table
	}
	s["law"] = law.At
	s["shown"] = law.At
	if h.Correct == "dial" {
		s["shown"] = func(x float64) float64 { return x }
	}
	// e of catalogue.md, temperature_error.
	at, c := b.Rail.TrimmedAt.Number, h.Meter.CoilCopper.Number
	e := func(t float64) float64 {
		delta := t - at
		warm := rest*(1+h.Drive.ResistorTempco.Number*1e-6*delta) + h.Meter.Coil.Number*(1-c+c*(234.5+t)/(234.5+at))
		return (rest+h.Meter.Coil.Number)/warm*(1+h.Meter.MovementTempco.Number*1e-6*delta) - 1
	}
	s["e_low"], s["e_high"] = e(b.Crystal.RoomLow.Number), e(b.Crystal.RoomHigh.Number)
	coding := func(top, n float64) *calc.Coding {
		return &calc.Coding{Law: &law, Top: top, Steps: int(n), Down: h.Drive.Rounding == "down", Codes: h.Correct == "codes", Dial: h.Correct == "dial"}
	}
	s["coding_error_largest"] = func(top, n float64) float64 { largest, _ := coding(top, n).Errors(); return largest }
	s["coding_error_rms"] = func(top, n float64) float64 { _, rms := coding(top, n).Errors(); return rms }
}

func (s symbols) ofRipple(h *Hand, chain calc.Chain, zeta float64) {
	ripple := func(u, duty float64) *calc.Ripple {
		return &calc.Ripple{
			Rail: u, Duty: duty, Period: float64(h.Drive.Prescale) * float64(h.Drive.Counts) / h.Drive.Clock.Number,
			Chain: chain, Inductance: h.Meter.Inductance.Number, FullScale: h.Meter.FullScale.Number,
			Movement: calc.Movement{Period: h.Meter.Period.Number, Damping: zeta},
		}
	}
	s["ripple_at_node"] = func(u, duty float64) float64 { return ripple(u, duty).Node() }
	s["ripple_of_needle"] = func(u, duty float64) float64 { return ripple(u, duty).Needle() }
}

func (s symbols) ofCrystal(b *Build) {
	x := &b.Crystal
	for name, v := range map[string]float64{
		"C_in": x.CapacitorIn.Number, "C_out": x.CapacitorOut.Number, "stray": x.Stray.Number, "load": x.Load.Number,
		"C_m": x.Motional.Number, "C_0": x.Shunt.Number, "ESR": x.ESR.Number, "transconductance": x.Transconductance.Number,
		"frequency": x.Frequency.Number, "prescale": float64(x.Prescale), "bits": float64(x.CounterBits),
		"reload": float64(x.Reload), "lost_counts": float64(x.LostCounts),
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

func (s symbols) ofBattery(b *Build, p *Plan) {
	lamps, hands := 0.0, 0.0
	for i := range b.Lamps {
		lamps += float64(b.Lamps[i].Count) * b.Lamps[i].Lit.Number * p.Lamps[i].Current
	}
	for i := range p.Hands {
		hands += p.Hands[i].RailCurrent
	}
	on, off := b.Load.ControllerOn.Number+lamps+hands, b.Load.ControllerOff.Number
	s["controller_on"], s["controller_off"], s["lamps"], s["hands"], s["hours_on"] = b.Load.ControllerOn.Number, off, lamps, hands, b.Load.HoursOn.Number
	if b.Battery.Cells == 0 {
		return
	}
	cells := float64(b.Battery.Cells)
	shelf := math.Inf(1)
	if b.Battery.ShelfLife.Given() {
		shelf = b.Battery.ShelfLife.Number * 8766
	}
	pack := calc.Pack{
		Supply: calc.Supply{
			Kind: map[string]calc.ConverterKind{"boost": calc.Boost, "linear": calc.LinearRegulator}[b.Converter.Kind],
			Rail: b.Rail.Voltage.Number, Efficiency: b.Converter.Efficiency.Number,
			Quiescent: b.Converter.Quiescent.Number, Resistance: cells * b.Battery.Resistance.Number,
		},
		Curve: b.Battery.Curve, Cells: cells, Floor: floorOf(b), Capacity: b.Battery.Capacity.Number,
		SelfDischarge: b.Battery.SelfDischarge.Number, Shelf: shelf, On: on, Off: off,
	}
	s["V_rest"] = cells * b.Battery.Curve[0].Rest
	s["life"] = pack.Life
	s["drawn"] = func(rest, load float64) float64 {
		d, ok := pack.Supply.Draw(rest, load)
		if !ok {
			return math.NaN()
		}
		return d.Current
	}
}
