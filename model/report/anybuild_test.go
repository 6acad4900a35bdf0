package report

import (
	"bytes"
	"context"
	"encoding/json"
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/spread"
)

// TestAnyBuildGivesJSON: of builds with every field anywhere in its range, at
// either end or left out, whatever is chosen: each gives JSON that parses, without
// a null, whose bands hold their values, and text without a number that is none.
// NEEDLEWRIGHT_BUILDS says how many, for a long run.
func TestAnyBuildGivesJSON(t *testing.T) {
	builds := modeltest.Sampled(t, 4)
	accepted, failed := 0, 0
	const first = 34
	for seed := uint64(first); seed < first+uint64(builds); seed++ {
		text := modeltest.AnyBuild(rand.New(rand.NewPCG(seed, 9)))
		if _, problems := model.Read(text); len(problems) > 0 {
			continue
		}
		accepted++
		if !checkNumbers(t, text) {
			t.Logf("seed %d:\n%s", seed, text)
			failed++
		}
		if failed > 5 {
			break
		}
	}
	assert.Greater(t, accepted, builds*2/3, "builds that are accepted")
}

// none is what Go prints for a number that is none.
var none = regexp.MustCompile(`NaN|Inf\b|%!`)

// checkNumbers holds all that is printed of a build to numbers.
func checkNumbers(t *testing.T, text string) bool {
	t.Helper()
	r, problems := Check(text)
	require.Empty(t, problems)
	out, err := r.JSON()
	ok := assert.NoError(t, err) && checkParses(t, out)
	for _, row := range r.Results {
		b := row.Band
		ok = ok && assert.True(t, b.Low <= row.Value && row.Value <= b.High && b.WorstLow <= row.Value && row.Value <= b.WorstHigh,
			"%s: %v %+v", row.IDOf(r.Build, row.Index), row.Value, *b)
		ok = ok && assert.NotRegexp(t, none, row.Text()+row.BandText(), row.ID)
	}
	for _, f := range r.Findings {
		ok = ok && assert.NotRegexp(t, none, f.Text+f.Advice)
	}
	for i := range r.Build.Hands {
		for _, horizon := range []judge.Horizon{judge.AfterDay, judge.AfterCells} {
			budget := r.Budget(i, horizon)
			ok = ok && assert.NotRegexp(t, none, strings.Join(budget.Lines(r.Build), "\n"))
		}
	}
	if len(r.Build.Hands) > 0 {
		y, err := spread.NewYield(context.Background(), r.Build, 50, 1, nil)
		require.NoError(t, err)
		out, err = y.JSON()
		ok = ok && assert.NoError(t, err) && checkParses(t, out)
	}
	return ok
}

// nulls are what the catalogue's JSON has where there is nothing: the value of a reading that
// cannot be read, the amount of a cause that has none.
var nulls = regexp.MustCompile(`"(value|amount)": null`)

// checkParses: the catalogue's JSON has no other null.
func checkParses(t *testing.T, out []byte) bool {
	t.Helper()
	d := json.NewDecoder(bytes.NewReader(nulls.ReplaceAll(out, []byte(`"none": 0`))))
	for {
		token, err := d.Token()
		if err != nil {
			return assert.ErrorContains(t, err, "EOF")
		}
		if !assert.NotNil(t, token, "a null before offset %d", d.InputOffset()) {
			return false
		}
	}
}

// Diodes across a coil of many volts take no more than the chain drives through
// them: derived, from Ohm's law of what is in series, and of the diode's own ohm.
func TestDiodesAcrossManyVolts(t *testing.T) {
	for _, c := range [][3]string{{"1 kΩ", "20 mA", "1 kΩ"}, {"100 kΩ", "1 A", "100 Ω"}, {"10 kΩ", "1 mA", "0 Ω"}} {
		text := modeltest.With(t, modeltest.Text(t, "public-1.toml"), "rail.voltage", "5 V ±1 %", "hand.hours.meter.diodes", "silicon",
			"hand.hours.meter.coil", c[0]+" ±1 %", "hand.hours.meter.full_scale", c[1]+" ±1 %", "hand.hours.drive.fixed", c[2])
		b, p := soundPlan(t, text)
		d := &b.Hands[0].Drive
		most := 5 / (d.PinResistance.Number + d.Stage.Number + d.Fixed.Number + 1)
		assert.Less(t, p.Hands[0].DiodeLeak, most)
		assert.Greater(t, p.Hands[0].DiodeLeak, most/2, "of 5 V they leave most to the resistors")
		assert.True(t, checkNumbers(t, text))
	}
}

// soundPlan evaluates a text that has no problems.
func soundPlan(t testing.TB, text string) (*model.Build, *circuit.Plan) {
	t.Helper()
	b := modeltest.Sound(t, text)
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return b, p
}
