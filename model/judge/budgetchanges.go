package judge

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// ofBuild is another text for a field that the build has once.
func ofBuild(path, text string) model.Change {
	return model.Change{Field: model.Builds.Field(path), Index: 0, Text: text}
}

// converter are the changes to a converter of this kind, as usual.
func (s *sinceSet) converter(kind string) []model.Change {
	if s.b.Converter.Kind == kind || !s.b.Battery.HasCells() {
		return nil
	}
	changes := []model.Change{ofBuild("converter.kind", kind)}
	for _, usual := range usualConverters[kind] {
		f := model.Builds.Field(usual.path)
		if usual.text != "" || !f.IsAsAbsent(s.b, 0) {
			changes = append(changes, ofBuild(usual.path, usual.text))
		}
	}
	return changes
}

// steadierRails is the drift of the next better way to hold a rail: a linear
// regulator, a reference. Common practice, no source.
func (s *sinceSet) steadierRails() [][]model.Change {
	for _, drift := range [...]struct {
		share float64
		text  string
	}{{0.01, "1 %"}, {0.002, "0.2 %"}} {
		if drift.share < s.circuit().Drift {
			return [][]model.Change{{ofBuild("rail.drift", drift.text)}}
		}
	}
	return nil
}

// otherTemperatures are trimming at the room's middle, and resistors that follow
// its temperature less. Common practice, no source: metal film, 50 ppm/K.
func (s *sinceSet) otherTemperatures() [][]model.Change {
	c := s.circuit()
	changes := [][]model.Change{{ofBuild("rail.trimmed_at", model.PlainText(math.Round((c.RoomLow+c.RoomHigh)/2), quantity.Celsius))}}
	if c.ResistorTempco > 50*circuit.PerPPM {
		changes = append(changes, []model.Change{s.change("hand.drive.resistor_tempco", "50 ppm/K")})
	}
	return changes
}

// otherSeries are a trimmer that is free to be set, and the fixed resistor of E24
// that brings it to its middle.
func (s *sinceSet) otherSeries() [][]model.Change {
	var free []model.Change
	if s.drive().Setting.Given() {
		free = []model.Change{s.change("hand.drive.setting", "")}
	}
	all := [][]model.Change{free}
	if fixed := s.hand().SeriesNeeded - s.circuit().Trimmer/2; fixed > 0 {
		nearest := calc.NearestPreferred(fixed, calc.E24)
		all = append(all, append([]model.Change{s.size("hand.drive.fixed", nearest, resistorTolerance)}, free...))
	}
	return all
}

// otherCodes are a straightened scale, the nearest code, an even top code, and 2 to
// 4 times the counts, with as much less of a prescaler where it divides.
func (s *sinceSet) otherCodes() [][]model.Change {
	d, h := s.drive(), s.circuit()
	all := [][]model.Change{
		{s.change("hand.drive.rounding", "nearest")},
		{s.count("hand.drive.top", equalTop(h.Steps, d.MostTop()))},
	}
	if h.Law.Kind != calc.Linear && !h.Dial {
		all = append(all, []model.Change{s.change("hand.correct", "codes")})
	}
	for k := 2; k <= 4 && k*d.Counts <= 65536; k++ {
		more := []model.Change{s.count("hand.drive.counts", k*d.Counts), s.count("hand.drive.top", k*d.Top)}
		if d.Prescale%k == 0 {
			more = append(more, s.count("hand.drive.prescale", d.Prescale/k))
		}
		all = append(all, more)
	}
	return all
}

// smoother are a faster PWM, and a larger capacitor.
func (s *sinceSet) smoother() [][]model.Change {
	d := s.drive()
	all := [][]model.Change{{s.count("hand.drive.prescale", 1)}}
	larger := 10 * d.Capacitor.Number
	if larger == 0 {
		larger = 10e-6
	}
	capacitor := []model.Change{s.size("hand.drive.capacitor", min(larger, 10e-3), capacitorTolerance)}
	if d.Capacitor.Number == 0 {
		capacitor = append(capacitor, s.change("hand.drive.capacitor_at", "coil"), s.change("hand.drive.capacitor_kind", "ceramic"))
	}
	return append(all, capacitor)
}

// asAsked are the panel and the position that the dial asks for.
func (s *sinceSet) asAsked() []model.Change {
	m := s.meter()
	var changes []model.Change
	if m.PanelFor != "any" && m.Panel != "" {
		changes = append(changes, s.change("hand.meter.panel", m.PanelFor))
	}
	if m.PositionFor != "any" && m.Position != "" {
		changes = append(changes, s.change("hand.meter.position", m.PositionFor))
	}
	return changes
}

// otherTicks are counted ticks that are right in the middle of what the crystal
// does over the room, or at its turnover: by what is known of it, and once it is
// measured, whatever that comes to; here to what its load capacitors make.
func (s *sinceSet) otherTicks() [][]model.Change {
	c := &s.p.Circuit.Crystal
	falling := calc.Parabolic(c.Curvature, c.MeasuredAt, c.Turnover)
	least, greatest := calc.ParabolicRange(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh)
	var all [][]model.Change
	add := func(base float64, measured ...model.Change) {
		for _, aim := range [2]float64{(least + greatest) / 2, 0} {
			tick := roundTo(s.p.Crystal.TickPeriod*(1+circuit.PerPPM*(aim-base)), 10)
			all = append(all, append([]model.Change{ofBuild("crystal.tick_counted", model.PlainText(tick, quantity.Seconds))}, measured...))
		}
	}
	if !math.IsNaN(c.Measured) {
		add((c.Measured/c.Frequency-1)*circuit.PPM + falling)
		return all
	}
	offset := s.p.Crystal.LoadOffset
	measured := roundTo(c.Frequency*(1+circuit.PerPPM*(offset-falling)), 8)
	add(offset)
	add(offset, ofBuild("crystal.measured", model.PlainText(measured, quantity.Hertz)))
	return all
}

// roundTo is a number over 0 in so many digits.
func roundTo(x float64, digits int) float64 {
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}
