package ui

import (
	"os"
	"reflect"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
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

// withEachList is a build with a drain and a button more.
func withEachList(t testing.TB, text string) string {
	t.Helper()
	d := model.Open(text)
	for _, list := range []string{"drain", "button"} {
		var problem *model.Problem
		d, problem = d.Add(list, "spare", -1)
		require.Nil(t, problem)
	}
	return d.Text
}

// open is a dashboard of a size on a text.
func open(text string, w, h int) *App {
	a := New(Options{Text: text, At: teatime})
	a.Update(tea.WindowSizeMsg{Width: w, Height: h})
	settle(a)
	return a
}

// settle waits for what is worked out beside the keys.
func settle(a *App) {
	a.session.AdviseNow()
	a.side.Views.JudgeNow()
}

// press sends keys by their Bubble Tea names, and anything else as typed text.
func press(a *App, keys ...string) tea.Cmd {
	var cmd tea.Cmd
	for _, k := range keys {
		_, cmd = a.Update(keyMsg(k))
		settle(a)
	}
	return cmd
}

var namedKeys = map[string]tea.KeyMsg{
	"up": {Type: tea.KeyUp}, "down": {Type: tea.KeyDown}, "left": {Type: tea.KeyLeft}, "right": {Type: tea.KeyRight},
	"tab": {Type: tea.KeyTab}, "shift+tab": {Type: tea.KeyShiftTab}, "enter": {Type: tea.KeyEnter}, "esc": {Type: tea.KeyEsc},
	"backspace": {Type: tea.KeyBackspace}, "home": {Type: tea.KeyHome}, "end": {Type: tea.KeyEnd},
	"shift+left": {Type: tea.KeyShiftLeft}, "shift+right": {Type: tea.KeyShiftRight},
	"shift+up": {Type: tea.KeyShiftUp}, "shift+down": {Type: tea.KeyShiftDown},
	"alt+left": {Type: tea.KeyLeft, Alt: true}, "alt+right": {Type: tea.KeyRight, Alt: true},
	"ctrl+u": {Type: tea.KeyCtrlU}, "ctrl+s": {Type: tea.KeyCtrlS}, "ctrl+q": {Type: tea.KeyCtrlQ}, "ctrl+n": {Type: tea.KeyCtrlN},
	"ctrl+f": {Type: tea.KeyCtrlF}, "ctrl+g": {Type: tea.KeyCtrlG}, "ctrl+o": {Type: tea.KeyCtrlO}, "ctrl+t": {Type: tea.KeyCtrlT},
	"ctrl+d": {Type: tea.KeyCtrlD}, "ctrl+p": {Type: tea.KeyCtrlP}, "ctrl+l": {Type: tea.KeyCtrlL}, "ctrl+r": {Type: tea.KeyCtrlR}, "f2": {Type: tea.KeyF2},
	"alt+up": {Type: tea.KeyUp, Alt: true}, "alt+down": {Type: tea.KeyDown, Alt: true},
	"ctrl+z": {Type: tea.KeyCtrlZ}, "ctrl+y": {Type: tea.KeyCtrlY}, "f1": {Type: tea.KeyF1}, "f3": {Type: tea.KeyF3}, "f4": {Type: tea.KeyF4}, "f5": {Type: tea.KeyF5}, "f6": {Type: tea.KeyF6}, "f9": {Type: tea.KeyF9},
	"pgup": {Type: tea.KeyPgUp}, "pgdown": {Type: tea.KeyPgDown}, " ": {Type: tea.KeySpace, Runes: []rune{' '}},
}

func keyMsg(k string) tea.KeyMsg {
	if msg, ok := namedKeys[k]; ok {
		return msg
	}
	return tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(k)}
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

func windowSize(w, h int) tea.WindowSizeMsg { return tea.WindowSizeMsg{Width: w, Height: h} }

func splitLines(s string) []string { return strings.Split(s, "\n") }

// squeezed is a text without its blanks and line ends, as it is broken on no
// screen.
func squeezed(s string) string { return strings.Join(strings.Fields(s), "") }

// focusedRow is the row that has the keys, which a pane with rows has.
func focusedRow(a *App) form.Row {
	r, _ := a.form.Focused()
	return r
}

// typedIn is what stands in the line that has the keys.
func typedIn(a *App) string {
	if a.front.Mode == front.Asking {
		return a.front.Line.Value()
	}
	return a.form.Line.Value()
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
