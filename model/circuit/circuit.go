// Package circuit is the electrical and mechanical truth of a build: wired into a
// Circuit of plain numbers, solved into a Plan of results. No text is made here but
// of a single result.
package circuit

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
)

// A Circuit is the electrical and mechanical truth of a build, as numbers ready
// for the formulas, in SI units but for those package calc names. A number that
// is not known is NaN, and so becomes every result that needs it.
type Circuit struct {
	Rail    float64 // V
	Hands   []HandCircuit
	Crystal CrystalCircuit
	Lamps   []LampCircuit
	Buttons []ButtonCircuit
	Battery BatteryCircuit
	Supply  SupplyCircuit
}

// A HandCircuit is one meter on its pin.
type HandCircuit struct {
	Minutes float64 // S, the whole time of the dial
	Steps   int     // n, instants at which the hand is judged
	AtTop   bool    // the needle stands at the top, not at zero, at the wrap instant
	Codes   bool    // the firmware's table straightens the law
	Dial    bool    // the dial is drawn to the law
	Down    bool    // codes are rounded down

	Rail, PWM   float64 // V, Hz
	Counts, Top float64

	Pin, Stage, Fixed, Trimmer float64 // Ω, of the trimmer the whole
	Setting                    float64 // Ω, NaN: trimmed for full scale
	Capacitor                  float64 // F
	AtStage                    bool    // its node is behind the stage resistor, not at the coil

	Coil, FullScale, Inductance float64 // Ω, A, H
	Law                         calc.Law
	Movement                    calc.Movement
	Copper                      float64 // share of the coil
	ResistorTempco, MoveTempco  float64 // 1/K
	TrimmedAt                   float64 // °C
	RoomLow, RoomHigh           float64 // °C

	// With the pin stuck high, the trimmer at zero, each part at its worst end.
	MostRail, LeastChain, LeastFullScale float64

	Floor float64 // V at which bare cells end, NaN where a converter holds the rail

	// Small effects; what is not known of them, or not there, is NaN.
	PinHigh, PinLow, TrimmerTurns float64 // Ω, Ω
	Drift                         float64 // of the rail, a share
	Leaky                         bool    // the capacitor is an electrolytic
	Diodes                        bool    // across the coil
	Inside                        float64 // Ω of what is inside the case
	Shunt                         bool    // it is a shunt, not a multiplier
	ZeroOffset, Stick, Stop       float64 // shares of the scale
	Mounting                      float64 // share of the scale that its mounting may cost
	Neighbour                     float64 // diameters to the next magnet
	RampTick                      float64 // s
}

// A CrystalCircuit is the crystal, its load and its counter.
type CrystalCircuit struct {
	In, Out, Stray, Load float64 // F
	Pulling              calc.Pulling
	Frequency, ESR       float64 // Hz, Ω
	Transconductance     float64 // S
	Tolerance, Ageing    float64 // ppm
	Curvature, Turnover  float64 // ppm/K², °C
	RoomLow, RoomHigh    float64 // °C
	Measured, MeasuredAt float64 // Hz, NaN: not measured; °C
	Counter              calc.Counter
	TickCounted          float64 // s
	Off                  float64 // ppm, of this one crystal
}

// A LampCircuit is a kind of lamp.
type LampCircuit struct {
	Forward, Resistance float64 // V, Ω
	Resistor            float64 // Ω, without the pin
	Count               float64 // lamps
	Share               float64 // lamps lit on average
}

// A ButtonCircuit is a button, pressed.
type ButtonCircuit struct {
	Pull  float64 // Ω
	Wakes bool    // held down it keeps the clock awake
}

// A SupplyCircuit is what is asked of the rail and the controller.
type SupplyCircuit struct {
	Capacitor, Minimum          float64 // F on the rail, V below which the controller stops
	RailDrainOn, RailDrainOff   float64 // A
	ControllerOn, ControllerOff float64 // A
	Drains                      bool    // there are any
}

// A BatteryCircuit is the pack and what it feeds. Its pack's On is worked out
// by solve.
type BatteryCircuit struct {
	Present bool
	Pack    calc.Pack
	HoursOn float64
}

// Dial gives the whole time of a dial in minutes and the
// instants at which it is judged, by what a hand shows.
func Dial(shows string) (minutes float64, steps int) {
	switch shows {
	case "24 h":
		return 1440, 1440
	case "60 min":
		return 60, 60
	case "60 s":
		return 1, 60
	}
	return 720, 720
}

// Wire makes the circuit of a build, into one that is reused.
func Wire(b *model.Build, c *Circuit) {
	c.Rail = b.Rail.Voltage.Number
	c.Battery = WireBattery(b)
	c.Crystal = WireCrystal(b)
	c.Hands = c.Hands[:0]
	for i := range b.Hands {
		h := WireHand(b, &b.Hands[i])
		if b.Converter.Kind == "none" && c.Battery.Present {
			h.Floor = c.Battery.Pack.InputFloor()
		}
		c.Hands = append(c.Hands, h)
	}
	c.WireLamps(b)
	c.Buttons = c.Buttons[:0]
	for i := range b.Buttons {
		c.Buttons = append(c.Buttons, ButtonCircuit{Pull: b.Buttons[i].Pull.Number, Wakes: b.Buttons[i].Wakes == "press"})
	}
	c.Supply = WireSupply(b)
}

// WireLamps wires the lamps of a build.
func (c *Circuit) WireLamps(b *model.Build) {
	c.Lamps = c.Lamps[:0]
	for i := range b.Lamps {
		l := &b.Lamps[i]
		c.Lamps = append(c.Lamps, LampCircuit{
			Forward:    l.Forward.Number,
			Resistance: l.Resistor.Number + l.PinResistance.Number,
			Resistor:   l.Resistor.Number,
			Count:      float64(l.Count),
			Share:      float64(l.Count) * l.Lit.Number,
		})
	}
}

// WireSupply returns what is asked of the rail and the controller of a build.
func WireSupply(b *model.Build) SupplyCircuit {
	s := SupplyCircuit{
		Capacitor: b.Rail.Capacitor.Number, Minimum: b.Load.MinimumVoltage.Number,
		ControllerOn: b.Load.ControllerOn.Number, ControllerOff: b.Load.ControllerOff.Number,
		Drains: len(b.Drains) > 0,
	}
	s.RailDrainOn, s.RailDrainOff = drains(b, "rail")
	return s
}

// drains are what all drains of one place take, awake and asleep, A.
func drains(b *model.Build, from string) (on, off float64) {
	for i := range b.Drains {
		if d := &b.Drains[i]; d.From == from {
			on, off = on+d.On.Number, off+d.Off.Number
		}
	}
	return on, off
}

// PerPPM is one part per million.
const PerPPM = 1e-6

// WireHand returns the circuit of a hand; what cells do to its rail is left out.
func WireHand(b *model.Build, h *model.Hand) HandCircuit {
	m, d := &h.Meter, &h.Drive
	minutes, steps := Dial(h.Shows)
	c := HandCircuit{
		Minutes: minutes, Steps: steps, AtTop: h.Noon == "top",
		Codes: h.Correct == "codes", Dial: h.Correct == "dial", Down: d.Rounding == "down",
		PWM:    calc.PWMFrequency(d.Clock.Number, float64(d.Prescale), float64(d.Counts)),
		Counts: float64(d.Counts), Top: float64(d.Top),
		Capacitor: d.Capacitor.Number, AtStage: d.CapacitorAt == "stage",
		Inductance: m.Inductance.Number,
		Law:        wireLaw(m), Movement: wireMovement(m),
		MostRail:       MostRail(b),
		LeastChain:     d.PinResistance.Low() + d.Stage.Low() + d.Fixed.Low() + m.Coil.Low(),
		LeastFullScale: m.FullScale.Low(),
		Floor:          math.NaN(),

		PinHigh: d.PinHigh.Number, PinLow: d.PinLow.Number, TrimmerTurns: d.TrimmerTurns.Number,
		Drift: b.Rail.Drift.Number, Leaky: d.CapacitorKind == "electrolytic" && d.Capacitor.Number > 0, Diodes: m.Diodes == "silicon",
		Inside: math.NaN(), Shunt: m.InternalKind == "shunt",
		ZeroOffset: m.ZeroOffset.Number, Stick: m.Stick.Number, Stop: m.Stop.Number,
		Mounting: mounting(m), Neighbour: m.Neighbour.Number / m.Diameter.Number,
		RampTick: d.RampTick.Number,
	}
	c.WireSeries(b, h)
	if m.InternalKind != "none" {
		c.Inside = m.Internal.Number
	}
	if !d.RampTick.Given() {
		c.RampTick = 1 / c.PWM
	}
	return c
}

// WireSeries wires what the trimmer is set for, and what the room does to it.
func (c *HandCircuit) WireSeries(b *model.Build, h *model.Hand) {
	m, d := &h.Meter, &h.Drive
	c.Rail = b.Rail.Voltage.Number
	c.Pin, c.Stage, c.Fixed = d.PinResistance.Number, d.Stage.Number, d.Fixed.Number
	c.Trimmer, c.Setting = d.Trimmer.Number, d.Setting.Number
	c.Coil, c.FullScale, c.Copper = m.Coil.Number, m.FullScale.Number, m.CoilCopper.Number
	c.ResistorTempco, c.MoveTempco = d.ResistorTempco.Number*PerPPM, m.MovementTempco.Number*PerPPM
	c.TrimmedAt, c.RoomLow, c.RoomHigh = b.Rail.TrimmedAt.Number, b.Crystal.RoomLow.Number, b.Crystal.RoomHigh.Number
}

// Shares of the scale that a mounting may cost which the dial does not ask for.
// Common practice, no source: the wrong panel 2 to 5 %, the wrong position about
// as much as a class.
const wrongPanel, wrongPosition = 0.05, 0.02

// mounting is the share of the scale that the meter may be off by its mounting,
// NaN where none is given.
func mounting(m *model.Meter) float64 {
	off := math.NaN()
	for _, x := range [2]struct {
		asked, is string
		share     float64
	}{{m.PanelFor, m.Panel, wrongPanel}, {m.PositionFor, m.Position, wrongPosition}} {
		if x.asked == "any" || x.is == "" {
			continue
		}
		if math.IsNaN(off) {
			off = 0
		}
		if x.asked != x.is {
			off += x.share
		}
	}
	return off
}

func wireLaw(m *model.Meter) calc.Law {
	switch m.Law {
	case "square":
		return calc.Law{Kind: calc.Square}
	case "table":
		return calc.Law{Kind: calc.Table, Points: m.Table}
	}
	return calc.Law{}
}

func wireMovement(m *model.Meter) calc.Movement {
	damping := m.Damping.Number
	if !m.Damping.Given() {
		damping = calc.DampingFromOvershoot(m.Overshoot.Number)
	}
	return calc.Movement{Period: m.Period.Number, Damping: damping}
}

// MostRail is the most a pin can deliver: the upper end of the rail, or the
// fresh pack where nothing holds it back.
func MostRail(b *model.Build) float64 {
	most := b.Rail.Voltage.High()
	if b.Battery.HasCells() && b.Converter.Kind != "linear" {
		most = max(most, float64(b.Battery.Cells)*b.Battery.Curve[0].Rest)
	}
	return most
}

// WireCrystal returns the crystal of a build and its counter.
func WireCrystal(b *model.Build) CrystalCircuit {
	x := &b.Crystal
	c := CrystalCircuit{
		In: x.CapacitorIn.Number, Out: x.CapacitorOut.Number, Stray: x.Stray.Number, Load: x.Load.Number,
		Pulling:   calc.Pulling{Motional: x.Motional.Number, Shunt: x.Shunt.Number},
		Frequency: x.Frequency.Number, ESR: x.ESR.Number, Transconductance: x.Transconductance.Number,
		Tolerance: x.Tolerance.Number, Ageing: x.Ageing.Number,
		Curvature: x.Curvature.Number, Turnover: x.Turnover.Number,
		RoomLow: x.RoomLow.Number, RoomHigh: x.RoomHigh.Number,
		Measured: x.Measured.Number, MeasuredAt: x.MeasuredAt.Number,
		Counter: calc.Counter{
			Prescale: float64(x.Prescale), Bits: float64(x.CounterBits),
			Reload: float64(x.Reload), Lost: float64(x.LostCounts),
		},
		TickCounted: x.TickCounted.Number, Off: x.Off(),
	}
	if !x.MeasuredAt.Given() {
		c.MeasuredAt = b.Rail.TrimmedAt.Number
	}
	if !x.TickCounted.Given() {
		sound := c.Counter
		sound.Lost = 0
		c.TickCounted = sound.TickPeriod(c.Frequency)
	}
	return c
}

// WireBattery leaves the pack's waking load to solve.
func WireBattery(b *model.Build) BatteryCircuit {
	if !b.Battery.HasCells() {
		return BatteryCircuit{}
	}
	cells := float64(b.Battery.Cells)
	shelf := math.Inf(1)
	if b.Battery.ShelfLife.Given() {
		shelf = b.Battery.ShelfLife.Number * calc.HoursAYear
	}
	supply := calc.Supply{
		Rail: b.Rail.Voltage.Number, Efficiency: b.Converter.Efficiency.Number,
		Quiescent: b.Converter.Quiescent.Number, Resistance: cells * b.Battery.Resistance.Number,
		Drop: b.Battery.SeriesDrop.Number,
	}
	floor := b.Converter.MinimumInput.Number
	switch b.Converter.Kind {
	case "boost":
		supply.Kind = calc.Boost
	case "linear":
		supply.Kind = calc.LinearRegulator
		floor = max(floor, b.Rail.Voltage.Number+b.Converter.Dropout.Number)
	default:
		floor = max(floor, b.Load.MinimumVoltage.Number)
	}
	pack := calc.Pack{
		Supply: supply, Curve: b.Battery.Curve, Cells: cells, Floor: floor, Cutoff: cells * b.Battery.Cutoff.Number,
		Capacity: b.Battery.Capacity.Number, SelfDischarge: b.Battery.SelfDischarge.Number, Shelf: shelf,
	}
	if b.Battery.ResistanceEnd.Given() {
		pack.ResistanceRise = cells * (b.Battery.ResistanceEnd.Number - b.Battery.Resistance.Number)
	}
	pack.DirectOn, pack.DirectOff = drains(b, "pack")
	return BatteryCircuit{Present: true, Pack: pack, HoursOn: b.Load.HoursOn.Number}
}

// inForce is the trimmer's setting, Ω: as given, or set for full scale as far
// as it reaches.
func (h *HandCircuit) inForce() float64 {
	if !math.IsNaN(h.Setting) {
		return h.Setting
	}
	return min(max(h.SeriesNeeded()-h.Fixed, 0), h.Trimmer)
}

// Current is what one of the lamps takes from a rail, A.
func (l *LampCircuit) Current(rail float64) float64 {
	return max(0, (rail-l.Forward)/l.Resistance)
}

// TopVoltage returns the pin's mean voltage, V, at the top code.
func (h *HandCircuit) TopVoltage() float64 { return calc.PinVoltage(h.Rail, h.Top, h.Counts) }

// SeriesNeeded returns the resistance, Ω, that fixed resistor and trimmer must have
// together for full scale at the top code.
func (h *HandCircuit) SeriesNeeded() float64 {
	return calc.Multiplier(h.TopVoltage(), h.FullScale, h.Coil) - h.Pin - h.Stage
}

// Chain is the way from the pin to ground with the setting in force.
func (h *HandCircuit) Chain() calc.Chain {
	before, after := h.Pin+h.Stage, h.Fixed+h.inForce()
	if !h.AtStage {
		before, after = before+after, 0
	}
	return calc.Chain{Before: before, After: after + h.Coil, Capacitor: h.Capacitor}
}

// Coding returns how the hand's time becomes codes, and codes a time shown.
func (h *HandCircuit) Coding() calc.Coding {
	return calc.Coding{Law: &h.Law, Top: h.Top, Steps: h.Steps, Down: h.Down, Codes: h.Codes, Dial: h.Dial}
}
