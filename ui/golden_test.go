package ui

import (
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/file"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/session"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/uitest"
)

var update = flag.Bool("update", false, "write the golden screens anew")

// golden compares a screen with its file in testdata.
func golden(t *testing.T, name, screen string) {
	t.Helper()
	path := filepath.Join("testdata", name+".txt")
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(screen+"\n"), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), screen+"\n", "%s: if the change is meant, go test ./ui -update", name)
}

// The screens of every form and state. Their numbers are held by
// TestScreensShowTheReport.
func TestGoldenScreens(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}, {200, 60}} {
		at := func(example string) *App { return open(exampleText(t, example), size[0], size[1]) }
		screen := func(name string, a *App) { golden(t, fmt.Sprintf("%s-%dx%d", name, size[0], size[1]), a.Plain()) }
		a := at("reading-room")
		for _, pane := range form.Panes {
			screen(strings.ToLower(pane.Name), a)
			press(a, "tab")
		}
		for _, plot := range []string{"budget", "day", "step", "wrap", "ripple", "discharge"} {
			press(a, "ctrl+p")
			screen("plot-"+plot, a)
		}
		screen("three-hands", at("station-platform"))
		for name, example := range map[string]string{"bench-half": "signal-cabin", "bench-found": "boathouse"} {
			a = at(example)
			press(a, "shift+tab")
			screen(name, a)
		}
		a = at("net-loft")
		press(a, "shift+tab", "shift+tab")
		screen("scale-measured", a)
		press(a, "up", "up", "5:")
		screen("scale-unread", a)
		a = at("reading-room")
		press(a, "f6", "travel")
		screen("looking", a)
		press(a, "esc")
		news(a, press(a, "f9"))
		screen("many-kits", a)
		a = at("school-store")
		screen("faults", a)
		press(a, "ctrl+g")
		screen("advice", a)
		press(a, "f3")
		screen("taken", a)
		press(a, "ctrl+z", "f4")
		screen("choices", a)
		press(a, "esc", "f5")
		screen("cautions", a)
		press(a, "x")
		focusOn(t, a, "hand.hours.meter.coil")
		press(a, "ctrl+u", "abc")
		screen("unreadable", a)
		press(a, "ctrl+q")
		screen("leaving", a)
		press(a, "x", "f1")
		screen("keys", a)
		a = at("harbour-office")
		focusOn(t, a, "hand.hours.meter.table")
		press(a, "down", "down")
		screen("table", a)
		focusOn(t, a, "hand.hours.drive.fixed")
		press(a, "alt+up", "alt+up")
		screen("stepped", a)
		press(a, "f2")
		screen("menu", a)
		press(a, "esc", "ctrl+f", "c", "a", "p")
		screen("search", a)
		a = at("reading-room")
		press(a, "ctrl+d")
		for range 10 {
			a.Update(side.TickMsg{Round: a.side.Preview.Round, Now: time.Time{}})
		}
		screen("fast-day", a)
		a = at("reading-room")
		press(a, "ctrl+s")
		screen("save-as", a)
		a.Update(session.ListedMsg{Folder: "clocks", Entries: []file.Entry{{Name: "..", Folder: true}, {Name: "attic.toml", Title: "Attic clock"}}})
		screen("open", a)
		press(a, "esc", "ctrl+u", "650")
		a.Update(session.SavedMsg{Saving: session.Saving{Path: "attic.toml"}, Err: file.ErrChangedOnDisk})
		screen("overwrite", a)
		screen("with-problems", open("format = 1\n[rail]\nvoltage = \"5 W\"\n[[hand]]\nname = \"hours\"\nbogus = 1\n", size[0], size[1]))
		sized := func(o Options) *App {
			a := New(o)
			a.Update(windowSize(size[0], size[1]))
			return a
		}
		a = sized(Options{Fresh: true, At: teatime})
		screen("new", a)
		press(a, "enter", "enter")
		screen("new-reading", a)
		press(a, "down", "enter", "640", "enter", "down")
		screen("new-supply", a)
		press(a, "esc", "esc", "up", "500 uA", "enter", "enter", "enter")
		screen("new-cells", a)
		press(a, "enter")
		screen("assumed", a)
		written := time.Date(2026, 3, 4, 17, 5, 0, 0, time.UTC)
		screen("offer", sized(Options{
			Text: exampleText(t, "reading-room"), At: teatime, RecoveryFolder: "kept",
			Found: []file.Copy{{Text: "title = \"Attic clock\"", Written: written}, {Text: "title = \"Shed clock\"", Written: written}},
		}))
		a = New(Options{Text: exampleText(t, "reading-room"), At: teatime, ASCII: true})
		a.Update(windowSize(size[0], size[1]))
		settle(a)
		screen("ascii", a)
	}
}

// Every number of `check --json` stands on the screen, and no other in its
// place, at every size: each result's line, found by scrolling through, shows
// its value. Where there is little room its label may be cut.
func TestScreensShowTheReport(t *testing.T) {
	for _, name := range []string{"reading-room", "station-platform", "harbour-office", "school-store"} {
		text := exampleText(t, name)
		checked, problems := report.Check(text)
		require.Empty(t, problems)
		out, err := checked.JSON()
		require.NoError(t, err)
		var printed printedResults
		require.NoError(t, json.Unmarshal(out, &printed))
		require.Len(t, checked.Results, len(printed.Results))
		a := open(text, 60, 20)
		for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}, {200, 60}} {
			a.Update(tea.WindowSizeMsg{Width: size[0], Height: size[1]})
			showsTheReport(t, a, checked, printed, name, size[0], size[1])
		}
	}
}

// printedResults are those of a report's JSON.
type printedResults struct {
	Results []struct {
		ID    string
		Value float64
	}
}

func showsTheReport(t *testing.T, a *App, report *report.Report, printed printedResults, name string, w, h int) {
	screens := map[int]string{}
	for hand := range report.Build.Hands {
		screens[hand] = everyScreen(a)
		press(a, "ctrl+n")
	}
	for i, r := range printed.Results {
		row := report.Results[i]
		require.Equal(t, row.IDOf(report.Build, row.Index), r.ID)
		row.Value = r.Value
		label := strings.TrimSpace(row.Label)
		if row.List() == "lamp" {
			label += ", " + report.Build.Lamps[row.Index].Name
		}
		if strings.HasPrefix(row.ID, "button.") {
			label += ", " + report.Build.Buttons[row.Index].Name
		}
		if w == 60 { // its beginning, and all of a short one
			label = string([]rune(label)[:min(4, len([]rune(label)))])
		}
		hand := 0
		if row.OfHand() {
			hand = row.Index
		}
		line := regexp.MustCompile(`(?m)[│ ]` + regexp.QuoteMeta(label) + `[^│0-9]* ` + regexp.QuoteMeta(row.Text()) + `[ ↑↓]`)
		assert.True(t, line.MatchString(screens[hand]), "%s at %d x %d: %s is not on the screen as %s", name, w, h, r.ID, row.Text())
	}
}

// everyScreen is what scrolling through the results shows.
func everyScreen(a *App) string {
	var all strings.Builder
	for range 80 {
		all.WriteString(a.Plain() + "\n")
		press(a, "pgdown")
	}
	for range 80 {
		press(a, "pgup")
	}
	return all.String()
}

func BenchmarkKeystroke(b *testing.B) {
	a := open(exampleText(b, "reading-room"), 120, 40)
	focusOn(b, a, "hand.hours.meter.coil")
	press(a, "ctrl+u")
	on, off := uitest.Key("5"), uitest.Key("backspace")
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		msg := on
		if i%2 == 1 {
			msg = off
		}
		a.Update(msg)
		_ = a.View()
	}
}
