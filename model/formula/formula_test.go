package formula

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

func TestEvaluator(t *testing.T) {
	s := Symbols{"a": 3.0, "ω_n": 2.0, "twice": func(x float64) float64 { return 2 * x }}
	for text, want := range map[string]float64{ // derived
		"1 + 2·a": 7, "−a²": -9, "(−a)²": 9, "10^−2·a": 0.03, "a/2/3": 0.5, "2^a − 1": 7, "1 − 2 − 3": -4,
		"twice(a + 1)·ω_n": 16, "0.0864": 0.0864, "1/(2·ω_n)": 0.25,
	} {
		got, err := Value(text, s)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 1e-15, text)
	}
	for _, text := range []string{"", "a +", "b", "(a", "a a", "a)", "twice(1, 2)", "a*a", "a-a"} {
		_, err := Value(text, s)
		assert.Error(t, err, text)
	}
}

// formulaBuilds are builds of our own that between them have every result and
// every variant of a formula.
func formulaBuilds(t *testing.T) map[string]string {
	builds := map[string]string{}
	for _, name := range []string{"public-1.toml", "public-2.toml", "whole.toml", "three-hands.toml", "bare-cells.toml"} {
		builds[name] = modeltest.Text(t, name)
	}
	whole := builds["whole.toml"]
	builds["whole, trimmed, straight"] = modeltest.With(t, whole, "hand.hours.drive.setting", "", "hand.hours.correct", "codes", "hand.hours.drive.rounding", "nearest")
	builds["whole, not measured, room around turnover"] = modeltest.With(t, whole, "crystal.measured", "", "crystal.tick_counted", "", "crystal.room_high", "31 °C")
	builds["whole, measured on the day of trimming"] = modeltest.With(t, whole, "crystal.measured_at", "")
	builds["one, odd counts"] = modeltest.With(t, builds["public-1.toml"], "hand.hours.drive.counts", "255")
	builds["one, held trimmer"] = modeltest.With(t, builds["public-1.toml"], "hand.hours.drive.fixed", "20 kΩ", "load.hours_on", "0 h")
	builds["one, drowsy"] = modeltest.With(t, builds["public-1.toml"], "hand.hours.meter.damping", "1", "hand.hours.drive.capacitor_at", "coil", "battery.cells", "4")
	builds["whole, trimmed in place"] = modeltest.With(t, whole, "hand.hours.meter.trimmed_in_place", "yes")
	lamp := "\n[[lamp]]\nname = \"seconds\"\nforward = \"1.8 V\"\nresistor = \"470 Ω\"\nlit = \"50 %\"\n[[drain]]\nname = \"divider\"\non = \"7 µA\"\noff = \"3 µA\"\nfrom = \"pack\"\n"
	builds["bare cells, a lamp, held"] = modeltest.With(t, builds["bare-cells.toml"]+lamp, "rail.capacitor", "470 µF", "battery.resistance", "0.4 Ω", "battery.cutoff", "1.1 V")
	builds["bare cells, a diode"] = modeltest.With(t, builds["bare cells, a lamp, held"], "battery.series_drop", "0.1 V")
	return builds
}

// TestFormulas evaluates the text of every row with what the BUILD says, and
// must reach the plan: the formula shown to people is the formula computed.
func TestFormulas(t *testing.T) {
	checked := map[string]int{}
	for name, text := range formulaBuilds(t) {
		t.Run(name, func(t *testing.T) {
			b, p := soundPlan(t, text)
			for _, row := range circuit.Outcomes(p) {
				text, kind := row.Formula, row.ID
				if row.OfHand() && b.Hands[row.Index].Drive.Capacitor.Number == 0 && row.Bare != "" {
					text, kind = row.Bare, row.ID+", bare"
				}
				got, err := Value(text, Of(b, p, row.Result, row.Index))
				require.NoError(t, err, row.ID)
				assert.True(t, modeltest.Near(got, row.Value, 1e-12), "%s: %s = %v, but the plan has %v", row.IDOf(b, row.Index), text, got, row.Value)
				checked[kind]++
			}
		})
	}
	for _, r := range circuit.Results {
		assert.Positive(t, checked[r.ID], "%s is in no build", r.ID)
		if r.Bare != "" {
			assert.Positive(t, checked[r.ID+", bare"], "%s without a capacitor is in no build", r.ID)
		}
	}
}

// Texts of what is at an end: no load capacitors, nothing that draws asleep, a shunt that is
// left inside.
func TestFormulasAtEnds(t *testing.T) {
	whole := modeltest.Example("reading-room")
	for _, text := range []string{
		modeltest.With(t, whole, "crystal.capacitor_in", "0", "crystal.capacitor_out", ""),
		modeltest.With(t, whole, "crystal.capacitor_in", "0", "crystal.capacitor_out", "0"),
		modeltest.With(t, whole, "load.controller_off", "0"),
		modeltest.With(t, whole, "hand.hours.meter.internal", "500 Ω", "hand.hours.meter.internal_kind", "shunt", "hand.hours.meter.in_circuit", "yes"),
	} {
		b, p := soundPlan(t, text)
		for _, row := range circuit.Outcomes(p) {
			if row.OfHand() {
				continue
			}
			got, err := Value(row.Formula, Of(b, p, row.Result, row.Index))
			require.NoError(t, err, row.ID)
			assert.True(t, modeltest.Near(got, row.Value, 1e-12), "%s: %s = %v, but the plan has %v", row.ID, row.Formula, got, row.Value)
		}
	}
}

// soundPlan evaluates a text that has no problems.
func soundPlan(t testing.TB, text string) (*model.Build, *circuit.Plan) {
	t.Helper()
	b := modeltest.Sound(t, text)
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return b, p
}
