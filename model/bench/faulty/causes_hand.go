package faulty

import (
	"math"
	"math/rand/v2"
	"slices"

	"example.com/needlewright/model"
)

// mayHide says whether a meter may have a part of one kind left in its case.
func mayHide(kind string) func(h *model.Hand) bool {
	return func(h *model.Hand) bool {
		m := &h.Meter
		return m.InCircuit != "yes" && (m.InternalKind == kind || m.InternalKind == "none" || m.InternalKind == "")
	}
}

var meterCauses = []cause{
	{id: "zero_not_set", of: anyHand, amount: eitherWay(0.03, 0.15), change: onHand(func(h *hand, f Fault) { h.zero = f.Amount })},
	{id: "needle_sticks", of: anyHand, amount: uniform(0.03, 0.10), change: onHand(func(h *hand, f Fault) { h.stick = f.Amount })},
	{id: "scale_uneven", of: anyHand, amount: eitherWay(0.05, 0.20), change: onHand(func(h *hand, f Fault) { h.bend = f.Amount })},
	{id: "magnet_near", of: anyHand, amount: eitherWay(0.03, 0.10), factor: func(r *rand.Rand) float64 { return logWithin(r, 0.8, 1.2) },
		change: onHand(func(h *hand, f Fault) { h.zero += f.Amount; h.sensitivity *= f.Factor })},
	{id: "meter_reversed", of: handsWhere(func(h *model.Hand) bool { return h.Meter.Law != "square" }), change: onHand(func(h *hand, _ Fault) { h.polarity = -1 })},
	{id: "coil_open", of: anyHand, change: onHand(func(h *hand, _ Fault) { h.coil = math.Inf(1) })},
	{id: "multiplier_left", dagger: true, of: handsWhere(mayHide("multiplier")), amount: inside(uniform(1e3, 100e3)),
		change: onHand(func(h *hand, f Fault) { h.multiplier = f.Amount })},
	{id: "shunt_left", dagger: true, of: handsWhere(mayHide("shunt")), amount: inside(timesCoil(0.05, 1)),
		change: onHand(func(h *hand, f Fault) { h.shunt = f.Amount })},
	{id: "other_full_scale", dagger: true, of: anyHand, amount: factors(0.1, 0.5, 2, 10), change: onHand(func(h *hand, f Fault) { h.fullScale *= f.Amount })},
}

// The places at which a chain can be open.
const (
	openFixed = iota + 1
	openTrimmer
	openAtPin
	openAtMeter
)

func openPlaces(b *model.Build, about string) []int {
	places := []int{openAtPin, openAtMeter}
	if slices.Contains(withFixed(b), about) {
		places = append(places, openFixed)
	}
	if slices.Contains(withTrimmer(b), about) {
		places = append(places, openTrimmer)
	}
	slices.Sort(places)
	return places
}

func openChain(h *hand, f Fault) {
	switch f.Place {
	case openFixed:
		h.fixed = math.Inf(1)
	case openTrimmer:
		h.setting = math.Inf(1)
	case openAtPin:
		h.pinLead = math.Inf(1)
	case openAtMeter:
		h.meterLead = math.Inf(1)
	}
}

var driveCauses = []cause{
	{id: "series_open", of: anyHand, places: openPlaces, change: onHand(openChain)},
	{id: "fixed_decade_high", dagger: true, of: withFixed, change: onHand(func(h *hand, _ Fault) { h.fixed *= 10 })},
	{id: "fixed_decade_low", dagger: true, of: withFixed, change: onHand(func(h *hand, _ Fault) { h.fixed /= 10 })},
	{id: "trimmer_at_maximum", of: withTrimmer, change: onHand(func(h *hand, _ Fault) { h.setting = h.track })},
	{id: "trimmer_at_zero", of: withTrimmer, change: onHand(func(h *hand, _ Fault) { h.setting = 0 })},
	{id: "trimmer_by_its_ends", of: withTrimmer, change: onHand(func(h *hand, _ Fault) { h.setting, h.turnsNothing = h.track, true })},
	{id: "capacitor_missing", of: withCapacitor, change: onHand(func(h *hand, _ Fault) { h.capacitor = 0 })},
	{id: "capacitor_decade", of: withCapacitor, amount: oneOf(10, 0.1), change: onHand(func(h *hand, f Fault) { h.capacitor *= f.Amount })},
	{id: "capacitor_leaky", dagger: true, of: withCapacitor, amount: timesCoil(0.2, 20), change: onHand(func(h *hand, f Fault) { h.leak = f.Amount })},
	{id: "capacitor_shorted", of: withCapacitor, change: onHand(func(h *hand, _ Fault) { h.leak = 0.5 })},
}

var firmwareCauses = []cause{
	{id: "pin_gives_nothing", of: anyHand, change: onHand(func(h *hand, _ Fault) { h.silent = true })},
	{id: "pin_stuck_high", of: anyHand, change: onHand(func(h *hand, _ Fault) { h.stuckHigh = true })},
	{id: "pins_swapped", of: swapNames, places: swapPlaces, change: swapPins},
	{id: "duty_inverted", of: anyHand, change: onHand(func(h *hand, _ Fault) { h.inverted = true })},
	{id: "pwm_clock_off", of: anyHand, amount: oneOf(2, 4, 8, 16, 64, 1./2, 1./4, 1./8, 1./16, 1./64), change: onHand(func(h *hand, f Fault) { h.pwm *= f.Amount })},
	{id: "top_code_wrong", dagger: true, of: anyHand, amount: anotherTop, change: onHand(func(h *hand, f Fault) {
		h.top = min(int(math.Round(float64(h.top)*f.Amount)), h.counts-h.offset)
	})},
	{id: "pin_high_asleep", of: anyHand, change: onHand(func(h *hand, _ Fault) { h.highAsleep = true })},
}

// anotherTop is a factor of the top code, not beyond the counts.
func anotherTop(b *model.Build, f Fault, random *rand.Rand) float64 {
	v := &handOf(b, f.About).Drive
	most := math.Min(1.25, float64(v.MostTop())/float64(v.Top))
	if most < 1.05 {
		return logWithin(random, 0.8, 0.95)
	}
	return factors(0.8, 0.95, 1.05, most)(b, f, random)
}

// swaps are the pairs of pins that can stand for one another: a hand's and a lamp's, or
// two hands'. Place says which the other is: lamps from 1, hands after them.
func swaps(b *model.Build) []Fault {
	var all []Fault
	add := func(hand, other string, place int) {
		all = append(all, Fault{ID: "pins_swapped", About: hand + " + " + other, Place: place})
	}
	for i, h := range b.Hands {
		for j, l := range b.Lamps {
			add(h.Name, l.Name, 1+j)
		}
		for j := i + 1; j < len(b.Hands); j++ {
			add(h.Name, b.Hands[j].Name, 1+len(b.Lamps)+j)
		}
	}
	return all
}

func swapNames(b *model.Build) []string {
	var names []string
	for _, f := range swaps(b) {
		names = append(names, f.About)
	}
	return names
}

func swapPlaces(b *model.Build, about string) []int {
	var places []int
	for _, f := range swaps(b) {
		if f.About == about {
			places = append(places, f.Place)
		}
	}
	return places
}

func swapPins(c *circuit, i int, f Fault) {
	other := f.Place - 1
	if other < len(c.lamps) {
		c.hands[i].lampPin = other
		c.lamps[other].dark = true // while it is lit, the hand stands at 0
		return
	}
	other -= len(c.lamps)
	c.hands[i].from, c.hands[other].from = other, i
}
