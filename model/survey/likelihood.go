package survey

import "math"

// A seen is a reading as it is weighed, with what it has in common with others.
type seen struct {
	terminals     bool
	none          bool    // the needle has not moved
	value, noise  float64 // V, or share of the needle's span; one deviation of its own
	volts, series float64 // V, Ω
	bySource      float64 // one deviation, share, of the source, and of the resistor
	bySeries      float64
	source, part  int // which source and which resistor
}

// seen are the readings as they are weighed, from where the needle rests.
func (d *dialogue) seen(rest float64) []seen {
	all := make([]seen, 0, len(d.readings))
	sources, parts := map[string]int{}, map[float64]int{}
	for i := range d.readings {
		r := &d.readings[i]
		v, rs := d.volts(r.at), d.before(r.at)
		s := seen{terminals: r.terminals, value: r.value, volts: v.value, series: rs.value, bySource: even(v.half) / v.value, bySeries: even(rs.half) / rs.value}
		name := sourceName(d, r.at)
		if _, known := sources[name]; !known {
			sources[name] = len(sources)
		}
		if _, known := parts[r.at.Series]; !known {
			parts[r.at.Series] = len(parts)
		}
		s.source, s.part = sources[name], parts[r.at.Series]
		switch {
		case r.terminals:
			s.noise = even(ofMeter(r.value).half)
		case r.word == "none":
			s.none = true
		default:
			s.value, s.noise = math.Abs(d.moved(r)+(d.rest-rest)/d.span()), ofNeedle/d.span()
		}
		all = append(all, s)
	}
	return all
}

// ofNeedle is one deviation of a place as it is read, share of the scale: the eye's, and a
// tapped needle sticks by 0.35 %.
var ofNeedle = math.Hypot(even(eye), 0.0035)

// A weigher weighs meters against readings. Its room is used again for each.
type weigher struct {
	seen   []seen
	span   float64 // share of the scale that is full scale
	rest   float64 // one deviation of where the needle rests, of the span
	marked *marked
	by     [][5]float64 // of each reading: by rest, source, resistor, bend, rectifier
	at     []int        // which reading
	miss   []float64
	noise  []float64
	cov    []float64
}

func newWeigher(all []seen, span, rest float64, dial *marked) *weigher {
	n := len(all)
	return &weigher{seen: all, span: span, rest: rest, marked: dial, by: make([][5]float64, n), at: make([]int, n), miss: make([]float64, n), noise: make([]float64, n), cov: make([]float64, n*n)}
}

// strays is by how much a rectifier strays from the curve that it is taken for, V, one
// deviation. Common practice, no source.
const strays = 0.015

// log is the logarithm of how likely the readings are of a meter. What sources, resistors,
// the rest, an uneven scale and a rectifier are off is common to all readings with them.
func (w *weigher) log(m *meter) float64 {
	if !m.isPossible() {
		return math.Inf(-1)
	}
	n, log := w.misses(m)
	w.fill(n)
	squares, determinant := w.solve(n)
	return w.marked.log(m) + log - (squares+determinant)/2
}

// fit is by how much readings are off those of a meter, all of them together: a square of about
// 1 for each that is sound. ok is false where it is more than readings come to.
func (w *weigher) fit(m *meter) (squares float64, ok bool) {
	const alone, each = 30, 3
	n, _ := w.misses(m)
	w.fill(n)
	squares, _ = w.solve(n)
	return squares, squares <= alone+each*float64(n)
}

// misses writes by how much so many readings are off those of a meter; log is how likely it is
// that the needle did not move at the others.
func (w *weigher) misses(m *meter) (n int, log float64) {
	for i := range w.seen {
		s := &w.seen[i]
		g := guess{}
		if s.terminals {
			g = m.across(s.volts, s.series)
		} else {
			g = m.place(s.volts, s.series)
		}
		if s.none {
			log += w.unmoved(g.here)
			continue
		}
		w.at[n], w.miss[n], w.noise[n] = i, s.value-g.here, math.Hypot(s.noise, g.byDrop*strays)
		w.by[n] = [5]float64{0, g.bySource * s.bySource, g.bySeries * s.bySeries, g.byBend * m.bend, g.byDrop * m.around}
		if !s.terminals {
			w.by[n][0] = w.rest
		}
		n++
	}
	return n, log
}

// unmoved is the logarithm of how likely no move is of a needle that would stand at a place.
func (w *weigher) unmoved(place float64) float64 {
	const unsure = 0.008
	if place*w.span < none-4*unsure {
		return 0
	}
	return math.Log(max(0.5*math.Erfc((place*w.span-none)/unsure/math.Sqrt2), 1e-9))
}

// fill writes the covariance of so many readings, its lower half.
func (w *weigher) fill(n int) {
	for a := range n {
		s := &w.seen[w.at[a]]
		for b := 0; b <= a; b++ {
			t := &w.seen[w.at[b]]
			x, y := &w.by[a], &w.by[b]
			sum := x[0]*y[0] + x[3]*y[3] + x[4]*y[4]
			if s.source == t.source {
				sum += x[1] * y[1]
			}
			if s.part == t.part {
				sum += x[2] * y[2]
			}
			w.cov[a*n+b] = sum
		}
		w.cov[a*n+a] += w.noise[a] * w.noise[a]
	}
}

// solve returns the misses' square by their covariance, and the logarithm of its determinant:
// by Cholesky's way, in place.
func (w *weigher) solve(n int) (squares, determinant float64) {
	c, sum, product := w.cov, 0.0, 1.0
	log := 0.0
	for a := range n {
		x := w.miss[a]
		for b := 0; b <= a; b++ {
			t := c[a*n+b]
			for k := range b {
				t -= c[a*n+k] * c[b*n+k]
			}
			if a == b {
				t = math.Sqrt(t)
				c[a*n+a] = t
				break
			}
			c[a*n+b] = t / c[b*n+b]
			x -= c[a*n+b] * w.miss[b]
		}
		w.miss[a] = x / c[a*n+a]
		sum += w.miss[a] * w.miss[a]
		if product *= c[a*n+a]; product < 1e-200 {
			log, product = log+math.Log(product), 1
		}
	}
	return sum, 2 * (log + math.Log(product))
}
