package fit

import (
	"math"
	"slices"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
)

// A candidate is a meter in the hand of a clock, all else as it was.
type candidate struct {
	*Frame
	*known
	name  string
	build *model.Build
	put   []model.Change // that put it there

	circuit             circuit.HandCircuit
	resistance, current float64 // Ω, A, at its terminals for full scale
	noisy               bool    // a way that was tried trembles, hums or leaks
}

func newCandidate(f *Frame, k *known, name string, b *model.Build, put []model.Change) *candidate {
	c := &candidate{Frame: f, known: k, name: name, build: b, put: put}
	if b.Hands[f.hand].Meter.Glow == unknown && !slices.Contains(k.missing, "glow") {
		k.missing = append([]string{"glow"}, k.missing...)
	}
	c.circuit = circuit.WireHand(b, &b.Hands[f.hand])
	coil, current := c.circuit.Shunted()
	c.resistance, c.current = coil+c.circuit.Multiplier, current
	return c
}

func (c *candidate) drive() *model.Drive { return &c.build.Hands[c.hand].Drive }

func (c *candidate) isCentred() bool { return c.build.Hands[c.hand].Meter.ZeroAt == "centre" }

// usualPinLimit is the most that a pin gives where the build does not say it, A: what data
// sheets often allow. Common practice, no source.
const usualPinLimit = 20e-3

func (c *candidate) pinLimit() float64 {
	if limit := c.drive().PinLimit.Number; !math.IsNaN(limit) {
		return limit
	}
	return usualPinLimit
}

// pinCarries says whether the pin may give its current, also while it is high for good.
func (c *candidate) pinCarries() bool { return c.current <= c.pinLimit()*c.duty() }

func (c *candidate) switchCarries() bool { return c.current <= judge.MostSwitched }

// goesEitherWay says whether turning its current round turns its needle round.
func (c *candidate) goesEitherWay() bool { return c.build.Hands[c.hand].Meter.Kind == "moving coil" }

// A source is what stands between the rail and the series resistance: ohms, and volts lost.
type source struct{ ohms, drop float64 }

func (c *candidate) byPin() source { return source{ohms: c.drive().PinResistance.Number} }

func (c *candidate) byTwoPins() source { return source{ohms: 2 * c.drive().PinResistance.Number} }

// What two small MOSFETs have when they are on: each from a pin of 3 to 5 V. Common
// practice, no source.
const usualSwitchOhms, usualSwitchDrop = "2 Ω ±50 %", "0 V"

func (c *candidate) bySwitch() source {
	if d := c.drive(); d.By == "switch" {
		return source{d.SwitchResistance.Number, d.SwitchDrop.Number}
	}
	return source{quantity.MustParse(usualSwitchOhms, quantity.Ohms).Number, quantity.MustParse(usualSwitchDrop, quantity.Volts).Number}
}

// duty is the share of the time for which the pin is high at the top code.
func (c *candidate) duty() float64 {
	return (c.circuit.Top + c.circuit.Offset) / c.circuit.Counts
}

// reaches says whether a rail, V, brings the needle to full scale through a source, with no
// series resistance at all.
func (c *candidate) reaches(volts float64, from source) bool {
	return (volts-from.drop)*c.duty() >= c.current*(c.resistance+from.ohms)
}

// reachesBy says the same of the rail there is.
func (c *candidate) reachesBy(from source) bool {
	return c.reaches(c.build.Rail.Voltage.Number, from)
}

// ownSource is what can carry its current: a pin, or what it switches.
func (c *candidate) ownSource() source {
	if c.pinCarries() {
		return c.byPin()
	}
	return c.bySwitch()
}

// usualRails are those that regulators, step-ups and plug-in supplies are made for, V.
// Common practice, no source.
var usualRails = []float64{1.8, 2.5, 3, 3.3, 5, 6, 9, 12, 15, 24}

// railWithin is how far a usual rail may be off, a share. Common practice, no source.
const railWithin = 0.01

// mostRail is the most that a controller stands of which nobody said it, V. Common practice,
// no source.
const mostRail = 5.5

// railLimit is the most that the rail of the build may be, V.
func (c *candidate) railLimit() float64 {
	if most := c.build.Rail.Maximum.Number; !math.IsNaN(most) {
		return most
	}
	return mostRail
}

// railFor is the least usual rail within the controller's limit that brings the needle to
// full scale where the present one does not, V; 0 where there is none.
func (c *candidate) railFor() float64 {
	from := c.ownSource()
	if c.reachesBy(from) {
		return 0
	}
	for _, volts := range usualRails {
		if volts > c.build.Rail.Voltage.Number && volts*(1+railWithin) <= c.railLimit() && c.reaches(volts, from) {
			return volts
		}
	}
	return 0
}

// mayBeOpened says whether what is inside can be taken out, and may: never of a dial that
// may be radium.
func (c *candidate) mayBeOpened() bool {
	return c.build.Hands[c.hand].Meter.Glow == "no" && (c.inside == multiplier || c.inside == shunt || c.inside == rectifier)
}

// present is the way in which the build drives its hand.
func (c *candidate) present() string {
	switch d := c.drive(); {
	case d.By == "switch":
		return switched
	case d.By == "bridge":
		return bridge
	case c.isCentred():
		return half
	case d.CapacitorAt == "stage" && d.Capacitor.Number > 0:
		return filter
	}
	return direct
}
