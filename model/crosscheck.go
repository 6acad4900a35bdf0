package model

import (
	"errors"
	"fmt"
	"math"
	"strconv"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// crossCheck finds what each value alone does not show.
func crossCheck(r *reader) {
	b := r.root.(*Build)
	for i := range b.Hands {
		r.checkHand(i, &b.Hands[i])
	}
	r.checkSurvey()
	r.checkCrystal(&b.Crystal)
	r.checkBattery(&b.Battery)
}

// checkSurvey holds the source of each step to those that a survey knows.
func (r *reader) checkSurvey() {
	f := r.schema.Field("hand.survey.step.volts")
	for i := range f.Of(r.root) {
		if v := f.At(r.root, i).(*quantity.Value); v.Given() && v.Number != 1.5 && v.Number != 9 {
			r.clash(f.Path, i, "no such source", "1.5 V or 9 V", "write which of the two it was; what it measured stands in source")
		}
	}
}

func (r *reader) checkHand(i int, h *Hand) {
	d := &h.Drive
	if most := d.MostTop(); d.Top > most {
		wrong := fmt.Sprintf("more than the %d counts", d.Counts)
		if d.DutyOffset > 0 {
			wrong += " but the one that the duty offset adds"
		}
		r.clash("hand.drive.top", i, wrong, fmt.Sprintf("1 to %d", most), "lower it, or raise the counts", "hand.drive.counts", "hand.drive.duty_offset")
	}
	if d.Setting.Number > d.Trimmer.Number {
		r.clash("hand.drive.setting", i, "beyond the trimmer's end",
			"0 Ω to "+quantity.Format(quantity.Value{Number: d.Trimmer.Number}, quantity.Ohms), "measure it again, or leave it empty to have it set for full scale", "hand.drive.trimmer")
	}
	switch {
	case h.Meter.Table != nil:
		if at := notRising(h.Meter.Table); at != "" {
			r.clash("hand.meter.table", i, at, "both columns rising from 0 % to 100 %", "put the rows in order, from 0 %, 0 % to 100 %, 100 %")
		}
	case h.Meter.Law == "table":
		r.clash("hand.meter.table", i, "the law is a table and there is none", "at least two pairs", "give the points, or choose another law")
	}
	r.checkScale(i, h)
	r.checkDial(i, h)
	if drop := d.Drop(); !(drop < r.root.(*Build).Rail.Voltage.Number) && drop > 0 {
		r.clash("hand.drive.switch_drop", i, "no less than the rail", "below "+quantity.Format(r.root.(*Build).Rail.Voltage, quantity.Volts), "measure it again", "rail.voltage")
	}
	if bareCapacitor(r.root.(*Build), h) {
		r.clash("hand.drive.capacitor", i, "nothing stands between the pin and the capacitor",
			"a resistance above 0 Ω before it", "give the pin's resistance, or put a resistor before it",
			"hand.drive.pin_resistance", "hand.drive.stage", "hand.drive.fixed", "hand.drive.trimmer", "hand.drive.setting", "hand.drive.capacitor_at")
	}
}

// checkScale finds what is wrong with the readings of a hand's scale.
func (r *reader) checkScale(hand int, h *Hand) {
	first, _ := r.rows(r.schema.listOf("hand.scale"), hand)
	for k, row := range h.Scale {
		top := row.Of
		if top == 0 {
			top = h.Drive.Top
		}
		switch {
		case row.Stands == "": // it is still to be taken
			continue
		case row.Code < 0:
			r.clash("hand.scale.code", first+k, "no code is given", "0 to "+strconv.Itoa(top), "write the code that was sent then: the table in force may have been another")
		case row.Code > top:
			r.clash("hand.scale.code", first+k, "it is above its top code", "0 to "+strconv.Itoa(top), "write the top code then as of", "hand.scale.of")
		}
		if _, _, err := quantity.ParsePlace(row.Stands, h.Shows); err != nil {
			var e *quantity.Error
			errors.As(err, &e)
			r.clash("hand.scale.stands", first+k, e.Problem, "a share of the scale, or a dial time", e.Remedy)
		}
	}
}

// leastRise is how far a law's table must rise from row to row, as a share of the
// whole: far less than anyone can read, and enough for its slopes to be computed with.
const leastRise = 1e-6

// notRising says where a law's table does not rise strictly from 0, 0 to 1, 1;
// "" where it does.
func notRising(points []calc.Point) string {
	for i := 1; i < len(points); i++ {
		if points[i].Current-points[i-1].Current < leastRise || points[i].Scale-points[i-1].Scale < leastRise {
			return fmt.Sprintf("row %d does not rise above row %d", i+1, i)
		}
	}
	if points[0] != (calc.Point{}) {
		return "it does not start at 0 %, 0 %"
	}
	if points[len(points)-1] != (calc.Point{Current: 1, Scale: 1}) {
		return "it does not end at 100 %, 100 %"
	}
	return ""
}

// MeasuredWithin is how far a measured frequency may be from the nominal one, a
// share of it.
const MeasuredWithin = 0.01

func (r *reader) checkCrystal(c *Crystal) {
	if c.RoomLow.Number > c.RoomHigh.Number {
		r.clash("crystal.room_low", 0, "above the room's highest temperature",
			"up to "+quantity.Format(c.RoomHigh, quantity.Celsius), "exchange the two", "crystal.room_high")
	}
	if off := c.Measured.Number/c.Frequency.Number - 1; math.Abs(off) > MeasuredWithin {
		r.clash("crystal.measured", 0, "more than 1 % away from the nominal frequency",
			"within 1 % of "+quantity.Format(c.Frequency, quantity.Hertz), "check the prefix: a bare number is in Hz", "crystal.frequency")
	}
	if full := math.Exp2(float64(c.CounterBits)); float64(c.Reload) >= full {
		r.clash("crystal.reload", 0, fmt.Sprintf("a counter of %d bits does not reach it", c.CounterBits),
			fmt.Sprintf("0 to %.0f", full-1), "lower it, or check the counter's bits", "crystal.counter_bits")
	}
}

func (r *reader) checkBattery(b *Battery) {
	if b.Cells > 0 && b.Cell == "" && b.Curve == nil {
		r.clash("battery.cell", 0, "neither a cell nor a discharge curve is given", r.schema.Field("battery.cell").Allowed(),
			"choose a cell, or give the curve", "battery.curve")
	}
	if b.ResistanceEnd.Number < b.Resistance.Number {
		r.clash("battery.resistance_end", 0, "below that of a fresh cell", "from "+quantity.Format(b.Resistance, quantity.Ohms)+" on",
			"measure both again: a cell's resistance rises with use", "battery.resistance")
	}
	if b.Curve != nil {
		if at := notFalling(b.Curve); at != "" {
			r.clash("battery.curve", 0, at, "shares rising from 0 % to at most 100 %, voltages not rising", "put the rows in order, the fresh cell first")
		}
	}
}

// notFalling says where a discharge curve is out of order; "" where it is not.
func notFalling(curve []calc.Charge) string {
	if curve[0].Used != 0 {
		return "it does not start at 0 %"
	}
	for i := 1; i < len(curve); i++ {
		switch {
		case curve[i].Used <= curve[i-1].Used:
			return fmt.Sprintf("row %d: the share used does not rise", i+1)
		case curve[i].Rest > curve[i-1].Rest:
			return fmt.Sprintf("row %d: the voltage rises", i+1)
		}
	}
	switch end := curve[len(curve)-1]; {
	case end.Used > 1:
		return "it goes beyond 100 %"
	case end.Rest < 0:
		return "a voltage is below 0 V"
	}
	return ""
}

// bareCapacitor says whether nothing stands between the pin and the capacitor: no
// resistance at all before it, the trimmer as it is set or will be.
func bareCapacitor(b *Build, h *Hand) bool {
	d := &h.Drive
	before := d.Source().Number + d.Stage.Number
	if d.CapacitorAt != "stage" {
		setting := d.Setting.Number
		if !d.Setting.Given() {
			top := calc.PinVoltage(b.Rail.Voltage.Number-d.Drop(), float64(d.Top+d.DutyOffset), float64(d.Counts))
			resistance, fullScale := h.Meter.Terminals(Nominal, Nominal)
			needed := calc.Multiplier(top, fullScale, resistance) - before
			setting = min(max(needed-d.Fixed.Number, 0), d.Trimmer.Number)
		}
		before += d.Fixed.Number + setting
	}
	return d.Capacitor.Number > 0 && before == 0
}

// checkDial finds what of a dial's form cannot be read for what the hand shows.
func (r *reader) checkDial(i int, h *Hand) {
	refuse := func(path, allowed string, err error) {
		var e *quantity.Error
		if errors.As(err, &e) {
			r.clash(path, i, e.Problem, allowed, e.Remedy, "hand.shows")
		}
	}
	if h.Dial.Ticks != "" {
		_, err := quantity.ParseTicks(h.Dial.Ticks, h.Shows)
		refuse("hand.dial.ticks", "short, middle, long, each dividing the next and the dial", err)
	}
	if n := h.Dial.Numerals; n != "" && !quantity.IsDialWord(n) {
		_, err := quantity.ParseNumerals(n, h.Shows)
		refuse("hand.dial.numerals", "numerals in their order, all or none", err)
	}
}
