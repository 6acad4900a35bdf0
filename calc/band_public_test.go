package calc

import (
	"encoding/json"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An input is a toleranced number: its value and the half of its width.
type input struct{ value, half float64 }

// share is an input with a tolerance that is a share of its value.
func share(value, tolerance float64) input { return input{value, value * tolerance} }

// bands are a public build's bands, computed by another program.
type bands struct {
	t     *testing.T
	Bands map[string][2]float64
}

func readBands(t *testing.T, n int) *bands {
	text, err := os.ReadFile(fmt.Sprintf("../model/testdata/public-%d.bands.json", n))
	require.NoError(t, err)
	b := &bands{t: t}
	require.NoError(t, json.Unmarshal(text, b))
	return b
}

// agree holds the band of a result of inputs to the independent one.
func (b *bands) agree(id string, result func(x []float64) float64, inputs ...input) {
	b.t.Helper()
	want, ok := b.Bands[id]
	require.True(b.t, ok, id)
	x := make([]float64, len(inputs))
	for i, in := range inputs {
		x[i] = in.value
	}
	value := result(x)
	var s Spread
	for i, in := range inputs {
		x[i] = in.value + in.half
		upper := result(x)
		x[i] = in.value - in.half
		lower := result(x)
		x[i] = in.value
		s.Add(max(0, upper-value, lower-value), max(0, value-upper, value-lower))
	}
	width := want[1] - want[0]
	assert.InDelta(b.t, want[0], s.Low(value), 1e-7*width, id+" low")
	assert.InDelta(b.t, want[1], s.High(value), 1e-7*width, id+" high")
}

// TestSpreadOfPublicOne: independent computation, model/testdata/public-1.bands.json. The
// numbers put in are those of public-1.toml; the hand is trimmed in each kit, so
// that the whole chain is the top voltage over full scale.
func TestSpreadOfPublicOne(t *testing.T) {
	b := readBands(t, 1)
	const duty = 240.0 / 256
	rail, coil, fullScale := share(5, 0.01), share(920, 0.02), share(250e-6, 0.02)
	pin, stage, fixed, trimmer := share(50, 0.3), share(1500, 0.01), share(13e3, 0.01), share(5e3, 0.1)
	capacitor := share(10e-6, 0.2)
	needed := func(x []float64) float64 { return Multiplier(x[0]*duty, x[1], x[2]) - x[3] - x[4] }
	zero := func(x []float64) float64 { return x[0] * duty / (x[1] + x[2] + x[3] + x[4]) }
	b.agree("hours.full_scale_voltage", func(x []float64) float64 { return FullScaleVoltage(x[0], x[1]) }, fullScale, coil)
	b.agree("hours.top_voltage", func(x []float64) float64 { return PinVoltage(x[0], 240, 256) }, rail)
	b.agree("hours.series_needed", needed, rail, fullScale, coil, pin, stage)
	b.agree("hours.trimmer_setting", func(x []float64) float64 { return needed(x) - x[5] }, rail, fullScale, coil, pin, stage, fixed)
	b.agree("hours.trimmer_travel", func(x []float64) float64 { return (needed(x) - x[5]) / x[6] },
		rail, fullScale, coil, pin, stage, fixed, trimmer)
	b.agree("hours.current_trimmer_zero", zero, rail, coil, pin, stage, fixed)
	b.agree("hours.overload_trimmer_zero", func(x []float64) float64 { return zero(x) / x[5] }, rail, coil, pin, stage, fixed, fullScale)

	chain := func(x []float64) Chain { // rail, full scale, pin, stage, capacitor
		c := Chain{Before: x[2] + x[3], Capacitor: x[4]}
		c.After = x[0]*duty/x[1] - c.Before
		return c
	}
	hand := []input{rail, fullScale, pin, stage, capacitor}
	b.agree("hours.pin_peak_current", func(x []float64) float64 { return chain(x).PinPeak(x[0]) }, hand...)
	b.agree("hours.rail_current", func(x []float64) float64 { return chain(x).RailCurrent(x[0], duty) }, hand...)
	b.agree("hours.filter_time_constant", func(x []float64) float64 { return TimeConstant(chain(x)) }, hand...)
	b.agree("hours.filter_corner", func(x []float64) float64 { return Corner(TimeConstant(chain(x))) }, hand...)
	b.agree("hours.filter_settling", func(x []float64) float64 { return FilterSettling(TimeConstant(chain(x)), 256) }, hand...)

	lamp := func(forward float64) func(x []float64) float64 {
		return func(x []float64) float64 { return (x[0] - forward) / x[1] }
	}
	b.agree("lamp.seconds.current", lamp(1.9), rail, share(1e3, 0.05))
	b.agree("lamp.afternoon.current", lamp(3.0), rail, share(2200, 0.05))
}

// TestSpreadOfPublicCrystal: as above, the crystal.
func TestSpreadOfPublicCrystal(t *testing.T) {
	b := readBands(t, 1)
	side, stray, motional := share(15e-12, 0.05), input{4e-12, 1.5e-12}, share(3e-15, 0.2)
	load := func(x []float64) float64 { return LoadActual(x[0], x[1], x[2]) }
	offset := func(x []float64) float64 { return Pulling{x[3], 1.2e-12}.Offset(load(x), 12.5e-12) }
	critical := func(x []float64) float64 {
		return Oscillation{Frequency: 32768, ESR: 60e3, Shunt: 1.2e-12, Load: load(x)}.TransconductanceCritical()
	}
	b.agree("crystal.load_actual", load, side, side, stray)
	b.agree("crystal.load_offset", offset, side, side, stray, motional)
	b.agree("crystal.sensitivity", func(x []float64) float64 { return Pulling{x[3], 1.2e-12}.Sensitivity(load(x)) },
		side, side, stray, motional)
	b.agree("crystal.capacitor_each", func(x []float64) float64 { return CapacitorEach(12.5e-12, x[0]) }, stray)
	b.agree("crystal.transconductance_critical", critical, side, side, stray)
	b.agree("crystal.gain_margin", func(x []float64) float64 { return 9e-6 / critical(x) }, side, side, stray)
	tick := Counter{Prescale: 1, Bits: 16, Reload: 32768, Lost: 1}.TickPeriod(32768)
	b.agree("crystal.rate", func(x []float64) float64 { return (offset(x) + x[4] + 1e6*(1/tick-1)) * SecondsADay },
		side, side, stray, motional, input{0, 20})
}

// TestSpreadOfPublicTwo: as above, of public-2.bands.json; its first hand is set at 430 Ω.
func TestSpreadOfPublicTwo(t *testing.T) {
	b := readBands(t, 2)
	hours := func(x []float64) Chain { return Chain{Before: 40 + x[1] + 430, After: x[0], Capacitor: x[2]} }
	coil, fixed, capacitor := share(180, 0.01), share(1500, 0.01), share(22e-6, 0.2)
	b.agree("hours.full_scale_reached", func(x []float64) float64 { return hours(x).Current(4.8*0.9) / x[3] },
		coil, fixed, capacitor, share(2e-3, 0.01))
	b.agree("hours.rail_current", func(x []float64) float64 { return hours(x).RailCurrent(4.8, 0.9) }, coil, fixed, capacitor)
	b.agree("hours.filter_time_constant", func(x []float64) float64 { return TimeConstant(hours(x)) }, coil, fixed, capacitor)
	b.agree("minutes.trimmer_travel", func(x []float64) float64 {
		return (Multiplier(4.8*0.96, x[0], x[1]) - 40 - x[2]) / x[3]
	}, share(1e-3, 0.02), share(60, 0.02), share(3900, 0.01), share(1e3, 0.1))
}
