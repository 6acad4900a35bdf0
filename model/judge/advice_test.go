package judge

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// casesTexts are the builds of all cases, each once, and those of testdata, some
// of which have several hands.
func casesTexts(t *testing.T) []string {
	var texts []string
	for k := range ruleCases {
		c := &ruleCases[k]
		texts = append(texts, c.text(t, c.beyond), c.text(t, c.inside))
	}
	for _, name := range []string{"public-1", "public-2", "bare-cells", "three-hands", "whole"} {
		texts = append(texts, modeltest.Text(t, name+".toml"))
	}
	slices.Sort(texts)
	return slices.Compact(texts)
}

// TestAdviceComesTrue: a law. What a finding's advice promises is what the build
// with its changes made in the text gives: the figure it says, the finding gone or
// milder, and no worse harm elsewhere.
func TestAdviceComesTrue(t *testing.T) {
	modeltest.Long(t)
	mended := map[string]bool{}
	for _, text := range casesTexts(t) {
		j := judgedText(t, text)
		var present score
		for _, g := range j.all {
			present.add(g.severity)
		}
		for k, f := range j.findings {
			if len(f.Changes) == 0 {
				assert.NotContains(t, f.Advice, "→", f.ID)
				continue
			}
			assertComesTrue(t, j, k, present)
			mended[f.ID] = true
		}
	}
	for _, r := range rules {
		if r.offer != nil {
			assert.True(t, mended[r.id], "no case in which %s offers a change", r.id)
		}
	}
}

// assertComesTrue makes the changes of the k-th finding in the text.
func assertComesTrue(t *testing.T, j *judged, k int, present score) {
	t.Helper()
	f, g := j.findings[k], j.all[k]
	made := model.Open(j.text).Make(f.Changes)
	require.Empty(t, modeltest.Messages(made.Problems), "%s: %s", f, f.Advice)
	p := new(circuit.Plan)
	circuit.Evaluate(made.Build, p)
	severity, x := g.rule.grade(subject{made.Build, p, g.i})
	assert.Less(t, severity, f.Severity, "%s: %s", f, f.Advice)
	if g.rule.called != "" {
		advice, _, _ := strings.Cut(f.Advice, " Worse: ")
		assert.True(t, strings.HasSuffix(advice, ": "+g.rule.called+" "+figureText(g.x, g.rule.unit)+" → "+figureText(x, g.rule.unit)+"."),
			"%s: %s, but now it is %s", f, f.Advice, figureText(x, g.rule.unit))
	}
	var after score
	for _, g := range gradeAll(made.Build, p) {
		after.add(g.severity)
	}
	assert.False(t, present.less(after), "%s: %s does harm: %v, before %v", f, f.Advice, after, present)
}

// TestChangesInMemory: a law. Whatever may be offered in a case gives one build
// and one plan, in memory and by way of the text.
func TestChangesInMemory(t *testing.T) {
	modeltest.Long(t)
	kinds := map[string]bool{}
	for _, text := range casesTexts(t) {
		d, j := model.Open(text), judgedText(t, text)
		offers := map[string][]model.Change{}
		for _, s := range j.better {
			offers[model.ChangesText(j.b, s.Changes)] = s.Changes
			kinds[s.ID] = true
		}
		for _, g := range j.all {
			for _, changes := range g.rule.offers(subject{j.b, j.p, g.i}, j.better) {
				offers[model.ChangesText(j.b, changes)] = changes
			}
		}
		for _, changes := range offers {
			assertSameInMemory(t, d, changes)
		}
	}
	for _, part := range parts {
		assert.True(t, kinds[part.id], "no case in which the part %s is suggested", part.id)
	}
}

// TestOptionsInMemory is the law above, of all that can be chosen for public-1.
func TestOptionsInMemory(t *testing.T) {
	d := model.Open(caseText(t))
	r := verdictOf(d.Build)
	for _, f := range model.Builds.Fields {
		for i := range f.Of(d.Build) {
			_, _, options := r.Options(f, i)
			for _, o := range options {
				assertSameInMemory(t, d, o.Changes)
			}
		}
	}
}

func assertSameInMemory(t *testing.T, d *model.Document, changes []model.Change) {
	t.Helper()
	made := d.Make(changes)
	name := model.ChangesText(d.Build, changes)
	require.Empty(t, modeltest.Messages(made.Problems), name)
	memory := d.Build.Changed(changes)
	assert.Equal(t, modeltest.Texts(made.Build), modeltest.Texts(memory), name)
	assert.Equal(t, resultsOf(made.Build), resultsOf(memory), name)
}

// resultsOf are all results of a build by their ids, exactly.
func resultsOf(b *model.Build) map[string]float64 {
	p, results := new(circuit.Plan), map[string]float64{}
	circuit.Evaluate(b, p)
	for _, r := range circuit.Outcomes(p) {
		results[r.IDOf(b, r.Index)] = r.Value
	}
	return results
}

// What is advised is a thing that can be had: no part of a negative value, and
// the field named is one that can mend it. Derived, from the words of the rules.
func TestAdviceFitsTheBuild(t *testing.T) {
	for _, c := range []struct {
		id, about string
		changes   []string
		field     string
		says      string
	}{
		// What the words of a repairer are. Common practice, no source.
		{"friction", "hours", []string{"hand.hours.meter.stick", "1 %"}, "hand.hours.meter.stick", "At one place: dust or paper, or a window that the pointer touches; everywhere: the jewels."},
		{"brown_out", "", []string{"load.minimum_voltage", "4.9 V"}, "load.minimum_voltage", "not below what the controller needs at its clock"},
		{"gain_margin", "", []string{"crystal.transconductance", "8 µS"}, "crystal.transconductance", "within the crystal's drive level"},
		{"capacitor_leak", "hours", []string{"hand.hours.drive.capacitor_at", "coil"}, "hand.hours.drive.capacitor_kind", "loses capacitance under voltage and may sing"},
		{"coil_share", "hours", []string{"rail.voltage", "2 V", "hand.hours.meter.coil", "1.9 kΩ", "hand.hours.drive.fixed", "3.9 kΩ"}, "hand.hours.meter.coil_copper", "within the controller's limit"},
		{"full_scale_reached", "hours", []string{"hand.hours.drive.setting", "0 Ω"}, "hand.hours.drive.setting", "in series beside pin and stage, trimmer included"},
		{"overload_worst", "hours", []string{"hand.hours.drive.trimmer", "0"}, "hand.hours.drive.fixed", "A larger fixed resistor protects the coil."},
		{"inside", "hours", and(shunt, []string{"hand.hours.meter.internal", "3.858 kΩ"}), "hand.hours.meter.in_circuit", "never open a dial that may be radium"},
		{"pack_voltage", "", []string{"battery.cell", "alkaline 9 V block", "battery.cells", "24", "battery.curve", ""}, "battery.cells", "local codes and licensed practice decide"},
		{"stranded", "", []string{"converter.minimum_input", "3.21 V", "battery.resistance", "0"}, "converter.minimum_input", "where the fresh pack stays below the rail"},
		{"past_cutoff", "", nil, "load.minimum_voltage", "Let the firmware measure the pack, stop at the cutoff"},
		{"load_offset", "", []string{"crystal.load", "4 pF", "crystal.stray", "6 pF"}, "crystal.capacitor_in", "stray alone"},
		{"trimmer_travel", "hours", []string{"hand.hours.meter.full_scale", "20 mA"}, "hand.hours.drive.fixed", "too little voltage"},
		{"trimmer_travel", "hours", []string{"hand.hours.drive.fixed", "11 kΩ"}, "hand.hours.drive.fixed", "larger fixed resistor"},
		{"trimmer_travel", "hours", []string{"hand.hours.drive.fixed", "11.5 kΩ"}, "hand.hours.drive.fixed", "end turns"},
		{"full_scale_reached", "hours", []string{"hand.hours.meter.full_scale", "20 mA"}, "hand.hours.drive.fixed", "too low"},
		{"full_scale_reached", "hours", []string{"hand.hours.drive.setting", "0 Ω"}, "hand.hours.drive.setting", "16.3 kΩ"},
		{"inside", "hours", and(shunt, []string{"hand.hours.meter.internal", "3.858 kΩ"}), "hand.hours.meter.in_circuit", "743 Ω and ask for 310 µA"}, // 920 ∥ 3858 Ω, 250 µA·(1 + 920/3858)
		{"pin_bend", "hours", []string{"hand.hours.drive.pin_high", "50 Ω", "hand.hours.drive.pin_low", "57.6 Ω"}, "hand.hours.drive.pin_low", "760 Ω"},
		{"temperature_error", "hours", and(noCopper, []string{"hand.hours.meter.movement_tempco", "600 ppm/K"}), "rail.trimmed_at", "middle temperature"},
		{"lamp_voltage", "seconds", []string{"lamp.seconds.forward", "5.6 V"}, "lamp.seconds.forward", "lamp of another colour"},
		{"rail_maximum", "", []string{"rail.maximum", "5 V"}, "rail.voltage", "lower rail"},
		{"rail_maximum", "", []string{"rail.maximum", "5.5 V", "battery.cells", "4"}, "battery.cells", "passes a higher input"},
		{"rail_maximum", "", []string{"rail.maximum", "5.5 V", "battery.cells", "4", "converter.kind", "none"}, "battery.cells", "nothing else holds"},
		{"lamps_share", "", nil, "lamp.seconds.resistor", "half as bright"},
		{"lamps_share", "", []string{"lamp.afternoon.resistor", "220 Ω"}, "lamp.afternoon.resistor", "half as bright"},
		{"life_on", "", nil, "lamp.seconds.resistor", "lamps are 57"},                                                                  // (2·0.5·3.1 + 0.5·0.909)/6.2 mA
		{"life_on", "", []string{"lamp.seconds.count", "0", "lamp.afternoon.count", "0"}, "load.controller_on", "controller takes 75"}, // 2/2.645 mA
		{"life_standby", "", []string{"battery.capacity", "50 mAh"}, "converter.quiescent", "converter's own"},
		{"life_standby", "", []string{"load.controller_off", "2 mA"}, "load.controller_off", "still awake"},
	} {
		f, _ := judgedText(t, modeltest.With(t, caseText(t), c.changes...)).find(t, c.id, c.about)
		assert.Equal(t, c.field, f.Field, "%s %v", c.id, c.changes)
		assert.Contains(t, f.Advice, c.says, "%s %v", c.id, c.changes)
		assert.NotRegexp(t, `-\d`, f.Advice, c.id)
	}
}

// What does not apply is not advised. Derived, from what each build has already.
func TestAdviceApplies(t *testing.T) {
	reading := modeltest.Example("reading-room")
	inside := modeltest.With(t, reading, "hand.hours.meter.in_circuit", "yes", "rail.voltage", "3 V")
	plugged := modeltest.With(t, reading, "rail.drift", "5 %", "battery.cell", "", "battery.cells", "0", "converter.kind", "none", "converter.efficiency", "", "converter.quiescent", "", "converter.minimum_input", "")
	for _, c := range []struct {
		text, id, about, not, but string
	}{
		{modeltest.With(t, reading, "converter.kind", "linear", "rail.drift", "0.9 %"), "rail_drift", "", "linear regulator", "a reference"},
		{modeltest.With(t, reading, "converter.kind", "linear", "rail.drift", "5 %"), "rail_drift", "", "moves with one", "as a rule"},
		{modeltest.With(t, reading, "rail.drift", "5 %", "battery.cells", "4"), "rail_drift", "", "as a rule", "a linear regulator holds"},
		{modeltest.With(t, reading, "rail.drift", "5 %"), "rail_drift", "", "linear regulator", "another step-up"}, // three cells stand below 5 V
		{plugged, "rail_drift", "", "linear regulator", "another finished supply"},
		{inside, "trimmer_travel", "hours", "higher rail", "take the multiplier inside out"},
		{inside, "full_scale_reached", "hours", "higher rail", "the coil alone needs 320 mV"},
		{reading, "life_standby", "", "as it is used", "Nothing is gained"},
		{modeltest.With(t, reading, "load.hours_on", "0.4 h"), "life_standby", "", "Nothing", "as it is used"},
	} {
		f, _ := judgedText(t, c.text).find(t, c.id, c.about)
		assert.NotContains(t, f.Advice, c.not, c.id)
		assert.Contains(t, f.Advice, c.but, c.id)
	}
	// nothing is gained by less asleep: then it is not asked for
	assert.False(t, finds(judgedText(t, reading), "converter_share"))
	assert.True(t, finds(judgedText(t, modeltest.With(t, reading, "load.hours_on", "0.4 h")), "converter_share"))
	// 8.9 ppm off in a month are 23 s, more than a step of 15 s, and 20 ppm either way of the crystal more than that; measured they are known
	station := modeltest.With(t, modeltest.Example("station-platform"), "crystal.stray", "3.5 pF", "crystal.capacitor_in", "15 pF", "crystal.capacitor_out", "15 pF")
	assert.False(t, finds(judgedText(t, station), "month_drift"))
	assert.True(t, finds(judgedText(t, modeltest.With(t, station, "crystal.measured", "32.7683 kHz")), "month_drift"))
}

// finds says whether a rule found something.
func finds(j *judged, id string) bool {
	return slices.ContainsFunc(j.findings, func(f Finding) bool { return f.ID == id })
}

// Below its zero the trimmer has no end turns to speak of. Derived: 16.28 kΩ, less than the
// fixed resistor, are asked for in series (public-1.json).
func TestAdviceWhereTheFixedResistorIsTooMuch(t *testing.T) {
	f, _ := judgedText(t, modeltest.With(t, caseText(t), "hand.hours.drive.fixed", "16.4 kΩ")).find(t, "trimmer_travel", "hours")
	assert.Contains(t, f.Advice, "too much already")
	assert.NotContains(t, f.Advice, "end turns")
}

// A scale that was measured is straightened by codes; of a square that is guessed it is said what to measure. Derived.
func TestAdviceMakesNoScaleUp(t *testing.T) {
	guessed, _ := judgedText(t, modeltest.With(t, caseText(t), "hand.hours.correct", "none", "hand.hours.meter.law", "square")).find(t, "uneven_scale", "hours")
	assert.Empty(t, guessed.Changes)
	assert.Contains(t, guessed.Advice, "measure the scale at some codes")
	measured, _ := judgedText(t, modeltest.With(t, caseText(t), "hand.hours.correct", "none")).find(t, "uneven_scale", "hours")
	assert.Equal(t, "Straightened by none → codes", model.ChangesText(modeltest.Sound(t, modeltest.With(t, caseText(t), "hand.hours.correct", "none")), measured.Changes))
	assert.Contains(t, measured.Text, "up to 28.80 min wrong") // 21 % at 25 % of the current: 4 % of 720 min
}

// What is no help is not advised: a pull resistor that is large is not made
// smaller. Derived.
func TestAdviceLeavesWhatIsGood(t *testing.T) {
	f, _ := judgedText(t, modeltest.With(t, caseText(t), "button.set.wakes", "press")).find(t, "button_wedged", "set")
	assert.Contains(t, f.Advice, "Wakes press → release: ")
	assert.NotContains(t, f.Advice, "Pull resistor")
}
