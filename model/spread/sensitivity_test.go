package spread

import (
	"math"
	"strconv"
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
	var low, middle, high, less, more string
	switch v := s.Field.At(r.Build, s.Index).(type) {
	case *int:
		less, middle, more = strconv.Itoa(*v-1), strconv.Itoa(*v), strconv.Itoa(*v+1)
		low, high = middle, more
	case *quantity.Value:
		step := 0.01 * v.Number
		switch s.Step {
		case "1 %":
		case "1 point":
			step = 0.01
		default:
			step = quantity.MustParse(s.Step, s.Field.Unit).Number
		}
		at := func(steps float64) string {
			y := *v
			y.Number += steps * step
			return quantity.Format(y, s.Field.Unit)
		}
		less, low, middle, high, more = at(-1), at(-0.5), at(0), at(0.5), at(1)
	}
	for _, ends := range [][2]string{{low, high}, {middle, more}, {less, middle}} {
		if by, allowed := between(ends[0], ends[1]); allowed {
			return by
		}
	}
	assert.Fail(t, "no step is allowed", s.Path(r.Build))
	return math.NaN()
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
		// 9375 Ω = top_voltage/I_fs, 1 % of it is 93.75 Ω; a code of 240 is 1/240 of it, and
		// one count more of 256 leaves 256/257; coil and pin 1 % of 640 and of 50 Ω.
		assert.Equal(t, []line{
			{"hand.hours.meter.full_scale", "1 %", -93.752}, {"rail.voltage", "1 %", 93.75},
			{"hand.hours.drive.top", "1", 39.063}, {"hand.hours.drive.counts", "1", -36.479},
			{"hand.hours.meter.coil", "1 %", -6.4}, {"hand.hours.drive.stage", "1 Ω", -1}, {"hand.hours.drive.pin_resistance", "1 %", -0.5},
		}, got)
	}
}

// Of a temperature, of parts per million and of 0 a share says nothing.
func TestSensitivitySteps(t *testing.T) {
	steps := map[string]string{}
	r := solvedOf(modeltest.Sound(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.stop", "0 %")))
	for _, row := range r.Results {
		for _, s := range r.Sensitivities(row) {
			steps[s.Field.Path] = s.Step
		}
	}
	for path, step := range map[string]string{
		"rail.trimmed_at": "1 °C", "crystal.room_low": "1 °C", "crystal.tolerance": "1 ppm", "hand.drive.resistor_tempco": "1 ppm/K",
		"hand.meter.stop": "1 point", "hand.drive.stage": "1 Ω", "crystal.frequency": "1 %", "hand.drive.prescale": "1", "converter.efficiency": "1 %",
	} {
		assert.Equal(t, step, steps[path], path)
	}
}
