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
// counts, share of the scale, the law left out; where that is far less than anybody
// sees, no less than it.
func (h *hand) tremble(rail float64) float64 {
	parts, most := h.swings(rail), 0.0
	for _, p := range parts {
		most += 2 * cmplx.Abs(p)
	}
	if most < 1e-3 {
		return most
	}
	return toAndFro(parts)
}

// swings are the needle's harmonics from the first on.
func (h *hand) swings(rail float64) []complex128 {
	duty := math.Min(1, float64(min(h.top, h.counts/2)+h.offset)/float64(h.counts))
	own := 2 * math.Pi / h.period
	parts := make([]complex128, 40)
	for i := range parts {
		n := float64(i + 1)
		omega := 2 * math.Pi * h.pwm * n
		needle := complex(own*own, 0) / complex(own*own-omega*omega, 2*h.damping*own*omega)
		pulse := complex(2*rail*math.Sin(math.Pi*n*duty)/(math.Pi*n), 0)
		parts[i] = pulse * h.at(omega).coil * needle / complex(h.fullScale/h.sensitivity, 0)
	}
	return parts
}

// toAndFro is from the least to the most of a sum of harmonics.
func toAndFro(parts []complex128) float64 {
	const steps = 400
	least, most := math.Inf(1), math.Inf(-1)
	for i := range steps {
		sum := 0.0
		for k, p := range parts {
			sum += real(p * cmplx.Exp(complex(0, 2*math.Pi*float64((k+1)*i%steps)/steps)))
		}
		least, most = math.Min(least, sum), math.Max(most, sum)
	}
	return most - least
}
