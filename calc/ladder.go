package calc

import "math"

// A Ladder is a network of resistances between a source and what stands behind
// it, each in series or across to ground. An open one is +Inf, a short 0.
//
// What stands behind it sees a source of Share times the voltage before it, with
// Resistance in series. A current drawn there asks Share times as much of the
// source, and the network takes Load times the source's voltage besides.
//
// Source: derived; Thévenin's theorem and reciprocity, from memory
type Ladder struct {
	Share      float64 // 0 to 1
	Resistance float64 // Ω
	Load       float64 // S
}

// NewLadder returns the ladder without any resistance.
//
// Source: derived
func NewLadder() Ladder { return Ladder{Share: 1} }

// Series returns the ladder with a resistance, Ω, more in series behind it.
func (l Ladder) Series(r float64) Ladder {
	l.Resistance += r
	return l
}

// Across returns the ladder with a resistance, Ω, across to ground behind it.
// Where that is a short without any resistance before it, the load is infinite.
func (l Ladder) Across(r float64) Ladder {
	if math.IsInf(r, 1) {
		return l
	}
	if l.Share > 0 {
		l.Load += l.Share * l.Share / (l.Resistance + r)
	}
	through := Across(r, l.Resistance)
	l.Share *= through
	if math.IsInf(l.Resistance, 1) {
		l.Resistance = r
	} else {
		l.Resistance *= through
	}
	return l
}

// Current returns the current, A, through a resistance, Ω, that ends the ladder,
// for a voltage, V, before it: 0 where the way is open anywhere.
func (l Ladder) Current(voltage, end float64) float64 {
	if l.Share == 0 {
		return 0 // also where source and end have no resistance at all
	}
	return l.Share * voltage / (l.Resistance + end)
}

// Conductance returns what a source sees of the ladder and a resistance, Ω, that
// ends it, S.
func (l Ladder) Conductance(end float64) float64 { return l.Load + l.Share*l.Current(1, end) }

// Across returns the part of a voltage that falls across a resistance behind another,
// or of a current that flows through that other beside it; both in Ω, opens +Inf and
// shorts 0. 0 where nothing comes through.
//
// Source: derived
func Across(r, before float64) float64 {
	switch {
	case r == 0 || math.IsInf(before, 1):
		return 0
	case math.IsInf(r, 1):
		return 1
	}
	return r / (before + r)
}

// A Rung is a resistance in series, then one across to ground, Ω.
type Rung struct{ Series, Across float64 }

// Voltages puts the voltage behind each rung's series resistance, V, into v, for a
// source before the first: NaN where a place floats, and where the source is shorted.
//
// Source: derived; Ohm's and Kirchhoff's laws
func Voltages(source float64, rungs []Rung, v []float64) {
	behind := math.Inf(1) // Ω to ground of all that is behind
	for k := len(rungs) - 1; k >= 0; k-- {
		v[k] = SideBySide(rungs[k].Across, behind)
		behind = rungs[k].Series + v[k]
	}
	before := source
	for k, r := range rungs {
		floats := math.IsInf(v[k], 1) && math.IsInf(r.Series, 1)
		shorted := v[k] == 0 && r.Series == 0 && before != 0
		switch p := Across(v[k], r.Series); {
		case floats || shorted:
			before = math.NaN()
		case p == 0:
			before = 0 // whatever floats before an open place
		default:
			before *= p
		}
		v[k] = before
	}
}

// SideBySide returns the resistance, Ω, of a and b, Ω, side by side, opens +Inf and
// shorts 0.
//
// Source: [Kuphaldt] "Voltmeter impact on measured circuit"
func SideBySide(a, b float64) float64 {
	switch {
	case math.IsInf(a, 1):
		return b
	case math.IsInf(b, 1):
		return a
	case a == 0 || b == 0:
		return 0
	}
	return Parallel(a, b)
}
