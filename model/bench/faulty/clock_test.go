package faulty

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

// exact is a build without tolerances whose trimmer stands at a given setting, so that
// all of it can be worked by hand: 4.6875 V over 50 + 8200 + 485 + 640 Ω is 500 µA.
const exact = `format = 1
title = "By hand"
[rail]
voltage = "5 V"
[[hand]]
name = "hours"
shows = "12 h"
[hand.meter]
coil = "640 Ω"
full_scale = "500 µA"
stop = "3 %"
stick = "0.4 %"
period = "1.1 s"
overshoot = "18 %"
[hand.drive]
clock = "1 MHz"
prescale = 4
counts = 256
top = 240
pin_resistance = "50 Ω"
fixed = "8.2 kΩ"
trimmer = "1 kΩ"
setting = "485 Ω"
capacitor = "4.7 µF"
[crystal]
frequency = "32.768 kHz"
load = "9 pF"
capacitor_in = "10 pF"
capacitor_out = "12 pF"
stray = "4 pF"
motional = "3.4 fF"
shunt = "1.1 pF"
reload = 32768
[battery]
cell = "alkaline C"
cells = 3
[converter]
kind = "boost"
efficiency = "84 %"
quiescent = "18 µA"
minimum_input = "0.9 V"
[load]
controller_on = "1.6 mA"
controller_off = "1.4 µA"
minimum_voltage = "2.3 V"
[[lamp]]
name = "seconds"
forward = "1.95 V"
resistor = "1.5 kΩ"
lit = "50 %"
count = 2
[[button]]
name = "set"
pull = "47 kΩ"
wakes = "release"
`

func read(t testing.TB, text string, pathsAndValues ...string) *model.Build {
	t.Helper()
	for i := 0; i < len(pathsAndValues); i += 2 {
		next, problem := model.Set(text, pathsAndValues[i], pathsAndValues[i+1])
		require.Nil(t, problem)
		text = next
	}
	b, problems := model.Read(text)
	require.Empty(t, problems)
	return b
}

func example(t testing.TB, name string) *model.Build {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "..", "examples", name+".toml"))
	require.NoError(t, err)
	return read(t, string(text))
}

func seeded(n uint64) *rand.Rand { return rand.New(rand.NewPCG(n, 7)) }

// built is a clock with faults just as they are given, its cells a tenth used and its
// contacts without resistance.
func built(b *model.Build, faults ...Fault) *Clock {
	bench := UsualBench()
	bench.Used = 0.1
	c := assemble(bench, b, 3, 4, faults)
	if c.supply.contacts <= 0.1 {
		c.supply.contacts = 0
	}
	c.kept = map[state][3]float64{}
	c.points = c.measure()
	return c
}

// at is what is truly there at a test point.
func at(t testing.TB, c *Clock, id string) float64 {
	t.Helper()
	i, ok := c.at[id]
	require.True(t, ok, id)
	require.Empty(t, c.points[i].word, id)
	return c.points[i].value
}

func word(t testing.TB, c *Clock, id string) string {
	t.Helper()
	i, ok := c.at[id]
	require.True(t, ok, id)
	return c.points[i].word
}

// Worked by hand from the build above, the multimeter's 10 MΩ left out where it takes
// less than a thousandth: all within that.
func TestSoundByHand(t *testing.T) {
	c := built(read(t, exact))
	for id, want := range map[string]float64{
		"hours.needle_half":        0.5,
		"hours.needle_top":         1,
		"hours.needle_tapped":      0.004,
		"hours.needle_asleep":      0.004,
		"hours.pin_voltage_half":   2.34375 - 0.0125,
		"hours.pin_voltage_top":    4.6875 - 0.025,
		"hours.fixed_voltage_top":  4.1,
		"hours.coil_voltage_top":   0.32,
		"hours.pwm_frequency":      976.5625,
		"hours.series_resistance":  8685,
		"hours.terminals_ohms":     640,
		"hours.dummy_voltage_top":  4.6875 * 620 / 9355,
		"hours.dummy_voltage_half": 2.34375 * 620 / 9355,
		// 3/4 of 500 µA with 200 Ω more: 0.75·9375/9575.
		"hours.turn_effect":           0.75*9375/9575 - 0.75,
		"rail.voltage_on":             5,
		"battery.voltage_rest":        4.32, // 3 · 1.44 V at a tenth used
		"lamp.seconds.voltage_on":     3.05,
		"lamp.seconds.voltage_asleep": 0,
		"lamp.seconds.resistance":     1500,
		"button.set.released":         5 * 10e6 / 10.047e6,
		"button.set.pressed":          0,
		"reset.voltage":               5,
		"clock.tick":                  1.0000072,
		"hours.dummy_voltage_zero":    0,
		"hours.needle_unpowered":      0,
		"hours.pin_voltage_asleep":    0,
		"hours.trimmer_voltage_top":   0.2425,
		"rail.voltage_asleep":         5,
		"rail.current_off":            1.4e-6,
		"battery.contacts_drop":       0,
		"crystal.frequency":           32767.7625,
		"clock.drift":                 -0.6263, // 0.0864 · -7.2488 ppm
	} {
		assert.InDelta(t, want, at(t, c, id), 1e-3*math.Abs(want)+1e-12, id)
	}
	assert.Equal(t, "yes", word(t, c, "lamp.seconds.lights"))
	assert.Equal(t, "steady", word(t, c, "hours.needle_moving"))
}

// Independent: the quadratic of the catalogue solved with Python for 3 cells of 0.22 Ω
// at 4.32 V, 5 V · 3.6333 mA at 84 %; with the multimeter's 5 Ω, and asleep its 100 Ω.
func TestPackByHand(t *testing.T) {
	c := built(read(t, exact))
	assert.InEpsilon(t, 0.005057641239, at(t, c, "battery.current_on"), 1e-9)
	assert.InEpsilon(t, 1.992990857e-5, at(t, c, "battery.current_off"), 1e-9)
	assert.InEpsilon(t, 4.316681457, at(t, c, "battery.voltage_on"), 1e-9)
}

// Worked by hand: what a fault makes of the chain above.
func TestFaultsByHand(t *testing.T) {
	b := read(t, exact)
	for _, w := range []struct {
		f    Fault
		id   string
		want float64
	}{
		{Fault{ID: "multiplier_left", Amount: 29e3}, "hours.needle_top", 4.6875 / 38375 / 500e-6},
		{Fault{ID: "multiplier_left", Amount: 29e3}, "hours.coil_voltage_top", 4.6875 / 38375 * 29640},
		{Fault{ID: "multiplier_left", Amount: 29e3}, "hours.terminals_ohms", 29640},
		{Fault{ID: "shunt_left", Amount: 640}, "hours.needle_top", 4.6875 / 9055 / 2 / 500e-6},
		{Fault{ID: "shunt_left", Amount: 640}, "hours.terminals_ohms", 320},
		{Fault{ID: "coil_open"}, "hours.coil_voltage_top", 4.6875 * 10e6 / 10008735},
		{Fault{ID: "coil_open"}, "hours.fixed_voltage_top", 0},
		{Fault{ID: "coil_open"}, "hours.dummy_voltage_top", 4.6875 * 620 / 9355},
		{Fault{ID: "series_open", Place: openFixed}, "hours.fixed_voltage_top", 4.6875 * 10e6 / 10001175},
		{Fault{ID: "series_open", Place: openFixed}, "hours.trimmer_voltage_top", 0},
		{Fault{ID: "series_open", Place: openTrimmer}, "hours.trimmer_voltage_top", 4.6875 * 10e6 / 10008890},
		{Fault{ID: "series_open", Place: openAtPin}, "hours.pin_voltage_top", 4.6875},
		{Fault{ID: "series_open", Place: openAtMeter}, "hours.coil_voltage_top", 0},
		{Fault{ID: "fixed_decade_high"}, "hours.needle_top", 9375. / 83175},
		{Fault{ID: "fixed_decade_low"}, "hours.series_resistance", 1305},
		{Fault{ID: "trimmer_at_maximum"}, "hours.needle_top", 9375. / 9890},
		{Fault{ID: "trimmer_at_maximum"}, "hours.turn_effect", 0.75*9375/9690 - 0.75*9375/9890}, // its end comes first
		{Fault{ID: "trimmer_by_its_ends"}, "hours.turn_effect", 0},
		{Fault{ID: "trimmer_by_its_ends"}, "hours.series_resistance", 9200},
		{Fault{ID: "capacitor_leaky", Amount: 640}, "hours.needle_top", 4.6875 / 9055 / 2 / 500e-6},
		{Fault{ID: "capacitor_shorted"}, "hours.fixed_voltage_top", 4.6875 * 8200 / 8735.5},
		{Fault{ID: "pin_gives_nothing"}, "hours.pin_voltage_top", 0},
		{Fault{ID: "duty_inverted"}, "hours.needle_top", 16. / 240},
		{Fault{ID: "duty_inverted"}, "hours.needle_half", 136. / 240},
		{Fault{ID: "duty_inverted"}, "hours.needle_asleep", 0.004},
		{Fault{ID: "pwm_clock_off", Amount: 4}, "hours.pwm_frequency", 3906.25},
		{Fault{ID: "top_code_wrong", Amount: 0.9}, "hours.needle_top", 0.9},
		{Fault{ID: "top_code_wrong", Amount: 0.9}, "hours.needle_half", 0.45},
		{Fault{ID: "meter_reversed"}, "hours.coil_voltage_top", -0.32},
		{Fault{ID: "zero_not_set", Amount: -0.02}, "hours.needle_top", 0.98},
		{Fault{ID: "needle_sticks", Amount: 0.05}, "hours.needle_tapped", 0.05},
		{Fault{ID: "scale_uneven", Amount: -0.1}, "hours.needle_half", 0.4},
		{Fault{ID: "scale_uneven", Amount: -0.1}, "hours.needle_top", 1},
		{Fault{ID: "magnet_near", Amount: 0.05, Factor: 0.8}, "hours.needle_half", 0.45},
		{Fault{ID: "other_full_scale", Amount: 2}, "hours.needle_top", 0.5},
		{Fault{ID: "bridge_to_rail", Amount: 40000}, "hours.needle_asleep", 0.004 + 5*(8735*640./9375)/(40000+8735*640./9375)/640/500e-6},
		{Fault{ID: "second_resistor", Amount: 1}, "hours.series_resistance", 4585},
		{Fault{ID: "code_bit_lost"}, "hours.needle_top", 112. / 240},
	} {
		w.f.About = "hours"
		got := at(t, built(b, w.f), w.id)
		assert.InDelta(t, w.want, got, 2e-3*math.Abs(w.want)+1e-4, "%v at %s", w.f, w.id)
	}
}

// Worked by hand: what a fault of the clock makes of it.
func TestClockFaultsByHand(t *testing.T) {
	b := read(t, exact)
	for _, w := range []struct {
		f    Fault
		id   string
		want float64
	}{
		{Fault{ID: "rail_set_wrong", Amount: 0.7}, "rail.voltage_asleep", 4.32}, // the pack is above it, and passes
		{Fault{ID: "rail_set_wrong", Amount: 1.2}, "rail.voltage_asleep", 6},
		{Fault{ID: "rail_set_wrong", Amount: 1.2}, "hours.coil_voltage_top", 0.384},
		{Fault{ID: "converter_passes"}, "rail.voltage_asleep", 4.32},
		{Fault{ID: "converter_sags", Amount: 0.9}, "rail.voltage_on", 4.5},
		{Fault{ID: "converter_sags", Amount: 0.9}, "rail.voltage_asleep", 5},
		{Fault{ID: "cells_weak", Amount: 0.9}, "battery.voltage_rest", 3.6},
		{Fault{ID: "cell_reversed"}, "battery.voltage_rest", 1.44},
		{Fault{ID: "never_sleeps"}, "rail.current_off", 1.6e-3},
		{Fault{ID: "leak_asleep", Amount: 1e-3}, "rail.current_off", 1.0014e-3},
		{Fault{ID: "programmer_attached", Amount: -1e-3}, "rail.current_off", 0},
		{Fault{ID: "reset_low", Amount: 0.5}, "rail.current_off", 0.8e-3},
		{Fault{ID: "reset_low", Amount: 0.5}, "hours.pin_voltage_top", 0},
		{Fault{ID: "reset_low", Amount: 0.5}, "reset.voltage", 0},
		{Fault{ID: "lamp_always", About: "seconds"}, "rail.current_off", 1.4e-6 + 2*3.05/1500},
		{Fault{ID: "lamp_always", About: "seconds"}, "lamp.seconds.voltage_asleep", 3.05},
		{Fault{ID: "lamp_dark", About: "seconds"}, "lamp.seconds.voltage_on", 0},
		{Fault{ID: "lamp_decade_low", About: "seconds"}, "lamp.seconds.resistance", 150},
		{Fault{ID: "lamps_in_series", About: "seconds"}, "lamp.seconds.voltage_on", 1.1},
		{Fault{ID: "button_joined", About: "set"}, "rail.current_off", 1.4e-6 + 5./47e3},
		{Fault{ID: "button_joined", About: "set"}, "button.set.released", 0},
		{Fault{ID: "button_pull_missing", About: "set", Amount: 0.2}, "button.set.released", 1},
		{Fault{ID: "pin_high_asleep", About: "hours"}, "rail.current_off", 1.4e-6 + 5./9375},
		{Fault{ID: "pin_high_asleep", About: "hours"}, "hours.pin_voltage_asleep", 5 * 9325. / 9375},
		{Fault{ID: "pins_swapped", About: "hours + seconds", Place: 1}, "hours.pin_voltage_top", 0},
		// 0.0864 · 165.0165 ppm: 3.4 fF/2 · (1/5.1 pF − 1/10.1 pF).
		{Fault{ID: "load_capacitors_low", Place: inMissing}, "clock.drift", 14.2574},
		{Fault{ID: "reload_missing"}, "clock.tick", 2},
		{Fault{ID: "reload_missing"}, "clock.drift", -43200},
		{Fault{ID: "tick_miscounted", Amount: 2}, "clock.drift", 86400},
		{Fault{ID: "counts_lost", Amount: 3}, "clock.drift", -0.6263 - 86400*3./32771},
		{Fault{ID: "clock_not_from_crystal", Amount: 0.01}, "clock.drift", 864},
		{Fault{ID: "clock_not_from_crystal", Amount: 0.01}, "clock.tick", 1 / 1.01},
	} {
		got := at(t, built(b, w.f), w.id)
		assert.InDelta(t, w.want, got, 2e-3*math.Abs(w.want)+2e-5, "%v at %s", w.f, w.id)
	}
	reset := built(b, Fault{ID: "reset_low", Amount: 0.5})
	assert.Equal(t, "none", word(t, reset, "clock.tick"))
	assert.Equal(t, "no", word(t, reset, "lamp.seconds.lights"))
	assert.Equal(t, "over", word(t, built(b, Fault{ID: "pin_stuck_high", About: "hours"}), "hours.needle_asleep"))
	assert.Equal(t, "below", word(t, built(b, Fault{ID: "meter_reversed", About: "hours"}), "hours.needle_half"))
	assert.Equal(t, "over", built(b, Fault{ID: "coil_open", About: "hours"}).Read("hours.terminals_ohms"))
	assert.Equal(t, "none", built(b, Fault{ID: "crystal_stopped"}).Read("crystal.frequency"))
	assert.NotContains(t, built(b, Fault{ID: "crystal_stopped"}).Points(), "clock.drift")
}
