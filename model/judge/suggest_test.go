package judge

import (
	"fmt"
	"math"
	"math/rand/v2"
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

// suggestionOf is what is offered of a part, for the first hand or lamp.
func suggestionOf(t *testing.T, r *verdict, id string) Suggestion {
	k := slices.IndexFunc(r.Better, func(s Suggestion) bool { return s.ID == id })
	require.GreaterOrEqual(t, k, 0, "nothing of %s", id)
	return r.Better[k]
}

// salvaged is a 500 µA, 640 Ω meter on 5 V with no parts chosen.
const salvaged = `
format = 1
[rail]
voltage = "5 V"
[[hand]]
name = "hours"
[hand.meter]
coil = "640 Ω"
full_scale = "500 µA"
[hand.drive]
clock = "4 MHz"
counts = 256
top = 240
pin_resistance = "50 Ω ±30 %"
trimmer_turns = 25
`

// Derived: (8 685 - 8 200) Ω of 1 kΩ; 5 V through 8 118 + 35 + 640 Ω, the least of
// all kits, are 1.14 times 500 µA; 1 kΩ / (25·100) of 9 375 Ω are 1.843 s of 720 min.
func Example_suggestion() {
	report, _ := verdictOn(salvaged)
	s := report.Better[0]
	fmt.Println(s.Title()+":", s.Text)
	after := verdictOf(model.Open(salvaged).Make(s.Changes).Build)
	fmt.Println(len(report.Findings), "findings before,", len(after.Findings), "after")
	// Output:
	// Fixed resistor and trimmer: Fixed resistor 0 Ω → 8.2 kΩ, trimmer 0 Ω → 1 kΩ: travel 48.5 %, worst overload 1.14, sets to 1.843 s.
	// 4 findings before, 1 after
}

// TestPWMWanted: derived: 4 MHz / 15 kHz is 266.7 counts; 240 of them share the
// 720 min of a 12 h dial evenly.
func TestPWMWanted(t *testing.T) {
	text := modeltest.With(t, salvaged, "hand.hours.drive.pwm_wanted", "15 kHz", "hand.hours.drive.prescale", "64")
	r, problems := verdictOn(text)
	require.Empty(t, problems)
	s := suggestionOf(t, r, "pwm")
	b := r.Build.Changed(s.Changes)
	d := b.Hands[0].Drive
	assert.Equal(t, 1, d.Prescale)
	assert.Contains(t, []int{240, 267}, d.Counts)
	assert.Zero(t, 720%d.Top)
	again := verdictOf(b)
	assert.False(t, slices.ContainsFunc(again.Better, func(s Suggestion) bool { return s.ID == "pwm" }), "it is there")
}

// TestOptions: derived; each part is listed beside each of its fields, the best
// first, no more than fit, each option different, and its text tells its values.
func TestOptions(t *testing.T) {
	text, _ := newBuild(t, "640", "500", "5 V")
	lit, problem := model.Open(text).Add("lamp", "seconds", -1)
	require.Nil(t, problem)
	text = lit.Text
	r, problems := verdictOn(text)
	require.Empty(t, modeltest.Messages(problems))
	for _, f := range model.Builds.Fields {
		title, _, options := r.Options(f, 0)
		part := partOf(f)
		if part == nil {
			assert.Empty(t, title+fmt.Sprint(options)[2:], f.Path)
			continue
		}
		assert.Equal(t, part.title, title)
		assert.LessOrEqual(t, len(options), mostOptions)
		seen := map[string]bool{}
		for _, o := range options {
			assert.False(t, seen[o.Text], "%s: %s twice", f.Path, o.Text)
			seen[o.Text] = true
			after := model.Open(text).Make(o.Changes)
			assert.Empty(t, modeltest.Messages(after.Problems), o.Text)
			if o.Named {
				continue
			}
			for _, c := range o.Changes { // but for what is none, or comes with a converter
				if text := model.NominalText(c.Text); text != "" && !strings.HasPrefix(text, "0 ") && !strings.HasPrefix(c.Field.Path, "converter.") {
					assert.Contains(t, o.Text, text, c.Field.Path)
				}
			}
		}
	}
	_, _, options := r.Options(model.Builds.Field("hand.drive.trimmer"), 0)
	require.NotEmpty(t, options)
	assert.Empty(t, options[0].Changes, "the build has the best")
}

// TestOptionsBestFirst: what an option says it leaves is what is found of the text with it
// made, each next leaves no fewer faults and cautions, and no fewer notes but where all kits
// come to full scale; and series parts that are alike in that are ordered as their own words
// say. Derived from the texts alone, by what is shown.
func TestOptionsBestFirst(t *testing.T) {
	listed := 0
	for _, name := range []string{"reading-room", "harbour-office", "school-store", "station-platform"} {
		text := modeltest.Example(name)
		r, problems := verdictOn(text)
		require.Empty(t, problems)
		for _, part := range parts {
			f := model.Builds.Field(part.field)
			if f.Of(r.Build) == 0 {
				continue
			}
			_, order, options := r.Options(f, 0)
			assert.True(t, strings.HasPrefix(order, "Fewest faults and cautions first, then "), order)
			var before []int
			for _, o := range options {
				listed++
				found := map[Severity]int{}
				after, problems := verdictOn(model.Open(text).Make(o.Changes).Text)
				require.Empty(t, problems)
				for _, f := range after.Findings {
					found[f.Severity]++
				}
				assert.Equal(t, Left{found[Fault], found[Warning], found[Note]}, o.Left, "%s: %s", name, o.Text)
				shown := []int{int(number01(o.Named)), o.Left.Faults, o.Left.Cautions, shownAs(o, "all kits", "no"), o.Left.Notes}
				if part.id == "series" {
					h := &after.Build.Hands[0].Drive
					travel := after.Plan.Hands[0].TrimmerTravel
					shown = append(shown, int(number01(h.Stage.Number > 0)), int(number01(math.Abs(travel-0.5) > 0.3)), int(h.Trimmer.Number))
				}
				assert.LessOrEqual(t, slices.Compare(before, shown), 0, "%s: %v stands before %v: %s", name, before, shown, o.Text)
				before = shown
			}
		}
	}
	assert.Greater(t, listed, 150)
}

// shownAs is 1 where a figure of an option has such a value.
func shownAs(o Option, name, value string) int {
	for _, f := range o.Figures {
		if f.Name == name && f.Value == value {
			return 1
		}
	}
	return 0
}

// TestSuggestionAt: derived.
func TestSuggestionAt(t *testing.T) {
	r, problems := verdictOn(salvaged)
	require.Empty(t, problems)
	s := suggestionOf(t, r, "series")
	assert.Equal(t, "hours", s.About)
	c, ok := s.At(model.Builds.Field("hand.drive.fixed"), 0)
	require.True(t, ok)
	assert.Equal(t, "hand.hours.drive.fixed", c.Path(r.Build))
	_, ok = s.At(model.Builds.Field("hand.drive.fixed"), 1)
	assert.False(t, ok, "another hand")
	_, ok = s.At(model.Builds.Field("hand.drive.clock"), 0)
	assert.False(t, ok, "no part")
	whole := model.Change{Field: model.Builds.Field("battery.cells"), Index: 0, Text: "2"}
	assert.Equal(t, "battery.cells", whole.Path(r.Build))
}

// TestRealChanges: derived; what is there already changes nothing, whatever its
// tolerance.
func TestRealChanges(t *testing.T) {
	b := modeltest.Sound(t, modeltest.With(t, salvaged, "hand.hours.drive.fixed", "8.2 kΩ ±5 %"))
	same := model.Change{Field: model.Builds.Field("hand.drive.fixed"), Index: 0, Text: "8.2 kΩ ±1 %"}
	other := model.Change{Field: model.Builds.Field("hand.drive.trimmer"), Index: 0, Text: "1 kΩ ±10 %"}
	assert.Equal(t, []model.Change{other}, b.Real([]model.Change{same, other}))
	assert.Empty(t, b.Real([]model.Change{same}))
}

// TestMissing: derived; parts not chosen are offered though nothing is found of
// them, and no more once they are.
func TestMissing(t *testing.T) {
	for _, c := range []struct {
		id, text string
		want     bool
	}{
		{"series", salvaged, true},
		{"series", modeltest.With(t, salvaged, "hand.hours.drive.fixed", "8.2 kΩ ±1 %", "hand.hours.drive.trimmer", "1 kΩ ±10 %"), false},
		{"series", modeltest.With(t, salvaged, "rail.voltage", "1 V", "hand.hours.meter.coil", "2 kΩ"), false},
		{"load_capacitors", salvaged, false}, // nothing is known of the crystal
		{"pwm", salvaged, false},
		{"pwm", modeltest.With(t, salvaged, "hand.hours.drive.pwm_wanted", "15 kHz"), false}, // within a tenth
		{"pwm", modeltest.With(t, salvaged, "hand.hours.drive.pwm_wanted", "4 kHz"), true},
	} {
		b, p := soundPlan(t, c.text)
		part := partTable[c.id]
		assert.Equal(t, c.want, part.missing(subject{b, p, 0}), "%s of %s", c.id, c.text)
	}
}

// litTables are those of a new build, and a lamp.
var litTables = append(slices.Clone(newTables), "lamp")

// randomBuild is a build around a random meter with no parts chosen, of any
// controller: coil, full scale, rail and their tolerances over all that is usual.
func randomBuild(t require.TestingT, r *rand.Rand) *model.Build {
	b, problems := model.Read(model.Builds.NewText(litTables, randomValues(r)))
	require.Empty(t, modeltest.Messages(problems))
	b.Crystal.CapacitorIn.Number, b.Crystal.CapacitorOut.Number = 0, 0
	return b
}

func randomValues(r *rand.Rand) map[string]model.NewValue {
	values := map[string]model.NewValue{}
	put := func(path, text string) { values[path] = model.NewValue{Text: text} }
	value := func(path string, least, most, tolerance float64) {
		v := quantity.Value{Number: least * math.Pow(most/least, r.Float64()), Tolerance: tolerance * r.Float64(), Share: true}
		v.Number, v.Tolerance = rounded(v.Number), rounded(v.Tolerance)
		put(path, quantity.Format(v, model.Builds.Field(path).Unit))
	}
	pick := func(path string, texts ...string) { put(path, texts[r.IntN(len(texts))]) }
	value("hand.meter.coil", 5, 10e3, 0.05)
	value("hand.meter.full_scale", 10e-6, 20e-3, 0.05)
	value("rail.voltage", 1.8, 5.5, 0.03)
	value("hand.drive.pin_resistance", 20, 150, 0.3)
	value("hand.meter.period", 0.3, 3, 0)
	pick("hand.shows", "12 h", "12 h", "24 h", "60 min", "60 s")
	pick("hand.meter.law", "linear", "linear", "linear", "square")
	pick("hand.drive.clock", "32.768 kHz", "128 kHz", "1 MHz", "4 MHz", "8 MHz", "16 MHz")
	pick("hand.drive.prescale", "1", "1", "8", "64", "256")
	pick("hand.drive.counts", "240", "250", "256", "360", "1000", "1024")
	pick("hand.drive.top", "240", "200", "180", "239")
	pick("hand.drive.trimmer_turns", "1", "25")
	pick("hand.drive.pin_limit", "10 mA", "20 mA")
	pick("crystal.load", "6 pF", "7 pF", "9 pF", "12.5 pF")
	pick("crystal.transconductance", "", "5 µS", "14 µS")
	pick("battery.cells", "0", "1", "2", "3", "4")
	pick("lamp.resistor", "150 Ω", "470 Ω", "1 kΩ", "2.2 kΩ")
	pick("load.controller_on", "0.5 mA", "2 mA", "8 mA")
	pick("load.minimum_voltage", "", "1.8 V")
	return values
}

// rounded is a number in three digits, as a person types it.
func rounded(x float64) float64 {
	if x == 0 {
		return 0
	}
	scale := math.Pow(10, 2-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}

// takeAll takes over what is suggested until nothing is.
func takeAll(t require.TestingT, b *model.Build) *model.Build {
	var p circuit.Plan
	for range 20 {
		circuit.Evaluate(b, &p)
		found := gradeAll(b, &p)
		better := suggestions(b, &p, newChoice(b, found), found)
		if len(better) == 0 {
			return b
		}
		b = b.Changed(better[0].Changes)
	}
	require.Fail(t, "suggestions without an end")
	return b
}
