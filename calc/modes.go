package calc

import (
	"math"
	"math/cmplx"
)

// modes are the poles of a transfer function gain/Π(s-pole) and the weights of
// its partial fractions; of a complex pair only the upper one is kept, twice. Of
// the phase entered last they hold the curve start + Re Σ amplitude·(e^{pt}-1).
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
	case c > 0 && math.IsInf(b, 1): // the node alone, and no current
		m.gain = 0
		m.add(complex(-1/(a*c), 0))
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

// partThree moves three poles that lie together, as those of a critically damped
// needle behind a filter as slow as it do, further from each other than two need
// be: of three modes more is lost by their cancelling each other.
func (m *modes) partThree() {
	const together, moved = 4e-3, 8e-3
	for k := 2; k < m.n; k++ {
		for j := 1; j < k; j++ {
			for i := range j {
				a, b, c := m.pole[i], m.pole[j], m.pole[k]
				near := together * cmplx.Abs(c)
				if cmplx.Abs(a-b) < near && cmplx.Abs(b-c) < near && cmplx.Abs(a-c) < near {
					mean := (a + b + c) / 3
					m.pole[i], m.pole[j], m.pole[k] = mean*(1-moved), mean, mean*(1+moved)
				}
			}
		}
	}
}

// residues sets the weights gain/Π(p-q) and drops the lower one of each pair.
func (m *modes) residues() {
	m.partThree()
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

// stride returns the longest step, s, that does not hide a swing of the curve at
// t, s, after the start of its phase: half a radian of each mode that swings,
// until it has died, and of one that only decays the time gone by.
func (m *modes) stride(t float64) float64 {
	const dead = 20 // time constants
	longest := math.Inf(1)
	for i := range m.n {
		re, im := -real(m.pole[i]), imag(m.pole[i])
		s := 0.5 / (re + im)
		if im == 0 || re*t > dead {
			s = max(s, t)
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

// rest returns the value that the curve of a phase tends to, and how far off that it can be at
// most from t, s, on: all its modes together, as if none swung.
func (m *modes) rest(t float64) (to, off float64) {
	to = m.start
	for i := range m.n {
		to -= real(m.amplitude[i])
		off += cmplx.Abs(m.amplitude[i]) * math.Exp(real(m.pole[i])*t)
	}
	return to, off
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
