package bench

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// A scene is one clock on the bench: its circuit as it is, faults and all, and what the
// circuit does not hold.
type scene struct {
	c        *circuit.Circuit
	meter    *model.Multimeter
	drift    float64   // share by which the rail has moved since the trimming
	wrongWay bool      // the leads at the coil's terminals are read as the meter has them, not the circuit
	contacts float64   // Ω of the cells' contacts that the multimeter can get across
	floating float64   // share of the rail that a pin without its pull reads
	shapes   []float64 // of each hand, by how much its class puts its scale off at half
	bends    []float64 // of each hand, by how much its scale is off at half of its current
	dummies  []float64 // Ω, of each hand
	planned  []float64 // Ω, of each hand, in its meter's case as planned: a dummy stands behind it
	apart    []float64 // Ω, of each meter whose wire is off, which then hangs on nothing; else 0
	dropout  float64   // V, of a linear regulator
	toGround []bool    // of each button: its pull resistor goes there
	share    float64   // of its waking current that a controller takes on a rail too low for it
	less     []bool    // of each hand: its trimmer is turned towards less resistance, since its end comes first

	on, off supplied // awake with the hands at code 0 and the lamps as lit; asleep
	reset   bool     // the controller is held, or its rail is too low for it
	lowRail bool     // its rail is too low for it

	rails []parkedRail // worked out already: the points of a hand ask for the same few
}

// A parkedRail is the rail while a hand is parked at a code, its trimmer so set.
type parkedRail struct {
	hand          int
	code, setting float64 // setting: Ω, NaN where the trimmer is set for full scale
	rail          float64 // V
}

// A supplied clock is what its pack gives and what comes of that.
type supplied struct {
	rail    float64 // V
	load    float64 // A on the rail
	pack    float64 // V at the holder's leads
	current float64 // A from the cells
}

// deadRail is below what any controller runs on, V.
const deadRail = 0.5

// set works out what all points share.
func (s *scene) set() {
	s.rails = s.rails[:0]
	s.reset = s.held()
	s.on = s.supply(func(rail float64) float64 { return s.awake(rail, -1, 0, true) }, true, 0)
	if s.on.rail < max(orNothing(s.c.Supply.Minimum), deadRail) {
		s.lowRail, s.reset = !s.reset, true
		s.on = s.supply(func(rail float64) float64 { return s.awake(rail, -1, 0, true) }, true, 0)
	}
	s.off = s.supply(s.asleep, false, 0)
	s.less = nil
	for i := range s.c.Hands {
		s.less = append(s.less, s.pastEnd(i) > 0)
	}
}

// held says whether nothing at all goes on, as with a controller that is held.
func (s *scene) held() bool {
	if !s.c.Crystal.Stopped {
		return false
	}
	for i := range s.c.Hands {
		if s.c.Hands[i].PinState != circuit.Low {
			return false
		}
	}
	for i := range s.c.Lamps {
		if !math.IsInf(s.c.Lamps[i].Resistance, 1) {
			return false
		}
	}
	return len(s.c.Hands)+len(s.c.Lamps) > 0
}

// duty is the share of the time for which a hand's pin is high while the firmware is
// parked at a code.
func (s *scene) duty(i int, code float64) float64 {
	h := &s.c.Hands[i]
	if s.reset && h.PinState != circuit.High {
		return 0
	}
	if h.PinState == circuit.Lent { // parked, the firmware keeps the lamps dark
		return 0
	}
	return min(h.Duty(code), 1)
}

// awake is what the waking clock takes from a rail, A: one hand at a code, the others at
// 0, the lamps dark or on average.
func (s *scene) awake(rail float64, hand int, code float64, lamps bool) float64 {
	c := s.c
	load := c.Supply.ControllerOn*s.alive() + c.Supply.RailDrainOn + s.buttons(rail)
	for i := range c.Hands {
		at := 0.0
		if i == hand {
			at = code
		}
		duty := s.duty(i, at)
		if c.Hands[i].PinState == circuit.Lent && lamps {
			duty = c.Hands[i].Lent
		}
		load += s.fromRail(i, rail, duty)
	}
	for i := range c.Lamps {
		l := &c.Lamps[i]
		share := 0.0
		switch {
		case l.ShareAsleep > 0: // always lit
			share = l.ShareAsleep
		case lamps && !s.reset:
			share = l.Share
		}
		load += share * l.Current(rail)
	}
	return load
}

// alive is the share of its waking current that a controller takes: less where its rail is
// too low for it.
func (s *scene) alive() float64 {
	if s.lowRail {
		return s.share
	}
	return 1
}

// asleep is what the sleeping clock takes from a rail, A.
func (s *scene) asleep(rail float64) float64 {
	c := s.c
	load := c.Supply.ControllerOff + c.Supply.RailDrainOff + s.buttons(rail)
	if c.Supply.NeverSleeps || s.reset {
		load = c.Supply.ControllerOn*s.alive() + c.Supply.RailDrainOn + s.buttons(rail)
	}
	for i := range c.Hands {
		if c.Hands[i].HighAsleep {
			load += s.fromRail(i, rail, 1)
		}
	}
	for i := range c.Lamps {
		load += c.Lamps[i].ShareAsleep * c.Lamps[i].Current(rail)
	}
	return load
}

// fromRail is what a hand takes from a rail at a duty, A; nothing through an open chain.
func (s *scene) fromRail(i int, rail, duty float64) float64 {
	if !(duty > 0) {
		return 0
	}
	h, _ := protected(&s.c.Hands[i], duty*rail)
	if h.PinState == circuit.Lent { // a lamp's flashes are too slow for the capacitor
		return orNothing(duty * h.Drive().Pin.FromRail(rail, 1))
	}
	return orNothing(h.Drive().Pin.FromRail(rail, duty))
}

// buttons is what flows through pull resistors whose button is joined, A.
func (s *scene) buttons(rail float64) float64 {
	sum := 0.0
	for _, b := range s.c.Buttons {
		if b.Held {
			sum += rail / b.Pull
		}
	}
	return sum
}

// supply is what comes of a load on the rail, with a resistance, Ω, more in the cells'
// lead: the multimeter's burden.
func (s *scene) supply(load func(rail float64) float64, awake bool, burden float64) supplied {
	awake = awake || s.reset || s.c.Supply.NeverSleeps
	set := s.c.Rail
	if !awake && s.c.Asleep > 0 {
		set = s.c.Asleep
	}
	set *= 1 + s.drift
	if !s.c.Battery.Present {
		return supplied{rail: set, load: load(set), pack: math.NaN(), current: math.NaN()}
	}
	pack := s.c.Battery.Pack
	pack.Supply.Rail = set
	pack.Supply.Resistance += burden
	if pack.Fresh() <= pack.Supply.Drop { // one cell stands against the other
		return supplied{pack: max(0, pack.Fresh())}
	}
	out := supplied{rail: set}
	for range 6 { // the rail of bare cells follows the load, and that the rail
		out.load = load(out.rail)
		rail := s.draw(&pack, &out, awake, set)
		if math.Abs(rail-out.rail) < 1e-7 {
			break
		}
		out.rail = rail
	}
	return out
}

// draw puts what the pack gives for a load into a supplied clock, and returns its rail.
func (s *scene) draw(pack *calc.Pack, out *supplied, awake bool, set float64) (rail float64) {
	p := *pack
	p.On, p.Off = out.load, out.load
	if p.Supply.Kind != calc.NoConverter || p.Supply.Drop > 0 { // nothing comes back through a converter or a diode
		p.On, p.Off = max(0, p.On), max(0, p.Off)
	}
	d, ok := p.DrawFresh(awake)
	input := d.Voltage - p.Supply.Drop
	if p.Supply.Kind == calc.Boost && (!ok || input < p.Floor || input >= set) { // it does not convert
		p.Supply.Kind = calc.NoConverter
		p.DirectOn, p.DirectOff = p.DirectOn+p.Supply.Quiescent, p.DirectOff+p.Supply.Quiescent
		d, _ = p.DrawFresh(awake)
		input = d.Voltage - p.Supply.Drop
		out.pack, out.current = max(0, d.Voltage), d.Current
		return max(0, input)
	}
	out.pack, out.current = max(0, d.Voltage), d.Current
	switch p.Supply.Kind {
	case calc.Boost:
		return set
	case calc.LinearRegulator:
		return max(0, min(set, input-s.dropout))
	}
	return max(0, input)
}

// parked is the rail while a hand is parked at a code, the lamps dark.
func (s *scene) parked(i int, code float64) float64 {
	if s.c.Battery.Present && s.c.Battery.Pack.Supply.Kind != calc.NoConverter && s.on.rail == s.c.Rail*(1+s.drift) {
		return s.on.rail // held
	}
	setting := s.c.Hands[i].Setting
	for n := range s.rails {
		if r := &s.rails[n]; r.hand == i && r.code == code && (r.setting == setting || math.IsNaN(r.setting) && math.IsNaN(setting)) {
			return r.rail
		}
	}
	rail := s.supply(func(rail float64) float64 { return s.awake(rail, i, code, false) }, true, 0).rail
	s.rails = append(s.rails, parkedRail{i, code, setting, rail})
	return rail
}

// place is where a needle stands, of its whole scale, for a share of its full-scale current.
func (s *scene) place(i int, share float64) float64 {
	h := &s.c.Hands[i]
	if share < 0 {
		return h.ZeroOffset + h.OnScale(-h.Law.At(-share))
	}
	y := h.Law.At(share)
	if in := min(share, 1); in > 0 {
		y += s.bends[i] * 4 * in * (1 - in)
	}
	if in := min(y, 1); in > 0 {
		y += s.shapes[i] * 4 * in * (1 - in)
	}
	return h.ZeroOffset + h.OnScale(y)
}

// needle is where a hand's needle stands at a code.
func (s *scene) needle(i int, code float64) float64 {
	duty := s.duty(i, code)
	pin := duty * s.parked(i, code)
	chain, reaches := protected(&s.c.Hands[i], pin)
	share := chain.Reads(pin) * reaches
	if h := &s.c.Hands[i]; h.Law.Kind == calc.Square && duty > 0 && duty < 1 {
		return s.place(i, s.meanSquare(i, code, share))
	}
	return s.place(i, share)
}

// meanSquare is the share of full scale whose square is the mean square of the coil's
// current at a code.
func (s *scene) meanSquare(i int, code, share float64) float64 {
	h := &s.c.Hands[i]
	d := h.Drive()
	ripple := h.Ripple(&d)
	ripple.Duty, ripple.Rail = s.duty(i, code), d.Share*s.parked(i, code)
	square := share*share + ripple.LawShift(&h.Law)
	if !(square > 0) {
		return share
	}
	return math.Sqrt(square)
}

// voltage is what the multimeter says from a place of a hand's chain to ground at a code.
func (s *scene) voltage(i int, code float64, place int) float64 {
	pin := s.duty(i, code) * s.parked(i, code)
	h, _ := protected(&s.c.Hands[i], pin)
	return orNothing(h.Probed(pin, place, s.meter.Input.Number)[place])
}

// terminals is the same at the meter's terminals: the wrong way round, where it is read as
// the meter's own signs have it.
func (s *scene) terminals(i int, code float64) float64 {
	if s.apart[i] > 0 {
		return 0
	}
	v := s.voltage(i, code, circuit.BehindTrimmer)
	if s.wrongWay && s.c.Hands[i].Reversed {
		return -v
	}
	return v
}

// pinVoltage is the same of the pin itself, which a broken wire leaves as it is.
func (s *scene) pinVoltage(i int, code float64) float64 {
	if math.IsInf(s.c.Hands[i].Pin, 1) {
		return s.duty(i, code) * s.parked(i, code)
	}
	return s.voltage(i, code, circuit.BehindPin)
}

// across is what it says across an element of the chain at the top code.
func (s *scene) across(i, behind int) float64 {
	h := s.c.Hands[i]
	h.Setting = h.InForce()
	input := s.meter.Input.Number
	switch behind {
	case circuit.BehindStage:
		h.Stage = calc.SideBySide(h.Stage, input)
	case circuit.BehindFixed:
		h.Fixed = calc.SideBySide(h.Fixed, input)
	case circuit.BehindTrimmer:
		h.Setting = calc.SideBySide(h.Setting, input)
	}
	pin := s.duty(i, h.Top) * s.parked(i, h.Top)
	chain, _ := protected(&h, pin)
	v := chain.Voltages(pin)
	return orNothing(v[behind-1] - v[behind])
}

// meterOhms is what an ohmmeter says at a meter's terminals, Ω.
func (s *scene) meterOhms(i int) float64 {
	h := &s.c.Hands[i]
	meter := calc.SideBySide(h.Coil, h.Shunt) + h.Multiplier
	if s.apart[i] > 0 {
		meter = s.apart[i]
	}
	return calc.SideBySide(meter, h.CoilLeak)
}

// dummy is what it says across a resistor in the meter's place at a code.
func (s *scene) dummy(i int, code float64) float64 {
	if s.apart[i] > 0 {
		return 0
	}
	h := s.c.Hands[i]
	h.Setting = h.InForce()
	h.Coil, h.Shunt, h.Multiplier, h.CoilLeak = s.dummies[i], math.Inf(1), s.planned[i], math.Inf(1)
	v := h.Probed(s.duty(i, code)*s.parked(i, code), circuit.AtCoil, s.meter.Input.Number)
	return orNothing(v[circuit.AtCoil])
}

// alternating is the rms of what changes at a hand's node at half of the top code.
func (s *scene) alternating(i int) float64 {
	h := &s.c.Hands[i]
	code := half(h.Top)
	duty, rail := s.duty(i, code), s.parked(i, code)
	place := circuit.BehindTrimmer
	if h.AtStage {
		place = circuit.BehindStage
	}
	to := orNothing(h.Voltages(rail)[place])
	if !(h.Capacitor > 0) {
		before, after := h.Pin+h.Stage, h.Fixed+h.InForce()
		if !h.AtStage {
			before, after = before+after, 0
		}
		all := before + after + h.Multiplier + h.Coil
		if h.Inductance > 0 && math.IsInf(h.Shunt, 1) && !math.IsInf(all, 1) {
			return calc.PulsedCoilRMS(rail, duty, before/all, h.Inductance/all*h.PWM)
		}
		return calc.PulsedRMS(to, duty, 0)
	}
	d := h.Drive()
	resistance := calc.SideBySide(d.Pin.Before, d.Pin.After)
	if math.IsInf(resistance, 1) {
		return 0
	}
	return calc.PulsedRMS(to, duty, resistance*h.Capacitor*h.PWM)
}
