package survey

import (
	"fmt"
	"math"
	"strings"

	"example.com/needlewright/model/quantity"
)

// A needle that stands no higher than so may be at its lower stop, of the scale; and one that
// has not moved may be so far up.
const atStop, unmoved = -0.025, 0.03

// mostTurns is how often the leads are turned round at one connection: once to see whether the
// needle goes up then, and back where it does not.
const mostTurns = 2

// needle asks where the needle stands at a connection, and turns the leads round where it
// presses below zero. An answer that contradicts those before is asked for once more.
func (d *dialogue) needle(s *state) *Verdict {
	for turns := 0; ; {
		r := reading{at: s.at, value: math.NaN()}
		if !d.askAgain(d.askNeedle(s, &r)) {
			d.leftOut = true
			return nil
		}
		if d.isOver(&r) {
			return stop("The needle is over at a current that no meter of the answers before would be over at. Take the leads off, and begin again.")
		}
		if !d.mayPressDown(&r, turns) {
			if !d.contradicts(&r) {
				d.note(s, &r)
				return nil
			}
			if d.odd {
				return stop("The answers contradict each other: more current moved the needle less. Go back to the one that is wrong; or take the leads off, look whether it sticks, and begin again.")
			}
			d.odd, d.because = true, "That is less than it moved before, at less current. Look at the resistor, tap the meter, read once more. "
			continue
		}
		if turns == mostTurns || turns > 0 && r.word == "below" && d.pressed {
			return stop("The needle presses below zero both ways round: it moves the same way with either, so it is a rectifier or a moving iron, and its zero is not at that end. No clock can drive it so.")
		}
		d.pressed = r.word == "below"
		d.ask(&Ask{Kind: "swap", Text: "Take the leads off and turn them round.", read: done})
		turns++
	}
}

// askNeedle is the question where the needle stands, with the reading that takes the answer.
func (d *dialogue) askNeedle(s *state, r *reading) *Ask {
	a := &Ask{Kind: "needle", Of: &Connection{s.at.Volts, s.at.Series}, Current: d.current(s), Text: called(s.at) + ". The multimeter off. Tap: where does the needle stand? none: less than 2 % from its rest." + d.onceMore(s.at, false)}
	if d.right {
		a.Text += " A share of the scale from its right end, where it rests."
	}
	a.read = func(text string) error {
		r.text = text
		switch text {
		case "none", "below", "over":
			r.word = text
			return nil
		}
		v, err := d.placed(text)
		if err == nil && !(v >= -0.3 && v <= 1.3) {
			err = fmt.Errorf("%q is not on the scale; write 12 %%, 6 of 30, none, below or over", text)
		}
		r.value = v
		return err
	}
	return a
}

// placed is a place on the scale: a share of it, or a reading of its end value, which counts
// from the middle where the needle rests there.
func (d *dialogue) placed(text string) (float64, error) {
	of, end, is := strings.Cut(text, " of ")
	if !is {
		return share(text)
	}
	if d.kind == "moving iron" || d.kind == "thermal" {
		return 0, fmt.Errorf("%q: the marks of such a dial are not evenly spaced; write how far along the whole scale the needle stands, as 12 %%", text)
	}
	reads, err := quantity.ParsePlain(of, quantity.Times)
	if err != nil {
		return 0, err
	}
	most, err := quantity.ParsePlain(end, quantity.Times)
	if err != nil || !(most.Number > 0) {
		return 0, fmt.Errorf("%q: after of stands what the scale says at its end; write 6 of 30", text)
	}
	y := reads.Number / most.Number
	if d.centre() {
		y = 0.5 + y/2
	}
	return y, nil
}

// isOver says whether the needle is at a stop beyond full scale.
func (d *dialogue) isOver(r *reading) bool {
	const end = 1.025
	return r.word == "over" || r.word == "below" && d.centre() || r.value >= end || d.centre() && r.value <= 1-end
}

// mayPressDown says whether the needle may press against its lower stop, so that it does not
// say how much flows. Where it rests near that, it is looked at both ways round until it has
// moved.
func (d *dialogue) mayPressDown(r *reading, turns int) bool {
	const below, restsLow = -0.015, -0.025
	if d.centre() {
		return false
	}
	moved := d.moved(r)
	switch {
	case r.word == "below" || r.word == "" && moved <= below:
		return true
	case turns == mostTurns:
		return false
	case r.word == "":
		return r.value <= atStop && moved < 0.005
	}
	return d.rest < restsLow && turns == 0 && !d.hasMoved()
}

// note keeps a reading of the needle, and what of full scale may flow by it.
func (d *dialogue) note(s *state, r *reading) {
	moved := math.Abs(d.moved(r))
	s.share, s.upper = moved, d.currentShare(moved+(eye+friction+rests)/d.span())
	if r.word == "none" {
		s.upper = d.currentShare(unmoved / d.span())
	}
	if moved < none {
		s.share = 0
	}
	d.readings = append(d.readings, *r)
}

// contradicts says whether a reading is less than one at less current, by more than the eye
// and friction make of both.
func (d *dialogue) contradicts(r *reading) bool {
	for n := range d.readings {
		before := &d.readings[n]
		if !before.terminals && d.through(before.at) < d.through(r.at) && math.Abs(d.moved(r)) < math.Abs(d.moved(before))-2*(eye+friction)/d.span() {
			return true
		}
	}
	return false
}
