package bench

import (
	"math"

	"example.com/needlewright/model/circuit"
)

// A circumstance is what is wrong in a clock, as far as words need it.
type circumstance struct {
	causes []string
	hands  []int // whose each is, -1 of the clock
}

// has says whether a cause is there, of a hand or of the clock.
func (k *circumstance) has(id string, hand int) bool {
	for n, c := range k.causes {
		if c == id && (k.hands[n] < 0 || k.hands[n] == hand) {
			return true
		}
	}
	return false
}

// The contract's limits of a needle that trembles, shares of the scale; and by what chance
// something is seen that may be.
const (
	seesTremble, maySeeTremble = 0.005, 0.002
	may                        = 0.5
	hardly                     = 0.002 // that a word is said which does not fit
)

// moves are the chances of what is seen of a needle that is left alone.
func moves(s *scene, i int, k *circumstance) []float64 {
	trembles, jumps, drifts := 0.0, 0.0, 0.0
	switch ripple := s.ripple(i); {
	case ripple > seesTremble:
		trembles = 1
	case ripple > maySeeTremble:
		trembles = may
	}
	if k.has("needle_sticks", i) || k.has("contacts_bad", i) {
		jumps = may
	}
	if k.has("capacitor_leaky", i) || k.has("cells_weak", i) {
		drifts = may
	}
	trembles = min(trembles, 1-max(jumps, drifts)/2)
	steady := max(0, 1-trembles-jumps-drifts)
	return likely(steady, trembles, jumps, drifts)
}

// ripple is by how much a needle trembles, a share of its scale.
func (s *scene) ripple(i int) float64 {
	p := circuit.Plan{Circuit: *s.c, Hands: make([]circuit.HandPlan, len(s.c.Hands))}
	p.SolveHand(i, circuit.Ripple)
	if d := s.duty(i, s.planTop(i)); !(d > 0 && d < 1) {
		return 0
	}
	return orNothing(p.Hands[i].RippleNeedle / s.c.Hands[i].Minutes)
}

// lights are the chances of what is seen of a lamp.
func lights(s *scene, i int, _ *circumstance) []float64 {
	l := &s.c.Lamps[i]
	switch {
	case l.ShareAsleep > 0:
		return likely(0, 0, 1)
	case s.reset || !(l.Current(s.on.rail) > 0) || l.Share == 0:
		return likely(0, 1, 0)
	}
	return likely(1, 0, 0)
}

// likely makes chances of shares: a word that does not fit is hardly said.
func likely(shares ...float64) []float64 {
	sum := 0.0
	for i := range shares {
		shares[i] = math.Max(shares[i], hardly)
		sum += shares[i]
	}
	for i := range shares {
		shares[i] /= sum
	}
	return shares
}
