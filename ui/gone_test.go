package ui

import (
	"fmt"
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

// begins are the first characters of a finding, as its line beside the form begins.
func begins(text string) string { return string([]rune(text)[:min(18, len([]rune(text)))]) }

// helpOf is what stands below the form, without the places of its breaks.
func helpOf(a *App) string {
	rows := splitLines(a.Plain())
	return uitest.Squeezed(strings.Join(rows[a.screen.layout().Help.Min.Y:], " "))
}

// After an edit the key that leads to the worst finding leads to the worst there is then,
// whatever was gone to before.
func TestFindingsBeginAtTheWorstAfterAnEdit(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 80, 24)
	press(a, "ctrl+g", "ctrl+g", "ctrl+g")
	for _, edit := range [][]string{{"alt+up"}, {"ctrl+z"}, {"x", "esc", "alt+down"}} {
		focusOn(t, a, "hand.hours.drive.fixed")
		press(a, edit...)
		press(a, "ctrl+g")
		worst := a.session.Report.Findings[0]
		require.NotNil(t, a.finder.advised())
		assert.Equal(t, worst.ID, a.finder.advised().ID, edit)
		press(a, "ctrl+g")
		assert.NotEqual(t, worst.ID, a.finder.advised().ID, "and then to the next")
	}
}

// The finding that was gone to stands beside the form too, named as it is there; with several
// hands the words below the form say whose it is, and which of the lines.
func TestTheFindingGoneToIsInView(t *testing.T) {
	for _, size := range uitest.Sizes {
		for _, name := range examples {
			a := open(exampleText(t, name), size[0], size[1])
			found, several := report.Joined(a.session.Report.Findings), len(a.session.Doc.Build.Hands) > 1
			gone := map[int]bool{}
			for _, f := range a.session.Report.Findings {
				press(a, "ctrl+g")
				require.Equal(t, f.ID+f.About, a.finder.advised().ID+a.finder.advised().About)
				place := slices.IndexFunc(found, func(j judge.Finding) bool {
					return j.ID == f.ID && slices.Contains(strings.Split(j.About, ", "), f.About)
				})
				require.GreaterOrEqual(t, place, 0)
				gone[place] = true
				line := found[place]
				if !several && line.About == a.session.Doc.Build.Hands[0].Name {
					line.About = ""
				}
				assert.Contains(t, strings.Join(sideOf(a), "\n"), draw.Signs[f.Severity]+" "+begins(line.String()), "%s at %v: %s", name, size, f.ID)
				if several {
					says := fmt.Sprintf("%s (%d of %d): %s", f.Severity, place+1, len(found), f.About)
					assert.Contains(t, helpOf(a), uitest.Squeezed(says), "%s at %v", name, size)
				}
			}
			assert.Len(t, gone, len(found), "each line is gone to: the counts agree")
			press(a, "down")
			first := found[0]
			if !several {
				first.About = ""
			}
			assert.Contains(t, strings.Join(sideOf(a), "\n"), begins(first.String()), "%s at %v: the worst again", name, size)
		}
	}
}

// What holds for the build as a whole, with the figures of the hand that it does most to,
// names that hand; and the list of parts says how it counts.
func TestSeveralHandsAreToldApart(t *testing.T) {
	text := strings.Replace(exampleText(t, "station-platform"), `drift = "1 %"`, `drift = "3 %"`, 1)
	a := open(text, 120, 40)
	press(a, "ctrl+g")
	require.Equal(t, "rail_drift", a.finder.advised().ID)
	// 3 % of a dial of 60 s, derived; of the three it moves by most codes
	assert.Contains(t, helpOf(a), uitest.Squeezed("moves full scale of seconds by 1.800 s"))
	focusOn(t, a, "hand.hours.drive.fixed")
	press(a, "f4")
	assert.Contains(t, strings.ReplaceAll(uitest.Squeezed(a.Plain()), "│", ""), uitest.Squeezed("Each hand's findings count."))
}
