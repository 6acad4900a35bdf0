package working

import (
	"fmt"
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// errorAt is by how much of the dial the codes make a hand wrong at an instant.
func (d *desk) errorAt(s int) float64 {
	coding := d.wired().Quantisation()
	y := float64(s) / float64(coding.Steps)
	return coding.Shown(coding.Code(y)) - y
}

// codeErrorMost is the error at the instant at which it is largest.
func codeErrorMost(d *desk, o circuit.Outcome) ([]Step, error) {
	h := d.wired()
	at, largest := 0, -1.0
	for s := range h.Steps {
		if off := math.Abs(d.errorAt(s)); off > largest*(1+1e-9) {
			at, largest = s, off
		}
	}
	if o.Value < 1e-12 {
		return d.write(constant(0), "Every instant has a code of its own: none", o.Unit, o.Value, o.Value)
	}
	steps, err := newDesk(d.b, d.p, d.list, d.i).codeError(o, at, true)
	if err != nil { // the code is on its break but for the last digit
		return d.codeError(o, at, false)
	}
	return steps, nil
}

// codeError is the error at an instant; the code then is worked out, or given.
func (d *desk) codeError(o circuit.Outcome, at int, coded bool) ([]Step, error) {
	h := d.wired()
	coding, y := h.Quantisation(), float64(at)/float64(h.Steps)
	code := coding.Code(y)
	d.letters[fmt.Sprintf("%d instant", d.of)] = instant(at)
	if coded {
		d.letters[fmt.Sprintf("%d code", d.of)] = d.define(&letter{words: "The code then", unit: quantity.Times, keep: true}, d.formula(d.codeOf("instant/n")))
		if sent := d.letterOf("code").value(); sent != math.Abs(code) {
			return nil, errAnother
		}
	} else {
		d.put("code", "The code then", quantity.Times, math.Abs(code))
	}
	part := "(code + offset)/(T + offset)"
	if !h.Dial {
		part = "law(" + part + ")"
	}
	stands := part
	if h.Bridge {
		d.let("place", "Of the way to that end", quantity.Times, part)
		stands = "0.5 " + choose(code < 0, "−", "+") + " place/2"
		if code == 0 {
			stands = "0.5"
		}
	}
	words := fmt.Sprintf("Worst of all %d, at %s", h.Steps, d.p.ShownText(d.of, y))
	return d.plainly(o, words, "S·abs("+stands+" − instant/n)")
}

// instant is a whole number of them.
func instant(at int) *expression {
	if at == 0 {
		return constant(0)
	}
	return &expression{op: 'l', letter: &letter{x: float64(at), text: fmt.Sprint(at)}}
}

// codeOf is the code for a share of the dial.
func (d *desk) codeOf(want string) string {
	h := d.wired()
	if h.Bridge {
		want = "abs(2·" + want + " − 1)"
	}
	if h.Codes && !h.Law.IsEven() {
		want = d.inverse(want)
	}
	return "floor(T·" + want + choose(h.Down, ")", " + 1/2)")
}

// inverse is the share of full-scale current that puts the needle at a share of the scale.
func (d *desk) inverse(scale string) string {
	law := &d.wired().Law
	x := d.formula(scale).value()
	current := scale
	switch law.Kind {
	case calc.Smooth:
		d.put("measured", "Current for that, by the scale as it was measured", quantity.Times, law.Inverse(x))
		current = "measured"
	case calc.Square:
		current = "sqrt(" + scale + ")"
	case calc.Table:
		k := 1
		for k < len(law.Points)-1 && x >= law.Points[k].Scale {
			k++
		}
		a, b := law.Points[k-1], law.Points[k]
		for name, at := range map[string]float64{"from_scale": a.Scale, "from_current": a.Current, "to_scale": b.Scale, "to_current": b.Current} {
			d.letters[fmt.Sprintf("%d %s", d.of, name)] = share(at)
		}
		current = "(from_current + (to_current − from_current)/(to_scale − from_scale)·(" + scale + " − from_scale))"
	}
	if law.From > 0 {
		current = "(scale_from + (1 − scale_from)·" + current + ")"
	}
	d.let("wanted", "Of full scale it is sent to", quantity.Times, current)
	return "wanted"
}

// codeErrorRMS is the root of the mean of all squares, which is found by adding up.
func codeErrorRMS(d *desk, o circuit.Outcome) ([]Step, error) {
	h := d.wired()
	sum := 0.0
	for s := range h.Steps {
		off := d.errorAt(s)
		sum += off * off
	}
	d.put("mean_square", fmt.Sprintf("Mean of %d squares, of the dial", h.Steps), quantity.Times, sum/float64(h.Steps))
	return d.plainly(o, d.words(o), "S·sqrt(mean_square)")
}
