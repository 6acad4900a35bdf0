package working

import (
	"fmt"
	"math"

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
	y := float64(at) / float64(h.Steps)
	d.letters[fmt.Sprintf("%d instant", d.of)] = &expression{op: 'l', letter: &letter{x: float64(at), given: true, text: fmt.Sprint(at)}}
	if at == 0 {
		d.letters[fmt.Sprintf("%d instant", d.of)] = constant(0)
	}
	want := "instant/n"
	if h.Bridge {
		want = "abs(2·instant/n − 1)"
	}
	if h.Codes {
		want = d.inverse(want)
	}
	code := "floor(T·" + want + choose(h.Down, ")", " + 1/2)")
	coding := h.Quantisation()
	if sent := math.Abs(coding.Code(y)); d.formula(code).value() != sent { // it is on the break but for the last bit
		d.put("code", "The code then", quantity.Times, sent)
	} else {
		d.letters[fmt.Sprintf("%d code", d.of)] = d.define(&letter{words: "The code then", unit: quantity.Times, keep: true}, d.formula(code))
	}
	part := "(code + offset)/(T + offset)"
	if !h.Dial {
		part = "law(" + part + ")"
	}
	d.let("place", "Where the needle stands then", quantity.Times, part)
	stands := "place"
	switch {
	case h.Bridge && coding.Code(y) == 0:
		stands = "0.5"
	case h.Bridge:
		stands = "0.5 " + choose(coding.Code(y) < 0, "−", "+") + " place/2"
	}
	words := fmt.Sprintf("Worst of all %d, at %s", h.Steps, d.p.ShownText(d.of, y))
	return d.plainly(o, words, "S·abs("+stands+" − instant/n)")
}

// inverse is the share of full-scale current that puts the needle at a share of the scale.
func (d *desk) inverse(scale string) string {
	law := &d.wired().Law
	x := d.formula(scale).value()
	current := scale
	switch d.meter().LawInForce() {
	case "square":
		current = "sqrt(" + scale + ")"
	case "table":
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
	return d.plainly(o, workings[o.ID].words, "S·sqrt(mean_square)")
}
