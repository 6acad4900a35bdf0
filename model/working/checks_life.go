package working

import (
	"fmt"
	"math"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/quantity"
)

// lifeLetters are those of how long cells last.
var lifeLetters = map[string]entry{
	"capacity":  given("A cell's charge", quantity.AmpereHours, func(d *desk) quantity.Value { return d.b.Battery.Capacity }),
	"ends_with": plain("A cell's resistance, used up", quantity.Ohms, func(d *desk) float64 { return d.b.Battery.ResistanceEnd.Number }),
	"lost":      plain("Lost of itself", quantity.PercentPerYear, func(d *desk) float64 { return d.b.Battery.SelfDischarge.Number }),
	"shelf":     plain("Its shelf life", quantity.Years, func(d *desk) float64 { return d.b.Battery.ShelfLife.Number }),
	"loss":      always("What it loses of itself", quantity.Amperes, "capacity·lost/8766"),
	"whole_day": plain("", quantity.Hours, func(*desk) float64 { return 24 }),
	"held_down": {words: says("While it is pressed"), unit: quantity.Amperes, formula: func(*desk, string) string { return "rail/pull" }},
}

// life is how long a pack lasts: its charge over the mean current, in as many parts as it
// takes to come near.
func (d *desk) life(o circuit.Outcome, pack calc.Pack, hours float64) ([]Step, error) {
	switch {
	case o.Value == 0:
		return d.plainly(o, "Under its load it is at its end from the start", "0")
	case o.Value == pack.Shelf:
		return d.plainly(o, "Its shelf life ends first", "shelf·8766")
	}
	end := pack.EndUsed(hours)
	var parts int
	for _, parts = range [...]int{1, 2, 3, 4, 6, 8, 12, 16, 24} {
		if sum := d.sumOf(pack, hours, end, parts); math.Abs(sum/o.Value-1) <= nearEnough {
			break
		}
	}
	total := "0"
	for k := range parts {
		from, to := end*float64(k)/float64(parts), end*float64(k+1)/float64(parts)
		part := d.partOfLife(k, pack, hours, from, to)
		if parts > 1 {
			name := fmt.Sprintf("hours_%d", k)
			d.let(name, "Hours of it", quantity.Hours, part)
			part = name
		}
		total += " + " + part
	}
	return d.nearly(o, "Found by going down the cells' curve", candidate{words: "Charge over mean current", formula: total})
}

// sumOf is what life writes, with all digits.
func (d *desk) sumOf(pack calc.Pack, hours, end float64, parts int) float64 {
	sum := 0.0
	for k := range parts {
		from, to := end*float64(k)/float64(parts), end*float64(k+1)/float64(parts)
		mean := pack.Capacity * pack.SelfDischarge / 8766
		for _, awake := range [...]bool{true, false} {
			share := hours / 24
			if !awake {
				share = 1 - share
			}
			if share > 0 {
				current, _ := drawAt(pack, awake, pack.Cells*meanRest(pack.Curve, from, to), (from+to)/2)
				mean += share * current
			}
		}
		sum += pack.Capacity * (to - from) / mean
	}
	return sum
}

// drawAt is what a load draws from a pack at a voltage at rest, where a share is used, and
// whether a step-up works for it.
func drawAt(pack calc.Pack, awake bool, rest, used float64) (current float64, boosts bool) {
	load, direct := pack.Off, pack.DirectOff
	if awake {
		load, direct = pack.On, pack.DirectOn
	}
	s := pack.Supply
	s.Resistance += pack.ResistanceRise * used
	if s.Kind == calc.Boost {
		w := rest - s.Drop - s.Resistance*(s.Quiescent+direct)
		power := s.Rail * load / s.Efficiency
		v := (w + math.Sqrt(max(0, w*w-4*s.Resistance*power))) / 2
		if v < s.Rail {
			return power/v + s.Quiescent + direct, true
		}
	}
	if s.Kind == calc.NoConverter {
		return load + direct, false
	}
	return load + s.Quiescent + direct, false
}

// meanRest is the mean voltage at rest of a cell, V, between two used shares.
func meanRest(curve []calc.Charge, from, to float64) float64 {
	if from == to {
		return restAt(curve, from)
	}
	sum, at, rest := 0.0, from, restAt(curve, from)
	for _, c := range curve {
		if c.Used > from && c.Used < to {
			sum += (c.Used - at) * (rest + c.Rest) / 2
			at, rest = c.Used, c.Rest
		}
	}
	return (sum + (to-at)*(rest+restAt(curve, to))/2) / (to - from)
}

func restAt(curve []calc.Charge, used float64) float64 {
	for k := 1; k < len(curve); k++ {
		if a, b := curve[k-1], curve[k]; used <= b.Used {
			return a.Rest + (b.Rest-a.Rest)*(used-a.Used)/(b.Used-a.Used)
		}
	}
	return curve[len(curve)-1].Rest
}

// partOfLife enters the lines of one part of the curve, and returns the letter for its hours.
func (d *desk) partOfLife(k int, pack calc.Pack, hours, from, to float64) string {
	of := fmt.Sprintf("_%d", k)
	rest := meanRest(pack.Curve, from, to)
	where := quantity.Show(from, quantity.Percent, 3) + " to " + quantity.Show(to, quantity.Percent, 3)
	d.put("used"+of, "Charge used, "+where, quantity.Percent, to-from)
	d.put("rest"+of, "A cell at rest, mean of it", quantity.Volts, rest)
	ohms := "R_pack"
	if pack.ResistanceRise != 0 {
		d.put("mid"+of, "Used in the middle of it", quantity.Percent, (from+to)/2)
		d.let("ohms"+of, "The pack's resistance there", quantity.Ohms, "cells·(cell_ohms + (ends_with − cell_ohms)·mid"+of+")")
		ohms = "ohms" + of
	}
	mean := "loss"
	for _, awake := range [...]bool{true, false} {
		when, share, at := "on", hours/24, hours == 24
		if !awake {
			when, share, at = "off", 1-share, hours == 0
		}
		if share <= 0 {
			continue
		}
		_, boosts := drawAt(pack, awake, pack.Cells*rest, (from+to)/2)
		name := d.drawnAt(when+of, when, "cells·rest"+of, ohms, boosts)
		switch {
		case at:
			mean = name + " + " + mean
		case awake:
			mean = name + "·hours_on/whole_day + " + mean
		default:
			mean = name + "·(whole_day − hours_on)/whole_day + " + mean
		}
	}
	if pack.SelfDischarge == 0 {
		mean = mean[:len(mean)-len(" + loss")]
	}
	d.let("mean"+of, "Mean current", quantity.Amperes, mean)
	return "capacity·used" + of + "/mean" + of
}

// drawnAt enters the lines of what a load draws from the pack at a voltage at rest, and
// returns its letter.
func (d *desk) drawnAt(name, when, rest, ohms string, boosts bool) string {
	load := "on_rail." + when
	if d.list == "button" {
		load = "pressed." + when
	}
	words := map[string]string{"on": "awake", "off": "asleep"}[when]
	if !boosts {
		d.let("I_"+name, "Drawn "+words, quantity.Amperes, load+" + quiescent + direct."+when)
		return "I_" + name
	}
	d.let("P_"+name, "Power asked "+words, quantity.Watts, "rail·"+load+"/efficiency")
	d.let("w_"+name, "The pack, less its own drops", quantity.Volts, rest+" − D − "+ohms+"·(quiescent + direct."+when+")")
	d.let("v_"+name, "The converter's input", quantity.Volts, "(w_"+name+" + sqrt(max(0, w_"+name+"² − 4·"+ohms+"·P_"+name+")))/2")
	d.let("I_"+name, "Drawn "+words, quantity.Amperes, "P_"+name+"/v_"+name+" + quiescent + direct."+when)
	return "I_" + name
}

func wedgedLife(d *desk, o circuit.Outcome) ([]Step, error) {
	pack, hours := d.p.Pack, 0.0
	if d.p.Circuit.Buttons[d.i].Wakes {
		hours = 24
	}
	more := d.p.Buttons[d.i].Current
	pack.On, pack.Off = pack.On+more, pack.Off+more
	return d.life(o, pack, hours)
}

// stranded is what is left where the loaded pack meets its end.
func stranded(d *desk, o circuit.Outcome) ([]Step, error) {
	pack := &d.p.Pack
	used := pack.EndUsed(24)
	switch used {
	case pack.Curve[len(pack.Curve)-1].Used:
		return d.plainly(o, "The cells' curve is used up", "0")
	case pack.Curve[0].Used:
		return d.plainly(o, "It does not start at all: whole", "1")
	}
	d.put("left", "Left where it ends, by trying", quantity.Percent, o.Value)
	d.let("used", "Used there", quantity.Percent, "1 − left")
	d.put("rest", "A cell at rest there, by its curve", quantity.Volts, restAt(pack.Curve, used))
	ohms := "R_pack"
	if pack.ResistanceRise != 0 {
		d.let("ohms", "The pack's resistance there", quantity.Ohms, "cells·(cell_ohms + (ends_with − cell_ohms)·used)")
		ohms = "ohms"
	}
	_, boosts := drawAt(*pack, true, pack.Cells*restAt(pack.Curve, used), used)
	name := d.drawnAt("there", "on", "cells·rest", ohms, boosts)
	loaded := "cells·rest − " + ohms + "·" + name
	input := loaded + " − D"
	list := []candidate{{words: "The converter's input there: its end", formula: input, wants: pack.InputFloor(), unit: quantity.Volts}}
	if boosts {
		list = append(list, candidate{words: "All power that the pack can give: what is asked", formula: "w_there²/(4·" + ohms + ")", wants: d.letterOf("P_there").value(), unit: quantity.Watts})
	}
	return d.nearly(o, "Left where it ends, by trying", append(list, candidate{words: "It is at the step where the converter begins; the loaded pack gives then", formula: loaded, unit: quantity.Volts, wants: math.NaN()})...)
}
