package bench

import (
	"math"
	"slices"
)

// dropTraceless takes out what reads at every point as the sound clock does: no reading
// tells it.
func (x *Bench) dropTraceless() {
	kept := x.all[:1]
	for _, a := range x.all[1:] {
		a.ways = slices.DeleteFunc(a.ways, func(w *way) bool {
			return slices.ContainsFunc(x.all[0].ways, func(sound *way) bool { return x.same(sound, w) })
		})
		if len(a.ways) > 0 {
			kept = append(kept, a)
		}
	}
	x.all = kept
}

// same says whether two ways read the same at every point.
func (x *Bench) same(a, b *way) bool {
	for j := range x.spots {
		if !x.sameAt(a, b, j) {
			return false
		}
	}
	return true
}

// sameAt says whether two ways read the same at a point.
func (x *Bench) sameAt(a, b *way, j int) bool {
	if x.spots[j].words != nil {
		for n := range a.chance[j] {
			if math.Abs(a.chance[j][n]-b.chance[j][n]) > 0.1 {
				return false
			}
		}
		return true
	}
	if x.spots[j].with == levels {
		return x.levelOf(a, j) == x.levelOf(b, j)
	}
	if math.IsInf(a.mean[j], 0) || math.IsInf(b.mean[j], 0) {
		return a.mean[j] == b.mean[j]
	}
	const within = 0.1 // deviations
	return math.Abs(a.mean[j]-b.mean[j]) <= within*math.Hypot(a.spread[j], x.noise(a, j, math.NaN()))
}

// levelOf is the level that an AC range shows: below the plan's, at it, above it.
func (x *Bench) levelOf(w *way, j int) int {
	plan, v := max(x.sound.mean[j], leastLevel), max(w.mean[j], leastLevel)
	switch {
	case v < plan/4:
		return -1
	case v > plan*4:
		return 1
	}
	return 0
}
