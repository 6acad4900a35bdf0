package faulty

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
)

// A kind is what a test point is read with, and how it is written down.
type kind int

const (
	words kind = iota
	volts
	alternating // V, judged in levels
	ohms
	amperes
	hertz
	places   // of the needle, tapped
	moves    // of the needle
	friction // what tapping moves
	ticks    // s, over a hundred of them
	drift    // s a day
	counter  // Hz, a counter's
)

// Limits of error that are not the multimeter's. Source: the contract.
const (
	moveError    = 0.01  // of the scale
	tapError     = 0.005 // of the scale
	tickError    = 0.003 // s: 0.3 s over a hundred
	driftError   = 1.0   // s over the days
	counterError = 2e-6  // of the frequency
	openOhms     = 40e6  // Ω, beyond which a multimeter shows an open circuit
)

// nothing is what is written as "none".
var nothing = map[kind]float64{volts: 5e-3, alternating: 5e-3, amperes: 0.5e-6, ohms: 0.5}

// Read returns what a person writes down at a test point, in a form that a build's file
// takes: what is truly there with the errors of the multimeter or the eye, rounded as
// the display rounds it. It is the same each time; "" where there is no answer.
func (c *Clock) Read(id string) string {
	i, ok := c.at[id]
	if !ok {
		return ""
	}
	p := c.points[i]
	if p.word != "" {
		return p.word
	}
	h := fnv.New64a()
	h.Write([]byte(id))
	d := drawer{rand.New(rand.NewPCG(c.seed, h.Sum64()))}
	m := &c.bench.Multimeter
	switch p.kind {
	case volts, alternating:
		return d.display(p, m.Volts, m.Digits, "V")
	case ohms:
		return d.display(p, m.Ohms, m.Digits, "Ω")
	case amperes:
		return d.display(p, m.Amps, m.Digits, "A")
	case hertz:
		return d.display(p, m.Hertz, m.Digits, "Hz")
	case places:
		return d.look(p.value, eye, 0.01)
	case moves:
		return d.look(p.value, moveError, 0.01)
	case friction:
		return strings.TrimPrefix(d.look(p.value, tapError, 0.005), "-")
	}
	return d.timed(p)
}

// timed writes what is counted against a good clock or with a counter.
func (d drawer) timed(p point) string {
	switch {
	case p.value == 0:
		return "none"
	case p.kind == ticks:
		return fmt.Sprintf("%.3f s", p.value+d.around(tickError))
	case p.kind == counter:
		return fmt.Sprintf("%.5f kHz", p.value/1000*(1+d.around(counterError)))
	}
	days := []int{1, 2, 3, 5, 7}[d.IntN(5)]
	gained := d.whole(p.value*float64(days), driftError)
	if days == 7 {
		return fmt.Sprintf("%+d s in 1 wk", gained)
	}
	return fmt.Sprintf("%+d s in %d d", gained, days)
}

// whole is any whole number that is within an error of x.
func (d drawer) whole(x, limit float64) int {
	low, high := int(math.Ceil(x-limit)), int(math.Floor(x+limit))
	return low + d.IntN(high-low+1)
}

// look is a share of the scale, in steps that a person would write, any of those within
// the eye's error.
func (d drawer) look(y, limit, step float64) string {
	steps := d.whole(y/step, limit/step)
	return strconv.FormatFloat(float64(steps)*(step*100), 'f', -1, 64) + " %"
}

// digit is a unit of the last digit of a display of 4 000 counts at a value. Its ranges
// end at 4, 40, 400 ... of any unit.
func digit(x float64) float64 {
	return math.Pow(10, math.Floor(math.Log10(math.Abs(x)/4*(1-1e-12)))-2)
}

// display is what a multimeter shows of a value: off by a share of it and by some of
// its last digits, each anything within its limit.
func (d drawer) display(p point, share, digits float64, unit string) string {
	if math.IsInf(p.value, 0) || p.kind == ohms && p.value > openOhms {
		return "over"
	}
	off, last := d.around(share), d.around(digits)
	if math.Abs(p.value) <= nothing[p.kind] {
		return "none"
	}
	shown := p.value*(1+off) + last*digit(p.value)
	return written(shown, digit(shown), unit)
}

// written is a number rounded to whole multiples of a power of ten, with its unit.
func written(x, digit float64, unit string) string {
	x = math.Round(x/digit) * digit
	prefix, scale := "", 1.0
	for _, c := range []struct {
		prefix string
		scale  float64
	}{{"M", 1e6}, {"k", 1e3}, {"", 1}, {"m", 1e-3}, {"µ", 1e-6}} {
		prefix, scale = c.prefix, c.scale
		if math.Abs(x) >= c.scale*(1-1e-9) {
			break
		}
	}
	decimals := max(0, int(math.Round(math.Log10(scale/digit))))
	return strconv.FormatFloat(x/scale, 'f', decimals, 64) + " " + prefix + unit
}

// limit is the most that a reading of a value is off, the rounding with it.
func (c *Clock) limit(p point) float64 {
	m := &c.bench.Multimeter
	share := map[kind]float64{volts: m.Volts, ohms: m.Ohms, amperes: m.Amps, hertz: m.Hertz}
	switch p.kind {
	case places:
		return eye
	case moves:
		return moveError
	case friction:
		return tapError
	case ticks:
		return tickError + 0.0005
	case drift:
		return driftError
	case counter:
		return counterError*p.value + 0.005
	}
	if math.Abs(p.value) <= nothing[p.kind] {
		return nothing[p.kind] - math.Abs(p.value)
	}
	return share[p.kind]*math.Abs(p.value) + (m.Digits+1)*digit(p.value)
}

// alike says whether two points may be read the same.
func (c *Clock) alike(p, q point) bool {
	switch {
	case p.word != q.word || p.kind != q.kind:
		return false
	case p.kind == alternating:
		a, b := max(p.value, nothing[p.kind]), max(q.value, nothing[q.kind])
		return a < 4*b && b < 4*a
	}
	return math.Abs(p.value-q.value) <= c.limit(p)+c.limit(q)
}

// Traces returns the ids of the test points at which the faults show: where what is
// there is another word, or off by more than a reading's error can be from what the
// same clock, part for part, shows without them.
func (c *Clock) Traces() []string { return c.unlike(nil) }

// Masked returns the faults that leave no trace: without one of them, and with the
// others, the same clock would be read the same.
func (c *Clock) Masked() []Fault {
	var masked []Fault
	for i, f := range c.faults {
		if others := slices.Delete(slices.Clone(c.faults), i, i+1); len(c.unlike(others)) == 0 {
			masked = append(masked, f)
		}
	}
	return masked
}

// unlike returns the test points that read otherwise with other faults.
func (c *Clock) unlike(faults []Fault) []string {
	other := assemble(c.bench, c.build, c.parts, c.seed, faults)
	var ids []string
	for _, p := range c.points {
		if i, ok := other.at[p.id]; ok && !c.alike(p, other.points[i]) {
			ids = append(ids, p.id)
		}
	}
	return ids
}
