package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// withoutSource switches one source of the first hand off in the text of a build;
// its name is hours.
func withoutSource(t testing.TB, id, text string) string {
	b, p := soundPlan(t, text)
	h, d := &b.Hands[0], &b.Hands[0].Drive
	off := map[string][]string{
		"class":       {"hand.hours.meter.class", ""},
		"scale":       {"hand.hours.meter.law", "linear"},
		"rail":        {"rail.drift", "0 %"},
		"fade":        {"load.minimum_voltage", texted(b, "rail.voltage"), "rail.drift", "0 %"},
		"fresh":       {"battery.curve", "[[0, 0.1], [100, 0.1]]"},
		"temperature": {"hand.hours.drive.resistor_tempco", "0 ppm/K", "hand.hours.drive.pin_tempco", "0 ppm/K", "hand.hours.meter.coil_copper", "0 %", "hand.hours.meter.movement_tempco", "0 ppm/K"},
		"movement":    {"hand.hours.meter.movement_tempco", "0 ppm/K"},
		"trim":        {"hand.hours.drive.trimmer_turns", ""},
		"leak":        {"hand.hours.drive.capacitor_kind", "film"},
		"friction":    {"hand.hours.meter.stick", "0 %"},
		"zero":        {"hand.hours.meter.zero_offset", "0 %"},
		"mounting":    {"hand.hours.meter.panel", "", "hand.hours.meter.position", ""},
		"settling":    {"hand.hours.meter.period", "0.1 s", "hand.hours.drive.clock", "500 MHz"},
		"pin_bend":    {"hand.hours.drive.pin_low", ""},
		"diode_bend":  {"hand.hours.meter.diodes", "none"},
		"drift":       {"crystal.measured", texted(b, "crystal.frequency"), "crystal.ageing", "0 ppm", "crystal.curvature", "0 ppm/K²", "crystal.lost_counts", "0", "crystal.tick_counted", ""},
		"ripple":      {"hand.hours.meter.period", "20 s", "hand.hours.meter.overshoot", "0 %"},
		"law_ripple":  {"hand.hours.drive.capacitor", "10 mF"},
	}[id]
	switch {
	case id == "ripple" && h.Shows == "60 s": // a slow one would not settle
		off = []string{"hand.hours.drive.clock", "500 MHz"}
	case id == "law_ripple" && d.Capacitor.Number == 0:
		off = append(off, "hand.hours.drive.capacitor_kind", "film", "hand.hours.drive.pin_low", "", "hand.hours.meter.diodes", "none")
	case id == "full_scale": // the trimmer at its middle
		off = []string{"hand.hours.drive.setting", "", "hand.hours.drive.fixed", modeltest.ValueText(p.Hands[0].SeriesNeeded-d.Trimmer.Number/2, quantity.Ohms)}
	case id == "coding": // as many more codes as the clock can be faster
		k := min(65536/d.Counts, int(500e6/d.Clock.Number))
		off = []string{
			"hand.hours.drive.counts", fmt.Sprint(k * d.Counts), "hand.hours.drive.top", fmt.Sprint(k * d.Top),
			"hand.hours.drive.clock", modeltest.ValueText(float64(k)*d.Clock.Number, quantity.Hertz),
		}
	}
	if id == "scale" && len(h.Scale) > 0 { // its rows go, and with them the class comes back
		off = append(off, "hand.hours.meter.class", "")
		for range h.Scale {
			d, problem := model.Open(text).Remove("hand.scale", 0)
			require.Nil(t, problem)
			text = d.Text
		}
	}
	require.NotNil(t, off, id)
	return modeltest.With(t, text, off...)
}

// texted is the text of a field without its tolerance.
func texted(b *model.Build, path string) string {
	return model.NominalText(model.Builds.Field(path).Text(b, 0))
}

// assertBlames holds the row without which a budget is least to brute force: each source
// is switched off in the text, and that whose absence leaves least is to blame.
func assertBlames(t testing.TB, name, text string) (id string) {
	if b := modeltest.Sound(t, text); !b.Hands[0].Meter.MovementTempco.Given() { // else it would go with the class
		text = modeltest.With(t, text, "hand.hours.meter.movement_tempco", "0 ppm/K")
	}
	r := verdictOf(modeltest.Sound(t, text))
	b := r.Budget(0, AfterMonth)
	falls, first, most := map[string]float64{}, "", 0.0
	blamed := ""
	for k := range b.Rows {
		row := &b.Rows[k]
		left := verdictOf(modeltest.Sound(t, withoutSource(t, row.ID, text))).Budget(0, AfterMonth)
		assert.LessOrEqual(t, left.amounts()[row.ID], 0.05*row.Amount, "%s: %s is switched off", name, row.ID)
		if falls[row.ID] = b.RSS - left.RSS; blamed == "" || falls[row.ID] > falls[blamed] {
			blamed = row.ID
		}
		if gone := b.RSS - math.Sqrt(likelyOf(r, &b, row)); first == "" || gone > most {
			first, most = row.ID, gone
		}
	}
	if falls[first] < 0.99*falls[blamed] { // else they are as bad as one another
		assert.Equal(t, blamed, first, "%s\n%v\n%v", name, falls, b.amounts())
	}
	return first
}

// TestBudgetBlames: an independent computation, brute force.
func TestBudgetBlames(t *testing.T) {
	modeltest.Long(t)
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	for _, f := range files {
		assertBlames(t, f, modeltest.FileText(f))
	}
	seen := map[string]int{}
	random := rand.New(rand.NewPCG(5, 2))
	for range modeltest.Sampled(t, 36) {
		text := randomErrors(t, random)
		seen[assertBlames(t, text, text)]++
	}
	assert.Greater(t, len(seen), 10, "many things are to blame: %v", seen)
}

// randomErrors is the text of a build around a random meter that reads wrong for
// random reasons.
func randomErrors(t testing.TB, r *rand.Rand) string {
	text := model.Builds.NewText(litTables, randomValues(r))
	text = modeltest.With(t, text, "hand.hours.meter.law", "linear")
	pick := func(path string, values ...string) { text = modeltest.With(t, text, path, values[r.IntN(len(values))]) }
	pick("hand.hours.meter.class", "", "0.2 %", "0.5 %", "2.5 %")
	pick("rail.drift", "0 %", "0.1 %", "0.5 %", "3 %")
	pick("hand.hours.meter.stick", "0 %", "0.1 %", "0.5 %", "3 %")
	pick("hand.hours.meter.zero_offset", "0 %", "0.2 %", "-0.5 %", "3 %")
	pick("hand.hours.drive.resistor_tempco", "0 ppm/K", "50 ppm/K", "1000 ppm/K")
	pick("hand.hours.meter.coil_copper", "0 %", "50 %", "100 %")
	pick("hand.hours.meter.movement_tempco", "0 ppm/K", "200 ppm/K", "-2000 ppm/K")
	pick("hand.hours.drive.capacitor", "0 F", "0 F", "1 µF", "47 µF")
	pick("hand.hours.drive.capacitor_kind", "film", "film", "film", "electrolytic")
	pick("hand.hours.drive.capacitor_at", "coil", "stage")
	pick("hand.hours.drive.rounding", "nearest", "down")
	pick("hand.hours.drive.clock", "1 MHz", "4 MHz", "16 MHz")
	pick("hand.hours.drive.prescale", "1", "8", "64")
	pick("hand.hours.meter.diodes", "none", "none", "silicon")
	pick("converter.kind", "boost", "linear", "none")
	pick("crystal.measured", "", "32.768 kHz", "32.76812 kHz")
	pick("crystal.lost_counts", "0", "0", "0", "1")
	pick("load.minimum_voltage", "1.5 V", "1.8 V")
	if r.IntN(3) == 0 {
		text = modeltest.With(t, text, "hand.hours.drive.pin_high", "140 Ω", "hand.hours.drive.pin_low", "40 Ω")
	}
	if r.IntN(6) == 0 {
		text = modeltest.With(t, text, "hand.hours.meter.panel_for", "steel", "hand.hours.meter.panel", "not steel")
	}
	if b := modeltest.Sound(t, text); b.Hands[0].Shows != "60 s" && r.IntN(3) == 0 {
		text = modeltest.With(t, text, "hand.hours.meter.law", "square", "hand.hours.correct", []string{"codes", "dial"}[r.IntN(2)])
	}
	return withSeries(t, r, text)
}

// withSeries puts in series parts that suit, or that hardly do.
func withSeries(t testing.TB, r *rand.Rand, text string) string {
	_, p := soundPlan(t, text)
	needed := p.Hands[0].SeriesNeeded
	if needed <= 0 {
		text = modeltest.With(t, text, "hand.hours.meter.full_scale", "500 µA", "hand.hours.meter.coil", "300 Ω")
		_, p = soundPlan(t, text)
		needed = p.Hands[0].SeriesNeeded
	}
	trimmer := rounded(needed * (0.05 + 0.4*r.Float64()))
	off := 1.0
	if r.IntN(8) == 0 {
		off = 1.2
	}
	return modeltest.With(t, text, "hand.hours.drive.trimmer", modeltest.ValueText(trimmer, quantity.Ohms),
		"hand.hours.drive.fixed", modeltest.ValueText(rounded(off*(needed-trimmer/2)), quantity.Ohms))
}

func BenchmarkBudget(b *testing.B) {
	for _, name := range []string{"reading-room", "station-platform"} {
		r := verdictOf(modeltest.Sound(b, modeltest.Example(name)))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				for i := range r.Build.Hands {
					r.Budget(i, AfterMonth)
				}
			}
		})
	}
}
