package judge

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// text is the build of a case with one of its two values.
func (c *ruleCase) text(t testing.TB, value string) string {
	return modeltest.With(t, caseText(t), append(slices.Clone(c.more), c.path, value)...)
}

// A step is a severity that a row can find, on one side of a two-sided one.
type step struct {
	row      int
	severity Severity
	side     int // -1, +1, or 0 of what is judged one way
}

func (s step) String() string {
	r := &rules[s.row]
	return fmt.Sprintf("row %d, %s of %s: %s %s", s.row, r.id, r.field, s.severity, map[int]string{-1: "below", 0: "", 1: "above"}[s.side])
}

// stepsOf are the steps that a row's limits make in a build.
func stepsOf(row int, s subject) []step {
	r, l := &rules[row], rules[row].limits(s)
	var steps []step
	for k, limit := range [...]float64{l.note, l.caution, l.fault} {
		switch severity := Severity(k + 1); {
		case math.IsNaN(limit):
		case r.off == nil || limit < 0: // what lies below 0 is always passed
			steps = append(steps, step{row, severity, 0})
		default:
			steps = append(steps, step{row, severity, -1}, step{row, severity, +1})
		}
	}
	return steps
}

// step is the one a case proves of a row.
func (c *ruleCase) step(row int, j *judged, beyond, inside float64) step {
	s := step{row, c.severity, -1}
	if beyond > inside {
		s.side = +1
	}
	if !slices.Contains(stepsOf(row, subject{j.b, j.p, 0}), s) {
		s.side = 0
	}
	return s
}

// TestRules: every row finds, at every severity that its limits can make, on
// both sides of what is judged both ways, what one case just passes and another
// just does not. The cases say where the edges come from.
func TestRules(t *testing.T) {
	modeltest.Long(t)
	proven := map[step]bool{}
	for k := range ruleCases {
		c := &ruleCases[k]
		name := fmt.Sprintf("%s %s, %s %s", c.id, c.severity, c.path, c.beyond)
		beyond, inside := judgedText(t, c.text(t, c.beyond)), judgedText(t, c.text(t, c.inside))
		var speak []int
		for row := range rules {
			r := &rules[row]
			if r.id != c.id || r.count(beyond.b) == 0 {
				continue
			}
			severity, x := beyond.grade(r, c.path)
			milder, x0 := inside.grade(r, c.path)
			if severity != c.severity || milder >= severity {
				continue
			}
			speak = append(speak, row)
			proven[c.step(row, beyond, x, x0)] = true
			assert.True(t, c.near(r, beyond, inside), "%s is far from %s: %v and %v", name, c.inside, x, x0)
		}
		assert.Len(t, speak, 1, "%s: rows that speak beyond and not at %s", name, c.inside)
	}
	for _, s := range allSteps(t) {
		assert.True(t, proven[s], "no case proves %s", s)
	}
}

// near says whether the figures of a case's two builds are as near to the limit
// as 1.5 % of it. Where one of them has no figure or no such limit, as where
// it is judged what is so or not, the quantity that is changed is as near as 1 %; where
// that is none, such as yes and no, there is nothing nearer.
func (c *ruleCase) near(r *rule, beyond, inside *judged) bool {
	f, i := c.field(beyond.b)
	_, quantities := f.At(beyond.b, i).(*quantity.Value)
	if !quantities && !f.IsTable() {
		return true
	}
	x, limit := beyond.held(r, c)
	x0, limit0 := inside.held(r, c)
	if !math.IsNaN(x+x0+limit+limit0) && limit > tiny {
		return modeltest.Near(x, limit, 0.015) && modeltest.Near(x0, limit0, 0.015)
	}
	a, b := f.Number(beyond.b, i), f.Number(inside.b, i)
	return math.IsNaN(a+b) || modeltest.Near(a, b, 0.01)
}

const tiny = 1e-300 // of a limit that stands for none

// held is what a row holds against the limit of a case's severity, and that limit.
func (j *judged) held(r *rule, c *ruleCase) (x, limit float64) {
	_, x = j.grade(r, c.path)
	if r.off != nil {
		x = r.off(x)
	}
	l := r.limits(subject{j.b, j.p, 0})
	return x, [...]float64{never, l.note, l.caution, l.fault}[c.severity]
}

// field is that of a case's path.
func (c *ruleCase) field(b *model.Build) (*model.Field, int) {
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			if f.PathOf(b, i) == c.path {
				return f, i
			}
		}
	}
	panic(c.path)
}

// allSteps are the steps of all rows, as many as are made by the builds of the
// cases, and by caseText with any one field changed to anything that may be chosen,
// to an end of what is allowed, or to nothing. Every row has one.
func allSteps(t *testing.T) []step {
	there := map[step]bool{}
	for _, text := range probes(t) {
		b, problems := model.Read(text)
		if len(problems) > 0 {
			continue
		}
		p := new(circuit.Plan)
		circuit.Evaluate(b, p)
		for row := range rules {
			for i := range rules[row].count(b) {
				for _, s := range stepsOf(row, subject{b, p, i}) {
					there[s] = true
				}
			}
		}
	}
	steps := slices.Collect(maps.Keys(there))
	slices.SortFunc(steps, func(a, b step) int { return cmp.Compare(a.row, b.row) })
	for row := range rules {
		require.True(t, slices.ContainsFunc(steps, func(s step) bool { return s.row == row }), "no limit of row %d, %s", row, rules[row].id)
	}
	return steps
}

func probes(t *testing.T) []string {
	var texts []string
	for k := range ruleCases {
		c := &ruleCases[k]
		texts = append(texts, c.text(t, c.beyond), c.text(t, c.inside))
	}
	d := model.Open(caseText(t))
	for _, f := range model.Builds.Fields {
		for i := range f.Of(d.Build) {
			for _, value := range append([]string{f.Least, f.Most, ""}, f.Choices...) {
				texts = append(texts, d.Set(f, i, value).Text)
			}
		}
	}
	return texts
}

// Birthplace: derived; of public-1 with the changes below each severity is there.
func TestFindingsWorstFirst(t *testing.T) {
	j := judgedText(t, modeltest.With(t, caseText(t), "battery.cell", "CR2032", "lamp.seconds.forward", "5 V", "lamp.afternoon.forward", "4.9 V",
		"hand.hours.drive.pin_limit", "0.1 mA"))
	for _, s := range []Severity{Note, Warning, Fault} {
		assert.True(t, slices.ContainsFunc(j.findings, func(f Finding) bool { return f.Severity == s }), s)
	}
	assert.True(t, slices.IsSortedFunc(j.all, func(a, b graded) int {
		return cmp.Or(cmp.Compare(b.severity, a.severity), cmp.Compare(b.harm, a.harm), cmp.Compare(rowOf(a.rule), rowOf(b.rule)))
	}), "%v", j.findings)
}

// What burns or breaks first stands first, and says so. Derived by hand: 4.6875 V at the top code over 1250 Ω are
// 3.75 mA, 15 times 250 µA; over 6250 Ω they are three times; two diodes leave 0.6 V across 230 mV, 2.61 times. That ten
// times burn the coil: IEC 60051 (five seconds for an ammeter), read second-hand; that two bend the needle: common practice, no source.
func TestWhatBurnsStandsFirst(t *testing.T) {
	wrong := []string{ // faults of other rows, some of them before it in the table
		"load.minimum_voltage", "5.1 V", "lamp.afternoon.forward", "5 V", "hand.hours.drive.pin_limit", "0.1 mA",
		"hand.hours.drive.fixed", "0", "hand.hours.drive.trimmer", "0", "hand.hours.drive.capacitor", "0",
	}
	for _, c := range []struct {
		stage, diodes, first string
	}{
		{"280 Ω", "none", "At the top code this burns the coil in seconds: 15 times full scale."},
		{"280 Ω", "silicon", "At the top code this can bend the needle at its stop: 15 times full scale."},
		{"5.28 kΩ", "none", "At the top code this can bend the needle at its stop: 3 times full scale."},
	} {
		j := judgedText(t, modeltest.With(t, caseText(t), append(wrong, "hand.hours.drive.stage", c.stage, "hand.hours.meter.diodes", c.diodes)...))
		assert.Equal(t, c.first, j.findings[0].Text)
		f, _ := j.find(t, "overload_worst", "hours")
		assert.Equal(t, c.diodes == "silicon", strings.Contains(f.Advice, "Two diodes hold the coil to 0.6 V, here 2.61 times full scale: the fixed resistor protects."), f.Advice)
	}
	j := judgedText(t, modeltest.With(t, caseText(t), append(wrong, "hand.hours.meter.origin", "mains")...))
	assert.Equal(t, "origin", j.findings[0].ID, "people come before the meter")
}

// The slip that is likely is named. Derived by hand: 640 Ω·500 µA are 320 mV.
func TestCoilVoltageNamesTheSlip(t *testing.T) {
	for _, c := range []struct{ coil, fullScale, says string }{
		{"640 Ω", "5 mA", "Likely a tenfold slip: full scale 500 µA in place of 5.00 mA would make 320 mV. Or the coil was measured with its multiplier"},
		{"640 Ω", "500 mA", "Likely a thousandfold slip: full scale 500 µA in place of 500 mA would make 320 mV."},
		{"64 kΩ", "500 µA", "Likely a hundredfold slip: a coil of 640 Ω in place of 64.0 kΩ would make 320 mV."},
		{"64 Ω", "50 µA", "Likely a tenfold slip: full scale 500 µA in place of 50.0 µA would make 32.0 mV. Or a shunt is inside"},
		{"0.64 Ω", "500 µA", "Likely a hundredfold slip: a coil of 64.0 Ω in place of 640 mΩ would make 32.0 mV."},
	} {
		f, _ := judgedText(t, modeltest.With(t, caseText(t), "hand.hours.meter.coil", c.coil, "hand.hours.meter.full_scale", c.fullScale)).find(t, "coil_voltage", "hours")
		assert.Contains(t, f.Advice, c.says)
	}
}

// A full scale that is the dial's own is no slip: a resistor is inside. Derived by hand:
// 1.44 kΩ·1.01 mA are 1.45 V.
func TestCoilVoltageBelievesTheDial(t *testing.T) {
	text := modeltest.With(t, caseText(t), "hand.hours.meter.coil", "1.44 kΩ", "hand.hours.meter.full_scale", "1.01 mA")
	f, _ := judgedText(t, text).find(t, "coil_voltage", "hours")
	assert.Contains(t, f.Advice, "Likely a tenfold slip")
	f, _ = judgedText(t, modeltest.With(t, text, "hand.hours.meter.marked", "1 mA")).find(t, "coil_voltage", "hours")
	assert.Contains(t, f.Advice, "The current is what its dial says: a resistor is likely inside")
	assert.NotContains(t, f.Advice, "slip")
}

// A voltmeter typed as its coil, 30 V at 1 mA, is asked for its multiplier and not for a
// higher rail. Common practice, no source.
func TestNoHigherRailForAMultiplier(t *testing.T) {
	j := judgedText(t, modeltest.With(t, caseText(t), "hand.hours.meter.coil", "30 kΩ", "hand.hours.meter.full_scale", "1 mA"))
	for _, id := range []string{"trimmer_travel", "full_scale_reached", "coil_share"} {
		f, _ := j.find(t, id, "hours")
		assert.Contains(t, f.Advice, "whether a multiplier is inside", id)
		assert.NotContains(t, f.Advice, "higher rail", id)
	}
}

// Counts that were raised without their top code: that is named. Derived by hand:
// 5 V·240/1024 are 1.17 V, less than the 1.25 V of 500 µA through 2.5 kΩ; 720 gives 3.52 V.
func TestLowTopCodeIsNamed(t *testing.T) {
	text := modeltest.With(t, caseText(t), "hand.hours.drive.counts", "1024", "hand.hours.meter.coil", "2.5 kΩ", "hand.hours.meter.full_scale", "500 µA", "rail.voltage", "5 V")
	for _, id := range []string{"trimmer_travel", "full_scale_reached"} {
		f, _ := judgedText(t, text).find(t, id, "hours")
		assert.Contains(t, f.Advice, "The top code is no more than 240 of 1024 counts: 720 would do.", id)
		assert.NotContains(t, f.Advice, "multiplier", id)
	}
	f, _ := judgedText(t, modeltest.With(t, text, "hand.hours.meter.coil", "25 kΩ")).find(t, "full_scale_reached", "hours")
	assert.NotContains(t, f.Advice, "would do", "no top code is enough")
}

// What is left inside has a tolerance too, which the trimmer must cover: by its end the 6.8 kΩ
// is 1.36 kΩ off, more than the trimmer's 1 kΩ. Derived.
func TestTravelCoversWhatIsInside(t *testing.T) {
	of := func(internal string) bool {
		return slices.ContainsFunc(judgedText(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.meter.internal", internal,
			"hand.hours.meter.in_circuit", "yes", "hand.hours.drive.fixed", "1.4 kΩ ±1 %")).findings, func(f Finding) bool { return f.ID == "travel_band" })
	}
	assert.False(t, of("6.8 kΩ ±0.1 %"))
	assert.True(t, of("6.8 kΩ ±20 %"))
}

// A build without any hand, lamp or button is judged too. Derived.
func TestFindingsWithoutHands(t *testing.T) {
	j := judgedText(t, "format = 1\n[rail]\nvoltage = \"5 V\"\ndrift = \"4 %\"\n[load]\nminimum_voltage = \"4.9 V\"\n")
	j.find(t, "brown_out", "")
}

// TestEqualTop: birthplace: common practice, no source, for 240 of 256; the
// others derived by hand.
func TestEqualTop(t *testing.T) {
	for _, c := range []struct{ steps, counts, want int }{
		{720, 256, 240}, {720, 720, 720}, {720, 1023, 720}, {1440, 256, 240}, {60, 256, 240}, {60, 59, 30}, {60, 2, 2}, {720, 719, 360},
	} {
		assert.Equal(t, c.want, equalTop(c.steps, c.counts), c)
	}
}

func TestLimits(t *testing.T) {
	up, down := limits{1, 2, 3, false}, limits{3, 2, 1, true}
	for k, x := range []float64{1, 2, 3, 4} { // a limit itself is not passed
		assert.Equal(t, Severity(k), up.grade(x), x)
		assert.Equal(t, Severity(k), down.grade(4-x), x)
	}
	for _, l := range []limits{up, down} {
		assert.Equal(t, Sound, l.grade(math.NaN()))
	}
	for _, l := range []limits{{never, never, never, false}, {never, never, never, true}} {
		assert.Equal(t, Sound, l.grade(math.Inf(1)))
		assert.Equal(t, Sound, l.grade(math.Inf(-1)))
	}
}

// TestCatalogueNamesFindings: every rule has its row.
func TestCatalogueNamesFindings(t *testing.T) {
	text, err := os.ReadFile("../catalogue.md")
	require.NoError(t, err)
	for _, r := range rules {
		assert.Regexp(t, "(?m)^\\| (`\\w+` )*`"+r.id+"` ", string(text), r.id)
	}
	for _, part := range parts {
		assert.Contains(t, string(text), "| `"+part.id+"` |", part.id)
	}
}
