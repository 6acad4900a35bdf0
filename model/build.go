// Package model is the build of a meter clock as its file holds it, and the file as
// text: the schema of a kind of file, the fields of a build, reading, setting, stepping
// and changing. It knows no circuit; what a build gives is worked out in the rooms
// inside this folder, each of which may use those before it:
//
//	text -> model -> circuit -> spread, judge -> report
//
// The formulas themselves are in package calc. It knows no screen.
package model

import (
	"math"

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
	Builder   string
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
	Walk      []WalkRow
	Meter     Multimeter
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
	Dial    DialForm
	Scale   []ScaleRow
	Survey  []SurveyStep
}

// A DialForm is the dial of a hand as it is printed. What is absent is chosen where the dial
// is drawn: see package dial.
type DialForm struct {
	Width, Height, PivotX, PivotY, Radius, Start quantity.Value
	NumeralHeight, TitleHeight                   quantity.Value

	Numerals, NumeralStyle, NumeralsAlong string
	Ticks, Title, SecondScale             string
	Mirror, EndMarks                      string
	Holes, Windows                        []Hole
}

// A Hole is a round one in the plate of a dial, in m from the plate's middle, up and to
// the right.
type Hole struct{ X, Y, Diameter float64 }

// A ScaleRow is where the needle stood when a time was to be shown.
type ScaleRow struct {
	At, Stands, Going string
	Code, Of          int // not given: -1; 0
}

// A SurveyStep is one connection by which an unknown meter was looked at.
type SurveyStep struct {
	Volts, Source, Series, Across, Terminals quantity.Value
	Needle                                   string
}

// A Meter is the panel meter of a hand.
type Meter struct {
	Coil, CoilCopper, FullScale, Class, Sweep quantity.Value
	Law                                       string
	Table                                     []calc.Point
	Inductance, Period, Overshoot, Damping    quantity.Value
	MovementTempco, Internal                  quantity.Value
	InternalKind, InCircuit, Origin, Removed  string
	Marked                                    string
	Diodes                                    string
	Overload                                  quantity.Value
	ZeroOffset, Stick, Stop                   quantity.Value
	PositionFor, Position, PanelFor, Panel    string
	TrimmedInPlace                            string
	Diameter, Neighbour                       quantity.Value
	Kind, ZeroAt, Glow                        string
	ScaleFrom, OhmsPerVolt, ShuntDrop         quantity.Value
	TerminalResistance, TerminalFullScale     quantity.Value
}

// A Drive is the PWM pin of a hand, or what it switches, its series resistance and its filter.
type Drive struct {
	Clock                                 quantity.Value
	Prescale, Counts, Top, DutyOffset     int
	Rounding                              string
	PinResistance, PinLimit, Stage, Fixed quantity.Value
	Trimmer, TrimmerTurns, Setting        quantity.Value
	Capacitor, CapacitorRating            quantity.Value
	CapacitorAt, CapacitorKind            string
	ResistorTempco, ResistorRating        quantity.Value
	PinHigh, PinLow, PWMWanted, RampTick  quantity.Value
	PinTempco, Dummy                      quantity.Value
	By                                    string
	SwitchResistance, SwitchDrop          quantity.Value
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
	ResistanceEnd, SeriesDrop, Used                        quantity.Value
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
	To    string // where its pull resistor goes
}

// A Reading is what the multimeter said at a test point, or what was seen there.
type Reading struct{ At, Value, Note, Before string }

// A WalkRow is what the file keeps of a stage of the work: with which values it was done,
// and who met what no field or reading tells.
type WalkRow struct {
	Stage, Hand, RestedOn string
	Met                   []MetRow
}

// A MetRow is a condition of a stage that somebody signed.
type MetRow struct{ ID, Value, By, RestedOn string }

// A Multimeter is how far its readings may be off, and what it does to what it measures.
type Multimeter struct {
	Volts, Ohms, Amps, Hertz quantity.Value // shares of the reading
	Digits                   int            // of the display's last one
	Input                    quantity.Value
	BurdenSmall, BurdenLarge quantity.Value // Ω up to 4 mA, and beyond
}

// MayLeak says whether the capacitor is an electrolytic, or may be one: from 1 µF
// on, where its kind is not known.
func (d *Drive) MayLeak() bool {
	c := d.Capacitor.Number
	return c > 0 && d.CapacitorKind == "electrolytic" || c >= 1e-6 && d.CapacitorKind == ""
}

// MeterKinds are what a meter may be.
var MeterKinds = []string{"moving coil", "moving iron", "rectifier", "thermal", "cross coil", "other"}

// AsMeasured says whether the closed case was measured, in part or whole, and is what
// counts: what is inside stays connected.
func (m *Meter) AsMeasured() bool {
	return m.InCircuit == "yes" && (m.TerminalResistance.Given() || m.TerminalFullScale.Given())
}

// fullScaleSpared says whether nobody need know the movement's own full scale.
func (m *Meter) fullScaleSpared() bool { return m.AsMeasured() && m.TerminalFullScale.Given() }

// coilSpared says the same of its coil.
func (m *Meter) coilSpared() bool { return m.fullScaleSpared() && m.TerminalResistance.Given() }

// LeftInside says whether what was found inside the case is still connected, and known.
func (m *Meter) LeftInside() bool {
	return m.InternalKind != "none" && m.InCircuit == "yes" && m.Internal.Given()
}

// Terminals returns the resistance, Ω, and the full scale, A, that a closed case shows: as
// measured, or as they follow from coil, full scale and what is inside. Values are taken by
// at, a shunt by other: for the least current let through, its other end.
func (m *Meter) Terminals(at, other func(quantity.Value) float64) (resistance, fullScale float64) {
	resistance, fullScale = at(m.Coil), at(m.FullScale)
	if m.LeftInside() && m.InternalKind == "shunt" {
		shunt := other(m.Internal)
		resistance, fullScale = calc.Parallel(resistance, shunt), fullScale*(1+resistance/shunt)
	} else if m.LeftInside() {
		resistance += at(m.Internal)
	}
	if m.AsMeasured() && m.TerminalResistance.Given() {
		resistance = at(m.TerminalResistance)
	}
	if m.AsMeasured() && m.TerminalFullScale.Given() {
		fullScale = at(m.TerminalFullScale)
	}
	return resistance, fullScale
}

// Nominal takes a value as it is.
func Nominal(v quantity.Value) float64 { return v.Number }

// LawInForce is the law by which the needle is judged: square where none is given of a kind
// whose force grows with the square of the current.
func (m *Meter) LawInForce() string {
	if m.LawAssumed() {
		return "square"
	}
	if m.Law == "" {
		return "linear"
	}
	return m.Law
}

// LawAssumed says whether the law is not known, and taken as a square.
func (m *Meter) LawAssumed() bool {
	return m.Law == "" && (m.Kind == "moving iron" || m.Kind == "thermal")
}

// Source is the resistance of what drives the hand, Ω: the pin's, of a bridge that of both
// pins, or that of the transistor that is on.
func (d *Drive) Source() quantity.Value {
	switch d.By {
	case "switch":
		return d.SwitchResistance
	case "bridge":
		both := d.PinResistance
		both.Number *= 2
		if !both.Share {
			both.Tolerance *= 2
		}
		return both
	}
	return d.PinResistance
}

// Drop is what the hand loses of the rail before any resistance, V.
func (d *Drive) Drop() float64 {
	if d.By == "switch" {
		return d.SwitchDrop.Number
	}
	return 0
}

// MostTop is the largest top code that the counts allow.
func (d *Drive) MostTop() int { return d.Counts - d.DutyOffset }

// SmallestMark is the dial time between the closest marks, min.
func (h *Hand) SmallestMark() float64 {
	if h.Mark.Given() {
		return h.Mark.Number
	}
	switch h.Shows { // common practice, no source
	case "24 h":
		return 30
	case "60 min":
		return 1
	case "60 s":
		return 1.0 / 60
	}
	return 15
}

// Dummy is the resistor in the meter's place at the first power-up, Ω: as given, or the E24
// value next to the coil's; NaN where neither is known.
func (h *Hand) Dummy() float64 {
	if h.Drive.Dummy.Given() {
		return h.Drive.Dummy.Number
	}
	return calc.NearestPreferred(h.Meter.Coil.Number, calc.E24)
}

// Ticks are how the dial's marks divide its whole: into how many parts the short, the middle
// and the long ones do. Where none are given, or they cannot be read, they are the usual
// ones, the short ones as far apart as the smallest mark where that comes out even.
func (h *Hand) Ticks() [3]int {
	if parts, err := quantity.ParseTicks(h.Dial.Ticks, h.Shows); err == nil {
		return parts
	}
	parts, _ := quantity.ParseTicks(quantity.UsualTicks(h.Shows), h.Shows)
	if h.Mark.Given() {
		const most = 720 // more is a grey band
		short := float64(h.Minutes()) / h.SmallestMark()
		if n := int(math.Round(short)); 0 < n && n <= most && n%parts[1] == 0 && quantity.DialGrains(h.Shows)%n == 0 && math.Abs(short-float64(n)) < 1e-9 {
			parts[0] = n
		}
	}
	return parts
}

// Minutes is the whole time of the hand's dial, min.
func (h *Hand) Minutes() int {
	switch h.Shows {
	case "24 h":
		return 1440
	case "60 min":
		return 60
	case "60 s":
		return 1
	}
	return 720
}

// wrong says what is wrong with a hole by itself; "" where it will do.
func (h Hole) wrong() string {
	switch {
	case max(math.Abs(h.X), math.Abs(h.Y)) > 0.5:
		return "it is more than 500 mm from the plate's middle"
	case h.Diameter < 0.0002:
		return "its diameter is below 0.2 mm"
	case h.Diameter > 0.2:
		return "its diameter is above 200 mm"
	}
	return ""
}

// Off returns by how many ppm one crystal differs from its nominal frequency.
func (c *Crystal) Off() float64 { return c.off }

// PutOff makes it one that differs by so many ppm.
func (c *Crystal) PutOff(ppm float64) { c.off = ppm }

// given says which numbers of a cell the build itself gives.
type given struct {
	capacity, cutoff, resistance, resistanceEnd, selfDischarge, shelfLife, curve bool
}
