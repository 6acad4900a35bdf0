package faulty

import (
	"math/bits"
	"math/rand/v2"

	"example.com/needlewright/model"
)

// foreignCauses are faults that the contract's table does not have. Their amounts lie
// where no cause of the table shows the same at all test points.
var foreignCauses = []cause{
	{id: "second_resistor", foreign: true, of: withFixed, amount: factor(0.3, 2), // in parallel with the fixed one, times it
		change: onHand(func(h *hand, f Fault) { h.fixed = parallel(h.fixed, h.fixed*f.Amount) })},
	{id: "spring_weak", foreign: true, of: anyHand, amount: uniform(0.18, 0.25), // zero off by so much, and a softer spring
		factor: func(r *rand.Rand) float64 { return logWithin(r, 1.35, 1.7) },
		change: onHand(func(h *hand, f Fault) { h.zero += f.Amount; h.sensitivity *= f.Factor })},
	{id: "bridge_to_rail", foreign: true, of: anyHand, amount: bridgeOhms, // Ω: solder from the rail to the meter's node
		change: onHand(func(h *hand, f Fault) { h.bridge = f.Amount })},
	{id: "code_bit_lost", foreign: true, of: anyHand, // the highest bit of the code never reaches the timer
		change: onHand(func(h *hand, _ Fault) { h.lostBit = 1 << (bits.Len(uint(h.top)) - 1) })},
	{id: "pin_weak", foreign: true, of: anyHand, amount: pinOhms, // Ω more in a damaged pin
		change: onHand(func(h *hand, f Fault) { h.pin += f.Amount })},
	{id: "lamps_in_series", foreign: true, of: lampsWhere(roomForTwo), // two on one resistor, one after the other
		change: onLamp(func(l *lamp, _ Fault) { l.forward *= 2 })},
	{id: "lamp_other_colour", foreign: true, of: lampsWhere(func(l *model.Lamp) bool { return l.Forward.Number > 0 && l.Forward.Number < 2.3 }),
		amount: uniform(0.9, 1.3), // V more across it
		change: onLamp(func(l *lamp, f Fault) { l.forward += f.Amount })},
	{id: "rail_lead_thin", foreign: true, of: leadMatters, amount: leadOhms, // Ω from converter to rail: it sags with the lamps
		change: onSupply(func(p *supply, f Fault) { p.lead = f.Amount })},
}

// chainOhms is what a hand's chain is planned to have at full scale.
func chainOhms(b *model.Build, about string) float64 {
	h := handOf(b, about)
	return b.Rail.Voltage.Number * float64(h.Drive.Top+h.Drive.DutyOffset) / float64(h.Drive.Counts) / h.Meter.FullScale.Number
}

// bridgeOhms lets 15 to 35 % of full scale into the meter.
func bridgeOhms(b *model.Build, f Fault, random *rand.Rand) float64 {
	return b.Rail.Voltage.Number / handOf(b, f.About).Meter.FullScale.Number / drawer{random}.within(0.15, 0.35)
}

// pinOhms leaves 40 to 70 % of the pin's voltage.
func pinOhms(b *model.Build, f Fault, random *rand.Rand) float64 {
	return chainOhms(b, f.About) * (1/drawer{random}.within(0.4, 0.7) - 1)
}

// roomForTwo says whether two lamps in series would still light.
func roomForTwo(l *model.Lamp) bool { return l.Forward.Number > 0 && l.Forward.Number < 2.2 }

// lampsTake is what all lamps take on the mean, A, as planned.
func lampsTake(b *model.Build) float64 {
	sum := 0.0
	for i := range b.Lamps {
		l := &b.Lamps[i]
		if l.Forward.Given() && l.Resistor.Given() {
			sum += float64(l.Count) * or(l.Lit, 1) * max(0, b.Rail.Voltage.Number-l.Forward.Number) / (l.Resistor.Number + or(l.PinResistance, 0))
		}
	}
	return sum
}

// leadMatters says whether the lamps take enough for a thin lead to show.
func leadMatters(b *model.Build) []string {
	if lampsTake(b) > 1e-3 && hasConverter(b) {
		return []string{""}
	}
	return nil
}

// leadOhms loses 10 to 25 % of the rail while the lamps are lit.
func leadOhms(b *model.Build, _ Fault, random *rand.Rand) float64 {
	return b.Rail.Voltage.Number * drawer{random}.within(0.10, 0.25) / lampsTake(b)
}
