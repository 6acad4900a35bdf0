package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// atBench is a dashboard with the bench open.
func atBench(t testing.TB, text string, w, h int) *App {
	t.Helper()
	a := open(text, w, h)
	press(a, "shift+tab")
	require.True(t, a.bench.IsOpen())
	require.NotNil(t, a.bench.Report())
	return a
}

// given are the readings of the document.
func given(a *App) []model.Reading { return a.session.Doc.Build.Readings }

// all does a command, with those that it batches and what they lead to.
func all(a *App, cmd tea.Cmd) {
	if cmd == nil {
		return
	}
	switch msg := cmd().(type) {
	case nil:
	case tea.BatchMsg:
		for _, c := range msg {
			all(a, c)
		}
	default:
		_, next := a.Update(msg)
		all(a, next)
	}
}

// What sound clocks read is worked out beside the keys when the pane opens, and anew where
// the plan changes, but not for a reading.
func TestBenchIsPreparedBesideTheKeys(t *testing.T) {
	a := New(Options{Text: exampleText(t, "reading-room"), At: teatime})
	a.Update(windowSize(80, 24))
	_, cmd := a.Update(uitest.Key("shift+tab"))
	assert.Contains(t, a.Plain(), "being worked out")
	require.NotNil(t, cmd)
	all(a, cmd)
	assert.Contains(t, a.Plain(), "Measure next: ")
	assert.Nil(t, a.bench.Seek())
	a.bench.GoToPoint("hours.needle_half")
	_, cmd = a.Update(uitest.Key("4"))
	assert.Contains(t, a.Plain(), "✗ outside", "judged with the key")
	assert.Contains(t, a.Plain(), "What it may be – weighing", "and weighed with the others beside the keys")
	a.Update(uitest.Key("7"))
	all(a, cmd)
	assert.Nil(t, a.bench.Seek(), "the latest too")
	assert.NotContains(t, a.Plain(), "weighing")
	assert.NotContains(t, a.Plain(), "working the plan out", "a reading changes no plan")
	press(a, "tab")
	focusOn(t, a, "hand.hours.meter.coil")
	_, _ = a.Update(uitest.Key("7"))
	_, cmd = a.Update(uitest.Key("shift+tab"))
	assert.Contains(t, a.Plain(), "working the plan out")
	all(a, cmd)
	assert.NotContains(t, a.Plain(), "working the plan out")
}

// From nothing: the first question is a look; a key goes to each next point.
func TestBenchGuides(t *testing.T) {
	a := atBench(t, exampleText(t, "reading-room"), 80, 24)
	named := func() string {
		place, ok := a.bench.PlaceOf(a.bench.Report().Next[0].At)
		require.True(t, ok)
		return "▸" + place.Label
	}
	assert.Contains(t, a.Plain(), "The first questions cost nothing")
	assert.Contains(t, a.Plain(), named())
	assert.Contains(t, a.Plain(), "Effort: a look.")
	press(a, "down", "down", "ctrl+g")
	assert.Contains(t, a.Plain(), named())
	a.bench.GoToPoint("hours.needle_half")
	press(a, "none", "ctrl+g") // no needle at half: the chain, the coil, the pin ...
	assert.NotContains(t, a.Plain(), "▸Needle at half")
	assert.Contains(t, a.Plain(), named())
	press(a, "ctrl+g")
	assert.Contains(t, a.notice.Text, "It is this one")
	press(a, "f6")
	assert.Equal(t, front.Paging, a.front.Mode)
	for _, want := range []string{"Series open: ", "Confirm: ", "Mend: "} {
		assert.Contains(t, a.Plain(), want)
	}
	press(a, "esc")
	a.bench.GoToPoint("rail.voltage_on")
	press(a, "f5")
	assert.Contains(t, a.Plain(), "95 % of sound clocks read")
}

// The plan's own values, read off, are a sound clock, and said to be one.
func TestBenchOfASoundClock(t *testing.T) {
	a := atBench(t, exampleText(t, "reading-room"), 80, 24)
	readings := 0
	for ; readings < 20 && len(a.bench.Report().Next) > 0; readings++ {
		press(a, "ctrl+g")
		point := a.bench.Report().Next[0].At
		for i := range a.bench.Report().Points {
			p := &a.bench.Report().Points[i]
			if p.ID != point {
				continue
			}
			if p.Words != nil {
				press(a, "right")
				break
			}
			place, _ := a.bench.PlaceOf(point)
			press(a, place.Shows(p.Value, 7))
		}
	}
	assert.Equal(t, "nothing", a.bench.Report().Causes[0].ID)
	assert.Contains(t, a.Plain(), "It is sound, as far as these readings tell.")
	assert.NotContains(t, a.Plain(), "dim: built")
}

// Undo takes a visit's reading back and shows which, from any form.
func TestBenchUndo(t *testing.T) {
	text := exampleText(t, "reading-room")
	a := atBench(t, text, 80, 24)
	a.bench.GoToPoint("hours.needle_half")
	press(a, "47 %", "down", "96 %", "tab")
	require.Len(t, given(a), 2)
	press(a, "ctrl+z")
	assert.Len(t, given(a), 1)
	assert.True(t, a.bench.IsOpen())
	assert.Contains(t, a.Plain(), "▸Needle at top")
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	press(a, "ctrl+y")
	assert.Equal(t, "47 %", given(a)[0].Value)
	press(a, "9", "esc")
	assert.Equal(t, "47 %", given(a)[0].Value, "escape brings the former back")
}

// Of a reading that measures an input the plan follows, and with it the verdict.
func TestBenchTakesOver(t *testing.T) {
	a := atBench(t, exampleText(t, "reading-room"), 80, 24)
	a.bench.GoToPoint("rail.voltage_on")
	press(a, "4.2 V")
	assert.Contains(t, a.Plain(), "✗ outside")
	assert.Contains(t, a.Plain(), "F3 → takes this reading into the plan.")
	press(a, "f3")
	assert.Contains(t, a.notice.Text, "Rail 5 V ±1 % → 4.2 V ±")
	assert.Contains(t, a.Plain(), "✓ inside")
	assert.InDelta(t, 4.2, a.session.Report.Build.Rail.Voltage.Number, 1e-12)
	press(a, "ctrl+z")
	assert.InDelta(t, 5, a.session.Report.Build.Rail.Voltage.Number, 1e-12)
	assert.Len(t, given(a), 1)
}

// The next hand comes into view at the same point.
func TestBenchOfEachHand(t *testing.T) {
	a := atBench(t, exampleText(t, "station-platform"), 80, 24)
	a.bench.GoToPoint("hours.pin_voltage_top")
	press(a, "ctrl+n")
	assert.Contains(t, a.Plain(), "Bench – minutes")
	assert.Contains(t, a.Plain(), "▸Pin at top")
	press(a, "1 V")
	assert.Equal(t, "minutes.pin_voltage_top", given(a)[0].At)
}

// The menu marks readings as before the repair, from any form.
func TestBenchMendedByMenu(t *testing.T) {
	a := open(exampleText(t, "boathouse"), 80, 24)
	press(a, "f2", "mended", "enter")
	assert.True(t, a.bench.IsOpen())
	for _, r := range given(a) {
		assert.Equal(t, "yes", r.Before)
	}
	press(a, "ctrl+z")
	for _, r := range given(a) {
		assert.NotEqual(t, "yes", r.Before)
	}
}

// The needle of the built clock stands beside the plan's: at 14:25, code 48 of 240, of a
// hand that its shunt leaves a tenth of the current.
func TestBenchNeedleAsBuilt(t *testing.T) {
	a := atBench(t, exampleText(t, "boathouse"), 80, 24)
	assert.Contains(t, a.Plain(), "14:25, dim: built")
	assert.Contains(t, a.Plain(), "plan 20.0 %")
	hand, code, ok := a.side.Code()
	require.True(t, ok)
	place, ok := a.bench.NeedleAt(hand, code)
	require.True(t, ok)
	assert.InDelta(t, 0.2*0.11, place, 0.003, "derived: read at the top as 11 %, of 20 %")
}

// A click gives a point the keys, and opens nothing else; the wheel goes through them.
func TestBenchMouse(t *testing.T) {
	a := atBench(t, exampleText(t, "reading-room"), 80, 24)
	at := func(label string) int {
		for y, line := range splitLines(a.Plain()) {
			if strings.Contains(line, label) {
				return y
			}
		}
		return -1
	}
	click := func(x, y int, b tea.MouseButton) {
		a.Update(tea.MouseMsg{X: x, Y: y, Button: b, Action: tea.MouseActionPress})
	}
	click(10, at("Needle, tapped"), tea.MouseButtonLeft)
	assert.Contains(t, a.Plain(), "▸Needle, tapped")
	click(10, 4, tea.MouseButtonWheelDown)
	assert.Contains(t, a.Plain(), "▸Needle, moving")
	click(60, 5, tea.MouseButtonWheelUp)
	assert.Contains(t, a.Plain(), " 14:30 ")
	for y := range 24 {
		for x := 0; x < 80; x += 7 {
			click(x, y, tea.MouseButtonLeft)
		}
	}
	framed(t, a)
	press(a, "shift+tab")
}

// Every key is taken at the bench, at every size and on what cannot be read, and none but
// those that edit changes the file.
func TestBenchTakesEveryKey(t *testing.T) {
	for _, text := range []string{exampleText(t, "boathouse") + "\n[[reading]]\nat = \"nowhere\"\nvalue = \"1\"\n", "x = = 1", "format = 1\n"} {
		a := open(text, 60, 20)
		for _, name := range allKeys() {
			a.front.Close()
			a.form.OpenPane(form.BenchName)
			settle(a)
			require.NotPanics(t, func() { a.Update(uitest.Pressed(name)) }, name)
			framed(t, a)
		}
	}
}
