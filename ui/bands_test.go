package ui

import (
	"regexp"
	"slices"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/report"
	"example.com/needlewright/ui/cells"
	"example.com/needlewright/ui/draw"
	"example.com/needlewright/ui/front"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/side"
	"example.com/needlewright/ui/uitest"
)

// Each result that a tolerance moves has its band behind its value, and no other
// has one, wherever a column has the room for all labels.
func TestBandsStandBehindTheirValues(t *testing.T) {
	for _, size := range [][2]int{{120, 40}, {200, 60}} {
		for _, name := range []string{"reading-room", "station-platform", "harbour-office", "school-store"} {
			a := open(exampleText(t, name), size[0], size[1])
			report, problems := report.Check(exampleText(t, name))
			require.Empty(t, problems)
			lines, moved := resultsOf(a), 0
			for _, row := range report.Banded().Results {
				if row.OfHand() && row.Index > 0 {
					continue
				}
				line := regexp.QuoteMeta(row.Label+side.ResultOwner(report.Build, row)) + ` +` + regexp.QuoteMeta(row.Text()) + ` `
				band := side.BandText(row)
				if cells.Width(band) > layout.MostBand {
					continue // it stands where there happens to be room
				}
				if band != "" {
					moved++
					line += `  +` + regexp.QuoteMeta(band) + ` `
				} else {
					line += `[^0-9]*[A-Za-z│]` // the next column, or the edge
				}
				there := regexp.MustCompile(`[│ ]` + line)
				assert.True(t, slices.ContainsFunc(lines, there.MatchString), "%s at %v: %s: no %s", name, size, row.ID, there)
			}
			assert.Greater(t, moved, 10, "it is about something")
		}
	}
}

// resultsOf are the lines that scrolling through the results shows.
func resultsOf(a *App) []string {
	var lines []string
	for before := ""; before != a.Plain(); press(a, "pgdown") {
		before = a.Plain()
		lines = append(lines, splitLines(before)...)
	}
	return lines
}

// Where labels leave no room for bands, and where more results are asked for, the
// values stand as they always did.
func TestMoreResults(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 120, 40)
	assert.Contains(t, a.Plain(), draw.OfKits)
	room := resultRoom(a)
	menuDo(a, "More results")
	assert.NotContains(t, a.Plain(), draw.OfKits)
	assert.Greater(t, resultRoom(a), room)
	menuDo(a, "Results with bands")
	assert.Equal(t, room, resultRoom(a))

	a = open(exampleText(t, "reading-room"), 60, 20)
	assert.NotRegexp(t, `\d–\d`, everyScreen(a))
}

// Until the bands are worked out the values stand without them, and nothing moves
// when they come.
func TestBandsComeLater(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {200, 60}} {
		a := New(Options{Text: exampleText(t, "reading-room"), At: teatime})
		a.Update(windowSize(size[0], size[1]))
		before := splitLines(a.Plain())
		a.session.AdviseNow()
		after := splitLines(a.Plain())
		came := 0
		for y := range after {
			b, c := []rune(before[y]), []rune(after[y])
			require.Len(t, c, len(b))
			for x := range c {
				if b[x] != c[x] {
					require.Equal(t, ' ', b[x], "%v, row %d: %q became %q", size, y, before[y], after[y])
					came++
				}
			}
		}
		assert.Positive(t, came)
	}
}

// What comes too late, of a build that was changed since, is not shown.
func TestBandsOfAnotherBuild(t *testing.T) {
	a := New(Options{Text: exampleText(t, "reading-room"), At: teatime})
	_, cmd := a.Update(windowSize(120, 40))
	late := cmd()
	focusOn(t, a, "hand.hours.drive.fixed")
	a.Update(uitest.Key("alt+up"))
	a.Update(late)
	assert.False(t, a.session.Report.IsBanded())
}

// menuDo does what the menu calls so.
func menuDo(a *App, text string) tea.Cmd { return press(a, "f2", text, "enter") }

// All keys are in view at once from 80 x 24 on, and what stands behind values is
// told below them.
func TestTheKeysTellOfBands(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}} {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		press(a, "f1")
		assert.Contains(t, a.Plain(), "Any key closes this list.")
		assert.Contains(t, a.Plain(), front.BandLegend)
	}
}
