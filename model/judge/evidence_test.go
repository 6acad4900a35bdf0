package judge

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// eachBuild gives the examples, the builds with errors, and as many random ones as a
// fixed sample has.
func eachBuild(t *testing.T, sample int, visit func(name, text string)) {
	t.Helper()
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	for _, f := range files {
		visit(f, modeltest.FileText(f))
	}
	for name, text := range modeltest.WithErrors(t) {
		visit(name, text)
	}
	for seed := range uint64(modeltest.Sampled(t, sample)) {
		random := rand.New(rand.NewPCG(seed, 11))
		name, text := fmt.Sprintf("seed %d", seed), ""
		switch seed % 3 {
		case 0:
			text = modeltest.AnyBuild(random)
		case 1:
			text = randomErrors(t, random)
		default:
			text = model.Builds.NewText(litTables, randomValues(random))
		}
		if _, problems := model.Read(text); len(problems) == 0 {
			visit(name, text)
		}
	}
}

// TestNothingMakesUpEvidence: a law. No offer, no finding's change, no choice of a
// part and no change of the error budget writes what only the bench can say; such a
// row of the budget leads to the field for it.
func TestNothingMakesUpEvidence(t *testing.T) {
	modeltest.Long(t)
	led := map[string]bool{}
	eachBuild(t, 20, func(name, text string) {
		r, problems := verdictOn(text)
		require.Empty(t, problems)
		chosen := func(what string, changes []model.Change) {
			for _, c := range changes {
				assert.False(t, c.Field.Evidence, "%s: %s: %s", name, what, model.ChangesText(r.Build, changes))
			}
		}
		for _, s := range r.Better {
			chosen(s.ID, s.Changes)
		}
		for _, f := range r.Findings {
			chosen(f.ID, f.Changes)
		}
		for i := range r.Build.Hands {
			b := r.Budget(i, AfterMonth)
			for k := range b.Rows {
				row := &b.Rows[k]
				chosen(row.ID, row.Changes)
				if row.Field == "" {
					assert.Zero(t, row.IfSo)
					continue
				}
				led[row.ID] = true
				f, _, ok := model.Open(text).Find(row.Field)
				require.True(t, ok, row.Field)
				assert.True(t, f.Evidence, row.Field)
				assert.GreaterOrEqual(t, row.IfSo, 0.0)
				assert.Regexp(t, ": (likely|no less likely)", row.Advice, "%s: %s", name, row.ID)
			}
		}
	})
	for k := range sources {
		assert.Equal(t, remedies[sources[k].id].proofs != nil, led[sources[k].id], "what is to be measured of %s", sources[k].id)
	}
}

// TestBudgetLeadsToTheField: derived. Of a meter whose scale nobody measured, on a rail
// of which the drift is known, with a crystal by its sheet, each leads to what is to be
// measured, and none of it is written.
func TestBudgetLeadsToTheField(t *testing.T) {
	r := verdictOf(modeltest.Sound(t, modeltest.Example("reading-room")))
	b := r.Budget(0, AfterMonth)
	for id, field := range map[string]string{
		"class": "hand.hours.meter.table", "rail": "rail.drift", "drift": "crystal.measured", "temperature": "hand.hours.drive.resistor_tempco",
	} {
		row := b.row(id)
		require.NotNil(t, row, id)
		assert.Equal(t, field, row.Field, id)
	}
	// what is promised is what comes of it, by the text
	for path, text := range map[string]string{"rail.drift": "1 %", "hand.hours.drive.resistor_tempco": "50 ppm/K"} {
		so := verdictOf(modeltest.Sound(t, modeltest.With(t, modeltest.Example("reading-room"), path, text))).Budget(0, AfterMonth)
		for k := range b.Rows {
			if row := &b.Rows[k]; row.Field == path {
				assert.InDelta(t, b.RSS-so.RSS, row.IfSo, 1e-9, path)
			}
		}
	}
	// where the class is not what makes the reading wrong it is still to be measured
	b = verdictOf(modeltest.Sound(t, modeltest.Example("school-store"))).Budget(0, AfterMonth)
	assert.Equal(t, "hand.hours.meter.table", b.row("class").Field)
	b = r.Budget(0, AfterMonth)
	record := b.Record(r.Build)
	assert.Equal(t, "hand.hours.meter.table", record.Rows[0].Measure)
	assert.Equal(t, b.Rows[0].IfSo, record.Rows[0].IfSo)
	assert.Contains(t, strings.Join(b.Lines(r.Build), "\n"), "to be measured, hand.hours.meter.table")
}
