package report

import (
	"encoding/json"
	"maps"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/spread"
)

func TestCheckNeedsASoundBuild(t *testing.T) {
	report, problems := Check(modeltest.Text(t, "bad.toml"))
	assert.Nil(t, report)
	assert.NotEmpty(t, problems)
}

// TestJSON: the shape of catalogue.md, "Commands".
func TestJSON(t *testing.T) {
	text := modeltest.Text(t, "public-1.toml")
	report, problems := Check(text)
	require.Empty(t, problems)
	bytes, err := report.JSON()
	require.NoError(t, err)
	var top map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(bytes, &top))
	assert.Len(t, top, 11)
	var budgets []judge.BudgetRecord
	require.NoError(t, json.Unmarshal(top["budget"], &budgets))
	require.Len(t, budgets, 1)
	budget := report.Budget(0, judge.AfterMonth)
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
	changesOf := func(list []model.Change) []change {
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
	require.Len(t, cautions, len(caution.Of(report.Build)))
	for i, want := range caution.Of(report.Build) {
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
	report, problems := Check(modeltest.Text(t, "public-1.toml"))
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
			report, problems := Check(modeltest.Text(t, name))
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
	bytes, err := (&Report{Build: &model.Build{}}).JSON()
	require.NoError(t, err)
	var little map[string]json.RawMessage
	require.NoError(t, json.Unmarshal(bytes, &little))
	for _, list := range []string{"results", "findings", "suggestions"} {
		assert.JSONEq(t, "[]", string(little[list]), list)
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
		r, problems := Check(modeltest.With(t, modeltest.Text(t, "public-1.toml"), "title", "a"+given+"b"))
		require.Empty(t, problems)
		out, err := r.JSON()
		require.NoError(t, err)
		assert.Contains(t, string(out), `"a`+want+`b"`)
		y, err := spread.NewYield(t.Context(), r.Build, 1, 1, nil)
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

func TestDocumentReport(t *testing.T) {
	text := modeltest.Text(t, "public-2.toml")
	report, problems := Check(text)
	require.Empty(t, problems)
	want, err := report.JSON()
	require.NoError(t, err)
	quick := Of(model.Open(text))
	assert.Empty(t, quick.Better, "that takes longer")
	for i, f := range quick.Findings {
		assert.Equal(t, f.Text, report.Findings[i].Text)
		assert.Contains(t, report.Findings[i].Advice, f.Advice)
		assert.Empty(t, f.Changes)
	}
	got, err := quick.Advised().Banded().JSON()
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got))
}

func BenchmarkCheck(b *testing.B) {
	for _, name := range []string{"station-platform", "school-store"} {
		build := modeltest.Sound(b, modeltest.Example(name))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				check(build).Advised()
			}
		})
		b.Run(name+", bands and budgets", func(b *testing.B) {
			for b.Loop() {
				r := check(build).Banded()
				for i := range build.Hands {
					r.Budget(i, judge.AfterMonth)
				}
			}
		})
	}
}

func TestWorst(t *testing.T) {
	report, problems := Check(modeltest.With(t, modeltest.Text(t, "public-1.toml"), "battery.cell", "CR2032", "lamp.seconds.forward", "5 V"))
	require.Empty(t, problems)
	worst := judge.Sound
	for _, f := range report.Findings {
		worst = max(worst, f.Severity)
	}
	assert.Equal(t, worst, report.Worst())
	assert.Equal(t, judge.Sound, (&Report{}).Worst())
}

// FuzzCheck: a build without problems gives rows of finite numbers, findings that
// name a field, and JSON.
func FuzzCheck(f *testing.F) {
	for _, name := range []string{"whole.toml", "three-hands.toml", "bare-cells.toml", "public-1.toml", "public-2.toml"} {
		f.Add(modeltest.Text(f, name))
	}
	f.Fuzz(func(t *testing.T, text string) {
		r := Of(model.Open(text))
		if r == nil {
			return
		}
		for _, row := range r.Results {
			require.False(t, math.IsNaN(row.Value) || math.IsInf(row.Value, 0), row.ID)
			require.NotEmpty(t, row.Text())
		}
		for _, finding := range r.Findings {
			_, problem := model.Set(text, finding.Field, "1")
			require.Nil(t, problem, finding.ID)
		}
		_, err := r.JSON()
		require.NoError(t, err)
	})
}

func TestNoReportOfProblems(t *testing.T) {
	d := model.Open(modeltest.Text(t, "public-1.toml"))
	require.NotNil(t, Of(d))
	assert.Nil(t, Of(d.Set(model.Builds.Field("hand.meter.coil"), 0, "9 V")))
	assert.Nil(t, Of(model.Open("format = 1\n[rail\n")))
}
