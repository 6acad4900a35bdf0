package network

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// A Drop is what stands across something in a hand's chain, and what goes through it.
type Drop struct {
	Part    string // the id of the part that it is, or is inside of
	Inside  string // "" the part itself; else what inside of it: "pin", "multiplier", "coil"
	Ohms    float64
	Across  Figure
	Through Figure
	Behind  Figure // V to ground behind it
}

// A HandFlow is what a hand's network carries at a time, on average over the pulses.
type HandFlow struct {
	Hand    int
	Needle  circuit.Needle
	Code    float64
	Down    bool   // of a bridge: the second pin drives, and the current goes upwards
	Driven  Figure // V that the driver gives on average, before any resistance; of a bridge the first pin
	Back    Figure // V that the other end of the chain is at: 0 at ground and at a low pin
	Chain   []Drop // from the driver to where the current comes back, in series
	Current Figure // through the chain, downwards
	Coil    Figure // through the coil
	Shunt   Figure // through what lies across the coil inside the case; not known where nothing does
	Rail    Figure // A that the driver takes from the rail
	Low     Figure // A that the driver, while it is low, lets out of the capacitor to ground
}

// A Taker is what takes current from the rail or the pack.
type Taker struct {
	Part string // the id of the part; "" a drain
	Name string // of a drain
	Hand int    // of a hand's driver; else -1
	Lamp int    // of a kind of lamps; else -1
	Amps Figure // on average
}

// A SupplyFlow is what feeds the clock at a time, awake.
type SupplyFlow struct {
	Rail      Figure // V
	Own       Figure // A that the controller itself takes
	Pins      []Taker
	Chip      Figure  // A into the controller's supply pin: its own and its pins'
	Takers    []Taker // what else takes from the rail
	Total     Figure  // A from the rail, all
	Input     Figure  // V at the converter's input
	In        Figure  // A into it
	Return    Figure  // A out of it to ground
	Pack      Figure  // V at the holder
	Direct    []Taker // drains from the pack
	FromCells Figure  // A
	Dropped   Figure  // V across the polarity diode
	Carries   bool    // the cells can feed all this
	Passes    bool    // fresh cells stand above the rail, and a step-up passes them through
	Rest      float64 // V of the fresh cells at rest
	Inside    float64 // Ω of the cells
}

// A Flow is what the whole clock carries at a time.
type Flow struct {
	Hands  []HandFlow
	Supply SupplyFlow
}

// At returns what flows while each hand shows a share of its dial's time, from 0 at the zero
// end to 1 at the top, the clock awake and its lamps as they flash.
func (n *Network) At(shares []float64) *Flow {
	f := &Flow{}
	for i := range n.Build.Hands {
		f.Hands = append(f.Hands, n.handAt(i, shares[i]))
	}
	f.Supply = n.supplyAt(shares)
	return f
}

// Shares are those of all hands at the instant at which one of them shows a share of its
// dial's time.
func (n *Network) Shares(hand int, share float64) []float64 {
	shares := make([]float64, len(n.Build.Hands))
	seconds := 0.0
	if len(shares) > 0 {
		seconds = share * n.Plan.Minutes(hand) * 60
	}
	for i := range shares {
		shares[i] = n.Plan.Needle(i, seconds).Share
	}
	if len(shares) > 0 {
		shares[hand] = share
	}
	return shares
}

// Tops are the shares at which each hand stands at its top.
func (n *Network) Tops() []float64 {
	return slices.Repeat([]float64{1}, len(n.Build.Hands))
}

// handAt works out one hand.
func (n *Network) handAt(i int, share float64) HandFlow {
	h := &n.Plan.Circuit.Hands[i]
	f := HandFlow{Hand: i, Needle: n.Plan.NeedleAt(i, share)}
	f.Code, f.Down = math.Abs(f.Needle.Code), f.Needle.Code < 0
	d := h.Drive()
	chain := n.chain(i, d.Setting)
	through := 0.0
	for _, c := range chain {
		through += c.Ohms
	}
	_, fullScale := h.Shunted()
	volts, amps := Volts(h.FullScale*h.Coil), Currents(max(fullScale, h.TopVoltage()/through, h.MostFromRail()/100))
	start, end := f.Needle.Pin, 0.0
	if f.Down {
		start, end = 0, -f.Needle.Pin
	}
	current := (start - end) / through
	f.Current, f.Coil, f.Shunt = amps.Round(current), amps.Round(f.Needle.Current), Figure{Of: amps}
	if math.IsInf(h.Shunt, 1) {
		f.Coil = f.Current
	} else {
		f.Shunt = f.Current.Minus(f.Coil)
	}
	f.Driven, f.Back = volts.Round(start), volts.Round(end)
	at, before := start, f.Driven
	for k := range chain {
		c := &chain[k]
		at -= current * c.Ohms
		c.Behind = volts.Round(at)
		if k == len(chain)-1 {
			c.Behind = f.Back
		}
		c.Across, c.Through = before.Minus(c.Behind), f.Current
		before = c.Behind
	}
	f.Chain = chain
	drawn := amps.Round(math.Abs(current))
	f.Rail = amps.Round(n.fromRail(i, share))
	f.Low = f.Rail.Minus(drawn)
	return f
}

// chain are the resistances of a hand from its driver on, the trimmer set.
func (n *Network) chain(i int, setting float64) []Drop {
	c, h := &n.Plan.Circuit.Hands[i], &n.Build.Hands[i]
	id := func(part string) string { return "hand." + h.Name + "." + part }
	pin, name := c.Pin, "controller"
	switch {
	case c.Bridge:
		pin /= 2
	case c.Switched:
		name = id("upper")
	}
	drops := []Drop{{Part: name, Inside: "pin", Ohms: pin}}
	for _, r := range seriesOf(h) {
		ohms := r.value.Number
		if r.id == "trimmer" {
			ohms = setting
		}
		drops = append(drops, Drop{Part: id(r.id), Ohms: ohms})
	}
	if c.Multiplier > 0 {
		drops = append(drops, Drop{Part: id("meter"), Inside: "multiplier", Ohms: c.Multiplier})
	}
	behind, _ := c.Shunted()
	drops = append(drops, Drop{Part: id("meter"), Inside: "coil", Ohms: behind})
	if c.Bridge {
		drops = append(drops, Drop{Part: name, Inside: "back", Ohms: pin})
	}
	return drops
}

// fromRail is what a hand takes from the rail on average, A.
func (n *Network) fromRail(i int, share float64) float64 {
	h := &n.Plan.Circuit.Hands[i]
	d := h.Drive()
	duty := math.Abs(n.Plan.NeedleAt(i, share).Duty)
	return d.Pin.FromRail(h.Rail, duty)
}

// A taking is a taker with what it takes before that is rounded, A.
type taking struct {
	Taker
	amps float64
}

// takings are all that take current while each hand shows a share of its dial's time: through
// the controller's pins, from the rail besides, and from the pack itself.
func (n *Network) takings(shares []float64) (pins, rail, pack []taking) {
	b, p := n.Build, n.Plan
	for i := range b.Hands {
		t := taking{Taker{Part: "controller", Hand: i, Lamp: -1}, n.fromRail(i, shares[i])}
		if b.Hands[i].Drive.By != "switch" {
			pins = append(pins, t)
			continue
		}
		t.Part = "hand." + b.Hands[i].Name + ".upper"
		pull := taking{Taker{Part: "hand." + b.Hands[i].Name + ".pull", Hand: i, Lamp: -1}, math.Abs(p.NeedleAt(i, shares[i]).Duty) * b.Rail.Voltage.Number / GatePull}
		rail = append(rail, t, pull)
	}
	for i := range b.Lamps {
		if b.Lamps[i].Count > 0 {
			pins = append(pins, taking{Taker{Part: "controller", Hand: -1, Lamp: i}, p.Circuit.Lamps[i].Share * p.Lamps[i].Current})
		}
	}
	for i := range b.Drains {
		d := &b.Drains[i]
		t := taking{Taker{Name: d.Name, Hand: -1, Lamp: -1}, d.On.Number}
		switch {
		case d.From != "pack":
			rail = append(rail, t)
		case b.Battery.HasCells():
			pack = append(pack, t)
		}
	}
	return pins, rail, pack
}

// supplyAt works out what feeds the clock.
func (n *Network) supplyAt(shares []float64) SupplyFlow {
	b := n.Build
	pins, rail, pack := n.takings(shares)
	own := b.Load.ControllerOn.Number
	load := own
	for _, t := range slices.Concat(pins, rail) {
		load += t.amps
	}
	f := SupplyFlow{Carries: true}
	draw, input := f.draw(n, load)
	largest := load
	if b.Battery.HasCells() && f.Carries {
		largest = max(load, draw.Current)
	}
	volts, amps := Volts(1), Currents(largest)
	f.Rail, f.Own = volts.Round(b.Rail.Voltage.Number), amps.Round(own)
	f.Pins, f.Chip = f.Own.with(pins)
	f.Takers, f.Total = f.Chip.with(rail)
	f.In = f.Total
	if HasConverter(b) {
		f.In = amps.Round(input)
		f.Return = f.In.Minus(f.Total)
	}
	f.Direct, f.FromCells = f.In.with(pack)
	f.Dropped = volts.Round(b.Battery.SeriesDrop.Number)
	f.Pack = volts.Round(draw.Voltage)
	f.Input = f.Pack.Minus(f.Dropped)
	if b.Battery.HasCells() && !HasConverter(b) {
		f.Input, f.Pack = f.Rail, f.Rail.Plus(f.Dropped)
	}
	return f
}

// with is a current with what takers take besides, each rounded as it is printed.
func (f Figure) with(takings []taking) (takers []Taker, sum Figure) {
	for _, t := range takings {
		t.Amps = f.Of.Round(t.amps)
		takers, f = append(takers, t.Taker), f.Plus(t.Amps)
	}
	return takers, f
}

// draw is what the fresh cells give for a load on the rail, and how much of it goes into the
// converter, A.
func (f *SupplyFlow) draw(n *Network, load float64) (d calc.Draw, input float64) {
	if !n.Build.Battery.HasCells() {
		return calc.Draw{Voltage: math.NaN()}, load
	}
	pack := n.Plan.Circuit.Battery.Pack
	pack.On, pack.Off = load, load
	f.Rest, f.Inside = pack.Fresh(), pack.Supply.Resistance
	d, f.Carries = pack.DrawFresh(true)
	if !f.Carries {
		return calc.Draw{Current: math.NaN(), Voltage: math.NaN()}, math.NaN()
	}
	f.Passes = pack.Supply.Kind == calc.Boost && d.Voltage-pack.Supply.Drop >= pack.Supply.Rail
	return d, d.Current - pack.DirectOn
}

// RailVolts is the rail as a figure.
func (n *Network) RailVolts(as Measure) Figure { return as.Round(n.Build.Rail.Voltage.Number) }

// LampFlow is what stands at one lamp while it is lit: across its resistor, with what its pin
// has inside, and across the LED; they add up to the rail.
func (n *Network) LampFlow(i int) (resistor, pin, led, current Figure) {
	l, volts := &n.Build.Lamps[i], Volts(1)
	amps := n.Plan.Lamps[i].Current
	current = Currents(amps).Round(amps)
	rail := volts.Round(n.Build.Rail.Voltage.Number)
	pin = volts.Round(amps * l.PinResistance.Number)
	led = volts.Round(min(l.Forward.Number, n.Build.Rail.Voltage.Number))
	return rail.Minus(pin).Minus(led), pin, led, current
}

// TimeText is a share of a hand's dial as a dial time.
func (n *Network) TimeText(hand int, share float64) string {
	return quantity.FormatDial(share, n.Build.Hands[hand].Shows)
}
