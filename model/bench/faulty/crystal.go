package faulty

import "math"

// A crystal is what the clock counts, and how it counts. Frequencies in Hz, offsets in
// ppm, capacitances in F, times in s.
type crystal struct {
	frequency                    float64
	in, out, stray               float64
	motional, shunt, load        float64
	bench, days                  float64 // ppm beside the load's: as read at the bench, over days
	prescale, bits, reload, lost int
	counted                      float64 // s, what the program adds a tick
	off                          float64 // share, of a clock that is not the crystal's
	stopped                      bool
	measured                     bool
	known, countsKnown           bool // its frequency can be told; the counter is given
	sound                        float64
}

// loadOffset is how far the crystal runs off with its load. Source: the catalogue.
func (x *crystal) loadOffset() float64 {
	series := 0.0
	if x.in > 0 && x.out > 0 {
		series = x.in * x.out / (x.in + x.out)
	} else if math.IsNaN(x.in + x.out) {
		series = math.NaN()
	}
	return 1e6 * x.motional / 2 * (1/(x.shunt+series+x.stray) - 1/(x.shunt+x.load))
}

// hertz is the frequency of the clock that is counted, with an offset beside the load's.
func (x *crystal) hertz(beside float64) float64 {
	load := x.loadOffset()
	if x.measured {
		load -= x.sound
	}
	if math.IsNaN(load) {
		load = 0
	}
	return x.frequency * (1 + 1e-6*(load+beside)) * (1 + x.off)
}

// tick is how long the counter takes from one overflow to the next.
func (x *crystal) tick(beside float64) float64 {
	return float64(x.prescale) * (math.Exp2(float64(x.bits)) - float64(x.reload) + float64(x.lost)) / x.hertz(beside)
}

// drift is the seconds a day by which the clock gains.
func (x *crystal) drift() float64 { return 86400 * (x.counted/x.tick(x.days) - 1) }
