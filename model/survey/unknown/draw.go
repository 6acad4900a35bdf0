package unknown

import (
	"math"
	"math/rand/v2"
	"strconv"
)

// A Group is a sort of meter that a survey is judged by.
type Group string

// The groups. Those from BareMeter to ShuntAbove are sound; ReversedLeads and
// CentreZero are sound meters of those five as well.
const (
	BareMeter       Group = "bare"
	MultiplierTo30V Group = "multiplier to 30 V"
	MultiplierAbove Group = "multiplier above 30 V"
	ShuntTo300mA    Group = "shunt to 0.3 A"
	ShuntAbove      Group = "shunt above 0.3 A"
	ReversedLeads   Group = "reversed"
	CentreZero      Group = "centre zero"
	JammedNeedle    Group = "jammed needle"
	OpenCoil        Group = "open coil"
	GlowPaint       Group = "glow paint"
	OnMains         Group = "mains"
	Strapped        Group = "strapped"
)

// Origins about which the contract asks further.
const (
	Mains       = "mains"
	HighVoltage = "high voltage"
	Vehicle     = "vehicle"
)

// Kinds that are drawn. Source of the words: the contract.
const (
	MovingCoil = "moving coil"
	MovingIron = "moving iron"
	Rectifier  = "rectifier"
)

// Groups returns all groups.
func Groups() []Group {
	return []Group{BareMeter, MultiplierTo30V, MultiplierAbove, ShuntTo300mA, ShuntAbove, ReversedLeads,
		CentreZero, JammedNeedle, OpenCoil, GlowPaint, OnMains, Strapped}
}

// sorts are what is drawn, and in what proportion of a hundred. Common practice, no
// source.
var sorts = []struct {
	group Group
	share int
}{
	{BareMeter, 38}, {MultiplierTo30V, 20}, {MultiplierAbove, 12}, {ShuntTo300mA, 6}, {ShuntAbove, 11},
	{JammedNeedle, 3}, {OpenCoil, 3}, {GlowPaint, 3}, {OnMains, 2}, {Strapped, 2},
}

// Draw makes up one meter of a drawer full of them. One in six is reversed, one in
// fourteen rests in the centre, whatever else it is.
func Draw(random *rand.Rand) *Meter {
	n := random.IntN(100)
	for _, s := range sorts {
		if n < s.share {
			return DrawOf(s.group, random)
		}
		n -= s.share
	}
	panic("the shares are not a hundred")
}

// DrawOf makes up one meter of a group.
func DrawOf(group Group, random *rand.Rand) *Meter {
	d := drawer{random}
	m := &Meter{Inside: NothingInside, Kind: MovingCoil, Law: Linear, ZeroAt: "left", Glow: "no", Dial: true}
	d.inside(m, group)
	m.Group = group
	if m.Kind == MovingCoil && d.chance(0.08) {
		m.Law, m.Bend = Uneven, d.either(d.within(0.05, 0.12))
	}
	m.Reversed = group == ReversedLeads || d.chance(1./6)
	m.Rest = d.around(0.02)
	switch {
	case m.Kind == MovingCoil && (group == CentreZero || d.chance(1./14)):
		m.ZeroAt, m.Rest = "centre", 0.5+m.Rest
	case d.chance(0.02):
		m.ZeroAt = "right"
	}
	m.Friction = d.within(0.001, 0.01)
	m.Looks = m.Kind
	if d.chance(0.3) {
		m.Looks = "unknown"
	}
	d.origin(m)
	d.trouble(m, group)
	return m
}

// inside draws the movement, what is in its case and what the dial says.
func (d drawer) inside(m *Meter, group Group) {
	switch group {
	case BareMeter:
		d.bare(m)
	case MultiplierTo30V:
		d.multiplier(m, d.of(1, 1.5, 3, 5, 6, 10, 15, 30))
	case MultiplierAbove:
		d.multiplier(m, d.of(50, 60, 100, 150, 250, 300, 500))
	case ShuntTo300mA:
		d.shunt(m, d.of(0.03, 0.05, 0.06, 0.1, 0.15, 0.2, 0.3))
	case ShuntAbove:
		d.shunt(m, d.of(0.5, 0.6, 1, 1.5, 3, 5, 6, 10, 15, 20, 30))
	default: // any of those five, in their proportion of 87
		for m.FullScale == 0 || (group == ReversedLeads || group == CentreZero) && m.Kind != MovingCoil {
			*m = Meter{Inside: NothingInside, Kind: MovingCoil, Law: Linear, ZeroAt: "left", Glow: "no", Dial: true}
			n := d.IntN(87)
			for _, s := range sorts[:5] {
				if n < s.share {
					d.inside(m, s.group)
					break
				}
				n -= s.share
			}
		}
	}
}

// off makes a movement and what is in its case differ from what was meant, by up to 1.5 %
// and 1 %: together no more than the class of 2.5 %, cheap and salvaged.
func (d drawer) off(m *Meter) {
	m.FullScale *= 1 + d.around(0.015)
	m.InsideOhms *= 1 + d.around(0.01)
}

// bare draws 20 to 500 mV and 20 µA to 10 mA. Source of the ranges: the contract and
// its acceptance. A dial says the current on half of them; on an eighth it is for a
// multiplier or shunt that was outside.
func (d drawer) bare(m *Meter) {
	nominal := d.logWithin(20e-6/0.985, 10e-3/1.015)
	volts := d.logWithin(20e-3/0.985, 500e-3/1.015)
	switch x := d.Float64(); {
	case x < 0.5:
		nominal = d.of(25e-6, 50e-6, 100e-6, 200e-6, 250e-6, 500e-6, 1e-3, 2e-3, 5e-3)
		m.Marked = amount(nominal, "A")
	case x < 0.56:
		m.Marked, m.Dial = amount(d.of(10, 30, 100, 300), "V"), false
	case x < 0.62:
		m.Marked, m.Dial = amount(d.of(1, 5, 10, 30), "A"), false
	default:
		m.Marked, m.Dial = d.word("unknown", "unknown", "0 to 10", "0 to 100 percent"), false
	}
	m.FullScale, m.Coil = nominal, volts/nominal
	d.off(m)
	d.wrongDial(m)
}

// multiplier draws a voltmeter. One in ten is a moving iron with a fifth to a half of
// the voltage over its coil, one in ten of 10 V and more has a rectifier.
func (d drawer) multiplier(m *Meter, volts float64) {
	m.Inside, m.Marked = MultiplierInside, amount(volts, "V")
	total, overCoil := volts, d.logWithin(20e-3, 500e-3)
	switch x := d.Float64(); {
	case x < 0.1:
		m.Kind, m.Law = MovingIron, Square
		m.FullScale, overCoil = d.logWithin(5e-3, 60e-3), volts*d.within(0.2, 0.5)
	case x < 0.2 && volts >= 10:
		m.Kind, m.FullScale = Rectifier, d.of(100e-6, 500e-6, 1e-3, 5e-3)
		total = volts * 2 * math.Sqrt2 / math.Pi // mean of a sine of that r.m.s. value
	default:
		m.FullScale = d.of(50e-6, 100e-6, 200e-6, 500e-6, 1e-3, 1e-3, 2e-3, 5e-3, 10e-3)
	}
	m.Coil = overCoil / m.FullScale
	m.InsideOhms = (total-m.drop(m.FullScale))/m.FullScale - m.Coil
	d.off(m)
	d.wrongDial(m)
}

// shunt draws an ammeter of 30 to 100 mV. Source of the range: the acceptance.
func (d drawer) shunt(m *Meter, amps float64) {
	m.Inside, m.Marked = ShuntInside, amount(amps, "A")
	nominal, volts := d.logWithin(0.2e-3, 10e-3), d.within(30e-3, 100e-3)
	m.FullScale, m.Coil = nominal, volts/nominal
	m.InsideOhms = volts / (amps - nominal)
	d.off(m)
	d.wrongDial(m)
}

// wrongDial puts the dial of another meter on one in fifty, and takes the word from one
// in eight of the rest.
func (d drawer) wrongDial(m *Meter) {
	switch x := d.Float64(); {
	case x < 0.02:
		other := d.word("30 V", "10 A", "1 mA", "300 V")
		m.Dial, m.Marked = m.Dial && other == m.Marked, other
	case x < 0.145:
		m.Dial, m.Marked = false, "unknown"
	}
}

// origin draws where a meter is from, and that it is out of there.
func (d drawer) origin(m *Meter) {
	m.Removed = "yes"
	switch x := d.Float64(); {
	case x < 0.15:
		m.Origin = Mains
	case x < 0.2:
		m.Origin = HighVoltage
	case x < 0.28:
		m.Origin = Vehicle
	case x < 0.4:
		m.Origin = "unknown"
	default:
		m.Origin = d.word("test instrument", "radio", "laboratory")
	}
}

// trouble draws what stops a survey. A strap is 1 to 5 cm of copper wire of 0.5 to
// 1 mm², 18 mΩ·mm²/m (from memory).
func (d drawer) trouble(m *Meter, group Group) {
	switch group {
	case JammedNeedle:
		m.Jammed = true
		if d.chance(0.5) {
			m.Rest = d.within(0, 0.6)
		}
	case OpenCoil:
		m.Open = true
	case GlowPaint:
		m.Glow = d.word("yes", "yes", "unknown")
	case OnMains:
		m.Origin = d.word(Mains, Mains, HighVoltage, Vehicle)
		m.Removed = d.word("no", "unknown")
	case Strapped:
		m.Strap = d.within(0.18e-3, 1.8e-3)
	}
}

// amount is a number with its unit, as a dial says it.
func amount(x float64, unit string) string {
	prefix := ""
	switch {
	case x < 0.999e-3:
		x, prefix = x*1e6, "µ"
	case x < 0.999:
		x, prefix = x*1e3, "m"
	}
	return strconv.FormatFloat(x, 'g', 4, 64) + " " + prefix + unit
}

// A drawer draws.
type drawer struct{ *rand.Rand }

func (d drawer) within(low, high float64) float64 { return low + (high-low)*d.Float64() }

func (d drawer) logWithin(low, high float64) float64 {
	return low * math.Exp(d.Float64()*math.Log(high/low))
}

// around is anything within a limit either way.
func (d drawer) around(limit float64) float64 { return d.within(-limit, limit) }

// either is the same number with either sign.
func (d drawer) either(x float64) float64 { return x * float64(1-2*d.IntN(2)) }

func (d drawer) chance(share float64) bool { return d.Float64() < share }

func (d drawer) of(all ...float64) float64 { return all[d.IntN(len(all))] }

func (d drawer) word(all ...string) string { return all[d.IntN(len(all))] }
