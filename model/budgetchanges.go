package model

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// ofBuild is another text for a field that the build has once.
func ofBuild(path, text string) Change { return Change{Builds.Field(path), 0, text} }

// converter are the changes to a converter of this kind, as usual.
func (s *sinceSet) converter(kind string) []Change {
	if s.b.Converter.Kind == kind || !hasBattery(&s.b.Battery) {
		return nil
	}
	changes := []Change{ofBuild("converter.kind", kind)}
	for _, usual := range usualConverters[kind] {
		f := Builds.Field(usual.path)
		if usual.text != "" || f.number(s.b, 0) != f.absent.Number {
			changes = append(changes, ofBuild(usual.path, usual.text))
		}
	}
	return changes
}

// steadierRails is the drift of the next better way to hold a rail: a linear
// regulator, a reference. Common practice, no source.
func (s *sinceSet) steadierRails() [][]Change {
	for _, drift := range [...]struct {
		share float64
		text  string
	}{{0.01, "1 %"}, {0.002, "0.2 %"}} {
		if drift.share < s.circuit().Drift {
			return [][]Change{{ofBuild("rail.drift", drift.text)}}
		}
	}
	return nil
}

// otherTemperatures are trimming at the room's middle, and resistors that follow
// its temperature less. Common practice, no source: metal film, 50 ppm/K.
func (s *sinceSet) otherTemperatures() [][]Change {
	c := s.circuit()
	changes := [][]Change{{ofBuild("rail.trimmed_at", plainText(math.Round((c.RoomLow+c.RoomHigh)/2), quantity.Celsius))}}
	if c.ResistorTempco > 50*perPPM {
		changes = append(changes, []Change{s.change("hand.drive.resistor_tempco", "50 ppm/K")})
	}
	return changes
}

// otherSeries are a trimmer that is free to be set, and the fixed resistor of E24
// that brings it to its middle.
func (s *sinceSet) otherSeries() [][]Change {
	var free []Change
	if s.drive().Setting.Given() {
		free = []Change{s.change("hand.drive.setting", "")}
	}
	all := [][]Change{free}
	if fixed := s.hand().SeriesNeeded - s.circuit().Trimmer/2; fixed > 0 {
		nearest := calc.NearestPreferred(fixed, calc.E24)
		all = append(all, append([]Change{s.size("hand.drive.fixed", nearest, resistorTolerance)}, free...))
	}
	return all
}

// otherCodes are a straightened scale, the nearest code, an even top code, and 2 to
// 4 times the counts, with as much less of a prescaler where it divides.
func (s *sinceSet) otherCodes() [][]Change {
	d, h := s.drive(), s.circuit()
	all := [][]Change{
		{s.change("hand.drive.rounding", "nearest")},
		{s.count("hand.drive.top", equalTop(h.Steps, d.Counts))},
	}
	if h.Law.Kind != calc.Linear && !h.Dial {
		all = append(all, []Change{s.change("hand.correct", "codes")})
	}
	for k := 2; k <= 4 && k*d.Counts <= 65536; k++ {
		more := []Change{s.count("hand.drive.counts", k*d.Counts), s.count("hand.drive.top", k*d.Top)}
		if d.Prescale%k == 0 {
			more = append(more, s.count("hand.drive.prescale", d.Prescale/k))
		}
		all = append(all, more)
	}
	return all
}

// smoother are a faster PWM, and a larger capacitor.
func (s *sinceSet) smoother() [][]Change {
	d := s.drive()
	all := [][]Change{{s.count("hand.drive.prescale", 1)}}
	larger := 10 * d.Capacitor.Number
	if larger == 0 {
		larger = 10e-6
	}
	capacitor := []Change{s.size("hand.drive.capacitor", min(larger, 10e-3), capacitorTolerance)}
	if d.Capacitor.Number == 0 {
		capacitor = append(capacitor, s.change("hand.drive.capacitor_at", "coil"), s.change("hand.drive.capacitor_kind", "ceramic"))
	}
	return append(all, capacitor)
}

// asAsked are the panel and the position that the dial asks for.
func (s *sinceSet) asAsked() []Change {
	m := s.meter()
	var changes []Change
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
func (s *sinceSet) otherTicks() [][]Change {
	c := &s.p.circuit.Crystal
	falling := calc.Falling(c.Curvature, c.MeasuredAt, c.Turnover)
	least, greatest := calc.FallingRange(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh)
	var all [][]Change
	add := func(base float64, measured ...Change) {
		for _, aim := range [2]float64{(least + greatest) / 2, 0} {
			tick := roundTo(s.p.Crystal.TickPeriod*(1+perPPM*(aim-base)), 10)
			all = append(all, append([]Change{ofBuild("crystal.tick_counted", plainText(tick, quantity.Seconds))}, measured...))
		}
	}
	if !math.IsNaN(c.Measured) {
		add((c.Measured/c.Frequency-1)*ppm + falling)
		return all
	}
	offset := s.p.Crystal.LoadOffset
	measured := roundTo(c.Frequency*(1+perPPM*(offset-falling)), 8)
	add(offset)
	add(offset, ofBuild("crystal.measured", plainText(measured, quantity.Hertz)))
	return all
}

// roundTo is a number over 0 in so many digits.
func roundTo(x float64, digits int) float64 {
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}
