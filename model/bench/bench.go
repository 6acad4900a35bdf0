package bench

import (
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Bench is a build with all that may be wrong with it, worked out for every test point.
// Nothing changes it any more: readings are weighed against it.
type Bench struct {
	build    *model.Build
	spots    []spot
	unknowns []unknown
	all      []*candidate // the first is nothing
	sound    *way         // of the clock as planned, by which readings are judged
	circuit  *circuit.Circuit
	uses     []use // of the cells
	bent     bool  // the converter passes fresh cells through and converts used ones
}

// A spot is a test point of a build.
type spot struct {
	*point
	id     string
	index  int // of its hand, lamp or button
	hand   int // whose it is, -1 of the clock
	stop   float64
	tapped int // the point that shows its friction, of a needle that is not tapped; else -1
}

// spotOf is the test point of a hand by its id, -1 where it has none.
func (x *Bench) spotOf(hand int, id string) int {
	return slices.IndexFunc(x.spots, func(s spot) bool { return s.hand == hand && s.point.id == id })
}

// read is what all points read in a scene.
func (x *Bench) read(s *scene) []float64 {
	values := make([]float64, len(x.spots))
	for j := range x.spots {
		if p := &x.spots[j]; p.value != nil {
			values[j] = p.value(s, p.index)
		}
	}
	return values
}

// noise is the deviation of a reading of a point about what a way makes of it; digit is
// what the last digit of a reading means, NaN where that is the display's.
func (x *Bench) noise(w *way, j int, digit float64) float64 {
	if math.IsNaN(digit) {
		return w.noise[j]
	}
	return x.noiseOf(w, j, digit)
}

// noiseOf works that out.
func (x *Bench) noiseOf(w *way, j int, digit float64) float64 {
	p := &x.spots[j]
	stick := 0.0
	if p.tapped >= 0 {
		stick = math.Abs(w.mean[p.tapped])
	}
	limit := p.with.limit(&x.build.Meter, w.mean[j], digit, stick)
	if p.unit == quantity.SecondsPerDay {
		limit += w.extra
	}
	return spread(max(limit, 1e-12))
}
