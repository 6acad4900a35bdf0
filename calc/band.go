package calc

import "math"

// bandFactors are points of the 95 % factor of a sum of rectangulars over its
// concentration, falling; straight lines between, level beyond.
var bandFactors = [...]struct{ concentration, factor float64 }{
	{1, 1.645}, {0.905, 1.713}, {0.82, 1.768}, {0.68, 1.83}, {0.58, 1.87}, {0.5, 1.902}, {0.34, 1.94}, {0.25, 1.96},
}

// BandFactor returns by how many standard deviations the central 95 % of a sum
// of rectangular spreads reaches to either side of its middle, for the sum's
// concentration, 0 to 1 (see Spread.Concentration). That alone does not settle
// it: the factor is at most 0.005 too small and, where one input stands out
// among many small ones, up to 0.05 too large.
//
// Source: [Catalogue], Bands; [JCGM100] G.2
func BandFactor(concentration float64) float64 {
	last := bandFactors[0]
	if concentration >= last.concentration {
		return last.factor
	}
	for _, p := range bandFactors[1:] {
		if concentration >= p.concentration {
			share := (concentration - p.concentration) / (last.concentration - p.concentration)
			return p.factor + share*(last.factor-p.factor)
		}
		last = p
	}
	return last.factor
}

// A Spread collects how far each ± input, independent of the others and
// rectangular between its ends, moves a result. The zero Spread is one of a
// result that nothing moves.
//
// Source: [Catalogue], Bands; [JCGM100] 4.3.7, 5.1.2
type Spread struct {
	up, down      float64 // sums of the squares of what Add is told
	both, fourths float64 // of the squares of their halved sum, and of its fourth powers
}

// Add adds an input that moves the result up and down by so much at its two
// ends, both 0 or more, in the result's unit.
func (s *Spread) Add(up, down float64) {
	s.up += up * up
	s.down += down * down
	square := (up + down) / 2 * (up + down) / 2
	s.both += square
	s.fourths += square * square
}

// Share returns the share, 0 to 1, that an added input has in the spread, given
// what it was added with. 0 where nothing moves the result.
func (s *Spread) Share(up, down float64) float64 {
	if s.both == 0 {
		return 0
	}
	return (up + down) / 2 * (up + down) / 2 / s.both
}

// Concentration returns the sum of the squares of the inputs' shares: 1 where one
// input makes the whole spread, 1/n where n make it evenly, 0 where none does.
func (s *Spread) Concentration() float64 {
	if s.both == 0 {
		return 0
	}
	return s.fourths / s.both / s.both
}

// Low returns the lower end of the central 95 % of a result of the given value.
func (s *Spread) Low(value float64) float64 { return value - s.reach(s.down) }

// High returns the upper end of the central 95 % of a result of the given value.
func (s *Spread) High(value float64) float64 { return value + s.reach(s.up) }

// reach is the way from a result's value to the end of its band.
func (s *Spread) reach(squares float64) float64 {
	return BandFactor(s.Concentration()) * math.Sqrt(squares/3)
}
