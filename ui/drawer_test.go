package ui

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/fit"
	"example.com/needlewright/ui/front"
)

// withDrawer is the dashboard on the reading room, with the example drawer at hand.
func withDrawer(t testing.TB, w, h int) *App {
	t.Helper()
	text, err := os.ReadFile("../examples/drawer.csv")
	require.NoError(t, err)
	a := New(Options{Text: exampleText(t, "reading-room"), Drawer: string(text), At: teatime})
	a.Update(tea.WindowSizeMsg{Width: w, Height: h})
	settle(a)
	return a
}

// openDrawer opens the menu and the drawer of a path, or the example, and has all of its
// meters tried.
func openDrawer(a *App, path string) {
	press(a, "f2", "compare a", "enter")
	keys := []string{"enter"}
	if path != "" {
		keys = []string{path, "enter"}
	}
	news(a, press(a, keys...))
}

// The table has each meter of the drawer, the best first, as the engine says.
func TestDrawerShowsItsMeters(t *testing.T) {
	a := withDrawer(t, 120, 40)
	before := a.session.Doc.Text
	openDrawer(a, "")
	require.Equal(t, front.Asking, a.front.Mode)
	drawer, err := fit.Read(string(mustRead(t, "../examples/drawer.csv")))
	require.NoError(t, err)
	frame, err := fit.NewFrame(model.Open(before), "hours")
	require.NoError(t, err)
	meters, err := frame.All(t.Context(), drawer.Rows, nil)
	require.NoError(t, err)
	screen, at := a.Plain(), -1
	for _, m := range meters {
		next := strings.Index(screen, m.Name)
		assert.Greater(t, next, at, "%s stands in its place\n%s", m.Name, screen)
		at = next
		assert.Contains(t, screen[next:], m.Verdict)
	}
	assert.Contains(t, screen, "12 meters for hours of Reading-room clock. Enter")
	assert.Equal(t, before, a.session.Doc.Text, "looking changes nothing")
	press(a, "switch")
	assert.Contains(t, a.Plain(), "Charger's ammeter")
	assert.NotContains(t, a.Plain(), "Fuel gauge", "typing narrows the table, by verdict and way too")
}

func mustRead(t testing.TB, path string) []byte {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return text
}

// A way is taken over as one step of undo; what nobody measured is marked as assumed.
func TestDrawerTakesAMeter(t *testing.T) {
	a := withDrawer(t, 100, 30)
	before := a.session.Doc.Text
	openDrawer(a, "")
	press(a, "milliamm", "enter")
	assert.Contains(t, a.Plain(), "direct: fits with changes")
	press(a, "enter")
	require.Equal(t, front.Editing, a.front.Mode)
	m := &a.session.Doc.Build.Hands[0].Meter
	assert.InDelta(t, 1e-3, m.FullScale.Number, 1e-12)
	assert.InDelta(t, 98.5, m.Coil.Number, 1e-9)
	assert.Empty(t, a.session.Doc.Problems)
	mark := func(path string) string {
		f := model.Builds.Field(path)
		return a.session.Doc.Mark(f, 0)
	}
	assert.Empty(t, mark("hand.meter.coil"))
	assert.Equal(t, "assumed", mark("hand.meter.period"))
	press(a, "ctrl+z")
	assert.Equal(t, before, a.session.Doc.Text)

	openDrawer(a, "")
	press(a, "for a shunt", "enter", "enter")
	assert.Equal(t, "assumed", mark("hand.meter.coil"))
	assert.Equal(t, "assumed", mark("hand.meter.full_scale"))
}

// Esc goes back from the ways to the table, and from there to the form; what was not tried
// yet is not tried then.
func TestDrawerIsLeft(t *testing.T) {
	a := withDrawer(t, 80, 24)
	var rows strings.Builder
	rows.WriteString("name;coil;full_scale\n")
	for k := range 50 {
		fmt.Fprintf(&rows, "meter %d;100;1 mA\n", k)
	}
	path := filepath.Join(t.TempDir(), "many.csv")
	require.NoError(t, os.WriteFile(path, []byte(rows.String()), 0o644))
	cmd := press(a, "f2", "compare a", "enter", path, "enter")
	_, cmd = a.Update(cmd()) // it is read
	_, cmd = a.Update(cmd()) // the first block is tried
	assert.Contains(t, a.Plain(), "16 tried so far")
	press(a, "enter")
	assert.Contains(t, a.Plain(), "Back to the drawer")
	press(a, "esc")
	assert.Contains(t, a.Plain(), "50 meters")
	require.NotNil(t, cmd)
	press(a, "esc")
	require.Equal(t, front.Editing, a.front.Mode)
	_, next := a.Update(cmd())
	assert.Nil(t, next, "nothing goes on")
	press(a, "f2", "compare a", "enter")
	news(a, press(a, "enter"))
	assert.NotContains(t, a.Plain(), "tried so far", "it goes on where it was")
}

// What cannot be read costs nothing: a file that is not there, a wrong column, a line.
func TestDrawersThatCannotBeRead(t *testing.T) {
	a := withDrawer(t, 80, 24)
	folder := t.TempDir()
	openDrawer(a, filepath.Join(folder, "nowhere.csv"))
	assert.Equal(t, front.Editing, a.front.Mode)
	assert.Contains(t, a.notice.Text, "The drawer cannot be read: ")
	path := filepath.Join(folder, "bad.csv")
	require.NoError(t, os.WriteFile(path, []byte("name,colour\na,red\n"), 0o644))
	openDrawer(a, path)
	assert.Contains(t, a.notice.Text, `"colour": no column has this name`)
	require.NoError(t, os.WriteFile(path, []byte("name,coil,full_scale\na,100,1 mA\nb,abc,1 mA\n"), 0o644))
	openDrawer(a, path)
	assert.Contains(t, a.Plain(), "1 line cannot be read, F5 says why")
	press(a, "f5")
	assert.Contains(t, wholePage(a), `line 3: coil: "abc"`)
	press(a, "x")
	require.Equal(t, front.Asking, a.front.Mode)
	press(a, "esc")
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "abc", "f2", "compare a", "enter")
	assert.Contains(t, a.notice.Text, "No meter can be tried until every value can be read")
}

func TestGoldenDrawer(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}} {
		a := withDrawer(t, size[0], size[1])
		screen := func(name string) { golden(t, fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), a.Plain()) }
		press(a, "f2", "compare a", "enter")
		screen("drawer-which")
		news(a, press(a, "enter"))
		screen("drawer")
		press(a, "workshop", "enter")
		screen("drawer-ways")
	}
}
