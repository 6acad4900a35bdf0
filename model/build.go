// Package model is the build of a meter clock and everything a person sees of
// it, each as a row of a table: fields, results, findings, built-in cells.
//
// One way leads through it: the text of the file is read into a Build, wired
// into a Circuit, solved into a Plan of numbers, and the Plan is judged:
//
//	text -> Read -> Build -> wire -> Circuit -> solve -> Plan -> Findings
//
// It knows no screen. The formulas themselves are in package calc.
package model

import (
	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// A Build is a clock as its file describes it: every value in internal units
// (see package quantity), with its tolerance. A value that is not given, and
// that has no meaning when absent, is quantity.Absent.
//
// Every leaf has one row in the fields table.
type Build struct {
	Format    int
	Title     string
	Rail      Rail
	Hands     []Hand
	Crystal   Crystal
	Battery   Battery
	Converter Converter
	Load      Load
	Lamps     []Lamp
	Drains    []Drain
	Buttons   []Button
	Readings  []Reading
}

// A Rail is what a high pin delivers.
type Rail struct {
	Voltage, Drift, TrimmedAt, Maximum quantity.Value
	Capacitor                          quantity.Value
}

// A Hand is a meter with its drive.
type Hand struct {
	Name    string
	Shows   string
	Noon    string
	Correct string
	Mark    quantity.Value
	Meter   Meter
	Drive   Drive
}

// A Meter is the moving-coil (or moving-iron) panel meter of a hand.
type Meter struct {
	Coil, CoilCopper, FullScale, Class, Sweep quantity.Value
	Law                                       string
	Table                                     []calc.Point
	Inductance, Period, Overshoot, Damping    quantity.Value
	MovementTempco, Internal                  quantity.Value
	InternalKind, InCircuit, Origin, Diodes   string
	Overload                                  quantity.Value
	ZeroOffset, Stick, Stop                   quantity.Value
	PositionFor, Position, PanelFor, Panel    string
	Diameter, Neighbour                       quantity.Value
}

// A Drive is the PWM pin of a hand, its series resistance and its filter.
type Drive struct {
	Clock                                 quantity.Value
	Prescale, Counts, Top                 int
	Rounding                              string
	PinResistance, PinLimit, Stage, Fixed quantity.Value
	Trimmer, TrimmerTurns, Setting        quantity.Value
	Capacitor, CapacitorRating            quantity.Value
	CapacitorAt, CapacitorKind            string
	ResistorTempco, ResistorRating        quantity.Value
	PinHigh, PinLow, PWMWanted, RampTick  quantity.Value
}

// A Crystal is the watch crystal, its load and the counter behind it.
type Crystal struct {
	Frequency, Load, CapacitorIn, CapacitorOut, Stray quantity.Value
	Motional, Shunt, ESR, Transconductance            quantity.Value
	Tolerance, Ageing, Curvature, Turnover            quantity.Value
	RoomLow, RoomHigh, Measured, MeasuredAt           quantity.Value
	CounterBits, Prescale, Reload, LostCounts         int
	TickCounted                                       quantity.Value

	off float64 // ppm by which one crystal differs from its nominal frequency
}

// A Battery is a number of like cells in series; 0 cells is an external supply.
type Battery struct {
	Cell                                                   string
	Cells                                                  int
	Capacity, Cutoff, Resistance, SelfDischarge, ShelfLife quantity.Value
	ResistanceEnd, SeriesDrop                              quantity.Value
	Curve                                                  []calc.Charge

	given given
}

// A Converter stands between the battery and the rail.
type Converter struct {
	Kind                                         string
	Efficiency, Quiescent, MinimumInput, Dropout quantity.Value
}

// A Load is what the controller takes, and for how long a day.
type Load struct {
	ControllerOn, ControllerOff, HoursOn, MinimumVoltage quantity.Value
	PackageLimit                                         quantity.Value
}

// A Lamp is an LED indicator, or several alike.
type Lamp struct {
	Name                                  string
	Forward, Resistor, PinResistance, Lit quantity.Value
	ResistorRating                        quantity.Value
	Count                                 int
}

// A Drain is what else takes current, awake and asleep: a divider, a leaking
// capacitor, a power lamp on a bought board.
type Drain struct {
	Name    string
	On, Off quantity.Value
	From    string
}

// A Button is a push button with its pull resistor.
type Button struct {
	Name  string
	Pull  quantity.Value
	Wakes string
}

// A Reading is what the multimeter said at a test point.
type Reading struct{ At, Value string }

// Builds is the kind of file that holds a build. Of each list it takes more than any
// clock has, and few enough for all of them to be worked out with every key.
var Builds = (&Schema{
	lists: []list{
		{"hand", "name", 12, func(root any, n int) { root.(*Build).Hands = make([]Hand, n) }},
		{"lamp", "name", 40, func(root any, n int) { root.(*Build).Lamps = make([]Lamp, n) }},
		{"drain", "name", 40, func(root any, n int) { root.(*Build).Drains = make([]Drain, n) }},
		{"button", "name", 40, func(root any, n int) { root.(*Build).Buttons = make([]Button, n) }},
		{"reading", "at", 200, func(root any, n int) { root.(*Build).Readings = make([]Reading, n) }},
	},
	empty:    func() any { return new(Build) },
	complete: func(root any) { root.(*Build).Battery.fill() },
	check:    crossCheck,
}).prepare(fieldRows)

// NameOf returns the name of the i-th hand, lamp or other element of a list, or its
// number from 1 where it has none.
func (b *Build) NameOf(list string, i int) string { return Builds.NameOf(b, list, i) }
