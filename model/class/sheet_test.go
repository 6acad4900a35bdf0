package class

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/modeltest"
)

// sheetOf is an exercise of a text and its sheet.
func sheetOf(t *testing.T, text string, seed uint64, faults int) (*Exercise, string) {
	t.Helper()
	e, err := NewExercise(model.Open(text), seed, faults)
	require.NoError(t, err)
	html, err := e.Sheet()
	require.NoError(t, err)
	return e, html
}

// counts are how many elements of each name a page has, and how many attributes.
func counts(t *testing.T, html string) (elements, attributes map[string]int) {
	t.Helper()
	elements, attributes = map[string]int{}, map[string]int{}
	all, _ := modeltest.ReadPage(t, html)
	for _, e := range all {
		elements[e.Name.Local]++
		for _, a := range e.Attr {
			attributes[a.Name.Local]++
		}
	}
	return elements, attributes
}

// What is read at the clock stands on the sheet, beside what a sound clock reads; what is
// wrong does not.
func TestSheetHoldsTheReadingsAndNotTheKey(t *testing.T) {
	for _, c := range []struct {
		example string
		seed    uint64
		faults  int
	}{{"reading-room", 7, 1}, {"harbour-office", 8, 2}} { // of three hands it takes seconds
		e, html := sheetOf(t, modeltest.Example(c.example), c.seed, c.faults)
		_, text := modeltest.ReadPage(t, html)
		b, problems := model.Read(e.Text)
		require.Empty(t, problems)
		require.NotEmpty(t, b.Readings)
		for _, r := range b.Readings {
			assert.Contains(t, text, r.Value, "%s at %s", c.example, r.At)
		}
		assert.Equal(t, len(b.Readings), strings.Count(html, `<span class="box">`), "a box to tick for each reading")
		for _, f := range e.Faults {
			for _, secret := range []string{f.Title, f.Confirm, f.Mend} {
				require.NotEmpty(t, secret)
				assert.NotContains(t, text, secret, c.example)
			}
		}
		assert.Equal(t, c.faults, strings.Count(text, "What is wrong?"))
		_, again := sheetOf(t, modeltest.Example(c.example), c.seed, c.faults)
		assert.Equal(t, html, again, "the same seed, the same bytes")
	}
	_, html := sheetOf(t, modeltest.Example("reading-room"), 7, 1)
	// By hand: 5 V · 240/256 less 500 µA · 50 Ω at the pin are 4.6625 V, and 500 µA · 640 Ω
	// at the meter 320 mV.
	assert.Regexp(t, `Pin at top</th>.*class="number">4\.66 V<small>`, html)
	assert.Regexp(t, `Meter at top</th>.*class="number">320 mV<small>`, html)
	for _, part := range []string{"640 Ω ±1 %", "8.2 kΩ ±1 %", "4.7 µF ±20 %", "alkaline C"} {
		assert.Contains(t, html, "<td>"+part+"</td>", "of the plan")
	}
}

// The cautions of the work at a real clock are on it, each whole.
func TestSheetHasItsCautions(t *testing.T) {
	text := modeltest.Example("reading-room")
	_, html := sheetOf(t, text, 7, 1)
	_, read := modeltest.ReadPage(t, html)
	b, _ := model.Read(text)
	wanted := []string{"solder_heat", "radium", "ohmmeter", "alkaline_short"} // it is salvaged, soldered, and has alkaline cells
	for _, c := range caution.Of(b) {
		for i, id := range wanted {
			if c.ID == id {
				assert.Contains(t, read, c.Text)
				wanted[i] = ""
			}
		}
	}
	assert.Empty(t, strings.Join(wanted, ""), "cautions that there are no more")
	assert.Contains(t, read, "local codes and licensed practice decide")
}

// Nothing on it comes from outside or runs, and titles and names are text whatever they hold.
func TestSheetIsOneQuietFile(t *testing.T) {
	_, plain := sheetOf(t, modeltest.Example("reading-room"), 7, 1)
	elements, attributes := counts(t, plain)
	const hostile = `</title></style><script>alert(1)</script><img src=x onerror=alert(1)> "quoted" & 'so' {{.Seed}}`
	text := modeltest.With(t, modeltest.Example("reading-room"), "title", hostile)
	_, html := sheetOf(t, text, 7, 1)
	hostiles, also := counts(t, html)
	_, shown := modeltest.ReadPage(t, html)
	assert.Equal(t, elements, hostiles, "a title is no element")
	assert.Equal(t, attributes, also, "a title is no attribute")
	assert.Contains(t, shown, "Find the fault: "+hostile)
	for _, page := range []string{plain, html} {
		assert.NotRegexp(t, regexp.MustCompile(`(?i)<(script|iframe|img|link|object|embed|form)|javascript:|url\(|@import|https?:`), page)
	}
	for _, name := range []string{"src", "href", "onerror", "onclick", "onload"} {
		assert.Zero(t, attributes[name])
	}
	assert.Equal(t, 1, elements["h1"])
	assert.Equal(t, 1, elements["title"])
}
