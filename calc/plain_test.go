package calc

import (
	"math"
	"slices"
)

// A plain is an outside reference for Pack with all its effects: Kirchhoff's,
// Ohm's and the converter's law each as they stand, solved by bisection, and the
// used share gone through in small steps. It has none of Pack's closed forms.
type plain struct{ *Pack }

// source returns the pack's voltage at rest, V, and resistance, Ω.
func (p plain) source(used float64) (rest, resistance float64) {
	i := 1
	for i < len(p.Curve)-1 && used > p.Curve[i].Used {
		i++
	}
	a, b := p.Curve[i-1], p.Curve[i]
	cell := a.Rest + (b.Rest-a.Rest)*(used-a.Used)/(b.Used-a.Used)
	return p.Cells * cell, p.Supply.Resistance + used*p.ResistanceRise
}

// last bisects the change of a fact that holds at a and not at b.
func last(a, b float64, fact func(float64) bool) float64 {
	for range 70 {
		if mid := (a + b) / 2; fact(mid) {
			a = mid
		} else {
			b = mid
		}
	}
	return a
}

// state is the loaded pack at a used share, awake or asleep.
type state struct {
	current, voltage float64
	carried, passes  bool
}

// at finds the pack's voltage at which what flows out of it, over its resistance,
// is what the converter and the direct drain take: the highest there is.
func (p plain) at(used float64, awake bool) state {
	rest, resistance := p.source(used)
	load, direct := p.Off, p.DirectOff
	if awake {
		load, direct = p.On, p.DirectOn
	}
	own := 0.0
	if p.Supply.Kind != NoConverter {
		own = p.Supply.Quiescent
	}
	through := load + own + direct
	stepped := func(input float64) float64 {
		return p.Supply.Rail*load/p.Supply.Efficiency/input + own + direct
	}
	if p.Supply.Kind == Boost {
		v, carried := highest(rest-p.Supply.Drop, resistance, 0, stepped)
		if !carried || v < p.Supply.Rail {
			return state{stepped(v), v + p.Supply.Drop, carried, false}
		}
	}
	v, _ := highest(rest-p.Supply.Drop, resistance, -1e4, func(float64) float64 { return through })
	return state{through, v + p.Supply.Drop, true, true}
}

// highest returns the highest voltage above a least one at which a source gives
// what is asked of it, and whether there is one. What is left over has one peak.
func highest(open, resistance, least float64, asked func(float64) float64) (v float64, ok bool) {
	left := func(v float64) float64 { return open - v - resistance*asked(v) }
	a, b := least, open
	for range 120 { // thirds, to the peak
		if third := (b - a) / 3; left(a+third) < left(b-third) {
			a += third
		} else {
			b -= third
		}
	}
	if peak := (a + b) / 2; open > least && left(peak) >= 0 {
		return last(peak, open, func(v float64) bool { return left(v) >= 0 }), true
	}
	return math.NaN(), false
}

// runs tells whether the clock has not ended.
func (p plain) runs(used, hoursOn float64) bool {
	if hoursOn > 0 && hoursOn < 24 && !p.at(used, false).carried {
		return false
	}
	s := p.at(used, hoursOn > 0)
	return s.carried && s.voltage-p.Supply.Drop > p.Floor && s.voltage > p.Cutoff
}

// rate returns the share used in an hour.
func (p plain) rate(used, hoursOn float64) float64 {
	current := 0.0
	if hoursOn > 0 {
		current += hoursOn / 24 * p.at(used, true).current
	}
	if hoursOn < 24 {
		current += (1 - hoursOn/24) * p.at(used, false).current
	}
	return current/p.Capacity + p.SelfDischarge/8766
}

// life adds up the hours of so many steps from one kink to the next, small ones
// at its end, where the current may run away, and the share that is used then.
func (p plain) life(hoursOn float64, steps int) (hours, used float64) {
	for i := 1; i < len(p.Curve); i++ {
		a, b := p.Curve[i-1].Used, p.Curve[i].Used
		if !p.runs(a, hoursOn) {
			break
		}
		end := b
		if !p.runs(b, hoursOn) {
			end = last(a, b, func(u float64) bool { return p.runs(u, hoursOn) })
		}
		kinks := []float64{a, end}
		for _, awake := range []bool{true, false} {
			if p.at(a, awake).passes && !p.at(end, awake).passes {
				kinks = append(kinks, last(a, end, func(u float64) bool { return p.at(u, awake).passes }))
			}
		}
		slices.Sort(kinks)
		for j := 1; j < len(kinks); j++ {
			from, to := kinks[j-1], kinks[j]
			place := func(t float64) float64 { return to - (to-from)*(1-t)*(1-t) }
			for k := range steps {
				t := float64(k) / float64(steps)
				step := 1 / float64(steps)
				hours += (place(t+step) - place(t)) / p.rate(place(t+step/2), hoursOn)
			}
		}
		used = end
		if end < b {
			break
		}
	}
	return min(hours, p.Shelf), used
}
