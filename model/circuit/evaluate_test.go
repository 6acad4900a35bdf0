package circuit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

func BenchmarkEvaluate(b *testing.B) {
	for _, c := range []struct{ name, file string }{{"one hand", "public-1.toml"}, {"three hands", "three-hands.toml"}} {
		b.Run(c.name, func(b *testing.B) {
			build, p := soundPlan(b, modeltest.Text(b, c.file))
			b.ReportAllocs()
			for b.Loop() {
				Evaluate(build, p)
			}
		})
	}
}

// What a dark lamp would draw need not be known of a clock that sleeps; awake it must be.
// Derived.
func TestUnknownLampAsleep(t *testing.T) {
	text := modeltest.Example("reading-room")
	_, known := soundPlan(t, text)
	_, p := soundPlan(t, modeltest.With(t, text, "lamp.seconds.forward", ""))
	assert.True(t, math.IsNaN(p.Battery.CurrentOn))
	assert.True(t, math.IsNaN(p.Battery.LifeOn))
	assert.Equal(t, known.Battery.CurrentOff, p.Battery.CurrentOff)
	assert.Equal(t, known.Battery.LifeStandby, p.Battery.LifeStandby)
	assert.Equal(t, known.Supply.HoldUp, p.Supply.HoldUp)
}

// A pin that is high all the time has nothing that ripples. Derived.
func TestNoRippleAtFullDuty(t *testing.T) {
	_, p := soundPlan(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.counts", "2", "hand.hours.drive.top", "1",
		"hand.hours.drive.duty_offset", "1", "hand.hours.drive.capacitor", "0"))
	assert.Zero(t, p.Hands[0].RippleCurrent)
	assert.Zero(t, p.Hands[0].RippleNeedle)
}

func TestEvaluateAllocatesNothing(t *testing.T) {
	for _, file := range []string{"public-1.toml", "public-2.toml", "three-hands.toml", "whole.toml"} {
		b, p := soundPlan(t, modeltest.Text(t, file))
		assert.Zero(t, testing.AllocsPerRun(20, func() { Evaluate(b, p) }), file)
	}
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
var soundBuildOnce = func() model.Build {
	b, _ := model.Read(modeltest.FileText("../testdata/public-1.toml"))
	return *b
}()

// Where the trimmer reaches, it is set for full scale; where it does not, it is
// held at its end.
func TestTrimming(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := soundBuildOnce
		b.Hands = append([]model.Hand(nil), b.Hands...)
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
	text := modeltest.Text(t, "public-1.toml")
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
		assert.False(t, has(modeltest.With(t, text, c.path, c.value), c.id), "%s with %s = %q", c.id, c.path, c.value)
	}
	assert.False(t, has(text, "hours.fade_error"))
	none := modeltest.With(t, text, "converter.kind", "none", "load.minimum_voltage", "4 V")
	assert.True(t, has(none, "hours.fade_error"))
	assert.False(t, has(modeltest.With(t, none, "load.minimum_voltage", "5.5 V"), "hours.fade_error"), "it ends above the rail: nothing fades")
	_, p := soundPlan(t, modeltest.With(t, text, "battery.resistance", "60 Ω"))
	assert.Zero(t, p.Battery.LifeOn, "a pack that cannot carry the clock")
}

// soundPlan evaluates a text that has no problems.
func soundPlan(t testing.TB, text string) (*model.Build, *Plan) {
	t.Helper()
	b := modeltest.Sound(t, text)
	p := new(Plan)
	Evaluate(b, p)
	return b, p
}

// TestBuiltInCellAges: its resistance rises as catalogue.md says, and a typed one does
// not by itself.
func TestBuiltInCellAges(t *testing.T) {
	life := func(resistance, end string) float64 {
		_, p := soundPlan(t, modeltest.With(t, modeltest.Text(t, "public-1.toml"), "converter.minimum_input", "3.3 V",
			"battery.cell", "CR2032", "battery.resistance", resistance, "battery.resistance_end", end))
		return p.Battery.LifeOn
	}
	assert.Equal(t, life("30 Ω", "150 Ω"), life("", ""))
	assert.Equal(t, life("30 Ω", "30 Ω"), life("30 Ω", ""), "typed: as fresh")
	assert.Less(t, life("", ""), life("30 Ω", ""))
}

// TestHoldUp: the capacitor's charge counted down in small steps of time, an independent
// computation; bare cells are changed at their end, and their drains go on without a diode.
func TestHoldUp(t *testing.T) {
	count := func(from, to, current float64) (seconds float64) {
		const step = 1e-3
		for charge := 470e-6 * from; charge > 470e-6*to; charge -= current * step {
			seconds += step
		}
		return seconds
	}
	lamp := "\n[[lamp]]\nname = \"seconds\"\nforward = \"1.8 V\"\nresistor = \"470 Ω\"\nlit = \"50 %\"\n[[drain]]\nname = \"divider\"\non = \"7 µA\"\noff = \"3 µA\"\nfrom = \"pack\"\n"
	bare := modeltest.With(t, modeltest.Text(t, "bare-cells.toml")+lamp, "rail.voltage", "3 V", "rail.capacitor", "470 µF", "battery.resistance", "0.4 Ω",
		"battery.cutoff", "1.1 V", "load.controller_on", "1 mA", "load.controller_off", "2 µA")
	_, p := soundPlan(t, bare)
	b := &p.Battery
	assert.InDelta(t, count(2.2, 2, b.RailCurrentOff+3e-6), p.Supply.HoldUp, 2e-3)
	assert.InDelta(t, count(2.2, 2, b.RailCurrentOn+7e-6), p.Supply.HoldUpAwake, 2e-3)
	// Derived: 2 · 0.4 Ω carry 1.2 V over 470 Ω more of 3 V.
	assert.InEpsilon(t, p.Minutes(0)*0.8*1.2/470/3, p.Hands[0].LampNod, 1e-12)
	_, p = soundPlan(t, modeltest.With(t, bare, "battery.series_drop", "0.1 V"))
	assert.InDelta(t, count(2.1, 2, b.RailCurrentOff), p.Supply.HoldUp, 2e-3, "a diode holds the drains off")
	for _, held := range [][]string{{"converter.kind", "boost"}, {"converter.kind", "linear"}, {"battery.cells", "0"}} {
		_, p = soundPlan(t, modeltest.With(t, bare, held...))
		assert.InDelta(t, count(3, 2, 2e-6), p.Supply.HoldUp, 2e-3, "%s: the whole rail", held)
		assert.True(t, math.IsNaN(p.Hands[0].LampNod), held)
	}
}
