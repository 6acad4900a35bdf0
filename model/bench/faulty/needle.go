package faulty

import (
	"math"
	"math/cmplx"

	"example.com/needlewright/calc"
)

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
