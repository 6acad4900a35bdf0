package circuit

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Plot is the data of a picture of lines; how it is drawn is for others.
type Plot struct {
	Title string
	X, Y  Axis
	Until float64 // of X, as far as it is worth looking; 0: to the lines' ends
	Lines []Line  // none where the build has nothing to show
}

// An Axis is what runs along one side of a plot. Numbers are in the unit's Base.
type Axis struct {
	Label string
	Unit  quantity.Unit
}

// A Line goes from dot to dot in the order of rising X; two at one X are a jump.
type Line struct {
	Name   string // lines of one name belong together
	Points []Dot
	Apart  bool   // the points stand alone: no line joins them
	Sign   string // each point stands alone and is drawn as this
}

// A Dot is a point of a line.
type Dot struct{ X, Y float64 }

// mostPoints is how many points a joined line has at most, or a few more: more
// than any screen shows.
const mostPoints = 400

// Discharge returns the voltage of the loaded pack, V, against the hours it has
// lasted: always awake, as used, asleep, and the floor at which the clock ends.
// It has no lines without a battery, and none for a way of use that the pack
// cannot start or never ends. Sleeping lasts too long to be looked at whole.
func (p *Plan) Discharge() Plot {
	plot := Plot{Title: "Cells under load", X: Axis{"Time", quantity.Hours}, Y: Axis{"Pack", quantity.Volts}}
	battery := &p.Circuit.Battery
	if !battery.Present {
		return plot
	}
	parts := max(1, mostPoints/2/len(p.Pack.Curve))
	longest := 0.0
	for _, use := range [...]struct {
		name    string
		hoursOn float64
	}{{"always awake", 24}, {"as used", battery.HoursOn}, {"asleep", 0}} {
		dots := dotsOf(p.Pack.Discharge(use.hoursOn, parts), 0)
		if len(dots) == 0 {
			continue
		}
		end := dots[len(dots)-1].X
		longest = max(longest, end)
		if use.hoursOn > 0 {
			plot.Until = max(plot.Until, 1.05*end)
		}
		plot.Lines = append(plot.Lines, Line{Name: use.name, Points: dots})
	}
	if longest > 0 {
		plot.Lines = append(plot.Lines, level("floor", p.Pack.InputFloor()+p.Pack.Supply.Drop, longest))
	}
	return plot
}

// RippleWave returns the voltage at the i-th hand's node, V, mean included, over
// two periods of its pin at half the counts, where the pulses are at their worst;
// without a capacitor the coil's current, A. No lines where there is no steady
// state.
func (p *Plan) RippleWave(i int) Plot {
	h := &p.Circuit.Hands[i]
	plot := Plot{Title: "Ripple at half duty", X: Axis{"Time", quantity.Milliseconds}, Y: Axis{"Node", quantity.Volts}}
	d := h.Drive()
	ripple := h.Ripple(&d)
	wave := ripple.NodeWave(mostPoints / 4)
	if h.Capacitor == 0 {
		plot.Y = Axis{"Coil", quantity.Microamperes}
		wave = ripple.CurrentWave(mostPoints / 4)
	}
	if wave != nil {
		dots := append(dotsOf(wave, 0), dotsOf(wave, ripple.Period)...)
		plot.Lines = []Line{{Name: plot.Y.Label, Points: dots}}
	}
	return plot
}

// StepResponse returns the i-th needle's way from zero to full scale after a step
// of its coil's current, as a share of the step, against seconds; the law is left
// out, as it is where the settling is worked out. The band about its end within
// which it counts as settled stands beside it. It shows three times the settling.
func (p *Plan) StepResponse(i int) Plot {
	h := &p.Circuit.Hands[i]
	plot := Plot{Title: "Step of the needle", X: Axis{"Time", quantity.Seconds}, Y: Axis{"Of the step", quantity.Percent}}
	end := 3 * p.Hands[i].NeedleSettling
	if math.IsInf(end, 0) || math.IsNaN(end) {
		return plot
	}
	dots := make([]Dot, mostPoints)
	for k := range dots {
		t := end * float64(k) / (mostPoints - 1)
		dots[k] = Dot{t, 1 - h.Movement.Remaining(t)}
	}
	const band = "settled within 1.5 %"
	plot.Lines = []Line{{Name: "needle", Points: dots}, level(band, 1-settled, end), level(band, 1+settled, end)}
	return plot
}

// Wrap returns the i-th needle's way from full scale to zero, where its time
// starts anew, as a share of the scale against seconds: in one jump of the code,
// and led down by the shortest ramp that the results name, code by code, a step a
// tick of the ramp. The stop below zero stands beside it. The law is left out.
func (p *Plan) Wrap(i int) Plot {
	h, plan := &p.Circuit.Hands[i], &p.Hands[i]
	plot := Plot{Title: "Full scale to zero", X: Axis{"Time", quantity.Seconds}, Y: Axis{"Of the scale", quantity.Percent}}
	ramp := plan.RampTime
	end := ramp + 1.5*plan.NeedleSettling
	if !(end < math.Inf(1)) { // NaN neither
		return plot
	}
	jump, led := make([]Dot, mostPoints), make([]Dot, mostPoints)
	swing := calc.Swing{Place: 1}
	for k := range jump {
		t := end * float64(k) / (mostPoints - 1)
		jump[k] = Dot{t, h.Movement.Remaining(t)}
		led[k] = Dot{t, swing.Place}
		swing = h.Movement.Advance(swing, h.ramped(t, ramp), end/(mostPoints-1))
	}
	plot.Lines = []Line{{Name: "jump", Points: jump}}
	if ramp > 0 {
		plot.Lines = append(plot.Lines, Line{Name: "ramp", Points: led})
	}
	plot.Lines = append(plot.Lines, level("stop", -h.Stop, end))
	return plot
}

// level is a line at one height from 0 to x.
func level(name string, y, x float64) Line { return Line{Name: name, Points: []Dot{{0, y}, {x, y}}} }

// dotsOf are samples as dots, moved to the right.
func dotsOf(samples []calc.Sample, by float64) []Dot {
	dots := make([]Dot, len(samples))
	for i, s := range samples {
		dots[i] = Dot{s.Time + by, s.Value}
	}
	return dots
}
