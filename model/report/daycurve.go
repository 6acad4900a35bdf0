package report

import (
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// timeAxis is the axis of a dial's time, and how much of it the whole dial is.
func timeAxis(h *circuit.HandCircuit) (axis circuit.Axis, whole float64) {
	switch h.Minutes {
	case 1:
		return circuit.Axis{Label: "Time", Unit: quantity.Seconds}, 60
	case 720, 1440:
		return circuit.Axis{Label: "Time", Unit: quantity.Hours}, h.Minutes / 60
	}
	return circuit.Axis{Label: "Time", Unit: quantity.Minutes}, h.Minutes
}

// DayCurve returns how far a hand, from 0, shows wrong over its day, the clock
// just set to time: shown less true, in minutes of its dial, at every instant that
// the results judge it at. Nominal is what is known of the error, with its sign:
// the needle's own and the standing rows of the budget. Likely is that and the
// root of the sum of the squares of all other rows there, more and less.
func (r *Report) DayCurve(hand int) circuit.Plot {
	h := &r.Plan.Circuit.Hands[hand]
	budget := judge.BudgetOfDay(r.Build, &r.Plan, hand)
	axis, whole := timeAxis(h)
	nominal, high, low := make([]circuit.Dot, h.Steps), make([]circuit.Dot, h.Steps), make([]circuit.Dot, h.Steps)
	for k := range nominal {
		part := float64(k) / float64(h.Steps)
		n := r.Plan.Needle(hand, part*h.Minutes*60)
		known, unknown := budget.Parts(n.Share)
		known += (n.Shown - n.Share) * h.Minutes
		nominal[k] = circuit.Dot{X: part * whole, Y: known}
		high[k], low[k] = circuit.Dot{X: part * whole, Y: known + unknown}, circuit.Dot{X: part * whole, Y: known - unknown}
	}
	return circuit.Plot{
		Title: "Error over the day", X: axis, Y: circuit.Axis{Label: "Error", Unit: quantity.Minutes},
		Lines: []circuit.Line{{Name: "nominal", Points: nominal, Apart: true}, {Name: "likely", Points: high, Apart: true}, {Name: "likely", Points: low, Apart: true}},
	}
}
