package unknown

import "math"

// Constants of a small rectifier's diodes, from memory: about 0.25 V at 1 mA.
const (
	diodeSlope      = 0.036 // V for each factor e of current
	diodeSaturation = 1e-6  // A
)

// A Source is a cell or a battery.
type Source struct {
	Volts float64 // V, with nothing connected
	Ohms  float64 // Ω, its own
}

// A wiring is one connection; +Inf is a resistor or multimeter that is not there.
type wiring struct {
	source                Source
	series, across        float64 // Ω
	atSource, atTerminals float64 // Ω, of the multimeter
}

// A flow is what a connection causes.
type flow struct {
	movement, terminals float64 // A
	volts, sourceVolts  float64 // V, at the meter and at the source
}

// flow solves a connection: the outside is made one source at the movement's branch,
// whatever stands beside that taken with the outside.
func (m *Meter) flow(w wiring) flow {
	v, r := loaded(w.source.Volts, w.source.Ohms, w.atSource)
	r += w.series
	v, r = loaded(v, r, w.across)
	v, r = loaded(v, r, w.atTerminals)
	v, r = loaded(v, r, m.beside())
	i := m.through(v, r)
	f := flow{movement: i, volts: v - i*r}
	f.terminals = i + f.volts/m.beside()
	f.sourceVolts = f.volts + w.series*(f.terminals+f.volts/w.across+f.volts/w.atTerminals)
	return f
}

// loaded is a source of v volts and r ohms with a load across it, seen from there on.
func loaded(v, r, load float64) (volts, ohms float64) {
	if math.IsInf(load, 1) {
		return v, r
	}
	share := load / (load + r)
	return v * share, r * share
}

// beside is what is parallel to the movement's branch: a shunt, a strap (Ω).
func (m *Meter) beside() float64 {
	siemens := 0.0
	if m.Inside == ShuntInside {
		siemens += 1 / m.InsideOhms
	}
	if m.Strap > 0 {
		siemens += 1 / m.Strap
	}
	return 1 / siemens
}

// branch is the coil with what is in series with it, without diodes (Ω).
func (m *Meter) branch() float64 {
	switch {
	case m.Open:
		return math.Inf(1)
	case m.Inside == MultiplierInside:
		return m.Coil + m.InsideOhms
	}
	return m.Coil
}

// drop is the voltage over a rectifier at a current.
func (m *Meter) drop(current float64) float64 {
	if m.Kind != Rectifier {
		return 0
	}
	return 2 * diodeSlope * math.Log1p(current/diodeSaturation)
}

// through is the current through the branch from a source of v volts and r ohms, found
// by halving where a rectifier bends it.
func (m *Meter) through(v, r float64) float64 {
	low, high := 0.0, v/(r+m.branch())
	if m.Kind != Rectifier || high == 0 {
		return high
	}
	for range 100 {
		middle := (low + high) / 2
		if middle*(r+m.branch())+m.drop(middle) > v {
			high = middle
		} else {
			low = middle
		}
	}
	return low
}
