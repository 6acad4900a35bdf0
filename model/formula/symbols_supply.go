package formula

import (
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
)

// floorOf is the voltage at the converter's input, or of the rail without one, at
// which the clock ends.
func floorOf(b *model.Build) float64 {
	return math.Max(b.Battery.Cutoff.Number*float64(b.Battery.Cells)-b.Battery.SeriesDrop.Number, inputFloor(b))
}

// inputFloor is that but for the cells' own cutoff.
func inputFloor(b *model.Build) float64 {
	floor := b.Converter.MinimumInput.Number
	switch b.Converter.Kind {
	case "linear":
		return math.Max(floor, b.Rail.Voltage.Number+b.Converter.Dropout.Number)
	case "none":
		return math.Max(floor, b.Load.MinimumVoltage.Number)
	}
	return floor
}

// ofSupply are what all ask of the controller and the rail.
func (s Symbols) ofSupply(b *model.Build, p *circuit.Plan) {
	hands := 0.0
	for i := range p.Hands {
		hands += p.Hands[i].PinMeanCurrent
	}
	s["pins_of_hands"], s["pins_of_lamps"] = hands, lampsAll(b, p)
	s["rail_capacitor"], s["minimum_voltage"] = b.Rail.Capacitor.Number, b.Load.MinimumVoltage.Number
	s.ofBattery(b, p)
	s["held_from"], s["beside_on"], s["beside_off"] = b.Rail.Voltage.Number, 0.0, 0.0
	if b.Battery.Cells > 0 && b.Converter.Kind == "none" {
		s["held_from"] = math.Min(b.Rail.Voltage.Number, floorOf(b))
		if b.Battery.SeriesDrop.Number == 0 {
			s["beside_on"], s["beside_off"] = s["pack_drains_on"], s["pack_drains_off"]
		}
	}
}

// lampsAll is what all lamps take, every one lit.
func lampsAll(b *model.Build, p *circuit.Plan) float64 {
	lamps := 0.0
	for i := range b.Lamps {
		lamps += float64(b.Lamps[i].Count) * p.Lamps[i].Current
	}
	return lamps
}

func (s Symbols) ofDrains(b *model.Build) {
	for _, name := range []string{"rail_drains_on", "rail_drains_off", "pack_drains_on", "pack_drains_off"} {
		s[name] = 0.0
	}
	for _, d := range b.Drains {
		s[d.From+"_drains_on"] = s[d.From+"_drains_on"].(float64) + d.On.Number
		s[d.From+"_drains_off"] = s[d.From+"_drains_off"].(float64) + d.Off.Number
	}
}

func (s Symbols) ofBattery(b *model.Build, p *circuit.Plan) {
	lamps, hands, handsMost := 0.0, 0.0, 0.0
	for i := range b.Lamps {
		lamps += float64(b.Lamps[i].Count) * b.Lamps[i].Lit.Number * p.Lamps[i].Current
	}
	for i := range p.Hands {
		hands += p.Hands[i].RailCurrent
		of := Of(b, p, &circuit.Results[0], i)
		chain := calc.Chain{Before: of["R_a"].(float64), After: of["R_c"].(float64), Capacitor: b.Hands[i].Drive.Capacitor.Number}
		most := 0.0
		for code := range b.Hands[i].Drive.Top + 1 {
			most = math.Max(most, chain.FromRail(b.Rail.Voltage.Number, float64(code+b.Hands[i].Drive.DutyOffset)/of["N"].(float64)))
		}
		handsMost += most
	}
	s.ofDrains(b)
	s["controller_on"], s["controller_off"], s["lamps"], s["hands"], s["hours_on"] = b.Load.ControllerOn.Number, b.Load.ControllerOff.Number, lamps, hands, b.Load.HoursOn.Number
	s["lamps_all"], s["hands_most"], s["quiescent"] = lampsAll(b, p), handsMost, b.Converter.Quiescent.Number
	if b.Converter.Kind == "none" {
		s["quiescent"] = 0.0
	}
	if b.Battery.Cells == 0 {
		return
	}
	pack := packOf(b)
	pack.On = b.Load.ControllerOn.Number + lamps + hands + s["rail_drains_on"].(float64)
	pack.Off = b.Load.ControllerOff.Number + s["rail_drains_off"].(float64)
	s["life"], s["stranded"] = pack.Life, pack.Stranded
	s["drawn"] = func(load, direct float64) float64 {
		p := pack
		p.On, p.DirectOn = load, direct
		d, ok := p.DrawFresh(true)
		if !ok {
			return math.NaN()
		}
		return d.Current
	}
}

// wedged is the life of the cells with a button held down.
func (s Symbols) wedged(b *model.Build, i int) func(float64) float64 {
	return func(current float64) float64 {
		pack := packOf(b)
		pack.On = b.Load.ControllerOn.Number + s["lamps"].(float64) + s["hands"].(float64) + s["rail_drains_on"].(float64) + current
		pack.Off = b.Load.ControllerOff.Number + s["rail_drains_off"].(float64) + current
		if b.Buttons[i].Wakes == "press" {
			return pack.Life(24)
		}
		return pack.Life(0)
	}
}

// freshRail is the rail while the fresh pack stands above it, NaN where something
// holds it down.
func freshRail(b *model.Build) float64 {
	if b.Battery.Cells == 0 || b.Converter.Kind == "linear" {
		return math.NaN()
	}
	b2, p := *b, new(circuit.Plan)
	circuit.Evaluate(&b2, p)
	pack := packOf(b)
	pack.On = p.Battery.RailCurrentOn
	d, ok := pack.DrawFresh(true)
	if !ok {
		return math.NaN()
	}
	return d.Voltage - b.Battery.SeriesDrop.Number
}

// packOf is the battery of a build without its loads.
func packOf(b *model.Build) calc.Pack {
	cells, shelf := float64(b.Battery.Cells), math.Inf(1)
	if b.Battery.ShelfLife.Given() {
		shelf = b.Battery.ShelfLife.Number * 8766
	}
	rise := 0.0
	if b.Battery.ResistanceEnd.Given() {
		rise = cells * (b.Battery.ResistanceEnd.Number - b.Battery.Resistance.Number)
	}
	pack := calc.Pack{
		Supply: calc.Supply{
			Kind: map[string]calc.ConverterKind{"boost": calc.Boost, "linear": calc.LinearRegulator}[b.Converter.Kind],
			Rail: b.Rail.Voltage.Number, Efficiency: b.Converter.Efficiency.Number,
			Quiescent: b.Converter.Quiescent.Number, Resistance: cells * b.Battery.Resistance.Number, Drop: b.Battery.SeriesDrop.Number,
		},
		Curve: b.Battery.Curve, Cells: cells, Floor: inputFloor(b), Cutoff: cells * b.Battery.Cutoff.Number, Capacity: b.Battery.Capacity.Number,
		SelfDischarge: b.Battery.SelfDischarge.Number, Shelf: shelf, ResistanceRise: rise,
	}
	for _, d := range b.Drains {
		if d.From == "pack" {
			pack.DirectOn, pack.DirectOff = pack.DirectOn+d.On.Number, pack.DirectOff+d.Off.Number
		}
	}
	return pack
}
