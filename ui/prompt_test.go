package ui

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/file"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/uitest"
)

// drain runs a command and what follows from it, as the program would, but for
// ticks and for leaving. It says whether the program was left.
func drain(a *App, cmd tea.Cmd) (left bool) {
	for range 20 {
		if cmd == nil {
			return false
		}
		switch msg := cmd().(type) {
		case tea.QuitMsg:
			return true
		case nil:
			return false
		case tea.BatchMsg:
			for _, c := range msg {
				left = drain(a, c) || left
			}
			return left
		default:
			if seq, ok := sequence(msg); ok {
				for _, c := range seq {
					left = drain(a, c) || left
				}
				return left
			}
			_, cmd = a.Update(msg)
		}
	}
	return false
}

// do presses keys and runs what they ask for.
func do(a *App, keys ...string) (left bool) {
	for _, k := range keys {
		_, cmd := a.Update(uitest.Key(k))
		if a.front.Mode == front.Editing && cmd != nil && isTick(k) {
			continue
		}
		left = drain(a, cmd)
	}
	return left
}

// isTick says of a typed key that its command only waits.
func isTick(k string) bool { return uitest.Key(k).Type == tea.KeyRunes }

func TestJump(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+f", "C", "O", "R")
	assert.Contains(t, a.Plain(), "Search all")
	press(a, "backspace", "backspace", "u", "r", "v")
	assert.Contains(t, a.Plain(), "Curvature")
	press(a, "enter")
	assert.Equal(t, "crystal.curvature", focusedRow(a).Field.Path)
	press(a, "ctrl+f", "x", "y", "z", "z", "enter")
	assert.Contains(t, a.Plain(), "Nothing in the list holds xyzz.")
	press(a, "esc")
	assert.Equal(t, "crystal.curvature", focusedRow(a).Field.Path)
	assert.False(t, a.Unsaved(), "what is typed in a prompt is not typed in a field")
}

// From a finding to the field that mends it, with what to do.
func TestNextFinding(t *testing.T) {
	a := open(exampleText(t, "school-store"), 120, 40)
	for i, f := range a.session.Report.Findings {
		press(a, "ctrl+g")
		if home, index, ok := a.session.Doc.Find(f.Field); ok && home.Pane != model.NoPane {
			r := focusedRow(a)
			assert.Equal(t, f.Field, r.Field.PathOf(a.session.Doc.Build, index), i)
		}
		require.NotNil(t, a.finder.advised(), i)
		assert.Equal(t, f.ID+f.About, a.finder.advised().ID+a.finder.advised().About, i)
		assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed(f.Advice), i)
	}
	press(a, "ctrl+g")
	assert.Equal(t, a.session.Report.Findings[0].ID, a.finder.advised().ID, "round again")
	press(a, "down")
	assert.Nil(t, a.finder.advised())
}

func TestMenu(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "f2", "L", "i", "g", "h", "t", "enter")
	assert.True(t, a.screen.light)
	press(a, "f2")
	for range a.front.Prompt.Entries {
		press(a, "down")
	}
	assert.Contains(t, a.Plain(), "Quit")
	assert.True(t, do(a, "enter"))
}

// Lists go by lines, by pages and to their ends; where something is typed that no line
// holds, home and end go through that. The chosen line is marked, and always in view.
func TestListsPage(t *testing.T) {
	t.Parallel()
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "station-platform"), size[0], size[1])
		for _, opened := range []string{"f2", "ctrl+f", "f6"} {
			press(a, opened)
			chosen := func() string {
				e, ok := a.front.Chosen()
				require.True(t, ok)
				row := regexp.MustCompile(`▸ *([^│]*)│`).FindStringSubmatch(a.Plain())
				require.NotNil(t, row, "%s %v: it is marked", opened, size)
				text, _, _ := strings.Cut(strings.TrimRight(row[1], " "), "  ")
				require.True(t, strings.HasPrefix(strings.TrimSpace(e.Text), strings.TrimSuffix(text, "…")), "%q is marked, %q chosen", text, e.Text)
				require.Equal(t, 1, strings.Count(a.Plain(), "▸"))
				return e.Text
			}
			first := chosen()
			press(a, "end")
			last := chosen()
			require.NotEqual(t, first, last)
			press(a, "pgdown")
			assert.Equal(t, last, chosen(), "no further")
			press(a, "home")
			assert.Equal(t, first, chosen())
			press(a, "pgup")
			assert.Equal(t, first, chosen())
			pages, lines := 0, 0
			for ; chosen() != last; pages++ {
				require.Less(t, pages, 100)
				press(a, "pgdown")
			}
			for press(a, "home"); chosen() != last; lines++ {
				require.Less(t, lines, 1000)
				press(a, "down")
			}
			assert.Greater(t, lines, 4*pages, "%s %v: a page is several lines", opened, size)
			press(a, "pgup", "pgdown")
			assert.Equal(t, last, chosen())
			press(a, "zz", "home", "y")
			assert.Equal(t, "yzz", typedIn(a))
			press(a, "end", "x")
			assert.Equal(t, "yzzx", typedIn(a))
			press(a, "esc")
		}
	}
}

// Leaving unsaved work says what becomes of it, and what the keys then do.
func TestLeavingSaysWhatIsLost(t *testing.T) {
	for _, size := range uitest.Sizes {
		for _, c := range []struct {
			keys        []string
			again, says string
		}{
			{[]string{"ctrl+q"}, "ctrl+q", "quits"},
			{[]string{"ctrl+o"}, "ctrl+o", "opens another build"},
			{[]string{"f2", "New build", "enter"}, "delete", "begins a new build"},
		} {
			a := open(exampleText(t, "reading-room"), size[0], size[1])
			press(a, "650")
			press(a, c.keys...)
			screen := strings.Join(strings.Fields(a.Plain()), " ")
			assert.Contains(t, screen, "ctrl+s saves them and "+c.says+", "+c.again+" "+c.says+" and they are lost, any other key stays.")
			assert.Contains(t, screen, c.again+" loses them")
		}
	}
}

func TestNewBuild(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "f2", "n", "e", "w", " ", "b", "enter")
	require.Equal(t, front.Asking, a.front.Mode)
	press(a, "enter", "3", "0", " V", "enter")
	press(a, "a", "b", "c", "enter")
	assert.Contains(t, a.front.Prompt.Problem, "not a number")
	press(a, "ctrl+u", "200 uA", "enter", "1k2", "enter")
	assert.Contains(t, a.Plain(), "New build: rail")
	press(a, "enter", "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	assert.InDelta(t, 1200, a.session.Doc.Build.Hands[0].Meter.Coil.Number, 1e-9)         // as typed
	assert.InDelta(t, 200e-6, a.session.Doc.Build.Hands[0].Meter.FullScale.Number, 1e-18) // as typed
	assert.Equal(t, "30 V", a.session.Doc.Build.Hands[0].Meter.Marked)
	assert.Equal(t, "salvaged", a.session.Doc.Build.Hands[0].Meter.Origin)
	assert.Empty(t, a.session.Doc.Build.Lamps, "no lamp unasked")
	assert.True(t, a.Unsaved())
	assert.Empty(t, a.session.Path)
}

// A new build does not throw away unsaved work without asking.
func TestNewBuildAsksFirst(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+u", "650", "f2", "n", "e", "w", " ", "b", "enter")
	assert.Contains(t, a.Plain(), "Changes are not saved")
	press(a, "x")
	assert.Contains(t, a.Text(), `coil = "650 Ω ±1 %"`)
}

func TestHandsAndLamps(t *testing.T) {
	text := exampleText(t, "reading-room")
	a := open(text, 80, 24)
	press(a, "f2", "C", "o", "p", "y", " ", "t", "h", "e", " ", "h", "a", "enter")
	press(a, "H", "enter")
	assert.NotEmpty(t, a.front.Prompt.Problem, "a name is small letters")
	press(a, "ctrl+u", "minutes", "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	require.Len(t, a.session.Doc.Build.Hands, 2)
	assert.Equal(t, 1, a.session.Hand)
	press(a, "f2", "R", "e", "m", "o", "v", "e", " ", "t", "h", "e", " ", "h", "a", "enter")
	require.Len(t, a.session.Doc.Build.Hands, 1)
	assert.Equal(t, text, a.Text())
	press(a, "f2", "A", "d", "d", " ", "a", " ", "l", "enter", "noon", "enter")
	assert.Len(t, a.session.Doc.Build.Lamps, 2)
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())
}

// Drains and buttons come, are renamed and go as lamps do, and a new one is at
// hand at once.
func TestDrainsAndButtons(t *testing.T) {
	text := exampleText(t, "reading-room")
	for list, label := range map[string]string{"drain": "Asleep", "button": "Pull resistor"} {
		a := open(text, 120, 40)
		press(a, "f2", "Add a "+list, "enter")
		assert.Contains(t, a.Plain(), "A name for the "+list)
		press(a, "no good", "enter")
		assert.NotEmpty(t, a.front.Prompt.Problem, "a name is small letters")
		press(a, "ctrl+u", "spare", "enter")
		require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
		assert.Equal(t, list+".name", focusedRow(a).Field.Path)
		assert.Contains(t, a.Plain(), " – spare")
		press(a, "ctrl+f", label+", sp")
		assert.Contains(t, a.Plain(), label+", spare")
		press(a, "enter")
		assert.Equal(t, label, focusedRow(a).Field.Label)
		press(a, "f2", "Rename the "+list, "enter", "other", "enter", "f2", "Copy the "+list, "enter", "third", "enter")
		assert.Equal(t, 2, session.Elements(a.session.Doc.Build, list))
		assert.Equal(t, "other", session.ElementName(a.session.Doc.Build, list, 0))
		press(a, "f2", "Remove the "+list+" third", "enter", "f2", "Remove the "+list+" other", "enter")
		assert.Equal(t, text, a.Text())
		press(a, "ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z", "ctrl+z")
		assert.Equal(t, text, a.Text())
	}
}

// A button's results say whose they are.
func TestResultsOfButtons(t *testing.T) {
	a := open(uitest.WithEachList(t, exampleText(t, "reading-room")), 200, 60)
	found := 0
	for _, s := range side.ShownResults(a.session) {
		if contains(s.Row.ID, "button.") {
			assert.Equal(t, s.Row.Label+", spare", s.Label)
			found++
		}
	}
	assert.Positive(t, found)
}

// A recovery copy is written a second after a change, and goes when it is saved.
func TestRecoveryCopy(t *testing.T) {
	keep := filepath.Join(t.TempDir(), "keep")
	a, path := onDisk(t, keep)
	press(a, "ctrl+u", "6", "5", "0")
	assert.NoDirExists(t, keep)
	_, cmd := a.Update(session.KeepMsg{})
	drain(a, cmd)
	copies, err := os.ReadDir(keep)
	require.NoError(t, err)
	require.Len(t, copies, 1)
	assert.Contains(t, read(t, filepath.Join(keep, copies[0].Name())), a.Text())
	do(a, "ctrl+s")
	copies, err = os.ReadDir(keep)
	require.NoError(t, err)
	assert.Empty(t, copies)
	assert.Equal(t, a.Text(), read(t, path))
}

func TestRescue(t *testing.T) {
	keep := filepath.Join(t.TempDir(), "keep")
	a, path := onDisk(t, keep)
	kept, err := a.Rescue()
	assert.False(t, kept)
	require.NoError(t, err)
	press(a, "ctrl+u", "650")
	kept, err = a.Rescue()
	assert.True(t, kept)
	require.NoError(t, err)
	copies, err := os.ReadDir(keep)
	require.NoError(t, err)
	assert.Len(t, copies, 1)
	press(a, "ctrl+z")
	kept, _ = a.Rescue()
	assert.False(t, kept, "nothing is unsaved any more")
	copies, _ = os.ReadDir(keep)
	assert.Empty(t, copies, "though no command has removed it yet")
	press(a, "ctrl+u", "650")
	do(a, "ctrl+q")
	assert.True(t, do(a, "ctrl+q"), "given up")
	kept, _ = a.Rescue()
	assert.False(t, kept)
	copies, _ = os.ReadDir(keep)
	assert.Empty(t, copies, "work that was given up is not offered")
	assert.NotContains(t, read(t, path), "650")
}

// Work that was found is offered; taking it up keeps the saved text for undo.
func TestOffer(t *testing.T) {
	text := exampleText(t, "reading-room")
	found := file.Copy{Text: text + "# more\n", Written: time.Date(2026, 3, 4, 17, 5, 0, 0, time.UTC)}
	a := New(Options{Text: text, At: teatime, RecoveryFolder: t.TempDir(), Found: []file.Copy{found}})
	a.Update(windowSize(80, 24))
	assert.Contains(t, a.Plain(), "4 March at 17:05")
	press(a, "enter")
	assert.Equal(t, found.Text, a.Text())
	press(a, "ctrl+z")
	assert.Equal(t, text, a.Text())

	a = New(Options{Text: text, At: teatime, Found: []file.Copy{found}})
	a.Update(windowSize(80, 24))
	press(a, "down", "enter")
	assert.Equal(t, text, a.Text())
	assert.Equal(t, front.Editing, a.front.Mode)
}

// A saving that was asked for before leaving, and then given up, is forgotten.
func TestGivenUpSaving(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+u", "650")
	do(a, "ctrl+q")
	do(a, "ctrl+s") // asks for a name
	require.Equal(t, front.Asking, a.front.Mode)
	do(a, "esc")
	path := filepath.Join(t.TempDir(), "later.toml")
	left := do(a, "ctrl+s", "ctrl+u", path, "enter")
	assert.FileExists(t, path)
	assert.False(t, left, "it was not asked to leave any more")
}

// Keys that come while a file is being written wait for it.
func TestKeysWaitForFiles(t *testing.T) {
	a, path := onDisk(t, "")
	press(a, "ctrl+u", "650 Ω ±1 %")
	_, save := a.Update(uitest.Key("ctrl+s"))
	press(a, "ctrl+q") // comes too soon
	_, cmd := a.Update(save())
	assert.True(t, drain(a, cmd), "it leaves once all is saved")
	assert.Equal(t, a.Text(), read(t, path))
}

// In a window that is too small nothing is typed, and leaving asks in sight.
func TestTooSmallIsSafe(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+u", "650")
	before := a.Text()
	a.Update(windowSize(50, 15))
	press(a, "z", "down")
	assert.Equal(t, before, a.Text())
	assert.False(t, quits(press(a, "ctrl+q")))
	assert.Contains(t, a.Plain(), "not saved")
}

// Work of a build that was given up for another is not offered later.
func TestGivenUpForANewBuild(t *testing.T) {
	keep := filepath.Join(t.TempDir(), "keep")
	a, _ := onDisk(t, keep)
	press(a, "ctrl+u", "650")
	_, cmd := a.Update(session.KeepMsg{})
	drain(a, cmd)
	do(a, "f2", "n", "e", "w", " ", "b", "enter", "delete")
	do(a, newMeter("1 mA", "1k")...)
	do(a, "enter", "enter")
	copies, err := os.ReadDir(keep)
	require.NoError(t, err)
	for _, c := range copies {
		assert.Contains(t, c.Name(), "unnamed")
	}
}

// A build begins at a path where there is no file yet.
func TestFresh(t *testing.T) {
	path := filepath.Join(t.TempDir(), "attic.toml")
	a := New(Options{Path: path, Fresh: true, At: teatime})
	a.Update(windowSize(80, 24))
	do(a, newMeter("500 uA", "640")...)
	do(a, "enter", "enter")
	require.False(t, a.session.Stale(), "%v", a.session.Doc.Problems)
	do(a, "ctrl+s")
	assert.Equal(t, a.Text(), read(t, path))
}

// What is assumed is marked, until it is typed.
func TestMarks(t *testing.T) {
	a := New(Options{Fresh: true, At: teatime})
	a.Update(windowSize(80, 24))
	do(a, newMeter("500 uA", "640")...)
	do(a, "enter", "enter")
	focusOn(t, a, "hand.hours.meter.overshoot")
	assert.Contains(t, a.Plain(), "Overshoot        ?")
	assert.Contains(t, a.Plain(), "? assumed.")
	press(a, "ctrl+u", "15")
	assert.NotContains(t, a.Plain(), "Overshoot        ?")
	assert.Regexp(t, `(?m)^overshoot += "15 %"$`, a.Text())
}

// Undo goes to the field that it changes and says what it does.
func TestUndoShowsWhatItDoes(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+u", "650", "tab", "tab", "ctrl+z")
	assert.Equal(t, "hand.meter.coil", focusedRow(a).Field.Path)
	assert.Contains(t, a.Plain(), "Undone: Coil, 650 Ω ±1 % → 640 Ω ±1 %")
}

// From a problem anywhere a key leads to its field.
func TestNextProblem(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	focusOn(t, a, "crystal.shunt")
	press(a, "ctrl+u", "x")
	press(a, "tab", "tab")
	assert.Contains(t, a.Plain(), "!Crystal")
	press(a, "ctrl+g")
	assert.Equal(t, "crystal.shunt", focusedRow(a).Field.Path)
}

// A hand that is not complete yet leaves the other dials, and plots say so.
func TestUnfinishedHand(t *testing.T) {
	d, problem := model.Open(exampleText(t, "reading-room")).Add("hand", "minutes", -1)
	require.Nil(t, problem)
	a := open(exampleText(t, "reading-room"), 120, 40)
	a.form.Replace(d)
	press(a, "ctrl+p", "ctrl+n")
	require.True(t, a.session.Stale())
	assert.Contains(t, a.Plain(), "There is nothing to draw")
	press(a, "ctrl+d", "ctrl+d", "ctrl+n")
	assert.Contains(t, a.Plain(), "shows 2:24")
}

// A result that is looked into says what it is, where its label does not; below the form in
// whole sentences.
func TestLookSaysWhatItIs(t *testing.T) {
	for _, size := range uitest.Sizes {
		a, found := open(exampleText(t, "reading-room"), size[0], size[1]), 0
		for _, r := range circuit.Results {
			if r.Help == "" {
				continue
			}
			press(a, "f6", strings.TrimSpace(r.Label))
			if e, ok := a.front.Chosen(); ok && e.Of.Result.ID == r.ID {
				assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed(r.Help), r.ID)
				found++
			}
			press(a, "esc")
		}
		assert.GreaterOrEqual(t, found, 7)
		press(a, "f6", "codes a tick")
		assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("each time that it moves it"))
	}
}
