package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// Wanted is the share of full-scale current that the firmware means at a share of
// the dial.
func (h *HandCircuit) Wanted(share float64) float64 {
	if h.Codes {
		return h.Law.Inverse(share)
	}
	return share
}

// MovedBy is by what share of the dial a hand shows more when its current, a share
// of full scale, is more by so much; there is no less than none.
func (h *HandCircuit) MovedBy(current, more float64) float64 {
	more = max(more, -current)
	if h.Dial || h.Law.Kind == calc.Linear {
		return more
	}
	return h.Law.At(current+more) - h.Law.At(current)
}

// MostByGain is the most that a hand is off, a share of the dial, whose current is
// off by a share of itself: at full scale, or at a corner of its law's table.
func (h *HandCircuit) MostByGain(off float64) float64 {
	most := math.Abs(h.MovedBy(1, off))
	if h.Dial || h.Law.Kind != calc.Table {
		return most
	}
	for _, p := range h.Law.Points {
		for _, c := range [2]float64{p.Current, p.Current / (1 + off)} {
			if 0 < c && c < 1 {
				most = max(most, math.Abs(h.MovedBy(c, c*off)))
			}
		}
	}
	return most
}
