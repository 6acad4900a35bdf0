package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/uitest"
)

// Undo and redo mark what they changed too, the other way round.
func TestChangesOfUndo(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "ctrl+u", "7k", "ctrl+z")
	assert.Regexp(t, `Trimmer set to +1\.685 kΩ → 485\.0 Ω ▼`, a.Plain()) // as in TestChanges
	press(a, "ctrl+y")
	assert.Regexp(t, `Trimmer set to +485\.0 Ω → 1\.685 kΩ ▲`, a.Plain())
	press(a, "tab", "tab")
	require.NotContains(t, a.Plain(), "What changed")
	press(a, "ctrl+z")
	assert.Equal(t, "hand.drive.fixed", focusedRow(a).Field.Path)
	assert.Contains(t, a.Plain(), "What changed", "though it led to another form")
}

// Who goes to another form, by whatever key, sees that form's results first; the next
// edit's come first again. An edit is not missed by who has scrolled down.
func TestResultsOfTheFormGoneTo(t *testing.T) {
	for _, keys := range [][]string{{"tab"}, {"shift+tab", "shift+tab", "shift+tab", "shift+tab", "shift+tab", "shift+tab"}, {"ctrl+f", "curvature", "enter"}, {"f6", "Load it sees", "enter"}} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		focusOn(t, a, "hand.hours.drive.fixed")
		press(a, "ctrl+u", "7k", "pgdown", "pgdown")
		require.NotContains(t, a.Plain(), "What changed")
		press(a, keys...)
		require.Equal(t, "Crystal", a.form.Panes[a.form.Pane].Name, keys)
		assert.Contains(t, a.Plain(), "How fast does it drift?", keys)
		assert.NotContains(t, a.Plain(), "What changed", keys)
		press(a, "pgdown")
		focusOn(t, a, "crystal.load")
		press(a, "ctrl+u", "7")
		assert.Regexp(t, `What changed +[^\n]*\n[^\n]*→`, a.Plain(), keys)
	}
}

// A result that is pinned stays at the top, whatever form is open and however far the
// others are scrolled, and says what it was; it is not listed twice. The same key lets
// it go.
func TestPinnedResult(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		press(a, "f6", "Coil at full", "f3")
		assert.Regexp(t, `•Coil at full`, a.Plain())
		assert.Contains(t, a.Plain(), "F3 pin")
		press(a, "esc")
		for range form.Panes[:4] { // scale and bench have no results
			press(a, "pgdown", "pgdown")
			assert.Regexp(t, `•Coil.* 320\.0 mV`, a.Plain(), "640 Ω · 500 µA") // derived
			press(a, "tab")
		}
		focusOn(t, a, "hand.hours.meter.coil")
		press(a, "ctrl+u", "712")
		assert.Regexp(t, `•Coil[^│]* (320\.0 → )?356\.0 mV ▲`, a.Plain(), size) // derived: 712 Ω · 500 µA
		assert.NotRegexp(t, ` Coil at full scale +320\.0 →`, a.Plain(), "twice")
		assert.False(t, strings.Contains(a.Text(), "pin"+"ned"), "it is not in the file")
		press(a, "f6", "Coil at full", "f3", "esc")
		assert.NotContains(t, a.Plain(), "•")
	}
}

// What belongs to another result says so where it stands apart from that.
func TestPinnedAlone(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	press(a, "f6", "times full scale", "f3", "esc")
	assert.Contains(t, a.Plain(), "•Trimmer at zero, times full scale")
	focusOn(t, a, "hand.hours.drive.fixed")
	a.Update(windowSize(200, 60))
	press(a, "f6", "times full scale", "f3", "esc", "ctrl+u", "7k")
	assert.Regexp(t, ` Trimmer at zero, times full scale +\d`, a.Plain())
}

// One that is of hands is of the hand in view.
func TestPinnedResultOfAHand(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 80, 24)
	press(a, "f6", "Coil at full", "f3", "esc")
	// derived: 310 Ω and 295 Ω, 1 mA each
	assert.Regexp(t, `•Coil at full scale +310\.0 mV`, a.Plain())
	press(a, "ctrl+n")
	assert.Regexp(t, `•Coil at full scale +295\.0 mV`, a.Plain())
	a.Update(windowSize(60, 20))
	press(a, "f6", "life", "f3", "esc", "f6", "rate", "f3", "esc")
	assert.LessOrEqual(t, 1, resultRoom(a), "room is left for the others")
	framed(t, a)
}

// How far the hand in view is likely off stands first among what an edit changed, where that
// changed; undo turns it round.
func TestTheLikelyErrorStandsFirst(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		focusOn(t, a, "hand.hours.meter.class")
		was := a.session.Report.Budget(0, judge.AfterDay).RSS
		press(a, "ctrl+u", "5")
		is := a.session.Report.Budget(0, judge.AfterDay).RSS
		require.Greater(t, is, was)
		moved := strings.TrimSuffix(quantity.DialTimeIn(was, 3), " min") + " → " + quantity.DialTimeIn(is, 3)
		if size[0] == 60 {
			moved = quantity.DialTimeIn(is, 3)
		}
		line := func(s string) string { return `Likely [^│]*` + s }
		assert.Regexp(t, line(moved+" ▲"), a.Plain(), size)
		if size[0] >= 80 {
			assert.Regexp(t, `What changed[^\n]*\n[^\n]*Likely off`, a.Plain(), size)
		}
		press(a, "ctrl+z")
		assert.Regexp(t, line(quantity.DialTimeIn(was, 3)+" ▼"), a.Plain(), size)
		press(a, "tab", "down", "alt+up")
	}
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "battery.capacity")
	press(a, "ctrl+u", "9 Ah")
	require.Contains(t, a.Plain(), "What changed")
	assert.NotContains(t, a.Plain(), "Likely off", "what did not move")
}
