package model

import (
	"fmt"
	"strings"
)

// A Problem says why a file, or one value of it, cannot be used: where it is,
// what was given, what is allowed and what to do.
type Problem struct {
	Line    int    // in the text, from 1
	Path    string // "hand.hours.meter.coil"; "" where it concerns no one value
	Label   string // the field's name on the form
	Given   string // as typed
	Wrong   string // what is wrong with it
	Allowed string // "0.5 Ω to 100 kΩ"
	Remedy  string // what to do
	Others  int    // of the last one: how many more the text has, which are not kept
}

// Count returns how many problems there are, with those that were not kept.
func Count(problems []Problem) int {
	n := len(problems)
	if n > 0 {
		n += problems[n-1].Others
	}
	return n
}

// Message is the problem in one sentence or two, without its place.
func (p Problem) Message() string {
	var b strings.Builder
	if p.Label != "" {
		b.WriteString(p.Label + ": ")
	}
	if p.Given != "" {
		fmt.Fprintf(&b, "%s: ", quoted(p.Given))
	}
	b.WriteString(p.Wrong)
	if p.Allowed != "" {
		b.WriteString("; allowed: " + p.Allowed)
	}
	if p.Remedy != "" {
		b.WriteString("; " + p.Remedy)
	}
	return b.String()
}

// String is the problem with its place, as `check` prints it.
func (p Problem) String() string {
	if p.Path == "" {
		return fmt.Sprintf("line %d: %s", p.Line, p.Message())
	}
	return fmt.Sprintf("line %d: %s: %s", p.Line, p.Path, p.Message())
}

// instead says what is to be entered where people often give what another unit measures.
var instead = []struct{ path, measures, enter string }{
	{"hand.meter.full_scale", "voltage", "enter the current of the last mark: the volts across the bare coil there, divided by its resistance, give it; what the dial says may be with a multiplier"},
	{"hand.meter.full_scale", "power", "enter the current of the last mark: measure it"},
	{"hand.meter.coil", "current", "enter the coil's resistance here, and its current as Full scale"},
	{"hand.meter.coil", "voltage", "enter the coil's resistance: the volts across it divided by the current through it"},
	{"rail.voltage", "current", "enter the volts of the rail, not what its supply can give"},
	{"rail.drift", "voltage", "enter it as a share of the rail: 0.1 V of 5 V is 2 %"},
	{"hand.drive.clock", "time", "enter the frequency: 1 divided by the time of one count"},
	{"hand.drive.pwm_wanted", "time", "enter the frequency: 1 divided by the period"},
	{"hand.meter.period", "frequency", "enter the time of one swing: 1 divided by the frequency"},
	{"battery.capacity", "current", "enter the charge of a cell: milliamperes for so many hours are mAh"},
	{"load.controller_on", "power", "enter the current: the power divided by the rail's voltage"},
	{"load.controller_off", "power", "enter the current: the power divided by the rail's voltage"},
	{"lamp.forward", "current", "enter the volts across the lit LED; its resistor sets the current"},
	{"lamp.resistor", "current", "enter the resistor: the rail less the LED's volts, divided by the current you want"},
	{"crystal.load", "offset", "enter the capacitance that the crystal was made for; its ppm are the tolerance"},
	{"crystal.tolerance", "frequency", "enter it in ppm: 1 Hz of 32.768 kHz is 30.5 ppm"},
}

// toEnter is what is to be entered in the field of a path where a unit of something else is
// given; "" where the table says nothing of it.
func toEnter(path, measures string) string {
	for k := range instead {
		if row := &instead[k]; row.path == path && row.measures == measures {
			return row.enter
		}
	}
	return ""
}

// quoted puts a value in quotes, cut where it is long, with whatever could
// disturb a terminal escaped.
func quoted(s string) string {
	return fmt.Sprintf("%q", cut(s, 40))
}

// cut is the beginning of a text, where it has more than so many characters.
func cut(s string, most int) string {
	for i := range s {
		if most == 0 {
			return s[:i] + "…"
		}
		most--
	}
	return s
}
