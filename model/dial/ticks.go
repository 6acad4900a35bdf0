package dial

import (
	"fmt"
	"math"

	"example.com/needlewright/model/quantity"
)

// closest is how near the middles of two ticks come, mm at the arc: nearer they would run
// into each other. Common practice, no source.
const closest = 0.6

// ticks are the marks of the scale. Those that somebody asked for are all there; of the usual
// ones the long, and between them as many as stand apart.
func (d *drawing) ticks() {
	apart := closest
	if d.form.Ticks != "" {
		apart = 0
	}
	left := 0
	d.plate.Ticks, left = d.divided(d.hand.Ticks(), d.hand.Shows, d.radius, 1, apart, d.angle)
	switch near := d.near(); {
	case left > 0:
		d.plate.note("%s left out: closer than %.1f mm to the next", quantity.Counted(left, "mark"), closest)
	case near > 0:
		d.plate.note("%s closer than %.1f mm to the next: they run into each other, fewer in ticks can be read", quantity.Counted(near, "mark"), closest)
	}
}

// near is how many marks of the scale come closer to the one before than can be told apart.
func (d *drawing) near() (n int) {
	for k := 1; k < len(d.plate.Ticks); k++ {
		if math.Abs(d.plate.Ticks[k].Angle-d.plate.Ticks[k-1].Angle)*math.Pi/180*d.radius < closest-1e-9 {
			n++
		}
	}
	return n
}

// divided are the marks of a scale of some time, out from a radius or in; parts are into
// how many the short, middle and long ones divide it. left is how many have no room: they
// stand so far apart at least, mm.
func (d *drawing) divided(parts [3]int, shows string, radius, out, apart float64, angle func(float64) float64) (ticks []Tick, left int) {
	at := func(k int) float64 { return angle(float64(k) / float64(parts[0])) }
	stands := make([]Kind, parts[0]+1) // of each place of a short one, what stands there
	for k := 0; k <= parts[0]; k += parts[0] / parts[2] {
		stands[k] = Long
	}
	room := func(a, b int) float64 { return math.Abs(at(b)-at(a)) * math.Pi / 180 * radius }
	next := func(k int) int {
		for k++; stands[k] == ""; k++ {
		}
		return k
	}
	for last, k := 0, parts[0]/parts[1]; k < parts[0]; k += parts[0] / parts[1] {
		if stands[k] == "" && room(last, k) >= apart && room(k, next(k)) >= apart {
			stands[k] = Middle
		}
		if stands[k] != "" {
			last = k
		}
	}
	for from := 0; from < parts[0]; {
		to := next(from)
		for k, step := from, evenStep(from, to, apart, room); k < to; k += step {
			if stands[k] == "" {
				stands[k] = Short
			}
		}
		from = to
	}
	for k, kind := range stands {
		if kind == "" {
			left++
			continue
		}
		share := float64(k) / float64(parts[0])
		long := out * lengths[kind] * d.unit
		ticks = append(ticks, Tick{
			Line: d.line(radius, radius+long, at(k), d.weight(weights[kind])),
			Kind: kind, Share: share, Time: quantity.ExactDial(share, shows), Angle: at(k),
		})
	}
	return ticks, left
}

// evenStep is in which steps short marks stand between two others: each of them, each
// second and so on as they come out even and so far apart, or none between.
func evenStep(from, to int, apart float64, room func(a, b int) float64) int {
	for step := 1; step < to-from; step++ {
		if (to-from)%step != 0 {
			continue
		}
		least := math.Inf(1)
		for k := from; k < to; k += step {
			least = min(least, room(k, k+step))
		}
		if least >= apart {
			return step
		}
	}
	return to - from
}

// note keeps what a person should know of the dial.
func (p *Plate) note(format string, a ...any) { p.Notes = append(p.Notes, fmt.Sprintf(format, a...)) }
