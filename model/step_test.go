package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

// stepsFrom opens a build with one value set and steps that value.
func stepsFrom(t require.TestingT, text, path, value string, up bool) (string, bool) {
	changed, problem := Set(text, path, value)
	require.Nil(t, problem)
	d := Open(changed)
	f, index, problem := d.outline.resolve(path)
	require.Nil(t, problem)
	return d.Step(f, index, up)
}

// TestStep: birthplace: the E12 and E24 lists of IEC 60063, and for the rest
// derived, by hand, from the rules in Step's comment.
func TestStep(t *testing.T) {
	text := with(t, testdata(t, "whole.toml"), "hand.hours.drive.setting", "")
	for _, c := range []struct{ path, from, up, down string }{
		// Parts that are bought.
		{"hand.hours.drive.fixed", "6.8 kΩ ±1 %", "7.5 kΩ ±1 %", "6.2 kΩ ±1 %"},
		{"hand.hours.drive.fixed", "4k7", "5.1 kΩ", "4.3 kΩ"},
		{"hand.hours.drive.fixed", "910 Ω +/- 5%", "1 kΩ +/- 5%", "820 Ω +/- 5%"},
		{"hand.hours.drive.fixed", "5k", "5.1 kΩ", "4.7 kΩ"},
		{"hand.hours.drive.fixed", "10 MΩ", "", "9.1 MΩ"},
		{"hand.hours.drive.fixed", "0", "10 Ω", ""},
		{"hand.hours.drive.fixed", "10 Ω", "11 Ω", "0 Ω"},
		{"hand.hours.drive.trimmer", "5 MΩ", "", "2 MΩ"},
		{"hand.hours.drive.trimmer", "4.7 MΩ", "5 MΩ", "2 MΩ"},
		{"hand.hours.drive.stage", "0 Ω", "10 Ω", ""},
		{"lamp.tide.resistor", "10 Ω", "11 Ω", ""},
		{"hand.hours.drive.capacitor", "4.7 µF ±20 %", "5.6 µF ±20 %", "3.9 µF ±20 %"},
		{"hand.hours.drive.capacitor", "100n", "0.12 µF", "82 nF"},
		{"hand.hours.drive.capacitor", "0", "10 nF", ""},
		{"crystal.capacitor_in", "15 ±5 %", "18 pF ±5 %", "12 pF ±5 %"},
		{"crystal.capacitor_out", "1 pF", "1.2 pF", "0 F"},
		// Measured quantities.
		{"hand.hours.meter.coil", "640 Ω ±1 %", "650 Ω ±1 %", "630 Ω ±1 %"},
		{"hand.hours.meter.coil", "641", "650 Ω", "640 Ω"},
		{"hand.hours.meter.coil", "1 mΩ", "1.02 mΩ", ""},
		{"hand.hours.meter.full_scale", "500 µA", "510 µA", "495 µA"},
		{"hand.hours.meter.full_scale", "1.00 mA ±0.02 mA", "1.02 mA ±0.02 mA", "990 µA ±0.02 mA"},
		{"hand.hours.meter.full_scale", "100 ±3", "102 µA ±3 µA", "99 µA ±3 µA"},
		{"hand.hours.meter.period", "1.1 s", "1.12 s", "1.08 s"},
		{"rail.voltage", "5 V", "5.1 V", "4.95 V"},
		{"converter.quiescent", "0 A", "50 µA", ""},
		{"hand.hours.meter.inductance", "0", "1 mH", ""},
		{"hand.hours.meter.inductance", "1 mH", "1.02 mH", "0 H"},
		// Evenly.
		{"hand.hours.meter.overshoot", "18 %", "19 %", "17 %"},
		{"hand.hours.meter.overshoot", "18.5 %", "19 %", "18 %"},
		{"hand.hours.meter.overshoot", "5 %", "6 %", "4.9 %"},
		{"hand.hours.meter.overshoot", "0 %", "0.1 %", ""},
		{"converter.efficiency", "84 % ±5 %", "85 % ±5 %", "83 % ±5 %"},
		{"hand.hours.meter.class", "2.5 %", "2.6 %", "2.4 %"},
		{"hand.hours.meter.sweep", "90°", "91°", "89°"},
		{"hand.hours.meter.overload", "1.2", "1.3", "1.1"},
		{"hand.hours.drive.trimmer_turns", "25", "26", "24"},
		{"hand.hours.meter.movement_tempco", "-2000 ppm/K", "-1990 ppm/K", "-2010 ppm/K"},
		{"hand.hours.meter.movement_tempco", "0", "10 ppm/K", "-10 ppm/K"},
		{"crystal.tolerance", "20 ppm", "21 ppm", "19 ppm"},
		{"rail.trimmed_at", "0 °C", "1 °C", "-1 °C"},
		{"rail.trimmed_at", "70 °F", "22 °C", "21 °C"}, // derived: 21.1 °C; what is stepped is written as it is shown
		{"rail.trimmed_at", "60 °C", "", "59 °C"},
		{"load.hours_on", "14 h", "14.5 h", "13.5 h"},
		{"load.hours_on", "23.7 h", "24 h", "23.5 h"},
		{"battery.shelf", "10 a", "10.5 a", "9.5 a"},
		// Counts.
		{"crystal.lost_counts", "0", "1", ""},
		{"battery.cells", "3", "4", "2"},
		{"hand.hours.drive.top", "500", "", "499"}, // the counts of this build
		// Choices.
		{"hand.hours.meter.law", "square", "table", "linear"},
		{"hand.hours.meter.law", "table", "linear", "square"},
		{"hand.hours.noon", "top", "zero", "zero"},
		// What cannot be stepped.
		{"hand.hours.meter.coil", "soon", "", ""},
		{"hand.hours.drive.counts", "2e3", "", ""},
		{"hand.hours.noon", "noon", "", ""},
		{"title", "A clock", "", ""},
		{"hand.hours.meter.table", `[["0 %", "0 %"], ["100 %", "100 %"]]`, "", ""},
		// What is out of range comes back into it.
		{"hand.hours.meter.coil", "2 MΩ", "", "1 MΩ"},
		{"hand.hours.meter.coil", "-3", "1 mΩ", ""},
		{"battery.cells", "90", "", "24"},
	} {
		for _, way := range []struct {
			up   bool
			want string
		}{{true, c.up}, {false, c.down}} {
			got, ok := stepsFrom(t, text, c.path, c.from, way.up)
			assert.Equal(t, way.want, got, "%s, from %s, up %v", c.path, c.from, way.up)
			assert.Equal(t, way.want != "", ok, "%s, from %s, up %v", c.path, c.from, way.up)
		}
	}
}

// TestStepFromAbsent: birthplace: the absent values of catalogue.md, the cell of
// cells.go, and for what has none the usual value of the fields table.
func TestStepFromAbsent(t *testing.T) {
	text := testdata(t, "whole.toml")
	for _, c := range []struct{ path, want string }{
		{"rail.trimmed_at", "24 °C"},
		{"hand.hours.meter.overload", "1.3"},
		{"crystal.counter_bits", "17"},
		{"hand.hours.noon", "zero"},
		{"rail.maximum", "5.5 V"},
		{"hand.hours.meter.coil", ""}, // must be measured
		{"crystal.measured", ""},
		{"hand.hours.meter.class", "2.5 %"},
	} {
		got, ok := stepsFrom(t, text, c.path, "", true)
		assert.Equal(t, c.want, got, c.path)
		assert.Equal(t, c.want != "", ok, c.path)
	}
	bare := Open("[battery]\ncell = \"alkaline AA\"\ncells = 3\n") // 0.25 Ω of it
	got, _ := bare.Step(Builds.Field("battery.resistance"), 0, false)
	assert.Equal(t, "0.248 Ω", got)
}

// TestStepOfNoTOML: birthplace: derived; a text that is not TOML cannot be set.
func TestStepOfNoTOML(t *testing.T) {
	d := Open("[rail]\nvoltage = \"5 V\"\ndrift = = 3\n")
	_, ok := d.Step(Builds.Field("rail.voltage"), 0, true)
	assert.False(t, ok)
}

// TestStepLaws: derived; from anywhere in a field's range a step goes the right
// way, stays in the range, keeps the tolerance and reads without a problem.
func TestStepLaws(t *testing.T) {
	text := testdata(t, "whole.toml")
	d := Open(text)
	var steppable []*Field
	for _, f := range Builds.Fields {
		if f.Least != "" && f.Path != "format" {
			steppable = append(steppable, f)
		}
	}
	require.Greater(t, len(steppable), 50)
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(steppable).Draw(t, "field")
		up := rapid.Bool().Draw(t, "up")
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		x := f.low + share*(f.high-f.low)
		if f.low >= 0 && rapid.Bool().Draw(t, "by decades") {
			least := max(f.low, f.high/1e9)
			x = min(max(least*math.Pow(f.high/least, share), f.low), f.high)
		}
		_, count := f.zero().(*int)
		from := quantity.Format(quantity.Value{Number: x}, f.Unit)
		if count {
			x = math.Round(x)
			from = quantity.Format(quantity.Value{Number: x}, quantity.Times)
		} else if f.Unit != quantity.Celsius && x > 0 && f.Unit != quantity.Percent {
			from += rapid.SampledFrom([]string{"", " ±5 %", "±1%"}).Draw(t, "tolerance")
		}
		at := d.Set(f, 0, from)
		got, ok := at.Step(f, 0, up)
		if !ok {
			return
		}
		after := at.Set(f, 0, got)
		assert.Nil(t, after.Problem(f, 0), "%s: %s, then %s", f.Path, from, got)
		if count {
			n := float64(*f.At(after.Build, 0).(*int))
			assert.Equal(t, 1.0, math.Abs(n-x), "%s: %s, then %s", f.Path, from, got)
			assert.Equal(t, up, n > x)
			return
		}
		v := *f.At(after.Build, 0).(*quantity.Value)
		assert.True(t, f.low <= v.Number && v.Number <= f.high, "%s: %s, then %s", f.Path, from, got)
		assert.Equal(t, up, v.Number > x, "%s: %s, then %s", f.Path, from, got)
		if _, tolerance, marked := strings.Cut(from, "±"); marked {
			assert.True(t, strings.HasSuffix(got, "±"+tolerance), "%s: %s, then %s", f.Path, from, got)
		}
	})
}

// TestStepUpAndDown: derived; what a step reaches, stepping back from the next
// one returns to, and so does every preferred value of a part that is bought.
func TestStepUpAndDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(Builds.Fields).Filter(func(f *Field) bool {
			_, quantity := f.zero().(*quantity.Value)
			return quantity && f.Least != ""
		}).Draw(t, "field")
		least := max(f.low, f.Unit.Factor()/1000)
		if f.Series != nil {
			least = max(f.low, leastPart[f.Unit])
		}
		x := least * math.Pow(f.high/least, rapid.Float64Range(0.01, 0.9).Draw(t, "share"))
		rung := f.next(x, true)
		assert.Equal(t, rung, f.next(f.next(rung, true), false), "%s, from %v", f.Path, x)
		assert.Equal(t, rung, f.next(f.next(rung, false), true), "%s, from %v", f.Path, x)
	})
}

// TestStepAlongTheSeries: derived; from every preferred value a part can have,
// up and down is where one started, text and all.
func TestStepAlongTheSeries(t *testing.T) {
	checked := 0
	for _, f := range Builds.Fields {
		for power := -9; f.Series != nil && power < 9; power++ {
			for _, n := range f.Series {
				text := fmt.Sprintf("%de%d %s", n, power, f.Unit.Symbol())
				v := quantity.MustParse(text, f.Unit).Number
				if v < max(f.low, leastPart[f.Unit]) || f.next(v, true) > f.high {
					continue
				}
				checked++
				above, ok := f.stepped(text, true)
				require.True(t, ok, "%s: %s", f.Path, text)
				back, ok := f.stepped(above, false)
				require.True(t, ok, "%s: %s", f.Path, above)
				assert.Equal(t, quantity.Format(quantity.Value{Number: v}, f.Unit), back, f.Path)
			}
		}
	}
	assert.Greater(t, checked, 300)
}

// TestFineSteps: derived from the promise of 1 to 2 %.
func TestFineSteps(t *testing.T) {
	all := append(slices.Clone(fine), 1000)
	for i := 1; i < len(all); i++ {
		step := float64(all[i]-all[i-1]) / float64(all[i-1])
		assert.True(t, 0.008 <= step && step <= 0.02, "%d to %d", all[i-1], all[i])
	}
	assert.Equal(t, 0.102, calc.NextPreferred(0.1, fine, true))
}

func BenchmarkStep(b *testing.B) {
	d := Open(testdata(b, "whole.toml"))
	f := Builds.Field("hand.drive.fixed")
	for b.Loop() {
		d.Step(f, 0, true)
	}
}

// Resistors are had in E24, volts as they come. Birthplace: IEC 60063, and none.
func TestIsToBeHad(t *testing.T) {
	fixed := Builds.Field("hand.drive.fixed")
	assert.True(t, fixed.IsToBeHad(8200))
	assert.True(t, fixed.IsToBeHad(8200*(1+1e-12)))
	assert.False(t, fixed.IsToBeHad(8185))
	assert.True(t, Builds.Field("rail.voltage").IsToBeHad(4.96))
}
