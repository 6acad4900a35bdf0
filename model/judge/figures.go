package judge

import (
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// travelToSpare is how much of the trimmer's travel is left at its nearer end
// for 95 % of the kits; NaN where the nominal travel itself is judged, and
// without a trimmer.
func (s subject) travelToSpare() float64 {
	travel := s.hand().TrimmerTravel
	if !(math.Abs(travel-0.5) <= 0.4) {
		return math.NaN()
	}
	band := s.travelBand()
	return min(band.Low(travel), 1-band.High(travel))
}

// travelBand is the spread of the trimmer's travel over kits; what has no tolerance
// has the usual one.
func (s subject) travelBand() calc.Spread {
	h, d, meter := *s.circuit(), s.drive(), *s.meter()
	if meter.AsMeasured() { // the closed case stands in for the movement
		meter.Coil, meter.FullScale = s.closed()
		h.Coil, h.FullScale, h.Multiplier, h.Shunt = meter.Coil.Number, meter.FullScale.Number, 0, math.Inf(1)
	}
	rail := asUsual(s.b.Rail.Voltage, railTolerance)
	if h.Drop > 0 {
		rail = quantity.Value{Number: rail.Number - h.Drop, Tolerance: rail.Half()}
	}
	travel := func() float64 { return (h.SeriesNeeded() - h.Fixed) / h.Trimmer }
	nominal := travel()
	var band calc.Spread
	type input struct {
		at *float64
		v  quantity.Value
	}
	inputs := []input{
		{&h.Rail, rail}, {&h.FullScale, asUsual(meter.FullScale, readingTolerance)},
		{&h.Coil, asUsual(meter.Coil, readingTolerance)}, {&h.Pin, asUsual(d.Source(), pinTolerance)},
		{&h.Stage, asUsual(d.Stage, resistorTolerance)}, {&h.Fixed, asUsual(d.Fixed, resistorTolerance)},
		{&h.Trimmer, asUsual(d.Trimmer, trimmerTolerance)},
	}
	switch inside := asUsual(meter.Internal, readingTolerance); {
	case h.Multiplier > 0:
		inputs = append(inputs, input{&h.Multiplier, inside})
	case !math.IsInf(h.Shunt, 1):
		inputs = append(inputs, input{&h.Shunt, inside})
	}
	for _, in := range inputs {
		*in.at = in.v.High()
		up := travel() - nominal
		*in.at = in.v.Low()
		down := travel() - nominal
		*in.at = in.v.Number
		band.Add(max(up, down, 0), max(-up, -down, 0))
	}
	return band
}

// mostRail is the most a pin can deliver, V, the rail within its usual tolerance where
// none is given.
func mostRail(b *model.Build) float64 { return max(circuit.MostRail(b), railHigh(b)) }

// railHigh is the upper end of the rail itself, V.
func railHigh(b *model.Build) float64 { return asUsual(b.Rail.Voltage, railTolerance).High() }

// overloadWorst is the worst overload; what has no tolerance has the usual one, so that
// who knows less is not told that less can happen.
func (s subject) overloadWorst() float64 {
	hand := s.b.Hands[s.i]
	m, d := &hand.Meter, &hand.Drive
	unsure := s.b.Rail.Voltage.Tolerance == 0
	for _, part := range [...]struct {
		v     *quantity.Value
		usual float64
	}{
		{&m.Coil, readingTolerance}, {&m.FullScale, readingTolerance}, {&m.Internal, resistorTolerance},
		{&m.TerminalResistance, readingTolerance}, {&m.TerminalFullScale, readingTolerance},
		{&d.PinResistance, pinTolerance}, {&d.SwitchResistance, pinTolerance}, {&d.Stage, resistorTolerance}, {&d.Fixed, resistorTolerance},
	} {
		if part.v.Tolerance == 0 && part.v.Number > 0 {
			*part.v, unsure = asUsual(*part.v, part.usual), true
		}
	}
	if !unsure {
		return s.hand().OverloadWorst
	}
	h := circuit.WireHand(s.b, &hand)
	return mostRail(s.b) / h.LeastChain / h.LeastFullScale
}

// reachedWithInside is the share of its full-scale current that the coil gets
// with the multiplier or shunt inside still connected, the trimmer set as well as
// it can be; NaN where none is.
func (s subject) reachedWithInside() float64 {
	if s.meter().InCircuit != "yes" || math.IsNaN(s.hand().TerminalResistance) {
		return math.NaN()
	}
	return s.hand().FullScaleReached
}

// multiplied says whether a multiplier is still connected inside the meter.
func (s subject) multiplied() bool {
	return s.meter().InCircuit == "yes" && s.meter().InternalKind == "multiplier"
}

// coilVoltage is across the coil at full scale, by its own readings.
func (s subject) coilVoltage() float64 { return s.meter().FullScale.Number * s.meter().Coil.Number }

// moreVoltage says what helps where the rail is too low for full scale.
func (s subject) moreVoltage() string {
	h := s.circuit()
	_, current := h.Shunted()
	switch needs := s.coilVoltage(); {
	case current > MostSwitched:
		return "it takes more than a pin or two transistors give, so a movement without its shunt, or another meter"
	case h.TerminalResistance*h.TerminalFullScale > mostCoilVoltage: // NaN is not
		return "the closed case asks for " + show(h.TerminalResistance*h.TerminalFullScale, quantity.Volts) + ", so take out what is inside and measure the movement; never open a dial that may be radium"
	case s.multiplied():
		return "take the multiplier inside out, the coil alone needs " + show(s.hand().FullScaleVoltage, quantity.Volts) + "; never open a dial that may be radium"
	case needs > mostCoilVoltage:
		return "see first whether a multiplier is inside, to be planned with or taken out, for a bare coil needs 20 to 500 mV and not " +
			show(needs, quantity.Volts) + "; never open a dial that may be radium"
	}
	return "a higher rail within the controller's limit, or a meter that needs less"
}

// asleepShare is the part of a day's charge that the sleeping clock takes; NaN where that
// is not known.
func (s subject) asleepShare() float64 {
	hours := s.b.Load.HoursOn.Number
	asleep := (day - hours) * s.p.Battery.CurrentOff
	return asleep / (hours*s.p.Battery.CurrentOn + asleep)
}

// shelfDecides says whether the sleeping clock's cells last their shelf life.
func (s subject) shelfDecides() bool {
	return s.p.Circuit.Battery.Present && s.p.Battery.LifeStandby == s.p.Pack.Shelf
}

// lessAsleepGains says whether a smaller sleeping current lets the cells last longer:
// where the shelf decides of a sleeping clock, as it is used, by a tenth at most of a
// day's charge. Common practice, no source.
func (s subject) lessAsleepGains() bool {
	return !s.shelfDecides() || s.p.Battery.LifeMixed < s.p.Pack.Shelf && s.asleepShare() > 0.1
}

// insideLimits make a note at least: what is inside belongs into the plan.
func insideLimits(subject) limits { return limits{-1, 0.01, 0.03, false} }

// periodsASwing is how many PWM periods go by while the needle swings once; NaN
// where a filter keeps it still anyhow.
func (s subject) periodsASwing() float64 {
	h := s.hand()
	if s.circuit().Capacitor > 0 && h.RippleNeedle <= 0.002*s.minutes() {
		return math.NaN()
	}
	return h.PWMFrequency * s.circuit().Movement.Period
}

// leak is what the capacitor's leak may cost, min: that of an electrolytic, or of
// one from 1 µF on that may be one, since its kind is not known.
func (s subject) leak() float64 {
	if !s.drive().MayLeak() {
		return math.NaN()
	}
	d := s.circuit().Drive()
	return s.circuit().LeakError(&d)
}

// uneven is by how much a scale that nothing straightens puts the hand wrong at its
// worst place, min; NaN where it is even, or straightened.
func (s subject) uneven() float64 {
	law := &s.circuit().Law
	if s.b.Hands[s.i].Correct != "none" || law.Kind == calc.Linear || law.From > 0 { // of that another finding tells
		return math.NaN()
	}
	most := 0.0
	if law.Kind == calc.Square {
		most = 0.25 // at half the current
	}
	for _, p := range law.Points {
		most = max(most, math.Abs(p.Scale-p.Current))
	}
	return s.minutes() * s.circuit().Reach * most
}

// What is usual across a moving coil at full scale, V. Common practice, no source.
const leastCoilVoltage, mostCoilVoltage = 0.02, 0.5

// RatingFor returns the smallest usual rating of resistors, "500 mW", that is twice a power, W.
// Common practice, no source.
func RatingFor(power float64) string {
	return leastOf(2*power, []float64{0.125, 0.25, 0.5, 1, 2, 5, 10}, quantity.Watts)
}

// voltageFor is the smallest usual rating of capacitors from a voltage on.
// Common practice, no source.
func voltageFor(voltage float64) string {
	return leastOf(voltage, []float64{6.3, 10, 16, 25, 35, 50, 63, 100}, quantity.Volts)
}

// leastOf is the least of rising values from x on, or the last.
func leastOf(x float64, values []float64, u quantity.Unit) string {
	for _, v := range values {
		if v >= x {
			return model.PlainText(v, u)
		}
	}
	return model.PlainText(values[len(values)-1], u)
}

// worstHand is the hand of which something is most, and how much; none of it
// where there is nothing above 0.
func worstHand(p *circuit.Plan, f func(i int) float64) (worst int, most float64) {
	for i := range p.Hands {
		if x := f(i); x > most {
			worst, most = i, x
		}
	}
	return worst, most
}

// finestStep is the smallest step of all hands, min.
func finestStep(p *circuit.Plan) float64 {
	finest := math.Inf(1)
	for i := range p.Hands {
		finest = min(finest, p.Hands[i].Step)
	}
	return finest
}

// heaviestLamp is the kind of lamp that takes most from the rail, and what all
// lamps take together, A.
func heaviestLamp(p *circuit.Plan) (index int, all float64) {
	most := 0.0
	for i := range p.Lamps {
		takes := p.Circuit.Lamps[i].Share * p.Lamps[i].Current
		if takes > most {
			index, most = i, takes
		}
		all += takes
	}
	return index, all
}

// fewerCells are as many cells of the build's kind, 1 at least, as stand clear
// below the rail.
func (s subject) fewerCells() []model.Change {
	if !s.b.Battery.HasCells() {
		return nil
	}
	fewer := max(1, int((s.b.Rail.Voltage.Number-0.2+s.b.Battery.SeriesDrop.Number)/s.b.Battery.Curve[0].Rest))
	if fewer >= s.b.Battery.Cells {
		return nil
	}
	return []model.Change{{Field: model.Builds.Field("battery.cells"), Index: 0, Text: strconv.Itoa(fewer)}}
}

// pinLimit is the most a pin of the controller gives, as any hand says, A.
func pinLimit(b *model.Build) float64 {
	most := math.NaN()
	for i := range b.Hands {
		if limit := b.Hands[i].Drive.PinLimit.Number; !(limit <= most) && !math.IsNaN(limit) {
			most = limit
		}
	}
	if math.IsNaN(most) {
		return math.Inf(1)
	}
	return most
}

// strandedByConverter is the share of the charge left when the always waking
// clock ends because of what its rail or converter needs; NaN where the cells'
// own end is first.
func (s subject) strandedByConverter() float64 {
	pack := &s.p.Pack
	if !s.p.Circuit.Battery.Present || pack.Floor <= pack.Cutoff-pack.Supply.Drop {
		return math.NaN()
	}
	return s.p.Battery.Stranded
}

// pastCutoff is how far below its cutoff the pack is when the converter stops, V; NaN
// where cells feed the rail directly, or stop first. What is left of a rounding is none.
func (s subject) pastCutoff() float64 {
	pack := &s.p.Pack
	if past := pack.Cutoff - pack.Supply.Drop - pack.Floor; s.p.Circuit.Battery.Present && s.b.Converter.Kind != "none" && past > 1e-9 {
		return past
	}
	return math.NaN()
}

// ruinedEmpty says whether a cell that is drawn below its cutoff is spoilt: a
// rechargeable one. Common practice, no source.
func ruinedEmpty(cell string) bool {
	return strings.HasPrefix(cell, "LSD NiMH") || strings.HasPrefix(cell, "Li-ion")
}

// aboveMinimum is how far the input of a step-up stands above its minimum when
// the cells themselves have come to their end, V; NaN where that is not so, and
// where too much charge is left then, which strandedByConverter judges.
func (s subject) aboveMinimum() float64 {
	pack, minimum := &s.p.Pack, s.b.Converter.MinimumInput.Number
	if !s.p.Circuit.Battery.Present || s.b.Converter.Kind != "boost" || minimum == 0 || s.strandedByConverter() > 0.2 {
		return math.NaN()
	}
	end := pack.Cutoff
	if d, ok := pack.DrawUsedUp(); ok {
		end = max(end, d.Voltage)
	}
	return end - pack.Supply.Drop - minimum
}

// usualRules make a rule of each field that has usual values.
func usualRules() []rule {
	var rules []rule
	for _, f := range model.Builds.Fields {
		if f.Usual[0] == "" {
			continue
		}
		least, most := f.UsualRange()
		rules = append(rules, rule{
			id: "unusual", field: f.Path, unit: f.Unit,
			figure: func(s subject) float64 { return f.Number(s.b, s.i) },
			off: func(x float64) float64 {
				return holds(x != 0 && (x < least || x > most))
			},
			limits: at(never, half, never),
			says: func(s subject, _ string) string { // in all its digits: a count has no others
				return f.Label + " of " + model.NominalText(f.Text(s.b, s.i)) + " is not usual; " + f.Usual[0] + " to " + f.Usual[1] + " is."
			},
			advice: always(strings.ToUpper(f.Beyond[:1]) + f.Beyond[1:] + "."),
			part:   map[string]string{"hand.drive.trimmer": "series", "hand.drive.counts": "pwm"}[f.Path],
		})
	}
	return rules
}

// readToUsual is how well a scale is known at the points that were read off it and
// between them, a share of the scale, where the points do not say better. Common
// practice, no source.
const readToUsual = 0.005

// readTo is how well the scale of a meter is known from what was measured of it, a
// share of the scale; 0 where nobody measured it between its ends.
func (s subject) readTo() float64 {
	if f := s.fitted(); f != nil {
		if s.b.Hands[s.i].Correct == "none" { // nothing uses it
			return 0
		}
		return f.MostLeft()
	}
	if m := s.meter(); m.Law == "table" && len(m.Table) > 2 {
		return min(readToUsual, max(roundedTo(m.Table)/2, offNeighbours(m.Table)))
	}
	return 0
}

// roundedTo is the coarsest of 1 %, 0.1 %, … that the places of points are whole
// multiples of.
func roundedTo(points []calc.Point) float64 {
	unit := 0.01
	for _, p := range points {
		for unit > 1e-6 && math.Abs(p.Scale/unit-math.Round(p.Scale/unit)) > 1e-6 {
			unit /= 10
		}
	}
	return unit
}

// offNeighbours is the most by which a point stands off the straight line between the
// two beside it: less is not known of what stands between points.
func offNeighbours(points []calc.Point) float64 {
	most := 0.0
	for k := 1; k+1 < len(points); k++ {
		a, p, b := points[k-1], points[k], points[k+1]
		line := a.Scale + (b.Scale-a.Scale)*(p.Current-a.Current)/(b.Current-a.Current)
		most = max(most, math.Abs(p.Scale-line))
	}
	return most
}
