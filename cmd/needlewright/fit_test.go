package main

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/examples"
	"example.com/needlewright/model"
	"example.com/needlewright/model/fit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/report"
)

// What fit promises of a way is what check says of the build with its changes made, to the
// last digit. It is made as --set makes it, path by path, in the text.
func TestWaysComeTrue(t *testing.T) {
	drawer, err := fit.Read(exampleText(t, "drawer.csv"))
	require.NoError(t, err)
	require.Empty(t, drawer.Problems)
	tried := map[string]int{}
	for _, c := range [][2]string{{"reading-room", "hours"}, {"harbour-office", "hours"}, {"station-platform", "minutes"}, {"school-store", "hours"}, {"reading-room", "hours"}} {
		text := exampleText(t, c[0]+".toml")
		if tried["direct"] > 0 && c[0] == "reading-room" { // the second time on a rail that can be raised
			var problem *model.Problem
			text, problem = model.Set(text, "rail.voltage", "3.3 V ±1 %")
			require.Nil(t, problem)
		}
		frame, err := fit.NewFrame(model.Open(text), c[1])
		require.NoError(t, err)
		for _, row := range drawer.Rows {
			checkWays(t, text, c[1], frame.Of(row), tried)
		}
		checkWays(t, text, c[1], frame.OfHand(), tried)
	}
	for _, id := range []string{"direct", "filter", "half", "bridge", "switch", "rail", "opened"} {
		assert.NotZero(t, tried[id], "the example drawer has no way %q", id)
	}
}

// A scale that was measured is of the meter that the clock had: another is judged without it,
// its own with it.
func TestMeasuredScaleIsOfItsMeter(t *testing.T) {
	text := exampleText(t, "reading-room.toml")
	var rows strings.Builder
	for _, r := range [][2]string{{"0", "0 %"}, {"60", "29 %"}, {"120", "54 %"}, {"180", "78 %"}, {"240", "100 %"}} {
		rows.WriteString("[[hand.scale]]\ncode = " + r[0] + "\nstands = \"" + r[1] + "\"\n\n")
	}
	measured := strings.Replace(text, "[crystal]\n", rows.String()+"[crystal]\n", 1)
	measured, problem := model.Set(measured, "hand.hours.correct", "codes")
	require.Nil(t, problem)
	drawer, err := fit.Read(exampleText(t, "drawer.csv"))
	require.NoError(t, err)
	frame, err := fit.NewFrame(model.Open(measured), "hours")
	require.NoError(t, err)
	tried := map[string]int{}
	for _, row := range drawer.Rows[:6] {
		m := frame.Of(row)
		checkWays(t, measured, "hours", m, tried)
		if best := m.Best(); best != nil && row.Name == "Twin of the reading room's" {
			without, err := fit.NewFrame(model.Open(text), "hours")
			require.NoError(t, err)
			assert.InDelta(t, without.Of(row).Best().Likely, best.Likely, 1e-9, "no point of the other meter's scale is left")
		}
	}
	own := frame.OfHand()
	checkWays(t, measured, "hours", own, tried)
	assert.Equal(t, fit.Fits, own.Verdict)
	assert.NotEmpty(t, tried)
}

// The same of rows drawn at random; NEEDLEWRIGHT_METERS says how many.
func TestAnyWaysComeTrue(t *testing.T) {
	n := 40
	if text := os.Getenv("NEEDLEWRIGHT_METERS"); text != "" {
		var err error
		n, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	drawer, err := fit.Read(anyDrawer(rand.New(rand.NewPCG(1, 2)), n))
	require.NoError(t, err)
	require.Empty(t, drawer.Problems)
	text := exampleText(t, "reading-room.toml")
	low, problem := model.Set(text, "rail.voltage", "3.3 V ±1 %")
	require.Nil(t, problem)
	tried := map[string]int{}
	for k, row := range drawer.Rows {
		clock := []string{text, low}[k%2]
		frame, err := fit.NewFrame(model.Open(clock), "hours")
		require.NoError(t, err)
		checkWays(t, clock, "hours", frame.Of(row), tried)
	}
	assert.GreaterOrEqual(t, len(tried), 5, "%v", tried)
	t.Log(tried)
}

func exampleText(t testing.TB, name string) string {
	t.Helper()
	text, err := examples.Files.ReadFile(name)
	require.NoError(t, err)
	return string(text)
}

// checkWays holds each way of a meter to what its changes make of a text.
func checkWays(t *testing.T, text, hand string, m *fit.Meter, tried map[string]int) {
	t.Helper()
	out, err := fit.JSON([]*fit.Meter{m})
	require.NoError(t, err)
	var read struct {
		Meters []struct {
			Ways []struct {
				ID, Verdict      string
				Changes          []judge.ChangeRecord
				Likely, Worst    *float64
				LifeOn           *float64 `json:"life_on"`
				LifeMixed        *float64 `json:"life_mixed"`
				Current          *float64
				Faults, Cautions int
			}
		}
	}
	require.NoError(t, json.Unmarshal(out, &read))
	for _, w := range read.Meters[0].Ways {
		tried[w.ID]++
		made := text
		for _, change := range w.Changes {
			var problem *model.Problem
			made, problem = model.Set(made, change.Path, change.Value)
			require.Nil(t, problem)
		}
		what := fmt.Sprintf("%s of %s: %v", w.ID, m.Name, w.Changes)
		d := model.Open(made)
		if !assert.Empty(t, d.Problems, what) {
			continue
		}
		r := report.Of(d)
		i := slices.IndexFunc(r.Build.Hands, func(h model.Hand) bool { return h.Name == hand })
		budget := r.Budget(i, judge.AfterMonth)
		counts := map[judge.Severity]int{}
		for _, f := range r.Findings {
			counts[f.Severity]++
		}
		result := func(id string) *float64 {
			for _, row := range r.Results {
				if row.IDOf(r.Build, row.Index) == id {
					return &row.Value
				}
			}
			return nil
		}
		got := []any{w.Likely, w.Worst, w.LifeOn, w.LifeMixed, w.Current, w.Faults, w.Cautions}
		want := []any{&budget.RSS, &budget.Worst, result("battery.life_on"), result("battery.life_mixed"), result(hand + ".rail_current"), counts[judge.Fault], counts[judge.Warning]}
		assert.Equal(t, want, got, what)
	}
}

// anyDrawer is a table of meters drawn at random, of all kinds.
func anyDrawer(rng *rand.Rand, n int) string {
	pick := func(words ...string) string { return words[rng.IntN(len(words))] }
	between := func(least, most float64) float64 { return least * math.Pow(most/least, rng.Float64()) }
	var b strings.Builder
	b.WriteString("name;kind;marked;coil;full_scale;class;zero_at;inside;inside_value;ohms_per_volt;shunt_drop;terminal_resistance;terminal_full_scale;law;scale_from;origin;removed;glow\n")
	for k := range n {
		current := between(20e-6, 0.3)
		coil := between(0.02, 0.5) / current
		cells := map[string]string{
			"kind": pick("", "moving coil", "moving coil", "moving iron", "rectifier", "thermal", "other"), "class": pick("", "1.5", "2,5 %"),
			"zero_at": pick("", "left", "centre", "right"), "inside": pick("", "none", "multiplier", "shunt", "rectifier", "unknown"),
			"law": pick("", "linear", "square"), "scale_from": pick("", "", "", "20 %"), "origin": pick("", "new", "salvaged", "mains"),
			"removed": pick("yes", "yes", "no"), "glow": pick("no", "no", "unknown"),
		}
		put := func(column, text string) {
			if rng.IntN(3) > 0 {
				cells[column] = text
			}
		}
		put("coil", fmt.Sprintf("%.4g Ω ±2 %%", coil))
		put("full_scale", fmt.Sprintf("%.4g mA ±1 %%", current*1e3))
		if rng.IntN(3) == 0 {
			put("terminal_resistance", fmt.Sprintf("%.4g Ω", coil*between(1, 100)))
			put("terminal_full_scale", fmt.Sprintf("%.4g µA ±2 %%", current*1e6))
		}
		switch rng.IntN(4) {
		case 0:
			cells["marked"] = fmt.Sprintf("%.3g V", between(1, 300))
			put("ohms_per_volt", "1 kΩ/V")
		case 1:
			cells["marked"] = fmt.Sprintf("%.3g A", between(1e-3, 30))
		case 2:
			put("shunt_drop", "60 mV")
		}
		put("inside_value", fmt.Sprintf("%.3g kΩ", between(0.01, 30)))
		fmt.Fprintf(&b, "meter %d", k+1)
		for column := range strings.SplitSeq("kind;marked;coil;full_scale;class;zero_at;inside;inside_value;ohms_per_volt;shunt_drop;terminal_resistance;terminal_full_scale;law;scale_from;origin;removed;glow", ";") {
			b.WriteString(";" + cells[column])
		}
		b.WriteString("\n")
	}
	return b.String()
}
