package model

import (
	"encoding/json"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

func TestCheckNeedsASoundBuild(t *testing.T) {
	report, problems := Check(testdata(t, "bad.toml"))
	assert.Nil(t, report)
	assert.NotEmpty(t, problems)
}

// TestJSON: the shape of catalogue.md, "Commands".
func TestJSON(t *testing.T) {
	text := testdata(t, "public-1.toml")
	report, problems := Check(text)
	require.Empty(t, problems)
	bytes, err := report.JSON()
	require.NoError(t, err)
	var top map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(bytes, &top))
	assert.Len(t, top, 6)
	var budgets []BudgetRecord
	require.NoError(t, json.Unmarshal(top["budget"], &budgets))
	require.Len(t, budgets, 1)
	budget := report.Budget(0, AfterMonth)
	assert.Equal(t, budget.Record(report.Build), budgets[0])
	assert.JSONEq(t, `"Check build 1: one hand, own filter stage, stepped-up cells"`, string(top["title"]))

	var rows []map[string]any
	require.NoError(t, json.Unmarshal(top["results"], &rows))
	require.Len(t, rows, len(report.Results))
	for i, row := range rows {
		keys := []string{"id", "value", "unit", "low", "high", "worst_low", "worst_high", "shares"}
		band := report.Results[i].Band
		if band.Simulated {
			keys = append(keys, "band")
			assert.Equal(t, "simulated", row["band"])
		}
		assert.ElementsMatch(t, keys, slices.Collect(maps.Keys(row)))
		assert.Equal(t, []any{band.Low, band.High, band.WorstLow, band.WorstHigh}, []any{row["low"], row["high"], row["worst_low"], row["worst_high"]})
		wantShares := []any{}
		for _, s := range band.Shares {
			if s.Share > 0.001 {
				wantShares = append(wantShares, map[string]any{"path": s.Path(report.Build), "share": s.Share})
			}
		}
		assert.Equal(t, wantShares, row["shares"])
		assert.Equal(t, report.Results[i].IDOf(report.Build, report.Results[i].Index), row["id"], "the order of the rows")
		assert.Equal(t, report.Results[i].Value, row["value"], "to the last bit")
	}
	type change struct{ Path, Value string }
	var found []struct {
		ID, About, Severity, Text, Advice string
		Changes                           []change
	}
	require.NoError(t, json.Unmarshal(top["findings"], &found))
	require.Len(t, found, len(report.Findings))
	require.NotEmpty(t, found)
	changesOf := func(list []Change) []change {
		changes := []change{}
		for _, c := range list {
			changes = append(changes, change{c.Field.PathOf(report.Build, c.Index), c.Text})
		}
		return changes
	}
	for i, f := range found {
		want := report.Findings[i]
		assert.Equal(t, []string{want.ID, want.About, want.Severity.String(), want.Text, want.Advice}, []string{f.ID, f.About, f.Severity, f.Text, f.Advice})
		assert.Equal(t, changesOf(want.Changes), f.Changes)
		assert.Contains(t, []string{"note", "caution", "fault"}, f.Severity)
		assert.Contains(t, []string{"", "hours", "seconds", "afternoon"}, f.About)
	}
	var cautions []struct{ ID, To, Text, Source string }
	require.NoError(t, json.Unmarshal(top["cautions"], &cautions))
	require.NotEmpty(t, cautions)
	require.Len(t, cautions, len(Cautions(report.Build)))
	for i, want := range Cautions(report.Build) {
		assert.Equal(t, []string{want.ID, want.To, want.Text, want.Source}, []string{cautions[i].ID, cautions[i].To, cautions[i].Text, cautions[i].Source})
	}
	var better []struct {
		ID, About, Text string
		Changes         []change
	}
	require.NoError(t, json.Unmarshal(top["suggestions"], &better))
	require.Len(t, better, len(report.Better))
	require.NotEmpty(t, better)
	for i, s := range better {
		want := report.Better[i]
		assert.Equal(t, []string{want.ID, want.About, want.Text}, []string{s.ID, s.About, s.Text})
		assert.Equal(t, changesOf(want.Changes), s.Changes)
	}
}

// Birthplace: catalogue.md, "Units inside the program".
func TestJSONUnits(t *testing.T) {
	report, problems := Check(testdata(t, "public-1.toml"))
	require.Empty(t, problems)
	bytes, err := report.JSON()
	require.NoError(t, err)
	var out struct{ Results []struct{ ID, Unit string } }
	require.NoError(t, json.Unmarshal(bytes, &out))
	got := map[string]string{}
	for _, r := range out.Results {
		got[r.ID] = r.Unit
	}
	for id, unit := range map[string]string{
		"hours.top_voltage": "V", "hours.full_scale_voltage": "V", "hours.series_needed": "Ω", "hours.trimmer_travel": "",
		"hours.current_trimmer_zero": "A", "hours.overload_worst": "", "hours.pwm_frequency": "Hz", "hours.filter_time_constant": "s",
		"hours.ripple_voltage_worst": "V", "hours.ripple_needle": "min", "hours.step": "min", "hours.code_error_rms": "min",
		"hours.needle_damping": "", "hours.temperature_error": "min", "hours.full_scale_reached": "",
		"crystal.load_actual": "F", "crystal.load_offset": "ppm", "crystal.sensitivity": "ppm/pF", "crystal.tick_period": "s",
		"crystal.rate": "s/day", "crystal.transconductance_critical": "S", "crystal.gain_margin": "",
		"lamp.seconds.current": "A", "battery.current_on": "A", "battery.life_mixed": "h",
	} {
		assert.Equal(t, unit, got[id], id)
	}
}

func TestJSONSameBytes(t *testing.T) {
	for _, name := range []string{"public-1.toml", "three-hands.toml", "whole.toml"} {
		var before []byte
		for range 3 {
			report, problems := Check(testdata(t, name))
			require.Empty(t, problems)
			bytes, err := report.JSON()
			require.NoError(t, err)
			if before != nil {
				assert.Equal(t, string(before), string(bytes))
			}
			before = bytes
		}
	}
}

// With nothing to say the lists are empty, not null.
func TestJSONOfLittle(t *testing.T) {
	bytes, err := (&Report{Build: &Build{}}).JSON()
	require.NoError(t, err)
	var little map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(bytes, &little))
	for _, list := range []string{"results", "findings", "suggestions"} {
		assert.JSONEq(t, "[]", string(little[list]), list)
	}
}

// Rows of one hand stand together, in the order of the table.
func TestRowsInOrder(t *testing.T) {
	b, p := soundPlan(t, testdata(t, "three-hands.toml"))
	var heads []string
	for _, r := range Rows(p) {
		head, _, _ := strings.Cut(r.IDOf(b, r.Index), ".")
		if len(heads) == 0 || heads[len(heads)-1] != head {
			heads = append(heads, head)
		}
	}
	assert.Equal(t, []string{"hours", "minutes", "seconds", "crystal", "lamp", "load"}, heads) // no battery and no rail's capacitor in this build
}

func TestResultRowsAreWhole(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range results {
		assert.False(t, seen[r.ID], "%s twice", r.ID)
		seen[r.ID] = true
		assert.NotEmpty(t, r.Label, r.ID)
		assert.NotEmpty(t, r.Formula, r.ID)
		assert.LessOrEqual(t, r.Question, Lasts, r.ID)
	}
}

func TestDuration(t *testing.T) {
	for _, c := range []struct { // derived: three digits; a year is 8766 h, a month a twelfth
		hours float64
		want  string
	}{
		{0, "0 h"}, {0.5, "0.50 h"}, {9.994, "9.99 h"}, {9.996, "10.0 h"}, {71.94, "71.9 h"}, {72, "3.00 days"}, {251.809, "10.5 days"},
		{239.99, "10.0 days"}, {2399, "100 days"}, {2397, "99.9 days"}, {2400, "3.29 months"}, {8766, "12.0 months"}, {17531, "24.0 months"}, {17532, "2.00 years"},
		{87660, "10.0 years"}, {876600, "100 years"}, {8766e4, "10000 years"}, {math.Inf(1), "–"}, {math.NaN(), "–"},
	} {
		assert.Equal(t, c.want, quantity.ShowDuration(c.hours), "%v h", c.hours)
	}
}

// Birthplace: derived from public-1.json, in the units of the results table and
// four digits, lives apart; less than a dial minute is shown in seconds.
func TestRowText(t *testing.T) {
	b, p := soundPlan(t, testdata(t, "public-1.toml"))
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

// What a terminal would obey, or turn its writing by, is escaped, and reads back the
// same: controls (ECMA-48), marks of direction (UAX #9, table 3), separators, joiners, tags,
// private use; characters beyond 16 bits as a pair (RFC 8259, 7). Letters stay.
func TestJSONSendsNoControls(t *testing.T) {
	for given, want := range map[string]string{
		"\x1b": `\u001b`, "\u007f": `\u007f`, "\u0080": `\u0080`, "\u009b": `\u009b`, "\u009f": `\u009f`,
		"\u061c": `\u061c`, "\u200e": `\u200e`, "\u200f": `\u200f`,
		"\u202a": `\u202a`, "\u202b": `\u202b`, "\u202c": `\u202c`, "\u202d": `\u202d`, "\u202e": `\u202e`,
		"\u2066": `\u2066`, "\u2067": `\u2067`, "\u2068": `\u2068`, "\u2069": `\u2069`,
		"\u2028": `\u2028`, "\u2029": `\u2029`, "\u200b": `\u200b`, "\u00ad": `\u00ad`, "\ufeff": `\ufeff`,
		"\ue000": `\ue000`, "\U000e0041": `\udb40\udc41`, "é漢Ω𝄞": "é漢Ω𝄞", "\n": `\n`,
	} {
		r, problems := Check(with(t, testdata(t, "public-1.toml"), "title", "a"+given+"b"))
		require.Empty(t, problems)
		out, err := r.JSON()
		require.NoError(t, err)
		assert.Contains(t, string(out), `"a`+want+`b"`)
		y, err := NewYield(t.Context(), r.Build, 1, 1, nil)
		require.NoError(t, err)
		ofYield, err := y.JSON()
		require.NoError(t, err)
		assert.Contains(t, string(ofYield), `"a`+want+`b"`)
		for _, text := range [][]byte{out, ofYield} {
			var back struct{ Title string }
			require.NoError(t, json.Unmarshal(text, &back))
			assert.Equal(t, "a"+given+"b", back.Title)
		}
	}
}
