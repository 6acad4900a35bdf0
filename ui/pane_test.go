package ui

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/uitest"
)

// withoutRows is a dashboard with one pane more, which has no fields, open.
func withoutRows(t *testing.T, text string, w, h int) *App {
	t.Helper()
	a := newApp(Options{Text: text, At: teatime}, append(form.Panes[:len(form.Panes):len(form.Panes)], form.Pane{Name: "Empty", Fields: model.NoPane}))
	a.Update(windowSize(w, h))
	settle(a)
	press(a, "shift+tab")
	require.Equal(t, "Empty", a.form.Panes[a.form.Pane].Name)
	return a
}

// A pane without fields is drawn, and every key and click there is taken: those that
// go elsewhere do, none changes the document.
func TestPaneWithoutRows(t *testing.T) {
	for _, text := range []string{exampleText(t, "station-platform"), "x = = 1", "format = 1\n"} {
		for _, size := range uitest.Sizes {
			a := withoutRows(t, text, size[0], size[1])
			_, ok := a.form.Focused()
			assert.False(t, ok)
			assert.Contains(t, a.Plain(), " Empty ")
			for _, name := range allKeys() {
				a = withoutRows(t, text, size[0], size[1])
				require.NotPanics(t, func() { a.Update(uitest.Pressed(name)) }, name)
				framed(t, a)
				require.Equal(t, text, a.Text(), name)
			}
			a = withoutRows(t, text, size[0], size[1])
			for x := 0; x < size[0]; x += 5 {
				for y := range size[1] {
					for _, b := range []tea.MouseButton{tea.MouseButtonWheelUp, tea.MouseButtonLeft} {
						a.form.TurnTo(len(a.form.Panes) - 1)
						a.Update(tea.MouseMsg{X: x, Y: y, Button: b, Action: tea.MouseActionPress})
						require.Equal(t, text, a.Text(), "%d, %d", x, y)
					}
				}
			}
			framed(t, a)
		}
	}
}

// From it one goes on, back and to any field; what needs a field says that there is none.
func TestLeavingAPaneWithoutRows(t *testing.T) {
	text := exampleText(t, "reading-room")
	a := withoutRows(t, text, 80, 24)
	press(a, "down", "up", "5", "backspace", "alt+up", "right")
	assert.Equal(t, text, a.Text())
	press(a, "tab")
	assert.Equal(t, "hand.meter.coil", focusedRow(a).Field.Path, "round to the first")
	press(a, "shift+tab", "shift+tab")
	assert.Equal(t, form.BenchName, a.form.Panes[a.form.Pane].Name)

	a = withoutRows(t, text, 80, 24)
	press(a, "f3")
	assert.Contains(t, a.notice.Text, "Nothing is offered here.")
	press(a, "f4")
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Contains(t, a.notice.Text, "There is nothing to choose from here.")
	press(a, "f5")
	assert.Contains(t, a.Plain(), "Further cautions for this build")
	press(a, "esc", "ctrl+f", "curvature", "enter")
	assert.Equal(t, "crystal.curvature", focusedRow(a).Field.Path)

	a = withoutRows(t, exampleText(t, "school-store"), 80, 24)
	press(a, "ctrl+g", "f3", "ctrl+z")
	assert.Equal(t, exampleText(t, "school-store"), a.Text())
	a = withoutRows(t, text, 80, 24)
	press(a, "f2", "Add a lamp", "enter", "second", "enter")
	assert.Len(t, a.session.Doc.Build.Lamps, 2)
	assert.Equal(t, "lamp.name", focusedRow(a).Field.Path)
}

// The pane of the results names the keys that lead deeper, and paging goes on by what is in
// view but a line, down to the last result.
func TestResultsLeadDeeper(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}, {200, 60}} {
		for _, name := range examples {
			a := open(exampleText(t, name), size[0], size[1])
			edge := splitLines(a.Plain())[a.screen.layout().Side.Max.Y-1]
			assert.Contains(t, edge, "ctrl+r error budget", "%s at %v", name, size)
			if size[0] >= 80 {
				assert.Contains(t, edge, "F6 ", "%s at %v", name, size)
			}
			room, last := resultRoom(a), 0
			for range 200 {
				press(a, "pgdown")
				if a.side.Results.Scroll == last {
					break
				}
				if by := a.side.Results.Scroll - last; by != max(1, room-1) {
					press(a, "pgdown")
					assert.Equal(t, last+by, a.side.Results.Scroll, "%s at %v: less at the end alone", name, size)
				}
				last = a.side.Results.Scroll
			}
			assert.NotContains(t, strings.Join(sideOf(a)[:a.screen.layout().Side.Max.Y], "\n"), "↓", "%s at %v: the end", name, size)
		}
	}
}
