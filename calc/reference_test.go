package calc

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"
)

// A stateSpace is an outside reference for Ripple that shares nothing with it:
// x' = Ax + Bu with gonum's matrix exponential. Its states are the node's
// voltage over the rail (with a capacitor), the coil current over full scale
// (with an inductance), the needle's place, and its speed over the needle's
// angular frequency; time is in seconds.
type stateSpace struct {
	a             *mat.Dense
	b             *mat.VecDense
	node, needle  int // rows, -1: none
	coil          int // the same
	on, off, duty float64
	high, low     *mat.VecDense // the changing part of the state as each phase starts
}

func newStateSpace(r *Ripple) *stateSpace {
	c, l, ifs := r.Chain.Capacitor, r.Inductance, r.FullScale
	n := 2
	node, coil := -1, -1
	if c > 0 {
		node = 0
		n++
	}
	if l > 0 {
		coil = n - 2
		n++
	}
	a, b := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	needle, speed := n-2, n-1
	w := r.Movement.Frequency()
	a.Set(needle, speed, w)
	a.Set(speed, needle, -w)
	a.Set(speed, speed, -2*r.Movement.Damping*w)
	before, after := r.Chain.Before, r.Chain.After
	if node >= 0 {
		a.Set(node, node, -1/(before*c))
		b.SetVec(node, 1/(before*c))
	}
	switch {
	case coil >= 0 && node >= 0: // L·i' = v - Rc·i
		a.Set(coil, coil, -after/l)
		a.Set(coil, node, r.Rail/(l*ifs))
		a.Set(node, coil, -ifs/(c*r.Rail))
	case coil >= 0: // L·i' = u - (Ra+Rc)·i
		a.Set(coil, coil, -(before+after)/l)
		b.SetVec(coil, r.Rail/(l*ifs))
	case node >= 0: // i = v/Rc
		a.Set(node, node, -1/(before*c)-1/(after*c))
		a.Set(speed, node, w*r.Rail/(after*ifs))
	default: // i = u/(Ra+Rc)
		b.SetVec(speed, w*r.Rail/((before+after)*ifs))
	}
	if coil >= 0 {
		a.Set(speed, coil, w)
	}
	s := &stateSpace{a: a, b: b, node: node, needle: needle, coil: coil, duty: r.Duty,
		on: r.Duty * r.Period, off: (1 - r.Duty) * r.Period}
	s.solve()
	return s
}

// after returns e^{At}x + ∫e^{As}ds·B·u, both from one exponential.
func (s *stateSpace) after(t float64, x *mat.VecDense, u float64) *mat.VecDense {
	n := x.Len()
	big := mat.NewDense(n+1, n+1, nil)
	for i := range n {
		for j := range n {
			big.Set(i, j, s.a.At(i, j)*t)
		}
		big.Set(i, n, s.b.AtVec(i)*t)
	}
	var e mat.Dense
	e.Exp(big)
	out := mat.NewVecDense(n, nil)
	for i := range n {
		y := e.At(i, n) * u
		for j := range n {
			y += e.At(i, j) * x.AtVec(j)
		}
		out.SetVec(i, y)
	}
	return out
}

// solve finds the periodic state from (I - e^{AP})x = one period from nothing.
// The mean is left out by driving with u minus its mean.
func (s *stateSpace) solve() {
	n := s.b.Len()
	zero := mat.NewVecDense(n, nil)
	forced := s.after(s.off, s.after(s.on, zero, 1-s.duty), -s.duty)
	m := mat.NewDense(n, n, nil)
	for j := range n {
		unit := mat.NewVecDense(n, nil)
		unit.SetVec(j, 1)
		col := s.after(s.off, s.after(s.on, unit, 0), 0)
		for i := range n {
			m.Set(i, j, unit.AtVec(i)-col.AtVec(i))
		}
	}
	s.high = mat.NewVecDense(n, nil)
	if err := s.high.SolveVec(m, forced); err != nil {
		if _, poor := err.(mat.Condition); !poor {
			panic(err)
		}
	}
	s.low = s.after(s.on, s.high, 1-s.duty)
}

// peakToPeak samples a state over both phases, evenly and crowding towards the
// edge, and halves around each change of the slope's sign.
func (s *stateSpace) peakToPeak(row int) float64 {
	e := extremes{math.Inf(1), math.Inf(-1)}
	s.walk(&e, row, s.high, 1-s.duty, s.on)
	s.walk(&e, row, s.low, -s.duty, s.off)
	return e.most - e.least
}

func (s *stateSpace) walk(e *extremes, row int, x0 *mat.VecDense, u, length float64) {
	slopeAt := func(t float64) float64 {
		x := s.after(t, x0, u)
		e.add(x.AtVec(row))
		slope := s.b.AtVec(row) * u
		for j := range x.Len() {
			slope += s.a.At(row, j) * x.AtVec(j)
		}
		return slope
	}
	before, slope := 0.0, 0.0
	for _, t := range sampleTimes(length) {
		next := slopeAt(t)
		if slope*next < 0 {
			for lo, hi := before, t; hi-lo > 1e-9*(t-before); {
				if mid := (lo + hi) / 2; slopeAt(mid)*next < 0 {
					lo = mid
				} else {
					hi = mid
				}
			}
		}
		before, slope = t, next
	}
}

func sampleTimes(length float64) []float64 {
	times := []float64{0}
	const crowded, even = 60, 200
	for k := range crowded { // from a millionth of the phase to a 200th
		times = append(times, length*1e-6*math.Pow(1e6/even, float64(k)/crowded))
	}
	for k := 1; k <= even; k++ {
		times = append(times, length*float64(k)/even)
	}
	return times
}

// A drain is an outside reference for Pack: the catalogue's words by bisection
// and a fine rule in the used share, with none of Pack's closed forms.
type drain struct{ *Pack }

// draws returns the current, A, from a pack and its voltage, V; NaN where it
// cannot carry the load. The upper voltage that balances the power is bisected
// between the brink, where the power a source can give is greatest, and rest.
func (d drain) draws(rest, load float64) (current, voltage float64) {
	s := d.Supply
	through := load
	if s.Kind != NoConverter {
		through += s.Quiescent
	}
	if s.Kind != Boost {
		return through, rest - s.Resistance*through
	}
	asked := s.Rail * load / s.Efficiency
	open := rest - s.Resistance*s.Quiescent
	low, high := open/2, open
	spare := func(v float64) float64 { // power left over with the pack at v
		if s.Resistance == 0 {
			return v - open
		}
		return asked - v*(open-v)/s.Resistance
	}
	if open <= 0 || s.Resistance > 0 && spare(low) > 0 {
		return math.NaN(), math.NaN()
	}
	for range 80 {
		if mid := (low + high) / 2; spare(mid) > 0 {
			high = mid
		} else {
			low = mid
		}
	}
	if high >= s.Rail {
		return through, rest - s.Resistance*through
	}
	return asked/high + s.Quiescent, high
}

// rest returns the pack's voltage at rest, V, where a share is used.
func (d drain) rest(used float64) float64 {
	for i := 1; ; i++ {
		a, b := d.Curve[i-1], d.Curve[i]
		if used <= b.Used || i == len(d.Curve)-1 {
			return d.Cells * (a.Rest + (b.Rest-a.Rest)*(used-a.Used)/(b.Used-a.Used))
		}
	}
}

// rateAt returns the share used in an hour.
func (d drain) rateAt(used, hoursOn float64) float64 {
	on, _ := d.draws(d.rest(used), d.On)
	off, _ := d.draws(d.rest(used), d.Off)
	mean := off
	switch hoursOn {
	case 0:
	case 24:
		mean = on
	default:
		mean = hoursOn/24*on + (24-hoursOn)/24*off
	}
	return mean/d.Capacity + d.SelfDischarge/8766
}

// ended tells whether the clock has stopped where a share is used.
func (d drain) ended(used, hoursOn float64) bool {
	load := d.Off
	if hoursOn > 0 {
		load = d.On
	}
	_, v := d.draws(d.rest(used), load)
	return !(v > d.Floor)
}

// passes tells whether the boost passes through where a share is used.
func (d drain) passes(used, load float64) bool {
	_, v := d.draws(d.rest(used), load)
	return v >= d.Supply.Rail
}

// crossing bisects the used share between a and b at which a fact changes.
func crossing(a, b float64, fact func(float64) bool) float64 {
	start := fact(a)
	if fact(b) == start {
		return b
	}
	for range 60 {
		if mid := (a + b) / 2; fact(mid) == start {
			a = mid
		} else {
			b = mid
		}
	}
	return a
}

// life integrates dt = du/rate between all kinks with 200 Gauss points each.
func (d drain) life(hoursOn float64) float64 {
	life := 0.0
	for i := 1; i < len(d.Curve); i++ {
		a, b := d.Curve[i-1].Used, d.Curve[i].Used
		if d.ended(a, hoursOn) {
			break
		}
		end := crossing(a, b, func(u float64) bool { return d.ended(u, hoursOn) })
		cuts := []float64{a,
			crossing(a, end, func(u float64) bool { return d.passes(u, d.On) }),
			crossing(a, end, func(u float64) bool { return d.passes(u, d.Off) }), end}
		if cuts[1] > cuts[2] {
			cuts[1], cuts[2] = cuts[2], cuts[1]
		}
		for j := 1; j < len(cuts); j++ {
			if cuts[j-1] < cuts[j] {
				life += quad.Fixed(func(u float64) float64 { return 1 / d.rateAt(u, hoursOn) }, cuts[j-1], cuts[j], 200, nil, 0)
			}
		}
		if end < b {
			break
		}
	}
	return min(life, d.Shelf)
}

// simulate lives through the clock's life in steps of the given length, h, by
// the classical fourth-order rule, to the step in which it ends.
func (d drain) simulate(hoursOn, step float64) float64 {
	used, hours := 0.0, 0.0
	last := d.Curve[len(d.Curve)-1].Used
	for used < last && !d.ended(used, hoursOn) && hours < d.Shelf {
		k1 := d.rateAt(used, hoursOn)
		k2 := d.rateAt(used+step/2*k1, hoursOn)
		k3 := d.rateAt(used+step/2*k2, hoursOn)
		k4 := d.rateAt(used+step*k3, hoursOn)
		used += step / 6 * (k1 + 2*k2 + 2*k3 + k4)
		hours += step
	}
	return min(hours, d.Shelf)
}
