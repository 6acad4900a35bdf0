package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.com/needlewright/calc"
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
	odd      int                  // answers that contradict the others
}

// found is what the meter is by words and looks.
type found struct {
	origin, kind, marked string
	rest                 float64 // share of the scale
	pressed              bool    // below its zero, before the leads were turned
}

// measured is a value and how far it may be off.
type measured struct{ value, half float64 }

// A reading is what was seen or measured at a connection.
type reading struct {
	at        Connection
	terminals bool    // volts at the terminals; else where the needle stands
	value     float64 // V, or share of the scale; NaN of none, below and over
	word      string  // "none", "below", "over"
}

// ask waits for an answer, or returns the one that is there; ok is false where it was skipped.
func (d *dialogue) ask(a *Ask) (ok bool) {
	if len(d.answers) == 0 {
		panic(a) // Next catches it: nobody else goes through a dialogue
	}
	answer := d.answers[0]
	d.answers = d.answers[1:]
	if answer == skip {
		return false
	}
	if err := a.read(answer); err != nil { // it was read when it was given
		panic(err)
	}
	return true
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

// Where meters come from, and what tells their kinds apart; the words of the build's file.
var (
	origins = []string{"new", "salvaged", "mains", "high voltage", "vehicle", "military"}
	kinds   = []string{"moving coil", "moving iron", "rectifier", "thermal", "cross coil", "other", "unknown"}
)

const notKnown = "unknown"

// run is the whole survey.
func (d *dialogue) run() *Verdict {
	d.sources, d.loaded, d.series = map[float64]measured{}, map[Connection]measured{}, map[float64]measured{}
	if v := d.look(); v != nil {
		return v
	}
	if v := d.connect(); v != nil {
		return v
	}
	return d.conclude()
}

// look asks what can be told without connecting anything.
func (d *dialogue) look() *Verdict {
	d.origin = d.choose("origin", "Where does the meter come from?", origins...)
	if slices.Contains([]string{"mains", "high voltage", "vehicle"}, d.origin) {
		removed := d.choose("removed", "Is it out of its set, with nothing else on its terminals and no capacitor in its case? What hangs on the set can kill: the set itself is for licensed practice.", "yes", "no", notKnown)
		if removed != "yes" {
			return stop("Nothing is connected to a meter that is not out of its set for certain. Taking it out is for licensed practice.")
		}
	}
	if glow := d.choose("glow", "Are hands or figures painted so that they glow, or may they once have? The paint may be radium, and its dust is the danger: do not open the case.", "no", "yes", notKnown); glow != "no" {
		return stop("The paint may be radium. Keep the case closed, and have it looked at where that is measured.")
	}
	if swing := d.choose("swing", "With no lead and no strap across the terminals, rock it gently: does the needle swing free and come back?", "free", "stuck"); swing != "free" {
		return stop("A needle that does not swing tells nothing, and current would only hurt it. A strap across the terminals damps it: look for one.")
	}
	d.ask(&Ask{Kind: "rest", Text: "Nothing connected, tapped: where does the needle rest? A share of the whole scale, from its left end: 0 %, -2 %, 50 %.", read: func(s string) error {
		v, err := share(s)
		if err == nil && !(v >= -0.3 && v <= 1) {
			err = fmt.Errorf("%q is not on the scale; write -30 %% to 100 %%", s)
		}
		d.rest = v
		return err
	}})
	d.ask(&Ask{Kind: "marked", Text: "What does the dial say at its end, with its unit? 30 V, 10 A; unknown where it says nothing.", read: func(s string) error {
		d.marked = s
		return nil
	}})
	d.kind = d.choose("kind", "What do the sign on the dial and the looks say? A horseshoe is a moving coil, a wavy line under it a rectifier; an uneven scale that is crowded at its start a moving iron.", kinds...)
	return nil
}

// share reads a share of the scale, "12 %".
func share(s string) (float64, error) {
	v, err := quantity.ParsePlain(s, quantity.Percent)
	return v.Number, err
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

// ofMeter is a value that the multimeter shows, with how far it may be off.
func ofMeter(value float64) measured {
	top := 0.4 // V, the lowest range of many
	for top < math.Abs(value) {
		top *= 10
	}
	return measured{value, meterShare*math.Abs(value) + (meterDigits+0.5)*top/counts}
}

// source asks for the volts of a source by itself, or as it is connected; ok is false
// where there is none.
func (d *dialogue) source(volts float64, of *Connection, current float64) (ok bool) {
	a := &Ask{Kind: "source", Of: &Connection{Volts: volts}, Current: current, Text: fmt.Sprintf("Measure the %v V source by itself, DC; skip where there is none.", volts)}
	if of != nil {
		a.Of, a.Text = of, "Leave it connected and measure across the source, DC."
	}
	var got measured
	a.read = func(s string) error {
		v, err := quantity.ParsePlain(s, quantity.Volts)
		if err == nil && !(v.Number >= 0.6*volts && v.Number <= 1.16*volts) {
			err = fmt.Errorf("%q is not a source of %v V; allowed are %.1f to %.1f V: take another, or skip", s, volts, 0.6*volts, 1.16*volts)
		}
		got = ofMeter(v.Number)
		return err
	}
	if !d.ask(a) {
		return false
	}
	if of != nil {
		d.loaded[*of] = got
	} else {
		d.sources[volts] = got
	}
	return true
}

// resistor asks for the value of a resistor.
func (d *dialogue) resistor(nominal float64) {
	if _, known := d.series[nominal]; known || nominal < leastMeasured {
		return
	}
	d.ask(&Ask{Kind: "resistor", Nominal: nominal, Text: "Measure the resistor by itself, " + quantity.Show(nominal, quantity.Ohms, 2) + ", nothing else on it; or write as marked.", read: func(s string) error {
		if s == "as marked" {
			return nil
		}
		v, err := quantity.ParsePlain(s, quantity.Ohms)
		if err == nil && math.Abs(v.Number/nominal-1) > 4*asMarked {
			err = fmt.Errorf("%q is far from the resistor's %s; measure again, or write as marked", s, quantity.Show(nominal, quantity.Ohms, 2))
		}
		d.series[nominal] = measured{v.Number, meterShare*v.Number + (meterDigits+0.5)*decade(v.Number)/counts}
		return err
	}})
}

// leastMeasured is the least resistance that a cheap ohmmeter tells better than its marking.
const leastMeasured = 100.0

// decade is the range of a 4 000-count display that shows a value.
func decade(x float64) float64 { return 4 * math.Pow(10, math.Ceil(math.Log10(x/4))) }

// volts is a source as it is at a connection, with how far it may be off.
func (d *dialogue) volts(c Connection) measured {
	if m, ok := d.loaded[c]; ok {
		return m
	}
	if m, ok := d.sources[c.Volts]; ok {
		return m
	}
	return measured{1.45, 0.25} // a 1.5 V cell that nobody measured
}

// ohms is a resistor, with how far it may be off.
func (d *dialogue) ohms(nominal float64) measured {
	if m, ok := d.series[nominal]; ok && m.value > 0 {
		return m
	}
	return measured{nominal, asMarked * nominal}
}

// nominals are the resistors that the survey asks for, falling: E6 from 10 MΩ to 15 Ω.
var nominals = func() []float64 {
	var all []float64
	for r := 10e6; r >= 15; r = calc.NextPreferred(r, calc.E6, false) {
		all = append(all, r)
	}
	return all
}()
