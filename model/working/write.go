package working

import (
	"errors"
	"fmt"
	"math"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Step is one line of a working.
type Step struct {
	Words      string
	Expression string
	Answer     string
	Exact      bool // false: the expression comes near the answer, within Near
}

// Near is how near a line that is not exact comes to its answer.
const Near = 0.02

// rounding is what a result may be off by the plan's own rounding.
func rounding(o circuit.Outcome) float64 {
	return o.Hair() * scale(o.Unit)
}

// write prints what an expression comes to, each of its letters that has a line first, in the
// fewest digits with which the last line tells a value.
func (d *desk) write(e *expression, words string, u quantity.Unit, value, rounding float64) ([]Step, error) {
	last := &letter{words: words, unit: u}
	if e.op == 'l' && e.letter.of != nil { // the last line is that of a letter
		last.of = e.letter.of
	} else {
		last.of = e
	}
	lines := append(d.needed(last), last)
	value *= scale(u)
	var steps []Step
	var failed error
	for digits := max(usual, d.digits); digits <= most; digits++ {
		for _, least := range [...]int{usual, fewest} {
			tried, err := printLines(lines, digits, min(digits, least))
			if err != nil {
				failed = err
				continue
			}
			steps = tried
			if tells(steps[len(steps)-1].Answer, value, rounding) && enough(steps[len(steps)-1].Answer) {
				return steps, nil
			}
		}
	}
	if last.of.cancels() > tooNear {
		return nextToNothing(steps, last, value), nil
	}
	if failed == nil {
		failed = fmt.Errorf("%s comes to %v, and the plan has %v", last.of.line(), last.of.value(), value)
	}
	return nil, failed
}

// nextToNothing are steps of which the last one is so small beside what it is the difference
// of that no calculator has its digits.
func nextToNothing(steps []Step, last *letter, value float64) []Step {
	words := last.words + ", next to nothing"
	if len(steps) == 0 {
		text := answer(exactly(value), last.unit, usual, usual, fewest)
		return []Step{{words, text, text, false}}
	}
	end := &steps[len(steps)-1]
	if x, _ := Read(end.Expression); math.Abs(x-value) > Near*math.Abs(value) {
		value = x // not even its size is sure
	}
	*end = Step{words, end.Expression, answer(exactly(value), last.unit, usual, usual, fewest), false}
	return steps
}

// tooNear is by how much of what is added up a sum may be smaller before no calculator has
// its digits.
const tooNear = 1e8

// enough says whether an answer has the digits that are promised.
func enough(answer string) bool { return digitsOf(answer) >= fewest || digitsOf(answer) == 0 }

// needed are the letters that an expression needs a line for, in the order in which they were
// found; and those whose line stands in any case.
func (d *desk) needed(last *letter) []*letter {
	wanted := map[*letter]bool{}
	var visit func(l *letter)
	visit = func(l *letter) {
		if !wanted[l] {
			wanted[l] = true
			if l.of != nil {
				l.of.letters(visit)
			}
		}
	}
	last.of.letters(visit)
	for _, e := range d.also {
		e.letters(visit)
	}
	for _, l := range d.order {
		if l.keep {
			visit(l)
		}
	}
	var lines []*letter
	for _, l := range d.order {
		if wanted[l] {
			lines = append(lines, l)
		}
	}
	return lines
}

// errAnother says that with so few digits a whole number comes out another.
var errAnother = errors.New("too few digits for a whole number")

// printLines prints lines: answers in so many digits, the last one in at least so many.
func printLines(lines []*letter, digits, least int) ([]Step, error) {
	var steps []Step
	for k, l := range lines {
		if l.of == nil { // it is taken from elsewhere
			l.text = answer(exactly(l.x), l.unit, digits, digits+1, 1)
			steps = append(steps, Step{l.words, l.text, l.text, true})
			continue
		}
		text := l.of.line()
		s, err := compute(text)
		if err != nil {
			return nil, err
		}
		if l.of.op == 'f' && l.of.name == "floor" && s.x != l.x {
			return nil, errAnother
		}
		if math.IsNaN(s.x) || math.IsInf(s.x, 0) {
			return nil, fmt.Errorf("%s comes to no number", text)
		}
		l.text = answer(s, l.unit, digits, digits+1, 1)
		if k == len(lines)-1 {
			l.text = answer(s, l.unit, least, least, fewest)
		}
		steps = append(steps, Step{l.words, text, l.text, true})
	}
	return steps, nil
}

// noDust is a result's value, without what mere rounding makes of 0.
func noDust(id string, x float64) float64 {
	for k := range circuit.Results {
		if r := &circuit.Results[k]; r.ID == id && math.Abs(x) <= (circuit.Outcome{Result: r, Value: x}).Hair() {
			return 0
		}
	}
	return x
}
