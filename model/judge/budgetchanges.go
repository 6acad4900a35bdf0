package judge

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A remedy is what would reduce a source: advice in words, changes of choices that may,
// and proofs, which are what may once it was done and measured.
type remedy struct {
	advice func(s *sinceSet) string
	tries  func(s *sinceSet) [][]model.Change
	proofs func(s *sinceSet) []proof
}

func words(text string) func(*sinceSet) string { return func(*sinceSet) string { return text } }

// remedies is the table of what would reduce the sources, by their ids.
var remedies = map[string]remedy{
	"class": {
		advice: words("Measure the scale at some codes, give the points as its law, and straighten it."),
		proofs: (*sinceSet).straightened},
	"scale": {
		advice: words("More points, read to a tenth of a division with the eye straight above the needle.")},
	"rail": {
		advice: func(s *sinceSet) string { return railAdvice(s.b, s.circuit().Drift) },
		proofs: (*sinceSet).steadierRail},
	"fade": {
		advice: words("Hold the rail with a converter: the needle follows it. Then measure how far that lets it drift, 2 % with many."),
		tries:  func(s *sinceSet) [][]model.Change { return [][]model.Change{s.converter("boost")} }},
	"fresh": {
		advice: words("The fresh pack stands above the rail: fewer cells, or a regulator that holds it down."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{s.fewerCells(), s.converter("linear")}
		}},
	"temperature": {
		advice: words("Trim at the room's middle temperature; more series resistance against the copper coil."),
		proofs: (*sinceSet).otherTemperatures},
	"movement": {
		advice: words("How magnet and spring follow the room is not known: its class once more for each 10 K is what a meter may do. Read it at two temperatures; about 200 ppm/K with alnico, -2000 with ferrite."),
		proofs: func(s *sinceSet) []proof {
			return []proof{s.proof("Should it be 200 ppm/K", "hand.meter.movement_tempco", "200 ppm/K")}
		}},
	"full_scale": {
		advice: words("Series parts with which the trimmer reaches full scale."),
		tries:  (*sinceSet).otherSeries},
	"trim": {
		advice: words("A multi-turn trimmer, or a smaller one."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.drive.trimmer_turns", "25")}}
		}},
	"leak": {
		advice: words("A film or ceramic capacitor."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.drive.capacitor_kind", "film")}}
		}},
	"coding": {
		advice: words("More codes, rounded to the nearest, that share the dial evenly; a scale that is not even, straightened."),
		tries:  (*sinceSet).otherCodes},
	"friction": {
		advice: words("Look for dust in the gap, paper or window touching the pointer, a tilted pivot; then measure again."),
		proofs: func(s *sinceSet) []proof {
			clean := model.Builds.Field("hand.meter.stick").New
			return []proof{s.proof("Clean, within "+clean, "hand.meter.stick", clean)}
		}},
	"zero": {
		advice: words("The zero screw, case closed, in its final place, tapping; then trim full scale."),
		proofs: func(s *sinceSet) []proof {
			return []proof{s.proof("At zero", "hand.meter.zero_offset", "0 %")}
		}},
	"mounting": {
		advice: words("Zero and trim it in the final case and position, and say so; or mount it as its dial asks for."),
		proofs: (*sinceSet).wellMounted},
	"ripple": {
		advice: words("A faster PWM or a larger capacitor."),
		tries:  (*sinceSet).smoother},
	"law_ripple": {
		advice: words("Smooth the current, or measure the scale with this very drive."),
		tries:  (*sinceSet).smoother},
	"settling": {
		advice: words("A quicker meter, or a smooth sweep in many small steps.")},
	"pin_bend": {
		advice: words("More resistance before the capacitor, or none behind the pin."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.drive.capacitor_at", "coil")}, {s.change("hand.drive.capacitor", "")}}
		}},
	"diode_bend": {
		advice: words("They suit a coil below 0.2 V at full scale; else the fixed resistor alone protects it."),
		tries: func(s *sinceSet) [][]model.Change {
			return [][]model.Change{{s.change("hand.meter.diodes", "none")}}
		}},
	"drift": {
		advice: words("Let the firmware count the tick that suits the middle of the room; measured on a buffered output, the crystal's own tolerance is gone too."),
		tries:  (*sinceSet).otherTicks,
		proofs: (*sinceSet).measuredCrystal},
}

// A proof is evidence that would reduce a source. Nobody has it yet: it is never
// written into a build.
type proof struct {
	path  string       // of the field it belongs into, without a name
	so    string       // what would be so: "At 0.2 %"
	after *model.Build // were it so
}

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

// proof is evidence for a field: another text of it, and of others with it.
func (s *sinceSet) proof(so, path, text string, more ...model.Change) proof {
	changes := append([]model.Change{s.change(path, text)}, more...)
	return proof{path, so, s.b.Changed(changes)}
}

// steadierRail is the drift of the next better way to hold a rail: a linear
// regulator, a reference. Common practice, no source.
func (s *sinceSet) steadierRail() []proof {
	switch drift := s.circuit().Drift; {
	case drift > 0.01:
		return []proof{s.proof("Should it drift by 1 %", "rail.drift", "1 %")}
	case drift > 0.002:
		return []proof{s.proof("Should it drift by 0.2 %", "rail.drift", "0.2 %")}
	}
	return nil
}

// railAdvice says what holds the rail closer than what is there.
func railAdvice(b *model.Build, drift float64) string {
	const follows = "The needle follows the rail: "
	switch linear := b.Converter.Kind == "linear"; {
	case drift <= 0.002:
		return follows + "little holds it closer."
	case drift <= 0.01:
		return follows + "a reference holds it to 0.2 %. Measure how far it moves with one."
	case linear:
		return follows + "a linear regulator as a rule holds it to 1 %, a reference to 0.2 %. Measure how far it moves."
	case b.Battery.Cells == 0:
		return follows + "another finished supply may hold it closer, a reference holds it to 0.2 %. Measure how far it moves with one."
	case !feedsLinear(b) && b.Converter.Kind == "none":
		return follows + "a step-up holds it to 2 %, a reference to 0.2 %. Measure how far it moves with one."
	case !feedsLinear(b):
		return follows + "another step-up may hold it closer, a reference holds it to 0.2 %. Measure how far it moves with one."
	}
	return follows + "a linear regulator holds it to 1 %, a reference to 0.2 %. Measure how far it moves with one."
}

// feedsLinear says whether the fresh pack stands above the rail by what a usual linear
// regulator needs; true where its cells are not known.
func feedsLinear(b *model.Build) bool {
	const dropout = 0.25 // V, as of usualConverters
	if !b.Battery.HasCells() {
		return true
	}
	return float64(b.Battery.Cells)*b.Battery.Curve[0].Rest >= b.Rail.Voltage.Number+dropout
}

// otherTemperatures are trimming at the room's middle, and resistors that follow
// its temperature less. Common practice, no source: metal film, 50 ppm/K.
func (s *sinceSet) otherTemperatures() []proof {
	c := s.circuit()
	middle := model.PlainText(math.Round((c.RoomLow+c.RoomHigh)/2), quantity.Celsius)
	all := []proof{s.proof("Trimmed at "+middle, "rail.trimmed_at", middle)}
	if c.ResistorTempco > 50*circuit.PerPPM {
		all = append(all, s.proof("With resistors of 50 ppm/K", "hand.drive.resistor_tempco", "50 ppm/K"))
	}
	return all
}

// straightened is the scale measured at every twentieth of its current, whatever its
// law says, and straightened by codes or by its dial.
func (s *sinceSet) straightened() []proof {
	after := s.b.Changed(nil)
	h, law := &after.Hands[s.i], s.circuit().Law
	h.Meter.Law, h.Meter.Table = "table", nil
	for k := range 21 {
		share := float64(k) / 20
		h.Meter.Table = append(h.Meter.Table, calc.Point{Current: share, Scale: law.At(share)})
	}
	if h.Correct == "none" {
		h.Correct = "codes"
	}
	return []proof{{"hand.meter.table", "Read to 0.5 % of it", after}}
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
	if !h.Law.IsEven() && !h.Dial {
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

// wellMounted is to zero and trim it where it hangs, or the panel and the position that the
// dial asks for.
func (s *sinceSet) wellMounted() []proof {
	inPlace := s.proof("Zeroed and trimmed where it hangs", "hand.meter.trimmed_in_place", "yes")
	return append([]proof{inPlace}, s.asAsked()...)
}

// asAsked is the panel and the position that the dial asks for.
func (s *sinceSet) asAsked() []proof {
	m := s.meter()
	panel, position := s.change("hand.meter.panel", m.PanelFor), s.change("hand.meter.position", m.PositionFor)
	offPanel := m.PanelFor != "any" && m.Panel != "" && m.Panel != m.PanelFor
	offPosition := m.PositionFor != "any" && m.Position != "" && m.Position != m.PositionFor
	const so = "Mounted as it asks for"
	switch {
	case offPanel && offPosition:
		return []proof{s.proof(so, "hand.meter.panel", panel.Text, position)}
	case offPanel:
		return []proof{s.proof(so, "hand.meter.panel", panel.Text)}
	case offPosition:
		return []proof{s.proof(so, "hand.meter.position", position.Text)}
	}
	return nil
}

// tickFor are counted ticks that are right in the middle of what the crystal does over
// the room, or at its turnover, where it is off by so many ppm there.
func (s *sinceSet) tickFor(base float64) [2]model.Change {
	c := &s.p.Circuit.Crystal
	least, greatest := calc.ParabolicRange(c.Curvature, c.Turnover, c.RoomLow, c.RoomHigh)
	var ticks [2]model.Change
	for k, aim := range [2]float64{(least + greatest) / 2, 0} {
		tick := roundTo(s.p.Crystal.TickPeriod*(1+circuit.PerPPM*(aim-base)), 10)
		ticks[k] = ofBuild("crystal.tick_counted", model.PlainText(tick, quantity.Seconds))
	}
	return ticks
}

// falling is by how many ppm the crystal was slower when it was measured than at its
// turnover.
func (s *sinceSet) falling() float64 {
	c := &s.p.Circuit.Crystal
	return calc.Parabolic(c.Curvature, c.MeasuredAt, c.Turnover)
}

// otherTicks are counted ticks that suit what is known of the crystal.
func (s *sinceSet) otherTicks() [][]model.Change {
	base := s.p.Crystal.LoadOffset
	if c := &s.p.Circuit.Crystal; !math.IsNaN(c.Measured) {
		base = (c.Measured/c.Frequency-1)*circuit.PPM + s.falling()
	}
	ticks := s.tickFor(base)
	return [][]model.Change{ticks[:1], ticks[1:]}
}

// measuredCrystal is the frequency, measured, and the tick that suits it, whatever that
// comes to; here to what its load capacitors make.
func (s *sinceSet) measuredCrystal() []proof {
	c, offset := &s.p.Circuit.Crystal, s.p.Crystal.LoadOffset
	if !math.IsNaN(c.Measured) {
		return nil
	}
	measured := roundTo(c.Frequency*(1+circuit.PerPPM*(offset-s.falling())), 8)
	var all []proof
	for _, tick := range s.tickFor(offset) {
		all = append(all, s.proof("Measured, and its own tick counted", "crystal.measured", model.PlainText(measured, quantity.Hertz), tick))
	}
	return all
}

// roundTo is a number over 0 in so many digits.
func roundTo(x float64, digits int) float64 {
	scale := math.Pow(10, float64(digits-1)-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}
