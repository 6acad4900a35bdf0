package model

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc"
	"example.com/needlewright/model/quantity"
)

func BenchmarkEvaluate(b *testing.B) {
	for _, c := range []struct{ name, file string }{{"one hand", "public-1.toml"}, {"three hands", "three-hands.toml"}} {
		b.Run(c.name, func(b *testing.B) {
			build, p := soundPlan(b, testdata(b, c.file))
			b.ReportAllocs()
			for b.Loop() {
				Evaluate(build, p)
			}
		})
	}
}

func TestEvaluateAllocatesNothing(t *testing.T) {
	for _, file := range []string{"public-1.toml", "public-2.toml", "three-hands.toml", "whole.toml"} {
		b, p := soundPlan(t, testdata(t, file))
		assert.Zero(t, testing.AllocsPerRun(20, func() { Evaluate(b, p) }), file)
	}
}

// drawBuild draws a build of values within their ranges, or absent.
func drawBuild(t *rapid.T) string {
	text := "format = 1\n"
	for i := range rapid.IntRange(0, 2).Draw(t, "hands") {
		text += fmt.Sprintf("[[hand]]\nname = \"h%d\"\n", i)
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "lamps") {
		text += fmt.Sprintf("[[lamp]]\nname = \"l%d\"\n", i)
	}
	b, _ := Read(text)
	for _, f := range Builds.Fields {
		for i := range f.Of(b) {
			path := f.PathOf(b, i)
			if f.Path == "format" || last(f.Path) == "name" || !f.Must && rapid.IntRange(0, 3).Draw(t, "given "+path) == 0 {
				continue
			}
			text, _ = Set(text, path, drawText(t, f, path))
		}
	}
	return text
}

// drawText draws a good text for a field.
func drawText(t *rapid.T, f *Field, path string) string {
	switch f.zero().(type) {
	case *quantity.Value:
		// Evenly over the decades where a range spans many.
		x := rapid.Float64Range(0, 1).Draw(t, path)
		low := max(f.low, f.high*1e-6)
		value := f.low + x*(f.high-f.low)
		if f.low >= 0 && f.high/low > 100 {
			value = low * math.Pow(f.high/low, x)
		}
		value = min(max(value, f.low), f.high)
		if tolerance := rapid.SampledFrom([]float64{0, 0.01, 0.3}).Draw(t, "±"); tolerance > 0 && f.low >= 0 {
			return quantity.Format(quantity.Value{Number: value, Tolerance: tolerance * value}, f.Unit)
		}
		return valueText(value, f.Unit)
	case *int:
		return fmt.Sprint(int(rapid.Float64Range(f.low, min(f.high, 1e6)).Draw(t, path)))
	case *[]calc.Point:
		return `[["0 %", "0 %"], ["30 %", "22 %"], ["100 %", "100 %"]]`
	case *[]calc.Charge:
		return `[["0 %", "1.6 V"], ["50 %", "1.3 V"], ["50.001 %", "1.2 V"], ["100 %", "0 V"]]`
	}
	if f.Choices != nil {
		return rapid.SampledFrom(f.Choices).Draw(t, path)
	}
	return "x"
}

// soundOrSkip reads a drawn text; clashes between its values are put right
// where that is easy, else the draw is skipped.
func soundOrSkip(t *rapid.T, text string) (string, *Build) {
	b, problems := Read(text)
	for _, p := range problems {
		text, _ = Set(text, p.Path, map[string]string{"top": "1", "setting": "", "measured": "", "table": `[[0, 0], [100, 100]]`, "reload": "0"}[last(p.Path)])
	}
	if len(problems) > 0 {
		if b, problems = Read(text); len(problems) > 0 {
			t.Skip()
		}
	}
	return text, b
}

// Any build without problems gives finite rows, findings fit to read, and the
// same plan whatever the plan held before.
func TestAnyBuild(t *testing.T) {
	used := new(Plan)
	rapid.Check(t, func(t *rapid.T) {
		text, b := soundOrSkip(t, drawBuild(t))
		var p Plan
		Evaluate(b, &p)
		Evaluate(b, used)
		rows, again := Rows(&p), Rows(used)
		require.Len(t, again, len(rows))
		for i, row := range rows {
			require.False(t, math.IsNaN(row.Value) || math.IsInf(row.Value, 0), row.ID)
			require.Equal(t, row.Value, again[i].Value, row.ID)
			require.NotContains(t, row.Text(), "NaN")
		}
		for _, r := range results {
			for i := range r.Of(&p) {
				if v := *r.At(&p, i); math.IsInf(v, 0) && !(last(r.ID) == "life_on" || last(r.ID) == "life_standby" || last(r.ID) == "life_mixed") {
					t.Fatalf("%s is infinite", r.ID)
				}
			}
		}
		for _, f := range Findings(b, &p) {
			checkFinding(t, text, f)
		}
	})
}

func TestHigherRailHigherTop(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := soundBuildOnce
		low := rapid.Float64Range(1, 23).Draw(t, "rail")
		b.Rail.Voltage = quantity.Value{Number: low}
		var p Plan
		Evaluate(&b, &p)
		before := p.Hands[0].TopVoltage
		b.Rail.Voltage.Number = low * (1 + rapid.Float64Range(1e-9, 1).Draw(t, "more"))
		Evaluate(&b, &p)
		require.Greater(t, p.Hands[0].TopVoltage, before)
	})
}

// soundBuildOnce is public-1, to be copied.
var soundBuildOnce = func() Build {
	b, _ := Read(fileText("testdata/public-1.toml"))
	return *b
}()

// Where the trimmer reaches, it is set for full scale; where it does not, it is
// held at its end.
func TestTrimming(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := soundBuildOnce
		b.Hands = append([]Hand(nil), b.Hands...)
		d := &b.Hands[0].Drive
		d.Fixed = quantity.Value{Number: rapid.Float64Range(0, 30e3).Draw(t, "fixed")}
		d.Trimmer = quantity.Value{Number: rapid.Float64Range(100, 20e3).Draw(t, "trimmer")}
		var p Plan
		Evaluate(&b, &p)
		h := &p.Hands[0]
		switch {
		case h.TrimmerTravel < 0:
			require.Less(t, h.FullScaleReached, 1.0)
		case h.TrimmerTravel > 1:
			require.Greater(t, h.FullScaleReached, 1.0)
		default:
			require.InDelta(t, 1, h.FullScaleReached, 1e-12)
		}
	})
}

// What does not exist for a build is left out.
//
// Birthplace: catalogue.md.
func TestLeftOut(t *testing.T) {
	text := testdata(t, "public-1.toml")
	has := func(text, id string) bool {
		b, p := soundPlan(t, text)
		_, there := byID(t, b, p)[id]
		return there
	}
	for _, c := range []struct{ id, path, value string }{
		{"hours.trimmer_travel", "hand.hours.drive.trimmer", "0"}, {"hours.filter_corner", "hand.hours.drive.capacitor", "0"},
		{"hours.ripple_voltage_worst", "hand.hours.drive.capacitor", ""}, {"crystal.gain_margin", "crystal.transconductance", ""},
		{"crystal.transconductance_critical", "crystal.esr", ""}, {"battery.life_on", "battery.cells", "0"},
		{"battery.current_on", "battery.resistance", "60 Ω"}, {"crystal.rate", "crystal.load", ""},
	} {
		assert.True(t, has(text, c.id), c.id)
		assert.False(t, has(with(t, text, c.path, c.value), c.id), "%s with %s = %q", c.id, c.path, c.value)
	}
	assert.False(t, has(text, "hours.fade_error"))
	none := with(t, text, "converter.kind", "none", "load.minimum_voltage", "4 V")
	assert.True(t, has(none, "hours.fade_error"))
	assert.False(t, has(with(t, none, "load.minimum_voltage", "5.5 V"), "hours.fade_error"), "it ends above the rail: nothing fades")
	_, p := soundPlan(t, with(t, text, "battery.resistance", "60 Ω"))
	assert.Zero(t, p.Battery.LifeOn, "a pack that cannot carry the clock")
}
