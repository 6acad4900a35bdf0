package unknown

import (
	"math"
	"math/rand/v2"
)

// Shares of the scale.
const (
	stop     = 0.05  // how far the stops stand beyond the ends
	seen     = 0.02  // the least move that a person tells from none. Source: the contract
	eyeError = 0.015 // Source: the contract
)

// A Multimeter is how well the person measures.
type Multimeter struct {
	Share  float64 // share of the reading by which it may be off
	Digits float64 // last digits by which it may be off besides
	Input  float64 // Ω, on volts
}

// A Connection is one time that something was connected to the meter. What is not there
// is 0 for the series resistor and +Inf for the one across. Currents are in A; those
// through the movement are positive where they drive the needle up.
type Connection struct {
	Ask            string
	Volts          float64 // the source, 1.5 or 9
	Series, Across float64 // Ω, nominal
	Movement       float64 // A, true
	Terminals      float64 // A, true, not negative
	Stated         float64 // A, what the survey says can pass the movement at most; NaN: it says nothing
}

// A Bench is a person with a meter, sources, resistors and a multimeter. Errors may be
// set to 0 before the first question.
type Bench struct {
	Meter       *Meter
	Cell, Block *Source // 1.5 V and 9 V; nil: none
	Multimeter  Multimeter
	Eye         float64 // share of the scale by which it may be off
	Tolerance   float64 // share, of the resistors
	AsMarked    bool    // the person does not measure resistors

	Most        float64        // the largest share of the movement's full scale that ever passed it
	Connections []Connection   // in their order
	Asked       map[string]int // how often each kind of question was asked
	Skipped     int            // connections asked for that this bench cannot make
	Problems    int            // answers that the survey could not read

	resistors map[float64]float64 // Ω, true by nominal
	turned    bool                // the leads
	random    drawer
}

// NewBench returns a bench for a meter, with a cell of 1.2 to 1.7 V and 0.3 to 1 Ω, a
// block of 7.5 to 9.6 V and 1.5 to 5 Ω (a used one, three in ten, to 40 Ω), and the
// contract's errors. One person in three does not measure resistors.
func NewBench(m *Meter, random *rand.Rand) *Bench {
	d := drawer{random}
	b := &Bench{
		Meter:      m,
		Cell:       &Source{d.within(1.2, 1.7), d.within(0.3, 1)},
		Block:      &Source{d.within(7.5, 9.6), d.within(1.5, 5)},
		Multimeter: Multimeter{Share: 0.008, Digits: 3, Input: 10e6},
		Eye:        eyeError,
		Tolerance:  0.05,
		AsMarked:   d.chance(1. / 3),
		Asked:      map[string]int{},
		resistors:  map[float64]float64{},
		random:     d,
	}
	if d.chance(0.3) {
		b.Block.Ohms = d.within(5, 40)
	}
	return b
}

// resistor is the true value of the bench's resistor of a nominal one, the same each
// time; ok is false where the bench has none.
func (b *Bench) resistor(nominal float64) (ohms float64, ok bool) {
	if !stocked(nominal) {
		return 0, false
	}
	if _, known := b.resistors[nominal]; !known {
		b.resistors[nominal] = nominal * (1 + b.random.around(b.Tolerance))
	}
	return b.resistors[nominal], true
}

// stocked says whether a value is of the series E6, 15 Ω to 10 MΩ. Source of the
// numbers: IEC 60063.
func stocked(ohms float64) bool {
	if !(ohms >= 15*(1-1e-9) && ohms <= 10e6*(1+1e-9)) {
		return false
	}
	decade := math.Pow(10, math.Floor(math.Log10(ohms*(1+1e-9))))
	for _, step := range []float64{1, 1.5, 2.2, 3.3, 4.7, 6.8} {
		if math.Abs(ohms/decade/step-1) < 1e-6 {
			return true
		}
	}
	return false
}

// source is the source that is called so, nil where there is none.
func (b *Bench) source(volts float64) *Source {
	switch volts {
	case 1.5:
		return b.Cell
	case 9:
		return b.Block
	}
	return nil
}
