package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// SolveSupply computes what all together ask of rail and cells; it needs the
// hands and lamps solved.
func (p *Plan) SolveSupply(c *Circuit) {
	p.Battery = p.solveBattery(c)
	p.solveButtons(c)
	s := &c.Supply
	p.Supply = SupplyPlan{HoldUp: math.NaN()}
	if s.Capacitor > 0 {
		p.Supply.HoldUp = calc.HoldUp(s.Capacitor, c.Rail, s.Minimum, s.ControllerOff+s.RailDrainOff)
	}
	for i := range p.Hands {
		p.Supply.PinsTogether += p.Hands[i].PinMeanCurrent
	}
	for i := range p.Lamps {
		p.Supply.PinsTogether += c.Lamps[i].Count * p.Lamps[i].Current
	}
}

// solveBattery needs the hands and lamps solved.
func (p *Plan) solveBattery(c *Circuit) BatteryPlan {
	battery := &c.Battery
	if !battery.Present {
		return noBattery
	}
	lamps, lampsAll, hands, handsMost := 0.0, 0.0, 0.0, 0.0
	for i := range p.Lamps {
		lamps += c.Lamps[i].Share * p.Lamps[i].Current
		lampsAll += c.Lamps[i].Count * p.Lamps[i].Current
	}
	for i := range p.Hands {
		hands += p.Hands[i].RailCurrent
		handsMost += c.Hands[i].mostFromRail()
	}
	pack, s := &battery.Pack, &c.Supply
	rest := s.ControllerOn + s.RailDrainOn
	pack.On, pack.Off = rest+lampsAll+handsMost, s.ControllerOff+s.RailDrainOff
	b := BatteryPlan{CurrentPeak: drawn(pack, true)}
	pack.On = s.ControllerOn + lamps + hands + s.RailDrainOn
	b.RailCurrentOn, b.RailCurrentOff = pack.On, pack.Off
	b.CurrentOn, b.CurrentOff = drawn(pack, true), drawn(pack, false)
	b.LifeOn, b.LifeStandby, b.LifeMixed = pack.Life(24), pack.Life(0), pack.Life(battery.HoursOn)
	b.Stranded = pack.Stranded(24)
	b.Awake = shares(pack, b.CurrentOn, pack.On, pack.DirectOn, Shares{s.ControllerOn, lamps, hands, s.RailDrainOn, 0})
	if len(c.Lamps) == 0 {
		b.Awake.Lamps = math.NaN()
	}
	b.Asleep = shares(pack, b.CurrentOff, pack.Off, pack.DirectOff, Shares{s.ControllerOff, 0, 0, s.RailDrainOff, 0})
	if !s.Drains {
		b.Awake.Drains, b.Asleep.Drains = math.NaN(), math.NaN()
	}
	p.solveFresh(c)
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

// mostFromRail is the largest mean current, A, that a hand takes from the rail at
// any of its codes: at one of the two beside the duty that takes most.
func (h *HandCircuit) mostFromRail() float64 {
	chain := h.Chain()
	if h.Capacitor == 0 {
		return chain.FromRail(h.Rail, h.Top/h.Counts)
	}
	code := min(h.Top, math.Floor(h.Counts/(2*chain.After)*(chain.Before+chain.After)))
	return max(chain.FromRail(h.Rail, code/h.Counts), chain.FromRail(h.Rail, min(h.Top, code+1)/h.Counts))
}

// solveFresh computes by how much the needles read high while the fresh pack
// stands above the rail that nothing holds down.
func (p *Plan) solveFresh(c *Circuit) {
	pack := &c.Battery.Pack
	d, ok := pack.DrawFresh(true)
	if !ok || pack.Supply.Kind == calc.LinearRegulator {
		return
	}
	over := (d.Voltage-pack.Supply.Drop)/c.Rail - 1
	for i := range p.Hands {
		if over > 0 {
			p.Hands[i].FreshError = c.Hands[i].Minutes * over
		}
	}
}

// solveButtons computes what a button costs that stays pressed.
func (p *Plan) solveButtons(c *Circuit) {
	p.Buttons = p.Buttons[:0]
	for _, button := range c.Buttons {
		plan := ButtonPlan{Current: c.Rail / button.Pull, WedgedLife: math.NaN()}
		if c.Battery.Present {
			pack, hoursOn := c.Battery.Pack, 0.0
			if button.Wakes {
				hoursOn = 24
			}
			pack.On, pack.Off = pack.On+plan.Current, pack.Off+plan.Current
			plan.WedgedLife = pack.Life(hoursOn)
		}
		p.Buttons = append(p.Buttons, plan)
	}
}
