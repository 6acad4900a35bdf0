package model

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// agreement is how near two computations of a result must be, relatively:
// closed forms, ripple, and what comes of a search or a quadrature.
//
// Birthplace: testdata/README.md.
func agreement(id string) float64 {
	switch last(id) {
	case "ripple_voltage_worst", "ripple_needle":
		return 1e-3
	case "needle_settling", "life_on", "life_standby", "life_mixed":
		return 1e-4
	}
	return 1e-6
}

func TestAgreementClasses(t *testing.T) {
	// Birthplace: testdata/README.md names the classes; which results are
	// ripple, lives and settling follows from catalogue.md. filter_settling is a
	// closed form there.
	want := map[float64][]string{
		1e-3: {"hand.ripple_voltage_worst", "hand.ripple_needle"},
		1e-4: {"hand.needle_settling", "battery.life_on", "battery.life_standby", "battery.life_mixed"},
	}
	got := map[float64][]string{}
	for _, r := range results {
		if class := agreement(r.ID); class > 1e-6 {
			got[class] = append(got[class], r.ID)
		}
	}
	assert.Equal(t, want, got)
}

// TestIndependentResults holds every result of two builds to an independent
// computation, testdata/README.md: by brute force, from the catalogue's words.
func TestIndependentResults(t *testing.T) {
	for _, name := range []string{"public-1", "public-2"} {
		t.Run(name, func(t *testing.T) {
			var independent struct{ Results map[string]float64 }
			require.NoError(t, json.Unmarshal([]byte(testdata(t, name+".json")), &independent))
			require.NotEmpty(t, independent.Results)
			b, p := soundPlan(t, testdata(t, name+".toml"))
			rows := byID(t, b, p)
			for id, want := range independent.Results {
				row, there := rows[id]
				if !assert.True(t, there, "%s is missing", id) {
					continue
				}
				assert.True(t, near(row.Value, want, agreement(id)) || negligible(id, row.Value, want),
					"%s: got %v, independently %v", id, row.Value, want)
			}
			for id := range rows {
				if !ownResults(t)[last(id)] {
					assert.Contains(t, independent.Results, id, "a result that the build should not have")
				}
			}
		})
	}
}

// ownResults are the last parts of the ids that catalogue.md defines as results of
// this project: the two builds were computed without them.
func ownResults(t *testing.T) map[string]bool {
	text, err := os.ReadFile("catalogue.md")
	require.NoError(t, err)
	_, section, found := strings.Cut(string(text), "### Results of this project")
	require.True(t, found)
	section, _, _ = strings.Cut(section, "## Bands")
	own := map[string]bool{}
	for _, id := range regexp.MustCompile("`[^` ]*\\.([a-z_]+)`").FindAllStringSubmatch(section, -1) {
		own[id[1]] = true
	}
	require.Greater(t, len(own), 30)
	return own
}

// TestEffects holds every result of four builds with small effects to an
// independent computation: testdata/README.md says how each was computed. What it
// is good for there is asked here, tenfold.
func TestEffects(t *testing.T) {
	for _, name := range []string{"effects-1", "effects-2", "effects-3", "effects-4"} {
		t.Run(name, func(t *testing.T) {
			var independent struct{ Results map[string]float64 }
			require.NoError(t, json.Unmarshal([]byte(testdata(t, name+".json")), &independent))
			b, p := soundPlan(t, testdata(t, name+".toml"))
			rows := byID(t, b, p)
			require.Len(t, rows, len(independent.Results))
			for id, want := range independent.Results {
				tolerance := 1e-8
				switch last(id) {
				case "pin_bend", "diode_bend":
					tolerance = 1e-7
				case "ripple_needle", "ripple_voltage_worst":
					tolerance = 1e-5
				}
				assert.True(t, near(rows[id].Value, want, tolerance), "%s: got %v, independently %v", id, rows[id].Value, want)
			}
		})
	}
}

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

// negligible passes a ripple of the needle below 1e-9 min, which catalogue.md
// lets be anything down to 0.
func negligible(id string, got, want float64) bool {
	return strings.HasSuffix(id, ".ripple_needle") && want < 1e-9 && got >= 0 && got < 1e-9
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
	assert.Equal(t, []Reading{{At: "battery.current_off", Value: "5 µA"}}, b.Readings)
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
		"overshoot": h.Meter.Overshoot.Number, "movement_tempco": h.Meter.MovementTempco.Number,
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
	assert.Equal(t, 24.0, b.Load.HoursOn.Number)
	assert.Equal(t, 16, b.Crystal.CounterBits)
	assert.Equal(t, []string{"12 h", "top", "none", "linear", "none", "nearest", "coil", "none"}, []string{
		h.Shows, h.Noon, h.Correct, h.Meter.Law, h.Meter.InternalKind, h.Drive.Rounding, h.Drive.CapacitorAt, b.Converter.Kind})
	assert.False(t, b.Battery.ShelfLife.Given())
	assert.False(t, b.Rail.Maximum.Given())
	assert.False(t, h.Drive.Setting.Given())
}

// What the multimeter said may be a number; catalogue.md: a TOML number counts
// as bare.
func TestReadingAsNumber(t *testing.T) {
	b := soundBuild(t, with(t, "format = 1\nrail.voltage = 5\n[[reading]]\nat = 'rail.voltage'\nvalue = 4.9\n"))
	assert.Equal(t, []Reading{{At: "rail.voltage", Value: "4.9"}}, b.Readings)
}
