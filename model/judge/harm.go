package judge

import (
	"math"
	"strings"

	"example.com/needlewright/model/quantity"
)

// A harm is what comes of what was found: among findings of one severity the worse
// stands first.
type harm uint8

// The harms, mildest first.
const (
	misleads  harm = iota // the clock reads wrong, or does not last
	breaks                // a part burns or breaks
	burnsCoil             // the meter's coil does, before anybody can switch off
	hurts                 // people
)

// doing is always the same harm.
func doing(h harm) func(subject, float64) harm { return func(subject, float64) harm { return h } }

// harm is what comes of a figure of the rule.
func (r *rule) harm(s subject, x float64) harm {
	if r.does == nil {
		return misleads
	}
	return r.does(s, x)
}

// What a coil stands, in times full scale: a current that an ammeter has to stand for
// five seconds (IEC 60051, read second-hand), and one that bends a needle at its stop
// (common practice, no source).
const burning, bending = 10, 2

// strain is what so many times full scale in the chain do to the meter; diodes across
// the coil hold it to what they let through.
func (s subject) strain(times float64) harm {
	switch got := min(times, s.heldByDiodes()); {
	case got > burning:
		return burnsCoil
	case got > bending:
		return breaks
	}
	return misleads
}

// strainText says so, "" where it is nothing, with the figure: "this burns the coil in
// seconds: 15 times full scale".
func (s subject) strainText(times float64) string {
	text := map[harm]string{burnsCoil: "this burns the coil in seconds", breaks: "this can bend the needle at its stop"}[s.strain(times)]
	if text == "" {
		return ""
	}
	return text + ": " + timesText(times)
}

// timesText is a figure in times full scale: "15 times full scale".
func timesText(times float64) string {
	text := show(times, quantity.Times)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text + " times full scale"
}

// diodeVoltage is where two silicon diodes hold a coil, V. Common practice, no source.
const diodeVoltage = 0.6

// heldByDiodes is the most, in times full scale, that the diodes across the coil let
// it have; +Inf without any.
func (s subject) heldByDiodes() float64 {
	if s.meter().Diodes != "silicon" {
		return math.Inf(1)
	}
	return diodeVoltage / s.hand().FullScaleVoltage
}

// diodesText says what the diodes do, and what not; "" without any.
func (s subject) diodesText() string {
	if s.meter().Diodes != "silicon" {
		return ""
	}
	return "Two diodes hold the coil to 0.6 V, here " + timesText(s.heldByDiodes()) + ": the fixed resistor protects."
}
