package survey

import (
	"fmt"
	"math"
	"strconv"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// ofMeter is a value that the multimeter shows, with how far it may be off.
func ofMeter(value float64) measured {
	top := 0.4 // V, the lowest range of many
	for top < math.Abs(value) {
		top *= 10
	}
	return measured{value: value, half: meterShare*math.Abs(value) + (meterDigits+0.5)*top/counts}
}

// source asks for the volts of a source by itself, or as it is connected; ok is false
// where there is none.
func (d *dialogue) source(volts float64, of *Connection, current float64) (ok bool) {
	a := &Ask{Kind: "source", Of: &Connection{Volts: volts}, Current: current, Text: fmt.Sprintf("Measure the %v V source by itself, DC; skip where there is none.", volts)}
	if of != nil {
		a.Of, a.Text = of, "Leave it connected and measure across the source, DC."
	}
	var got measured
	a.read = func(s string) error {
		v, err := inVolts(s, "1.530 V")
		if least, most := allowed(volts, of != nil); err == nil && !(v.Number >= least && v.Number <= most) {
			err = fmt.Errorf("%q is not a source of %v V; allowed are %.3g to %.3g V: take another, or skip", s, volts, least, most)
		}
		got = ofMeter(v.Number)
		got.text = s
		return err
	}
	if !d.ask(a) {
		return false
	}
	if of != nil {
		d.loaded[*of] = got
	} else {
		d.sources[volts] = got
	}
	return true
}

// allowed are the volts of a source, as a multimeter may show them: a single cell has 1.2 to
// 1.7 V, a block of 9 V, used or new, 6.5 to 10 V, and less by a third where it is loaded.
func allowed(volts float64, loaded bool) (least, most float64) {
	least, most = 1.18, 1.72
	if volts == 9 {
		least, most = 6.5, 10
	}
	if loaded {
		least *= 0.67
	}
	return least, most
}

// resistor asks for the value of a resistor.
func (d *dialogue) resistor(nominal float64) {
	if _, known := d.series[nominal]; known || nominal < leastMeasured || d.asMarked {
		return
	}
	d.besides++
	d.ask(&Ask{Kind: "resistor", Nominal: nominal, Text: "Measure the resistor by itself, " + quantity.Show(nominal, quantity.Ohms, 2) + ", nothing else on it; or write as marked.", read: func(s string) error {
		if s == "as marked" { // who does not measure one measures none
			return nil
		}
		v, err := quantity.ParsePlain(s, quantity.Ohms)
		if err == nil && math.Abs(v.Number/nominal-1) > 4*asMarked {
			err = fmt.Errorf("%q is far from the resistor's %s; measure again, or write as marked", s, quantity.Show(nominal, quantity.Ohms, 2))
		}
		d.series[nominal] = measured{v.Number, meterShare*v.Number + (meterDigits+0.5)*decade(v.Number)/counts, s}
		return err
	}})
	if _, known := d.series[nominal]; !known {
		d.asMarked = true
	}
}

// leastMeasured is the least resistance that a cheap ohmmeter tells better than its marking.
const leastMeasured = 100.0

// decade is the range of a 4 000-count display that shows a value.
func decade(x float64) float64 { return 4 * math.Pow(10, math.Ceil(math.Log10(x/4))) }

// volts is a source as it is at a connection, with how far it may be off.
func (d *dialogue) volts(c Connection) measured {
	if m, ok := d.loaded[c]; ok {
		return m
	}
	if m, ok := d.sources[c.Volts]; ok {
		return m
	}
	if c.Volts == 9 {
		return measured{value: 8.6, half: 1.4} // that nobody measured
	}
	return measured{value: 1.45, half: 0.25} // a 1.5 V cell that nobody measured
}

// ohms is a resistor, with how far it may be off.
func (d *dialogue) ohms(nominal float64) measured {
	if m, ok := d.series[nominal]; ok && m.value > 0 {
		return m
	}
	return nominally(nominal)
}

// before is what stands before the meter at a connection, Ω: the resistor, and what the source
// has of its own where it was not measured as it is loaded. Common practice, no source: 0.2 to
// 1 Ω of a cell, 1 to 19 Ω of a block of 9 V.
func (d *dialogue) before(c Connection) measured {
	r := d.ohms(c.Series)
	if _, is := d.loaded[c]; is {
		return r
	}
	own := measured{value: 0.6, half: 0.4}
	if c.Volts == 9 {
		own = measured{value: 10, half: 9}
	}
	return measured{value: r.value + own.value, half: math.Hypot(r.half, own.half)}
}

// nominally is a resistor by its marking.
func nominally(ohms float64) measured {
	return measured{ohms, asMarked * ohms, quantity.Show(ohms, quantity.Ohms, 2) + " ±5 %"}
}

// nominals are the resistors that the survey asks for, falling: E6 from 10 MΩ to 15 Ω.
var nominals = func() []float64 {
	var all []float64
	for r := 10e6; r >= 15; r = calc.NextPreferred(r, calc.E6, false) {
		all = append(all, r)
	}
	return all
}()

// sourceName tells sources apart whose errors are their own.
func sourceName(d *dialogue, c Connection) string {
	if _, ok := d.loaded[c]; ok {
		return quantityName(c.Volts) + " at " + quantityName(c.Series)
	}
	return quantityName(c.Volts)
}

func quantityName(x float64) string { return strconv.FormatFloat(x, 'g', -1, 64) }
