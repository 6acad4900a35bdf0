package measure

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc/nodal"
	"example.com/needlewright/model"
)

// through is the current, A, that a cell, V, drives through a resistor and a coil in a row,
// both Ω, by the solver of networks that tests have.
func through(cell, series, coil float64) float64 {
	v := nodal.Voltages(3, []nodal.Branch{{From: 1, To: 2, Ohms: series}, {From: 2, To: 0, Ohms: coil}})
	return cell * v[2] / coil
}

// between draws a number, its logarithm evenly.
func between(t *rapid.T, least, most float64, name string) float64 {
	return math.Exp(rapid.Float64Range(math.Log(least), math.Log(most)).Draw(t, name))
}

// TestStepsHurtNoMeter goes the steps with any meter that a pin drives, and with a cell,
// resistors and eyes that are off as far as they may be: no connection passes full scale,
// and the steps end with a needle that has moved.
//
// The meters, 20 to 500 mV over 10 µA to 20 mA, and what is off: common practice, no source.
func TestStepsHurtNoMeter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fullScale := between(t, 10e-6, 20e-3, "full scale")
		coil := between(t, 0.02, 0.5, "across it") / fullScale
		cell := rapid.Float64Range(1.2, 1.7).Draw(t, "cell")
		square := rapid.Bool().Draw(t, "square")
		seen := func(share float64) float64 {
			if square {
				share *= share
			}
			return share + rapid.Float64Range(-0.045, 0.045).Draw(t, "misread")
		}
		series, most := First(math.NaN())
		for {
			is := series * rapid.Float64Range(0.95, 1.05).Draw(t, "resistor")
			current := through(cell, is, coil)
			require.LessOrEqual(t, current, fullScale, "%v Ω", series)
			require.LessOrEqual(t, current, most, "no more than is said of the first")
			most = math.Inf(1) // nothing is said of the others
			if seen(current/fullScale) >= goOnBelow {
				return
			}
			require.Greater(t, series, leastSeries, "it has not moved at all: %v of full scale", current/fullScale)
			series = next(series)
		}
	})
}

// TestFirst: 1.7 V over 1 MΩ less 5 % are 1.79 µA, less than a fifth of 10 µA, and over
// 470 kΩ 3.8 µA, more; half of 500 µA takes 1.7/250 µA = 6.8 kΩ and 5 % more, of E3 10 kΩ.
// Derived by hand.
func TestFirst(t *testing.T) {
	series, current := First(math.NaN())
	assert.InDelta(t, 1e6, series, 1e-6)
	assert.InDelta(t, 1.8e-6, current, 1e-12)
	series, current = First(500e-6)
	assert.InDelta(t, 10e3, series, 1e-9)
	assert.InDelta(t, 180e-6, current, 1e-12)
	rapid.Check(t, func(t *rapid.T) {
		fullScale := between(t, 10e-6, 1, "full scale")
		series, _ := First(fullScale)
		assert.LessOrEqual(t, through(1.7, series*0.95, 1e-3), 0.5*fullScale, "even without a coil to speak of")
		assert.Greater(t, through(1.7, series, 1e-3), 0.15*fullScale, "and enough to be seen")
	})
}

// TestFirstSaysItsShare: 1.7 V over 10 kΩ less 5 % are 179 µA, said as 180 µA, which is 36 %
// of 500 µA; over 4.7 kΩ they are 381 µA, said as 390 µA, 39 % of 1 mA. Derived by hand.
func TestFirstSaysItsShare(t *testing.T) {
	for fullScale, want := range map[float64]string{500e-6: "180 µA flow, 36 % of its full scale", 1e-3: "390 µA flow, 39 % of its full scale"} {
		assert.Contains(t, stepsOf("hand.meter.coil", fullScale), want)
	}
}

// TestToHalf: with a shunt of the coil's resistance less its share of the cell's voltage the
// needle stands at half, whatever meter it is, by the solver of networks; the shunt takes
// current off the meter, whatever it is.
func TestToHalf(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		fullScale := between(t, 10e-6, 20e-3, "full scale")
		across := between(t, 0.02, 0.5, "across it")
		coil, series := across/fullScale, (1.5-across)/fullScale
		in := func(shunt float64) float64 {
			v := nodal.Voltages(3, []nodal.Branch{{From: 1, To: 2, Ohms: series}, {From: 2, To: 0, Ohms: coil}, {From: 2, To: 0, Ohms: shunt}})
			return 1.5 * v[2] / coil
		}
		assert.InEpsilon(t, fullScale/2, in(coil*(1-across/1.5)), 1e-9)
		assert.Less(t, in(between(t, 1, 1e6, "any shunt")), fullScale*(1+1e-9))
	})
	for _, fullScale := range []float64{math.NaN(), 500e-6} {
		text := stepsOf("hand.meter.coil", fullScale)
		assert.Contains(t, text, "Only if the multimeter has no millivolt range")
		assert.Less(t, strings.Index(text, "on millivolts across"), strings.Index(text, "Only if"), "the better way first")
		assert.Contains(t, text, "7 % at 100 mV of 1.5 V") // 6.67 %
	}
}

// stepsOf are the steps to a field of a salvaged meter of a full scale, in one text.
func stepsOf(path string, fullScale float64) string {
	return strings.Join(Steps(path, Meter{Origin: "salvaged", FullScale: fullScale}), " ")
}

// TestStepsSayTheNumbers: what is printed is what was computed (TestFirst); each list begins
// with the meter alone, before any current.
func TestStepsSayTheNumbers(t *testing.T) {
	for _, path := range []string{"hand.meter.full_scale", "hand.meter.coil"} {
		text := stepsOf(path, math.NaN())
		assert.True(t, strings.HasPrefix(text, free), path)
		for _, want := range []string{
			"1.5 V cell", "1 MΩ", "1.8 µA", "10 µA", "470 kΩ, 220 kΩ, 100 kΩ", "below 10 %", "back to volts", "Never the cell without a resistor", "never an ohmmeter",
		} {
			assert.Contains(t, text, want, path)
		}
	}
	text := stepsOf("hand.meter.coil", 500e-6)
	assert.True(t, strings.HasPrefix(text, free))
	for _, want := range []string{"10 kΩ", "180 µA", "never an ohmmeter", "100 mV at 500 µA are 200 Ω", "20 mV"} { // 0.1 V/500 µA
		assert.Contains(t, text, want)
	}
}

// TestSteps: every step is a sentence, of fields that the build has; a meter that is not
// known to be out of a set that can hurt is left to those who may.
func TestSteps(t *testing.T) {
	for _, origin := range append([]string{""}, model.Builds.Field("hand.meter.origin").Choices...) {
		for _, removed := range []string{"", "no", "unknown", "yes"} {
			told := 0
			for _, f := range model.Builds.Fields {
				steps := Steps(f.Path, Meter{Origin: origin, Removed: removed, FullScale: math.NaN()})
				if steps != nil {
					told++
				}
				for _, s := range steps {
					assert.True(t, strings.HasSuffix(s, "."), s)
				}
				if f.Path != "hand.meter.coil" && f.Path != "hand.meter.full_scale" {
					continue
				}
				text := strings.Join(steps, " ")
				hurts := origin == "mains" || origin == "high voltage" || origin == "vehicle"
				if hurts && removed != "yes" {
					assert.Contains(t, text, "licensed practice, by local codes", "%s, %s", origin, removed)
					assert.NotContains(t, text, "cell", "%s, %s", origin, removed)
				} else {
					assert.Contains(t, text, "1 MΩ", "%s, %s", origin, removed)
				}
			}
			assert.Equal(t, 4, told)
		}
	}
}
