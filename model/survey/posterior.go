package survey

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// A posterior is what all readings leave of the meter.
type posterior struct {
	resistance, fullScale, volts Value
	power                        float64 // of the law
}

// A window is a part of the plane of resistance and full scale, both by their logarithms.
type window struct{ low, high [2]float64 }

// The meters that there are: 1 mΩ to 30 MΩ, 0.1 µA to 300 A.
var everything = window{[2]float64{math.Log(1e-3), math.Log(1e-7)}, [2]float64{math.Log(30e6), math.Log(300)}}

// posterior weighs all meters against all readings, on a grid that is drawn in about what is
// likely.
func (d *dialogue) posterior() posterior {
	p := posterior{power: 1}
	power, seen := d.law()
	switch {
	case seen && power > 0:
		p.power = power
	case !seen && (d.kind == "moving iron" || d.kind == "thermal"):
		p.power = 2
	}
	const steps = 40
	w := everything
	for range 6 {
		next, narrower := w.around(d.weigh(w, steps, p.power, []bend{{0, 1}}))
		if w = next; !narrower {
			break
		}
	}
	grid := d.weigh(w.wider(), steps, p.power, bends)
	w = w.wider()
	sides := [2][]float64{make([]float64, steps), make([]float64, steps)}
	volts := map[int]float64{}
	for i, row := range grid {
		for j, share := range row {
			sides[0][i] += share
			sides[1][j] += share
			volts[int(math.Round((w.at(0, i, steps)+w.at(1, j, steps))*100))] += share
		}
	}
	p.resistance, p.fullScale = w.value(sides[0], 0, everything), w.value(sides[1], 1, everything)
	p.volts = valueOf(volts)
	return p
}

// at is a step of a side, a logarithm.
func (w *window) at(side, n, steps int) float64 {
	return w.low[side] + (w.high[side]-w.low[side])*(float64(n)+0.5)/float64(steps)
}

// around is the part of a window that holds all but next to nothing; narrower is false where
// that is most of it.
func (w *window) around(grid [][]float64) (part window, narrower bool) {
	steps := len(grid)
	const little = 1e-5
	part = *w
	for side := range 2 {
		sums := make([]float64, steps)
		for i, row := range grid {
			for j, share := range row {
				sums[[2]int{i, j}[side]] += share
			}
		}
		from, to := 0, steps-1
		for tail := sums[from]; tail < little && from < to; tail += sums[from] {
			from++
		}
		for tail := sums[to]; tail < little && to > from; tail += sums[to] {
			to--
		}
		step := (w.high[side] - w.low[side]) / float64(steps)
		part.low[side], part.high[side] = w.low[side]+float64(max(from-1, 0))*step, w.low[side]+float64(min(to+2, steps))*step
		if part.high[side]-part.low[side] < 0.7*(w.high[side]-w.low[side]) {
			narrower = true
		}
	}
	return part, narrower
}

// value is what the shares of a side leave: its middle, and the band that holds 95 %. It has
// no bound where the band comes to the end of everything.
func (w *window) value(shares []float64, side int, all window) Value {
	quantile := func(q float64) float64 {
		sum := 0.0
		for n, share := range shares {
			if sum+share >= q {
				return w.low[side] + (w.high[side]-w.low[side])*(float64(n)+(q-sum)/share)/float64(len(shares))
			}
			sum += share
		}
		return w.high[side]
	}
	v := Value{math.Exp(quantile(0.5)), math.Exp(quantile(0.025)), math.Exp(quantile(0.975))}
	const near = 0.5
	if quantile(0.025) < all.low[side]+near {
		v.Low = math.NaN()
	}
	if quantile(0.975) > all.high[side]-near {
		v.High = math.NaN()
	}
	return v
}

// valueOf is the same of shares by hundredths of a logarithm.
func valueOf(shares map[int]float64) Value {
	low, high := math.MaxInt, math.MinInt
	for k := range shares {
		low, high = min(low, k), max(high, k)
	}
	quantile := func(q float64) float64 {
		sum := 0.0
		for k := low; k <= high; k++ {
			if sum += shares[k]; sum >= q {
				return math.Exp(float64(k) / 100)
			}
		}
		return math.Exp(float64(high) / 100)
	}
	return Value{quantile(0.5), quantile(0.025), quantile(0.975)}
}

// weigh is how likely each meter of a grid is, all together 1.
func (d *dialogue) weigh(w window, steps int, power float64, bends []bend) [][]float64 {
	logs, most := make([][]float64, steps), math.Inf(-1)
	for i := range steps {
		logs[i] = make([]float64, steps)
		for j := range steps {
			ohms, fullScale := math.Exp(w.at(0, i, steps)), math.Exp(w.at(1, j, steps))
			logs[i][j] = math.Inf(-1)
			for _, b := range bends {
				m := meter{ohms, fullScale, power, b.by}
				logs[i][j] = sumOfLogs(logs[i][j], math.Log(b.share)+d.likelihood(&m))
			}
			most = max(most, logs[i][j])
		}
	}
	sum := 0.0
	for _, row := range logs {
		for j := range row {
			row[j] = math.Exp(row[j] - most)
			sum += row[j]
		}
	}
	for _, row := range logs {
		for j := range row {
			row[j] /= sum
		}
	}
	return logs
}

// A meter is what may be there: its resistance, Ω, and its full scale, A, at the terminals,
// the power of the current that its needle follows, and by how much half of its scale is off.
type meter struct{ ohms, fullScale, power, bend float64 }

// A bend is by how much half of a scale is off, and how many meters have it.
type bend struct{ by, share float64 }

// bends are those of meters as they are met. Common practice, no source.
var bends = []bend{{-0.11, 0.012}, {-0.07, 0.012}, {0, 0.952}, {0.07, 0.012}, {0.11, 0.012}}

// sumOfLogs is the logarithm of a sum of two.
func sumOfLogs(a, b float64) float64 {
	if a < b {
		a, b = b, a
	}
	if math.IsInf(b, -1) {
		return a
	}
	return a + math.Log1p(math.Exp(b-a))
}

// wider is a window with a half more on each side.
func (w window) wider() window {
	for side := range 2 {
		by := min((w.high[side]-w.low[side])/2, 0.3)
		w.low[side], w.high[side] = w.low[side]-by, w.high[side]+by
	}
	return w
}

// likelihood is the logarithm of how likely the readings are of a meter. What sources and resistors are off is common to all
// readings with them.
func (d *dialogue) likelihood(m *meter) float64 {
	log := 0.0
	var miss, noise []float64
	var rows [][]float64 // by what is common, each reading's
	common := map[string]int{}
	add := func(name string, n int, by float64) {
		row, ok := common[name]
		if !ok {
			row = len(rows)
			common[name] = row
			rows = append(rows, nil)
		}
		for len(rows[row]) <= n {
			rows[row] = append(rows[row], 0)
		}
		rows[row][n] += by
	}
	for i := range d.readings {
		r := &d.readings[i]
		v, rs := d.volts(r.at), d.ohms(r.at.Series)
		here := d.predict(r, v.value, rs.value, m)
		if r.word == "none" || r.word == "" && !r.terminals && math.Abs(d.moved(r)) < none {
			const unsure = 0.01
			log += math.Log(max(distuv.UnitNormal.CDF((none+unsure-here)/unsure), 1e-9))
			continue
		}
		n := len(miss)
		if r.terminals {
			miss, noise = append(miss, r.value-here), append(noise, even(ofMeter(r.value).half))
		} else {
			const sticks = 0.0035 // a tapped needle, one deviation
			miss, noise = append(miss, math.Abs(d.moved(r))-here), append(noise, math.Hypot(even(eye), sticks)/d.span())
			add("rest", n, even(rests)/d.span())
		}
		name := "source " + sourceName(d, r.at)
		add(name, n, (d.predict(r, v.value*1.001, rs.value, m)-here)/0.001*even(v.half)/v.value)
		add("resistor "+quantityName(r.at.Series), n, (d.predict(r, v.value, rs.value*1.001, m)-here)/0.001*even(rs.half)/rs.value)
	}
	n := len(miss)
	if n == 0 {
		return log
	}
	cov := mat.NewSymDense(n, nil)
	for a := range n {
		for b := 0; b <= a; b++ {
			sum := 0.0
			for _, row := range rows {
				if a < len(row) && b < len(row) {
					sum += row[a] * row[b]
				}
			}
			if a == b {
				sum += noise[a] * noise[a]
			}
			cov.SetSym(a, b, sum)
		}
	}
	var c mat.Cholesky
	if !c.Factorize(cov) {
		return -1e9
	}
	x, to := mat.NewVecDense(n, miss), mat.NewVecDense(n, nil)
	if err := c.SolveVecTo(to, x); err != nil && n > 40 {
		return -1e9
	}
	return log - (mat.Dot(x, to)+c.LogDet())/2
}

// predict is what a reading would be of a meter: volts, or share of its scale.
func (d *dialogue) predict(r *reading, volts, series float64, m *meter) float64 {
	if r.terminals {
		together := m.ohms * input / (m.ohms + input)
		return volts * together / (series + together)
	}
	x := volts / (series + m.ohms) / m.fullScale
	y := math.Pow(x, m.power)
	if x < 1 {
		y += m.bend * 4 * x * (1 - x)
	}
	return y
}

// span is what share of the scale is full scale.
func (d *dialogue) span() float64 {
	if d.centre() {
		return 0.5
	}
	return 1
}

// even is the deviation of what lies evenly within a limit.
func even(limit float64) float64 { return limit / math.Sqrt(3) }
