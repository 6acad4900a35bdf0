package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// loads are what is asked of the rail, A.
type loads struct {
	controller, lamps, hands, drains       float64 // awake, on average
	lampsAll, handsMost                    float64 // at most
	controllerAsleep, asleep, drainsAsleep float64 // asleep, and what hands and lamps take then
}

// loads needs the hands and lamps solved.
func (p *Plan) loads() loads {
	c, s := &p.Circuit, &p.Circuit.Supply
	l := loads{controller: s.ControllerOn, drains: s.RailDrainOn, controllerAsleep: s.ControllerOff, drainsAsleep: s.RailDrainOff}
	for i := range p.Lamps {
		lamp := &c.Lamps[i]
		l.lamps += lamp.Share * p.Lamps[i].Current
		l.lampsAll += lamp.Count * p.Lamps[i].Current
		if lamp.ShareAsleep > 0 { // what a dark lamp would draw need not be known
			l.asleep += lamp.ShareAsleep * p.Lamps[i].Current
		}
	}
	for i := range p.Hands {
		h := &c.Hands[i]
		l.hands += p.Hands[i].RailCurrent
		if h.HighAsleep {
			d := h.Drive()
			l.asleep += h.Rail / (d.Pin.Before + d.Pin.After)
		}
	}
	for _, b := range c.Buttons {
		if b.Held {
			l.drains, l.drainsAsleep = l.drains+c.Rail/b.Pull, l.drainsAsleep+c.Rail/b.Pull
		}
	}
	if s.NeverSleeps {
		l.controllerAsleep, l.drainsAsleep = l.controller, l.drains
	}
	return l
}

// solveLoads puts what the clock asks for, awake and asleep, into the plan's pack. What is
// fed into the rail does not charge it.
func (p *Plan) solveLoads() {
	l := p.loads()
	p.Pack = p.Circuit.Battery.Pack
	p.Pack.On = max(0, l.controller+l.lamps+l.hands+l.drains)
	p.Pack.Off = max(0, l.controllerAsleep+l.drainsAsleep+l.asleep)
}

// solveSupply computes what all together ask of rail and cells.
func (p *Plan) solveSupply() {
	c := &p.Circuit
	p.Battery = p.solveBattery()
	p.solveFresh()
	p.solveNod()
	p.solveButtons()
	p.Supply = SupplyPlan{HoldUp: math.NaN(), HoldUpAwake: math.NaN()}
	if p.Circuit.Supply.Capacitor > 0 {
		p.solveHoldUp()
	}
	for i := range p.Hands {
		if !c.Hands[i].Switched {
			p.Supply.PinsTogether += p.Hands[i].PinMeanCurrent
		}
	}
	for i := range p.Lamps {
		p.Supply.PinsTogether += c.Lamps[i].Count * p.Lamps[i].Current
	}
}

// solveBattery computes currents and lives of the cells.
func (p *Plan) solveBattery() BatteryPlan {
	c, pack := &p.Circuit, &p.Pack
	if !c.Battery.Present {
		return noBattery
	}
	l := p.loads()
	for i := range c.Hands {
		l.handsMost += c.Hands[i].MostFromRail()
	}
	peak := *pack
	peak.On = max(0, l.controller+l.drains+l.lampsAll+l.handsMost)
	b := BatteryPlan{
		CurrentPeak:   drawn(&peak, true),
		RailCurrentOn: pack.On, RailCurrentOff: pack.Off,
		CurrentOn: drawn(pack, true), CurrentOff: drawn(pack, false),
		LifeOn: pack.Life(24), LifeStandby: pack.Life(0), LifeMixed: pack.Life(c.Battery.HoursOn),
		Stranded: pack.Stranded(24),
	}
	b.Awake = shares(pack, b.CurrentOn, pack.On, pack.DirectOn, Shares{l.controller, l.lamps, l.hands, l.drains, 0})
	if len(c.Lamps) == 0 {
		b.Awake.Lamps = math.NaN()
	}
	b.Asleep = shares(pack, b.CurrentOff, pack.Off, pack.DirectOff, Shares{l.controllerAsleep, 0, 0, l.drainsAsleep, 0})
	if !c.Supply.Drains {
		b.Awake.Drains, b.Asleep.Drains = math.NaN(), math.NaN()
	}
	return b
}

// noBattery is the plan of an external supply.
var noBattery = nothing()

func nothing() BatteryPlan {
	n := math.NaN()
	none := Shares{n, n, n, n, n}
	return BatteryPlan{n, n, n, n, n, n, n, n, n, none, none}
}

// drawn is the current from the fresh pack, NaN where it cannot carry the load.
func drawn(pack *calc.Pack, awake bool) float64 {
	d, ok := pack.DrawFresh(awake)
	if !ok {
		return math.NaN()
	}
	return d.Current
}

// shares are the parts that consumers have in the current from the fresh pack,
// given their currents on the rail and what is taken from the pack directly. What
// the conversion costs is theirs; the converter's own is its quiescent current.
func shares(pack *calc.Pack, current, rail, direct float64, on Shares) Shares {
	own := pack.Supply.Quiescent
	if pack.Supply.Kind == calc.NoConverter {
		own = 0
	}
	if !(current > 0) { // NaN neither
		return noBattery.Awake
	}
	each := 0.0
	if rail > 0 {
		each = (current - direct - own) / rail / current
	}
	return Shares{on.Controller * each, on.Lamps * each, on.Hands * each, on.Drains*each + direct/current, own / current}
}

// MostFromRail is the largest mean current, A, that a hand takes from the rail at
// any of its codes: at one of the two beside the duty that takes most, or at an end.
func (h *HandCircuit) MostFromRail() float64 {
	if h.PinState == Floating {
		return 0
	}
	chain := h.Drive().Pin
	at := func(code float64) float64 { return chain.FromRail(h.Rail, h.Duty(min(code, h.Top))) }
	most := max(at(0), at(h.Top))
	if h.Capacitor == 0 {
		return most
	}
	counts := h.Counts / (2 * calc.Across(chain.After, chain.Before)) // high; +Inf where it always rises
	if h.PinState == Inverted {
		counts = h.Counts - counts
	}
	best := max(0, math.Floor(counts-h.Offset))
	return max(most, at(best), at(best+1))
}

// solveFresh computes by how much the needles read high while the fresh pack
// stands above the rail that nothing holds down.
func (p *Plan) solveFresh() {
	c, pack := &p.Circuit, &p.Pack
	for i := range p.Hands {
		p.Hands[i].FreshError = math.NaN()
	}
	if !c.Battery.Present || pack.Supply.Kind == calc.LinearRegulator {
		return
	}
	d, ok := pack.DrawFresh(true)
	if over := d.Voltage - pack.Supply.Drop - c.Rail; ok && over/c.Rail > 0 {
		for i := range p.Hands {
			h := &c.Hands[i]
			p.Hands[i].FreshError = h.Minutes * h.Reach * ((over+c.Rail-h.Drop)/h.Rail - 1)
		}
	}
}

// bareCells says whether the rail is the pack itself, less its drop.
func (p *Plan) bareCells() bool {
	return p.Circuit.Battery.Present && p.Pack.Supply.Kind == calc.NoConverter
}

// solveNod computes by how much the needles fall while every lamp is lit that was
// dark, where the cells' own resistance is between them and the rail.
func (p *Plan) solveNod() {
	fall := math.NaN() // of the rail, V
	if p.bareCells() {
		lamps := 0.0
		for i := range p.Lamps {
			lamps += p.Circuit.Lamps[i].Count * p.Lamps[i].Current
		}
		fall = unlessZero(p.Pack.Supply.Resistance * lamps)
	}
	for i := range p.Hands {
		h := &p.Circuit.Hands[i]
		p.Hands[i].LampNod = h.Minutes * h.Reach * fall / h.Rail
	}
}

// solveHoldUp computes how long the rail's capacitor holds it while cells are changed.
// Bare cells are changed when they are at their end, and without a diode what takes from
// them takes from the capacitor too.
func (p *Plan) solveHoldUp() {
	c, s, pack := &p.Circuit, &p.Circuit.Supply, &p.Pack
	from, asleep, awake := c.Rail, pack.Off, pack.On
	if p.bareCells() {
		from = min(from, pack.InputFloor())
		if pack.Supply.Drop == 0 {
			asleep, awake = asleep+pack.DirectOff, awake+pack.DirectOn
		}
	}
	p.Supply.HoldUp = Finite(calc.HoldUp(s.Capacitor, from, s.Minimum, asleep))
	p.Supply.HoldUpAwake = Finite(calc.HoldUp(s.Capacitor, from, s.Minimum, awake))
}

// solveButtons computes what a button costs that stays pressed.
func (p *Plan) solveButtons() {
	c := &p.Circuit
	p.Buttons = p.Buttons[:0]
	for _, button := range c.Buttons {
		plan := ButtonPlan{Current: c.Rail / button.Pull, WedgedLife: math.NaN()}
		if c.Battery.Present {
			pack, hoursOn, more := p.Pack, 0.0, plan.Current
			if button.Wakes {
				hoursOn = 24
			}
			if button.Held { // it costs that already
				more = 0
			}
			pack.On, pack.Off = pack.On+more, pack.Off+more
			plan.WedgedLife = pack.Life(hoursOn)
		}
		p.Buttons = append(p.Buttons, plan)
	}
}
