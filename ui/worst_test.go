package ui

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/uitest"
)

// soundBuild is the example with the drift of a better rail, of which nothing worse than
// a note is found.
func soundBuild(t testing.TB) string {
	text := strings.Replace(exampleText(t, "reading-room"), `drift = "2 %"`, `drift = "1 %"`, 1)
	r, problems := report.Check(text)
	require.Empty(t, problems)
	require.Equal(t, judge.Note, r.Worst())
	return text
}

// Whatever stands in place of the findings, the worst keeps a line.
func TestTheWorstFindingStaysInView(t *testing.T) {
	for _, size := range uitest.Sizes {
		for _, name := range examples {
			a := open(exampleText(t, name), size[0], size[1])
			first := report.Joined(a.session.Report.Findings)[0]
			if len(a.session.Doc.Build.Hands) == 1 {
				first.About = ""
			}
			worst := draw.Signs[first.Severity] + " " + first.String()
			begins := string([]rune(worst)[:min(20, len([]rune(worst)))])
			holdsWorst := func(what string) {
				t.Helper()
				assert.Contains(t, a.Plain(), begins, "%s: %s at %v", name, what, size)
			}
			holdsWorst("results")
			for press(a, "ctrl+p"); a.side.Views.At != 0; press(a, "ctrl+p") {
				holdsWorst("views")
			}
			press(a, "ctrl+r")
			holdsWorst("the budget")
			for a.side.Views.At != 0 {
				press(a, "ctrl+p")
			}
			press(a, "f6")
			holdsWorst("a result that is looked into")
			press(a, "esc")
			for _, page := range []string{"f1", "f5"} {
				press(a, page)
				holdsWorst(page)
				press(a, "esc")
			}
			if name == "school-store" {
				news(a, press(a, "f9"))
				holdsWorst("many kits")
			}
		}
	}
}

// A sound build says so before any note, wherever the worst finding stands; one that is
// not says how much was found. Derived by hand.
func TestSoundIsSaid(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(soundBuild(t), size[0], size[1])
		screen := a.Plain()
		sound, note := strings.Index(screen, "Sound: only 7 notes"), strings.Index(screen, "note: ")
		require.Positive(t, sound, size)
		assert.Less(t, sound, note, size)
		assert.NotContains(t, open(exampleText(t, "reading-room"), size[0], size[1]).Plain(), "Sound")
	}
	for name, want := range map[string]string{
		"reading-room": "1 caution, 6 notes (ctrl+g)",
		"school-store": "9 faults, 6 cautions, 7 notes (ctrl+g)", // counted in TestFaultyExample of package report
	} {
		assert.Contains(t, open(exampleText(t, name), 80, 24).Plain(), want)
	}
	assert.Contains(t, open(exampleText(t, "school-store"), 60, 20).Plain(), " 22 found (ctrl+g) ")
	a := open(soundBuild(t), 80, 24)
	focusOn(t, a, "hand.hours.meter.coil")
	press(a, "ctrl+u", "abc")
	assert.NotContains(t, a.Plain(), "Sound", "what cannot be read is not sound")
	a = open("format = 1\n[rail]\nvoltage = \"5 V\"\n", 80, 24)
	for range 2 {
		assert.NotContains(t, a.Plain(), "Sound", "what is not there is not sound")
		assert.Contains(t, a.Plain(), "There is no hand yet")
		assert.Contains(t, a.Plain(), "Next: F2, New build")
		press(a, "ctrl+p")
	}
}

// A finding that holds for several hands is one line that names them, with the figures of
// all.
func TestAFindingOfSeveralHands(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 120, 40)
	beside := strings.Join(sideOf(a), " ")
	assert.Contains(t, uitest.Squeezed(beside), uitest.Squeezed("note: hours, minutes, seconds: Pin stuck high, trimmer at zero: 1.17, 1.17 and 1.20 times full scale."))
	assert.Equal(t, 1, strings.Count(beside, "Pin stuck high"))
	n := len(report.Joined(a.session.Report.Findings))
	require.Less(t, n, len(a.session.Report.Findings))
	assert.True(t, slices.ContainsFunc(sideOf(a), func(s string) bool { return strings.Contains(s, "Sound: only 4 notes") }), "as many as stand there: %d", n)
}

// What bands are is said above the first of them, on every form from 80 columns on.
func TestBandsHaveTheirHeading(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		for range a.form.Panes[:4] { // the bench has no results
			assert.Contains(t, strings.Join(sideOf(a), "\n"), draw.OfKits, "%s at %v", a.form.Panes[a.form.Pane].Name, size)
			press(a, "tab")
		}
	}
}

// A sound build of which values are only assumed says how many, as far as there is room.
func TestSoundSaysWhatIsAssumed(t *testing.T) {
	text := strings.Replace(soundBuild(t), `class = "2.5 %"`, `class = "2.5 %" # assumed`, 1)
	text = strings.Replace(text, `drift = "1 %"`, `drift = "1 %" # assumed`, 1)
	for size, want := range map[[2]int]string{
		{60, 20}: " Sound, 2 assumed ", {80, 24}: " Sound, 2 assumed: 7 notes (ctrl+g) ", {120, 40}: " Sound, 2 values assumed: 7 notes (ctrl+g) ",
	} {
		assert.Contains(t, open(text, size[0], size[1]).Plain(), want, size)
	}
}
