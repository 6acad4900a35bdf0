package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/whatif"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// withFile is a dashboard on a file of a text.
func withFile(t testing.TB, text string, w, h int) *App {
	t.Helper()
	path := filepath.Join(t.TempDir(), "hall.toml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	text, stamp, err := file.ReadFile(path)
	require.NoError(t, err)
	a := New(Options{Path: path, Text: text, Stamp: stamp, At: teatime})
	a.Update(windowSize(w, h))
	settle(a)
	return a
}

// Beside the form stands what differs from the file as saved, and follows the keys; undo takes
// it back, and nothing is left of it in the history. The numbers are worked by hand, by Ohm's
// law: 8.685 kΩ are needed beside coil and pin, of which a trimmer of 1 kΩ gives 485 Ω beside
// 8.2 kΩ, and would have to give 1185 Ω beside 7.5 kΩ.
func TestDiffersFromTheFile(t *testing.T) {
	a := withFile(t, exampleText(t, "reading-room"), 80, 24)
	press(a, "alt+c")
	assert.Contains(t, a.Plain(), "What differs from the file as saved")
	assert.Contains(t, besideForm(a), "Nothing differs: inputs, results and findings are alike.")
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "alt+down")
	screen := besideForm(a)
	assert.Regexp(t, `Fixed resistor 8\.2 → 7\.5 kΩ ±1 %`, screen)
	assert.Contains(t, screen, "Findings that come")
	assert.Contains(t, differAll(a), "48.50 → 118.5 %")
	undo := len(a.session.Undo)
	press(a, "alt+c", "f2", "esc")
	assert.Len(t, a.session.Undo, undo+1, "the visit alone")
	press(a, "ctrl+z")
	assert.Contains(t, besideForm(a), "Nothing differs")
	press(a, "esc")
	assert.NotContains(t, a.Plain(), "What differs")
	assert.False(t, a.Unsaved())

	press(a, "alt+up", "f2", "what differs from the f", "enter")
	assert.Contains(t, a.Plain(), "What differs from the file as saved")
	news(a, press(a, "ctrl+s"))
	assert.Contains(t, besideForm(a), "Nothing differs", "it is saved")
}

// besideForm is what stands beside the form, as one text.
func besideForm(a *App) string {
	var all []string
	for _, row := range splitLines(a.Plain()) {
		if _, right, ok := strings.Cut(row, "││"); ok {
			all = append(all, strings.Trim(right, "│ ↑↓"))
		}
	}
	return strings.Join(strings.Fields(strings.Join(all, " ")), " ")
}

// differAll is all that scrolling through what differs shows.
func differAll(a *App) string {
	var all strings.Builder
	for range 30 {
		all.WriteString(besideForm(a) + "\n")
		press(a, "pgdown")
	}
	return all.String()
}

// What stands on the page of F5 is what the command says, every line of it.
func TestDifferencesAreThoseOfTheCommand(t *testing.T) {
	text := exampleText(t, "station-platform")
	for _, size := range uitest.Sizes {
		a := withFile(t, text, size[0], size[1])
		press(a, "f2", "keep this", "enter")
		assert.Contains(t, a.Plain(), "This state is kept until")
		changed := modeltest.With(t, text, "rail.voltage", "4.5 V ±2 %", "hand.minutes.drive.fixed", "3.3 kΩ ±1 %")
		a.form.Replace(model.Open(changed))
		press(a, "alt+c")
		assert.Contains(t, besideForm(a), "the state you kept")
		press(a, "f5")
		require.Equal(t, front.Paging, a.front.Mode)
		a.Update(windowSize(size[0], 400)) // all of it at once
		page := oneLine(a)
		c := whatif.Compare(model.Open(text), model.Open(changed))
		require.NotEmpty(t, c.Results)
		require.NotEmpty(t, append(c.Come, c.Gone...))
		for i := range c.Results {
			was, is := c.Results[i].Texts()
			_, unit, _ := strings.Cut(is, " ")
			assert.Contains(t, page, strings.TrimSuffix(was, " "+unit))
			assert.Contains(t, page, "→ "+is, c.Results[i].ID)
		}
		for _, f := range append(c.Come, c.Gone...) {
			assert.Contains(t, page, strings.Join(strings.Fields(f.String()), " "))
		}
		assert.Contains(t, page, "Fixed resistor, minutes")
	}
}

// The state that was kept stays when another build is opened, and is named; the key goes from
// it to the file and back.
func TestTheKeptStateStays(t *testing.T) {
	a := withFile(t, exampleText(t, "reading-room"), 80, 24)
	press(a, "f2", "what differs from what", "enter")
	assert.Contains(t, oneLine(a), "No state was kept yet")
	press(a, "alt+c", "alt+c")
	assert.Contains(t, oneLine(a), "No state was kept yet")
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "alt+down", "f2", "keep this", "enter", "alt+up", "alt+c")
	screen := oneLine(a)
	assert.Contains(t, screen, "What differs from the file as saved", "the view was open")
	press(a, "alt+c")
	assert.Regexp(t, `What differs from the state you kept.*7\.5 → 8\.2 kΩ ±1 %`, besideForm(a))
	a.files.open("", exampleText(t, "harbour-office"), file.Stamp{})
	settle(a)
	assert.Contains(t, besideForm(a), "the state you kept (Reading-room clock)")
	press(a, "alt+c")
	assert.Contains(t, besideForm(a), "What differs from what was opened")
}

// What cannot be compared says why, and costs nothing.
func TestNothingToCompareWith(t *testing.T) {
	a := asked(80, 24)
	press(a, "esc")
	press(a, "alt+c")
	assert.Contains(t, oneLine(a), "Nothing is saved yet to compare with")
	a = withFile(t, "format = 1\n[rail]\nvoltage = \"5 W\"\n", 80, 24)
	press(a, "alt+c")
	assert.Contains(t, oneLine(a), "The file as saved cannot be compared")
	press(a, "f2", "keep this", "enter")
	assert.Contains(t, oneLine(a), "A state is kept once every value can be read")
	a = withFile(t, exampleText(t, "reading-room"), 80, 24)
	press(a, "alt+c")
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "650", "down")
	assert.Contains(t, besideForm(a), "640 → 650 Ω ±1 %")
	press(a, "up", "ctrl+u", "abc")
	assert.Contains(t, besideForm(a), "As far as it could be read last")
	assert.Contains(t, besideForm(a), "640 → 650 Ω ±1 %", "what was known stays")
}

func TestGoldenDiffers(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := withFile(t, exampleText(t, "station-platform"), size[0], size[1])
		screen := func(name string) {
			golden(t, fmt.Sprintf("differ-%s-%dx%d", name, size[0], size[1]), a.Plain())
		}
		press(a, "alt+c")
		screen("nothing")
		focusOn(t, a, "hand.hours.drive.fixed")
		press(a, "alt+up", "f2", "keep this", "enter")
		a.form.Replace(model.Open(modeltest.With(t, a.Text(), "title", "A platform of the model railway, with three hands", "rail.voltage", "4.5 V ±2 %")))
		settle(a)
		screen("kept")
		press(a, "f5")
		screen("page")
	}
}
