package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/uitest"
)

// What stands in a field is marked as it is come to, and goes with the first that is
// typed; esc brings it back.
func TestTypingReplacesAValue(t *testing.T) {
	text := exampleText(t, "reading-room")
	for _, c := range []struct {
		keys []string
		want string // in the line
		file string // and in the file, with its unit and ±
	}{
		{[]string{"7"}, "7", "7 Ω ±1 %"},
		{[]string{"7", "0", "0"}, "700", "700 Ω ±1 %"},
		{[]string{"end", "0"}, "640 Ω ±1 %0", "640 Ω ±1 %0"},
		{[]string{"right", "0"}, "640 Ω ±1 %0", "640 Ω ±1 %0"},
		{[]string{"left", "delete"}, "40 Ω ±1 %", "40 Ω ±1 %"},
		{[]string{"home", "9"}, "9640 Ω ±1 %", "9640 Ω ±1 %"},
		{[]string{"backspace"}, "", ""},
		{[]string{"down", "up", "8"}, "8", "8 Ω ±1 %"},
		{[]string{"tab", "shift+tab", "8"}, "8", "8 Ω ±1 %"},
		{[]string{"end", "down", "up", "8"}, "8", "8 Ω ±1 %"},
		{[]string{"f2", "esc", "8"}, "8", "8 Ω ±1 %"},
		{[]string{"shift+right", "f1", "x", "8"}, "8", "8 Ω ±1 %"},    // nothing of that moves
		{[]string{"end", "esc", "8"}, "8", "8 Ω ±1 %"},                // as it was
		{[]string{"7", "esc", "8"}, "8", "8 Ω ±1 %"},                  // so too
		{[]string{"7", "shift+right", "5"}, "75 Ω ±1 %", "75 Ω ±1 %"}, // with its unit typing goes on where it was
		{[]string{"alt+up", "8"}, "8", "8 Ω ±1 %"},                    // a step is not typed
		{[]string{"7", "down", "ctrl+z", "8"}, "8", "8 Ω ±1 %"},       // what undo brings back neither
		{[]string{"7", "f1", "x", "5"}, "75 Ω ±1 %", "75 Ω ±1 %"},     // nor does the list of keys end the typing
	} {
		a := open(text, 80, 24)
		focusOn(t, a, "hand.hours.meter.coil")
		press(a, c.keys...)
		assert.Equal(t, c.want, typedIn(a), "%q", c.keys)
		given, _ := a.session.Doc.Given(focusedRow(a).Field, 0)
		assert.Equal(t, c.file, given, "%q", c.keys)
		press(a, "esc")
		assert.Equal(t, text, a.Text(), "%q", c.keys)
		assert.Contains(t, a.Plain(), "[640 Ω ±1 %]", "%q", c.keys)
	}
	a := open(text, 80, 24)
	press(a, "9", "ctrl+q", "x", "5")
	assert.Equal(t, "95 Ω ±1 %", typedIn(a), "nor a question")
	a = open(text, 80, 24)
	a.Update(uitest.Pasted("1k2\n"))
	assert.Equal(t, "1k2", typedIn(a), "so does a paste")
}

// A field that is gone to is shown to be marked, also without colours; once it is edited
// it is not.
func TestMarkedIsSeen(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}} {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		press(a, "down")
		assert.Regexp(t, `▸ Full scale +\[500 µA ±1 %\] `, a.Plain(), size)
		assert.Regexp(t, `│  Coil +640 Ω ±1 % `, a.Plain(), size)
		press(a, "end")
		assert.Regexp(t, `▸ Full scale +500 µA ±1 % `, a.Plain(), size)
	}
	a := open(exampleText(t, "reading-room"), 60, 20)
	before := a.View()
	assert.Contains(t, before, "\x1b[7m640 Ω ±1 %\x1b[0m", "reversed, as there is no room for signs; ECMA-48: SGR 7")
	press(a, "end")
	assert.NotContains(t, a.View(), "\x1b[7m640")
}

// The same in each prompt that begins with a text.
func TestTypingReplacesInPrompts(t *testing.T) {
	for _, c := range []struct {
		opened []string
		first  string
	}{
		{[]string{"ctrl+s"}, "clock.toml"},
		{[]string{"f2", "Save under", "enter"}, "clock.toml"},
		{append([]string{"f2", "New build", "enter"}, newMeter("500 uA", "640")...), "5 V ±1 %"},
	} {
		for key, want := range map[string]string{"p": "p", "backspace": "", "end": c.first, "home": c.first} {
			a := open(exampleText(t, "reading-room"), 80, 24)
			press(a, c.opened...)
			require.Equal(t, c.first, typedIn(a))
			assert.Contains(t, a.Plain(), "["+c.first+"]")
			press(a, key)
			assert.Equal(t, want, typedIn(a), "%v %s", c.opened, key)
			assert.NotContains(t, a.Plain(), "["+c.first+"]")
		}
	}
}

// A prompt that is called again begins anew, marked again.
func TestAPromptBeginsAnew(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+s", "end", "x", "esc", "ctrl+s", "y")
	assert.Equal(t, "y", typedIn(a))
}

// Of a pair the second value is marked: a person goes down the table with the reading
// at each current.
func TestTypingReplacesAReadingOfAPair(t *testing.T) {
	a := open(exampleText(t, "harbour-office"), 80, 24)
	focusOn(t, a, "hand.hours.meter.table")
	press(a, "down", "down")
	require.Equal(t, "25 % : 24 %", typedIn(a))
	assert.Contains(t, a.Plain(), "25 % : [24 %]")
	press(a, "2", "3", "down", "4", "7", "down")
	assert.Contains(t, a.Text(), `["25 %", "23"]`)
	assert.Contains(t, a.Text(), `["50 %", "47"]`)
	press(a, "up", "ctrl+u", "6", "0", " ", ":", " ", "5", "8")
	assert.Equal(t, "60 : 58", typedIn(a), "ctrl+u empties all of it")
	focusOn(t, a, "hand.hours.meter.coil")
	focusOn(t, a, "hand.hours.meter.table")
	for focusedRow(a).Cell < 5 {
		press(a, "down")
	}
	press(a, "8")
	assert.Equal(t, "8", typedIn(a), "one more")
	press(a, "up", "down", "0")
	assert.Equal(t, "80", typedIn(a), "a pair that is not whole is gone on with")
}

// A click gives a field the keys, one in the field that has them begins to edit there.
func TestClickEdits(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	in := layout.Inside(a.screen.layout().Form)
	click := func(label string, column int) {
		for y, row := range splitLines(a.Plain()) {
			if strings.Contains(row, label) {
				a.Update(tea.MouseMsg{X: in.Min.X + layout.LabelColumns + column, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
				return
			}
		}
		require.Fail(t, "no such field in view", label)
	}
	click("Full scale  ", 2)
	require.Equal(t, "500 µA ±1 %", typedIn(a))
	press(a, "7")
	assert.Equal(t, "7", typedIn(a))
	press(a, "esc")
	click("Full scale  ", 2) // [5|00 µA ±1 %]
	press(a, "1")
	assert.Equal(t, "5100 µA ±1 %", typedIn(a))
	click("Full scale  ", 0)
	press(a, "1")
	assert.Equal(t, "15100 µA ±1 %", typedIn(a))
	press(a, "ctrl+z")
	assert.Equal(t, exampleText(t, "reading-room"), a.Text(), "all one visit")
	press(a, "end")
	click("Full scale  ", -3)
	assert.Contains(t, a.Plain(), "[500 µA ±1 %]", "at its label it is marked again")
	click("Straightened by ", 2)
	click("Straightened by ", 2)
	press(a, "right")
	assert.NotEqual(t, exampleText(t, "reading-room"), a.Text(), "a choice is chosen")
}

// A value that is too long to be edited is not typed over.
func TestALongValueIsNotTypedOver(t *testing.T) {
	text := withTitle(t, strings.Repeat("x", megabyte))
	a := open(text, 80, 24)
	focusOn(t, a, "title")
	assert.NotContains(t, a.Plain(), "[xx")
	press(a, "a", "backspace", "end", "a")
	assert.True(t, text == a.Text())
}
