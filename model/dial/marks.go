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
	Numeral string // which not every dial has room for
}

// divisions are those of a dial by its whole time in minutes: large marks, small ones
// between, and what their numerals count to.
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
		marks[k] = Mark{
			Place: p.Mark(i, float64(k)/float64(d.small)), Large: k%(d.small/d.large) == 0, Numeral: strconv.Itoa(d.count * k / d.small),
		}
	}
	return marks
}

// Steps returns from which mark to which a dial may go on, the closest first, so that its
// ends are among them: every one, every second and so on, as long as no large one is left
// out, and last from the ends to the middle. Marks are as Marks returns them.
func Steps(marks []Mark) []int {
	if len(marks) == 0 {
		return nil
	}
	apart, last := 1, len(marks)-1
	for apart < last && !marks[apart].Large {
		apart++
	}
	var steps []int
	for step := 1; step <= apart; step++ {
		if apart%step == 0 {
			steps = append(steps, step)
		}
	}
	return append(steps, max(1, last/2))
}

// Every returns every so manieth of marks.
func Every(marks []Mark, step int) []Mark {
	var some []Mark
	for k := 0; k < len(marks); k += step {
		some = append(some, marks[k])
	}
	return some
}
