package circuit

import (
	"math"
)

// Wanted is the share of full-scale current that the firmware means at a share of
// the dial; below zero in the first half of a bridge.
func (h *HandCircuit) Wanted(share float64) float64 {
	if h.Bridge {
		share = 2*share - 1
	}
	if h.Codes {
		return math.Copysign(h.Law.Inverse(math.Abs(share)), share)
	}
	return share
}

// MovedBy is by what share of the dial a hand shows more when its current, a share
// of full scale, is more by so much; there is no less than none, but of a bridge.
func (h *HandCircuit) MovedBy(current, more float64) float64 {
	if h.Bridge {
		if h.Dial {
			return h.Reach * more
		}
		law := func(x float64) float64 { return math.Copysign(h.Law.At(math.Abs(x)), x) }
		return h.Reach * (law(current+more) - law(current))
	}
	more = max(more, -current)
	if h.Dial || h.Law.IsEven() {
		return more
	}
	return h.Law.At(current+more) - h.Law.At(current)
}

// FromRest is how far a share of the dial is from where the needle rests: 0 there, 1 where
// full-scale current brings it.
func (h *HandCircuit) FromRest(share float64) float64 {
	return math.Abs(share-h.middle()) / h.Reach
}

// MostByGain is the most that a hand is off, a share of the dial, whose current is
// off by a share of itself: at full scale, or at a corner of its law's table.
func (h *HandCircuit) MostByGain(off float64) float64 {
	most := math.Abs(h.MovedBy(1, off))
	if h.Dial {
		return most
	}
	for _, p := range h.Law.Corners() {
		corner := h.Law.From + (1-h.Law.From)*p.Current
		for _, c := range [2]float64{corner, corner / (1 + off)} {
			if 0 < c && c < 1 {
				most = max(most, math.Abs(h.MovedBy(c, c*off)))
			}
		}
	}
	return most
}
