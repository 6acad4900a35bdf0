package survey

import (
	"math"
	"slices"
)

// How narrow the band of full scale is to be, half of it, as a share; how narrow is enough once
// a survey has been long; and the same of resistance at any time.
const wanted, bearable, ofResistance = 0.052, 0.06, 0.06

// A survey is long after so many readings of needle, terminals and resistors, and ends after
// so many where its bands are not bearable.
const long, longest = 8, 11

// A task is what is read next: at a connection the needle or the terminals, or a resistor.
type task struct {
	at        Connection
	terminals bool
	resistor  bool
}

// A plan weighs what further readings would make narrower. All that is unknown is one row of
// a covariance: the logarithms of resistance and full scale, then what readings have in common,
// each by its own deviation.
type plan struct {
	d       *dialogue
	m       meter
	rest    float64
	rows    []int // those that are to be narrow
	sources []string
	cov     [][]float64
}

// The rows of a plan before those of sources and resistors.
const (
	rowOhms = iota
	rowFullScale
	rowRest
	rowBend
	rowDrop
	rowSources
	rowParts = rowSources + 8
)

// plan is what the readings so far leave, about the likeliest meter.
func (d *dialogue) plan(p *posterior) *plan {
	n := rowParts + len(nominals)
	w := &plan{d: d, cov: make([][]float64, n), rows: []int{rowOhms}}
	if d.isWithinReach(p) {
		w.rows = append(w.rows, rowFullScale)
	}
	for i := range w.cov {
		w.cov[i] = make([]float64, n)
		w.cov[i][i] = 1
	}
	sorts, bend := d.sorts(), 0.0
	likeliest := 0
	for i, s := range sorts {
		bend += p.ofSorts[i] * s.bend * s.bend
		if p.ofSorts[i] > p.ofSorts[likeliest] {
			likeliest = i
		}
	}
	w.m = meter{p.resistance.Value, p.fullScale.Value, sorts[likeliest]}
	w.m.bend = math.Sqrt(bend)
	_, unsure := d.likelyRest()
	w.rest = unsure / d.span()
	for n := range d.readings {
		r := &d.readings[n]
		if r.word == "" && (r.terminals || d.hasMoved()) {
			w.absorb(w.row(&task{at: r.at, terminals: r.terminals}))
		}
	}
	if dial := d.dial(); dial != nil && math.Abs(dial.off(&w.m)) < 0.06 {
		const class = 0.025
		h := make([]float64, n)
		h[rowFullScale] = 1
		if dial.volts > 0 {
			h[rowOhms] = 1
		}
		w.absorb(h, class)
	}
	return w
}

// row is by how much a reading moves with all that is unknown, and its own deviation.
func (w *plan) row(t *task) (h []float64, noise float64) {
	h = make([]float64, len(w.cov))
	part := rowParts + slices.Index(nominals, t.at.Series)
	if t.resistor {
		h[part] = 1
		return h, meterShare / asMarked
	}
	v, rs := w.d.volts(t.at), w.d.before(t.at)
	read := (*meter).place
	if t.terminals {
		read = (*meter).across
	}
	g := read(&w.m, v.value, rs.value)
	const little = 1e-3
	more := w.m
	more.ohms *= 1 + little
	h[rowOhms] = (read(&more, v.value, rs.value).here - g.here) / little
	more = w.m
	more.fullScale *= 1 + little
	h[rowFullScale] = (read(&more, v.value, rs.value).here - g.here) / little
	h[rowBend], h[rowDrop] = g.byBend*w.m.bend, g.byDrop*w.m.around
	h[w.source(sourceName(w.d, t.at))] = g.bySource * even(v.half) / v.value
	h[part] = g.bySeries * even(rs.half) / rs.value
	if t.terminals {
		return h, even(ofMeter(g.here).half)
	}
	h[rowRest] = w.rest
	return h, ofNeedle / w.d.span()
}

// source is the row of a source.
func (w *plan) source(name string) int {
	n := slices.Index(w.sources, name)
	if n < 0 {
		n = len(w.sources)
		w.sources = append(w.sources, name)
	}
	return rowSources + min(n, rowParts-rowSources-1)
}

// with is the covariance by a row, and the variance of a reading of it.
func (w *plan) with(h []float64, noise float64) (by []float64, variance float64) {
	by, variance = make([]float64, len(h)), noise*noise
	for i, x := range h {
		if x == 0 {
			continue
		}
		for k := range by {
			by[k] += w.cov[i][k] * x
		}
	}
	for i, x := range h {
		variance += x * by[i]
	}
	return by, variance
}

// absorb takes a reading in.
func (w *plan) absorb(h []float64, noise float64) {
	by, variance := w.with(h, noise)
	for i := range by {
		for k := range by {
			w.cov[i][k] -= by[i] * by[k] / variance
		}
	}
}

// left is how wide what is to be narrow is after a reading more: the variances together.
func (w *plan) left(h []float64, noise float64) float64 {
	by, variance := w.with(h, noise)
	sum := 0.0
	for _, i := range w.rows {
		sum += max(w.cov[i][i]-by[i]*by[i]/variance, 0)
	}
	return sum
}

// best is the task that makes the bands narrowest; ok is false where none makes them much
// narrower.
func (w *plan) best(tasks []task) (best task, ok bool) {
	const worthIt = 0.93
	least := 0.0
	for _, i := range w.rows {
		least += worthIt * w.cov[i][i]
	}
	for _, t := range tasks {
		if !t.resistor && !t.terminals && w.hardlyMoves(&t) {
			continue
		}
		if left := w.left(w.row(&t)); left < least {
			best, least, ok = t, left, true
		}
	}
	return best, ok
}

// hardlyMoves says whether the needle is not seen to move at a task.
func (w *plan) hardlyMoves(t *task) bool {
	const seenWell = 0.05 // of the scale
	return w.m.place(w.d.volts(t.at).value, w.d.before(t.at).value).here*w.d.span() < seenWell
}
