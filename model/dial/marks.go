// Package dial is where the marks and numerals of a dial stand, as data.
package dial

import (
	"strconv"

	"example.com/needlewright/model/circuit"
)

// A Mark is a division of a dial.
type Mark struct {
	Place   float64 // share of the scale at which it stands, 0 to 1
	Large   bool
	Numeral string // of a large one, "" of others
}

// divisions are those of a dial by its whole time in minutes: large marks with a
// numeral, small ones between, and what the numerals count to.
var divisions = map[float64]struct{ large, small, count int }{
	720:  {4, 12, 12},
	1440: {4, 24, 24},
	60:   {4, 12, 60},
	1:    {4, 12, 60},
}

// Marks returns the marks of the i-th hand's dial in their order, the first and the
// last large; none where the hand shows a time that no dial is divided for.
func Marks(p *circuit.Plan, i int) []Mark {
	d, ok := divisions[p.Minutes(i)]
	if !ok {
		return nil
	}
	marks := make([]Mark, d.small+1)
	for k := range marks {
		m := &marks[k]
		m.Place = p.Mark(i, float64(k)/float64(d.small))
		if k%(d.small/d.large) == 0 {
			m.Large, m.Numeral = true, strconv.Itoa(d.count*k/d.small)
		}
	}
	return marks
}

// Sparse returns the large ones of marks at the ends and in the middle, for a dial
// without room for more numerals.
func Sparse(marks []Mark) []Mark {
	if len(marks) == 0 {
		return nil
	}
	last := len(marks) - 1
	return []Mark{marks[0], marks[last/2], marks[last]}
}
