package ui

import (
	"regexp"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/ui/uitest"
)

// What people call a cell finds it, letter after letter: the first of the table that fits.
// Birthplace: the names in cells.go; LR6 and the like are those of IEC 60086.
func TestTypedNamesOfCells(t *testing.T) {
	for typed, want := range map[string]string{
		"AA": "alkaline AA", "aa": "alkaline AA", "AAA": "alkaline AAA", "D": "alkaline D", "C": "alkaline C", "9V": "alkaline 9 V block",
		"coin": "CR2032", "cr": "CR2032", "LR6": "alkaline AA", "FR6": "lithium FeS2 AA", "z": "zinc-carbon AA", "18650": "Li-ion 18650, protected",
	} {
		for _, from := range []string{"alkaline C", "zinc-carbon AA", "CR2032"} {
			a := open(modeltest.With(t, exampleText(t, "reading-room"), "battery.cell", from), 80, 24)
			focusOn(t, a, "battery.cell")
			for _, letter := range typed {
				press(a, string(letter))
			}
			assert.Equal(t, want, a.session.Doc.Build.Battery.Cell, "%q typed at %q", typed, from)
			if len(typed) > 1 { // typed so fast that it comes at once, or pasted
				a = open(modeltest.With(t, exampleText(t, "reading-room"), "battery.cell", from), 80, 24)
				focusOn(t, a, "battery.cell")
				press(a, typed)
				now := a.session.Doc.Build.Battery.Cell
				assert.True(t, now == want || typed != "cr" && now == from && fits(a, typed, from), "%q at once at %q: %q", typed, from, now)
			}
		}
	}
	a := open(exampleText(t, "reading-room"), 120, 40)
	focusOn(t, a, "battery.cell")
	press(a, "A", "A")
	assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("It may be alkaline AA, zinc-carbon AA, lithium FeS2 AA, LSD NiMH AA."))
	press(a, "x")
	assert.Contains(t, a.notice.Text, "No choice begins with x; ")
	press(a, "right", "c", "down", "up", "o") // a word ends where the field is left: "co" would be the coin cell
	assert.Equal(t, "alkaline C", a.session.Doc.Build.Battery.Cell)
}

// fits says whether a choice of the focused field is one that a text may mean.
func fits(a *App, text, choice string) bool {
	return slices.Contains(focusedRow(a).Field.Fitting(text), choice)
}

// At 80 columns, too, a choice shows what tells it from the others: no two look alike, and
// none loses its end, whether it has the keys or not.
func TestChoicesAreToldApart(t *testing.T) {
	for _, path := range []string{"battery.cell", "hand.hours.meter.internal_kind", "hand.hours.drive.capacitor_kind", "converter.kind"} {
		a := open(exampleText(t, "reading-room"), 80, 24)
		focusOn(t, a, path)
		f, index, _ := a.session.Doc.Find(path)
		for _, away := range [][]string{nil, {"down"}} {
			seen := map[string]string{}
			for _, c := range f.Choices {
				a := open(modeltest.With(t, exampleText(t, "reading-room"), path, c), 80, 24)
				focusOn(t, a, path)
				require.Equal(t, c, f.Text(a.session.Doc.Build, index))
				press(a, away...)
				shown := regexp.MustCompile(`(?m)^│[ ▸][ !]` + f.Label + ` +(.*?) *[→↑↓]?│`).FindStringSubmatch(a.Plain())
				require.NotNil(t, shown, a.Plain())
				assert.NotContains(t, seen, shown[1], "%s and %s", c, seen[shown[1]])
				seen[shown[1]] = c
				end := c[max(0, len(c)-8):]
				assert.Contains(t, shown[1], end, "%s after %v", c, away)
			}
		}
	}
}

// A file that says AA: what fits is named at the field, and the key of offers takes the
// first; in a file the words are the same.
func TestHalfANameOfAChoice(t *testing.T) {
	for _, c := range []struct{ path, given, names, becomes string }{
		{"battery.cell", "AA", `did you mean "alkaline AA", "zinc-carbon AA", "lithium FeS2 AA" or "LSD NiMH AA"?`, "alkaline AA"},
		{"battery.cell", "9v battery", `did you mean "alkaline 9 V block"?`, "alkaline 9 V block"},
		{"converter.kind", "Boost", `did you mean "boost"?`, "boost"},
		{"hand.hours.shows", "12h", `did you mean "12 h"?`, "12 h"},
		{"converter.kind", "bost", `did you mean "boost"?`, ""}, // that is near, but no word of it
	} {
		text := modeltest.With(t, exampleText(t, "reading-room"), c.path, c.given)
		a := open(text, 120, 40)
		focusOn(t, a, c.path)
		assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("no such choice"), c.given)
		require.Len(t, a.session.Doc.Problems, 1)
		assert.Contains(t, a.session.Doc.Problems[0].Message(), c.names)
		if c.becomes == "" {
			assert.NotContains(t, a.Plain(), "The first that fits")
			continue
		}
		assert.Contains(t, uitest.Squeezed(a.Plain()), uitest.Squeezed("The first that fits "+c.given+": "+c.becomes+"."))
		press(a, "f3")
		assert.Empty(t, a.session.Doc.Problems, c.given)
		f, i, _ := a.session.Doc.Find(c.path)
		given, _ := a.session.Doc.Given(f, i)
		assert.Equal(t, c.becomes, given)
		press(a, "ctrl+z")
		assert.Equal(t, text, a.Text())
	}
}
