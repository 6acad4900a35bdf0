package circuit

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// TestCatalogue holds the tables to the catalogue, which is what people read:
// every result stands there in backquotes, by its last part or in full, and
// every key of the file by its name.
func TestCatalogue(t *testing.T) {
	text, err := os.ReadFile("../catalogue.md")
	require.NoError(t, err, "the package keeps its catalogue beside its code")
	catalogue := string(text)
	for _, r := range Results {
		key := lastOf(r.ID)
		inFull := strings.NewReplacer("hand.", "<hand>.", "lamp.", "lamp.<lamp>.", "button.", "button.<button>.").Replace(r.ID)
		assert.True(t, strings.Contains(catalogue, "`"+inFull+"`") || strings.Contains(catalogue, "`."+key+"`"),
			"%s is not in the catalogue as `%s` or `.%s`", r.ID, inFull, key)
	}
	for _, f := range model.Builds.Fields {
		key := regexp.MustCompile(`\b` + lastOf(f.Path) + `\b`)
		assert.True(t, key.MatchString(catalogue), "%s is not in the catalogue", f.Path)
	}
}

// Rows of one hand stand together, in the order of the table.
func TestRowsInOrder(t *testing.T) {
	b, p := soundPlan(t, modeltest.Text(t, "three-hands.toml"))
	var heads []string
	for _, r := range Outcomes(p) {
		head, _, _ := strings.Cut(r.IDOf(b, r.Index), ".")
		if len(heads) == 0 || heads[len(heads)-1] != head {
			heads = append(heads, head)
		}
	}
	assert.Equal(t, []string{"hours", "minutes", "seconds", "crystal", "lamp", "load"}, heads) // no battery and no rail's capacitor in this build
}

func TestResultRowsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range Results {
		assert.False(t, seen[r.ID], "%s twice", r.ID)
		seen[r.ID] = true
		assert.NotEmpty(t, r.Label, r.ID)
		assert.NotEmpty(t, r.Formula, r.ID)
		assert.LessOrEqual(t, r.Question, Lasts, r.ID)
	}
}

// TestStumbledOver: results whose labels made beginners stumble say what they are, in one
// sentence of at most 150 characters (the project's own limit).
func TestStumbledOver(t *testing.T) {
	told := 0
	for _, r := range Results {
		for _, word := range []string{"chain", "a tick", "Wrap", "Waking", "Ramp", "at its stop"} {
			if !strings.Contains(r.Label, word) {
				continue
			}
			told++
			assert.NotEmpty(t, r.Help, r.Label)
			assert.LessOrEqual(t, utf8.RuneCountInString(r.Help), 150, "%s: %s", r.Label, r.Help)
			assert.True(t, strings.HasSuffix(r.Help, ".") && !strings.Contains(r.Help, ". "), "%s: one sentence: %s", r.Label, r.Help)
		}
	}
	assert.Equal(t, 9, told)
}

// Birthplace: derived from public-1.json, in the units of the results table and
// four digits, lives apart; less than a dial minute is shown in seconds.
func TestRowText(t *testing.T) {
	b, p := soundPlan(t, modeltest.Text(t, "public-1.toml"))
	rows := byID(t, b, p)
	for id, want := range map[string]string{
		"hours.full_scale_voltage": "230.0 mV", "hours.series_needed": "16.28 kΩ", "hours.trimmer_travel": "65.60 %",
		"hours.pwm_frequency": "976.6 Hz", "hours.step": "3.000 min", "crystal.rate": "-1.892 s/day",
		"hours.code_error_rms": "52.32 s", "hours.ripple_needle": "under 1 ms",
		"battery.life_on": "10.5 days", "battery.life_standby": "5.83 years",
	} {
		assert.Equal(t, want, rows[id].Text(), id)
	}
}

// byID are the rows of a plan by their ids.
func byID(t testing.TB, b *model.Build, p *Plan) map[string]Outcome {
	t.Helper()
	rows := map[string]Outcome{}
	for _, r := range Outcomes(p) {
		id := r.IDOf(b, r.Index)
		require.NotContains(t, rows, id, "an id twice")
		rows[id] = r
	}
	return rows
}

// lastOf is the last part of an id.
func lastOf(id string) string { return id[strings.LastIndexByte(id, '.')+1:] }

// TestTrimmedInPlace: what panel and position do is trimmed away where the meter hangs.
//
// Birthplace: catalogue.md, 5 and 2 % of the scale.
func TestTrimmedInPlace(t *testing.T) {
	text := modeltest.With(t, modeltest.Text(t, "public-1.toml"), "hand.hours.meter.panel_for", "steel", "hand.hours.meter.panel", "not steel",
		"hand.hours.meter.position_for", "upright", "hand.hours.meter.position", "flat", "hand.hours.meter.zero_offset", "1 %")
	_, p := soundPlan(t, text)
	assert.InDelta(t, 0.07*720, p.Hands[0].MountingError, 1e-12)
	_, p = soundPlan(t, modeltest.With(t, text, "hand.hours.meter.trimmed_in_place", "yes"))
	assert.Zero(t, p.Hands[0].MountingError)
	assert.InDelta(t, 7.2, p.Hands[0].ZeroError, 1e-12, "the zero stays")
}
