package circuit

import (
	"encoding/json"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
)

// agreement is how near two computations of a result must be, relatively:
// closed forms, ripple, and what comes of a search or a quadrature.
//
// Birthplace: testdata/README.md.
func agreement(id string) float64 {
	switch lastOf(id) {
	case "ripple_voltage_worst", "ripple_needle":
		return 1e-3
	case "needle_settling", "life_on", "life_standby", "life_mixed":
		return 1e-4
	}
	return 1e-6
}

func TestAgreementClasses(t *testing.T) {
	// Birthplace: testdata/README.md names the classes; which results are
	// ripple, lives and settling follows from catalogue.md. filter_settling is a
	// closed form there.
	want := map[float64][]string{
		1e-3: {"hand.ripple_voltage_worst", "hand.ripple_needle"},
		1e-4: {"hand.needle_settling", "battery.life_on", "battery.life_standby", "battery.life_mixed"},
	}
	got := map[float64][]string{}
	for _, r := range Results {
		if class := agreement(r.ID); class > 1e-6 {
			got[class] = append(got[class], r.ID)
		}
	}
	assert.Equal(t, want, got)
}

// TestIndependentResults holds every result of two builds to an independent
// computation, testdata/README.md: by brute force, from the catalogue's words.
func TestIndependentResults(t *testing.T) {
	for _, name := range []string{"public-1", "public-2"} {
		t.Run(name, func(t *testing.T) {
			var independent struct{ Results map[string]float64 }
			require.NoError(t, json.Unmarshal([]byte(modeltest.Text(t, name+".json")), &independent))
			require.NotEmpty(t, independent.Results)
			b, p := soundPlan(t, modeltest.Text(t, name+".toml"))
			rows := byID(t, b, p)
			for id, want := range independent.Results {
				row, there := rows[id]
				if !assert.True(t, there, "%s is missing", id) {
					continue
				}
				assert.True(t, modeltest.Near(row.Value, want, agreement(id)) || negligible(id, row.Value, want),
					"%s: got %v, independently %v", id, row.Value, want)
			}
			for id := range rows {
				if !ownResults(t)[lastOf(id)] {
					assert.Contains(t, independent.Results, id, "a result that the build should not have")
				}
			}
		})
	}
}

// ownResults are the last parts of the ids that catalogue.md defines as results of
// this project: the two builds were computed without them.
func ownResults(t *testing.T) map[string]bool {
	text, err := os.ReadFile("../catalogue.md")
	require.NoError(t, err)
	_, section, found := strings.Cut(string(text), "### Results of this project")
	require.True(t, found)
	section, _, _ = strings.Cut(section, "## Bands")
	own := map[string]bool{}
	for _, id := range regexp.MustCompile("`[^` ]*\\.([a-z_]+)`").FindAllStringSubmatch(section, -1) {
		own[id[1]] = true
	}
	require.Greater(t, len(own), 30)
	return own
}

// TestEffects holds every result of four builds with small effects, and of six with
// closed cases, zeros elsewhere, switches and bridges, to an
// independent computation: testdata/README.md says how each was computed. What it
// is good for there is asked here, tenfold.
func TestEffects(t *testing.T) {
	for _, name := range []string{"effects-1", "effects-2", "effects-3", "effects-4", "meters-1", "meters-2", "meters-3", "meters-4", "meters-5", "meters-6"} {
		t.Run(name, func(t *testing.T) {
			var independent struct{ Results map[string]float64 }
			require.NoError(t, json.Unmarshal([]byte(modeltest.Text(t, name+".json")), &independent))
			b, p := soundPlan(t, modeltest.Text(t, name+".toml"))
			rows := byID(t, b, p)
			require.Len(t, rows, len(independent.Results))
			for id, want := range independent.Results {
				tolerance := 1e-8
				switch lastOf(id) {
				case "pin_bend", "diode_bend":
					tolerance = 1e-7
				case "ripple_needle", "ripple_voltage_worst":
					tolerance = 1e-5
				}
				assert.True(t, modeltest.Near(rows[id].Value, want, tolerance), "%s: got %v, independently %v", id, rows[id].Value, want)
			}
		})
	}
}

// negligible passes a ripple of the needle below 1e-9 min, which catalogue.md
// lets be anything down to 0.
func negligible(id string, got, want float64) bool {
	return strings.HasSuffix(id, ".ripple_needle") && want < 1e-9 && got >= 0 && got < 1e-9
}
