package working

import (
	"math"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/spread"
)

// solved evaluates a text that has no problems.
func solved(t testing.TB, text string) (*model.Build, *circuit.Plan) {
	t.Helper()
	b := modeltest.Sound(t, text)
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return b, p
}

// broken says what of a printed line does not hold: computed from what is printed alone it is
// the answer to its last digit, or within Near of it; "" where it holds.
func brokenLaw(s *Step) string {
	x, err := Read(s.Expression)
	if err != nil {
		return err.Error()
	}
	want, err := Read(s.Answer)
	if err != nil {
		return err.Error()
	}
	room := lastDigit(s.Answer) / 2 * (1 + 1e-9)
	if !s.Exact {
		room = Near * math.Abs(want)
	}
	if !(math.Abs(x-want) <= room) {
		return s.Words + ": " + s.Expression + " is " + strconv.FormatFloat(x, 'g', -1, 64) + ", not " + s.Answer
	}
	return ""
}

// holds checks all lines of a working, and that it comes to its value; it returns how many.
func holds(t *testing.T, name string, w *Working) int {
	t.Helper()
	require.True(t, len(w.Steps)+len(w.Trials) > 0, name)
	tells := false // some exact line has the value, to all its digits
	for k := range w.Steps {
		s := &w.Steps[k]
		assert.NotEmpty(t, s.Words, "%s: %v", name, s)
		assert.Empty(t, brokenLaw(s), name)
		if s.Exact {
			x, _ := Read(s.Answer)
			value := w.Number * factor(w.Unit.Base())
			tells = math.Abs(x-value) <= lastDigit(s.Answer)/2*(1+1e-9)+1e-9*math.Abs(value)+1e-12*factor(w.Unit.Base())
		}
	}
	if w.Result != nil && !strings.Contains(w.Steps[len(w.Steps)-1].Words, "next to nothing") {
		assert.True(t, tells, "%s: its last exact line does not come to %v: %v", name, w.Number, w.Steps)
	}
	return len(w.Steps)
}

// TestExamples: every result and every part of every example has a working whose lines hold.
func TestExamples(t *testing.T) {
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	lines := 0
	for _, file := range files {
		b, p := solved(t, modeltest.FileText(file))
		for _, w := range all(t, b, p) {
			id := w.Name
			lines += holds(t, file+" "+id, w)
			for _, trial := range w.Trials {
				if trial.Expression != "" {
					assert.Empty(t, brokenLaw(&trial.Step))
					lines++
				}
			}
			assert.NotEmpty(t, w.Why, id)
			for _, line := range w.Lines() {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), Width, line)
			}
		}
	}
	t.Logf("%d lines", lines)
	for id := range workings {
		assert.NotEmpty(t, workings[id].words, id)
		assert.NotEmpty(t, workings[id].why, id)
	}
	for k := range circuit.Results {
		assert.Contains(t, workings, circuit.Results[k].ID, "a result without a row of workings")
	}
	assert.Len(t, workings, len(circuit.Results))
}

// all are the workings of all results, with their bands, and of all parts of a build.
func all(t *testing.T, b *model.Build, p *circuit.Plan) []*Working {
	var list []*Working
	for _, row := range spread.Spread(b, p) {
		w, err := OfRow(b, p, row)
		require.NoError(t, err)
		list = append(list, w)
	}
	for _, id := range partIDs(b, p) {
		w, err := ofPart(b, p, id)
		require.NoError(t, err)
		list = append(list, w)
	}
	return list
}

// TestErrors does the same of the builds of which every row of the error budget is made.
func TestErrors(t *testing.T) {
	for name, text := range modeltest.WithErrors(t) {
		allHold(t, name, text)
	}
}

// allHold checks the workings of all results of a text.
func allHold(t *testing.T, name, text string) (lines int) {
	t.Helper()
	b, problems := model.Read(text)
	if len(problems) > 0 {
		return 0
	}
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	for _, o := range circuit.Outcomes(p) {
		w, err := Of(b, p, o)
		if assert.NoError(t, err, name) {
			lines += holds(t, name+" "+w.Name, w)
			for _, line := range w.Lines() {
				assert.LessOrEqual(t, utf8.RuneCountInString(line), Width, line)
			}
		}
		if t.Failed() {
			t.Fatal(text)
		}
	}
	return lines
}

// TestAnyBuild: the lines of all results of random builds hold: of any, of drawn ones, and of
// examples with other values. NEEDLEWRIGHT_BUILDS is how many of each.
func TestAnyBuild(t *testing.T) {
	modeltest.Long(t)
	n := modeltest.Sampled(t, 40)
	lines := [3]int{}
	for seed := range n {
		random := rand.New(rand.NewPCG(7, uint64(seed)))
		name := "build " + strconv.Itoa(seed)
		lines[0] += allHold(t, name+" of any", modeltest.AnyBuild(random))
		lines[1] += allHold(t, name+" altered", altered(random))
		lines[2] += allHold(t, name+" drawn", drawn.Example(seed))
	}
	t.Logf("lines that hold, of any, altered and drawn builds: %d", lines)
	assert.Positive(t, lines[0])
	assert.Positive(t, lines[1])
	assert.Positive(t, lines[2])
}

// drawn are texts of builds as rapid draws them.
var drawn = rapid.Custom(func(t *rapid.T) string {
	text, _ := modeltest.SoundOrSkip(t, modeltest.Draw(t))
	return text
})

// altered is an example of which a third of the values are others of their kind.
func altered(random *rand.Rand) string {
	names := []string{"reading-room", "station-platform", "harbour-office", "school-store", "boathouse", "signal-cabin"}
	text := modeltest.Example(names[random.IntN(len(names))])
	b, _ := model.Read(text)
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			value, ok := another(f, b, i, random)
			if !ok {
				continue
			}
			if next, problem := model.Set(text, f.PathOf(b, i), value); problem == nil {
				if _, problems := model.Read(next); len(problems) == 0 {
					text = next
				}
			}
		}
	}
	return text
}

// another is another value for a field, in one of three.
func another(f *model.Field, b *model.Build, i int, random *rand.Rand) (string, bool) {
	if f.IsRow() || random.IntN(3) > 0 {
		return "", false
	}
	switch v := f.At(b, i).(type) {
	case *quantity.Value:
		if !v.Given() {
			return "", false
		}
		x := round(v.Number*math.Pow(2, 2*random.Float64()-1), 3)
		return quantity.Format(quantity.Value{Number: x, Tolerance: v.Tolerance, Share: v.Share}, f.Unit), true
	case *string:
		if f.Choices == nil || random.IntN(2) > 0 {
			return "", false
		}
		return f.Choices[random.IntN(len(f.Choices))], true
	}
	return "", false
}

// TestALineBreaks: whatever digit of an answer is another, its line does not hold any more;
// nor, but for what an answer does not feel, does it with another first digit of a number
// that it is computed from.
func TestALineBreaks(t *testing.T) {
	b, p := solved(t, modeltest.Example("reading-room"))
	changed, broke := 0, 0
	for _, o := range circuit.Outcomes(p) {
		w, err := Of(b, p, o)
		require.NoError(t, err)
		for _, s := range w.Steps {
			if !s.Exact {
				continue
			}
			for _, answer := range otherDigits(s.Answer, true) {
				other := s
				other.Answer = answer
				assert.NotEmpty(t, brokenLaw(&other), "%v holds", other)
			}
			for _, expression := range otherDigits(s.Expression, false) {
				other := s
				other.Expression = expression
				changed++
				if brokenLaw(&other) != "" {
					broke++
				}
			}
		}
	}
	assert.Greater(t, float64(broke), 0.9*float64(changed), "%d of %d", broke, changed)
}

// otherDigits are a text with one digit another: each, or the first of each number.
func otherDigits(text string, each bool) []string {
	var all []string
	for k := range text {
		digit := text[k] >= '0' && text[k] <= '9'
		first := k == 0 || !strings.ContainsRune("0123456789.", rune(text[k-1]))
		if digit && (each || first) {
			all = append(all, text[:k]+string('0'+(text[k]-'0'+1)%10)+text[k+1:])
		}
	}
	return all
}

// TestAFormulaBreaks: a working by another formula than the plan's is an error, not a working.
func TestAFormulaBreaks(t *testing.T) {
	b, p := solved(t, modeltest.Example("reading-room"))
	tried := 0
	for _, o := range circuit.Outcomes(p) {
		if _, byOtherMeans := ways[o.ID]; byOtherMeans || o.Value == 0 {
			continue
		}
		d := newDesk(b, p, o.List(), o.Index)
		formula := d.formulaOf(o.Result)
		_, err := d.write(d.formula("("+formula+")·1.001"), "", o.Unit, o.Value, rounding(o))
		assert.Error(t, err, "%s: %s", o.ID, formula)
		tried++
	}
	assert.Greater(t, tried, 40)
}

// What is printed, read: by the signs and units of the contract; derived.
func TestRead(t *testing.T) {
	for text, want := range map[string]float64{
		"5 V × 240/256": 4.6875, "4.6875 V / 500 µA": 9375, "640 Ω + 50 Ω": 690, "640 Ω × (1 − 1 %)": 633.6,
		"2 × 3^2": 18, "(32 Ω)^2": 1024, "8 / 4 / 2": 1, "8 / 4 × 2": 4, "6 kΩ ∥ 3 kΩ": 2000, "2 × (6 Ω ∥ 3 Ω)": 4, "10 − 4 − 3": 3,
		"√(9) + |2 − 5|": 6, "⌊2.9⌋": 2, "max(0, 3 V − 5 V)": 0, "min(7, 4 %)": 0.04, "ln(exp(2))": 2, "2 × π": 2 * math.Pi, "cos(π)": -1,
		"3 ppm": 3e-6, "100 ppm/K × 10 °C": 0.001, "-1 × 3 fF / (2 × (10 pF)^2)": -1.5e7, "-15 ppm/pF": -1.5e7, "86400 s/day × (-7 ppm)": -0.6048,
		"7 Ah × 2 %/a / 8766": 7 * 0.02 / 8766, "167.2 %/s": 1.672, "1e-3 A": 0.001, "5.03e10": 5.03e10, "720 min / 240": 3, "90°": 90, "1.5 min × 2": 3,
	} {
		got, err := Read(text)
		require.NoError(t, err)
		assert.InDelta(t, want, got, 1e-12*max(1e-12, math.Abs(want)), text)
	}
	for _, text := range []string{"", "5 +", "5 V 3", "(5", "x", "5 × × 3", "ln 3", "max(3)"} {
		_, err := Read(text)
		assert.Error(t, err, text)
	}
}

// Two workings of the reading room's hand. Their numbers were computed by hand by the one who
// wrote the sketches of the contract, apart from this program.
func TestByHand(t *testing.T) {
	b, p := solved(t, modeltest.Example("reading-room"))
	for id, want := range map[string][]string{
		"series_needed":  {"4.6875 V", "9.375 kΩ", "690 Ω", "8.685 kΩ"},
		"trimmer_travel": {"4.6875 V", "9.375 kΩ", "690 Ω", "8.685 kΩ", "485 Ω", "48.50 %"},
		"overload_worst": {"5.05 V", "633.6 Ω", "35 Ω", "8.118 kΩ", "8.7866 kΩ", "574.74 µA", "495 µA", "1.1611"},
	} {
		w, err := Named(b, p, id, "")
		require.NoError(t, err)
		var got []string
		for _, s := range w.Steps {
			got = append(got, s.Answer)
		}
		assert.Equal(t, want, got, id)
	}
	// The sketch's neighbours of the fixed resistor, and where the trimmer stands with them.
	w, err := Named(b, p, "series", "hours")
	require.NoError(t, err)
	assert.Equal(t, []string{"118.5 %", "48.50 %", "-41.50 %"}, []string{w.Steps[4].Answer, w.Steps[5].Answer, w.Steps[6].Answer})
	assert.Contains(t, w.Steps[5].Words, here+"8.2 kΩ: 100 %")
}

// Two workings as they are printed. Their numbers are those of TestByHand; the bands were held
// against catalogue.md by hand: overload_worst is let down by the rail, full scale and the
// fixed resistor, each an even spread of 1 % or less downwards, none upwards.
func TestText(t *testing.T) {
	b, p := solved(t, modeltest.Example("reading-room"))
	for _, id := range []string{"series_needed", "overload_worst"} {
		w, err := Named(b, p, id, "")
		require.NoError(t, err)
		assert.Equal(t, modeltest.FileText(filepath.Join("testdata", id+".txt")), strings.Join(w.Lines(), "\n")+"\n")
	}
}

// TestALongName: a name of as many letters as it may have stands below the heading, which so
// keeps to its columns; a usual one beside it.
func TestALongName(t *testing.T) {
	name := strings.Repeat("long-", 11) + "names"
	b, p := solved(t, strings.Replace(modeltest.Example("reading-room"), `name = "hours"`, `name = "`+name+`"`, 1))
	for _, w := range all(t, b, p) {
		for _, line := range w.Lines() {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), Width, line)
		}
		if w.About == "hand: "+name {
			assert.Contains(t, w.Lines()[1], name)
		}
	}
}

// TestNarrowBody: in fewer columns the same stands in more lines, each begun as it should be.
func TestNarrowBody(t *testing.T) {
	b, p := solved(t, modeltest.Example("reading-room"))
	same := func(lines []string) string { return strings.Join(strings.Fields(strings.Join(lines, " ")), " ") }
	for _, w := range all(t, b, p) {
		narrow := w.Body(56)
		assert.Equal(t, same(w.Body(Width)), same(narrow), w.Name)
		for _, line := range narrow {
			assert.LessOrEqual(t, utf8.RuneCountInString(line), 56, line)
			assert.True(t, strings.HasPrefix(line, "   ") || line[0] == ' ' || line[0] >= '1' && line[0] <= '9', line)
		}
	}
}

// TestJSONWithoutSteps: pulses of 25 Hz, which no filter stills, leave nothing to try; the list of
// steps is there all the same.
func TestJSONWithoutSteps(t *testing.T) {
	b, p := solved(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.capacitor", "", "hand.hours.drive.counts", "10000"))
	w, err := Named(b, p, "filter", "")
	require.NoError(t, err)
	text, err := w.JSON()
	require.NoError(t, err)
	assert.Contains(t, string(text), `"steps": []`)
	assert.Contains(t, string(text), `"shares": []`)
}

// TestExpOfACalculator: pulses far slower than the coil ask for no exp that a pupil's calculator
// has not: it ends at 10^100, the exp of 230 (common to pocket calculators, from memory).
func TestExpOfACalculator(t *testing.T) {
	b, p := solved(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.capacitor", "", "hand.hours.meter.inductance", "20 mH", "hand.hours.drive.counts", "1000", "hand.hours.drive.prescale", "64"))
	w, err := Named(b, p, "ripple_current", "")
	require.NoError(t, err)
	exps := 0
	for _, s := range w.Steps {
		for _, found := range regexp.MustCompile(`exp\(([0-9.]+)(?: \+ ([0-9.]+))?\)`).FindAllStringSubmatch(s.Expression, -1) {
			first, err := strconv.ParseFloat(found[1], 64)
			require.NoError(t, err)
			second, _ := strconv.ParseFloat(found[2], 64)
			assert.Less(t, first+second, 230.0, s.Expression)
			exps++
		}
	}
	assert.Positive(t, exps)
}

// TestUnlikeHands: a hand on a switch, one between two pins, a closed case, a suppressed zero;
// one letter for the dial where there is one, and two where they differ. Derived.
func TestUnlikeHands(t *testing.T) {
	text := modeltest.Example("reading-room")
	for _, c := range []struct {
		id, expression string
		set            []string
	}{
		{"step", "720 min / 240", nil},
		{"step", "360 min / 240", []string{"hand.hours.drive.by", "bridge", "hand.hours.meter.zero_at", "centre"}},
		{"stick_error", "1440 min × 0.3 %", []string{"hand.hours.meter.zero_at", "centre"}},
		{"top_voltage", "4.9 V × 240/256", []string{"hand.hours.drive.by", "switch", "hand.hours.drive.switch_drop", "0.1 V"}},
		{"series_needed", "9.375 kΩ − 740 Ω", []string{"hand.hours.drive.by", "bridge", "hand.hours.meter.zero_at", "centre"}},
		{"series_needed", "4.6875 kΩ − 750 Ω", []string{"hand.hours.meter.in_circuit", "yes", "hand.hours.meter.internal", "", "hand.hours.meter.internal_kind", "none", "hand.hours.meter.terminal_resistance", "700 Ω", "hand.hours.meter.terminal_full_scale", "1 mA"}},
		{"zero_left", "720 min × max(0, 1 / (240 + 1) − 0.1 %) / (1 − 0.1 %)", []string{"hand.hours.drive.duty_offset", "1", "hand.hours.meter.scale_from", "0.1 %", "hand.hours.correct", "codes"}},
	} {
		b, p := solved(t, modeltest.With(t, text, c.set...))
		w, err := Named(b, p, c.id, "")
		require.NoError(t, err)
		assert.Equal(t, c.expression, w.Steps[len(w.Steps)-1].Expression, c.set)
		holds(t, c.id, w)
	}
}

// TestNamed finds workings by their names, and says which is near one that is not there.
func TestNamed(t *testing.T) {
	b, p := solved(t, modeltest.Example("station-platform"))
	w, err := Named(b, p, "trimmer_travel", "minutes")
	require.NoError(t, err)
	assert.Equal(t, "minutes.trimmer_travel", w.Name)
	_, err = Named(b, p, "minutes.trimer_travel", "")
	var missing *Missing
	require.ErrorAs(t, err, &missing)
	assert.Equal(t, "minutes.trimmer_travel", missing.Near)
	w, err = Named(b, p, "hand.minutes.drive.trimmer", "")
	require.NoError(t, err)
	assert.Equal(t, "minutes.series", w.Name, "by the path of its field")
	_, err = Named(b, p, "trimmer_travel", "")
	assert.Error(t, err, "of which hand is not said")
}
