package circuit

import (
	"math"

	"example.com/needlewright/calc"
)

// A Fault is something that can be wrong with a clock that was built: a change to its
// Circuit, by an amount. Solve computes a faulty circuit as it does a sound one.
type Fault struct {
	ID      string
	Of      string                       // "hand", "lamp", "button": what each of them can have; "": the clock
	Amounts []Span                       // that it can have; none: it has no amount
	there   func(c *Circuit, i int) bool // whether its part is; nil: always
	change  func(c *Circuit, i int, amount float64)
	spans   func(c *Circuit, i int) []Span // in place of Amounts, where those depend on the clock
}

// A Span is a range of amounts; of a single one both ends are alike.
type Span struct{ Least, Most float64 }

// Count returns how many elements of a circuit can have the fault.
func (f *Fault) Count(c *Circuit) int {
	switch f.Of {
	case "hand":
		return len(c.Hands)
	case "lamp":
		return len(c.Lamps)
	case "button":
		return len(c.Buttons)
	}
	return 1
}

// IsThere says whether the i-th element of a circuit has the part that the fault is of.
func (f *Fault) IsThere(c *Circuit, i int) bool { return f.there == nil || f.there(c, i) }

// Spans returns the amounts that the fault can have in the i-th element of a circuit.
func (f *Fault) Spans(c *Circuit, i int) []Span {
	if f.spans != nil {
		return f.spans(c, i)
	}
	return f.Amounts
}

// Apply puts the fault into the i-th element of a circuit. Whether the trimmer was set
// before or is set afterwards is up to the caller: see Trim.
func (f *Fault) Apply(c *Circuit, i int, amount float64) { f.change(c, i, amount) }

// ofHand makes a change of a hand's circuit.
func toHand(change func(h *HandCircuit, amount float64)) func(*Circuit, int, float64) {
	return func(c *Circuit, i int, amount float64) { change(&c.Hands[i], amount) }
}

// hasHand makes a condition on a hand's circuit.
func hasHand(so func(h *HandCircuit) bool) func(*Circuit, int) bool {
	return func(c *Circuit, i int) bool { return so(&c.Hands[i]) }
}

func hasFixed(h *HandCircuit) bool     { return h.Fixed > 0 }
func hasTrimmer(h *HandCircuit) bool   { return h.Trimmer > 0 }
func hasCapacitor(h *HandCircuit) bool { return h.Capacitor > 0 }

// hasSides says whether a meter can be the wrong way round: a moving iron, which takes the
// square of its current, cannot.
func hasSides(h *HandCircuit) bool { return h.Law.Kind != calc.Square }

// hasPack and its kin are conditions on the supply.
func hasPack(c *Circuit, _ int) bool { return c.Battery.Present }

func hasConverter(c *Circuit, _ int) bool {
	return c.Battery.Present && c.Battery.Pack.Supply.Kind != calc.NoConverter
}

// isSet says whether something sets the rail: a converter, or a supply from outside.
func isSet(c *Circuit, i int) bool { return !c.Battery.Present || hasConverter(c, i) }

// eitherSign are amounts from least to most, up and down.
func eitherSign(least, most float64) []Span { return []Span{{-most, -least}, {least, most}} }

// just are amounts of which each stands alone.
func just(amounts ...float64) []Span {
	spans := make([]Span, len(amounts))
	for k, x := range amounts {
		spans[k] = Span{x, x}
	}
	return spans
}

var open = math.Inf(1)

// Faults is the table of faults. Ranges: common practice, no source.
var Faults = []Fault{
	// The meter
	{ID: "zero_not_set", Of: "hand", Amounts: eitherSign(0.03, 0.15), change: toHand(func(h *HandCircuit, x float64) { h.ZeroOffset = x })},
	{ID: "needle_sticks", Of: "hand", Amounts: []Span{{0.03, 0.1}}, change: toHand(func(h *HandCircuit, x float64) { h.Stick = x })},
	{ID: "scale_uneven", Of: "hand", Amounts: eitherSign(0.05, 0.2), change: toHand(func(h *HandCircuit, x float64) {
		half := h.Law.At(0.5) + x // still rising, whatever the law was
		half = min(max(half, 0.01), 0.99)
		h.Law = calc.Law{Kind: calc.Table, Points: []calc.Point{{}, {Current: 0.5, Scale: half}, {Current: 1, Scale: 1}}}
	})},
	{ID: "magnet_near", Of: "hand", Amounts: []Span{{0.8, 1.2}}, change: toHand(func(h *HandCircuit, x float64) { h.FullScale /= x })},
	{ID: "meter_reversed", Of: "hand", there: hasHand(hasSides), change: toHand(func(h *HandCircuit, _ float64) { h.Reversed = true })},
	{ID: "coil_open", Of: "hand", change: toHand(func(h *HandCircuit, _ float64) { h.Coil = open })},
	{ID: "multiplier_left", Of: "hand", spans: func(c *Circuit, i int) []Span {
		if h := &c.Hands[i]; !h.FoundShunt && h.Found > 0 { // NaN is not
			return just(h.Found)
		}
		return []Span{{1e3, 100e3}}
	}, change: toHand(func(h *HandCircuit, x float64) { h.Multiplier = x })},
	{ID: "shunt_left", Of: "hand", spans: func(c *Circuit, i int) []Span {
		h := &c.Hands[i]
		if h.FoundShunt && h.Found > 0 {
			return just(h.Found)
		}
		return []Span{{0.05 * h.Coil, h.Coil}}
	}, change: toHand(func(h *HandCircuit, x float64) { h.Shunt = x })},
	{ID: "other_full_scale", Of: "hand", Amounts: []Span{{0.1, 0.5}, {2, 10}}, change: toHand(func(h *HandCircuit, x float64) { h.FullScale *= x })},

	// The chain
	{ID: "series_open", Of: "hand", Amounts: just(atFixed, atTrimmer, atWire), change: toHand(func(h *HandCircuit, place float64) {
		switch place {
		case atFixed:
			h.Fixed = open
		case atTrimmer:
			h.Setting = open
		default:
			h.Pin = open
		}
	})},
	{ID: "fixed_decade_high", Of: "hand", there: hasHand(hasFixed), change: toHand(func(h *HandCircuit, _ float64) { h.Fixed *= 10 })},
	{ID: "fixed_decade_low", Of: "hand", there: hasHand(hasFixed), change: toHand(func(h *HandCircuit, _ float64) { h.Fixed /= 10 })},
	{ID: "trimmer_at_maximum", Of: "hand", there: hasHand(hasTrimmer), change: toHand(func(h *HandCircuit, _ float64) { h.Setting = h.Trimmer })},
	{ID: "trimmer_at_zero", Of: "hand", there: hasHand(hasTrimmer), change: toHand(func(h *HandCircuit, _ float64) { h.Setting = 0 })},
	{ID: "trimmer_by_its_ends", Of: "hand", there: hasHand(hasTrimmer), change: toHand(func(h *HandCircuit, _ float64) { h.Setting, h.ByItsEnds = h.Trimmer, true })},
	{ID: "capacitor_missing", Of: "hand", there: hasHand(hasCapacitor), change: toHand(func(h *HandCircuit, _ float64) { h.Capacitor = 0 })},
	{ID: "capacitor_decade", Of: "hand", Amounts: just(0.1, 10), there: hasHand(hasCapacitor), change: toHand(func(h *HandCircuit, x float64) { h.Capacitor *= x })},
	{ID: "capacitor_leaky", Of: "hand", Amounts: []Span{{0.2, 20}}, there: hasHand(hasCapacitor), change: toHand(func(h *HandCircuit, x float64) { h.CapacitorLeak = x * h.Coil })},
	{ID: "capacitor_shorted", Of: "hand", there: hasHand(hasCapacitor), change: toHand(func(h *HandCircuit, _ float64) { h.CapacitorLeak = 0.5 })},

	// The pin and its firmware
	{ID: "pin_gives_nothing", Of: "hand", change: toHand(func(h *HandCircuit, _ float64) { h.PinState = Low })},
	{ID: "pin_stuck_high", Of: "hand", change: toHand(func(h *HandCircuit, _ float64) { h.PinState, h.HighAsleep = High, true })},
	{ID: "pins_swapped", Of: "hand", spans: otherPins, change: swapPins},
	{ID: "duty_inverted", Of: "hand", change: toHand(func(h *HandCircuit, _ float64) { h.PinState = Inverted })},
	{ID: "pwm_clock_off", Of: "hand", Amounts: just(1.0/64, 1.0/16, 1.0/8, 1.0/4, 1.0/2, 2, 4, 8, 16, 64), change: toHand(func(h *HandCircuit, x float64) { h.PWM *= x })},
	{ID: "top_code_wrong", Of: "hand", Amounts: []Span{{0.8, 0.95}, {1.05, 1.25}}, change: toHand(func(h *HandCircuit, x float64) {
		h.Top = min(max(math.Round(x*h.Top), 1), h.Counts-h.Offset)
	})},
	{ID: "pin_high_asleep", Of: "hand", change: toHand(func(h *HandCircuit, _ float64) { h.HighAsleep = true })},

	// The supply
	{ID: "rail_set_wrong", Amounts: []Span{{0.6, 0.9}, {1.1, 1.4}}, there: isSet, change: func(c *Circuit, _ int, x float64) { c.setRail(x * c.Rail) }},
	{ID: "converter_passes", there: hasConverter, change: func(c *Circuit, _ int, _ float64) {
		s := &c.Battery.Pack.Supply
		c.setRail(max(0, c.Battery.Pack.Fresh()-s.Drop))
		p := &c.Battery.Pack // what the converter takes for itself it takes still
		p.DirectOn, p.DirectOff = p.DirectOn+s.Quiescent, p.DirectOff+s.Quiescent
		s.Kind, s.Quiescent = calc.NoConverter, 0
	}},
	{ID: "converter_sags", Amounts: []Span{{0.6, 0.9}}, there: hasConverter, change: func(c *Circuit, _ int, x float64) {
		c.Asleep = c.Rail
		c.setRail(x * c.Rail)
	}},
	{ID: "converter_idle_high", Amounts: []Span{{4, 100}}, there: hasConverter, change: func(c *Circuit, _ int, x float64) { c.Battery.Pack.Supply.Quiescent *= x }},
	{ID: "contacts_bad", Amounts: []Span{{2, 30}}, there: hasPack, change: func(c *Circuit, _ int, x float64) { c.Battery.Pack.Supply.Resistance += x }},
	{ID: "cells_weak", Amounts: []Span{{0.8, 1}}, there: hasPack, change: func(c *Circuit, _ int, x float64) { c.Battery.Pack = c.Battery.Pack.From(x) }},
	{ID: "cell_reversed", there: hasPack, change: func(c *Circuit, _ int, _ float64) {
		p := &c.Battery.Pack
		p.Cells = max(0, p.Cells-2)
	}},
	{ID: "never_sleeps", change: func(c *Circuit, _ int, _ float64) { c.Supply.NeverSleeps = true }},
	{ID: "leak_asleep", Amounts: []Span{{30e-6, 3e-3}}, change: func(c *Circuit, _ int, x float64) { c.takeFromRail(x) }},
	{ID: "programmer_attached", Amounts: eitherSign(0.5e-3, 10e-3), change: func(c *Circuit, _ int, x float64) { c.takeFromRail(x) }},
	{ID: "reset_low", Amounts: []Span{{0.1, 1}}, change: func(c *Circuit, _ int, x float64) {
		c.Supply.ControllerOn *= x
		c.Supply.NeverSleeps = true
		c.Crystal.Stopped = true
		for i := range c.Hands {
			c.Hands[i].PinState = Low
		}
		for i := range c.Lamps {
			c.Lamps[i].Resistance = open
		}
	}},

	// Lamps and buttons
	{ID: "lamp_always", Of: "lamp", change: func(c *Circuit, i int, _ float64) {
		c.Lamps[i].Share, c.Lamps[i].ShareAsleep = c.Lamps[i].Count, c.Lamps[i].Count
	}},
	{ID: "lamp_dark", Of: "lamp", change: func(c *Circuit, i int, _ float64) { c.Lamps[i].Resistance = open }},
	{ID: "lamp_decade_low", Of: "lamp", change: func(c *Circuit, i int, _ float64) { c.Lamps[i].scaleResistor(0.1) }},
	{ID: "lamp_decade_high", Of: "lamp", change: func(c *Circuit, i int, _ float64) { c.Lamps[i].scaleResistor(10) }},
	{ID: "button_joined", Of: "button", change: func(c *Circuit, i int, _ float64) { c.Buttons[i].Held = true }},
	{ID: "button_pull_missing", Of: "button", change: func(c *Circuit, i int, _ float64) { c.Buttons[i].Pull = open }},

	// The crystal and its counter
	{ID: "load_capacitors_low", Amounts: append(just(0), Span{0.1, 0.3}), change: func(c *Circuit, _ int, x float64) {
		if x > 0 {
			c.Crystal.load(x*c.Crystal.In, x*c.Crystal.Out)
			return
		}
		c.Crystal.load(0, c.Crystal.Out) // one is missing
	}},
	{ID: "load_capacitors_high", Amounts: []Span{{3, 10}}, change: func(c *Circuit, _ int, x float64) { c.Crystal.load(x*c.Crystal.In, x*c.Crystal.Out) }},
	{ID: "crystal_stopped", change: func(c *Circuit, _ int, _ float64) { c.Crystal.Stopped = true }},
	{ID: "clock_not_from_crystal", Amounts: eitherSign(0.003, 0.05), change: func(c *Circuit, _ int, x float64) { c.Crystal.Fast = x }},
	{ID: "reload_missing", change: func(c *Circuit, _ int, _ float64) { c.Crystal.Counter.Reload = 0 }},
	{ID: "counts_lost", Amounts: []Span{{1, 8}}, change: func(c *Circuit, _ int, x float64) { c.Crystal.Counter.Lost += math.Round(x) }},
	{ID: "tick_miscounted", Amounts: just(0.5, 2), change: func(c *Circuit, _ int, x float64) { c.Crystal.TickCounted *= x }},
}

// Places at which a chain can be open.
const (
	atFixed   = 1
	atTrimmer = 2
	atWire    = 3
)

// setRail puts another voltage, V, onto the rail, and all that it feeds.
func (c *Circuit) setRail(rail float64) {
	c.Rail, c.Battery.Pack.Supply.Rail = rail, rail
	for i := range c.Hands {
		c.Hands[i].Rail = rail
	}
}

// takeFromRail takes a current, A, from the rail, awake and asleep; less than none is fed
// into it.
func (c *Circuit) takeFromRail(current float64) {
	c.Supply.RailDrainOn, c.Supply.RailDrainOff, c.Supply.Drains = c.Supply.RailDrainOn+current, c.Supply.RailDrainOff+current, true
}

// load puts other load capacitors in. A crystal that was measured with the planned ones is
// off its measured frequency by what that changes.
func (c *CrystalCircuit) load(in, out float64) {
	before := c.Solve().LoadOffset
	c.In, c.Out = in, out
	if !math.IsNaN(c.Measured) {
		c.Off += c.Solve().LoadOffset - before
	}
}

// scaleResistor puts another resistor in, the pin's resistance as it is.
func (l *LampCircuit) scaleResistor(by float64) {
	l.Resistance += (by - 1) * l.Resistor
	l.Resistor *= by
}

// otherPins are the pins that a hand's may have been swapped with: the later hands', then
// the lamps', by their numbers.
func otherPins(c *Circuit, i int) []Span {
	var spans []Span
	for k := i + 1; k < len(c.Hands)+len(c.Lamps); k++ {
		spans = append(spans, Span{float64(k), float64(k)})
	}
	return spans
}

// swapPins swaps a hand's pin with one of otherPins.
func swapPins(c *Circuit, i int, other float64) {
	h := &c.Hands[i]
	if k := int(other); k < len(c.Hands) {
		o := &c.Hands[k]
		h.Pin, o.Pin = o.Pin, h.Pin
		h.PWM, o.PWM = o.PWM, h.PWM
		h.Counts, o.Counts = o.Counts, h.Counts
		h.Top, o.Top = o.Top, h.Top
		h.Offset, o.Offset = o.Offset, h.Offset
		return
	}
	l := &c.Lamps[int(other)-len(c.Hands)]
	lit := 0.0
	if l.Count > 0 {
		lit = l.Share / l.Count
	}
	l.Share = l.Count * (h.Duty(0) + h.Duty(h.Top)) / 2
	h.PinState, h.Lent = Lent, lit
}
