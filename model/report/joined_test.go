package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model/judge"
)

// What says the same of several hands is one finding, which names them, with the figures
// of each where they differ and what is advised of each. Derived by hand.
func TestJoined(t *testing.T) {
	of := func(id, about, text, advice string) judge.Finding {
		return judge.Finding{ID: id, About: about, Severity: judge.Note, Text: text, Advice: advice}
	}
	worse := of("a", "third", "It is 2 % off.", "")
	worse.Severity = judge.Fault
	for name, c := range map[string]struct{ given, want []judge.Finding }{
		"none":       {nil, nil},
		"one":        {[]judge.Finding{of("a", "hours", "x 1 µA.", "")}, []judge.Finding{of("a", "hours", "x 1 µA.", "")}},
		"two alike":  {[]judge.Finding{of("a", "hours", "x 1 µA.", "Do."), of("a", "minutes", "x 1 µA.", "Do.")}, []judge.Finding{of("a", "hours, minutes", "x 1 µA.", "Do.")}},
		"two hands":  {[]judge.Finding{of("a", "hours", "x 1 µA, -3 y.", ""), of("a", "minutes", "x 1 mA, -3 y.", "")}, []judge.Finding{of("a", "hours, minutes", "x 1 µA and 1 mA, -3 y.", "")}},
		"in between": {[]judge.Finding{of("a", "h", "x ±1 min.", ""), of("b", "h", "y.", ""), of("a", "m", "x ±2.5 s.", ""), of("a", "s", "x ±1 200 kΩ.", "")}, []judge.Finding{of("a", "h, m, s", "x ±1 min, ±2.5 s and ±1 200 kΩ.", ""), of("b", "h", "y.", "")}},
		"advice of each": {
			[]judge.Finding{of("a", "h", "x.", "Less of it. R 1 kΩ → 2 kΩ: 5 → 3."), of("a", "m", "x.", "Less of it."), of("a", "s", "x.", "Less of it. R 1 kΩ → 3 kΩ: 5 → 2.")},
			[]judge.Finding{of("a", "h, m, s", "x.", "Less of it. h: R 1 kΩ → 2 kΩ: 5 → 3. s: R 1 kΩ → 3 kΩ: 5 → 2.")},
		},
		"of no hand":     {[]judge.Finding{of("a", "", "x 1.", ""), of("a", "", "x 2.", "")}, []judge.Finding{of("a", "", "x 1.", ""), of("a", "", "x 2.", "")}},
		"another words":  {[]judge.Finding{of("a", "h", "It is 2 % off.", ""), of("a", "m", "It burns.", "")}, []judge.Finding{of("a", "h", "It is 2 % off.", ""), of("a", "m", "It burns.", "")}},
		"another degree": {[]judge.Finding{worse, of("a", "m", "It is 1 % off.", "")}, []judge.Finding{worse, of("a", "m", "It is 1 % off.", "")}},
	} {
		assert.Equal(t, c.want, Joined(c.given), name)
	}
}

// Nothing that is found is lost, in any example: each hand stands in a line of what is
// found of it, and its figures do.
func TestJoinedLosesNothing(t *testing.T) {
	for _, name := range []string{"reading-room", "harbour-office", "station-platform", "school-store"} {
		findings := example(t, name).Findings
		joined := Joined(findings)
		for _, f := range findings {
			found := false
			for _, j := range joined {
				all := true
				for _, figure := range figures.FindAllString(f.Text, -1) {
					all = all && strings.Contains(j.Text, figure)
				}
				found = found || j.ID == f.ID && j.Severity == f.Severity && strings.Contains(j.About, f.About) && all
			}
			assert.True(t, found, "%s: %s", name, f)
		}
		if name == "station-platform" {
			assert.Less(t, len(joined), len(findings))
		} else {
			assert.Len(t, joined, len(findings))
		}
	}
}
