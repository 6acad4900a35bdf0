package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// newBuild is a new build that has no problems, judged.
func newBuild(t require.TestingT, coil, fullScale, rail string) (string, *verdict) {
	text, problems := NewBuild(Meter{Coil: coil, FullScale: fullScale}, Supply{Rail: rail})
	require.Empty(t, modeltest.Messages(problems))
	r, problems := verdictOn(text)
	require.Empty(t, modeltest.Messages(problems))
	return text, r
}

// TestNewBuild: derived by hand: 5 V·240/256/500 µA − 640 Ω − 50 Ω = 8 685 Ω;
// below it of E24 8.2 kΩ, and 485 Ω of a trimmer are near the middle of 1 kΩ; 16 and
// 18 pF in series with the stray's 4 pF are 12.47 of 12.5 pF.
func TestNewBuild(t *testing.T) {
	text, r := newBuild(t, "640 Ω ±1 %", "500", "5 V")
	assert.InDelta(t, 8685, r.Plan.Hands[0].SeriesNeeded, 1e-9)
	assert.InDelta(t, 0.485, r.Plan.Hands[0].TrimmerTravel, 1e-12)
	assert.InDelta(t, 12.47e-12, r.Plan.Crystal.LoadActual, 0.005e-12)
	assert.LessOrEqual(t, r.Worst(), Warning)
	for _, f := range r.Findings {
		assert.True(t, f.Severity == Note || f.ID == "rail_drift", f) // 2 % are assumed of a step-up board
	}
	lines := linesOf(text)
	for _, want := range []string{
		`coil = "640 Ω ±1 %"`, // as typed, no comment
		// What an inexpensive multimeter is good for, its last digits counted: common practice, no source.
		`full_scale = "500 µA ±2 %" ± assumed`, `voltage = "5 V ±1 %" ± assumed`,
		`fixed = "8.2 kΩ ±1 %" suggested`, `trimmer = "1 kΩ ±10 %" suggested`, `capacitor_kind = "ceramic" suggested`,
		`capacitor_in = "16 pF ±5 %" suggested`, `capacitor_out = "18 pF ±5 %" suggested`,
		`class = "2.5 %" assumed`, `cells = 3 assumed`, `minimum_voltage = "2.3 V" assumed`,
	} {
		assert.Contains(t, lines, want)
	}
}

// TestNewBuildsCarryUnits: what a new build and a hand that is added write says its units,
// so that whoever reads the file need not know which a bare number is in.
func TestNewBuildsCarryUnits(t *testing.T) {
	text, problems := NewBuild(Meter{Coil: "640", FullScale: "500 ±2"}, Supply{Rail: "5"})
	require.Empty(t, problems)
	assert.Contains(t, text, `full_scale = "500 µA ±2 µA"`) // a bare tolerance is in that unit too
	d := model.Open(text)
	for _, list := range []string{"hand", "lamp", "drain", "button"} {
		var problem *model.Problem
		d, problem = d.Add(list, "another", -1)
		require.Nil(t, problem)
	}
	written := 0
	for _, f := range model.Builds.Fields {
		for i := range f.Of(d.Build) {
			given, ok := d.Given(f, i)
			if _, isQuantity := f.At(d.Build, i).(*quantity.Value); ok && isQuantity {
				assert.Equal(t, given, quantity.Complete(given, "", f.Unit), f.PathOf(d.Build, i))
				written++
			}
		}
	}
	assert.Greater(t, written, 50)
}

// TestNewBuildSaysWhatItAssumes: derived; all but words has a comment, of
// the readings their tolerance alone is assumed; all comments stand in one column, and the tables stand in the order
// of the examples.
func TestNewBuildSaysWhatItAssumes(t *testing.T) {
	text, _ := newBuild(t, "640", "500", "5")
	readings, unmarked := []string{"coil", "full_scale", "voltage"}, []string{"format", "title", "name"}
	columns, headers := map[int]bool{}, []string{}
	for i, line := range strings.Split(strings.TrimSuffix(text, "\n"), "\n") {
		key, _, isKey := strings.Cut(line, " = ")
		code, comment, marked := strings.Cut(line, "# ")
		switch {
		case strings.HasPrefix(line, "["):
			headers = append(headers, line)
			assert.Empty(t, strings.Split(text, "\n")[i-1], "a blank line before %s", line)
		case isKey && slices.Contains(unmarked, key):
			assert.False(t, marked, line)
		case isKey && slices.Contains(readings, key):
			assert.Equal(t, "± assumed", comment, line)
		case isKey:
			assert.Contains(t, []string{"assumed", "suggested"}, comment, line)
			columns[utf8.RuneCountInString(code)] = true
		default:
			assert.Empty(t, line)
		}
	}
	assert.Len(t, columns, 1)
	example := regexp.MustCompile(`(?m)^\[.*`).FindAllString(modeltest.Example("reading-room"), -1)
	lamp := slices.Index(example, "[[lamp]]")
	require.GreaterOrEqual(t, lamp, 0)
	assert.Equal(t, slices.Delete(example, lamp, lamp+1), headers, "no lamp unasked")
}

// TestNewBuildOfAnyMeter: derived; the new build of a sensible meter leaves no
// caution but three that no part can mend: a step-up board's assumed drift of 2 %; copper is more than 40 % of the whole chain
// where the coil takes more than that of the rail, and the pin's assumed 50 Ω are
// more than 3 % of it where the current is large for the rail.
func TestNewBuildOfAnyMeter(t *testing.T) {
	modeltest.Long(t)
	random := rand.New(rand.NewPCG(3, 2))
	clean := 0
	meters := modeltest.Sampled(t, 100)
	for range meters {
		rail := rounded(2.7 * math.Pow(2, random.Float64()))
		fullScale := rounded(30e-6 * math.Pow(2.5e-3/30e-6, random.Float64()))
		least, most := 0.021/fullScale, min(10e3, 0.49/fullScale) // 20 to 500 mV across it
		coil := rounded(least * math.Pow(most/least, random.Float64()))
		_, r := newBuild(t, fmt.Sprint(coil), fmt.Sprint(fullScale, " A"), fmt.Sprint(rail))
		unavoidable := map[string]bool{
			"coil_share": coil*fullScale > 0.4*rail,
			"pin_share":  50*fullScale > 0.03*rail,
			"rail_drift": true,
		}
		cautions := 0
		for _, f := range r.Findings {
			if f.Severity > Note {
				assert.True(t, unavoidable[f.ID], "%v Ω, %v A, %v V: %v", coil, fullScale, rail, f)
				cautions++
			}
		}
		if cautions <= 1 {
			clean++
		}
		assert.Empty(t, r.Better)
	}
	assert.Greater(t, clean, meters*9/10)
}

// TestNewBuildGrid: derived; from galvanometer to gauge everything reads, twice the
// same, and the only faults are those of physics: too little voltage, or more
// current than a pin gives.
func TestNewBuildGrid(t *testing.T) {
	modeltest.Long(t)
	checked := 0
	coils := []float64{0.5, 2, 5, 10, 47, 100, 270, 640, 1200, 2500, 5000}
	for _, rail := range []float64{3.0, 5} {
		for _, coil := range coils {
			for _, fullScale := range []float64{50e-6, 100e-6, 250e-6, 500e-6, 1e-3, 2e-3, 3e-3, 5e-3, 10e-3, 15e-3, 20e-3} {
				text, r := newBuild(t, fmt.Sprint(coil), fmt.Sprint(fullScale, " A"), fmt.Sprint(rail))
				where := fmt.Sprintf("%v Ω, %v A, %v V", coil, fullScale, rail)
				if coil == 640 {
					again, _ := NewBuild(Meter{Coil: fmt.Sprint(coil), FullScale: fmt.Sprint(fullScale, " A")}, Supply{Rail: fmt.Sprint(rail)})
					require.Equal(t, text, again)
				}
				enough := rail/fullScale - coil - 50 // with a pin that is always high
				forced := map[string]bool{
					"full_scale_reached": enough < 0,
					"pin_mean_current":   min(fullScale, rail/(coil+50)) > 10e-3,
					"pin_peak_current":   min(fullScale, rail/(coil+50)) > 10e-3/256*240,
				}
				for _, f := range r.Findings {
					if f.Severity == Fault {
						assert.True(t, forced[f.ID], "%s: %s: %s", where, f.ID, f.Text)
					}
				}
				if h := &r.Plan.Hands[0]; enough > 20 {
					checked++
					assert.True(t, 0.1 <= h.TrimmerTravel && h.TrimmerTravel <= 0.9, "%s: travel %v", where, h.TrimmerTravel)
				}
				assert.Less(t, r.Plan.Hands[0].RippleNeedle/720, 0.002, where)
			}
		}
	}
	assert.Greater(t, checked, 100)
}

// TestUsualBrownOut: common practice, no source: 2.3 V at 5 V parts, 1.8 V of
// low-voltage ones; where that is too near the rail nothing is said.
func TestUsualBrownOut(t *testing.T) {
	for rail, want := range map[string]string{"5": "2.3 V", "4": "2.3 V", "3.3": "1.8 V", "2": "1.8 V", "1.9": ""} {
		text, r := newBuild(t, "640", "500", rail)
		b := r.Build
		assert.Equal(t, want, map[bool]string{true: quantity.Format(b.Load.MinimumVoltage, quantity.Volts)}[b.Load.MinimumVoltage.Number > 0], rail)
		assert.Equal(t, want != "", strings.Contains(text, "minimum_voltage"), rail)
	}
}

// TestNewBuildWithBadReadings: derived; the text stands whatever was typed, and
// the problems are those of the readings alone.
func TestNewBuildWithBadReadings(t *testing.T) {
	text, problems := NewBuild(Meter{Coil: `6"40`}, Supply{Rail: "5 kg"})
	var paths []string
	for _, p := range problems {
		paths = append(paths, p.Path)
	}
	assert.ElementsMatch(t, []string{"hand.hours.meter.coil", "hand.hours.meter.full_scale", "rail.voltage"}, paths)
	assert.NotContains(t, text, "suggested")
	d := model.Open(text)
	given, _ := d.Given(model.Builds.Field("hand.meter.coil"), 0)
	assert.Equal(t, `6"40`, given, "what was typed is kept")
	mended := modeltest.With(t, text, "hand.hours.meter.coil", "640", "hand.hours.meter.full_scale", "500", "rail.voltage", "5")
	modeltest.Sound(t, mended)
}

// TestNewBuildOfAnUnknownMeter: what was not measured is usual and says so: 1 mA, and what
// 0.1 V over the full scale makes, to the nearest of E24 (common practice, no source); what
// was said of the meter stands as it was said.
func TestNewBuildOfAnUnknownMeter(t *testing.T) {
	for _, c := range []struct{ fullScale, coil, wantFullScale, wantCoil string }{
		{NotKnown, NotKnown, `full_scale = "1 mA" assumed`, `coil = "100 Ω" assumed`},
		{"250", NotKnown, `full_scale = "250 µA ±2 %" ± assumed`, `coil = "390 Ω" assumed`}, // 400 Ω
		{"50 µA ±1 %", NotKnown, `full_scale = "50 µA ±1 %"`, `coil = "2 kΩ" assumed`},
		{NotKnown, "75", `full_scale = "1 mA" assumed`, `coil = "75 Ω ±2 %" ± assumed`},
	} {
		text, problems := NewBuild(Meter{Origin: "mains", Removed: "unknown", Marked: "30 V~", FullScale: c.fullScale, Coil: c.coil}, Supply{Rail: "5 V"})
		require.Empty(t, modeltest.Messages(problems))
		lines := linesOf(text)
		assert.Subset(t, lines, []string{c.wantFullScale, c.wantCoil, `origin = "mains"`, `removed = "unknown"`, `marked = "30 V~"`})
		d := model.Open(text)
		assert.Equal(t, c.fullScale == NotKnown, d.Mark(model.Builds.Field("hand.meter.full_scale"), 0) == "assumed")
		assert.Equal(t, []string{"origin hours"}, faultIDs(t, d), "mains equipment kills")
	}
}

// TestUsualFullScaleIsWhatTheDialSays: a current on the dial that a pin drives, 10 µA to 20 mA,
// stands in for a full scale that is not known; volts, bare numbers, and what a shunt makes
// do not. The coil is 0.1 V over it, of E24. Derived by hand.
func TestUsualFullScaleIsWhatTheDialSays(t *testing.T) {
	for marked, want := range map[string][2]string{
		"0-500 uA": {"500 µA", "200 Ω"}, "0 – 500 µA": {"500 µA", "200 Ω"}, "500 microamps": {"500 µA", "200 Ω"}, "100-0-100 µA": {"100 µA", "1 kΩ"}, "5 mA": {"5 mA", "20 Ω"},
		"": {"1 mA", "100 Ω"}, "30 V": {"1 mA", "100 Ω"}, "0-100": {"1 mA", "100 Ω"}, "0-15 A": {"1 mA", "100 Ω"}, "0-": {"1 mA", "100 Ω"}, "-": {"1 mA", "100 Ω"}, "VU": {"1 mA", "100 Ω"},
	} {
		m := Meter{Marked: marked, FullScale: NotKnown, Coil: NotKnown}
		fullScale, coil := m.Usual()
		assert.Equal(t, want, [2]string{fullScale, coil}, marked)
		text, problems := NewBuild(m, Supply{Rail: "5 V"})
		require.Empty(t, modeltest.Messages(problems), marked)
		assert.Contains(t, linesOf(text), `full_scale = "`+want[0]+`" assumed`)
	}
}

// TestNewBuildOnAPlugInSupply: no cells, no converter, and no result of theirs; the rail is
// within 5 % (common practice, no source).
func TestNewBuildOnAPlugInSupply(t *testing.T) {
	text, problems := NewBuild(Meter{FullScale: "500", Coil: "640"}, Supply{Rail: PlugIn})
	require.Empty(t, modeltest.Messages(problems))
	assert.Subset(t, linesOf(text), []string{`voltage = "5 V ±5 %" assumed`, `cells = 0`, `kind = "none"`})
	for _, out := range []string{"cell =", "efficiency", "quiescent", "series_drop", "[[lamp]]"} {
		assert.NotContains(t, text, out)
	}
	v, _ := verdictOn(text)
	assert.Less(t, v.Worst(), Fault, "%v", v.Findings)
	for _, r := range circuit.Outcomes(&v.Plan) {
		assert.NotEqual(t, "battery", r.List(), r.ID)
	}
	assert.NotContains(t, modeltest.Texts(v.Build), "lamp.seconds.forward")
}

// TestNewBuildOnChosenCells: what was chosen stands unmarked, whatever parts are chosen
// then; what a converter usually is says that it is assumed.
func TestNewBuildOnChosenCells(t *testing.T) {
	for _, rail := range []string{"5", "3.3 V ±1 %", "3"} {
		for _, cell := range model.Builds.Field("battery.cell").Choices {
			for _, pack := range Packs(rail, cell) {
				text, problems := NewBuild(Meter{FullScale: "500", Coil: "640"}, Supply{Rail: rail, Pack: pack})
				require.Empty(t, modeltest.Messages(problems), "%v", pack)
				d := model.Open(text)
				assert.Equal(t, pack, Pack{d.Build.Battery.Cell, d.Build.Battery.Cells, d.Build.Converter.Kind}, rail)
				for _, path := range []string{"battery.cell", "battery.cells", "converter.kind"} {
					assert.Empty(t, d.Mark(model.Builds.Field(path), 0), "%s of %v", path, pack)
				}
				for _, path := range []string{"converter.efficiency", "converter.quiescent", "converter.minimum_input", "converter.dropout"} {
					given, ok := d.Given(model.Builds.Field(path), 0)
					assert.Equal(t, ok, d.Mark(model.Builds.Field(path), 0) == "assumed", "%s %s of %v", path, given, pack)
				}
			}
		}
	}
}

// TestPacks: derived from the cells' fresh voltages: of 1.59 V three are 4.77 V, four
// 6.36 V; of 1.8 V two are 3.6 V, within a tenth of 3.3 V; 9.54 V is far above 5 V.
func TestPacks(t *testing.T) {
	for _, c := range []struct {
		rail, cell string
		want       []Pack
	}{
		{"5 V ±1 %", "alkaline AA", []Pack{{"alkaline AA", 3, "boost"}, {"alkaline AA", 3, "none"}, {"alkaline AA", 4, "linear"}, {"alkaline AA", 2, "boost"}, {"alkaline AA", 1, "boost"}}},
		{"3.3", "lithium FeS2 AA", []Pack{{"lithium FeS2 AA", 2, "none"}, {"lithium FeS2 AA", 1, "boost"}, {"lithium FeS2 AA", 3, "linear"}, {"lithium FeS2 AA", 4, "linear"}}},
		{"5", "CR2032", []Pack{{"CR2032", 1, "boost"}}},
		{"3", "CR2032", []Pack{{"CR2032", 1, "none"}}},
		{"5", "alkaline 9 V block", []Pack{{"alkaline 9 V block", 1, "linear"}}},
		{"5 kg", "alkaline AA", nil}, {"5", "no such cell", nil},
	} {
		assert.Equal(t, c.want, Packs(c.rail, c.cell), "%s at %s", c.cell, c.rail)
	}
}

// linesOf are the lines of a text, each with its comment behind it.
func linesOf(text string) []string {
	lines := strings.Split(text, "\n")
	for k, line := range lines {
		code, comment, _ := strings.Cut(line, " #")
		lines[k] = strings.TrimSpace(code) + comment
	}
	return lines
}

// TestNewHandRaisesNoFault: a further hand of any example, for any dial, comes with parts
// that suit its meter: no fault more than the example has, and nothing is offered for it.
// The meters are what a pin of each example can drive.
func TestNewHandRaisesNoFault(t *testing.T) {
	meters := []Meter{
		{Origin: "salvaged", FullScale: NotKnown, Coil: NotKnown}, {Origin: "new", FullScale: "500", Coil: "200"},
		{FullScale: "50 µA", Coil: "2k"}, {FullScale: "2 mA", Coil: NotKnown},
	}
	for _, example := range []string{"reading-room", "station-platform", "harbour-office", "school-store"} {
		d := model.Open(modeltest.Example(example))
		before := faultIDs(t, d)
		for _, shows := range model.Builds.Field("hand.shows").Choices {
			for _, m := range meters {
				where := fmt.Sprint(example, shows, m)
				added, problem := NewHand(d, "further", shows, m)
				require.Nil(t, problem, where)
				assert.ElementsMatch(t, before, faultIDs(t, added), where)
				v, _ := verdictOn(added.Text)
				for _, s := range v.Better {
					assert.NotEqual(t, "further", s.About, "%s: %s", where, s.Text)
				}
				h := added.Build.Hands[len(added.Build.Hands)-1]
				assert.Equal(t, shows, h.Shows, where)
				assert.Positive(t, h.Drive.Fixed.Number, where)
				assert.InDelta(t, d.Build.Hands[0].Drive.Clock.Number, h.Drive.Clock.Number, 1e-9, "of the same controller")
			}
		}
	}
}

// faultIDs names the faults of a document.
func faultIDs(t *testing.T, d *model.Document) []string {
	t.Helper()
	v, problems := verdictOn(d.Text)
	require.Empty(t, modeltest.Messages(problems))
	var found []string
	for _, f := range v.Findings {
		if f.Severity == Fault {
			found = append(found, f.ID+" "+f.About)
		}
	}
	return found
}

// TestNewHandLeavesTheRest: the text around the hand is as it was, what is not known of it
// says so, and a name that will not do, or a text that cannot be read, is told.
func TestNewHandLeavesTheRest(t *testing.T) {
	d := model.Open(modeltest.Example("reading-room"))
	added, problem := NewHand(d, "minutes", "60 min", Meter{Marked: "1 mA", FullScale: NotKnown, Coil: NotKnown})
	require.Nil(t, problem)
	removed, problem := added.Remove("hand", 1)
	require.Nil(t, problem)
	assert.Equal(t, d.Text, removed.Text)
	assert.Equal(t, "assumed", added.Mark(model.Builds.Field("hand.meter.coil"), 1))
	assert.Equal(t, "suggested", added.Mark(model.Builds.Field("hand.drive.fixed"), 1))
	assert.Empty(t, added.Mark(model.Builds.Field("hand.shows"), 1), "it was said")
	assert.Equal(t, "1 mA", added.Build.Hands[1].Meter.Marked)
	for _, name := range []string{"hours", "No good"} {
		same, problem := NewHand(d, name, "60 min", Meter{FullScale: NotKnown, Coil: NotKnown})
		assert.NotNil(t, problem, name)
		assert.Same(t, d, same)
	}
	ill := d.Set(model.Builds.Field("rail.voltage"), 0, "5 kg")
	added, problem = NewHand(ill, "minutes", "60 min", Meter{FullScale: "500", Coil: "200"})
	require.Nil(t, problem)
	assert.Len(t, added.Build.Hands, 2)
	assert.Len(t, added.Problems, 1, "of the rail, as before")
}

// TestNewHandLikeAnother: all that is said of the meter of the other hand is said of this
// one, with its marks, but that it is out of its set, which is asked, and trimmed; its parts
// suit what it shows.
func TestNewHandLikeAnother(t *testing.T) {
	for _, example := range []string{"reading-room", "station-platform", "harbour-office", "school-store"} {
		text := modeltest.With(t, modeltest.Example(example), "hand.hours.meter.removed", "yes", "hand.hours.meter.trimmed_in_place", "yes", "hand.hours.meter.marked", "1 mA")
		text = strings.Replace(text, `marked = "1 mA"`, `marked = "1 mA" # assumed`, 1)
		d := model.Open(text)
		require.Equal(t, "hours", d.Build.Hands[0].Name)
		added, problem := NewHand(d, "further", "60 min", Meter{Like: "hours", Removed: "no", FullScale: NotKnown, Coil: NotKnown})
		require.Nil(t, problem)
		last := len(added.Build.Hands) - 1
		for _, f := range model.Builds.Fields {
			if !strings.HasPrefix(f.Path, "hand.meter.") {
				continue
			}
			was, _ := d.Given(f, 0)
			is, _ := added.Given(f, last)
			switch f.Path {
			case "hand.meter.removed":
				assert.Equal(t, "no", is)
			case "hand.meter.trimmed_in_place":
				assert.Empty(t, is)
			default:
				assert.Equal(t, was, is, "%s of %s", f.Path, example)
				assert.Equal(t, d.Mark(f, 0), added.Mark(f, last), "%s of %s", f.Path, example)
			}
		}
		assert.Empty(t, modeltest.Messages(added.Problems))
		assert.Equal(t, "60 min", added.Build.Hands[last].Shows)
		assert.Positive(t, added.Build.Hands[last].Drive.Fixed.Number)
	}
}

// TestFreshPackOfANewBuild: derived; a step-up's fresh pack stands clear below the
// rail, a regulator's above it.
func TestFreshPackOfANewBuild(t *testing.T) {
	for _, rail := range []string{"2.7", "3", "3.3", "3.6", "5"} {
		_, r := newBuild(t, "640", "500", rail)
		fresh := float64(r.Build.Battery.Cells) * r.Build.Battery.Curve[0].Rest
		if r.Build.Converter.Kind == "boost" {
			assert.Less(t, fresh, r.Build.Rail.Voltage.Number-0.2, rail)
		} else {
			assert.Greater(t, fresh, r.Build.Rail.Voltage.Number, rail)
		}
	}
}

func BenchmarkNewBuild(b *testing.B) {
	for b.Loop() {
		NewBuild(Meter{Coil: "640 Ω", FullScale: "500 µA"}, Supply{Rail: "5 V"})
	}
}
