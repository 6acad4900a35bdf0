package survey

import "math"

// currentShare is the most of full-scale current that a share of the scale may stand for: a
// scale that is found linear, or a coil's, may be uneven; any other may be a moving iron's, the
// square root of it.
func (d *dialogue) currentShare(y float64) float64 {
	law, known := d.law()
	switch {
	case y >= 1:
		return y
	case known && law == 1 || d.kind == "moving coil" || d.kind == "rectifier":
		const lags = 0.3
		return y + lags*y*(1-y)
	}
	return math.Sqrt(y)
}

// law is the power of the current that the needle follows, by two readings that are far
// enough apart; known is false without.
func (d *dialogue) law() (power float64, known bool) {
	const told, apart = 0.08, 1.6 // of the scale; times the current
	var least, most *reading
	for n := range d.readings {
		r := &d.readings[n]
		switch {
		case r.terminals || r.word != "" || math.Abs(d.moved(r)) < told:
		case least == nil:
			least, most = r, r
		case d.through(r.at) > d.through(most.at):
			most = r
		case d.through(r.at) < d.through(least.at):
			least = r
		}
	}
	if least == nil || d.through(most.at) < apart*d.through(least.at) {
		return 1, false
	}
	return nearest(math.Log(math.Abs(d.moved(most)/d.moved(least))) / math.Log(d.through(most.at)/d.through(least.at))), true
}

// nearest is the law's power that is nearest: linear or square; 0 of neither.
func nearest(power float64) float64 {
	switch {
	case power > 0.75 && power < 1.3:
		return 1
	case power > 1.6 && power < 2.5:
		return 2
	}
	return 0
}
