package ui

import (
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/file"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/uitest"
)

// result is a value of the report in force.
func result(t testing.TB, a *App, id string) float64 {
	t.Helper()
	for _, r := range a.session.Report.Results {
		if r.IDOf(a.session.Report.Build, r.Index) == id {
			return r.Value
		}
	}
	require.FailNow(t, "no such result", id)
	return 0
}

// What is typed is computed at every keystroke.
func TestTypingComputes(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "4")
	// derived: 500 µA through 4 Ω, then 47 Ω
	assert.InEpsilon(t, 0.002, result(t, a, "hours.full_scale_voltage"), 1e-12)
	press(a, "7")
	assert.InEpsilon(t, 0.0235, result(t, a, "hours.full_scale_voltage"), 1e-12)
	assert.Contains(t, a.Text(), `coil = "47 Ω ±1 %"         # by half deflection`)
}

// The ways a beginner types 4.7 kΩ all mean it.
func TestWaysToType(t *testing.T) {
	for _, typed := range []string{"4k7", "4,7k", "4.7 kΩ", "4700", "4K7"} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		focusOn(t, a, "hand.hours.drive.trimmer")
		press(a, "ctrl+u", typed)
		require.False(t, a.session.Stale(), typed)
		assert.InDelta(t, 4700, a.session.Doc.Build.Hands[0].Drive.Trimmer.Number, 1e-9, typed) // derived
	}
}

// A value that cannot be read says so at its field; the last good results stay.
func TestUnreadable(t *testing.T) {
	for typed, says := range map[string]string{
		"abc": `not a number`,
		"-5":  "too small",
		"":    "must be given",
		"5 V": "voltage",
	} {
		a := open(exampleText(t, "reading-room"), 120, 40)
		focusOn(t, a, "hand.hours.meter.coil")
		before := result(t, a, "hours.full_scale_voltage")
		press(a, "ctrl+u")
		if typed != "" {
			press(a, typed)
		}
		screen := a.Plain()
		assert.Contains(t, screen, "!Coil", typed)
		assert.Contains(t, screen, says, typed)
		assert.Contains(t, screen, "mend Coil; last good results", typed)
		assert.Contains(t, screen, "320.0 mV", typed) // what stood there
		assert.Equal(t, before, result(t, a, "hours.full_scale_voltage"), typed)
		press(a, "esc")
		assert.NotContains(t, a.Plain(), "!Coil", typed)
	}
}

// An optional field that is emptied means what absent means.
func TestEmptiedOptional(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.meter.overshoot")
	press(a, "ctrl+u")
	require.False(t, a.session.Stale())
	assert.Equal(t, 1.0, result(t, a, "hours.needle_damping")) // catalogue: 1 if M = 0
	press(a, "down")
	assert.Contains(t, a.Plain(), "(0 %)")
}

func TestChoices(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.shows")
	press(a, "right")
	assert.Equal(t, "24 h", a.session.Doc.Build.Hands[0].Shows)
	press(a, "6") // the next that begins so
	assert.Equal(t, "60 min", a.session.Doc.Build.Hands[0].Shows)
	press(a, "6")
	assert.Equal(t, "60 s", a.session.Doc.Build.Hands[0].Shows)
	press(a, " ")
	assert.Equal(t, "12 h", a.session.Doc.Build.Hands[0].Shows)
	press(a, "left")
	assert.Equal(t, "60 s", a.session.Doc.Build.Hands[0].Shows)
	press(a, "z") // none begins so
	assert.Equal(t, "60 s", a.session.Doc.Build.Hands[0].Shows)
	focusOn(t, a, "converter.kind")
	press(a, "right")
	assert.Equal(t, "linear", a.session.Doc.Build.Converter.Kind)
}

func TestTimeMovesTheNeedle(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	for _, step := range []struct {
		key  string
		want string
	}{
		{"shift+right", "14:26"}, {"alt+right", "14:31"}, {"shift+up", "15:31"},
		{"shift+down", "14:31"}, {"alt+left", "14:26"}, {"shift+left", "14:25"},
	} {
		press(a, step.key)
		assert.Contains(t, a.Plain(), " "+step.want+" ", step.key)
	}
	a.side.Preview.Seconds = 0
	press(a, "shift+left")
	assert.Contains(t, a.Plain(), "23:59")
	press(a, "shift+right")
	assert.Contains(t, a.Plain(), "shows 12:00") // noon = "top"
}

// Undo goes back one visit to a field, redo forth again.
func TestUndo(t *testing.T) {
	text := exampleText(t, "reading-room")
	a := open(text, 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "7", "0", "0", "down", "ctrl+u", "1", "mA", "down")
	both := a.Text()
	assert.True(t, a.Unsaved())
	press(a, "ctrl+z")
	assert.Contains(t, a.Text(), `coil = "700 Ω ±1 %"`)
	assert.Contains(t, a.Text(), `full_scale = "500 µA ±1 %"`)
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	assert.False(t, a.Unsaved())
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	press(a, "ctrl+y", "ctrl+y")
	assert.Equal(t, both, a.Text())
}

// Undo in the middle of a visit takes back that visit.
func TestUndoWithinAVisit(t *testing.T) {
	text := exampleText(t, "reading-room")
	a := open(text, 80, 24)
	press(a, "ctrl+u", "9", "9")
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
	press(a, "ctrl+y")
	assert.Contains(t, a.Text(), `coil = "99 Ω ±1 %"`)
}

func TestSave(t *testing.T) {
	path := filepath.Join(t.TempDir(), "hall.toml")
	text := exampleText(t, "reading-room")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	_, stamp, err := file.ReadFile(path)
	require.NoError(t, err)
	a := New(Options{Path: path, Text: text, Stamp: stamp, At: teatime})
	a.Update(windowSize(80, 24))
	press(a, "ctrl+u", "650 Ω ±1 %")
	assert.Contains(t, a.Plain(), "unsaved")
	a.Update(press(a, "ctrl+s")())
	assert.NotContains(t, a.Plain(), "unsaved")
	assert.Contains(t, a.Plain(), "Saved")
	saved, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, a.Text(), string(saved))
}

// A save that fails says so and loses nothing.
func TestSaveFails(t *testing.T) {
	path := filepath.Join(t.TempDir(), "no", "such", "folder.toml")
	a := New(Options{Path: path, Text: exampleText(t, "reading-room"), At: teatime})
	a.Update(windowSize(120, 40))
	press(a, "ctrl+u", "650 Ω ±1 %")
	a.Update(press(a, "ctrl+s")())
	assert.Contains(t, a.Plain(), "Not saved to")
	assert.True(t, a.Unsaved())
	assert.Contains(t, a.Text(), `coil = "650 Ω ±1 %"`)
}

// Leaving with unsaved work asks first.
func TestLeaving(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	assert.True(t, quits(press(a, "ctrl+q")), "nothing to lose")
	press(a, "ctrl+u", "650")
	assert.False(t, quits(press(a, "ctrl+q")))
	assert.Contains(t, a.Plain(), "Changes are not saved")
	assert.False(t, quits(press(a, "x")), "any other key stays")
	assert.NotContains(t, a.Text(), "x\"", "and is not typed")
	press(a, "ctrl+q")
	assert.True(t, quits(press(a, "ctrl+q")))
}

func quits(cmd tea.Cmd) bool {
	if cmd == nil {
		return false
	}
	_, ok := cmd().(tea.QuitMsg)
	return ok
}

func TestHands(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 80, 24)
	assert.Contains(t, a.Plain(), "– hours")
	press(a, "ctrl+n")
	assert.Contains(t, a.Plain(), "25.0 min (0.0 min)")
	focusOn(t, a, "hand.minutes.meter.coil")
	press(a, "ctrl+u", "300")
	assert.InDelta(t, 300, a.session.Doc.Build.Hands[1].Meter.Coil.Number, 1e-9) // as typed
	press(a, "ctrl+n", "ctrl+n")
	assert.Contains(t, a.Plain(), "– hours")
}

// A file with problems opens; each is at its field, those without one below.
func TestOpensWithProblems(t *testing.T) {
	text := strings.Replace(exampleText(t, "reading-room"), `"640 Ω ±1 %"`, `"much"`, 1)
	a := open(text, 80, 24)
	assert.Contains(t, a.Plain(), "They appear as soon as every value can")
	assert.Contains(t, a.Plain(), "!Coil")
	press(a, "ctrl+u", "640")
	assert.Contains(t, a.Plain(), "– hours")

	a = open("format = 1\n[rail]\nvoltage = \"5 V\"\nvoltages = 3\n", 80, 24)
	assert.Contains(t, a.Plain(), "line 4: rail.voltages")
	a = open("this is not TOML", 80, 24)
	assert.Contains(t, a.Plain(), "line 1")
	press(a, "x", "down", "tab", "tab", "tab", "x", "ctrl+z") // nothing to edit, nothing lost
	assert.Equal(t, "this is not TOML", a.Text())
}

func TestHelpListsEveryKey(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		press(a, "f1")
		screen := a.Plain()
		for range 3 {
			press(a, "down")
			screen += a.Plain()
		}
		for _, b := range a.keys.All() {
			assert.Regexp(t, `[│ ]`+regexp.QuoteMeta(b.Help().Key)+` +`+regexp.QuoteMeta(b.Help().Desc)+` `, screen)
		}
		press(a, "x")
		assert.NotContains(t, a.Plain(), "Keys ─")
		assert.Equal(t, a.session.Saved, a.Text(), "the key is not typed")
	}
}

// What edits a text stands in the list of keys; any other key that text inputs know does
// nothing to it, in a field and in a prompt.
func TestEveryEditingKeyIsListed(t *testing.T) {
	const before, behind = "one ", "two"
	for _, opened := range [][]string{{"esc"}, {"f2", "Save under", "enter"}} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		focusOn(t, a, "title")
		listed := a.keys.All()
		if opened[0] != "esc" {
			listed = append(append(a.keys.Moves(), a.keys.Deletes()...), a.keys.NextPane) // tab leaves no prompt
		}
		for _, name := range lineKeys() {
			if slices.ContainsFunc(listed, func(b key.Binding) bool { return slices.Contains(b.Keys(), name) }) {
				continue
			}
			press(a, opened...)
			press(a, "ctrl+u", before+behind, "home")
			for range len(before) {
				press(a, "right")
			}
			a.Update(uitest.Pressed(name))
			press(a, "x")
			assert.Equal(t, before+"x"+behind, typedIn(a), "%v %s", opened, name)
			press(a, "esc")
		}
	}
}

// Every field of the table stands on a form, but for those of the file alone, and of the rows that the scale's pane shows.
func TestEveryFieldHasAForm(t *testing.T) {
	a := open(uitest.WithEachList(t, exampleText(t, "reading-room")), 80, 24)
	seen := map[string]bool{}
	for range form.Panes {
		for _, r := range a.form.Rows(a.form.Pane) {
			seen[r.Field.Path] = true
		}
		press(a, "tab")
	}
	for _, f := range model.Builds.Fields {
		assert.Equal(t, f.Pane != model.NoPane && f.Pane != model.ScalePane, seen[f.Path], f.Path)
	}
}
