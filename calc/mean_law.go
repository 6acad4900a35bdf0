package calc

import (
	"math"
	"math/cmplx"
)

// LawShift returns by how much the mean of a law over the coil's rippling
// current exceeds the law of the mean current, as a share of the scale. It is
// where a needle too slow to follow the pin stands off, if the law is one of the
// torque, as a moving iron's is; the needle of a moving coil follows the mean
// current, whatever its dial. The law is continued past full scale as Law.At is. A
// linear law gives 0, and so does a table of which one straight line holds the
// whole ripple; a smooth law counts as the table of its pieces' ends. NaN where, with a capacitor or an inductance, the period is
// infinite or a mode does not decay.
//
// Source: derived
func (r *Ripple) LawShift(law *Law) float64 {
	if law.Kind == Smooth {
		law = &law.smooth.table
	}
	var m modes
	m.electrical(r)
	switch {
	case law.Kind == Linear:
		return 0
	case m.n == 0:
		return r.pulseShift(law)
	}
	m.residues()
	switch {
	case !m.decay() || math.IsInf(r.Period, 0):
		return math.NaN()
	case law.Kind == Square:
		return r.squareShift(&m, law)
	}
	return r.tableShift(&m, law)
}

// pulseShift is LawShift of the pin's own pulse: high for Duty, else 0.
func (r *Ripple) pulseShift(law *Law) float64 {
	high, mean := r.Chain.Current(r.Rail)/r.FullScale, r.Chain.Current(r.Rail*r.Duty)/r.FullScale
	if law.Kind == Square { // as squareShift has it
		above, moves := max(0, high-law.From), 1/(1-law.From)
		beyond := r.Duty * above * above
		if mean >= law.From {
			beyond = (1 - r.Duty) * (high*mean - law.From*law.From)
		}
		return moves * moves * beyond
	}
	sum := 0.0
	for i := range len(law.Points) - 1 {
		if at, bend := law.kink(i); at > mean {
			sum += bend * r.Duty * max(0, high-at)
		} else {
			sum += bend * (1 - r.Duty) * at
		}
	}
	return sum
}

// kink returns the share of full-scale current of the i-th point of a table, but its last,
// and how much steeper the table goes on behind it. Before its first point it is level if
// the zero is suppressed, else it goes on as it begins.
func (l *Law) kink(i int) (at, bend float64) {
	a, b, rise := l.Points[i], l.Points[i+1], 1-l.From
	bend = (b.Scale - a.Scale) / (b.Current - a.Current)
	switch {
	case i > 0:
		z := l.Points[i-1]
		bend -= (a.Scale - z.Scale) / (a.Current - z.Current)
	case l.From == 0:
		bend = 0
	}
	return l.From + rise*a.Current, bend / rise
}

// meanSquare is the mean over the period of the square of the changing part of
// the current, for a pin of 1 V.
func (r *Ripple) meanSquare(m *modes) float64 {
	m.enter(1, (1-r.Duty)*r.Period, r.Period)
	high := m.square(r.Duty * r.Period)
	m.enter(-1, r.Duty*r.Period, r.Period)
	return r.Duty*high + (1-r.Duty)*m.square((1-r.Duty)*r.Period)
}

// square is the mean square of the curve over a phase of the given length, s. For
// Re a·Re b = Re(ab + ab*)/2 it comes from the means of the modes' products.
func (m *modes) square(length float64) float64 {
	sum := m.start * m.start
	for i := range m.n {
		a, z := m.amplitude[i], m.pole[i]*complex(length, 0)
		sum += 2 * m.start * real(a*meanGrowth(z))
		for j := range i + 1 {
			b, w := m.amplitude[j], m.pole[j]*complex(length, 0)
			both := real(a * b * meanProduct(z, w))
			if imag(z) == 0 && imag(w) == 0 {
				both *= 2
			} else {
				both += real(a * cmplx.Conj(b) * meanProduct(z, cmplx.Conj(w)))
			}
			if i == j {
				both /= 2
			}
			sum += both
		}
	}
	return sum
}

// slow is the growth |z| over a phase below which a mode is summed by its series,
// terms is where that may end.
const slow, terms = 0.1, 12

// meanGrowth returns the mean of e^{zs}-1 for s from 0 to 1, (e^z-1-z)/z.
func meanGrowth(z complex128) complex128 {
	if cmplx.Abs(z) > slow {
		return expm1(z)/z - 1
	}
	sum := complex128(0)
	for n := terms; n > 1; n-- { // z/2·(1 + z/3·(1 + z/4·(…
		sum = (1 + sum) * over(z, n)
	}
	return sum
}

// meanProduct returns the mean of (e^{zs}-1)·(e^{ws}-1) for s from 0 to 1.
func meanProduct(z, w complex128) complex128 {
	if cmplx.Abs(z) > slow || cmplx.Abs(w) > slow {
		return meanGrowth(z+w) - meanGrowth(z) - meanGrowth(w)
	}
	// Σ ((z+w)^(n-1) - z^(n-1) - w^(n-1))/n!, of which the first term is 0
	both, one, other := (z+w)/2, z/2, w/2
	sum := complex128(0)
	for n := 3; n <= terms; n++ {
		both, one, other = both*over(z+w, n), one*over(z, n), other*over(w, n)
		sum += both - one - other
	}
	return sum
}

// over returns z/n, without the time that a complex division takes.
func over(z complex128, n int) complex128 {
	share := 1 / float64(n)
	return complex(real(z)*share, imag(z)*share)
}

// tableShift is LawShift of a table. The table is the straight line that holds
// the mean current, which shifts nothing, and at each of its points a kink,
// that acts on what of the ripple lies beyond it, seen from the mean.
func (r *Ripple) tableShift(m *modes, law *Law) float64 {
	k := kinks{m: m, law: law, mean: r.Chain.Current(r.Rail*r.Duty) / r.FullScale, unit: r.Rail / r.FullScale}
	on, off := r.Duty*r.Period, (1-r.Duty)*r.Period
	m.enter(1, off, r.Period)
	k.phase(on)
	m.enter(-1, on, r.Period)
	k.phase(off)
	return k.sum * k.unit / r.Period
}

// squareShift is LawShift of a square. Seen from the mean, as in tableShift, for a small
// ripple would be the difference of two large numbers otherwise: all of the ripple counts,
// squared, for ⟨(x+y)²⟩ = x² + ⟨y²⟩, but for what is below a suppressed zero; of a mean below
// that, only what is above it.
func (r *Ripple) squareShift(m *modes, law *Law) float64 {
	mean, unit := r.Chain.Current(r.Rail*r.Duty)/r.FullScale, r.Rail/r.FullScale
	moves := unit / (1 - law.From)
	level := (law.From - mean) / unit
	if level > 0 {
		return moves * moves * r.squareBeyond(m, level, 1)
	}
	square := r.meanSquare(m)
	if law.From > 0 {
		square -= r.squareBeyond(m, level, -1)
	}
	return moves * moves * square
}

// squareBeyond is the mean over the period of the square of what of the changing part of the
// current, for a pin of 1 V, is above a level (side 1) or below it (side -1).
func (r *Ripple) squareBeyond(m *modes, level, side float64) float64 {
	on, off := r.Duty*r.Period, (1-r.Duty)*r.Period
	m.enter(1, off, r.Period)
	high := m.phaseBeyond(level, side, on)
	m.enter(-1, on, r.Period)
	return (high + m.phaseBeyond(level, side, off)) / r.Period
}

// phaseBeyond is the integral of that square over a phase of the given length, s, from one
// turn of the curve to the next.
func (m *modes) phaseBeyond(level, side, length float64) float64 {
	sum := 0.0
	for from := (moment{y: m.start}); from.t < length; {
		turn := length
		if to, off := m.rest(from.t); math.Abs(level-to) <= off {
			turn = m.turn(from.t, length)
		}
		to := m.moment(turn)
		if a, b, ok := m.beyond(level, side, from, to); ok {
			sum += m.square(b.t)*b.t - m.square(a.t)*a.t - 2*level*(b.area-a.area) + level*level*(b.t-a.t)
		}
		from = to
	}
	return sum
}

// beyond narrows two moments, between which the curve does not turn, to those between which
// it is above a level (side 1) or below it (side -1); ok is false where it never is.
func (m *modes) beyond(level, side float64, a, b moment) (from, to moment, ok bool) {
	from, to = a, b
	switch beyondA, beyondB := side*(a.y-level) > 0, side*(b.y-level) > 0; {
	case !beyondA && !beyondB:
		return from, to, false
	case !beyondA:
		from = m.moment(m.crossing(level, a, b))
	case !beyondB:
		to = m.moment(m.crossing(level, a, b))
	}
	return from, to, true
}

// kinks sums, over time, what the kinks of a table do to a curve.
type kinks struct {
	m    *modes
	law  *Law
	mean float64 // current, as a share of full scale
	unit float64 // that share for a current of 1 in the modes
	sum  float64
}

// A moment is a time, s, of a phase, the curve then, and its integral until then.
type moment struct{ t, y, area float64 }

// phase adds a phase of the given length, s, from one turn of the curve to the next.
func (k *kinks) phase(length float64) {
	for from := (moment{y: k.m.start}); from.t < length; {
		turn := length
		if k.isAmid(k.m.rest(from.t)) {
			turn = k.m.turn(from.t, length)
		}
		to := k.m.moment(turn)
		k.stretch(from, to)
		from = to
	}
}

// isAmid says whether a curve that tends to a value, and is off that by so much at most, may
// pass a kink.
func (k *kinks) isAmid(to, off float64) bool {
	for i := range len(k.law.Points) - 1 {
		if at, bend := k.law.kink(i); bend != 0 && math.Abs((at-k.mean)/k.unit-to) <= off {
			return true
		}
	}
	return false
}

// stretch adds what lies between two moments between which the curve does not turn.
func (k *kinks) stretch(a, b moment) {
	for i := range len(k.law.Points) - 1 {
		at, bend := k.law.kink(i)
		if bend == 0 {
			continue
		}
		level, side := (at-k.mean)/k.unit, 1.0
		if level <= 0 {
			side = -1
		}
		if from, to, ok := k.m.beyond(level, side, a, b); ok {
			k.sum += bend * side * (to.area - from.area - level*(to.t-from.t))
		}
	}
}

// moment is that at t, s, after the start of its phase.
func (m *modes) moment(t float64) moment {
	y, mean := m.start, m.start
	for i := range m.n {
		z := m.pole[i] * complex(t, 0)
		g := meanGrowth(z)
		y += real(m.amplitude[i] * z * (1 + g)) // z(1+g) = e^z-1
		mean += real(m.amplitude[i] * g)
	}
	return moment{t, y, mean * t}
}

// turn returns the first time after from, s, at which the slope of the curve, of
// two poles at most, changes its sign, and the end of the phase if there is none
// before it or what still swings has died.
func (m *modes) turn(from, end float64) float64 {
	const dead = 20 // time constants, as in stride
	t, p := end, m.pole[0]
	switch {
	case m.n == 2: // the slopes of both, a·p·e^{pt}, are opposite once
		q := m.pole[1]
		t = math.Log(-real(m.amplitude[1]*q)/real(m.amplitude[0]*p)) / real(p-q)
	case imag(p) > 0 && -real(p)*from < dead: // the slope's angle is an odd number of right ones
		angle := cmplx.Phase(m.amplitude[0]*p) - math.Pi/2
		t = (math.Ceil((angle+imag(p)*from)/math.Pi)*math.Pi - angle) / imag(p)
		if t <= from {
			t += math.Pi / imag(p)
		}
	}
	if from < t && t < end {
		return t
	}
	return end
}

// crossing returns when the curve is at a level between those of two moments
// between which it does not turn: of one decaying mode in closed form, else by Newton's
// method, kept in its bracket.
func (m *modes) crossing(level float64, from, to moment) float64 {
	const enough = 1e-7 // of the way; what lies beyond is off by its square
	if p := real(m.pole[0]); m.n == 1 && imag(m.pole[0]) == 0 {
		return math.Log1p((level-m.start)/real(m.amplitude[0])) / p
	}
	a, b, way := from.t, to.t, to.y-from.y
	t := a + (b-a)*(level-from.y)/way
	for range 60 {
		y, slope, _ := m.at(t)
		if math.Abs(y-level) <= enough*math.Abs(way) {
			break
		}
		if y < level == (way > 0) {
			a = t
		} else {
			b = t
		}
		if t -= (y - level) / slope; !(a < t && t < b) {
			t = (a + b) / 2
		}
	}
	return t
}
