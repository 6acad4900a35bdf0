package model

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Yes and no may be TOML's own true and false. Derived.
func TestTrueIsYes(t *testing.T) {
	text := testdata(t, "whole.toml")
	for word, want := range map[string]string{"true": "yes", "false": "no"} {
		d := Open(strings.Replace(text, `in_circuit = "yes"`, "in_circuit = "+word, 1))
		require.Empty(t, d.Problems)
		f, i, ok := d.Find("hand.hours.meter.in_circuit")
		require.True(t, ok)
		assert.Equal(t, want, d.Build.Hands[i].Meter.InCircuit)
		given, _ := d.Given(f, i)
		assert.Equal(t, want, given)
		other, ok := d.Step(f, i, true)
		assert.True(t, ok)
		assert.NotEqual(t, want, other)
	}
	_, problems := Read(strings.Replace(text, `converter]
kind = "linear"`, "converter]\nkind = true", 1))
	require.Len(t, problems, 1)
}

func TestReadKeepsWhatItReads(t *testing.T) {
	// Birthplace: the values written in testdata/whole.toml.
	b := soundBuild(t, testdata(t, "whole.toml"))
	assert.Equal(t, "Harbour office clock", b.Title)
	assert.InEpsilon(t, 0.02, b.Rail.Voltage.Tolerance, 1e-15)
	assert.True(t, b.Rail.Voltage.Share)
	require.Len(t, b.Hands, 1)
	assert.Equal(t, "hours", b.Hands[0].Name)
	assert.InEpsilon(t, 100e-6, b.Hands[0].Meter.FullScale.Number, 1e-15)
	assert.InEpsilon(t, 0.35, b.Hands[0].Meter.Table[1].Scale, 1e-15)
	assert.Equal(t, 480, b.Hands[0].Drive.Top)
	assert.InEpsilon(t, 0.09, b.Lamps[0].Forward.Low()-1.71, 1e-12)
	assert.Equal(t, []Reading{{At: "battery.current_off", Value: "5 µA", Note: "after a night asleep", Before: "yes"}}, b.Readings)
}

func TestAbsentMeans(t *testing.T) {
	// Birthplace: catalogue.md, "Absent means"; the whole list of it.
	b := soundBuild(t, `format = 1
[rail]
voltage = 5
[[hand]]
name = "hours"
[hand.meter]
coil = 640
full_scale = 500
[hand.drive]
clock = "1 MHz"
counts = 256
top = 240
[[lamp]]
name = "noon"
`)
	h := b.Hands[0]
	for name, v := range map[string]float64{
		"stage": h.Drive.Stage.Number, "pin_resistance": h.Drive.PinResistance.Number, "fixed": h.Drive.Fixed.Number,
		"trimmer": h.Drive.Trimmer.Number, "capacitor": h.Drive.Capacitor.Number, "inductance": h.Meter.Inductance.Number,
		"overshoot":       h.Meter.Overshoot.Number,
		"resistor_tempco": h.Drive.ResistorTempco.Number, "tolerance": b.Crystal.Tolerance.Number, "ageing": b.Crystal.Ageing.Number,
		"resistance": b.Battery.Resistance.Number, "self_discharge": b.Battery.SelfDischarge.Number,
		"quiescent": b.Converter.Quiescent.Number, "minimum_input": b.Converter.MinimumInput.Number, "dropout": b.Converter.Dropout.Number,
		"minimum_voltage": b.Load.MinimumVoltage.Number, "lost_counts": float64(b.Crystal.LostCounts),
		"reload": float64(b.Crystal.Reload), "drift": b.Rail.Drift.Number, "lamp pin_resistance": b.Lamps[0].PinResistance.Number,
	} {
		assert.Zero(t, v, name)
	}
	for name, v := range map[string]float64{
		"prescale": float64(h.Drive.Prescale), "crystal prescale": float64(b.Crystal.Prescale), "count": float64(b.Lamps[0].Count),
		"lit": b.Lamps[0].Lit.Number, "efficiency": b.Converter.Efficiency.Number, "coil_copper": h.Meter.CoilCopper.Number,
		"period": h.Meter.Period.Number,
	} {
		assert.Equal(t, 1.0, v, name)
	}
	assert.Equal(t, 1.2, h.Meter.Overload.Number)
	assert.Equal(t, 23.0, b.Rail.TrimmedAt.Number)
	assert.Equal(t, 3500.0, h.Drive.PinTempco.Number)
	assert.Equal(t, 24.0, b.Load.HoursOn.Number)
	assert.Equal(t, 16, b.Crystal.CounterBits)
	assert.Equal(t, []string{"12 h", "top", "none", "linear", "none", "nearest", "coil", "none", "moving coil", "left", "no", "pin", ""}, []string{
		h.Shows, h.Noon, h.Correct, h.Meter.LawInForce(), h.Meter.InternalKind, h.Drive.Rounding, h.Drive.CapacitorAt, b.Converter.Kind,
		h.Meter.Kind, h.Meter.ZeroAt, h.Meter.Glow, h.Drive.By, h.Meter.Removed})
	assert.False(t, b.Battery.ShelfLife.Given())
	assert.False(t, b.Rail.Maximum.Given())
	assert.False(t, h.Drive.Setting.Given())
}

// What the multimeter said may be a number; catalogue.md: a TOML number counts
// as bare.
func TestReadingAsNumber(t *testing.T) {
	b := soundBuild(t, with(t, "format = 1\nrail.voltage = 5\n[[reading]]\nat = 'rail.voltage'\nvalue = 4.9\n"))
	assert.Equal(t, []Reading{{At: "rail.voltage", Value: "4.9", Before: "no"}}, b.Readings)
}

// A closed case that was measured needs nothing of its movement; what was not measured needs
// the coil. Birthplace: the catalogue, "Absent means".
func TestClosedCaseNeedsNoCoil(t *testing.T) {
	text := testdata(t, "whole.toml")
	without := func(paths ...string) []string {
		changed := text
		for _, path := range paths {
			changed = with(t, changed, "hand.hours.meter."+path, "")
		}
		_, problems := Read(changed)
		var at []string
		for _, p := range problems {
			at = append(at, p.Path)
		}
		return at
	}
	coil, fullScale := "hand.hours.meter.coil", "hand.hours.meter.full_scale"
	assert.Empty(t, without("coil", "full_scale"))
	assert.Equal(t, []string{coil}, without("coil", "full_scale", "terminal_resistance"))
	assert.Equal(t, []string{fullScale}, without("full_scale", "terminal_full_scale"))
	assert.Equal(t, []string{coil, fullScale}, without("coil", "full_scale", "in_circuit"))
}
