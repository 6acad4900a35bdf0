package circuit

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/scale"
)

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
	c.Rail, c.Asleep = b.Rail.Voltage.Number, 0
	c.Battery = WireBattery(b)
	c.Crystal = WireCrystal(b)
	c.Hands = c.Hands[:0]
	for i := range b.Hands {
		h := WireHand(b, &b.Hands[i])
		if b.Converter.Kind == "none" && c.Battery.Present {
			h.Floor = c.Battery.Pack.InputFloor() - h.Drop
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

// WireHand returns the circuit of a hand; what cells do to its rail is left out.
func WireHand(b *model.Build, h *model.Hand) HandCircuit {
	m, d := &h.Meter, &h.Drive
	minutes, steps := Dial(h.Shows)
	c := HandCircuit{
		Minutes: minutes, Steps: steps, AtTop: h.Noon == "top",
		Codes: h.Correct == "codes", Dial: h.Correct == "dial", Down: d.Rounding == "down",
		PWM:    calc.PWMFrequency(d.Clock.Number, float64(d.Prescale), float64(d.Counts)),
		Counts: float64(d.Counts), Top: float64(d.Top), Offset: float64(d.DutyOffset),
		Capacitor: d.Capacitor.Number, AtStage: d.CapacitorAt == "stage",
		Inductance: m.Inductance.Number,
		Law:        wireLaw(h), Movement: wireMovement(m),
		MostRail: MostRail(b),
		Floor:    math.NaN(),

		PinHigh: d.PinHigh.Number, PinLow: d.PinLow.Number, TrimmerTurns: d.TrimmerTurns.Number,
		Leaky: d.CapacitorKind == "electrolytic" && d.Capacitor.Number > 0, Diodes: m.Diodes == "silicon",
		Found: math.NaN(), FoundShunt: m.InternalKind == "shunt",
		CoilLeak: math.Inf(1), CapacitorLeak: math.Inf(1),
		ZeroOffset: m.ZeroOffset.Number, Stick: m.Stick.Number, Stop: m.Stop.Number,
		Mounting: mounting(m), Neighbour: m.Neighbour.Number / m.Diameter.Number,
		RampTick: d.RampTick.Number,
	}
	c.WireSeries(b, h)
	c.wireScale(h)
	if m.InternalKind != "none" {
		c.Found = m.Internal.Number
	}
	c.wireWorst(h)
	if c.Switched {
		c.PinHigh, c.PinLow = math.NaN(), math.NaN()
	}
	if !d.RampTick.Given() {
		c.RampTick = 1 / c.PWM
	}
	return c
}

// WireSeries wires what the trimmer is set for, and what the room does to it.
func (c *HandCircuit) WireSeries(b *model.Build, h *model.Hand) {
	m, d := &h.Meter, &h.Drive
	c.Switched, c.Bridge = d.By == "switch", d.By == "bridge"
	c.Drop = d.Drop()
	c.Rail = b.Rail.Voltage.Number - c.Drop
	c.Drift = b.Rail.Drift.Number * b.Rail.Voltage.Number / c.Rail
	c.Pin, c.Stage, c.Fixed = d.Source().Number, d.Stage.Number, d.Fixed.Number
	c.Trimmer, c.Setting = d.Trimmer.Number, d.Setting.Number
	c.Copper = m.CoilCopper.Number
	c.ResistorTempco, c.PinTempco, c.MoveTempco = d.ResistorTempco.Number*PerPPM, d.PinTempco.Number*PerPPM, m.MovementTempco.Number*PerPPM
	c.TrimmedAt, c.RoomLow, c.RoomHigh = b.Rail.TrimmedAt.Number, b.Crystal.RoomLow.Number, b.Crystal.RoomHigh.Number
	if !m.MovementTempco.Given() { // what that may be is in the error budget
		c.MoveTempco = 0
	}
	c.wireMeter(m)
}

// mounting is the share of the scale that the meter may be off by its mounting,
// NaN where none is given: none once it was trimmed there.
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
		if x.asked != x.is && m.TrimmedInPlace != "yes" {
			off += x.share
		}
	}
	return off
}

// wireLaw is the law of a hand's meter: as measured row by row where that is enough, or else
// as the build gives it.
func wireLaw(h *model.Hand) calc.Law {
	if f := scale.Of(h); f != nil && f.Enough {
		return f.Law
	}
	m := &h.Meter
	law := calc.Law{From: m.ScaleFrom.Number}
	switch m.LawInForce() {
	case "square":
		law.Kind = calc.Square
	case "table":
		if len(m.Table) >= 2 { // one that is not there or cannot be read is a problem of the file
			law.Kind, law.Points = calc.Table, m.Table
		}
	}
	return law
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

// WireBattery leaves the pack's loads to Solve.
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

// PerPPM is one part per million.
const PerPPM = 1e-6

// Shares of the scale that a mounting may cost which the dial does not ask for.
// Common practice, no source: the wrong panel 2 to 5 %, the wrong position about
// as much as a class.
const wrongPanel, wrongPosition = 0.05, 0.02
