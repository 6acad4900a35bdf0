package working

import (
	"fmt"
	"math"

	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A candidate is a check that can be done by hand of a number that was found by trying, or
// step by step.
type candidate struct {
	words   string
	formula string
	wants   float64       // what it should come to, to a calculator; 0: the result, NaN: nothing, it is the last resort
	unit    quantity.Unit // of that
	alone   bool          // the last resort was taken: it comes near nothing
}

// nearEnough is how near a candidate must be; what is printed of it then is within Near.
const nearEnough = 0.9 * Near

// put enters a letter that was found by trying. Its line comes next.
func (d *desk) put(name, words string, u quantity.Unit, x float64) {
	l := &letter{words: words, unit: u, x: x}
	l.text = quantity.Format(quantity.Value{Number: x / scale(u)}, u)
	d.order = append(d.order, l)
	d.letters[fmt.Sprintf("%d %s", d.of, name)] = &expression{op: 'l', letter: l}
}

// found enters a number without a name that others could use, which was found by trying.
func (d *desk) found(words string, x float64) *expression {
	l := &letter{words: words, unit: quantity.Times, x: x, text: quantity.Format(quantity.Value{Number: x}, quantity.Times)}
	d.order = append(d.order, l)
	return &expression{op: 'l', letter: l}
}

// let enters a letter with a formula.
func (d *desk) let(name, words string, u quantity.Unit, formula string) {
	d.letters[fmt.Sprintf("%d %s", d.of, name)] = d.define(&letter{words: words, unit: u}, d.formula(formula))
}

// first finds letters so that their lines come before those of others.
func (d *desk) first(names ...string) {
	for _, name := range names {
		d.letterOf(name)
	}
}

// nearly is the working of a number that was found step by step: it, and the first candidate
// that comes near it. Where none does the last of them is not held against it.
func (d *desk) nearly(o circuit.Outcome, how string, list ...candidate) ([]Step, error) {
	value := o.Value * scale(o.Unit)
	chosen, e := list[len(list)-1], (*expression)(nil)
	for _, c := range list {
		wants := c.wants
		if wants == 0 {
			wants, c.unit = value, o.Unit
		}
		if e = d.formula(c.formula); math.Abs(e.value()-wants) <= nearEnough*math.Abs(wants) {
			chosen, chosen.wants = c, wants
			return d.checked(o, how, chosen, e)
		}
	}
	if chosen.wants == 0 {
		chosen.unit = o.Unit
	}
	chosen.wants, chosen.alone = e.value(), true
	return d.checked(o, how, chosen, e)
}

// checked writes the letters of a check, the number that it is of, and the check: with more
// digits where it takes them to come near.
func (d *desk) checked(o circuit.Outcome, how string, c candidate, e *expression) ([]Step, error) {
	value := o.Value * scale(o.Unit)
	lines := d.needed(&letter{of: e})
	found := &letter{words: how, unit: o.Unit, x: value}
	at := len(lines)
	for k, l := range lines {
		if l.of == nil && l.x == value && l.unit == o.Unit { // it is among the check's own letters
			at, found = k, l
			lines = append(lines[:k:k], lines[k+1:]...)
			break
		}
	}
	lines = append(lines[:at:at], append([]*letter{found}, lines[at:]...)...)
	for digits := usual; digits <= most; digits++ {
		steps, err := printLines(lines, digits, digits)
		if err != nil {
			return nil, err
		}
		for k := at + 1; k < len(steps); k++ {
			steps[k].Exact = false
		}
		steps[at].Answer = answer(exactly(value), o.Unit, digits, digits+1, fewest)
		steps[at].Expression = steps[at].Answer
		text := e.line()
		s, err := compute(text)
		if err != nil {
			return nil, err
		}
		off := math.Abs(s.x/c.wants - 1)
		if c.wants == 0 {
			off = math.Abs(s.x)
		}
		if off <= Near && tells(steps[at].Answer, value, rounding(o)) {
			return append(steps, c.step(text, off)), nil
		}
	}
	return nil, fmt.Errorf("%s comes to %v, not to %v", e.line(), e.value(), c.wants)
}

// step is the line of a check, and by how much it is off.
func (c *candidate) step(expression string, off float64) Step {
	words := c.words
	if !c.alone {
		words += ", " + offBy(off)
	}
	return Step{words, expression, answer(exactly(c.wants), c.unit, usual, usual, 1), false}
}

// offBy says how near a check comes.
func offBy(off float64) string {
	if off < 0.00095 { // what is printed of both is rounded
		return "within 0.1 %"
	}
	return fmt.Sprintf("%.1f %% off", 100*off)
}

// plainly writes a formula whose value is the plan's.
func (d *desk) plainly(o circuit.Outcome, words, formula string) ([]Step, error) {
	return d.write(d.formula(formula), words, o.Unit, o.Value, rounding(o))
}

// beside writes a formula whose value is the plan's, and before its last line the first check
// that comes near of what was found by trying.
func (d *desk) beside(o circuit.Outcome, words, formula string, list ...candidate) ([]Step, error) {
	for _, c := range list {
		d.also = append(d.also, d.formula(c.formula))
	}
	steps, err := d.plainly(o, words, formula)
	if err != nil {
		return nil, err
	}
	for k, c := range list {
		text := d.also[k].line()
		s, err := compute(text)
		if err != nil {
			return nil, err
		}
		off := math.Abs(s.x/c.wants - 1)
		if math.IsNaN(c.wants) {
			off, c.wants, c.alone = 0, s.x, true
		}
		if off > nearEnough && k < len(list)-1 {
			continue
		}
		if off > Near && d.digits < most { // the last one, with more digits
			d.digits, d.also = max(usual, d.digits)+2, d.also[:0]
			return d.beside(o, words, formula, list...)
		}
		if off > Near {
			return nil, fmt.Errorf("%s comes to %v, not to %v", text, s.x, c.wants)
		}
		last := len(steps) - 1
		return append(steps[:last:last], c.step(text, off), steps[last]), nil
	}
	return steps, nil
}
