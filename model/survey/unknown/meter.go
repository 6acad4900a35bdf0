// Package unknown makes up meters of which nobody knows what they are, and answers the
// dialogue of a survey as a truthful person at a bench does. Tests alone use it: it
// judges the survey, and so it shares nothing with that. It rests on the words of the
// contract and on numbers worked by hand.
//
// Where the contract leaves something open, it is decided here as a repairer would. All
// of these are common practice, no source, unless another birthplace is given:
//
//   - The needle's stops stand 5 % of the scale beyond its ends.
//   - A needle is held by friction anywhere within ± its friction, drawn anew at each
//     connection. Friction is at most 1 %, so that what is called "none" (the needle stands
//     less than 2 % from its rest) is never more than the contract's 3 %.
//   - Places are written in whole percents, any of those within the eye's 1.5 %. The
//     rest is read tapped, without friction but with the eye's error.
//   - The multimeter has 4 000 counts and no range below 400 mV and 400 Ω, so that its
//     last digit is never less than 0.1 mV or 0.1 Ω. Each reading has an error of its own,
//     anything within the limits. Ohms are read as well as volts.
//   - The multimeter stays with the leads of the source: its readings are not negative.
//   - "source" with a series resistor is the same connection with the 10 MΩ across the
//     source; without one nothing but the multimeter is connected.
//   - A bench has one resistor of each value of E6 from 15 Ω to 10 MΩ. Asked for any
//     other, or for a source that it has not, the person types "skip".
//   - A bench has both sources; a test takes one away by setting it to nil.
//   - A square law and a rectifier move the needle the same way whichever way the current
//     flows; other laws go on below the rest as above it. Beyond full scale an uneven law
//     goes on with its last slope.
//   - A rectifier is a bridge, two of its diodes in series with the movement. Its full
//     scale is the mean current, so its dial says 1.11 times the voltage that it takes at DC
//     (computed: π/(2·√2)). Its terminal resistance is that at full scale.
//   - A strap across the terminals counts as a shunt. It is overlooked: the needle swings.
//   - The terminal full scale is that of the closed case as it lies there, in amperes.
//   - A part of the bare meters carries a dial in volts or amperes whose multiplier or
//     shunt was outside; a dial of another meter is rare.
//   - Uneven laws are off by 5 to 12 % of the scale at half current, either way.
//   - Kinds drawn are moving coil, and among voltmeters moving iron and rectifier. A
//     person who looks at the dial knows seven kinds in ten.
//   - What is left out of the draw, and can be set by hand: thermal meters, moving-iron
//     ammeters without a shunt. What is left out altogether: cross coils, suppressed zeros,
//     jams that do not show when the meter is rocked, heat.
package unknown

import "math"

// The words of the contract for what is in the case.
const (
	NothingInside    = "none"
	MultiplierInside = "multiplier"
	ShuntInside      = "shunt"
)

// Laws of a movement: place against share of its full-scale current.
const (
	Linear = "linear"
	Square = "square"
	Uneven = "uneven"
)

// A Meter is one meter as it truly is.
type Meter struct {
	Group      Group
	Coil       float64 // Ω, of the movement
	FullScale  float64 // A, through the movement
	Law        string  // Linear, Square or Uneven
	Bend       float64 // by how much an uneven law is off at half current, share, below 0.25 either way
	Rest       float64 // where the needle stands without current, share of the scale; about 0.5 in the centre
	Friction   float64 // share of the scale, at most 0.01
	Inside     string  // what is in the case
	InsideOhms float64 // Ω, of the multiplier or shunt
	ZeroAt     string  // "left", "centre" or "right"
	Reversed   bool    // the leads as first connected drive it backwards

	Kind  string // "moving coil", "moving iron", "rectifier" …
	Looks string // what a person takes it for: its kind or "unknown"

	Marked string // what the dial says, or "unknown"
	Dial   bool   // whether that is the full scale at the terminals, within 2.5 %

	Origin  string // where it comes from
	Removed string // "yes", "no" or "unknown"
	Glow    string // "no", "yes" or "unknown"

	Jammed bool    // the needle
	Open   bool    // the coil
	Strap  float64 // Ω, across the terminals; 0: none
}

// A Truth is what a survey should find.
type Truth struct {
	TerminalResistance float64 // Ω, at DC; +Inf where nothing conducts
	TerminalFullScale  float64 // A; NaN where the meter cannot be driven
	Inside             string  // a strap counts as a shunt
	Stop               bool    // the survey must stop
	EitherWay          bool    // whether the needle moves at 15 Ω depends on the bench: stop or not, both are right
}

// Truth returns what a survey of this meter should find.
func (m *Meter) Truth() Truth {
	beside, branch := m.beside(), m.branch()
	t := Truth{TerminalResistance: beside, TerminalFullScale: math.NaN(), Inside: m.Inside}
	if !m.Open {
		volts := m.FullScale*branch + m.drop(m.FullScale)
		t.TerminalResistance = volts / (m.FullScale + volts/beside)
		if !m.Jammed {
			t.TerminalFullScale = m.FullScale + volts/beside
		}
	}
	if m.Strap > 0 {
		t.Inside = ShuntInside
	}
	still, moved := m.at15Ohms()
	t.Stop = m.Jammed || m.Open || m.Glow != "no" || m.Removed != "yes" && m.risky() || still
	t.EitherWay = !t.Stop && !moved
	return t
}

// at15Ohms says whether the needle certainly keeps still, or certainly moves, with any
// cell of the contract and its 15 Ω. A meter of 100 Ω and more is never asked so.
func (m *Meter) at15Ohms() (still, moved bool) {
	if m.Open || m.beside() > 100 && m.branch() > 100 {
		return false, true
	}
	inf := math.Inf(1)
	far := func(s Source, series float64) float64 {
		f := m.flow(wiring{source: s, series: series, across: inf, atSource: inf, atTerminals: inf})
		return math.Abs(m.place(f.movement) - m.Rest)
	}
	still = far(Source{1.7, 0.3}, 15*0.95)+m.Friction < seen
	moved = far(Source{1.2, 1}, 15*1.05)-m.Friction >= seen
	return still, moved
}

// risky says whether the contract asks if the meter is out of its set.
func (m *Meter) risky() bool {
	return m.Origin == Mains || m.Origin == HighVoltage || m.Origin == Vehicle
}

// place is where the needle stands with a current (A) through the movement, without
// friction: share of the scale, no further than its stops.
func (m *Meter) place(current float64) float64 {
	if m.Jammed {
		return m.Rest
	}
	span := 1.0
	if m.ZeroAt == "centre" {
		span = 0.5
	}
	return atStops(m.Rest + span*m.law(current/m.FullScale))
}

// atStops keeps a place between the stops.
func atStops(place float64) float64 { return min(max(place, -stop), 1+stop) }

// law is how far the needle moves at a share of full-scale current, share.
func (m *Meter) law(x float64) float64 {
	switch {
	case m.Law == Square:
		return x * x
	case x < 0 && m.Kind == Rectifier:
		return m.law(-x)
	case x < 0:
		return -m.law(-x)
	case m.Law == Uneven && x < 1:
		return x + m.Bend*4*x*(1-x)
	case m.Law == Uneven:
		return 1 + (1-4*m.Bend)*(x-1)
	}
	return x
}
