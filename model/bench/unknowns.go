package bench

import (
	"math"
	"slices"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// An unknown is something of a clock that is known to within a width: a part's value, how
// the trimmer was set by eye.
type unknown struct {
	hand  int // whose it is, -1 of the clock
	width float64
	put   func(w *world, x float64) // puts it x beside its middle, in its own unit
}

// A world is one way in which a clock may have been built, without its faults.
type world struct {
	build       *model.Build
	used        float64
	contacts    float64
	drift       float64
	floating    float64
	sensitivity float64   // of a meter near a magnet
	eyes        []float64 // of each hand, by how much its needle was off the mark when it was trimmed
	byNeedle    []float64 // of each hand, by how much its current was off full scale besides
	shapes      []float64
	dummies     []float64 // Ω, of each hand
	amount      float64   // beside that of the fault

	held      float64 // share of its waking current that a controller takes on a rail too low for it
	heldWidth float64 // of its logarithm, about that
	heldBy    float64 // of its logarithm, beside that
}

// spread is the standard deviation of what lies evenly within a limit, either way.
func spread(limit float64) float64 { return limit / math.Sqrt(3) }

// Middles of what the build does not say: used cells from 0 to 30 %, contacts from 0 to
// 0.1 Ω, a floating pin from 0 to 0.3 of the rail. The contract's own.
const (
	usedMost, contactsMost, floatingMost = 0.3, 0.1, 0.3
	leastSensitivity, mostSensitivity    = 0.8, 1.2
	leastHeld, mostHeld                  = 0.1, 1.0
)

// newWorld is the build as planned, in the middle of all that is not known.
func newWorld(b *model.Build) *world {
	w := &world{
		build: b.Changed(nil), used: usedMost / 2, contacts: contactsMost / 2, floating: floatingMost / 2, sensitivity: 1,
		eyes: make([]float64, len(b.Hands)), byNeedle: make([]float64, len(b.Hands)), shapes: make([]float64, len(b.Hands)),
	}
	for i := range b.Hands {
		w.dummies = append(w.dummies, b.Hands[i].Dummy())
	}
	w.held, w.heldWidth = math.Sqrt(leastHeld*mostHeld), spread(math.Log(mostHeld/leastHeld)/2)
	if b.Battery.Used.Given() {
		w.used = b.Battery.Used.Number
	}
	return w
}

// unknownsOf are all of a build.
func unknownsOf(b *model.Build) []unknown {
	all := partsOf(b)
	if b.Battery.HasCells() {
		all = append(all, unknown{-1, spread(contactsMost / 2), func(w *world, x float64) { w.contacts = contactsMost/2 + x }})
	}
	if drift := b.Rail.Drift.Number; drift > 0 && !(b.Battery.HasCells() && b.Converter.Kind == "none") {
		all = append(all, unknown{-1, spread(drift), func(w *world, x float64) { w.drift = x }})
	}
	for i := range b.Hands {
		all = append(all, unknown{i, spread(eyeTapped), func(w *world, x float64) { w.eyes[i] = x }})
		if class := b.Hands[i].Meter.Class.Number; class > 0 && b.Hands[i].Correct == "none" {
			all = append(all, unknown{i, spread(class), func(w *world, x float64) { w.shapes[i] = x }})
		}
	}
	return all
}

// trimsOf are unknowns of hands whose needle does not stand on its mark when the coil has
// its full-scale current, as it is planned: for its zero, or for the pulses that a square law
// feels. Whether it was trimmed by one or the other is not known.
func (w *world) trimsOf(b *model.Build) []unknown {
	const least, likely = 0.001, 0.7 // of the scale; of the way from one to the other, one deviation
	s, _ := w.scene(&setup{hand: -1}, &b.Meter)
	s.c.Battery.Present = false // it is trimmed on the rail as planned
	s.set()
	var all []unknown
	for i := range b.Hands {
		h := &s.c.Hands[i]
		off := s.needle(i, h.Top) - 1
		if h.Trimmer == 0 || b.Hands[i].Drive.Setting.Given() || math.Abs(off) < least || !(h.InForce() > 0 && h.InForce() < h.Trimmer) {
			continue
		}
		by := h.Law.Inverse(1-off/(1-h.Rest)) - 1
		all = append(all, unknown{i, math.Abs(likely * by), func(w *world, x float64) { w.byNeedle[i] = x }})
	}
	return all
}

// partsOf are the values of a build that have a tolerance, and the crystal's own offset.
func partsOf(b *model.Build) []unknown {
	var all []unknown
	for _, f := range model.Builds.Fields {
		if f.IsRow() {
			continue
		}
		for i := range f.Of(b) {
			v, ok := f.At(b, i).(*quantity.Value)
			if !ok || !v.Given() {
				continue
			}
			hand := -1
			if f.List() == "hand" {
				hand = i
			}
			if f.Path == "crystal.tolerance" && v.Number > 0 && !b.Crystal.Measured.Given() {
				all = append(all, unknown{-1, spread(v.Number), func(w *world, x float64) { w.build.Crystal.PutOff(x) }})
			}
			if half := v.Half(); half > 0 {
				middle := v.Number
				all = append(all, unknown{hand, spread(half), func(w *world, x float64) {
					at := f.At(w.build, i).(*quantity.Value)
					*at = quantity.Value{Number: middle + x}
				}})
			}
		}
	}
	return all
}

// A regime says where a trimmer ends up when it is set for full scale.
type regime uint8

const (
	within regime = iota
	atLeast
	atMost
	free // wherever it is
)

// A setup is what is wrong in a clock, and when it was trimmed.
type setup struct {
	faults  []placed
	hand    int    // whose trimmer the regime is of, -1 none's
	regime  regime // of its trimmer
	trimmed bool   // with the faults in place
}

// A placed fault is one of an element, by an amount.
type placed struct {
	fault  *circuit.Fault
	index  int
	amount float64
	inlog  bool // its amount is spread in its logarithm
}

// scene wires a world and puts what is wrong into it. It returns what the trimmer of the
// setup's hand would have to be for full scale, Ω.
func (w *world) scene(u *setup, meter *model.Multimeter) (s *scene, needed float64) {
	b := w.build
	c := new(circuit.Circuit)
	circuit.Wire(b, c)
	planned := make([]float64, len(c.Hands))
	for i := range c.Hands {
		planned[i] = c.Hands[i].Multiplier
	}
	before := 0.0
	if c.Battery.Present {
		if !u.has("cells_weak") {
			c.Battery.Pack = c.Battery.Pack.From(min(max(w.used, 0), 1))
		}
		before = c.Battery.Pack.Supply.Resistance
	}
	if u.trimmed {
		w.apply(c, u)
		needed = w.trim(c, u)
	} else {
		needed = w.trim(c, u)
		w.apply(c, u)
	}
	s = &scene{
		c: c, meter: meter, drift: w.drift, floating: w.floating, shapes: slices.Clone(w.shapes), dropout: b.Converter.Dropout.Number,
		contacts: max(0, w.contacts), dummies: w.dummies, planned: planned, share: w.held * math.Exp(w.heldBy),
	}
	if c.Battery.Present && u.has("contacts_bad") {
		s.contacts += c.Battery.Pack.Supply.Resistance - before
	}
	for i := range b.Buttons {
		s.toGround = append(s.toGround, b.Buttons[i].To == "ground")
	}
	s.bends, s.apart = make([]float64, len(c.Hands)), make([]float64, len(c.Hands))
	for n, f := range u.faults {
		switch {
		case f.fault.ID == "scale_uneven":
			s.bends[f.index] += w.amountOf(u, n)
		case f.fault.ID == "series_open" && f.amount == meterOff:
			h := &c.Hands[f.index]
			s.apart[f.index] = calc.SideBySide(h.Coil, h.Shunt) + h.Multiplier
			h.Coil, h.Shunt = math.Inf(1), math.Inf(1)
		}
	}
	s.set()
	s.wrongWay = u.has("meter_reversed") && u.faults[0].amount < 0
	return s, needed
}

func (u *setup) has(id string) bool {
	for _, f := range u.faults {
		if f.fault.ID == id {
			return true
		}
	}
	return false
}

// apply puts the faults in.
func (w *world) apply(c *circuit.Circuit, u *setup) {
	for n, f := range u.faults {
		w.put(c, f, w.amountOf(u, n))
	}
}

// amountOf is a fault's amount; that of the first carries the world's own.
func (w *world) amountOf(u *setup, n int) float64 {
	f := &u.faults[n]
	switch {
	case n > 0 || w.amount == 0:
		return f.amount
	case f.inlog:
		return f.amount * math.Exp(w.amount)
	}
	return f.amount + w.amount
}

// put puts one fault in, as the bench sees it.
func (w *world) put(c *circuit.Circuit, f placed, x float64) {
	switch f.fault.ID {
	case "magnet_near": // its zero, and by how much less or more it takes
		c.Hands[f.index].ZeroOffset += x
		c.Hands[f.index].FullScale /= w.sensitivity
		return
	case "scale_uneven": // of the scene
		return
	case "series_open":
		if f.amount == meterOff { // of the scene
			return
		}
	case "zero_not_set":
		c.Hands[f.index].ZeroOffset = x
		return
	case "button_joined":
		f.fault.Apply(c, f.index, x)
		if f.amount == keepsAwake && w.build.Buttons[f.index].Wakes == "press" {
			c.Supply.NeverSleeps = true
		}
		return
	case "pins_swapped":
		swap(c, f.index, int(f.amount))
		return
	}
	f.fault.Apply(c, f.index, x)
}

// swap exchanges a hand's pin with another's. Parked, one pin moves alone: a hand on
// another's pin stays at zero, and a lamp on a hand's stays dark.
func swap(c *circuit.Circuit, i, other int) {
	if other < len(c.Hands) {
		c.Hands[i].PinState, c.Hands[other].PinState = circuit.Low, circuit.Low
		return
	}
	h, l := &c.Hands[i], &c.Lamps[other-len(c.Hands)]
	h.PinState, h.Lent = circuit.Lent, 0
	if l.Count > 0 {
		h.Lent = l.Share / l.Count
	}
	l.Share, l.Resistance = 0, math.Inf(1)
}

// leastTrimmed is the least share of the full-scale current that anybody trims to.
const leastTrimmed = 0.1

// trim sets every trimmer for full scale by eye.
func (w *world) trim(c *circuit.Circuit, u *setup) (needed float64) {
	needed = math.NaN()
	for i := range c.Hands {
		h := &c.Hands[i]
		if !math.IsNaN(h.Setting) {
			continue
		}
		fullScale := h.FullScale
		h.FullScale *= max(h.Law.Inverse(1+w.eyes[i]/(1-h.Rest))+w.byNeedle[i], leastTrimmed)
		setting := h.SeriesNeeded() - h.Fixed
		h.FullScale = fullScale
		at := free
		if i == u.hand {
			needed, at = setting, u.regime
		}
		switch {
		case math.IsNaN(setting) || at == atLeast:
			h.Setting = 0
		case at == atMost:
			h.Setting = h.Trimmer
		case at == within && !math.IsInf(setting, 0):
			h.Setting = setting
		default:
			h.Setting = min(max(setting, 0), h.Trimmer)
		}
	}
	return needed
}
