package judge

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// horizons are all of them.
var horizons = [...]Horizon{AfterDay, AfterWeek, AfterMonth, AfterCells}

// budgets gives each budget of the texts.
func budgets(t testing.TB, horizon Horizon, visit func(name, text string, r *verdict, b Budget)) {
	t.Helper()
	for name, text := range modeltest.WithErrors(t) {
		r := verdictOf(modeltest.Sound(t, text))
		for i := range r.Build.Hands {
			visit(fmt.Sprintf("%s, hand %d", name, i), text, r, r.Budget(i, horizon))
		}
	}
}

// row is a budget's row, nil where it has none of that id.
func (b *Budget) row(id string) *BudgetRow {
	for k := range b.Rows {
		if b.Rows[k].ID == id {
			return &b.Rows[k]
		}
	}
	return nil
}

// amounts are the rows of a budget by their ids.
func (b *Budget) amounts() map[string]float64 {
	all := map[string]float64{}
	for k := range b.Rows {
		all[b.Rows[k].ID] = b.Rows[k].Amount
	}
	return all
}

// TestBudgetOfOneHand: derived by hand from catalogue.md and the text: 12 h are
// 720 min; class 2.5 %, rail 2 %, stick 0.3 %, a 1 kΩ trimmer of 25 turns in a chain
// of 9.375 kΩ (5 V·240/256 for 500 µA), 240 codes of 3 min.
func TestBudgetOfOneHand(t *testing.T) {
	r := verdictOf(modeltest.Sound(t, modeltest.Example("reading-room")))
	b, p := r.Budget(0, AfterWeek), &r.Plan
	want := map[string]float64{
		"class": 0.025 * 720, "rail": 0.02 * 720, "friction": 0.003 * 720, "coding": 1,
		"trim":        720 * 1000 * 0.01 / 25 / 2 / 9375,
		"temperature": p.Hands[0].TemperatureError, "ripple": p.Hands[0].RippleNeedle / 2,
		"drift": 7 * rateEnd(t, modeltest.Example("reading-room")) / 60,
	}
	assert.InDeltaMapValues(t, want, b.amounts(), 1e-9)
	amounts := 0.0
	for _, x := range want {
		amounts += x * x
	}
	// the shapes of catalogue.md, stepped through the minutes of the dial: most of all at 1:13 off half way
	worst, likely, worstAt, likelyAt := 0.0, 0.0, 0, 0
	for k := range 721 {
		y := float64(k) / 720
		off := map[string]float64{
			"class": want["class"] * 4 * y * (1 - y), "rail": want["rail"] * y, "trim": want["trim"] * y, "temperature": want["temperature"] * y,
			"friction": want["friction"], "ripple": want["ripple"], "drift": want["drift"],
			"coding": math.Abs(3*math.Floor(240*y+0.5+1e-9) - 720*y),
		}
		sum, squares := 0.0, 0.0
		for _, x := range off {
			sum, squares = sum+x, squares+x*x
		}
		if sum > worst+1e-9 {
			worst, worstAt = sum, k
		}
		if squares > likely+1e-9 {
			likely, likelyAt = squares, k
		}
	}
	assert.InDelta(t, worst, b.Worst, 1e-9)
	assert.InDelta(t, math.Sqrt(likely), b.RSS, 1e-9)
	assert.Equal(t, fmt.Sprintf("%d:%02d", worstAt/60, worstAt%60), b.WorstAt)
	assert.Equal(t, fmt.Sprintf("%d:%02d", likelyAt/60, likelyAt%60), b.LikelyAt)
	assert.Less(t, b.RSS, 20.0, "not all at half and at full scale at once: 23.4 min were that")
	assert.Equal(t, "class", b.Rows[0].ID)
	assert.InDelta(t, 18*18/amounts, b.Rows[0].Share, 1e-9)
	assert.InDelta(t, 18, b.Rows[0].At(0.5), 1e-9)
	assert.InDelta(t, 0, b.Rows[0].At(1), 1e-9)
	assert.InDelta(t, 14.4/4, b.Rows[1].At(0.25), 1e-9)
	assert.Empty(t, b.Unknown)
}

// rateEnd is the outer end of the bands of rate_low and rate_high, s/day, by the text: each
// value of the crystal with a tolerance is written at either end of it.
func rateEnd(t *testing.T, text string) float64 {
	t.Helper()
	b, p := soundPlan(t, text)
	var slow, fast calc.Spread
	for _, f := range model.Builds.Fields {
		if !strings.HasPrefix(f.Path, "crystal.") {
			continue
		}
		v, ok := f.At(b, 0).(*quantity.Value)
		if !ok || !v.Given() || v.Half() == 0 {
			continue
		}
		_, up := soundPlan(t, modeltest.With(t, text, f.Path, modeltest.ValueText(v.High(), f.Unit)))
		_, down := soundPlan(t, modeltest.With(t, text, f.Path, modeltest.ValueText(v.Low(), f.Unit)))
		low, high := p.Crystal.RateLow, p.Crystal.RateHigh
		slow.Add(max(up.Crystal.RateLow-low, down.Crystal.RateLow-low, 0), max(low-up.Crystal.RateLow, low-down.Crystal.RateLow, 0))
		fast.Add(max(up.Crystal.RateHigh-high, down.Crystal.RateHigh-high, 0), max(high-up.Crystal.RateHigh, high-down.Crystal.RateHigh, 0))
	}
	low, high := slow.Low(p.Crystal.RateLow), fast.High(p.Crystal.RateHigh)
	assert.Greater(t, max(-low, high), 1.2*max(math.Abs(p.Crystal.RateLow), math.Abs(p.Crystal.RateHigh)), "the parts are a good part of it")
	return max(math.Abs(low), math.Abs(high))
}

// TestBudgetPlaces: derived by hand. What is the same everywhere is first at zero; a rail
// is most at the top, a class alone at half.
func TestBudgetPlaces(t *testing.T) {
	only := []string{"hand.hours.meter.class", "", "rail.drift", "0 %", "hand.hours.meter.stick", "0 %", "hand.hours.drive.trimmer_turns", "", "crystal.frequency", "", "crystal.room_low", "", "hand.hours.drive.counts", "65280", "hand.hours.drive.top", "61200"}
	for _, c := range []struct {
		at      string
		changes []string
	}{
		{"0:00", []string{"hand.hours.meter.stick", "1 %"}},
		{"12:00", []string{"rail.drift", "2 %"}},
		{"6:00", []string{"hand.hours.meter.class", "2 %"}},
		{"24:00", []string{"rail.drift", "2 %", "hand.hours.shows", "24 h"}},
		{"30:00", []string{"hand.hours.meter.class", "2 %", "hand.hours.shows", "60 min"}},
		{"60", []string{"rail.drift", "2 %", "hand.hours.shows", "60 s"}},
	} {
		text := modeltest.With(t, modeltest.Example("reading-room"), append(append([]string{}, only...), c.changes...)...)
		b := verdictOf(modeltest.Sound(t, text)).Budget(0, AfterDay)
		assert.Equal(t, c.at, b.LikelyAt, "%v", c.changes)
		assert.Equal(t, c.at, b.WorstAt, "%v", c.changes)
	}
}

// TestBudgetRows: derived by hand from catalogue.md; each number is of 720 min but
// those of a seconds hand, whose dial is 1 min.
func TestBudgetRows(t *testing.T) {
	text := modeltest.Example("reading-room")
	for _, c := range []struct {
		id      string
		want    float64
		changes []string
	}{
		{"zero", 10.8, []string{"hand.hours.meter.zero_offset", "-1.5 %"}},
		{"mounting", 36, []string{"hand.hours.meter.panel_for", "steel", "hand.hours.meter.panel", "not steel"}},
		{"mounting", 0, []string{"hand.hours.meter.panel_for", "steel", "hand.hours.meter.panel", "not steel", "hand.hours.meter.trimmed_in_place", "yes"}}, // as it advises
		{"leak", 720 * 3.0 / 500 * (9375 - 640) / 9375, []string{"hand.hours.drive.capacitor_kind", "electrolytic"}},
		{"rail", 720 * (1.02*1.02 - 1), []string{"hand.hours.meter.law", "square"}},                    // the law past full scale
		{"rail", 720 * 0.02, []string{"hand.hours.meter.law", "square", "hand.hours.correct", "dial"}}, // the dial follows the current
		{"movement", 18, []string{"hand.hours.meter.movement_tempco", ""}},                             // 10 K from 21 to 31 °C
		{"movement", 0, []string{"hand.hours.meter.movement_tempco", "200 ppm/K"}},
		{"class", 18, []string{"hand.hours.correct", "codes"}}, // straightened by what nobody measured
		{"class", 18, []string{"hand.hours.correct", "dial"}},
		{"scale", 0, []string{"hand.hours.correct", "codes"}},
		{"class", 0, measured("[[0, 0], [50, 47], [100, 100]]")},
		{"class", 18, measured("[[0, 0], [100, 100]]")},                                                // nothing between the ends
		{"scale", 0.005 * 720, measured("[[0, 0], [50, 47], [100, 100]]")},                             // 3 % off the straight line: no better
		{"scale", 0.001 * 720, measured("[[0, 0], [25, 24.8], [50, 49.8], [75, 74.9], [100, 100]]")},   // 24.8 stands 0.1 % off the line between 0 and 49.8
		{"scale", 0.0005 * 720, measured("[[0, 0], [50.1, 50.1], [100, 100]]")},                        // as well as it was written
		{"fade", 720 * (1 - 4.0/5), []string{"converter.kind", "none", "load.minimum_voltage", "4 V"}}, // floor 4 V of a 5 V rail
		{"rail", 0, []string{"converter.kind", "none", "load.minimum_voltage", "4 V"}},                 // instead of it
		{"rail", 0.02 * 720, []string{"converter.kind", "none", "battery.cells", "0"}},                 // no cells that fade
		{"full_scale", 720 * (9375.0/(640+50+8200+1200) - 1) * -1, []string{"hand.hours.drive.trimmer", "1.2 kΩ", "hand.hours.drive.setting", "1.2 kΩ"}},
		{"settling", 0.476 / 60, []string{"hand.hours.shows", "60 s", "hand.hours.meter.period", "3 s", "hand.hours.meter.overshoot", "0 %"}}, // calc's example, stepped through time there
		{"settling", 0, []string{"hand.hours.shows", "60 s", "hand.hours.meter.period", "0.4 s"}},
		{"settling", 0, []string{"hand.hours.shows", "60 min", "hand.hours.meter.period", "3 s"}},
		{"trim", 720, []string{"hand.hours.drive.trimmer", "5 MΩ", "hand.hours.drive.trimmer_turns", "1",
			"hand.hours.meter.law", "table", "hand.hours.meter.table", "[[0, 0], [40, 80], [100, 100]]"}}, // half a step is 12.5 kΩ: to no current at all
		{"coding", 181, []string{"hand.hours.meter.law", "square"}}, // x² - x is most at half; that code stays a minute longer
	} {
		b := verdictOf(modeltest.Sound(t, modeltest.With(t, text, c.changes...))).Budget(0, AfterDay)
		row := b.row(c.id)
		if c.want == 0 {
			assert.Nil(t, row, "%s of %v", c.id, c.changes)
			continue
		}
		require.NotNil(t, row, "%s of %v", c.id, c.changes)
		assert.InEpsilon(t, c.want, row.Amount, 1e-3, "%s of %v", c.id, c.changes)
	}
	b := verdictOf(modeltest.Sound(t, modeltest.With(t, text, "hand.hours.meter.class", "", "crystal.room_low", ""))).Budget(0, AfterDay)
	assert.Equal(t, []string{"accuracy class", "room temperature", "drift since it was set"}, b.Unknown)
}

// measured is a law of so many points, straightened.
func measured(table string) []string {
	return []string{"hand.hours.meter.law", "table", "hand.hours.meter.table", table, "hand.hours.correct", "codes"}
}

// TestBudgetHorizons: derived; what has gone by is days of the same rate.
func TestBudgetHorizons(t *testing.T) {
	r := verdictOf(modeltest.Sound(t, modeltest.Example("reading-room")))
	drift := func(h Horizon) float64 { b := r.Budget(0, h); return b.row("drift").Amount }
	a := drift(AfterDay)
	assert.InEpsilon(t, 7*a, drift(AfterWeek), 1e-12)
	assert.InEpsilon(t, 365.25/12*a, drift(AfterMonth), 1e-12)
	assert.InEpsilon(t, r.Plan.Battery.LifeMixed/24*a, drift(AfterCells), 1e-12)
	b := verdictOf(modeltest.Sound(t, modeltest.With(t, modeltest.Example("reading-room"), "battery.cells", "0"))).Budget(0, AfterCells)
	assert.Equal(t, []string{"drift since it was set"}, b.Unknown, "no cells, no life of theirs")
}

// TestBudgetIsTheLargestOfTheDial: a law. What a row says at any place is at most
// its amount, and somewhere as much: of coding, and of bends under an uneven law, at the dial's
// instants.
func TestBudgetIsTheLargestOfTheDial(t *testing.T) {
	seen := map[string]bool{}
	budgets(t, AfterMonth, func(name, _ string, r *verdict, b Budget) {
		steps := r.Plan.Circuit.Hands[b.Hand].Steps
		for k := range b.Rows {
			row, most := &b.Rows[k], 0.0
			parts := 20 * steps // the corners of tables of whole percents are among them
			if uneven := r.Plan.Circuit.Hands[b.Hand].Law.Kind != calc.Linear; row.ID == "coding" || uneven && strings.HasSuffix(row.ID, "_bend") {
				parts = steps
			}
			for s := range parts + 1 {
				most = max(most, row.At(float64(s)/float64(parts)))
			}
			assert.LessOrEqual(t, most, row.Amount*(1+1e-4), "%s: %s", name, row.ID)
			assert.GreaterOrEqual(t, most, row.Amount*(1-1e-3), "%s: %s", name, row.ID)
			seen[row.ID] = true
		}
	})
	for k := range sources {
		assert.True(t, seen[sources[k].id], "no build with %s", sources[k].id)
	}
}

// TestBudgetChangesComeTrue: a law. With the changes made in the text the row is
// smaller and the RSS less by as much as is promised, and no finding is worse.
func TestBudgetChangesComeTrue(t *testing.T) {
	modeltest.Long(t)
	changed := map[string]bool{}
	of := horizons[2:] // a month and the cells' life; a long run takes all
	if os.Getenv("NEEDLEWRIGHT_BUILDS") != "" {
		of = horizons[:]
	}
	for _, horizon := range of {
		budgets(t, horizon, func(name, text string, r *verdict, b Budget) {
			for k := range b.Rows {
				assertBudgetComesTrue(t, name, text, r, &b, &b.Rows[k])
				if b.Rows[k].Changes != nil {
					changed[b.Rows[k].ID] = true
				}
			}
		})
	}
	for k := range sources {
		assert.Equal(t, remedies[sources[k].id].tries != nil, changed[sources[k].id], "changes of %s", sources[k].id)
	}
}

// assertBudgetComesTrue makes the changes of a row in the text.
func assertBudgetComesTrue(t require.TestingT, name, text string, r *verdict, b *Budget, row *BudgetRow) {
	if row.Changes == nil {
		rest := likelyOf(r, b, row)
		assert.InDelta(t, b.RSS-math.Sqrt(rest), row.Gain, 1e-9*b.RSS+1e-12, "%s: %s", name, row.ID)
		assert.NotContains(t, row.Advice, "→")
		assert.NotContains(t, row.Advice, "Worse")
		return
	}
	made := model.Open(text).Make(row.Changes)
	require.Empty(t, modeltest.Messages(made.Problems), "%s: %s: %s", name, row.ID, row.Advice)
	after := verdictOf(made.Build)
	left := after.Budget(b.Hand, b.Horizon)
	assert.InDelta(t, b.RSS-left.RSS, row.Gain, 1e-9*b.RSS, "%s: %s", name, row.Advice)
	assert.Positive(t, row.Gain, name)
	assert.Less(t, left.amounts()[row.ID], row.Amount, "%s: %s", name, row.Advice)
	advice, _, _ := strings.Cut(row.Advice, " Worse: ")
	assert.True(t, strings.HasSuffix(advice, model.ChangesText(r.Build, row.Changes)+": likely "+quantity.DialTime(b.RSS)+" → "+quantity.DialTime(left.RSS)+"."), row.Advice)
	assert.LessOrEqual(t, harmOf(after), harmOf(r), "%s: %s", name, row.Advice)
}

// likelyOf is the largest sum of the squares of all rows but one at any place of the
// dial, min².
func likelyOf(r *verdict, b *Budget, but *BudgetRow) (most float64) {
	steps := r.Plan.Circuit.Hands[b.Hand].Steps
	for k := range steps + 1 {
		squares := 0.0
		for j := range b.Rows {
			if row := &b.Rows[j]; row.ID != but.ID {
				x := row.At(float64(k) / float64(steps))
				squares += x * x
			}
		}
		most = max(most, squares)
	}
	return most
}

// harmOf weighs the faults and cautions of a report.
func harmOf(r *verdict) int {
	var s score
	for _, f := range r.Findings {
		s.add(f.Severity)
	}
	return s.harm()
}

// TestAnyBudget: laws, of any build without problems.
func TestAnyBudget(t *testing.T) {
	modeltest.Long(t)
	rapid.Check(t, func(t *rapid.T) {
		text, build := modeltest.SoundOrSkip(t, modeltest.Draw(t))
		r := verdictOf(build)
		horizon := rapid.SampledFrom(horizons[:]).Draw(t, "horizon")
		for i := range build.Hands {
			b := r.Budget(i, horizon)
			require.False(t, math.IsNaN(b.RSS+b.Worst) || math.IsInf(b.Worst, 0))
			require.LessOrEqual(t, b.RSS, b.Worst*(1+1e-12))
			shares := 0.0
			for k := range b.Rows {
				row := &b.Rows[k]
				shares += row.Share
				require.True(t, k == 0 || row.Amount <= b.Rows[k-1].Amount, "largest first")
				require.True(t, row.Amount > 0 && row.Gain >= 0, "%s: %v, %v", row.ID, row.Amount, row.Gain)
			}
			require.True(t, len(b.Rows) == 0 || math.Abs(shares-1) < 1e-9)
			if len(b.Rows) > 0 {
				assertBudgetComesTrue(t, text, text, r, &b, &b.Rows[rapid.IntRange(0, len(b.Rows)-1).Draw(t, "row")])
			}
			require.NotContains(t, strings.Join(b.Lines(build), "\n"), "NaN")
		}
	})
}

// TestBudgetInWordsAndJSON: derived; both say what the budget holds, and of traces
// the text says no more than their sum.
func TestBudgetInWordsAndJSON(t *testing.T) {
	budgets(t, AfterWeek, func(name, _ string, r *verdict, b Budget) {
		lines := b.Lines(r.Build)
		assert.True(t, strings.HasPrefix(lines[0], r.Build.Hands[b.Hand].Name+", a week after it was set: off by "+quantity.DialTime(b.Worst)+" at worst, "+quantity.DialTime(b.RSS)), lines[0])
		text, err := json.Marshal(b.Record(r.Build))
		require.NoError(t, err)
		var out BudgetRecord
		require.NoError(t, json.Unmarshal(text, &out))
		assert.Equal(t, []float64{b.Worst, b.RSS}, []float64{out.Worst, out.Likely})
		assert.Equal(t, []string{b.WorstAt, b.LikelyAt}, []string{out.WorstAt, out.LikelyAt})
		require.Len(t, out.Rows, len(b.Rows))
		all := strings.Join(lines, "\n")
		for k := range b.Rows {
			row, record := &b.Rows[k], out.Rows[k]
			assert.Equal(t, r.Build.Hands[b.Hand].Name+".budget."+row.ID, record.ID)
			assert.Equal(t, []float64{row.Amount, row.Share, row.Gain, row.IfSo}, []float64{record.Amount, record.Share, record.Gain, record.IfSo})
			assert.Equal(t, row.Field, record.Measure)
			require.Len(t, record.Changes, len(row.Changes), name)
			for j, c := range row.Changes {
				assert.Equal(t, ChangeRecord{c.Path(r.Build), c.Text}, record.Changes[j])
			}
			assert.Contains(t, all, row.Label)
			if row.Share >= leastShown {
				gain := row.Gain
				if row.Field != "" && (row.Changes == nil || row.IfSo > gain) {
					gain = row.IfSo
				}
				assert.Regexp(t, "(?m)^  "+row.Label+" +"+quantity.DialTime(row.Amount)+" .*"+quantity.DialTime(gain)+" less$", all)
			}
		}
	})
}

// TestCatalogueNamesBudget: every row stands in the catalogue, in the table's order.
func TestCatalogueNamesBudget(t *testing.T) {
	text, err := os.ReadFile("../catalogue.md")
	require.NoError(t, err)
	_, section, found := strings.Cut(string(text), "## Error budget\n")
	require.True(t, found)
	at := -1
	for k := range sources {
		next := strings.Index(section, "| `<hand>.budget."+sources[k].id+"` |")
		assert.Greater(t, next, at, sources[k].id)
		at = next
	}
	ids := make([]string, len(sources))
	for k := range sources {
		ids[k] = sources[k].id
		assert.NotNil(t, remedies[sources[k].id].advice, ids[k])
	}
	slices.Sort(ids)
	assert.Len(t, slices.Compact(ids), len(sources), "an id twice")
}
