package faulty

import (
	"math"
	"math/cmplx"
)

// A hand is a meter and its drive as they are, not as they were planned.
type hand struct {
	name string

	pin, stage, fixed, track, setting float64 // Ω
	pinLead, meterLead                float64 // Ω: 0, open +Inf
	bridge                            float64 // Ω, from the rail to the meter's node; none +Inf
	capacitor, leak                   float64 // F; Ω across it, none +Inf
	atStage                           bool
	given, turnsNothing               bool // the setting is the build's; turning the trimmer changes nothing

	counts, top, offset         int
	lostBit                     int
	pwm                         float64 // Hz
	inverted, stuckHigh, silent bool
	highAsleep                  bool
	from                        int // the hand whose pin it hangs on
	lampPin                     int // the lamp whose pin it hangs on, -1 none

	coil, multiplier, shunt, inductance float64 // what is in the case, Ω and H; no shunt +Inf
	planned                             float64 // Ω, the multiplier that is meant to be there
	dummy                               float64 // Ω
	diodes                              bool
	movement
}

// A tap is where the probes are; the zero tap is none.
type tap int

const (
	nowhere tap = iota
	atPin
	atStage
	atFixed
	atTrimmer
	atTerminals
	atDummy
)

// A section is a resistance towards the meter and what hangs at its far end: a
// conductance to ground and one to the rail.
type section struct {
	series, ground, rail float64 // Ω, S, S
}

// The sections of a chain, from the pin's own resistance to the coil.
const (
	ofPin = iota
	ofPinLead
	ofStage
	ofFixed
	ofTrimmer
	ofMeterLead
	ofCase
	sections
)

// chain is the hand's network with the probes somewhere; with the dummy in the
// coil's place where that is asked for.
func (h *hand) chain(probes tap, input float64, dummy bool) [sections]section {
	s := [sections]section{
		ofPin: {series: h.pin}, ofPinLead: {series: h.pinLead}, ofStage: {series: h.stage}, ofFixed: {series: h.fixed},
		ofTrimmer: {series: h.setting}, ofMeterLead: {series: h.meterLead}, ofCase: {series: h.multiplier, ground: 1/h.coil + 1/h.shunt},
	}
	if dummy {
		s[ofCase] = section{series: h.planned, ground: 1 / h.dummy}
	}
	s[h.node()].ground += 1 / h.leak
	s[ofTrimmer].rail += 1 / h.bridge
	switch probes {
	case atPin:
		s[ofPin].ground += 1 / input
	case atStage:
		s[ofStage].series = parallel(h.stage, input)
	case atFixed:
		s[ofFixed].series = parallel(h.fixed, input)
	case atTrimmer:
		s[ofTrimmer].series = parallel(h.setting, input)
	case atTerminals:
		s[ofMeterLead].ground += 1 / input
	case atDummy:
		s[ofCase].ground += 1 / input
	}
	return s
}

// node is the section at whose end the capacitor is.
func (h *hand) node() int {
	if h.atStage {
		return ofStage
	}
	return ofTrimmer
}

func parallel(a, b float64) float64 {
	switch {
	case math.IsInf(a, 1):
		return b
	case math.IsInf(b, 1):
		return a
	}
	return a * b / (a + b)
}

// means are the mean voltages at the ends of a chain's sections and before the first,
// and the mean current into it.
type means struct {
	source, current float64
	v               [sections]float64
}

// across is the mean voltage across a section.
func (m means) across(i int) float64 {
	if i == 0 {
		return m.source - m.v[0]
	}
	return m.v[i-1] - m.v[i]
}

// solve returns the mean voltages of a chain at a rail and a duty. It carries the
// source's Thevenin equivalent towards the meter, and the current back.
func solve(s [sections]section, rail, duty float64, diodes bool) means {
	m := means{source: rail * duty}
	volts, ohms := m.source, 0.0
	var open [sections]float64 // what a section's near end stands at with nothing behind it
	for i, e := range s {
		open[i] = volts
		ohms += e.series
		volts, ohms = loaded(volts, ohms, e, rail)
	}
	v := volts
	if diodes {
		v = clamped(volts, ohms)
	}
	current := 0.0 // through the section on the right
	if diodes {
		current = diode(v)
	}
	for i := sections - 1; i >= 0; i-- {
		m.v[i] = v
		current += v*s[i].ground - (rail-v)*s[i].rail
		if math.IsInf(s[i].series, 1) {
			v, current = open[i], 0
			continue
		}
		v += current * s[i].series
	}
	m.current = current
	return m
}

// loaded is a source behind a resistance with conductances to ground and to the rail
// hung on it: again a source behind a resistance.
func loaded(volts, ohms float64, e section, rail float64) (float64, float64) {
	g := e.ground + e.rail
	switch {
	case math.IsInf(ohms, 1) && g == 0:
		return 0, ohms
	case math.IsInf(ohms, 1):
		return rail * e.rail / g, 1 / g
	}
	return (volts + rail*e.rail*ohms) / (1 + ohms*g), ohms / (1 + ohms*g)
}

// diode is the current of two antiparallel small-signal silicon diodes. Constants: the
// project's catalogue, from memory there.
func diode(v float64) float64 {
	return math.Copysign(2.5e-9*math.Expm1(math.Abs(v)/0.0463), v)
}

// clamped is the voltage of a source behind a resistance with the diodes across it.
func clamped(volts, ohms float64) float64 {
	if math.IsInf(ohms, 1) || ohms == 0 {
		return volts
	}
	return bisect(0, volts, func(v float64) float64 { return volts - v - ohms*diode(v) })
}

// bisect returns where a falling function crosses zero between two places, or the end
// nearer to it.
func bisect(low, high float64, f func(float64) float64) float64 {
	for range 60 {
		middle := (low + high) / 2
		if f(middle) > 0 {
			low = middle
		} else {
			high = middle
		}
	}
	return (low + high) / 2
}

// A wave is how much of one ohm-less volt of the pin's alternating part comes where.
type wave struct {
	node, terminals, coil complex128 // V, V, A
}

const openAC = 1e15 // Ω, stands for an open circuit

func closedAC(ohms float64) complex128 { return complex(math.Min(ohms, openAC), 0) }

// at returns the waves at an angular frequency, rad/s.
func (h *hand) at(omega float64) wave {
	coil := closedAC(h.coil) + complex(0, omega*h.inductance)
	inner := 1 / (1/coil + 1/closedAC(h.shunt))
	meter := closedAC(h.meterLead) + complex(h.multiplier, 0) + inner
	plates := complex(0, omega*h.capacitor) + 1/closedAC(h.leak)
	before, after := closedAC(h.pinLead)+complex(h.pin, 0)+closedAC(h.stage), closedAC(h.fixed)+closedAC(h.setting)
	var node, atMeter complex128
	if h.atStage {
		z := 1 / (plates + 1/(after+meter))
		node = z / (before + z)
		atMeter = node * meter / (after + meter)
	} else {
		z := 1 / (plates + 1/meter)
		node = z / (before + after + z)
		atMeter = node
	}
	terminals := atMeter * (meter - closedAC(h.meterLead)) / meter
	return wave{node, terminals, atMeter * inner / meter / coil}
}

const harmonics = 400

// rms returns the root mean square of the alternating part at a duty of what pick takes
// of the waves, for a pulse of one volt. The pulse holds d(1−d) V² of it in all: what
// is in the harmonics beyond those summed up passes as the last of them.
func (h *hand) rms(duty float64, pick func(wave) complex128) float64 {
	left, sum, share := duty*(1-duty), 0.0, 0.0
	for n := 1; n <= harmonics; n++ {
		amplitude := math.Sin(math.Pi*float64(n)*duty) / (math.Pi * float64(n))
		power := 2 * amplitude * amplitude
		w := cmplx.Abs(pick(h.at(2 * math.Pi * h.pwm * float64(n))))
		share = w * w
		sum += power * share
		left -= power
	}
	return math.Sqrt(sum + math.Max(left, 0)*share)
}
