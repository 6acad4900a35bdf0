package scale

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
)

// A measured is what the readings have in common.
type measured struct {
	readings []reading
	stick    float64 // share of the scale; NaN where it was not seen
	floor    float64 // half of the last digit, share of the scale
}

// What is common practice, no source: shares of the scale.
const (
	readTo     = 0.005 // what the eye leaves, ±
	leastOff   = 0.015 // below this nothing is an outlier: three times what the eye leaves
	timesOff   = 4     // so many times the scatter of the rest is one: the contract
	normal     = 1.4826
	leastRises = 1e-6 // between two points
)

// leastScatter is how many points between the ends tell a scatter, and leastOthers how many
// tell that a further one is an outlier: fewer may agree by chance.
const leastScatter, leastOthers = 3, 4

// stick is half of the difference between going down and going up, the median over the codes
// where both were read; NaN without any.
func stick(readings []reading) float64 {
	up, down := map[float64][]float64{}, map[float64][]float64{}
	for _, r := range readings {
		switch r.going {
		case "up":
			up[r.current] = append(up[r.current], r.place)
		case "down":
			down[r.current] = append(down[r.current], r.place)
		}
	}
	var halves []float64
	for current, places := range up {
		if others := down[current]; len(others) > 0 {
			halves = append(halves, (middle(others)-middle(places))/2)
		}
	}
	if len(halves) == 0 {
		return math.NaN()
	}
	return max(0, middle(halves))
}

// ends are where the needle stands at no current and at full scale.
type ends struct {
	zero, fullScale float64
	first, last     *point // as measured, or nil
	zeroRight       bool   // an end that was measured counts as set right nevertheless
	topRight        bool
}

func endsOf(zero, top []point) *ends {
	var e ends
	if len(zero) > 0 {
		e.first = &zero[0]
	}
	if len(top) > 0 {
		e.last = &top[0]
	}
	return &e
}

// measured are the ends that were.
func (e *ends) measured() []point {
	var points []point
	for _, p := range [2]*point{e.first, e.last} {
		if p != nil {
			points = append(points, *p)
		}
	}
	return points
}

// settle sets both errors for these points. With counts beyond the code, code 0 stands
// as high as the law says of them, which is found by trying again.
func (e *ends) settle(points []point) {
	const rounds = 12
	whole := 1.0
	if e.last != nil && !e.topRight {
		whole = e.last.Scale
	}
	e.zero, e.fullScale = 0, whole-1
	if e.first == nil || e.zeroRight {
		return
	}
	for range rounds {
		beyond := 0.0
		if e.first.Current > 0 {
			beyond = lawThrough(e.share(points)).At(e.first.Current) * (1 + e.fullScale)
		}
		e.zero = e.first.Scale - beyond
		if e.fullScale = whole - e.zero - 1; e.first.Current == 0 {
			return
		}
	}
}

// take takes ends as set right that are off by no more than can be read; it says whether
// that changed any.
func (e *ends) take(readable float64) bool {
	e.zeroRight = e.zero != 0 && math.Abs(e.zero) <= readable
	top := e.zero + e.fullScale
	e.topRight = top != 0 && math.Abs(top) <= readable
	return e.zeroRight || e.topRight
}

// share is the law's share of points: without the errors of both ends.
func (e *ends) share(points []point) []point {
	shares := slices.Clone(points)
	for i := range shares {
		shares[i].Scale = (shares[i].Scale - e.zero) / (1 + e.fullScale)
	}
	return shares
}

// lawThrough is the law through shares, made to rise.
func lawThrough(shares []point) *calc.Law {
	law := calc.NewSmooth(rising(shares))
	return &law
}

// rising makes points rise from 0, 0 to 1, 1: neighbours that do not are put together, at
// their mean, and what is not above an end falls to it. Pool adjacent violators (Ayer
// and others, 1955; from memory).
func rising(points []point) []calc.Point {
	blocks, weights := []calc.Point{{}}, []float64{math.Inf(1)}
	for _, p := range points {
		at, weight := p.Point, float64(len(p.readings))
		n := len(blocks)
		for n > 1 && at.Scale < blocks[n-1].Scale+leastRises {
			before, w := blocks[n-1], weights[n-1]
			at.Current = (at.Current*weight + before.Current*w) / (weight + w)
			at.Scale = (at.Scale*weight + before.Scale*w) / (weight + w)
			weight += w
			n--
		}
		blocks, weights = blocks[:n], weights[:n]
		if at.Scale >= leastRises {
			blocks, weights = append(blocks, at), append(weights, weight)
		}
	}
	for len(blocks) > 1 && blocks[len(blocks)-1].Scale > 1-leastRises {
		blocks = blocks[:len(blocks)-1]
	}
	return append(blocks, calc.Point{Current: 1, Scale: 1})
}

// scatter is the root mean square of how far the points of a law stand off the others.
func scatter(law *calc.Law) float64 {
	off := law.LeftOut()
	sum := 0.0
	for _, x := range off {
		sum += x * x
	}
	return math.Sqrt(sum / float64(max(1, len(off)-2)))
}

// readable is what cannot be told from an end that is set right: three times the scatter,
// from half the last digit to what the eye leaves.
func (m *measured) readable(scatter float64) float64 {
	return max(m.floor, min(readTo, 3*scatter))
}

// leaveOut leaves out, one after the other, the point that stands furthest off the law
// through the others, measured by their own scatter, and names its rows.
func (m *measured) leaveOut(points []point, e *ends, f *Fitted) []point {
	points = slices.Clone(points)
	for len(points) > leastOthers {
		worst, most, by := -1, 1.0, 0.0
		for i := range points {
			law := lawThrough(e.share(slices.Delete(slices.Clone(points), i, i+1)))
			off := e.share(points[i : i+1])[0].Scale - law.At(points[i].Current)
			if ratio := math.Abs(off) / allowed(law); ratio > most {
				worst, most, by = i, ratio, off
			}
		}
		if worst < 0 {
			break
		}
		for _, r := range points[worst].readings {
			f.Outliers = append(f.Outliers, Outlier{r.row, by + m.freed(r) - points[worst].Scale})
		}
		points = slices.Delete(points, worst, worst+1)
	}
	return points
}

// allowed is how far a point may stand off a law that does not go through it. The median
// does not mind a further outlier among the others, but of few points it may be small
// by chance: half of the root mean square counts too.
func allowed(law *calc.Law) float64 {
	off := law.LeftOut()
	for i := range off {
		off[i] = math.Abs(off[i])
	}
	return max(leastOff, timesOff*max(normal*middle(off[1:len(off)-1]), scatter(law)/2))
}

// strayed names the rows that stand off the others at their own code.
func (m *measured) strayed(points []point, f *Fitted) {
	spread := m.spread(points)
	for _, p := range points {
		for _, r := range p.readings {
			if off := m.freed(r) - p.Scale; len(p.readings) > 2 && math.Abs(off) > max(leastOff, timesOff*spread) {
				f.Outliers = append(f.Outliers, Outlier{r.row, off})
			}
		}
	}
}

// spread is how readings at one code spread: the median distance from their middle, as a
// standard deviation; NaN where no code was read more than twice.
func (m *measured) spread(points []point) float64 {
	var off []float64
	for _, p := range points {
		for _, r := range p.readings {
			if len(p.readings) > 2 {
				off = append(off, math.Abs(m.freed(r)-p.Scale))
			}
		}
	}
	if len(off) == 0 {
		return math.NaN()
	}
	return normal * middle(off)
}

// reading is what a reading leaves, ±: as so many points scatter, an even spread, the wider
// the fewer they are, and at least half of the last digit; common practice where they do
// not tell.
func (m *measured) reading(scatter float64, points int) float64 {
	if math.IsNaN(scatter) {
		return max(m.floor, readTo)
	}
	return max(m.floor, math.Sqrt(3)*scatter*(1+1/float64(points)))
}
