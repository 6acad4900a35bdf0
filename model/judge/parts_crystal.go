package judge

import (
	"math"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// loadCapacitorOptions are pairs of E24 by the rate they leave; one that is of E12
// too goes before one as near that is not.
func (s subject) loadCapacitorOptions() [][]model.Change {
	const scarcer = 1.0 // ppm that a pair may leave less for each that is not of E12
	type pair struct{ in, out float64 }
	var list shortlist[pair]
	plan := *s.p
	c := &plan.Circuit.Crystal
	for k, in := range model.LoadCapacitors {
		if in < 2e-12 || in > 33e-12 { // less is lost in the stray, more starts badly
			continue
		}
		for j, out := range model.LoadCapacitors[k:] {
			if out > 3*in {
				break
			}
			c.In, c.Out = in, out
			plan.Solve(circuit.Time)
			var score score
			for r := range crystalRules {
				severity, _ := crystalRules[r].grade(subject{s.b, &plan, 0})
				score.add(severity)
			}
			off := scarcer * (number01(!ofE12(k)) + number01(!ofE12(k+j)))
			if left := plan.Crystal.LoadOffset; !math.IsNaN(left) {
				off += math.Abs(left)
			}
			list.add(pair{in, out}, ranked(score, off, out/in))
		}
	}
	return list.changes(func(p pair) []model.Change {
		return []model.Change{
			s.size("crystal.capacitor_in", p.in, loadCapacitorTolerance),
			s.size("crystal.capacitor_out", p.out, loadCapacitorTolerance),
		}
	})
}

// ofE12 says whether the k-th of E24 is of E12 too: every other one is.
func ofE12(k int) bool { return k%2 == 0 }
