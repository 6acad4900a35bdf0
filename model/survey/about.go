package survey

import "math"

// likelyRest is where the needle rests, as it was read, a little nearer to where it should,
// and one deviation of it: most meters rest within 2 % of their zero. Common practice, no
// source.
func (d *dialogue) likelyRest() (at, unsure float64) {
	const usual, most = 0.012, 0.005
	zero := math.Round(2*d.rest) / 2
	read := even(rests)
	nearer := usual * usual / (usual*usual + read*read)
	by := (1 - nearer) * (d.rest - zero)
	return d.rest - min(max(by, -most), most), read * math.Sqrt(nearer)
}

// about is where to look for the meter: what each reading by itself leaves, with room.
func (d *dialogue) about(s *sort) window {
	in := everything
	resistance, fullScale := side{}, side{}
	least := math.Inf(1) // that the terminals have shown at most, Ω
	for i := range d.readings {
		if r := &d.readings[i]; r.terminals {
			b := d.boundsOf(r)
			least = min(least, b.high)
			if s.drop > 0 { // it has less at full scale than at a little current
				b.low = 0
			}
			resistance.narrow(b.low/1.3, b.high*1.3)
		}
	}
	if s.drop > 0 && !math.IsInf(least, 1) {
		resistance.narrow(least/5, math.Inf(1))
	}
	resistance.clip(&in, 0)
	for i := range d.readings {
		r := &d.readings[i]
		if r.terminals {
			continue
		}
		moved := math.Abs(d.moved(r))
		up := math.Pow(moved+0.08/d.span(), 1/s.power)
		down := math.Pow(max(moved-0.08/d.span(), 0), 1/s.power)
		v, rs := d.volts(r.at), d.ohms(r.at.Series)
		least, most := v.value/(rs.value+math.Exp(in.high[0]))/1.2, v.value/rs.value*1.2
		if s.drop > 0 {
			least *= max(1-2*s.drop/v.value, 0.03)
		}
		fullScale.narrow(least/up/1.3, most/down*1.3)
	}
	fullScale.clip(&in, 1)
	return in
}

// A side is what some bounds leave together, or all of them where they contradict each other.
type side struct{ lows, highs []float64 }

func (s *side) narrow(low, high float64) {
	s.lows, s.highs = append(s.lows, low), append(s.highs, high)
}

// clip makes a side of a window as narrow as the bounds.
func (s *side) clip(in *window, n int) {
	if len(s.lows) == 0 {
		return
	}
	low, high := in.low[n], in.high[n]
	for k := range s.lows {
		low, high = max(low, math.Log(s.lows[k])), min(high, math.Log(s.highs[k]))
	}
	if low < high {
		in.low[n], in.high[n] = low, high
	}
}
