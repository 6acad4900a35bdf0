package faulty

import (
	"math"
	"math/rand/v2"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

const eye = 0.015 // of the scale, either way; source: the contract

// drawer draws parts within their tolerances. It draws the same numbers whatever the
// faults, so that a clock's twin without them has the same parts.
type drawer struct{ *rand.Rand }

// within is anything from low to high.
func (d drawer) within(low, high float64) float64 { return low + d.Float64()*(high-low) }

// around is anything within so much either way.
func (d drawer) around(half float64) float64 { return d.within(-half, half) }

// part is a value within its tolerance; NaN where none is given.
func (d drawer) part(v quantity.Value) float64 { return v.Number + d.around(1)*v.Half() }

// or is a value within its tolerance, or another where none is given.
func (d drawer) or(v quantity.Value, absent float64) float64 {
	if x := d.part(v); v.Given() {
		return x
	}
	return absent
}

func or(v quantity.Value, absent float64) float64 {
	if v.Given() {
		return v.Number
	}
	return absent
}

// draw fills the circuit with parts, and returns how far each hand's eye is off when it
// is trimmed.
func (c *circuit) draw(b *model.Build, bench Bench, random *rand.Rand) []float64 {
	d := drawer{random}
	eyes := make([]float64, len(b.Hands))
	for i := range b.Hands {
		c.hands = append(c.hands, d.hand(&b.Hands[i], i, bench))
		eyes[i] = d.around(eye)
	}
	for _, l := range b.Lamps {
		c.lamps = append(c.lamps, lamp{name: l.Name, forward: d.part(l.Forward), resistor: d.part(l.Resistor),
			pin: d.or(l.PinResistance, 0), lit: d.or(l.Lit, 1), number: float64(l.Count)})
	}
	for _, x := range b.Drains {
		c.drains = append(c.drains, drain{on: d.or(x.On, 0), off: d.or(x.Off, 0), fromPack: x.From == "pack"})
	}
	for _, x := range b.Buttons {
		c.buttons = append(c.buttons, button{name: x.Name, pull: d.part(x.Pull), toGround: bench.ToGround[x.Name], wakes: x.Wakes == "press", floats: math.NaN()})
	}
	c.supply = d.supply(b, bench)
	c.load = load{on: d.or(b.Load.ControllerOn, 0), off: d.or(b.Load.ControllerOff, 0), heldShare: logWithin(d.Rand, 0.1, 1)}
	c.crystal = d.crystal(&b.Crystal, or(b.Rail.TrimmedAt, 23))
	return eyes
}

func (d drawer) hand(p *model.Hand, i int, bench Bench) hand {
	m, v := &p.Meter, &p.Drive
	h := hand{
		name: p.Name, pin: d.or(v.PinResistance, 0), stage: d.or(v.Stage, 0), fixed: d.or(v.Fixed, 0),
		track: d.or(v.Trimmer, 0), setting: d.part(v.Setting), given: v.Setting.Given(), bridge: math.Inf(1),
		capacitor: d.or(v.Capacitor, 0), leak: math.Inf(1), atStage: v.CapacitorAt == "stage",
		counts: v.Counts, top: v.Top, offset: v.DutyOffset, from: i, lampPin: -1,
		pwm:  d.part(v.Clock) / float64(max(1, v.Prescale)) / float64(v.Counts),
		coil: d.part(m.Coil), shunt: math.Inf(1), inductance: d.or(m.Inductance, 0), diodes: m.Diodes == "silicon",
		dummy: nextE24(m.Coil.Number), movement: d.movement(p),
	}
	if !h.given {
		h.setting = h.track // the most, before the first power
	}
	inside := d.part(m.Internal)
	switch {
	case m.InCircuit != "yes" || !m.Internal.Given():
	case m.InternalKind == "multiplier":
		h.multiplier, h.planned = inside, inside
	case m.InternalKind == "shunt":
		h.shunt = inside
	}
	if ohms, given := bench.Dummy[p.Name]; given {
		h.dummy = ohms
	}
	return h
}

func (d drawer) movement(p *model.Hand) movement {
	m := &p.Meter
	v := movement{
		fullScale: d.part(m.FullScale), sensitivity: 1, polarity: 1,
		zero: d.or(m.ZeroOffset, 0), stick: d.or(m.Stick, 0), stop: d.or(m.Stop, 0),
		law: lawOf(m), period: or(m.Period, 1), damping: dampingOf(m),
	}
	off := d.around(1)
	if m.Law != "table" && p.Correct == "none" {
		v.class = off * or(m.Class, 0)
	}
	return v
}

func lawOf(m *model.Meter) calc.Law {
	switch m.Law {
	case "square":
		return calc.Law{Kind: calc.Square}
	case "table":
		if len(m.Table) > 1 {
			return calc.Law{Kind: calc.Table, Points: m.Table}
		}
	}
	return calc.Law{}
}

// dampingOf is a needle's damping ratio. Source: the catalogue's needle_damping.
func dampingOf(m *model.Meter) float64 {
	swing := or(m.Overshoot, 0)
	switch {
	case m.Damping.Given():
		return m.Damping.Number
	case swing <= 0:
		return 1
	}
	return -math.Log(swing) / math.Hypot(math.Pi, math.Log(swing))
}

// e24 is a decade of the series. Source: IEC 60063.
var e24 = []float64{10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91, 100}

// nextE24 is the value of E24 next to a resistance.
func nextE24(ohms float64) float64 {
	decade := math.Pow(10, math.Floor(math.Log10(ohms))-1)
	nearest := e24[0] * decade
	for _, x := range e24 {
		if math.Abs(x*decade-ohms) < math.Abs(nearest-ohms) {
			nearest = x * decade
		}
	}
	return nearest
}

func (d drawer) supply(b *model.Build, bench Bench) supply {
	p, v := &b.Battery, &b.Converter
	s := supply{
		kind: v.Kind, outside: !p.HasCells(), cells: p.Cells, curve: p.Curve,
		used: d.within(0, 0.3), fresh: d.or(p.Resistance, 0), contacts: d.within(0, 0.1), drop: d.or(p.SeriesDrop, 0),
		efficiency: d.or(v.Efficiency, 1), quiescent: d.or(v.Quiescent, 0), minimum: d.or(v.MinimumInput, 0), dropout: d.or(v.Dropout, 0),
		rail: d.part(b.Rail.Voltage), moved: 1, setWrong: 1, sag: 1, least: or(b.Load.MinimumVoltage, 0),
	}
	s.spent = d.or(p.ResistanceEnd, s.fresh)
	if !math.IsNaN(bench.Used) {
		s.used = bench.Used
	}
	after := s.rail * (1 + d.around(or(b.Rail.Drift, 0)))
	s.moved = math.Min(b.Rail.Voltage.High(), math.Max(b.Rail.Voltage.Low(), after)) / s.rail
	if s.kind == "" {
		s.kind = "none"
	}
	return s
}

// logWithin is anything from low to high, each factor alike.
func logWithin(random *rand.Rand, low, high float64) float64 {
	return low * math.Pow(high/low, random.Float64())
}

func (d drawer) crystal(p *model.Crystal, bench float64) crystal {
	x := crystal{
		frequency: p.Frequency.Number, in: d.part(p.CapacitorIn), out: d.part(p.CapacitorOut), stray: d.part(p.Stray),
		motional: d.part(p.Motional), shunt: d.part(p.Shunt), load: d.part(p.Load),
		prescale: max(1, p.Prescale), bits: p.CounterBits, reload: p.Reload, lost: p.LostCounts, counted: or(p.TickCounted, math.NaN()),
	}
	own, age := d.around(or(p.Tolerance, 0)), d.around(or(p.Ageing, 0))
	low := or(p.RoomLow, bench)
	room := d.within(low, or(p.RoomHigh, math.Max(low, bench)))
	if math.IsNaN(x.counted) {
		x.counted = float64(x.prescale) * (math.Exp2(float64(x.bits)) - float64(x.reload)) / x.frequency
	}
	turnover := or(p.Turnover, bench)
	fall := func(t float64) float64 { return or(p.Curvature, 0) * (t - turnover) * (t - turnover) }
	x.sound = x.loadOffset()
	x.known, x.countsKnown = !math.IsNaN(x.frequency+x.sound), !math.IsNaN(x.frequency)
	x.bench, x.days = own-fall(bench), own+age-fall(room)
	if p.Measured.Given() {
		at := or(p.MeasuredAt, bench)
		x.measured, x.known = true, x.countsKnown
		x.bench = (d.part(p.Measured)/x.frequency - 1) * 1e6
		x.days = x.bench + fall(at) + age - fall(room)
	}
	return x
}
