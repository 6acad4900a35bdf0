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
	"example.com/needlewright/model/class"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// firstRun is a dashboard without a file, as it starts.
func firstRun(t testing.TB, w, h int) *App {
	t.Helper()
	a := New(Options{Text: exampleText(t, "reading-room"), Example: true, Finished: exampleText(t, "bakery"), At: teatime})
	a.Update(windowSize(w, h))
	settle(a)
	return a
}

// kitKeys answer what is asked of a kit: a meter out of old equipment of 500 µA and 640 Ω, 5 V
// from a plug-in supply.
func kitKeys() []string { return append(newMeter("500 uA", "640"), "down", "enter") }

// From the first run to a starter file: its kit has the parts that were chosen for the answers,
// and the build that was open stays whole; a pupil's walk begins at the survey.
func TestATeachersFirstRun(t *testing.T) {
	folder := t.TempDir()
	a := firstRun(t, 80, 24)
	press(a, "i teach", "enter")
	assert.Contains(t, a.Plain(), "A kit for a class")
	press(a, "enter")
	assert.Contains(t, a.Plain(), "Kit: where from")
	press(a, kitKeys()...)
	assert.Contains(t, a.Plain(), "Save the starter file")
	path := filepath.Join(folder, "starter.toml")
	news(a, press(a, path, "enter"))
	require.Equal(t, front.Paging, a.front.Mode)
	a.Update(windowSize(80, 100))
	page := oneLine(a)
	var parts []string
	for _, r := range []quantity.Value{a.session.Doc.Build.Hands[0].Drive.Fixed, a.session.Doc.Build.Hands[0].Drive.Trimmer} {
		parts = append(parts, model.PlainText(r.Number, quantity.Ohms))
	}
	for _, said := range []string{"starter.toml", "needlewright walk starter.toml", "needlewright list FOLDER", strings.Join(parts, " + ")} {
		assert.Contains(t, page, said)
	}
	a.Update(windowSize(80, 24))
	press(a, "x")
	assert.InDelta(t, 500e-6, a.session.Doc.Build.Hands[0].Meter.FullScale.Number, 1e-12, "the kit's build stays open")

	text, err := os.ReadFile(path)
	require.NoError(t, err)
	want, err := class.Starter(a.session.Doc)
	require.NoError(t, err)
	assert.Equal(t, want, string(text))
	pupil := walking(t, string(text), 80, 24)
	assert.Contains(t, pupil.Plain(), "What is this meter?")
	assert.Contains(t, oneLine(pupil), "stands as is usual, marked ?")
	assert.Equal(t, "survey", model.StageIDs[pupil.walk.Stage()])
	tap(pupil, "ctrl+z")
	assert.Equal(t, string(text), pupil.Text(), "one step of undo")
	assert.False(t, pupil.walk.IsOpen())
}

// The present build is taken for the kit, from the menu; a file that is there stays, and
// another place is asked for; so is a build that cannot be read refused.
func TestAStarterFileOfTheBuildThatIsOpen(t *testing.T) {
	a := withFile(t, exampleText(t, "station-platform"), 80, 24)
	path, before := a.session.Path, a.Text()
	begin := func() { press(a, "f2", "starter", "enter", "down", "enter") }
	begin()
	news(a, press(a, filepath.Base(path), "enter"))
	assert.Contains(t, promptText(a), "There is a file of this name already, which stays: choose another.")
	news(a, press(a, "kit", "enter"))
	require.Equal(t, front.Paging, a.front.Mode)
	assert.Contains(t, oneLine(a), "hours 220 Ω + 3.9 kΩ + 500 Ω")
	press(a, "x")
	assert.Equal(t, before, a.Text())
	assert.False(t, a.Unsaved())
	whole, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, before, string(whole))
	text, err := os.ReadFile(filepath.Join(filepath.Dir(path), "kit.toml"))
	require.NoError(t, err)
	assert.Contains(t, string(text), `coil = ""  # measure it`)

	begin()
	news(a, press(a, filepath.Join(t.TempDir(), "no", "such", "folder"), "enter"))
	assert.Contains(t, oneLine(a), "The starter file was not saved: ")
	begin()
	press(a, "ctrl+u", "enter")
	assert.Contains(t, promptText(a), "A path is needed, such as starter.toml.")
	press(a, "esc")
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "abc", "f2", "starter", "enter")
	assert.NotContains(t, a.Plain(), "The build that is open")
}

// classOf is a folder with builds of a class: sound, faulty, begun, and no build.
func classOf(t testing.TB) string {
	t.Helper()
	folder := t.TempDir()
	starter, err := class.Starter(model.Open(exampleText(t, "reading-room")))
	require.NoError(t, err)
	for name, text := range map[string]string{
		"anna.toml":   modeltest.With(t, exampleText(t, "boathouse"), "builder", "Anna"),
		"ben.toml":    modeltest.With(t, exampleText(t, "school-store"), "builder", "Ben"),
		"cleo.toml":   modeltest.With(t, starter, "builder", "Cleo"),
		"dora.toml":   "no build",
		"minute.toml": exampleText(t, "station-platform"),
		"notes.txt":   "no build",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644))
	}
	return folder
}

// A class's builds, each a row with what the command says of it; one that cannot be read says
// why, and a starter file where it stands; enter opens one.
func TestAClassOnScreen(t *testing.T) {
	folder := classOf(t)
	a := open(exampleText(t, "reading-room"), 160, 40)
	press(a, "f2", "a class", "enter")
	news(a, press(a, folder, "enter"))
	screen := a.Plain()
	assert.Contains(t, screen, "5 builds, 1 with a fault")
	for i, e := range a.front.Prompt.Entries {
		name := []string{"anna.toml", "ben.toml", "cleo.toml", "dora.toml", "minute.toml"}[i]
		text, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		row := class.RowOf(name, string(text))
		assert.Equal(t, row.Stage, e.Figures[0])
		assert.Contains(t, e.More, name+": ")
		assert.Equal(t, row.Builder, e.Figures[4])
		if row.Problem != "" {
			assert.Contains(t, e.More, row.Problem)
			continue
		}
		assert.Contains(t, e.More, row.LikelyText())
		assert.Contains(t, screen, row.LikelyText())
	}
	assert.Regexp(t, `Boathouse clock .*1/5 +Anna`, screen)
	assert.Regexp(t, `Reading-room clock +survey +begun +Cleo`, screen, "it is a starter file still")
	assert.Regexp(t, `dora\.toml +✗ unread`, screen)
	press(a, "ben", "enter")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.True(t, a.files.waiting)
	a.Update(a.session.OpenFile(filepath.Join(folder, "ben.toml"))())
	assert.Equal(t, filepath.Join(folder, "ben.toml"), a.session.Path)

	press(a, "f2", "a class", "enter")
	assert.Equal(t, folder, typedIn(a), "it is remembered")
	news(a, press(a, t.TempDir(), "enter"))
	assert.Contains(t, oneLine(a), "a build's name ends in .toml")
	press(a, "f2", "a class", "enter")
	cmd := press(a, folder, "enter")
	press(a, "esc", "esc")
	news(a, cmd)
	assert.Equal(t, front.Editing, a.front.Mode, "it was left meanwhile")
	press(a, "f2", "a class", "enter")
	news(a, press(a, filepath.Join(folder, "nowhere"), "enter"))
	assert.Contains(t, oneLine(a), "The builds cannot be listed: ")
}

// Unsaved work is asked about before one of a class is opened.
func TestAClassAsksFirst(t *testing.T) {
	folder := classOf(t)
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "alt+up")
	text := a.Text()
	press(a, "f2", "a class", "enter")
	news(a, press(a, folder, "enter"))
	press(a, "enter")
	assert.Equal(t, front.Confirming, a.front.Mode)
	press(a, "x")
	assert.Equal(t, text, a.Text())
}

func TestGoldenTeaching(t *testing.T) {
	for _, size := range uitest.Sizes {
		screen := func(name string, a *App) {
			golden(t, fmt.Sprintf("teach-%s-%dx%d", name, size[0], size[1]), a.Plain())
		}
		a := firstRun(t, size[0], size[1])
		press(a, "i teach", "enter")
		screen("kit", a)
		press(a, "enter")
		press(a, kitKeys()...)
		screen("starter", a)
		a.front.Close()
		a.front.Open(a.teach.starterPage(filepath.Join("class", "starter.toml")))
		screen("page", a)
		a.front.Close()
		home, err := os.Getwd()
		require.NoError(t, err)
		t.Chdir(classOf(t))
		press(a, "f2", "a class", "enter")
		news(a, press(a, ".", "enter"))
		t.Chdir(home)
		screen("class", a)
		press(a, "down", "down", "down")
		screen("class-unread", a)
	}
}
