package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/file"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// onDisk is a build in a file of its own, and a dashboard on it.
func onDisk(t *testing.T, keep string) (a *App, path string) {
	t.Helper()
	path = filepath.Join(t.TempDir(), "hall.toml")
	text := exampleText(t, "reading-room")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	_, stamp, err := file.ReadFile(path)
	require.NoError(t, err)
	a = New(Options{Path: path, Text: text, Stamp: stamp, At: teatime, RecoveryFolder: keep})
	a.Update(windowSize(80, 24))
	return a, path
}

func read(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

// A file changed meanwhile is not overwritten without asking.
func TestChangedOnDisk(t *testing.T) {
	a, path := onDisk(t, "")
	require.NoError(t, os.WriteFile(path, []byte("# by someone else\n"), 0o600))
	press(a, "ctrl+u", "650")
	do(a, "ctrl+s")
	assert.Contains(t, a.Plain(), "changed on the disk")
	do(a, "x")
	assert.Equal(t, "# by someone else\n", read(t, path))
	assert.True(t, a.Unsaved())
	do(a, "ctrl+s", "ctrl+s")
	assert.Equal(t, a.Text(), read(t, path))
	assert.False(t, a.Unsaved())
}

func TestSaveAs(t *testing.T) {
	a, path := onDisk(t, "")
	other := filepath.Join(filepath.Dir(path), "other.toml")
	require.NoError(t, os.WriteFile(other, []byte("# another\n"), 0o600))
	do(a, "f2", "u", "n", "d", "e", "r", " ", "enter", "ctrl+u", other, "enter")
	assert.Contains(t, a.Plain(), "another file")
	assert.Equal(t, "# another\n", read(t, other))
	do(a, "ctrl+s")
	assert.Equal(t, a.Text(), read(t, other))
	assert.Equal(t, other, a.session.Path)
}

// A name that is typed over the present path stays in its folder.
func TestSaveAsANameAlone(t *testing.T) {
	for typed, want := range map[string]string{"attic": "attic.toml", "attic.txt": "attic.txt"} {
		a, path := onDisk(t, "")
		do(a, "f2", "under", "enter")
		assert.Contains(t, a.front.Prompt.Hint, "beside the present file")
		do(a, typed, "enter")
		want = filepath.Join(filepath.Dir(path), want)
		assert.Equal(t, want, a.session.Path)
		assert.Equal(t, a.Text(), read(t, want))
	}
}

func TestOpenList(t *testing.T) {
	a, path := onDisk(t, "")
	other := filepath.Join(filepath.Dir(path), "other.toml")
	require.NoError(t, os.WriteFile(other, []byte(exampleText(t, "harbour-office")), 0o600))
	do(a, "ctrl+o")
	assert.Contains(t, a.Plain(), "other.toml")
	do(a, "o", "t", "h", "enter")
	assert.Equal(t, other, a.session.Path)
	assert.Contains(t, a.Plain(), "Harbour-office")
	assert.False(t, a.Unsaved())
}

// Leaving with unsaved work: saving first leaves when it is saved.
func TestSaveAndLeave(t *testing.T) {
	a, path := onDisk(t, "")
	press(a, "ctrl+u", "650")
	do(a, "ctrl+q")
	assert.True(t, do(a, "ctrl+s"))
	assert.Equal(t, a.Text(), read(t, path))
}

// That work is not on the disk stays on the screen, whatever comes in between,
// until it is; also where the text had been saved and the file is gone since.
func TestNotSavedStays(t *testing.T) {
	for _, typed := range [][]string{{"ctrl+u", "650"}, nil} {
		a, path := onDisk(t, filepath.Join(t.TempDir(), "keep"))
		press(a, typed...)
		require.NoError(t, os.RemoveAll(filepath.Dir(path)))
		do(a, "ctrl+s")
		assert.Contains(t, a.Plain(), "Not saved to "+path[:20])
		assert.Contains(t, a.notice.Text, "there is no folder "+filepath.Dir(path))
		notice := *a.notice

		_, cmd := a.Update(session.KeepMsg{}) // a second later the recovery copy is written
		drain(a, cmd)
		assert.Equal(t, notice, *a.notice, "nothing untrue takes its place")
		assert.True(t, a.Unsaved())
		for _, key := range []string{"down", "1", "tab", "ctrl+z", "ctrl+z", "f1", "x"} {
			press(a, key)
			assert.Contains(t, a.Plain(), "! Not saved", "after %s", key)
		}
		assert.False(t, quits(press(a, "ctrl+q")), "leaving would lose it")
		press(a, "x")

		require.NoError(t, os.Mkdir(filepath.Dir(path), 0o755))
		do(a, "ctrl+s")
		assert.NotContains(t, a.Plain(), "Not saved")
		assert.Equal(t, a.Text(), read(t, path))
	}
}

// A file that is gone is told of as that: saving does not ask.
func TestGoneMeanwhile(t *testing.T) {
	a, path := onDisk(t, filepath.Join(t.TempDir(), "keep"))
	before := a.Text()
	press(a, "ctrl+u", "650")
	require.NoError(t, os.Remove(path))
	_, cmd := a.Update(session.KeepMsg{})
	drain(a, cmd)
	assert.Contains(t, a.Plain(), "no longer on the disk; saving writes it anew")
	press(a, "ctrl+z")
	assert.Equal(t, before, a.Text())
	assert.True(t, a.Unsaved(), "it is nowhere")
	do(a, "ctrl+s")
	assert.Equal(t, before, read(t, path))
}

// Keys that were typed before a question was seen are no answer to it.
func TestKeysBeforeAQuestionDoNotAnswerIt(t *testing.T) {
	a, path := onDisk(t, "")
	press(a, "ctrl+u", "650 Ω ±1 %")
	require.NoError(t, os.WriteFile(path, []byte("# by someone else\n"), 0o600))
	_, save := a.Update(uitest.Key("ctrl+s"))
	press(a, "ctrl+s", "ctrl+s")
	_, cmd := a.Update(save())
	drain(a, cmd)
	assert.Equal(t, "# by someone else\n", read(t, path))
	assert.Contains(t, a.Plain(), "overwrites it, any other key leaves it")
	do(a, "x")
	assert.Contains(t, a.Plain(), "! Not saved")
	do(a, "ctrl+s", "ctrl+s")
	assert.Equal(t, a.Text(), read(t, path))
}

// What a saving could not keep of the file is said.
func TestSavedWithANote(t *testing.T) {
	a, path := onDisk(t, "") // without a folder for recovery copies no file is written in place
	if os.Link(path, path+"2") != nil {
		t.Skip("no hard links here")
	}
	press(a, "ctrl+u", "650")
	do(a, "ctrl+s")
	assert.Contains(t, a.Plain(), "Saved")
	assert.Contains(t, a.notice.Text, "its other names (hard links) could not be kept")
	assert.False(t, a.Unsaved())
}

// ownProcess is this program's number in the name of a copy.
var ownProcess = regexp.MustCompile(fmt.Sprintf(`-%d-([0-9a-z]+)\.recovery\.toml$`, os.Getpid()))

// leaveWork is a dashboard's work, written as if its program had ended since: no
// system gives a process so large a number.
func leaveWork(t *testing.T, keep, path, text string) {
	t.Helper()
	require.NoError(t, file.RecoveryFor(keep, path).Write(text))
	entries, err := os.ReadDir(keep)
	require.NoError(t, err)
	for _, e := range entries {
		from := filepath.Join(keep, e.Name())
		require.NoError(t, os.Rename(from, ownProcess.ReplaceAllString(from, "-2147483647-$1.recovery.toml")))
	}
}

// A build that was opened from the list has its unsaved work offered as well.
func TestOpenOffers(t *testing.T) {
	keep := filepath.Join(t.TempDir(), "keep")
	a, path := onDisk(t, keep)
	other := filepath.Join(filepath.Dir(path), "other.toml")
	gone := filepath.Join(filepath.Dir(path), "gone.toml")
	text := exampleText(t, "harbour-office")
	require.NoError(t, os.WriteFile(other, []byte(text), 0o600))
	leaveWork(t, keep, other, text+"# more\n")
	leaveWork(t, keep, gone, text+"# gone\n")
	do(a, "ctrl+o", "o", "t", "h", "enter")
	require.Contains(t, a.Plain(), "Unsaved work was found")
	do(a, "enter")
	assert.Equal(t, text+"# more\n", a.Text())
	do(a, "ctrl+s")
	assert.Equal(t, text+"# more\n", read(t, other))
	do(a, "ctrl+o", gone, "enter", "enter")
	assert.Equal(t, text+"# gone\n", a.Text())
	do(a, "ctrl+s")
	assert.Equal(t, text+"# gone\n", read(t, gone))
	do(a, "ctrl+o", gone+"2", "enter")
	assert.Contains(t, a.Plain(), "Not opened: there is no such file")
}

// Of a build that has no file yet the work is offered first; who leaves it is
// asked for a new build's readings.
func TestOfferOfAFreshBuild(t *testing.T) {
	path := filepath.Join(t.TempDir(), "attic.toml")
	text := exampleText(t, "reading-room")
	fresh := func() *App {
		found := file.Copy{Text: text, Path: path, Written: time.Date(2026, 3, 4, 17, 5, 0, 0, time.UTC)}
		a := New(Options{Path: path, Fresh: true, Found: []file.Copy{found}, At: teatime, RecoveryFolder: t.TempDir()})
		a.Update(windowSize(80, 24))
		return a
	}
	a := fresh()
	do(a, "enter")
	assert.Equal(t, text, a.Text())
	assert.True(t, a.Unsaved())
	do(a, "ctrl+s")
	assert.Equal(t, text, read(t, path))
	for _, leave := range [][]string{{"down", "enter"}, {"down", "down", "enter"}} {
		a = fresh()
		do(a, leave...)
		assert.Contains(t, a.Plain(), "New build: where from")
	}
}

// Work of a file that is gone is offered where no file was given, and becomes
// that file again.
func TestOfferOfAGoneFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "attic.toml")
	found := file.Copy{Text: "title = \"Attic clock\"\n", Path: path, Written: time.Date(2026, 3, 4, 17, 5, 0, 0, time.UTC)}
	a := New(Options{Text: exampleText(t, "reading-room"), Example: true, Found: []file.Copy{found}, At: teatime, RecoveryFolder: t.TempDir()})
	a.Update(windowSize(120, 40))
	assert.Contains(t, a.Plain(), "Take up Attic clock")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("It is of "+path))
	do(a, "enter", "ctrl+s")
	assert.Equal(t, found.Text, read(t, path))
	assert.False(t, a.Unsaved())
}

// Saving a value that cannot be read says so, names the hand where there are several, and
// a key leads there; leaving by way of saving stays until that was seen.
func TestSavingWhatCannotBeRead(t *testing.T) {
	path := filepath.Join(t.TempDir(), "platform.toml")
	text := exampleText(t, "station-platform")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o600))
	_, stamp, err := file.ReadFile(path)
	require.NoError(t, err)
	a := New(Options{Path: path, Text: text, Stamp: stamp, At: teatime})
	a.Update(windowSize(80, 24))
	press(a, "ctrl+n", "abc", "down")
	assert.Contains(t, a.Plain(), "mend Coil of minutes")
	press(a, "ctrl+n", "ctrl+n")
	do(a, "ctrl+s")
	assert.Contains(t, read(t, path), `coil = "abc"`)
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed(`Saved, but Coil of minutes cannot be read: "abc" is not a number; allowed: 1 mΩ to 1 MΩ; write 4.7 kΩ or 4k7. ctrl+g goes there.`))
	press(a, "tab", "ctrl+g")
	assert.Equal(t, "hand.meter.coil", focusedRow(a).Field.Path)
	assert.Equal(t, 1, focusedRow(a).Index)

	press(a, "xyz")
	do(a, "ctrl+q")
	assert.False(t, do(a, "ctrl+s"), "it would not be seen")
	assert.Contains(t, read(t, path), `coil = "xyz"`)
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed(`Saved, but Coil of minutes cannot be read: "xyz" is not a number; allowed: 1 mΩ to 1 MΩ; write 4.7 kΩ or 4k7. ctrl+g goes there, ctrl+q leaves it so.`))
	assert.True(t, do(a, "ctrl+q"))
}
