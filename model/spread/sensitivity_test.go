package spread

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// recompute is a sensitivity by changes of the text, as --set makes them.
func recompute(t *testing.T, text string, r *solved, row Row, s Sensitivity) float64 {
	t.Helper()
	value := func(given string) (x float64, allowed bool) {
		changed, problem := model.Set(text, s.Path(r.Build), given)
		require.Nil(t, problem)
		if s.Field.Path == "battery.resistance" { // which the built-in cell's end would not stay beside
			changed = modeltest.With(t, changed, "battery.resistance_end", quantity.Format(r.Build.Battery.ResistanceEnd, quantity.Ohms))
		}
		b, problems := model.Read(changed)
		if len(problems) > 0 {
			return 0, false
		}
		var p circuit.Plan
		circuit.Evaluate(b, &p)
		return *row.At(&p, row.Index), true
	}
	between := func(low, high string) (by float64, allowed bool) {
		a, allowedA := value(low)
		b, allowedB := value(high)
		return b - a, allowedA && allowedB
	}
	n, counted := s.Field.At(r.Build, s.Index).(*int)
	if counted {
		less, middle, more := strconv.Itoa(*n-1), strconv.Itoa(*n), strconv.Itoa(*n+1)
		for _, ends := range [][2]string{{middle, more}, {less, middle}} {
			if by, allowed := between(ends[0], ends[1]); allowed {
				return by
			}
		}
		assert.Fail(t, "no step is allowed", s.Path(r.Build))
	}
	v := *s.Field.At(r.Build, s.Index).(*quantity.Value)
	at := func(x float64) string {
		y := v // with its tolerance
		y.Number = x
		return quantity.Format(y, s.Field.Unit)
	}
	if next, ok := strings.CutPrefix(s.Step, "to "); ok {
		by, allowed := between(at(v.Number), at(quantity.MustParse(next, s.Field.Unit).Number))
		assert.True(t, allowed, "%s %s", s.Path(r.Build), s.Step)
		return by
	}
	half := v
	if ppm, ok := strings.CutSuffix(s.Step, " ppm"); ok && s.Field.Unit != quantity.PPM {
		tolerance, err := strconv.ParseFloat(strings.TrimPrefix(ppm, "±"), 64)
		require.NoError(t, err)
		half = quantity.Value{Number: v.Number, Tolerance: tolerance / 1e6, Share: true}
	}
	by, allowed := between(at(half.Low()), at(half.High()))
	assert.True(t, allowed, "%s %s", s.Path(r.Build), s.Step)
	return by / 2
}

// Independent: the same change made in the text, read and evaluated.
func TestSensitivitiesByTheText(t *testing.T) {
	for _, name := range []string{"reading-room", "school-store"} {
		text := modeltest.Example(name)
		r := solvedOf(modeltest.Sound(t, text))
		for _, row := range r.Results {
			for _, s := range r.Sensitivities(row) {
				want := recompute(t, text, r, row, s)
				assert.InDelta(t, want, s.By, 1e-9*math.Abs(row.Value)+1e-6*math.Abs(want), "%s: %s by %s of %s", name, row.ID, s.Step, s.Path(r.Build))
			}
		}
	}
}

// By hand, for the first example: 640 Ω at 500 µA from 240/256 of 5 V.
func TestSensitivitiesOfSeriesNeeded(t *testing.T) {
	r := exampleBanded(t, "reading-room")
	for _, row := range r.Results {
		if row.ID != "hand.series_needed" {
			continue
		}
		type line struct {
			path, step string
			by         float64
		}
		var got []line
		for _, s := range r.Sensitivities(row) {
			got = append(got, line{s.Path(r.Build), s.Step, math.Round(1000*s.By) / 1000})
		}
		// 9375 Ω = top_voltage/I_fs: 1 % of it is 93.75 Ω, of the rail; half of 1/0.99 - 1/1.01 for the full scale; a code of 240 is
		// 1/240 of it, and one count more of 256 leaves 256/257; coil and pin 1 % of 640 and 30 % of 50 Ω; 10 Ω is the least resistor.
		assert.Equal(t, []line{
			{"hand.hours.meter.full_scale", "±1 %", -93.759}, {"rail.voltage", "±1 %", 93.75},
			{"hand.hours.drive.top", "1", 39.063}, {"hand.hours.drive.counts", "1", -36.479},
			{"hand.hours.drive.pin_resistance", "±30 %", -15}, {"hand.hours.drive.stage", "to 10 Ω", -10}, {"hand.hours.meter.coil", "±1 %", -6.4},
		}, got)
	}
}

// Each by its ±, or its next value; what makes the time by what a crystal is off. By 1 % of a
// crystal a clock would gain 864 s a day: derived.
func TestSensitivitySteps(t *testing.T) {
	steps := map[string]string{}
	r := solvedOf(modeltest.Sound(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.stop", "0 %")))
	for _, row := range r.Results {
		for _, s := range r.Sensitivities(row) {
			steps[s.Field.Path] = s.Step
		}
	}
	for path, step := range map[string]string{
		"rail.trimmed_at": "to 22 °C", "crystal.room_low": "to 15 °C", "crystal.tolerance": "to 21 ppm", "hand.drive.resistor_tempco": "to 110 ppm/K",
		"hand.meter.stop": "to 0.1 %", "hand.drive.stage": "to 10 Ω", "crystal.frequency": "±20 ppm", "hand.drive.prescale": "1", "converter.efficiency": "±5 %",
		"hand.meter.coil": "±1 %",
	} {
		assert.Equal(t, step, steps[path], path)
	}
	for _, row := range r.Results {
		if row.ID != "crystal.rate" {
			continue
		}
		for _, s := range r.Sensitivities(row) {
			assert.Less(t, math.Abs(s.By), 10.0, "%s by %s of %s", row.ID, s.Step, s.Field.Path)
		}
	}
}

// What cannot be below zero is not: of a crystal for 4 pF the stray of 3 pF ±1.9 pF may leave
// less than nothing for capacitors. Derived.
func TestNoCapacitorBelowZero(t *testing.T) {
	r := solvedOf(modeltest.Sound(t, modeltest.With(t, modeltest.Example("reading-room"), "crystal.load", "4 pF", "crystal.stray", "3 pF ±1.9 pF")))
	found := false
	for _, row := range Spread(r.Build, &r.Plan) {
		if row.ID == "crystal.capacitor_each" {
			found = true
			assert.Zero(t, row.Band.Low)
			assert.Zero(t, row.Band.WorstLow)
			assert.InDelta(t, 2e-12, row.Value, 1e-18)
			assert.Greater(t, row.Band.High, 5e-12)
		}
	}
	assert.True(t, found)
}
