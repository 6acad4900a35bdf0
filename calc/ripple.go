package calc

import "math"

// A Ripple is a meter on a switching pin in its periodic steady state: the pin
// is at Rail for Duty of each Period and at 0 V for the rest; behind it a
// Chain, the coil's inductance, and the needle on its spring.
//
// The network and the needle are linear, so their steady state is a sum of
// modes, one a pole, and every pole is the root of a quadratic. Only the part
// that changes is computed (never a mean that would swamp it), and in each of
// the two phases of the period it is
//
//	y(t) = y(0) + Σ a·(e^{pt} - 1).
//
// Poles that coincide are parted by a hair (see apart); against a matrix
// exponential the results agree to 1e-6, and to 1e-3 where three coincide.
//
// Source: [Levido] for the node of the first order; the rest is derived
type Ripple struct {
	Rail, Duty, Period float64 // V, share 0 to 1, s
	Chain              Chain
	Inductance         float64 // H
	FullScale          float64 // A
	Movement           Movement
}

// Node returns the peak-to-peak voltage, V, across the capacitor, the coil's
// inductance included. NaN without a capacitor, and where the period is
// infinite or a mode does not decay.
func (r *Ripple) Node() float64 {
	if r.Chain.Capacitor == 0 {
		return math.NaN()
	}
	var m modes
	m.node(r)
	return r.peakToPeak(&m)
}

// Needle returns the peak-to-peak swing of the needle as a share of the scale,
// the law left out: θ” + 2ζωθ' + ω²θ = ω²·i/FullScale. Below some 1e-15 of the
// scale only its size is right. NaN where the period is infinite or a mode does
// not decay (no damping).
func (r *Ripple) Needle() float64 {
	var m modes
	m.electrical(r)
	w := r.Movement.Frequency()
	m.gain *= w * w / r.FullScale
	m.pair(2*r.Movement.Damping*w, w*w)
	m.residues()
	return r.peakToPeak(&m)
}

// Coil returns the peak-to-peak current of the coil, A: without capacitor and
// inductance the pin's own pulse. NaN where the period is infinite or a mode does
// not decay.
func (r *Ripple) Coil() float64 {
	var m modes
	m.electrical(r)
	if m.n == 0 {
		return r.Rail * m.gain
	}
	m.residues()
	return r.peakToPeak(&m)
}

// NodeWave returns the voltage, V, across the capacitor over one period of the
// pin, from its rising edge on, its mean included: n samples (2 or more) of each
// phase, crowded behind its edge, so that the ends of both are among them. nil
// where Node is NaN.
func (r *Ripple) NodeWave(n int) []Sample {
	if r.Chain.Capacitor == 0 {
		return nil
	}
	var m modes
	m.node(r)
	return r.wave(&m, r.Duty*Across(r.Chain.After, r.Chain.Before), n)
}

// CurrentWave returns the coil's current, A, over one period, sampled as by
// NodeWave. Without capacitor and inductance it is the pin's own pulse. nil
// where the period is infinite or a mode does not decay.
func (r *Ripple) CurrentWave(n int) []Sample {
	var m modes
	m.electrical(r)
	if m.n == 0 {
		on := r.Duty * r.Period
		high := r.Rail * m.gain
		return []Sample{{0, high}, {on, high}, {on, 0}, {r.Period, 0}}
	}
	m.residues()
	return r.wave(&m, r.Duty/(r.Chain.Before+r.Chain.After), n)
}

// wave samples the modes on a mean, both for a pin of 1 V, over both phases.
func (r *Ripple) wave(m *modes, mean float64, n int) []Sample {
	if !m.decay() || math.IsInf(r.Period, 0) {
		return nil
	}
	samples := make([]Sample, 0, 2*n)
	on, off := r.Duty*r.Period, (1-r.Duty)*r.Period
	phase := func(sign, start, length, other float64) {
		m.enter(sign, other, r.Period)
		for i := range n {
			share := float64(i) / float64(n-1)
			t := length * share * share
			y, _, _ := m.at(t)
			samples = append(samples, Sample{start + t, r.Rail * (mean + y)})
		}
	}
	phase(1, 0, on, off)
	phase(-1, on, off, on)
	return samples
}

// node sets the modes from pin voltage to the node's, Rc·i + L·di/dt.
func (m *modes) node(r *Ripple) {
	if math.IsInf(r.Chain.After, 1) { // nothing is behind it
		m.gain = 1 / (r.Chain.Before * r.Chain.Capacitor)
		m.add(complex(-m.gain, 0))
		m.residues()
		return
	}
	m.electrical(r)
	m.residues()
	for i := range m.n {
		m.weight[i] *= complex(r.Chain.After, 0) + m.pole[i]*complex(r.Inductance, 0)
	}
}

// peakToPeak sums the modes over both phases of the PWM's period.
func (r *Ripple) peakToPeak(m *modes) float64 {
	if !m.decay() || math.IsInf(r.Period, 0) {
		return math.NaN()
	}
	on, off := r.Duty*r.Period, (1-r.Duty)*r.Period
	e := extremes{math.Inf(1), math.Inf(-1)}
	m.enter(1, off, r.Period)
	e.phase(m, on)
	m.enter(-1, on, r.Period)
	e.phase(m, off)
	return r.Rail * (e.most - e.least)
}

// extremes are the least and the most of a curve.
type extremes struct{ least, most float64 }

func (e *extremes) add(y float64) { e.least, e.most = min(e.least, y), max(e.most, y) }

// fewest is the number of steps in which a phase is walked where every mode is
// slow. A peak is not missed by coarse steps, since the slope's sign tells it.
const fewest = 8

// phase adds the extremes of the curve over a phase of the given length, s.
// The steps are halves of halves of it, and are put together again as the fast
// modes die, so that an early peak is seen and a long phase is soon walked.
func (e *extremes) phase(m *modes, length float64) {
	left, h := fewest, length/fewest
	for h > m.stride(0) {
		left, h = 2*left, h/2
	}
	var grown, step [4]complex128 // e^{pt}-1 so far and over one step
	for i := range m.n {
		step[i] = expm1(m.pole[i] * complex(h, 0))
	}
	y, slope := m.value(&grown)
	e.add(y)
	for t := 0.0; left > 0; {
		before := slope
		for i := range m.n {
			grown[i] += step[i] + grown[i]*step[i]
		}
		left, t = left-1, t+h
		y, slope = m.value(&grown)
		e.add(y)
		if before*slope < 0 {
			e.peak(m, t-h, t, before, slope)
			if e.holds(m.rest(t)) {
				return // nothing that comes goes beyond
			}
		}
		if left%2 == 0 && 2*h <= min(m.stride(t), length/fewest) {
			left, h = left/2, 2*h
			for i := range m.n {
				step[i] *= 2 + step[i]
			}
		}
	}
}

// holds says whether a curve that tends to a value, and is off that by so much at most, stays
// within the extremes.
func (e *extremes) holds(to, off float64) bool { return e.least <= to-off && to+off <= e.most }

// peak adds the extreme between a and b, s, where the slopes da and db differ in
// sign: by Newton's method on the slope, kept in its bracket.
func (e *extremes) peak(m *modes, a, b, da, db float64) {
	const enough = 1e-10 // of what is known of the swing
	t := a + (b-a)*da/(da-db)
	for range 60 {
		y, slope, bend := m.at(t)
		e.add(y)
		// slope²/(2·bend) is how far it still is to the parabola's top.
		if math.Abs(slope*slope/(2*bend)) <= enough*(e.most-e.least) {
			return
		}
		if slope*da > 0 {
			a = t
		} else {
			b = t
		}
		if t -= slope / bend; !(a < t && t < b) {
			t = (a + b) / 2
		}
	}
}
