package calc

import (
	"math"
	"math/cmplx"
)

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
// exponential the results agree to 1e-6, and to 1e-5 where three coincide.
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
	m.electrical(r)
	m.residues()
	for i := range m.n { // the node's voltage is Rc·i + L·di/dt
		m.weight[i] *= complex(r.Chain.After, 0) + m.pole[i]*complex(r.Inductance, 0)
	}
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

// modes are the poles of a transfer function gain/Π(s-pole) and the weights of
// its partial fractions. Of a complex pair only the upper one is kept, twice.
type modes struct {
	n      int
	gain   float64
	pole   [4]complex128
	weight [4]complex128

	start     float64 // the curve where a phase starts
	amplitude [4]complex128
}

// electrical sets the modes from pin voltage to coil current.
func (m *modes) electrical(r *Ripple) {
	a, b, c, l := r.Chain.Before, r.Chain.After, r.Chain.Capacitor, r.Inductance
	switch {
	case c > 0 && l > 0:
		m.gain = 1 / (a * c * l)
		m.pair((a*c*b+l)*m.gain, (a+b)*m.gain)
	case c > 0:
		m.gain = 1 / (a * c * b)
		m.add(complex(-(a+b)*m.gain, 0))
	case l > 0:
		m.gain = 1 / l
		m.add(complex(-(a+b)/l, 0))
	default:
		m.gain = 1 / (a + b)
	}
}

// apart is how far, as a share of their size, poles that coincide (critical
// damping, or a filter as slow as the needle) are moved to either side of their
// mean. That changes the sum of their modes by its square only.
const apart = 5e-4

// pair adds the roots of s² + bs + c, b and c positive.
func (m *modes) pair(b, c float64) {
	d := b*b/4 - c
	if least := apart * b / 2 * (apart * b / 2); math.Abs(d) < least {
		d = least
	}
	if d < 0 {
		m.add(complex(-b/2, math.Sqrt(-d)))
		m.add(complex(-b/2, -math.Sqrt(-d)))
		return
	}
	q := -b/2 - math.Sqrt(d) // the large root; the small one without cancellation
	m.add(complex(q, 0))
	if b*b/4 > 2*c {
		m.add(complex(c/q, 0))
	} else {
		m.add(complex(-b/2+math.Sqrt(d), 0))
	}
}

// add adds a pole; one that falls on another is parted from it.
func (m *modes) add(p complex128) {
	for i, q := range m.pole[:m.n] {
		if cmplx.Abs(p-q) < apart/2*cmplx.Abs(p) {
			p, m.pole[i] = (p+q)/2*(1+apart), (p+q)/2*(1-apart)
		}
	}
	m.pole[m.n] = p
	m.n++
}

// residues sets the weights gain/Π(p-q) and drops the lower one of each pair.
func (m *modes) residues() {
	kept := 0
	for i, p := range m.pole[:m.n] {
		w := complex(m.gain, 0)
		for j, q := range m.pole[:m.n] {
			if j != i {
				w /= p - q
			}
		}
		if imag(p) > 0 {
			w *= 2
		}
		m.weight[i] = w
	}
	for i, p := range m.pole[:m.n] {
		if imag(p) >= 0 {
			m.pole[kept], m.weight[kept] = p, m.weight[i]
			kept++
		}
	}
	m.n = kept
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

// decay tells whether every mode dies with time: without that there is no
// steady state.
func (m *modes) decay() bool {
	for _, p := range m.pole[:m.n] {
		if !(real(p) < 0) { // NaN neither
			return false
		}
	}
	return true
}

// enter sets the curve of a phase: of the high one with sign 1, of the low one,
// its mirror image, with sign -1; other is the length, s, of the other phase.
func (m *modes) enter(sign, other, period float64) {
	m.start = 0
	for i := range m.n {
		start, amplitude := m.mode(i, other, period)
		m.start += sign * real(start)
		m.amplitude[i] = complex(sign, 0) * amplitude
	}
}

// mode returns, for a unit square wave of the period, the changing part of
// mode i at the start of a phase and its amplitude in it, given the length of
// the other phase: weight/p·(E(other)/E(period) - other/period) and
// weight/p·E(other)/E(period), E(t) = e^{pt}-1.
func (m *modes) mode(i int, other, period float64) (start, amplitude complex128) {
	p, share := m.pole[i], other/period
	z := p * complex(period, 0)
	scale := m.weight[i] / p
	whole := expm1(z)
	ratio := expm1(p*complex(other, 0)) / whole
	if cmplx.Abs(z) > 0.5 {
		return scale * (ratio - complex(share, 0)), scale * ratio
	}
	// A slow mode: the difference by its series, Σ (share^(n-1)-1)·zⁿ/n!.
	sum, term, power := complex128(0), z, 1.0
	for n := 2; n < 16; n++ {
		term *= z / complex(float64(n), 0)
		power *= share
		sum += complex(power-1, 0) * term
	}
	return scale * complex(share, 0) * sum / whole, scale * ratio
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
		}
		if left%2 == 0 && 2*h <= min(m.stride(t), length/fewest) {
			left, h = left/2, 2*h
			for i := range m.n {
				step[i] *= 2 + step[i]
			}
		}
	}
}

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

// stride returns the longest step, s, that does not hide a swing of the curve at
// t, s, after the start of its phase: half a radian of each mode that swings,
// until it has died, and of one that only decays a third of the time gone by.
func (m *modes) stride(t float64) float64 {
	const dead = 20 // time constants
	longest := math.Inf(1)
	for i := range m.n {
		re, im := -real(m.pole[i]), imag(m.pole[i])
		s := 0.5 / (re + im)
		if im == 0 || re*t > dead {
			s = max(s, t/3)
		}
		longest = min(longest, s)
	}
	return longest
}

// value returns the curve and its slope where each e^{pt}-1 is as grown.
func (m *modes) value(grown *[4]complex128) (y, slope float64) {
	y = m.start
	for i := range m.n {
		g := m.amplitude[i] * grown[i]
		y += real(g)
		slope += real(m.pole[i] * (m.amplitude[i] + g))
	}
	return y, slope
}

// at returns the curve, its slope and the slope's slope at t, s.
func (m *modes) at(t float64) (y, slope, bend float64) {
	y = m.start
	for i := range m.n {
		p := m.pole[i]
		g := m.amplitude[i] * expm1(p*complex(t, 0))
		d := p * (m.amplitude[i] + g)
		y += real(g)
		slope += real(d)
		bend += real(p * d)
	}
	return y, slope, bend
}

// expm1 returns e^z - 1 without loss for small z.
func expm1(z complex128) complex128 {
	x, y := real(z), imag(z)
	if y == 0 {
		return complex(math.Expm1(x), 0)
	}
	s, c := math.Sincos(y)
	half := math.Sin(y / 2)
	return complex(math.Expm1(x)*c-2*half*half, math.Exp(x)*s)
}
