package ui

import (
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/side"
)

func TestFollow(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	require.NotNil(t, press(a, "ctrl+t"))
	at := time.Date(2026, 3, 4, 9, 41, 30, 0, time.Local)
	_, next := a.Update(side.TickMsg{Round: a.side.Preview.Round, Now: at})
	assert.NotNil(t, next, "it goes on")
	assert.Contains(t, a.Plain(), " 9:41 ")
	press(a, "shift+right")
	assert.Contains(t, a.Plain(), " 9:42 ", "a key takes the time over")
	_, next = a.Update(side.TickMsg{Round: a.side.Preview.Round, Now: at})
	assert.Nil(t, next, "and the clock is followed no more")
	assert.Contains(t, a.Plain(), " 9:42 ")
}

// A tick that was on its way when the pace changed is not heeded.
func TestOldTicks(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+d")
	old := side.TickMsg{Round: a.side.Preview.Round, Now: time.Time{}}
	press(a, "ctrl+d", "ctrl+d")
	before := a.side.Preview.Seconds
	_, next := a.Update(old)
	assert.Nil(t, next)
	assert.Equal(t, before, a.side.Preview.Seconds)
}

// In a fast day the needle follows as its period and damping make it: it lags
// behind, and never jumps.
func TestFastDay(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	require.NotNil(t, press(a, "ctrl+d"))
	last := a.side.Preview.Place(0)
	largest := 0.0
	for range 24 * 60 {
		_, next := a.Update(side.TickMsg{Round: a.side.Preview.Round, Now: time.Time{}})
		require.NotNil(t, next)
		now := a.side.Preview.Place(0)
		step := now - last
		last = now
		largest = max(largest, step, -step)
	}
	assert.Contains(t, a.Plain(), "in a fast day")
	assert.Equal(t, (teatime+24*60*61)%side.DaySeconds, a.side.Preview.Seconds, "a day and some later")
	// derived: a step of 1, the jump at noon, moves a needle of 1.1 s at most
	// ω = 5.7/s, a fifth of the scale in a frame of 1/30 s
	assert.Greater(t, largest, 0.05)
	assert.Less(t, largest, 0.2)
}

// An idle dashboard asks for nothing.
func TestIdle(t *testing.T) {
	a := New(Options{Text: exampleText(t, "reading-room"), At: teatime, RecoveryFolder: t.TempDir()})
	a.Update(windowSize(80, 24))
	assert.Nil(t, a.Init())
	for _, k := range []string{"down", "tab", "shift+right", "pgdown", "f1", "x", "ctrl+l"} {
		assert.Nil(t, press(a, k), k)
	}
	assert.NotNil(t, press(a, "ctrl+p"), "the error budget is asked for once")
	for _, k := range []string{"down", "ctrl+p", "pgdown", "ctrl+p"} {
		assert.Nil(t, press(a, k), k)
	}
}

func TestMouse(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	click := func(x, y int) {
		a.Update(tea.MouseMsg{X: x, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
	}
	wheel := func(x, y int, b tea.MouseButton) {
		a.Update(tea.MouseMsg{X: x, Y: y, Button: b, Action: tea.MouseActionPress})
	}
	for y, row := range splitLines(a.Plain()) {
		if contains(row, "Full scale  ") {
			click(5, y)
			break
		}
	}
	assert.Equal(t, "hand.meter.full_scale", focusedRow(a).Field.Path)
	for x, c := range []rune(splitLines(a.Plain())[0]) {
		if c == 'B' {
			click(x, 0)
			break
		}
	}
	assert.Equal(t, "Battery", form.Panes[a.form.Pane].Name)
	click(5, 2) // a heading
	click(5, 0) // the title
	assert.Equal(t, "Battery", form.Panes[a.form.Pane].Name)

	before := a.Plain()
	wheel(50, 4, tea.MouseButtonWheelUp) // over the dial: five minutes
	assert.Contains(t, a.Plain(), " 14:30 ")
	wheel(50, 4, tea.MouseButtonWheelDown)
	assert.Equal(t, before, a.Plain())
	wheel(50, 16, tea.MouseButtonWheelDown) // over the results
	assert.Equal(t, 1, a.side.Results.Scroll)
	focusOn(t, a, "battery.cells")
	wheel(5, 10, tea.MouseButtonWheelUp) // over the form: the value
	assert.Equal(t, 4, a.session.Doc.Build.Battery.Cells)

	assert.NotNil(t, a.toggleMouse())
	assert.True(t, a.screen.mouseOff)
}

// Rows of a law's table are edited one by one; an emptied one goes, one more is
// added below the last.
func TestTables(t *testing.T) {
	a := open(exampleText(t, "harbour-office"), 80, 24)
	focusOn(t, a, "hand.hours.meter.table")
	press(a, "x") // its head takes nothing
	assert.False(t, a.Unsaved())
	press(a, "down", "down", "down", "ctrl+u", "50 % : 49 %")
	assert.Equal(t, 0.49, a.session.Doc.Build.Hands[0].Meter.Table[2].Scale) // as typed
	press(a, "down", "ctrl+u")
	assert.True(t, a.session.Stale(), "an emptied pair stays while its row has the keys")
	assert.Equal(t, 1, strings.Count(a.Plain(), "row 4"), "its problem stands once")
	press(a, "60")
	assert.Contains(t, a.Plain(), "!", "half a pair says so")
	press(a, " ", ":", "6", "0", " ", "%")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.Contains(t, a.Text(), `["60", "60 %"]`)
	press(a, "ctrl+u", "down")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.Len(t, a.session.Doc.Build.Hands[0].Meter.Table, 4)

	a = open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.table")
	for _, pair := range []string{"0:0", "50:47", "100:100"} {
		press(a, pair, "down")
	}
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.Len(t, a.session.Doc.Build.Hands[0].Meter.Table, 3)
}

// What the last edit changed comes first, as it was and as it is.
func TestChanges(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	focusOn(t, a, "hand.hours.drive.fixed")
	assert.NotContains(t, a.Plain(), "What changed")
	press(a, "ctrl+u", "7k")
	screen := a.Plain()
	assert.Contains(t, screen, "What changed")
	// derived: 8.685 kΩ are needed, as the README's session prints; less 8.2 kΩ, and less 7 kΩ
	assert.Regexp(t, `Trimmer set to +485\.0 Ω → 1\.685 kΩ ▲`, screen)
	press(a, "down", "down")
	assert.Contains(t, a.Plain(), "485.0 Ω → 1.685 kΩ ▲", "still shown after leaving the field")
	a.Update(windowSize(80, 24))
	assert.Regexp(t, `What changed +[^\n]*\n[^\n]*Likely off [^\n]*\n[^\n]*Trimmer set to +485\.0 Ω → 1\.685 kΩ ▲`, a.Plain())
	assert.Regexp(t, `Trimmer travel +48\.50 → 168\.5 % ▲`, a.Plain(), "one unit stands for both")
}
