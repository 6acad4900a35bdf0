package calc

import "math"

// A Charge is one measured point of a cell: the share of its charge that is
// used, 0 to 1, and its voltage at rest, V.
type Charge struct{ Used, Rest float64 }

// A ConverterKind says what stands between the cells and the rail.
type ConverterKind uint8

// The converters a build can have.
const (
	NoConverter ConverterKind = iota
	Boost                     // step-up, switching
	LinearRegulator
)

// A Supply is what stands between the cells and the load. Its input is where
// the current of the pack arrives, behind the drop: the converter's input, or
// the rail itself without a converter.
//
// Source: [E2E1074967] for the input current of a step-up converter; with the
// pack's resistance, the drop and the converter's passing through it is derived
type Supply struct {
	Kind       ConverterKind
	Rail       float64 // V
	Efficiency float64 // Boost: share of the input power that reaches the rail, over 0
	Quiescent  float64 // A drawn at no load, converters only
	Resistance float64 // Ω of the whole pack
	Drop       float64 // V lost between the pack and the input, 0 or more: a polarity diode
}

// power returns what a load, A, on the rail asks of a boost's input, W.
func (s *Supply) power(load float64) float64 { return s.Rail * load / s.Efficiency }

// A Draw is what a pack gives: the current, A, and its voltage under it, V.
type Draw struct{ Current, Voltage float64 }

// Draw returns what is drawn from a pack whose voltage at rest is rest, V, for
// a load, A, on the rail. ok is false where the pack cannot carry the load:
// more power is asked than it can give into any resistance.
//
// A boost whose input comes up to its output passes it through, and no longer
// multiplies the current.
func (s *Supply) Draw(rest, load float64) (d Draw, ok bool) {
	d.Current, d.Voltage = s.draw(rest, load, s.power(load), 0)
	return d, !math.IsInf(d.Current, 1)
}

// draw is Draw where the load's power, W, is known and a current, A, is taken
// straight from the pack beside it. The current is +Inf where the pack cannot
// carry them. Plain numbers, for speed: a life asks a hundred times.
func (s *Supply) draw(rest, load, power, direct float64) (current, voltage float64) {
	switch s.Kind {
	case Boost:
		w := rest - s.Drop - s.Resistance*(s.Quiescent+direct)
		room := w*w - 4*s.Resistance*power
		if room < 0 || w <= 0 {
			return math.Inf(1), 0
		}
		v := (w + math.Sqrt(room)) / 2
		if v < s.Rail {
			return power/v + s.Quiescent + direct, v + s.Drop
		}
		load += s.Quiescent
	case LinearRegulator:
		load += s.Quiescent
	}
	load += direct
	return load, rest - s.Resistance*load
}

// carriesFrom returns the voltage at rest, V, from which on a load, A, can be
// carried at all; 0 where there is no boost to ask for a fixed power.
func (s *Supply) carriesFrom(load float64) float64 {
	if s.Kind != Boost {
		return 0
	}
	return s.Drop + 2*math.Sqrt(s.Resistance*s.power(load)) + s.Resistance*s.Quiescent
}

// PassesAt returns the voltage at rest, V, from which on a boost passes its
// input through to a load, A; 0 where there is no such step: it is no boost, or
// passes through wherever the load can be carried at all.
func (s *Supply) PassesAt(load float64) float64 {
	p := s.power(load)
	if s.Kind != Boost || s.Rail*s.Rail <= s.Resistance*p {
		return 0
	}
	return s.Drop + s.Rail + s.Resistance*(p/s.Rail+s.Quiescent)
}

// EndsAt returns the voltage at rest, V, at which the input under a load, A,
// meets a floor, V, 0 or more, or the pack can no longer carry the load,
// whichever is higher: from there down the clock has ended.
func (s *Supply) EndsAt(floor, load float64) float64 { return s.endsAt(floor, load, s.power(load)) }

// endsAt is EndsAt where the load's power, W, is known.
func (s *Supply) endsAt(floor, load, p float64) float64 {
	if s.Kind != Boost {
		if s.Kind == LinearRegulator {
			load += s.Quiescent
		}
		return s.Drop + floor + s.Resistance*load
	}
	if floor >= s.Rail || s.Rail*s.Rail <= s.Resistance*p { // the load is passed through to the end
		through := s.Drop + floor + s.Resistance*(load+s.Quiescent)
		return max(s.carriesFrom(load), s.PassesAt(load), through)
	}
	if floor*floor <= s.Resistance*p { // the voltage of the input on the brink
		return s.carriesFrom(load)
	}
	return s.Drop + floor + s.Resistance*(p/floor+s.Quiescent)
}
