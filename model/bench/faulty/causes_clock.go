package faulty

import (
	"math/rand/v2"

	"example.com/needlewright/model"
)

var (
	anyLamp      = lampsWhere(func(*model.Lamp) bool { return true })
	withResistor = lampsWhere(func(l *model.Lamp) bool { return l.Resistor.Number > 0 })
	withCrystal  = clockWhere(func(b *model.Build) bool { return b.Crystal.Frequency.Given() })
	withLoadCaps = clockWhere(func(b *model.Build) bool {
		x := &b.Crystal
		return x.CapacitorIn.Number > 0 && x.CapacitorOut.Number > 0 && x.Motional.Given() && x.Shunt.Given() && x.Stray.Given() && x.Load.Given()
	})
	withQuiescent = clockWhere(func(b *model.Build) bool { return hasConverter(b) && b.Converter.Quiescent.Number > 0 })
	withSetRail   = clockWhere(func(b *model.Build) bool { return hasConverter(b) || !b.Battery.HasCells() })
)

var supplyCauses = []cause{
	{id: "rail_set_wrong", of: withSetRail, amount: factors(0.6, 0.9, 1.1, 1.4), change: onSupply(func(p *supply, f Fault) { p.setWrong = f.Amount })},
	{id: "converter_passes", dagger: true, of: withConverter, change: onSupply(func(p *supply, _ Fault) { p.passes = true })},
	{id: "converter_sags", of: withConverter, amount: factor(0.6, 0.9), change: onSupply(func(p *supply, f Fault) { p.sag = f.Amount })},
	{id: "converter_idle_high", of: withQuiescent, amount: factor(4, 100), change: onSupply(func(p *supply, f Fault) { p.quiescent *= f.Amount })},
	{id: "contacts_bad", of: withCells, amount: uniform(2, 30), change: onSupply(func(p *supply, f Fault) { p.contacts = f.Amount })},
	{id: "cells_weak", of: withCells, amount: uniform(0.8, 1), change: onSupply(func(p *supply, f Fault) { p.used = f.Amount })},
	{id: "cell_reversed", of: withCells, change: onSupply(func(p *supply, _ Fault) { p.reversed = true })},
}

var loadCauses = []cause{
	{id: "never_sleeps", of: theClock, change: onLoad(func(l *load, _ Fault) { l.neverSleeps = true })},
	{id: "leak_asleep", of: theClock, amount: uniform(30e-6, 3e-3), change: onLoad(func(l *load, f Fault) { l.leak = f.Amount })},
	{id: "programmer_attached", of: theClock, amount: eitherWay(0.5e-3, 10e-3), change: onLoad(func(l *load, f Fault) { l.programmer = f.Amount })},
	{id: "reset_low", of: theClock, amount: factor(0.1, 1), change: onLoad(func(l *load, f Fault) { l.reset, l.heldShare = true, f.Amount })},
	{id: "lamp_always", of: anyLamp, change: onLamp(func(l *lamp, _ Fault) { l.always = true })},
	{id: "lamp_dark", of: anyLamp, change: onLamp(func(l *lamp, _ Fault) { l.dark = true })},
	{id: "lamp_decade_low", of: withResistor, change: onLamp(func(l *lamp, _ Fault) { l.resistor /= 10 })},
	{id: "lamp_decade_high", of: withResistor, change: onLamp(func(l *lamp, _ Fault) { l.resistor *= 10 })},
	{id: "button_joined", of: anyButton, change: onButton(func(b *button, _ Fault) { b.joined = true })},
	{id: "button_pull_missing", of: anyButton, amount: uniform(1e-6, 0.3), change: onButton(func(b *button, f Fault) { b.floats = f.Amount })},
}

// The load capacitors that can be missing, or both of a wrong value.
const (
	inMissing = iota + 1
	outMissing
	bothLow
)

func lowCapacitors(x *crystal, f Fault) {
	switch f.Place {
	case inMissing:
		x.in = 0
	case outMissing:
		x.out = 0
	case bothLow:
		x.in, x.out = x.in*f.Amount, x.out*f.Amount
	}
}

var timeCauses = []cause{
	{id: "load_capacitors_low", of: withLoadCaps, places: func(*model.Build, string) []int { return []int{inMissing, outMissing, bothLow} },
		amount: lowShare, change: onCrystal(lowCapacitors)},
	{id: "load_capacitors_high", of: withLoadCaps, amount: factor(3, 10), change: onCrystal(func(x *crystal, f Fault) { x.in, x.out = x.in*f.Amount, x.out*f.Amount })},
	{id: "crystal_stopped", of: withCrystal, change: onCrystal(func(x *crystal, _ Fault) { x.stopped = true })},
	{id: "clock_not_from_crystal", of: withCrystal, amount: eitherWay(0.003, 0.05), change: onCrystal(func(x *crystal, f Fault) { x.off = f.Amount })},
	{id: "reload_missing", of: clockWhere(func(b *model.Build) bool { return b.Crystal.Frequency.Given() && b.Crystal.Reload > 0 }),
		change: onCrystal(func(x *crystal, _ Fault) { x.reload = 0 })},
	{id: "counts_lost", of: withCrystal, amount: oneOf(1, 2, 3, 4, 5, 6, 7, 8), change: onCrystal(func(x *crystal, f Fault) { x.lost += int(f.Amount) })},
	{id: "tick_miscounted", of: withCrystal, amount: oneOf(0.5, 2), change: onCrystal(func(x *crystal, f Fault) { x.counted *= f.Amount })},
}

// lowShare is by how much both load capacitors are too small, 0 where one is missing.
func lowShare(b *model.Build, f Fault, random *rand.Rand) float64 {
	if f.Place != bothLow {
		return 0
	}
	return factor(0.1, 0.3)(b, f, random)
}
