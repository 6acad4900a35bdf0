package ui

import (
	"os"
	"reflect"
	"strings"
	"sync"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/bench"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/uitest"
)

// teatime is the time of day on the dials of the tests: 14:25.
const teatime = 14*3600 + 25*60

// exampleText is a build of the examples folder.
func exampleText(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile("../examples/" + name + ".toml")
	require.NoError(t, err)
	return string(text)
}

// open is a dashboard of a size on a text.
func open(text string, w, h int) *App {
	a := New(Options{Text: text, At: teatime})
	a.Update(tea.WindowSizeMsg{Width: w, Height: h})
	settle(a)
	return a
}

// known are benches that many tests have, and advised what is advised on their texts; one test
// at a time adds to them.
var (
	known   = bench.Known{}
	advised = session.Known{}
	settles sync.Mutex
)

// settle waits for what is worked out beside the keys.
func settle(a *App) {
	settles.Lock()
	defer settles.Unlock()
	a.session.AdviseBy(advised)
	a.side.Views.JudgeNow()
	a.bench.PrepareNow(known)
}

// press sends keys by their Bubble Tea names, and anything else as typed text.
func press(a *App, keys ...string) tea.Cmd {
	var cmd tea.Cmd
	for _, k := range keys {
		_, cmd = a.Update(uitest.Key(k))
		settle(a)
	}
	return cmd
}

// focusOn moves to a field by its path.
func focusOn(t testing.TB, a *App, path string) {
	t.Helper()
	for range form.Panes {
		for i, r := range a.form.Rows(a.form.Pane) {
			if r.Field.PathOf(a.session.Doc.Build, r.Index) == path {
				for a.form.Focus[a.form.Pane] != i {
					press(a, "down")
				}
				return
			}
		}
		press(a, "tab")
	}
	require.FailNow(t, "no such field on any form", path)
}

// newMeter are the keys that answer what is asked of a meter out of old equipment whose dial
// says nothing.
func newMeter(fullScale, coil string) []string {
	return []string{"enter", "enter", fullScale, "enter", coil, "enter"}
}

func windowSize(w, h int) tea.WindowSizeMsg { return tea.WindowSizeMsg{Width: w, Height: h} }

func splitLines(s string) []string { return strings.Split(s, "\n") }

// focusedRow is the row that has the keys, which a pane with rows has.
func focusedRow(a *App) form.Row {
	r, _ := a.form.Focused()
	return r
}

// typedIn is what stands in the line that has the keys.
func typedIn(a *App) string {
	if a.front.Mode == front.Asking {
		return a.front.Prompt.Typed()
	}
	return a.form.Typed()
}

// resultRoom is how many lines of results are in view at once.
func resultRoom(a *App) int { return a.side.Results.Room(a.screen.layout().Below) }

func contains(s, part string) bool { return strings.Contains(s, part) }

// sequence opens Bubble Tea's own message for commands one after the other.
func sequence(msg tea.Msg) ([]tea.Cmd, bool) {
	v := reflect.ValueOf(msg)
	if v.Kind() != reflect.Slice || v.Type().Elem() != reflect.TypeOf(tea.Cmd(nil)) {
		return nil, false
	}
	cmds := make([]tea.Cmd, v.Len())
	for i := range cmds {
		cmds[i] = v.Index(i).Interface().(tea.Cmd)
	}
	return cmds, true
}
