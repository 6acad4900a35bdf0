package faulty

import (
	"math"
	"math/cmplx"

	"example.com/needlewright/calc"
)

// A movement is what makes a place on the scale of a coil's current.
type movement struct {
	fullScale, sensitivity, polarity float64 // A, factor, ±1
	zero, stick, stop                float64 // shares of the scale
	law                              calc.Law
	bend                             float64 // by how much half is off, share
	class                            float64 // the class's error at half, share
	period, damping                  float64
}

// scale is the share of the scale for a share of full-scale current.
func (m *movement) scale(x float64) float64 {
	y := m.lawAt(x)
	if x > 0 && x < 1 {
		y += m.bend * 4 * x * (1 - x)
	}
	if y > 0 && y < 1 {
		y += m.class * 4 * y * (1 - y)
	}
	return y
}

func (m *movement) lawAt(x float64) float64 {
	switch {
	case m.law.Kind == calc.Square:
		return x * x
	case m.law.Kind == calc.Linear:
		return x
	case x < 0:
		return -m.lawAt(-x)
	}
	p := m.law.Points
	i := 1
	for i < len(p)-1 && x > p[i].Current {
		i++
	}
	return p[i-1].Scale + (x-p[i-1].Current)*(p[i].Scale-p[i-1].Scale)/(p[i].Current-p[i-1].Current)
}

// place is where the needle stands at a rail and a duty, by no friction or stop held.
func (h *hand) place(rail, duty float64) float64 {
	m := solve(h.chain(nowhere, 0, false), rail, duty, h.diodes)
	current := h.polarity * m.v[ofCase] / h.coil
	if h.law.Kind == calc.Square && duty > 0 && duty < 1 {
		current = math.Hypot(current, rail*h.rms(duty, func(w wave) complex128 { return w.coil }))
	}
	return h.zero + h.scale(current*h.sensitivity/h.fullScale)
}

// tremble is how far the needle moves to and fro with the pulses at half of all
// counts, share of the scale, the law left out.
func (h *hand) tremble(rail float64) float64 {
	const most, steps = 40, 400
	duty := float64(min(h.top, h.counts/2)) / float64(h.counts)
	own := 2 * math.Pi / h.period
	var parts [most + 1]complex128
	bound := 0.0
	for n := 1; n <= most; n++ {
		omega := 2 * math.Pi * h.pwm * float64(n)
		needle := complex(own*own, 0) / complex(own*own-omega*omega, 2*h.damping*own*omega)
		pulse := complex(2*rail*math.Sin(math.Pi*float64(n)*duty)/(math.Pi*float64(n)), 0)
		parts[n] = pulse * h.at(omega).coil * needle / complex(h.fullScale/h.sensitivity, 0)
		bound += 2 * cmplx.Abs(parts[n])
	}
	if bound < 1e-3 {
		return bound // far less than anybody sees
	}
	least, highest := math.Inf(1), math.Inf(-1)
	for i := range steps {
		sum := 0.0
		for n := 1; n <= most; n++ {
			sum += real(parts[n] * cmplx.Exp(complex(0, 2*math.Pi*float64(n*i%steps)/steps)))
		}
		least, highest = math.Min(least, sum), math.Max(highest, sum)
	}
	return highest - least
}

// trim sets the trimmer so that the needle stands at the top, by eye, as far as the
// trimmer goes.
func (c *Clock) trim(i int, eye float64) {
	h := &c.hands[i]
	if h.track == 0 || h.given {
		return
	}
	h.setting = bisect(0, h.track, func(ohms float64) float64 {
		h.setting = ohms
		s := state{hand: i, code: h.top, awake: true}
		return h.place(c.rail(s), c.duty(i, s)) - (1 + eye)
	})
}
