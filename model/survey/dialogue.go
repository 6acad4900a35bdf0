package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/model/quantity"
)

// A dialogue goes through the survey with the answers that are there, and stops at the
// first thing that is not answered yet.
type dialogue struct {
	answers []string
	found
	readings []reading
	sources  map[float64]measured // by nominal volts
	loaded   map[Connection]measured
	series   map[float64]measured // resistors, by nominal ohms
	asMarked bool                 // whether the resistors are not measured
	besides  int                  // how many resistors were asked for, and terminals left out
	noNine   bool                 // no block of 9 V is there
	leftOut  bool                 // where the needle stands
	taken    int                  // how many answers
	weighed  map[int]posterior    // by how many answers were taken
	odd      bool                 // whether an answer contradicted the others
	because  string               // why the next connection is asked for once more; "": it is not
}

// found is what the meter is by words and looks.
type found struct {
	origin, kind, marked string
	removed, glow        string
	rests                bool    // whether it was said where the needle rests
	right                bool    // whether that is at the right end, from which places count then
	rest                 float64 // share of the scale
	pressed              bool    // below its zero, before the leads were turned
}

// measured is a value and how far it may be off, and its text as it was answered.
type measured struct {
	value, half float64
	text        string
}

// A reading is what was seen or measured at a connection.
type reading struct {
	at        Connection
	terminals bool    // volts at the terminals; else where the needle stands
	value     float64 // V, or share of the scale; NaN of none, below and over
	word      string  // "none", "below", "over"
	text      string  // as it was answered
}

// A state is how far the connections have come.
type state struct {
	at    Connection
	upper float64 // share of the movement's full-scale current that may flow now
	share float64 // of the scale, as it was read from the rest; 0 of none
	low   float64 // Ω, what the terminals have at least: 0 until two readings agree
	high  float64 // Ω, and at most: +Inf until then
	ohms  []bounds
}

// bounds are what a reading of the terminals leaves of their resistance, Ω, and of the least that
// they may have at any more current: a rectifier's part of it falls.
type bounds struct{ low, high, least float64 }

// ask waits for an answer, or returns the one that is there; ok is false where it was skipped.
func (d *dialogue) ask(a *Ask) (ok bool) {
	if len(d.answers) == 0 {
		panic(a) // Next catches it: nobody else goes through a dialogue
	}
	answer := d.answers[0]
	d.answers, d.taken = d.answers[1:], d.taken+1
	if answer == skip {
		return false
	}
	if err := a.read(answer); err != nil { // it was read when it was given
		panic(err)
	}
	return true
}

// askAgain is ask, with why a connection is asked for once more, where it is.
func (d *dialogue) askAgain(a *Ask) (ok bool) {
	a.Text, d.because = d.because+a.Text, ""
	return d.ask(a)
}

// choose asks for one of some words.
func (d *dialogue) choose(kind, text string, choices ...string) string {
	word := ""
	d.ask(&Ask{Kind: kind, Choices: choices, Text: text, read: func(s string) error {
		if !slices.Contains(choices, s) {
			return fmt.Errorf("%q is none of them; write %s", s, strings.Join(choices, ", "))
		}
		word = s
		return nil
	}})
	return word
}

// share reads a share of the scale, "12 %".
func share(s string) (float64, error) {
	v, err := quantity.ParsePlain(s, quantity.Percent)
	if err != nil {
		return 0, fmt.Errorf("%q is no place on the scale; write a share of it, as 12 %%", s)
	}
	return v.Number, nil
}

// inVolts reads a voltage; such is one as it may be written.
func inVolts(s, such string) (quantity.Value, error) {
	v, err := quantity.ParsePlain(s, quantity.Volts)
	if err != nil {
		return v, fmt.Errorf("%q is no voltage; write it as %s", s, such)
	}
	return v, nil
}

func done(s string) error {
	if s != "done" {
		return fmt.Errorf("write done when it is done")
	}
	return nil
}

// Errors, the contract's: of the multimeter's reading, the eye, friction and rest as shares
// of the scale, resistors as marked.
const (
	meterShare, meterDigits, counts = 0.008, 3, 4000
	eye, friction, rests            = 0.015, 0.015, 0.015
	none                            = 0.02 // of the scale, under which a needle has not moved
	asMarked                        = 0.05
	input                           = 10e6 // Ω of the multimeter
)

// span is what share of the scale is full scale.
func (d *dialogue) span() float64 {
	if d.centre() {
		return 0.5
	}
	return 1
}

// Rests of the needle from which on its zero is in the middle, and at the right, share of the
// scale.
const middleFrom, rightFrom = 0.3, 0.7

// centre says whether the needle rests in the middle of its scale.
func (f *found) centre() bool { return f.rest > middleFrom && !f.right }

// moved is how far a needle moved from its rest, of what its full scale is.
func (d *dialogue) moved(r *reading) float64 {
	if r.word != "" {
		return 0
	}
	if d.centre() {
		return (r.value - d.rest) / 0.5
	}
	return r.value - d.rest
}

// farthest is how far the needle has moved.
func (d *dialogue) farthest() float64 {
	most := 0.0
	for n := range d.readings {
		if r := &d.readings[n]; !r.terminals {
			most = max(most, math.Abs(d.moved(r)))
		}
	}
	return most
}

func (d *dialogue) hasMoved() bool { return d.farthest() >= none }

// least is the least resistance that the needle was read behind, Ω.
func (d *dialogue) least() float64 {
	least := math.Inf(1)
	for _, r := range d.readings {
		least = min(least, r.at.Series)
	}
	return least
}

// even is the deviation of what lies evenly within a limit.
func even(limit float64) float64 { return limit / math.Sqrt(3) }
