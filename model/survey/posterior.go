package survey

import (
	"cmp"
	"math"
	"slices"
)

// A window is a part of the plane of resistance and full scale, both by their logarithms.
type window struct{ low, high [2]float64 }

// The meters that there are: 1 mΩ to 30 MΩ, 0.1 µA to 300 A.
var everything = window{[2]float64{math.Log(1e-3), math.Log(1e-7)}, [2]float64{math.Log(30e6), math.Log(300)}}

// posterior weighs all meters of all sorts against all readings, each sort on a grid that is
// drawn in about what is likely.
func (d *dialogue) posterior() posterior {
	if p, known := d.weighed[d.taken]; known {
		return p
	}
	rest, unsure := d.likelyRest()
	w := newWeigher(d.seen(rest), d.span(), unsure/d.span(), d.dial())
	sorts := d.sorts()
	var all cloud
	p := posterior{ofSorts: make([]float64, len(sorts))}
	rough, likeliest := make([]cloud, len(sorts)), math.Inf(-1)
	in := make([]window, len(sorts))
	for n, s := range sorts {
		in[n], rough[n] = w.drawnIn(d.about(&s), s, n)
		likeliest = max(likeliest, rough[n].log())
	}
	const little = 12 // by so much less likely than the likeliest sort, a logarithm
	for n, s := range sorts {
		if rough[n].log() > likeliest-little {
			all = append(all, w.grid(in[n], fine, s, n)...)
		}
	}
	for n, share := range all.normal(len(sorts)) {
		p.ofSorts[n] = share
		if sorts[n].drop > 0 {
			p.rectifier += share
		}
	}
	p.resistance = all.value(func(p *point) float64 { return p.ohms }, everything.low[0], everything.high[0])
	p.fullScale = all.value(func(p *point) float64 { return p.fullScale }, everything.low[1], everything.high[1])
	p.volts = all.value(func(p *point) float64 { return p.ohms + p.fullScale }, math.Inf(-1), math.Inf(1))
	d.weighed[d.taken] = p
	return p
}

// A point is a meter of a grid: logarithms of its Ω, A and how likely it is, its sort, and
// the sides of its cell.
type point struct {
	ohms, fullScale, log float64
	sort                 int
	wide                 [2]float64
	share                float64
}

type cloud []point

// Steps of a side of a grid: to find where meters are likely, and to weigh them.
const coarse, fine = 14, 26

// drawnIn is the part of a window about which the readings leave any doubt, of a sort, and
// the last grid on the way there.
func (w *weigher) drawnIn(in window, s sort, number int) (part window, grid cloud) {
	for range 10 {
		grid = w.grid(in, coarse, s, number)
		next, narrower := in.around(grid, coarse)
		if in = next; !narrower {
			break
		}
	}
	return in, grid
}

// log is the logarithm of how likely all of a grid is.
func (c cloud) log() float64 {
	most, sum := math.Inf(-1), 0.0
	for n := range c {
		most = max(most, c[n].log)
	}
	for n := range c {
		if c[n].log > most-25 {
			sum += math.Exp(c[n].log - most)
		}
	}
	return most + math.Log(sum)
}

// grid weighs meters all over a window.
func (w *weigher) grid(in window, steps int, s sort, number int) cloud {
	all := make(cloud, 0, steps*steps)
	wide := [2]float64{(in.high[0] - in.low[0]) / float64(steps), (in.high[1] - in.low[1]) / float64(steps)}
	for i := range steps {
		for j := range steps {
			p := point{ohms: in.low[0] + wide[0]*(float64(i)+0.5), fullScale: in.low[1] + wide[1]*(float64(j)+0.5), sort: number, wide: wide}
			m := meter{math.Exp(p.ohms), math.Exp(p.fullScale), s}
			p.log = w.log(&m) + math.Log(s.share*wide[0]*wide[1])
			all = append(all, p)
		}
	}
	return all
}

// around is the part of a window that holds all but next to nothing of a grid over it, which
// may miss a narrow peak by little: some of the likeliest are always kept. narrower is false
// where that is most of it.
func (in window) around(grid cloud, steps int) (part window, narrower bool) {
	const little, kept = 18, 16 // by so much less likely than the likeliest, logarithms; and no fewer
	logs := make([]float64, len(grid))
	for n := range grid {
		logs[n] = grid[n].log
	}
	slices.Sort(logs)
	least := min(logs[len(logs)-1]-little, logs[len(logs)-kept])
	from, to := [2]int{steps, steps}, [2]int{-1, -1}
	for n := range grid {
		if !(grid[n].log >= least) {
			continue
		}
		for side, k := range [2]int{n / steps, n % steps} {
			from[side], to[side] = min(from[side], k), max(to[side], k)
		}
	}
	part = in
	for side := range 2 {
		step := (in.high[side] - in.low[side]) / float64(steps)
		part.low[side], part.high[side] = in.low[side]+float64(from[side]-1)*step, in.low[side]+float64(to[side]+2)*step
		part.low[side], part.high[side] = max(part.low[side], everything.low[side]), min(part.high[side], everything.high[side])
		narrower = narrower || part.high[side]-part.low[side] < 0.75*(in.high[side]-in.low[side])
	}
	return part, narrower
}

// normal makes all shares 1 together, and leaves out what is next to nothing. It returns how
// much of it is of each sort.
func (c *cloud) normal(sorts int) []float64 {
	most, sum := math.Inf(-1), 0.0
	for n := range *c {
		most = max(most, (*c)[n].log)
	}
	*c = slices.DeleteFunc(*c, func(p point) bool { return !(p.log > most-25) })
	of := make([]float64, sorts)
	for n := range *c {
		p := &(*c)[n]
		p.share = math.Exp(p.log - most)
		sum += p.share
	}
	for n := range *c {
		p := &(*c)[n]
		p.share /= sum
		of[p.sort] += p.share
	}
	return of
}

// value is what is left of one number of the meters, by its logarithm: its middle, and the
// band that holds 95 %. It has no bound where the band comes to the end of everything.
func (c cloud) value(of func(*point) float64, least, most float64) Value {
	steps := make([]step, len(c))
	for n := range c {
		steps[n] = step{of(&c[n]), c[n].share}
	}
	slices.SortFunc(steps, func(a, b step) int { return cmp.Compare(a.at, b.at) })
	low, middle, high := quantile(steps, 0.025), quantile(steps, 0.5), quantile(steps, 0.975)
	v := Value{math.Exp(middle), math.Exp(low), math.Exp(high)}
	const near = 0.5
	const far = 0.0025 // where a band is open, most meters lie that way, so that 2.5 % would leave out likely ones here
	if high > most-near {
		v.High, v.Low = math.NaN(), math.Exp(quantile(steps, far))
	}
	if low < least+near {
		v.Low = math.NaN()
		if !math.IsNaN(v.High) {
			v.High = math.Exp(quantile(steps, 1-far))
		}
	}
	if math.IsNaN(v.Low) && math.IsNaN(v.High) {
		return nothing
	}
	return v
}

// A step is a number and how likely it is.
type step struct{ at, share float64 }

// quantile is the number below which a share of rising steps lies: each lies half below
// itself, and straight lines between.
func quantile(steps []step, q float64) float64 {
	sum, below, before := 0.0, 0.0, math.Inf(-1)
	for n := 0; n < len(steps); {
		at, share := steps[n].at, 0.0
		for ; n < len(steps) && steps[n].at-at < 1e-12; n++ {
			share += steps[n].share
		}
		half := sum + share/2
		if half >= q {
			if math.IsInf(before, -1) {
				return at
			}
			return before + (at-before)*(q-below)/(half-below)
		}
		sum, below, before = sum+share, half, at
	}
	return before
}
