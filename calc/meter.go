package calc

import "math"

// FullScaleVoltage returns the voltage across a meter's terminals at full
// scale, V, for a full-scale current in A and a coil resistance in Ω.
//
// Source: [Kuphaldt] "Voltmeter design"
func FullScaleVoltage(fullScale, coil float64) float64 { return fullScale * coil }

// Multiplier returns the series resistance, Ω, that makes a meter of the given
// full-scale current, A, and coil, Ω, stand at full scale on a voltage, V.
// It is negative where the voltage is less than the coil needs.
//
// Source: [Kuphaldt] "Voltmeter design"; [Bird] Problem 2
func Multiplier(voltage, fullScale, coil float64) float64 { return voltage/fullScale - coil }

// Parallel returns the resistance, Ω, of a and b, Ω, side by side. NaN where
// both are 0 or one is infinite.
//
// Source: [Kuphaldt] "Voltmeter impact on measured circuit"
func Parallel(a, b float64) float64 { return a * b / (a + b) }

// A LawKind says how a needle's place follows the coil's current.
type LawKind uint8

// The laws a meter can have.
const (
	Linear LawKind = iota // moving coil: place follows current
	Square                // moving iron: place follows current squared
	Table                 // measured points, straight lines between
	Smooth                // measured points, a smooth line through them
)

// A Point is one measured point of a law: a share of full-scale current and
// the share of the scale the needle stands at.
type Point struct{ Current, Scale float64 }

// A Law turns a share of full-scale current into a share of the scale.
// Points is used by Table and Smooth alone: at least two, both members strictly
// rising from 0, 0 to 1, 1. A smooth law is made by NewSmooth.
//
// Source: common practice, no source
type Law struct {
	Kind   LawKind
	Points []Point
	From   float64 // share of full-scale current below which the needle rests: a suppressed zero; 0 to below 1

	smooth *smooth // never changed once it is made, so that copies may share it
}

// IsEven says whether the needle's place follows the current evenly from zero on.
func (l *Law) IsEven() bool { return l.Kind == Linear && l.From == 0 }

// At returns the share of the scale at which the needle stands for a share of
// full-scale current, 0 or more. Past full scale the law is continued: the
// square itself, a table by its last straight line, a smooth law by the mean slope
// of its last hundredth.
func (l *Law) At(current float64) float64 {
	if l.From > 0 {
		current = max(0, current-l.From) / (1 - l.From)
	}
	switch l.Kind {
	case Square:
		return current * current
	case Table:
		c := climb{law: l}
		return c.table(current)
	case Smooth:
		return l.smooth.at(l.smooth.find(current, false), current)
	}
	return current
}

// Inverse returns the share of full-scale current that puts the needle at a
// share of the scale, 0 or more, continued past full scale as At is.
func (l *Law) Inverse(scale float64) float64 {
	current := l.inverse(scale)
	if l.From > 0 {
		return l.From + (1-l.From)*current
	}
	return current
}

// inverse is Inverse without a suppressed zero.
func (l *Law) inverse(scale float64) float64 {
	switch l.Kind {
	case Square:
		return math.Sqrt(scale)
	case Table:
		c := climb{law: l, inverse: true}
		return c.table(scale)
	case Smooth:
		return l.smooth.inverse(l.smooth.find(scale, true), scale)
	}
	return scale
}

// A climb asks a law for shares that rise from one time to the next, so that its
// lines or pieces are gone through once.
type climb struct {
	law     *Law
	inverse bool    // Law.Inverse is asked, else Law.At
	line    int     // of the table, from 1; piece of the smooth law, from 0
	from    Point   // where it begins; inverse, its members change places
	till    float64 // where it ends
	slope   float64
}

// at is what the law says of x, no less than the one before.
func (c *climb) at(x float64) float64 {
	switch {
	case c.law.Kind == Table && c.law.From == 0:
		return c.table(x)
	case c.law.Kind == Smooth && c.law.From == 0:
		return c.smooth(x)
	case c.inverse:
		return c.law.Inverse(x)
	}
	return c.law.At(x)
}

// table is what the law's table says of x.
func (c *climb) table(x float64) float64 {
	for p := c.law.Points; c.line == 0 || c.line < len(p)-1 && x >= c.till; {
		c.line++
		a, b := p[c.line-1], p[c.line]
		if c.inverse {
			a, b = Point{a.Scale, a.Current}, Point{b.Scale, b.Current}
		}
		c.from, c.slope, c.till = a, (b.Scale-a.Scale)/(b.Current-a.Current), b.Current
	}
	return c.from.Scale + c.slope*(x-c.from.Current)
}

// smooth is what the law's pieces say of x.
func (c *climb) smooth(x float64) float64 {
	s := c.law.smooth
	for c.line < len(s.pieces)-1 && x >= s.pieces[c.line].till(c.inverse) {
		c.line++
	}
	if c.inverse {
		return s.inverse(c.line, x)
	}
	return s.at(c.line, x)
}

// ZeroCelsiusCopper is minus the temperature, °C, at which the straight line
// through copper's resistance meets zero.
const ZeroCelsiusCopper = 234.5

// CopperRatio returns the resistance of copper at t over that at t0, both °C
// and far above -234.5 °C (the straight line holds for room temperatures).
//
// Source: [IEC60028], from memory, in the form with 234.5 of [Bakshi] Ex. 6.11
func CopperRatio(t, t0 float64) float64 { return (ZeroCelsiusCopper + t) / (ZeroCelsiusCopper + t0) }

// A Warming is what a change of temperature acts on: a coil behind other
// resistance, trimmed at TrimmedAt.
//
// Source: derived; copper by [IEC60028], from memory
type Warming struct {
	Coil, Rest       float64 // Ω: the coil, and all in series with it
	Pin              float64 // Ω of Rest that are the controller's pin
	Beside           float64 // S across the coil: a shunt
	Copper           float64 // share of the coil that is copper
	ResistorTempco   float64 // 1/K, of Rest but for the pin
	PinTempco        float64 // 1/K
	MovementTempco   float64 // 1/K, magnet and spring together
	TrimmedAt, RoomT float64 // °C
}

// CurrentError returns by what share the needle's drive (current times the
// movement's own sensitivity) at w.RoomT differs from that at w.TrimmedAt,
// at constant voltage; + is more. NaN without any resistance.
func (w Warming) CurrentError() float64 {
	delta := w.RoomT - w.TrimmedAt
	coil := w.Coil * (1 - w.Copper + w.Copper*CopperRatio(w.RoomT, w.TrimmedAt))
	rest := w.Rest + ((w.Rest-w.Pin)*w.ResistorTempco+w.Pin*w.PinTempco)*delta
	g := (w.Rest + w.Coil + w.Rest*w.Coil*w.Beside) / (rest + coil + rest*coil*w.Beside)
	return g*(1+w.MovementTempco*delta) - 1
}
