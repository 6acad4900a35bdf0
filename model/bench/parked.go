package bench

import (
	"math"

	"example.com/needlewright/calc"
)

// A parkedRail is the rail while a hand is parked at a code, its trimmer so set.
type parkedRail struct {
	hand          int
	code, setting float64 // setting: Ω, NaN where the trimmer is set for full scale
	rail          float64 // V
}

// parked is the rail while a hand is parked at a code, the lamps dark.
func (s *scene) parked(i int, code float64) float64 {
	if s.c.Battery.Present && s.c.Battery.Pack.Supply.Kind != calc.NoConverter && s.on.rail == s.c.Rail*(1+s.drift) {
		return s.on.rail // held
	}
	setting := s.c.Hands[i].Setting
	for n := range s.rails {
		if r := &s.rails[n]; r.hand == i && r.code == code && (r.setting == setting || math.IsNaN(r.setting) && math.IsNaN(setting)) {
			return r.rail
		}
	}
	rail := s.supply(func(rail float64) float64 { return s.awake(rail, i, code, false) }, true, 0).rail
	s.rails = append(s.rails, parkedRail{i, code, setting, rail})
	return rail
}
