package faulty

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// derived: of a display of 4 000 counts the last digit of 3.999 V is a millivolt, of
// 4.00 V ten.
func TestDigits(t *testing.T) {
	for x, want := range map[float64]float64{3.999: 1e-3, 4.0001: 1e-2, 0.3999: 1e-4, 0.937: 1e-3, 21e-6: 1e-8, 640: 1, 8685: 10, -3.2: 1e-3} {
		assert.InEpsilon(t, want, digit(x), 1e-9, "%v", x)
	}
	for _, c := range []struct {
		x    float64
		unit string
		want string
	}{
		{4.6875, "V", "4.69 V"}, {0.32, "V", "320.0 mV"}, {-0.32, "V", "-320.0 mV"}, {0.9376, "V", "938 mV"}, {640, "Ω", "640 Ω"},
		{8685, "Ω", "8.69 kΩ"}, {1.2e6, "Ω", "1.200 MΩ"}, {5.058e-3, "A", "5.06 mA"}, {1.993e-5, "A", "19.93 µA"}, {976.56, "Hz", "977 Hz"}, {15625, "Hz", "15.63 kHz"},
	} {
		assert.Equal(t, c.want, written(c.x, digit(c.x), c.unit))
	}
}

var units = map[kind]quantity.Unit{volts: quantity.Volts, alternating: quantity.Volts, ohms: quantity.Ohms, amperes: quantity.Amperes,
	hertz: quantity.Hertz, counter: quantity.Hertz, ticks: quantity.Seconds, places: quantity.Percent, moves: quantity.Percent, friction: quantity.Percent}

// what is written, as a number.
func number64(t *testing.T, p point, text string) float64 {
	if p.kind == drift {
		var seconds, n float64
		var unit string
		_, err := fmt.Sscanf(text, "%f s in %f %s", &seconds, &n, &unit)
		require.NoError(t, err, text)
		require.Contains(t, []string{"d", "wk"}, unit)
		if unit == "wk" {
			n *= 7
		}
		return seconds / n
	}
	v, err := quantity.Parse(text, units[p.kind])
	require.NoError(t, err, text)
	return v.Number
}

// Each reading can be read by the project's reader of quantities, lies within the
// contract's errors of what is there, and is the same however often it is asked for.
func TestReadingsAreWithinTheirErrors(t *testing.T) {
	widest := map[kind]float64{}
	for _, name := range []string{"reading-room", "harbour-office", "school-store", "station-platform"} {
		b := example(t, name)
		faults := append(Faults(b), Foreign(b)...)
		for i, f := range faults {
			c := Make(b, seeded(uint64(i)), f)
			first := map[string]string{}
			for _, p := range c.points {
				first[p.id] = c.Read(p.id)
			}
			for _, p := range slices.Backward(c.points) {
				text := c.Read(p.id)
				require.Equal(t, first[p.id], text)
				require.NotEmpty(t, text)
				off, ok := offOf(t, c, p, text)
				if ok {
					assert.LessOrEqual(t, off, 1.0000001, "%s %v of %v: %s", p.id, p.value, f, text)
					widest[p.kind] = max(widest[p.kind], off)
				}
			}
		}
		assert.Empty(t, Make(b, seeded(1)).Read("hours.nothing_here"))
	}
	for k := volts; k <= counter; k++ {
		assert.Greater(t, widest[k], 0.7, "errors of kind %d are never near their limit", k)
	}
}

// offOf is how far a reading is off, as a share of the most it may be; ok is false of
// words.
func offOf(t *testing.T, c *Clock, p point, text string) (off float64, ok bool) {
	switch {
	case p.word != "":
		require.Equal(t, p.word, text)
		return 0, false
	case text == "over":
		require.True(t, p.value > 40e6)
		return 0, false
	case text == "none":
		require.LessOrEqual(t, math.Abs(p.value), nothing[p.kind])
		return 0, false
	}
	// Source of the limits: the contract.
	m := map[kind][2]float64{volts: {0.008, 3.5}, alternating: {0.008, 3.5}, ohms: {0.01, 3.5}, amperes: {0.015, 3.5}, hertz: {0.001, 3.5}}
	x := number64(t, p, text)
	limit := map[kind]float64{places: 0.015, moves: 0.01, friction: 0.005, ticks: 0.0035, counter: 2e-6*p.value + 0.006}[p.kind]
	if l, known := m[p.kind]; known {
		limit = l[0]*math.Abs(p.value) + l[1]*max(digit(p.value), digit(x))
	}
	if p.kind == drift {
		var seconds, days float64
		_, err := fmt.Sscanf(strings.Replace(text, "1 wk", "7 d", 1), "%f s in %f d", &seconds, &days)
		require.NoError(t, err)
		limit = 1 / days
	}
	return math.Abs(x-p.value) / limit, true
}

// A slip is another reading: a decade, a sign, or a neighbour's.
func TestSlips(t *testing.T) {
	assert.Equal(t, "46.9 V", decade("4.69 V", 1))
	assert.Equal(t, "0.469 V", decade("4.69 V", -1))
	assert.Equal(t, "470 %", decade("47 %", 1))
	assert.Equal(t, "4.7 %", decade("47 %", -1))
	assert.Equal(t, "-0.05 kΩ", decade("-0.5 kΩ", -1))
	assert.Equal(t, "", decade("over", 1))
	assert.Equal(t, "", decade("0 %", 1))
	assert.Equal(t, "-47 %", otherSign("47 %"))
	assert.Equal(t, "320.0 mV", otherSign("-320.0 mV"))
	assert.Equal(t, "-12 s in 3 d", otherSign("+12 s in 3 d"))
	assert.Equal(t, "+12 s in 3 d", otherSign("-12 s in 3 d"))
	c := Make(read(t, exact), seeded(1))
	assert.Equal(t, c.Read("hours.pin_voltage_top"), c.neighbour("hours.pin_voltage_half", 1))
	random := seeded(2)
	for _, p := range c.points {
		reading := c.Read(p.id)
		for range 20 {
			slip := c.Slip(random, p.id, reading)
			if decade(reading, 1) != "" {
				assert.NotEqual(t, reading, slip, p.id)
			}
		}
	}
}

func soundClocks(t *testing.T, b *model.Build, n int, each func(c *Clock)) {
	t.Helper()
	for i := range n {
		each(Make(b, seeded(uint64(i))))
	}
}

// Laws that hold of any sound clock.
func TestLawsOfSoundClocks(t *testing.T) {
	b := example(t, "reading-room")
	spread := map[string][2]float64{}
	soundClocks(t, b, 300, func(c *Clock) {
		// Full scale at the top: the eye's 1.5 %, the rail's drift within its 1 % after trimming.
		top := at(t, c, "hours.needle_top")
		assert.InDelta(t, 1, top, 0.015+0.02+1e-9)
		// Twice the code, twice the current, but for the class's error at half.
		assert.InDelta(t, top/2, at(t, c, "hours.needle_half"), 0.025+1e-6)
		// Kirchhoff: the voltages of the chain add up to what the pin gives, the multimeter's 10 MΩ apart.
		around := at(t, c, "hours.fixed_voltage_top") + at(t, c, "hours.trimmer_voltage_top") + at(t, c, "hours.coil_voltage_top")
		assert.InEpsilon(t, at(t, c, "hours.pin_voltage_top"), around, 2e-3)
		// Energy: what the pack gives, less its own and the converter's loss, is what the rail takes.
		p := &c.supply
		rail, out, pack := c.powered(idle)
		input := p.rest() - pack*p.inner()
		assert.InEpsilon(t, rail*out, input*(pack-p.quiescent)*p.efficiency, 1e-9)
		for id, value := range map[string]float64{"full scale": c.hands[0].fullScale, "fixed": c.hands[0].fixed, "rail": p.rail, "top": top} {
			s, ok := spread[id]
			if !ok {
				s = [2]float64{value, value}
			}
			spread[id] = [2]float64{min(s[0], value), max(s[1], value)}
		}
	})
	// Parts lie all over their tolerances, and not beyond: ±1 % of each.
	for id, nominal := range map[string]float64{"full scale": 500e-6, "fixed": 8200, "rail": 5} {
		assert.InDelta(t, 0.99, spread[id][0]/nominal, 0.0007, id)
		assert.InDelta(t, 1.01, spread[id][1]/nominal, 0.0007, id)
		assert.GreaterOrEqual(t, spread[id][0], nominal*0.99-1e-12)
		assert.LessOrEqual(t, spread[id][1], nominal*1.01+1e-12)
	}
	assert.Less(t, spread["top"][0], 0.99)
	assert.Greater(t, spread["top"][1], 1.01)
}

// Half the rail, half the coil's voltage and half the way of the needle; the same parts
// and the same clock otherwise.
func TestHalfTheRail(t *testing.T) {
	b := example(t, "station-platform") // an outside supply: nothing passes through
	b.Load.MinimumVoltage.Number = 2    // V, or the controller would be held at 2.5 V
	for seed := range uint64(20) {
		sound := assemble(UsualBench(), b, seed, 1, nil)
		half := assemble(UsualBench(), b, seed, 1, []Fault{{ID: "rail_set_wrong", Amount: 0.5}})
		for _, id := range []string{"hours.coil_voltage_top", "minutes.pin_voltage_half", "seconds.fixed_voltage_top", "hours.node_ac_half", "rail.voltage_on"} {
			assert.InEpsilon(t, at(t, sound, id)/2, at(t, half, id), 1e-9, id)
		}
		for _, id := range []string{"hours.pwm_frequency", "hours.series_resistance", "clock.tick"} {
			assert.Equal(t, at(t, sound, id), at(t, half, id), id)
		}
	}
}

// Cells without a converter: the rail is what the pack leaves, and the charge balance
// is Kirchhoff's.
func TestBareCells(t *testing.T) {
	b := read(t, exact, "converter.kind", "none", "rail.voltage", "4.5 V")
	soundClocks(t, b, 50, func(c *Clock) {
		rail, out, pack := c.powered(idle)
		assert.InDelta(t, out, pack, 1e-12)
		assert.InDelta(t, c.supply.rest()-pack*c.supply.inner(), rail, 1e-9)
		assert.InDelta(t, rail, at(t, c, "rail.voltage_on"), 1e-12)
		assert.NotContains(t, c.Points(), "rail.current_off")
	})
	low := assemble(UsualBench(), read(t, exact, "converter.kind", "none", "rail.voltage", "4.5 V", "load.minimum_voltage", "3.9 V"), 1, 1, []Fault{{ID: "cells_weak", Amount: 0.95}})
	assert.Equal(t, "none", low.Read("clock.tick")) // 3 · 1.15 V: held
	assert.Equal(t, "no", low.Read("lamp.seconds.lights"))
	assert.Equal(t, "none", low.Read("hours.pin_voltage_top"))
}

// The same seed, the same clock.
func TestSameSeedSameClock(t *testing.T) {
	b := example(t, "reading-room")
	f := Fault{ID: "contacts_bad"}
	one, two, other := Make(b, seeded(3), f), Make(b, seeded(3), f), Make(b, seeded(4), f)
	differ := 0
	for _, id := range one.Points() {
		assert.Equal(t, one.Read(id), two.Read(id))
		if other.Read(id) != one.Read(id) {
			differ++
		}
	}
	assert.Greater(t, differ, 15)
	assert.Equal(t, one.Faults(), two.Faults())
}
