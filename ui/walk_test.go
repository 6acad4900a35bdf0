package ui

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/keys"
	"example.com/needlewright/ui/uitest"
)

// tap gives keys, without waiting for what is worked out beside them.
func tap(a *App, keys ...string) {
	for _, k := range keys {
		a.Update(uitest.Key(k))
	}
}

// walking is a dashboard with the walk open on a text; "": on nothing.
func walking(t testing.TB, text string, w, h int) *App {
	t.Helper()
	o := Options{Text: text, At: teatime, Walk: true}
	if text != "" {
		o.Path = "clock.toml"
	}
	a := New(o)
	a.Update(tea.WindowSizeMsg{Width: w, Height: h})
	require.True(t, a.walk.IsOpen())
	return a
}

// surveyKeys answer what the first stage asks.
var surveyKeys = []string{"salv", "enter", "no", "enter", "enter", "506", "enter", "640", "enter"}

// storyKeys are those of a beginner who goes from nothing to the end, a page after another.
// Birthplace: what the pages ask, by the contract's table; the volts are those that the page
// names.
var storyKeys = [][]string{
	surveyKeys,
	{"5.02", "enter", "256", "enter", "enter", "enter", "enter"},
	{"enter", "enter"},
	{"enter", "y", "enter", "enter", "enter", "enter", "enter", "enter"},
	{"3", "enter", "alkaline D", "enter", "enter", "enter", "enter", "enter"},
	{"48 mm", "enter", "88", "enter", "enter", "y", "enter"},
	{"y", "enter"},
	{"0", "enter", ".316", "enter", ".158", "enter", "right", "right", "enter", "y", "enter"},
	{"0", "enter", "100", "enter", "49", "enter", "y", "enter"},
	{"enter", "it is a warm kitchen", "enter"},
}

// From nothing to the end, by the keys alone; then undo takes back one answer after another,
// to nothing, and redo gives all of them again.
func TestAWalkFromNothingToTheEnd(t *testing.T) {
	a := walking(t, "", 80, 24)
	begun := a.Text()
	for i, keys := range storyKeys {
		assert.Contains(t, a.Plain(), model.StageIDs[i], "stage %d", i)
		tap(a, keys...)
	}
	screen := a.Plain()
	assert.Contains(t, screen, "10 of 10 done")
	assert.Contains(t, screen, "All stages are done.")
	for _, f := range a.session.Report.Findings {
		assert.Less(t, f.Severity, judge.Fault, f.String())
	}
	done, edits := a.Text(), len(a.session.Undo)
	assert.Greater(t, edits, 25)
	for range edits {
		tap(a, "ctrl+z")
	}
	assert.Equal(t, begun, a.Text())
	for range edits {
		tap(a, "ctrl+y")
	}
	assert.Equal(t, done, a.Text())
}

// Going back takes nothing away, and what cannot be read stays in its line until it is
// mended; esc gives the line its former text first, then leaves.
func TestTheWalkLosesNothing(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, surveyKeys...)
	text := a.Text()
	tap(a, "pgup", "pgup", "pgup", "pgdown", "pgdown")
	assert.Equal(t, text, a.Text())
	assert.Contains(t, a.Plain(), "drive")
	tap(a, "abc", "enter")
	assert.Contains(t, a.Plain(), "abc")
	assert.Contains(t, a.Plain(), "is not a number")
	tap(a, "pgdown", "up", "ctrl+s")
	a.Update(tea.MouseMsg{Button: tea.MouseButtonWheelDown, Action: tea.MouseActionPress})
	a.Update(tea.MouseMsg{X: 40, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	assert.Contains(t, a.Plain(), "drive, page 1", "it is to be mended first")
	assert.Equal(t, text, a.Text())
	tap(a, "esc")
	assert.NotContains(t, a.Plain(), "abc")
	require.True(t, a.walk.IsOpen())
	tap(a, "esc")
	assert.False(t, a.walk.IsOpen())
	assert.Equal(t, text, a.Text())
}

// What is typed ticks at once, before it is taken: the rail is assumed until a key.
func TestTheWalkTicksWithTheKeys(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, surveyKeys...)
	assert.Contains(t, oneLine(a), "_ the rail is measured")
	text := a.Text()
	tap(a, "5")
	assert.Contains(t, oneLine(a), "✓ the rail is measured")
	assert.Equal(t, text, a.Text())
	tap(a, "x")
	assert.Contains(t, oneLine(a), "_ the rail is measured")
}

// turnTo turns pages until one says so.
func turnTo(t *testing.T, a *App, what, key string) {
	t.Helper()
	for range 40 {
		if strings.Contains(a.Plain(), what) {
			return
		}
		tap(a, key)
	}
	require.Contains(t, a.Plain(), what)
}

// oneLine is a screen as a text without its frames.
func oneLine(a *App) string {
	return strings.Join(strings.Fields(strings.NewReplacer("│", " ", "\u00a0", " ").Replace(a.Plain())), " ")
}

// First power is not signed before the volts fit, nor while they do not, and a yes is void
// when a part changes.
func TestFirstPowerWaits(t *testing.T) {
	a := walking(t, "", 80, 24)
	for _, keys := range storyKeys[:7] {
		tap(a, keys...)
	}
	tap(a, "pgdown", "y")
	assert.Contains(t, oneLine(a), "First: the resistor's three volts fit.")
	assert.NotContains(t, a.Text(), "first-power")
	tap(a, "pgup", "0", "enter", "1.5", "enter", ".158", "enter", "y")
	assert.NotContains(t, a.Text(), "first-power")
	tap(a, "pgup")
	assert.Contains(t, a.Plain(), "outside")
	tap(a, "down", "316", "enter", "up")
	assert.Contains(t, a.Plain(), "outside; mV meant?")
	tap(a, ".316", "enter", "enter", "y")
	assert.Contains(t, a.Text(), "first-power")
	tap(a, "esc")
	a.session.Replace(model.Open(modeltest.With(t, a.Text(), "hand.hours.drive.fixed", "9.1 kΩ ±1 %")))
	a.walk.Open()
	turnTo(t, a, "bring-up, page 2", "pgdown")
	assert.Contains(t, a.Plain(), "said before a change")
}

// "I don't know" writes what is usual, marked, and no reading or yes.
func TestTheWalkDoesNotKnow(t *testing.T) {
	a := walking(t, exampleText(t, "reading-room"), 80, 24)
	turnTo(t, a, "survey, page 2", "pgup")
	tap(a, "down", "tab")
	assert.Contains(t, a.Text(), `full_scale = "500 µA ±10 %"`)
	assert.Contains(t, a.Plain(), "assumed")
	text := a.Text()
	turnTo(t, a, "bring-up, page 2", "pgdown")
	tap(a, "tab")
	assert.Equal(t, text, a.Text())
}

// F6 shows the workings of the stage's results in turn, and closes to the page.
func TestTheWalkShowsWorkings(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, surveyKeys...)
	for _, label := range []string{"Series beside pin, stage", "Trimmer travel", "Worst overload", "Series beside pin, stage"} {
		tap(a, "f6")
		assert.Equal(t, front.Paging, a.front.Mode)
		assert.Contains(t, splitLines(a.Plain())[1], label)
		tap(a, "esc")
		assert.Contains(t, a.Plain(), "drive")
	}
}

// The first run offers the walk, the survey, a look, a finished clock and a file; esc goes to
// the example.
func TestTheFirstRun(t *testing.T) {
	first := func() *App {
		a := New(Options{Text: exampleText(t, "reading-room"), Example: true, Finished: exampleText(t, "bakery"), At: teatime})
		a.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
		return a
	}
	a := first()
	assert.Contains(t, a.Plain(), "▸I have a meter")
	tap(a, "enter")
	assert.Contains(t, a.Plain(), "What is this meter?")
	a = first()
	tap(a, "down", "enter")
	assert.True(t, a.survey.IsOpen())
	a = first()
	tap(a, "down", "down", "down", "enter")
	assert.Contains(t, a.Plain(), "10 of 10 done")
	assert.False(t, a.Unsaved())
	a = first()
	tap(a, "esc")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Contains(t, a.Plain(), "This is an example.")
}

// The pages at every size; the caution stands whole, and so does what is asked.
func TestGoldenWalk(t *testing.T) {
	for _, size := range uitest.Sizes {
		screen := func(name string, a *App) { golden(t, fmt.Sprintf("walk-%s-%dx%d", name, size[0], size[1]), a.Plain()) }
		a := New(Options{Text: exampleText(t, "reading-room"), Example: true, Finished: exampleText(t, "bakery"), At: teatime})
		a.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
		a.session.AdviseNow()
		screen("first", a)
		a = walking(t, "", size[0], size[1])
		for _, keys := range storyKeys {
			stage := a.Plain()
			id := model.StageIDs[a.walk.Stage()]
			switch id {
			case "survey", "drive", "time", "bring-up", "build":
				screen(id, a)
			}
			checkWhole(t, a, stage)
			tap(a, keys...)
		}
		screen("done", a)
		a = walking(t, modeltest.With(t, exampleText(t, "bakery"), "hand.hours.drive.fixed", "11 kΩ ±1 %"), size[0], size[1])
		screen("again", a)
		tap(a, "f5")
		screen("words", a)
	}
}

// checkWhole holds a page to all that must not be cut.
func checkWhole(t *testing.T, a *App, screen string) {
	t.Helper()
	squeezed := uitest.Squeezed(oneLine(a))
	for _, text := range a.walk.MustStand() {
		assert.Contains(t, squeezed, uitest.Squeezed(text), screen)
	}
}

// Whatever keys come, the document stays one that can be read, the page can be drawn, and
// undo leads back to where the walk began. Birthplace: laws.
func TestAnyKeysInTheWalk(t *testing.T) {
	keys := []string{"enter", "enter", "enter", "up", "down", "pgup", "pgdown", "tab", "left", "right", " ", "backspace", "ctrl+u", "ctrl+z", "ctrl+y", "y", "n", "s", "m", "0", "5", "1.5", "640", "9 V", "x", "%", "yes", "esc"}
	for seed := range uint64(3) {
		random := rand.New(rand.NewPCG(seed, 15))
		a := walking(t, []string{"", exampleText(t, "bakery"), exampleText(t, "station-platform")}[seed], 80, 24)
		begun := a.Text()
		for range 250 {
			tap(a, keys[random.IntN(len(keys))])
			require.Empty(t, a.session.Doc.Problems)
			require.NotEmpty(t, a.Plain())
			if !a.walk.IsOpen() {
				a.walk.Open()
			}
		}
		for len(a.session.Undo) > 0 {
			tap(a, "esc", "ctrl+z")
		}
		assert.Equal(t, begun, a.Text())
	}
}

// What the walk was told of the meter, the survey does not ask again: it goes on at the first
// question that is not answered, with the dial's words there to be taken.
func TestTheSurveyKnowsWhatTheWalkWasTold(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, "salv", "enter", "no", "enter", "30 V", "enter", "alt+s")
	screen := a.Plain()
	assert.Contains(t, screen, "does the needle swing free")
	assert.Contains(t, screen, "question 3")
	tap(a, "enter", "free", "enter", "0 %", "enter")
	assert.Contains(t, a.Plain(), "30 V")
	tap(a, "shift+tab", "shift+tab", "shift+tab")
	assert.Contains(t, a.Plain(), "painted so that they glow", "it can be gone back to")
}

// Paint that glows ends the work: it says so on each page, nothing goes on from its first, and
// nothing is signed.
func TestTheWalkStopsAtWhatCanHurt(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, "salv", "enter", "yes", "enter", "enter")
	assert.Contains(t, a.Plain(), "survey, page 1")
	assert.Contains(t, oneLine(a), "✗ Stop: the paint may be radium.")
	turnTo(t, a, "build", "pgdown")
	assert.Contains(t, oneLine(a), "✗ Stop: the paint may be radium.")
	tap(a, "y")
	assert.NotContains(t, a.Text(), "parts-ticked")
}

// Readings of the resistor in the meter's place that are from before a part was changed do not
// count: they are read again, whatever they come to, and what was read stays in the file.
func TestTheWalkReadsAgainAfterAChange(t *testing.T) {
	a := walking(t, "", 80, 24)
	for _, keys := range storyKeys {
		tap(a, keys...)
	}
	tap(a, "esc")
	a.session.Replace(model.Open(modeltest.With(t, a.Text(), "hand.hours.drive.fixed", "9.53 kΩ ±1 %")))
	a.walk.Open()
	turnTo(t, a, "bring-up, page 1", "pgup")
	assert.Equal(t, 3, strings.Count(a.Plain(), "before a change"))
	text := a.Text()
	tap(a, "enter", "enter", "enter", "y")
	assert.Equal(t, text, a.Text(), "nothing is signed, and nothing forgotten")
	assert.Contains(t, oneLine(a), "First: drive, which is not done.")
	before := a.session.Doc.Build.Readings
	tap(a, "pgup", "0.1 mV", "enter")
	assert.Equal(t, 2, strings.Count(a.Plain(), "before a change"))
	want := append(slices.Clone(before), model.Reading{At: "hours.dummy_voltage_zero", Value: "0.1 mV", Before: "no"})
	want[0].Before = "yes"
	assert.Equal(t, "hours.dummy_voltage_zero", before[0].At)
	assert.Equal(t, want, a.session.Doc.Build.Readings, "the one before stays, as such")
}

// Who comes back to a build in the middle of its walk is told where it stands; of one that is
// done, or has none, nothing is said.
func TestComingBackToTheWalk(t *testing.T) {
	a := walking(t, "", 80, 24)
	for _, keys := range storyKeys[:2] {
		tap(a, keys...)
	}
	for text, want := range map[string]bool{a.Text(): true, exampleText(t, "bakery"): false, exampleText(t, "reading-room"): false} {
		b := New(Options{Text: text, Path: "clock.toml", At: teatime})
		b.Update(tea.WindowSizeMsg{Width: 80, Height: 24})
		assert.Equal(t, want, strings.Contains(oneLine(b), "The walk stands at “What counts the seconds”, 3 of 10 done: F2, The walk, goes on there."), oneLine(b))
	}
}

// What keeps a stage from being done is said with what would mend it, and a key takes that. A
// full scale that is known within 8 % alone leaves no resistor that both protects and reaches
// it, which is said; a resistor that somebody chose too small is mended.
func TestTheWalkMends(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, "salv", "enter", "no", "enter", "enter", "202 ±8 %", "enter", "654 ±2 %", "enter")
	tap(a, "4.962", "enter", "256", "enter")
	turnTo(t, a, "drive, page 2", "pgdown")
	screen := oneLine(a)
	assert.Contains(t, screen, "Pin stuck high, trimmer at zero")
	assert.Contains(t, screen, "_ no overload")
	assert.Contains(t, screen, "Full scale is known within ±8.00 % alone")

	turnTo(t, a, "survey, page 2", "pgup")
	tap(a, "down", "202 ±1 %", "enter")
	turnTo(t, a, "drive, page 2", "pgdown")
	assert.Contains(t, oneLine(a), "✓ no overload", "the resistor follows what is known")
	tap(a, "18k", "enter")
	assert.Contains(t, oneLine(a), "_ no overload")
	tap(a, "f3")
	assert.Contains(t, oneLine(a), "✓ no overload")
	tap(a, "f3")
	assert.Contains(t, oneLine(a), "Nothing is offered on this page.")
	tap(a, "ctrl+z")
	assert.Contains(t, oneLine(a), "_ no overload", "one step of undo")
}

// What the survey is told of paint that glows stands in the walk too, however the survey ends.
func TestTheWalkHearsOfTheSurvey(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, "alt+s", "down", "down", "enter", "down", "down", "enter")
	assert.Contains(t, oneLine(a), "✗ Stop. The paint may be radium.")
	tap(a, "esc")
	require.True(t, a.walk.IsOpen())
	assert.Contains(t, oneLine(a), "✗ Stop: the paint may be radium.")
	assert.Contains(t, a.Text(), `glow = "yes"`)
	assert.Contains(t, a.Text(), `origin = "salvaged"`)
}

// F1 lists the keys as they are on the pane that is open, and leaves out what is not there.
func TestKeysOfThePane(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, "f1")
	assert.Contains(t, a.Plain(), "take it, go on")
	assert.Contains(t, a.Plain(), "leave the walk")
	assert.NotContains(t, a.Plain(), "a fast day")
	tap(a, "x", "esc", "alt+s", "f1")
	assert.Contains(t, a.Plain(), "leave it")
	assert.NotContains(t, a.Plain(), "undo")
	a = open(exampleText(t, "reading-room"), 120, 40)
	tap(a, "f1")
	assert.Contains(t, a.Plain(), "take the offer")
	tap(a, "x")
	for !a.bench.IsOpen() {
		tap(a, "tab")
	}
	tap(a, "f1")
	assert.Regexp(t, `F3 +to plan`, a.Plain())
	assert.Regexp(t, `F6 +causes`, a.Plain())
	assert.NotContains(t, a.Plain(), "take the offer")
}

// What was refused is marked: what is typed next takes its place, and cursor keys edit it.
func TestWalkRefusedIsTypedAnew(t *testing.T) {
	a := walking(t, "", 80, 24)
	tap(a, surveyKeys...)
	tap(a, "5.0zz", "enter")
	require.Contains(t, a.Plain(), "5.0zz")
	tap(a, "5.02", "enter")
	assert.Contains(t, a.session.Doc.Text, `voltage = "5.02 V ±1 %"`)
	a = walking(t, "", 80, 24)
	tap(a, surveyKeys...)
	tap(a, "5.02zz", "enter", "end", "backspace", "backspace", "enter")
	assert.Contains(t, a.session.Doc.Text, `voltage = "5.02 V ±1 %"`)
}

// Who leaves the walk comes back to the page that was left; another build begins at its own.
func TestTheWalkComesBackToItsPage(t *testing.T) {
	a := walking(t, "", 80, 24)
	for _, keys := range storyKeys[:5] {
		tap(a, keys...)
	}
	turnTo(t, a, "dial, page 1", "pgdown")
	tap(a, "esc")
	assert.Contains(t, a.Plain(), "F2, The walk, comes back to this page.")
	tap(a, "f2", "The walk", "enter")
	assert.Contains(t, a.Plain(), "dial, page 1")
	tap(a, "pgdown", "esc", "f2", "The walk", "enter")
	assert.Contains(t, a.Plain(), "dial, page 2")
	tap(a, "esc")
	a.walkFromNothing("")
	assert.Contains(t, a.Plain(), "survey, page 1")
}

// Where it is written up, F6 has what is still found in full, and how far the hand is off stands
// there.
func TestTheWriteUpTellsAll(t *testing.T) {
	a := walking(t, exampleText(t, "bakery"), 80, 24)
	turnTo(t, a, "write-up", "pgdown")
	assert.Regexp(t, `A month after it was set: hours likely within 12\.0 min, \d+\.\d min at worst\.`, oneLine(a)) // as check and list print it
	tap(a, "f6")
	page := oneLine(a)
	for _, f := range a.session.Report.Findings[:2] {
		assert.Contains(t, page, f.Text)
	}
}

// No list of keys is cut at the usual size.
func TestListsOfKeysAreWhole(t *testing.T) {
	k := keys.New()
	for _, all := range [][]key.Binding{k.AllWalking(), k.AllSurveying(), k.AllAt(k.Bench), k.AllAt(k.Scale)} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		a.front.ListKeys(all)
		for _, row := range strings.Split(a.Plain(), "\n") {
			assert.False(t, strings.HasPrefix(row, "│") && strings.Contains(row, "…"), row)
		}
	}
}
