package ui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// asked is a dashboard that asks for a new build.
func asked(w, h int) *App {
	a := New(Options{Fresh: true, At: teatime})
	a.Update(windowSize(w, h))
	return a
}

// title is what the open prompt is about.
func title(a *App) string {
	if a.front.Mode != front.Asking {
		return ""
	}
	_, about, _ := strings.Cut(a.front.Prompt.Title, ": ")
	return about
}

// Every choice of a field can be chosen in words, once, and where it may be left open that
// too.
func TestQuestionsHaveEveryChoice(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	counted := 0
	for _, q := range append(handQuestions(a.session.Doc), buildQuestions...) {
		field := map[string]string{"where from": "hand.meter.origin", "out of its set": "hand.meter.removed", "what it shows": "hand.shows"}[q.about]
		if field == "" {
			continue
		}
		counted++
		want := slices.Clone(model.Builds.Field(field).Choices)
		if q.about == "where from" {
			want = append(want, "")
		}
		var values []string
		for _, c := range q.choices(&answers{}) {
			values = append(values, c.value)
		}
		assert.ElementsMatch(t, want, values, field)
	}
	assert.Equal(t, 5, counted)
}

// What can be hurt by a meter of each origin stands in whole sentences, at once, at every
// size: the gravest caution of the table.
func TestCautionOfAnOriginAtOnce(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := asked(size[0], size[1])
		for _, c := range meterQuestions[0].choices(nil) {
			e, ok := a.front.Chosen()
			require.True(t, ok)
			require.Equal(t, c.text, e.Text)
			b := &model.Build{Hands: []model.Hand{{Meter: model.Meter{Origin: c.value}}}}
			found := caution.At(b, model.Builds.Field("hand.meter.origin"), 0)
			if c.value == "new" {
				assert.Empty(t, found)
			} else {
				require.NotEmpty(t, found, c.text)
				assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("⚠ "+found[0].Text), "%s at %v", c.text, size)
				assert.Contains(t, a.Plain(), "F5 has", "%s at %v", c.text, size)
			}
			press(a, "down")
		}
	}
	a := New(Options{Fresh: true, At: teatime, ASCII: true})
	a.Update(windowSize(80, 24))
	press(a, "down", "down")
	assert.Contains(t, a.Plain(), "!! Never take a meter out of a live panel.")
}

// F5 in a question has all its cautions, F1 the keys; both come back to what was typed.
func TestHelpInAQuestion(t *testing.T) {
	a := asked(80, 24)
	press(a, "down", "down", "f5")
	assert.Contains(t, a.Plain(), "Never take a meter out of a live panel.")
	assert.Contains(t, a.Plain(), "A current transformer opened while current flows")
	press(a, "x")
	e, _ := a.front.Chosen()
	assert.Equal(t, "Out of a mains set or panel", e.Text, "as it was chosen")
	press(a, "up", "enter", "enter", "30", "f1")
	assert.Contains(t, a.Plain(), "value up")
	press(a, "esc")
	assert.Equal(t, "full scale", title(a))
	assert.Equal(t, "30", typedIn(a))
	press(a, "f5")
	whole := strings.ReplaceAll(uitest.Squeezed(a.Plain()), "│", "")
	for _, want := range []string{"1. Have the meter in hand", "a fresh 1.5 V cell, a resistor of 1 MΩ and the meter in a row: no more than 1.8 µA flow", "470 kΩ, 220 kΩ, 100 kΩ"} {
		assert.Contains(t, whole, uitest.Squeezed(want))
	}
	press(a, "x")
	assert.Equal(t, "30", typedIn(a))
	press(a, "0", " uA", "enter", "f5") // half of 300 µA takes 1.7 V/150 µA = 11.3 kΩ or more, of E3 22 kΩ: derived
	assert.Contains(t, strings.ReplaceAll(uitest.Squeezed(a.Plain()), "│", ""), uitest.Squeezed("a resistor of 22 kΩ and the meter in a row"))
	press(a, "x", "ctrl+q")
	assert.Equal(t, front.Editing, a.front.Mode)
}

// Esc goes one question back, and out at the first; what was typed comes back on the way,
// finished or not.
func TestBackThroughTheQuestions(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	text := a.Text()
	press(a, "f2", "New build", "enter", "down", "down", "enter", "down", "enter", "100 V", "enter", "250 uA", "enter", "4")
	for _, want := range [][2]string{{"coil", "4"}, {"full scale", "250 uA"}, {"its dial", "100 V"}, {"out of its set", ""}, {"where from", ""}} {
		assert.Equal(t, want[0], title(a))
		assert.Equal(t, want[1], typedIn(a), want[0])
		press(a, "esc")
	}
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Equal(t, text, a.Text())

	press(a, "f2", "New build", "enter", "down", "down", "enter", "down", "enter", "100 V", "enter", "250 uA", "enter", "4", "esc", "esc", "esc", "esc")
	e, _ := a.front.Chosen()
	assert.Equal(t, "Out of a mains set or panel", e.Text, "as it was answered")
	press(a, "enter")
	e, _ = a.front.Chosen()
	assert.Equal(t, "Yes, it is", e.Text, "as it was answered")
	press(a, "enter")
	for _, want := range [][2]string{{"its dial", "100 V"}, {"full scale", "250 uA"}, {"coil", "4"}, {"rail", "5 V ±1 %"}, {"cells", ""}} {
		assert.Equal(t, want[0], title(a))
		assert.Equal(t, want[1], typedIn(a), want[0])
		if want[0] == "coil" {
			press(a, "end", "7")
		}
		press(a, "enter")
	}
	m := a.session.Doc.Build.Hands[0].Meter
	assert.Equal(t, []string{"mains", "yes", "100 V"}, []string{m.Origin, m.Removed, m.Marked})
	assert.InDelta(t, 250e-6, m.FullScale.Number, 1e-15)
}

// Whether it is out of its set is asked where that can hurt, and only then stands in the
// file; a meter that is not out is not measured.
func TestOutOfItsSetIsAskedWhereItHurts(t *testing.T) {
	for k, c := range meterQuestions[0].choices(nil) {
		a := asked(80, 24)
		press(a, slices.Repeat([]string{"down"}, k)...)
		press(a, "enter")
		hurts := c.value == "mains" || c.value == "high voltage" || c.value == "vehicle"
		assert.Equal(t, hurts, title(a) == "out of its set", c.text)
	}
	a := asked(80, 24)
	press(a, "down", "down", "enter", "enter", "enter", "f5")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("taking it out is for licensed practice, by local codes"))
	assert.NotContains(t, a.Plain(), "1 MΩ")
	press(a, "x", "esc", "esc", "esc", "up", "enter") // it was bought new after all
	press(a, "enter", "500 uA", "enter", "640", "enter", "enter", "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.Contains(t, a.Text(), `origin = "new"`)
	assert.NotContains(t, a.Text(), "removed")
}

// Who does not know a reading yet gets a usual one, marked, and is told to measure before
// power; a plug-in supply is chosen in words, with its caution.
func TestNewBuildOfAnUnknownMeter(t *testing.T) {
	a := asked(80, 24)
	press(a, "enter", "enter", "enter")
	assert.Contains(t, a.front.Prompt.Problem, "↓ chooses: I don't know yet.", "nothing is taken for not knowing")
	press(a, "down", "enter", "down", "enter")
	assert.Equal(t, "rail", title(a))
	press(a, "down")
	assert.Contains(t, a.Plain(), "A plug-in 5 V supply")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("Local codes decide."))
	press(a, "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("the full scale and the coil too: measure before you buy parts or connect the meter"))
	b := a.session.Doc.Build
	assert.InDelta(t, 1e-3, b.Hands[0].Meter.FullScale.Number, 1e-12)
	assert.Zero(t, b.Battery.Cells)
	assert.Equal(t, "none", b.Converter.Kind)
	assert.Regexp(t, `Coil +\?\[?100 Ω`, a.Plain())
	assert.Regexp(t, `Full scale +\?1 mA`, a.Plain())
	for _, f := range a.session.Report.Findings {
		assert.NotEqual(t, "battery", strings.Split(f.Field, ".")[0], f.Text)
	}
}

// A question for a text looks like a place to type, with other answers below it or none; a
// current that the dial says is what stands in for the full scale.
func TestTheDialIsAPlaceToType(t *testing.T) {
	a := asked(80, 24)
	press(a, "enter")
	require.Equal(t, "its dial", title(a))
	assert.Regexp(t, `│▸ +││`, a.Plain())
	press(a, "0-500 uA")
	assert.Contains(t, a.Plain(), "│▸0-500 uA")
	press(a, "enter", "down")
	assert.Regexp(t, `▸I don't know yet +500 µA for now`, a.Plain())
	press(a, "enter")
	assert.Contains(t, uitest.Squeezed(strings.ReplaceAll(a.Plain(), "│", "")), uitest.Squeezed("The resistance of the coil alone, not of the"))
	assert.Contains(t, a.Plain(), "200 Ω for now") // 0.1 V/500 µA
}

// What feeds a rail is asked where it is no plug-in supply: every cell that can, how many,
// and what stands behind them. It is not marked as assumed; who does not know goes on.
func TestNewBuildAsksForTheCells(t *testing.T) {
	a := asked(80, 24)
	press(a, newMeter("500 uA", "640")...)
	press(a, "enter")
	require.Equal(t, "cells", title(a))
	e, _ := a.front.Chosen()
	assert.Equal(t, dontKnow, e.Text)
	for _, cell := range model.Builds.Field("battery.cell").Choices {
		press(a, "down")
		e, _ = a.front.Chosen()
		assert.Equal(t, cell, e.Text)
		assert.Equal(t, strings.HasPrefix(cell, "Li-ion"), strings.Contains(e.Danger, "Li-ion"), e.Danger)
	}
	press(a, "home", "down", "enter")
	require.Equal(t, "how many", title(a))
	assert.Contains(t, a.Plain(), "▸Three and a step-up")
	press(a, "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	b := a.session.Doc.Build
	assert.Equal(t, "alkaline AA", b.Battery.Cell)
	assert.Equal(t, 3, b.Battery.Cells)
	assert.Equal(t, "boost", b.Converter.Kind)
	for _, path := range []string{"battery.cell", "battery.cells", "converter.kind"} {
		assert.Empty(t, a.session.Doc.Mark(model.Builds.Field(path), 0), path)
	}

	a = asked(80, 24)
	press(a, newMeter("500 uA", "640")...)
	press(a, "3.3", "enter", "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.NotEmpty(t, a.session.Doc.Mark(model.Builds.Field("battery.cells"), 0))
}

// A further hand asks what it shows and of its meter, proposes what the build lacks, and is
// one step of undo.
func TestAddAHand(t *testing.T) {
	text := exampleText(t, "reading-room")
	a := open(text, 80, 24)
	press(a, "f2", "Add a hand", "enter")
	e, _ := a.front.Chosen()
	assert.Equal(t, "Minutes", e.Text, "hours there are")
	press(a, "f5")
	assert.Contains(t, a.Plain(), model.Builds.Field("hand.shows").Help)
	press(a, "x", "down", "enter", "esc")
	e, _ = a.front.Chosen()
	assert.Equal(t, "Seconds", e.Text)
	press(a, "up", "enter")
	assert.Equal(t, "minutes", typedIn(a))
	press(a, "hours", "enter")
	assert.NotEmpty(t, a.front.Prompt.Problem, "there is one of this name")
	press(a, "ctrl+u", "minutes", "enter", "down", "enter")
	press(a, newMeter("500 uA", "200")...)
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	require.Len(t, a.session.Doc.Build.Hands, 2)
	h := a.session.Doc.Build.Hands[1]
	assert.Equal(t, []string{"minutes", "60 min"}, []string{h.Name, h.Shows})
	assert.Positive(t, h.Drive.Fixed.Number)
	assert.Equal(t, 1, a.session.Hand, "it is in view")
	for _, f := range a.session.Report.Findings {
		assert.False(t, f.About == "minutes" && f.Severity.String() == "fault", f.Text)
	}
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	press(a, "f2", "Add a hand", "enter", "esc")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Equal(t, text, a.Text())
}

// A further hand may have a meter like that of another: then nothing is typed again; another
// is from where the first one is.
func TestAddAHandLikeAnother(t *testing.T) {
	a := open(modeltest.With(t, exampleText(t, "reading-room"), "hand.hours.meter.origin", "vehicle", "hand.hours.meter.removed", "yes"), 80, 24)
	press(a, "f2", "Add a hand", "enter", "enter", "enter")
	require.Equal(t, "its meter", title(a))
	assert.Contains(t, a.Plain(), "▸A meter like that of hours")
	press(a, "enter")
	require.Equal(t, "out of its set", title(a), "this one may hang in it still")
	press(a, "enter")
	require.Equal(t, front.Editing, a.front.Mode)
	was, is := a.session.Doc.Build.Hands[0].Meter, a.session.Doc.Build.Hands[1].Meter
	assert.Equal(t, "no", is.Removed)
	is.Removed = was.Removed
	assert.Equal(t, fmt.Sprint(was), fmt.Sprint(is), "NaN, too, is equal here")
	press(a, "ctrl+z", "f2", "Add a hand", "enter", "enter", "enter", "down", "enter")
	require.Equal(t, "where from", title(a))
	e, _ := a.front.Chosen()
	assert.Equal(t, "Out of a vehicle", e.Text)
}

// A hand is added to a build that cannot be read whole, and to none that cannot be at all.
func TestAddAHandToABadBuild(t *testing.T) {
	a := open(strings.Replace(exampleText(t, "reading-room"), `"5 V ±1 %"`, `"5 kg"`, 1), 80, 24)
	press(a, "f2", "Add a hand", "enter", "enter", "enter", "down", "enter")
	press(a, newMeter("500 uA", "200")...)
	assert.Len(t, a.session.Doc.Build.Hands, 2)
	assert.Len(t, a.session.Doc.Problems, 1)
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("are still to be chosen, once every value can be read: mend Rail."))
	a = open("[[hand]]\nname = \"hours\"\n[", 80, 24)
	press(a, "f2", "Add a hand", "enter")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.NotEmpty(t, a.notice.Text)
}

// A comma in an answer that may part thousands is told of before the answer is taken, and
// one key makes it what else it may mean. What is refused is told of as it was typed.
func TestACommaInAnAnswer(t *testing.T) {
	a := asked(80, 24)
	press(a, "enter", "enter", "1,200", "enter")
	require.Equal(t, "full scale", title(a), "1.2 µA could be one, but is told of")
	assert.Equal(t, "1,200 µA is 1.2 µA: the comma is the decimal sign. F3 makes it 1200 µA. enter again takes it as it is.", a.front.Prompt.Problem)
	press(a, "f3")
	assert.Equal(t, "1200 µA", typedIn(a))
	assert.Empty(t, a.front.Prompt.Problem)
	press(a, "enter", "1,200", "enter")
	require.Equal(t, "coil", title(a), "1.2 Ω could be one, but is told of")
	assert.Equal(t, "1,200 Ω is 1.2 Ω: the comma is the decimal sign. F3 makes it 1200 Ω. enter again takes it as it is.", a.front.Prompt.Problem)
	press(a, "f3", "enter", "12,000", "enter")
	require.NotEqual(t, "rail", title(a), "12 kV can not be meant")
	press(a, "enter") // what feeds it is not known yet
	given, _ := a.session.Doc.Given(model.Builds.Field("hand.meter.coil"), 0)
	assert.Equal(t, "1200 Ω ±2 %", given)
	given, _ = a.session.Doc.Given(model.Builds.Field("hand.meter.full_scale"), 0)
	assert.Equal(t, "1200 µA ±2 %", given)

	a = asked(80, 24)
	press(a, "enter", "enter", "1 mA", "enter", "1,200", "enter", "enter")
	assert.Equal(t, "rail", title(a), "it is taken when one insists")
	press(a, "esc", "f3")
	assert.Equal(t, "1200 Ω", typedIn(a))
	press(a, "f3")
	assert.Equal(t, "1200 Ω", typedIn(a))
}

// A line that is pasted where a number is asked for is answered by asking for one.
func TestPastedLineForANumber(t *testing.T) {
	line := strings.Repeat("The needle is on its last mark. ", 3)
	a := asked(80, 24)
	press(a, "enter", "enter")
	require.Equal(t, "full scale", title(a))
	a.Update(uitest.Pasted(line))
	assert.Contains(t, a.front.Prompt.Problem, "96 were given. Nothing was put in: a number, such as 0.2 mA or 200 µA, is asked for.")
	assert.Empty(t, typedIn(a))
	a = open(exampleText(t, "reading-room"), 80, 24)
	a.Update(uitest.Pasted(line))
	assert.Contains(t, a.notice.Text, "96 were given. Nothing was put in: a number, such as 4.7 kΩ or 4k7, is asked for.")
	focusOn(t, a, "hand.hours.drive.top")
	a.Update(uitest.Pasted(line))
	assert.Contains(t, a.notice.Text, "a whole number, such as 256, is asked for.")
	text, problem := model.Set(exampleText(t, "reading-room"), "rail.voltage", line)
	require.Nil(t, problem)
	problems := open(text, 80, 24).session.Doc.Problems
	require.Len(t, problems, 1)
	assert.Equal(t, "write a number, such as 3.3 V or 3V3", problems[0].Remedy)
}
