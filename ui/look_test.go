package ui

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/spread"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/uitest"
)

// What is looked into stands beside the list with its band, its worst ends, and
// the shares that make the spread, in their order; the names are those of the
// report.
func TestLookIntoAResult(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}, {200, 60}} {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		row := resultCalled(t, a, "hand.trimmer_travel")
		press(a, "f6", "Trimmer travel")
		screen := a.Plain()
		require.Contains(t, screen, "Look into")
		assert.Contains(t, uitest.Squeezed(screen), uitest.Squeezed(row.Text()))
		beside := uitest.Squeezed(strings.Join(sideOf(a), " "))
		assert.Contains(t, beside, uitest.Squeezed(strings.ReplaceAll(row.BandText(), "…", "to")+" for 95 % of kits"))
		worst := row
		worst.Band = &spread.Band{Low: row.Band.WorstLow, High: row.Band.WorstHigh}
		assert.Contains(t, beside, uitest.Squeezed(strings.ReplaceAll(worst.BandText(), "…", "to")+" at worst"))
		require.Greater(t, len(row.Band.Shares), 3)
		at := 0
		for _, s := range row.Band.Shares[:3] {
			next := strings.Index(screen[at:], "│ "+" "+strings.TrimSpace(s.Field.Label))
			assert.Positive(t, next, "%s at %v", s.Field.Label, size)
			at += max(next, 0)
			line, _, _ := strings.Cut(screen[at:], "\n")
			assert.Contains(t, line, side.ShareText(s.Share))
		}
	}
}

// What changes a result stands below, the most first, where there is room, and is
// of the chosen one.
func TestWhatChangesAResult(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		for _, id := range []string{"hand.trimmer_travel", "battery.life_on"} {
			row := resultCalled(t, a, id)
			press(a, "f6", strings.TrimSpace(row.Label))
			_, below, found := strings.Cut(a.Plain(), "What changes it")
			require.True(t, found)
			lines := splitLines(below)[1:]
			for k, s := range a.session.Report.Sensitivities(row)[:3] {
				assert.Contains(t, lines[k], "│  "+a.side.Look.InputName(s.Input)+" ", "%s at %v", id, size)
				assert.Contains(t, lines[k], " "+s.Step+"  ")
				assert.Contains(t, lines[k], side.Signed(row, s.By)+" │")
			}
			press(a, "esc")
		}
	}
}

// resultCalled is a result of the report, of the first hand.
func resultCalled(t *testing.T, a *App, id string) spread.Row {
	t.Helper()
	for _, row := range a.session.Report.Results {
		if row.ID == id && row.Index == 0 {
			return row
		}
	}
	require.FailNow(t, "no such result", id)
	return spread.Row{}
}

// The first in the list are those of the open form's questions; enter goes to the
// field that makes most of the spread, esc back to the form as it was.
func TestLookLeadsToTheField(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	before := a.Plain()
	press(a, "f6", "down", "esc")
	assert.Equal(t, before, a.Plain())

	press(a, "tab", "tab", "f6")
	assert.Equal(t, "Rate", a.front.Prompt.Entries[0].Text)
	press(a, "Load it sees", "enter")
	row := resultCalled(t, a, "crystal.load_actual")
	require.True(t, row.Band.Moved())
	assert.Equal(t, row.Band.Shares[0].Field, focusedRow(a).Field)
	assert.Contains(t, a.Plain(), "of the spread of Load it sees")

	press(a, "f6", "PWM", "enter")
	assert.Contains(t, a.Plain(), "No tolerance moves PWM")
}

// It looks into the last good results while the text has problems, and says so
// where there are none.
func TestLookIntoStaleResults(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "abc", "f6")
	assert.Contains(t, a.Plain(), "Who makes the spread")
	assert.Contains(t, a.Plain(), "last good results")
	press(a, "esc", "ctrl+z")
	assert.False(t, a.Unsaved())

	for _, text := range []string{"x = = 1", "format = 1\n"} {
		a = open(text, 80, 24)
		press(a, "f6", "enter")
		framed(t, a)
	}
	a = open("x = = 1", 80, 24)
	press(a, "f6")
	assert.Contains(t, a.Plain(), "no results to look into")
}

// Of three hands, each is looked into by itself, and the names say whose part it is.
func TestLookIntoHands(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 120, 40)
	press(a, "ctrl+n", "f6", "Trimmer travel")
	assert.Regexp(t, `Full scale, minutes`, a.Plain())
	assert.NotContains(t, a.Plain(), "Full scale, hours")
}

// Bars and signs have their stand-ins in plain characters.
func TestViewsInASCII(t *testing.T) {
	a := New(Options{Text: exampleText(t, "reading-room"), At: teatime, ASCII: true})
	a.Update(windowSize(80, 24))
	settle(a)
	plainly := func(pattern string) {
		t.Helper()
		assert.Regexp(t, pattern, a.Plain())
		for _, r := range a.Plain() {
			require.Less(t, r, rune(0x7f))
		}
	}
	press(a, "f6")
	plainly(`Fixed resistor #+ +\d`)
	plainly(`\d to \d.* for 95 %`)
	press(a, "esc", "ctrl+r")
	plainly(`>accuracy class +#+ `)
	press(a, "ctrl+p")
	plainly(`Error over the day`)
	news(a, press(a, "f9"))
	plainly(`\d to \d+ +[0-9 ]+ #+ `)
}
