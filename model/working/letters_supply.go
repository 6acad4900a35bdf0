package working

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// supplyLetters are those of rail, cells, converter and loads. Behind a dot stands when:
// awake (on), asleep (off), at most (peak); or which lamp, drain or hand.
var supplyLetters = map[string]entry{
	"rail": handLetters["rail"],
	"controller": {words: says("The controller"), unit: quantity.Amperes, value: func(d *desk, when string) quantity.Value {
		return pick(when == "off", d.b.Load.ControllerOff, d.b.Load.ControllerOn)
	}},
	"minimum_voltage": given("Where the controller stops", quantity.Volts, func(d *desk) quantity.Value { return d.b.Load.MinimumVoltage }),
	"rail_capacitor":  given("The rail's capacitor", quantity.Farads, func(d *desk) quantity.Value { return d.b.Rail.Capacitor }),
	"hours_on":        given("Awake a day", quantity.Hours, func(d *desk) quantity.Value { return d.b.Load.HoursOn }),
	"pull":            given("Its pull resistor", quantity.Ohms, func(d *desk) quantity.Value { return d.b.Buttons[d.i].Pull }),

	"lamp": {words: ofLamp("%s (its own working)"), unit: quantity.Amperes, taken: true, value: func(d *desk, k string) quantity.Value {
		return quantity.Value{Number: d.p.Lamps[index(k)].Current}
	}},
	"count": {words: ofLamp("How many of %s"), unit: quantity.Times, value: func(d *desk, k string) quantity.Value {
		return quantity.Value{Number: float64(d.b.Lamps[index(k)].Count)}
	}},
	"lit":       {words: ofLamp("Lit"), unit: quantity.Percent, value: func(d *desk, k string) quantity.Value { return d.b.Lamps[index(k)].Lit }},
	"lamp_mean": {words: ofLamp("%s on average"), unit: quantity.Amperes, formula: func(_ *desk, k string) string { return "count." + k + "·lit." + k + "·lamp." + k }},
	"lamp_all":  {words: ofLamp("%s, every one lit"), unit: quantity.Amperes, formula: func(_ *desk, k string) string { return "count." + k + "·lamp." + k }},
	"lamps":     found("The lamps on average", quantity.Amperes, func(d *desk) string { return each("lamp_mean", len(d.b.Lamps)) }),
	"lamps_all": found("The lamps, every one lit", quantity.Amperes, func(d *desk) string { return each("lamp_all", len(d.b.Lamps)) }),

	"hand_mean": {words: ofHand("%s (rail_current)"), unit: quantity.Amperes, taken: true, value: func(d *desk, k string) quantity.Value {
		return quantity.Value{Number: d.p.Hands[index(k)].RailCurrent}
	}},
	"hand_top": {words: ofHand("%s (pin_mean_current)"), unit: quantity.Amperes, taken: true, value: func(d *desk, k string) quantity.Value {
		return quantity.Value{Number: d.p.Hands[index(k)].PinMeanCurrent}
	}},
	"hand_most":  {words: ofHand("%s where it takes most"), unit: quantity.Amperes, enters: true, formula: mostOf},
	"most_code":  plain("The code where it takes most", quantity.Times, func(d *desk) float64 { code, _ := d.mostFromRail(); return code }),
	"most_duty":  always("Its duty", quantity.Times, "(most_code + offset)/N"),
	"hands":      found("The hands on average", quantity.Amperes, func(d *desk) string { return each("hand_mean", len(d.b.Hands)) }),
	"hands_top":  found("The hands at the top", quantity.Amperes, handsOnPins),
	"hands_most": found("The hands at most", quantity.Amperes, func(d *desk) string { return each("hand_most", len(d.b.Hands)) }),

	"drain": {words: ofDrain, unit: quantity.Amperes, value: func(d *desk, of string) quantity.Value {
		when, k, _ := strings.Cut(of, ".")
		return pick(when == "off", d.b.Drains[index(k)].Off, d.b.Drains[index(k)].On)
	}},
	"rail_drains": {words: says("Drains from the rail"), unit: quantity.Amperes, formula: func(d *desk, when string) string { return d.drains("rail", when) }},
	"direct":      {words: says("Drains from the pack"), unit: quantity.Amperes, formula: func(d *desk, when string) string { return d.drains("pack", when) }},

	"pressed": {words: says("With that it asks of the rail"), unit: quantity.Amperes, formula: func(_ *desk, when string) string { return "on_rail." + when + " + held_down" }},
	"on_rail": {words: says("Asked of the rail"), unit: quantity.Amperes, formula: func(d *desk, when string) string {
		sum := map[string]string{"on": "controller.on + lamps + hands + rail_drains.on", "off": "controller.off + rail_drains.off", "peak": "controller.on + lamps_all + hands_most + rail_drains.on"}[when]
		if load, _ := d.asked(when); load <= 0 { // what is fed into the rail does not charge it
			return "max(0, " + sum + ")"
		}
		return sum
	}},

	"cells":      plain("The cells", quantity.Times, func(d *desk) float64 { return float64(d.b.Battery.Cells) }),
	"cell_fresh": plain("A fresh cell at rest", quantity.Volts, func(d *desk) float64 { return d.b.Battery.Curve[0].Rest }),
	"fresh":      always("The fresh pack at rest", quantity.Volts, "cells·cell_fresh"),
	"cell_ohms":  given("A cell's resistance", quantity.Ohms, func(d *desk) quantity.Value { return d.b.Battery.Resistance }),
	"R_pack":     always("The pack's resistance", quantity.Ohms, "cells·cell_ohms"),
	"cutoff":     given("A cell's end", quantity.Volts, func(d *desk) quantity.Value { return d.b.Battery.Cutoff }),
	"D":          given("Lost before the converter", quantity.Volts, func(d *desk) quantity.Value { return d.b.Battery.SeriesDrop }),
	"efficiency": given("The converter's efficiency", quantity.Percent, func(d *desk) quantity.Value { return d.b.Converter.Efficiency }),
	"own":        given("Its own current", quantity.Amperes, func(d *desk) quantity.Value { return d.b.Converter.Quiescent }),
	"quiescent":  found("", quantity.Amperes, func(d *desk) string { return choose(d.supply().Kind == calc.NoConverter, "0", "own") }),
	"minimum":    given("The converter's least input", quantity.Volts, func(d *desk) quantity.Value { return d.b.Converter.MinimumInput }),
	"dropout":    given("Its dropout", quantity.Volts, func(d *desk) quantity.Value { return d.b.Converter.Dropout }),
	"pack_floor": found("Where the pack ends", quantity.Volts, floorOf),
	"held_from": found("", quantity.Volts, func(d *desk) string {
		return choose(d.bareCells() && d.p.Pack.InputFloor() < d.p.Circuit.Rail, "pack_floor", "rail")
	}),
	"beside": {words: says(""), unit: quantity.Amperes, formula: func(d *desk, when string) string {
		return choose(d.bareCells() && d.supply().Drop == 0, "direct."+when, "0")
	}},

	"power": {words: says("Power at its input"), unit: quantity.Watts, formula: func(_ *desk, when string) string { return "rail·on_rail." + when + "/efficiency" }},
	"w": {words: says("The pack, less its own drops"), unit: quantity.Volts, formula: func(_ *desk, when string) string {
		return "fresh − D − R_pack·(quiescent + direct." + beside(when) + ")"
	}},
	"boosted": {words: says("The converter's input"), unit: quantity.Volts, formula: func(_ *desk, when string) string {
		return "(w." + when + " + sqrt(w." + when + "² − 4·R_pack·power." + when + "))/2"
	}},
	"drawn": {words: says("Drawn from the pack"), unit: quantity.Amperes, formula: drawnOf},
	"v_in": {words: says("The converter's input"), unit: quantity.Volts, formula: func(d *desk, when string) string {
		return choose(d.boosts(when), "boosted."+when, "fresh − R_pack·drawn."+when+" − D")
	}},
	"current": {words: func(_ *desk, when string) string { return "Drawn from the pack (current_" + when + ")" }, unit: quantity.Amperes, taken: true, value: func(d *desk, when string) quantity.Value {
		return quantity.Value{Number: map[string]float64{"on": d.p.Battery.CurrentOn, "off": d.p.Battery.CurrentOff}[when]}
	}},
	"goes_on": {words: says("Of that, what goes on to the rail"), unit: quantity.Amperes, formula: func(_ *desk, when string) string {
		return "current." + when + " − direct." + when + " − quiescent"
	}},
}

func pick(so bool, then, other quantity.Value) quantity.Value {
	if so {
		return then
	}
	return other
}

// index is a number behind a dot.
func index(of string) int {
	k, _ := strconv.Atoi(of)
	return k
}

// each is a sum of a letter for each of so many.
func each(letter string, n int) string {
	terms := []string{"0"}
	for k := range n {
		terms = append(terms, fmt.Sprintf("%s.%d", letter, k))
	}
	return strings.Join(terms, " + ")
}

func ofLamp(words string) func(*desk, string) string {
	return func(d *desk, k string) string {
		return strings.Replace(words, "%s", "Lamp "+d.b.Lamps[index(k)].Name, 1)
	}
}

func ofHand(words string) func(*desk, string) string {
	return func(d *desk, k string) string {
		return strings.Replace(words, "%s", "Hand "+d.b.Hands[index(k)].Name, 1)
	}
}

func ofDrain(d *desk, of string) string {
	_, k, _ := strings.Cut(of, ".")
	return "Drain " + d.b.Drains[index(k)].Name
}

// drains is the sum of those of one place.
func (d *desk) drains(from, when string) string {
	terms := []string{"0"}
	for k := range d.b.Drains {
		if d.b.Drains[k].From == from {
			terms = append(terms, fmt.Sprintf("drain.%s.%d", when, k))
		}
	}
	return strings.Join(terms, " + ")
}

// handsOnPins is the sum of what hands take from their pins at the top code.
func handsOnPins(d *desk) string {
	terms := []string{"0"}
	for k := range d.b.Hands {
		if !d.p.Circuit.Hands[k].Switched {
			terms = append(terms, fmt.Sprintf("hand_top.%d", k))
		}
	}
	return strings.Join(terms, " + ")
}

// mostOf is what a hand takes from the rail at the code at which it takes most.
func mostOf(d *desk, _ string) string {
	if d.wired().Capacitor == 0 {
		return "U·most_duty/R_chain"
	}
	return "U/R_a·(most_duty − k·most_duty²)"
}

// mostFromRail is the code at which a hand takes most from the rail, and how much, A.
func (d *desk) mostFromRail() (code, most float64) {
	h := d.wired()
	chain := h.Drive().Pin
	for c := range int(h.Top) + 1 {
		if now := chain.FromRail(h.Rail, h.Duty(float64(c))); now > most {
			code, most = float64(c), now
		}
	}
	return code, most
}

func (d *desk) supply() *calc.Supply { return &d.p.Pack.Supply }

// bareCells says whether the rail is the pack itself, less its drop.
func (d *desk) bareCells() bool {
	return d.p.Circuit.Battery.Present && d.supply().Kind == calc.NoConverter
}

// beside is when what is drawn beside the converter goes with a load: at most it is what
// goes while the clock is awake.
func beside(when string) string {
	if when == "peak" {
		return "on"
	}
	return when
}

// asked is what is asked of the rail, and straight from the pack, A.
func (d *desk) asked(when string) (load, direct float64) {
	switch when {
	case "off":
		return d.p.Pack.Off, d.p.Pack.DirectOff
	case "on":
		return d.p.Pack.On, d.p.Pack.DirectOn
	}
	was := d.of
	defer func() { d.of = was }()
	load = d.p.Circuit.Supply.ControllerOn + d.p.Circuit.Supply.RailDrainOn
	for i := range d.p.Lamps {
		load += d.p.Circuit.Lamps[i].Count * d.p.Lamps[i].Current
	}
	for d.of = range d.p.Hands {
		_, most := d.mostFromRail()
		load += most
	}
	return load, d.p.Pack.DirectOn
}

// boosts says whether a step-up works for a load from the fresh pack, and does not pass it
// through.
func (d *desk) boosts(when string) bool {
	s := d.supply()
	if s.Kind != calc.Boost {
		return false
	}
	load, direct := d.asked(when)
	w := d.p.Pack.Fresh() - s.Drop - s.Resistance*(s.Quiescent+direct)
	v := (w + math.Sqrt(w*w-4*s.Resistance*s.Rail*max(0, load)/s.Efficiency)) / 2
	return v < s.Rail
}

func drawnOf(d *desk, when string) string {
	if d.boosts(when) {
		return "power." + when + "/boosted." + when + " + quiescent + direct." + beside(when)
	}
	return "on_rail." + when + " + quiescent + direct." + beside(when)
}

// floorOf is the voltage behind the drop at which the clock ends: the highest of what ends it.
func floorOf(d *desk) string {
	pack := &d.p.Pack
	if pack.Cutoff-pack.Supply.Drop >= pack.Floor {
		return "cells·cutoff − D"
	}
	if pack.Supply.Kind == calc.LinearRegulator && pack.Floor == d.b.Rail.Voltage.Number+d.b.Converter.Dropout.Number {
		return "rail + dropout"
	}
	if pack.Supply.Kind == calc.NoConverter && pack.Floor == d.b.Load.MinimumVoltage.Number {
		return "minimum_voltage"
	}
	return "minimum"
}
