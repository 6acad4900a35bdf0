package judge

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// A lost thing is worse after a change by the text than before: what it is called and
// what it was and is.
type lost struct {
	name     string
	was, now float64
	unit     quantity.Unit
}

// losses are what a change makes worse, by the text read anew and solved.
func losses(t *testing.T, text string, r *verdict, changes []model.Change) (all []lost) {
	t.Helper()
	made := model.Open(text).Make(changes)
	require.Empty(t, modeltest.Messages(made.Problems), model.ChangesText(r.Build, changes))
	after := verdictOf(made.Build)
	note := func(name string, was, now float64, unit quantity.Unit, sign float64) {
		if gone := math.IsNaN(now) && !math.IsNaN(was); gone || sign*(now-was) > 0.001*math.Abs(was)+1e-9 {
			all = append(all, lost{name, was, now, unit})
		}
	}
	for i := range r.Build.Hands {
		a, b := &r.Plan.Hands[i], &after.Plan.Hands[i]
		before, later := (&sinceSet{subject{r.Build, &r.Plan, i}, AfterMonth}).budget(), (&sinceSet{subject{after.Build, &after.Plan, i}, AfterMonth}).budget()
		note("likely error", before.RSS, later.RSS, quantity.Minutes, 1)
		note("coding error", a.CodeErrorMax, b.CodeErrorMax, quantity.Minutes, 1)
		note("worst overload", a.OverloadWorst, b.OverloadWorst, quantity.Times, 1)
	}
	if after.Build.Battery.Cells == 0 {
		return all // a plug-in supply, which has no life to end
	}
	note("awake", r.Plan.Battery.LifeOn, after.Plan.Battery.LifeOn, quantity.Hours, -1)
	note("as used", r.Plan.Battery.LifeMixed, after.Plan.Battery.LifeMixed, quantity.Hours, -1)
	return all
}

// TestNothingWorseUnsaid: a law. Whatever an offer, a finding's change or a change of the
// error budget makes worse of minutes, life and worst overload stands in its words; and
// taking all that is offered, one after another, makes no fault that was not there.
func TestNothingWorseUnsaid(t *testing.T) {
	modeltest.Long(t)
	named := 0
	eachBuild(t, 20, func(name, text string) {
		r, problems := verdictOn(text)
		require.Empty(t, problems)
		said := func(words string, changes []model.Change) {
			if len(changes) == 0 {
				return
			}
			_, worse, _ := strings.Cut(words, " Worse: ")
			for _, l := range losses(t, text, r, changes) {
				named++
				assert.Contains(t, worse, fmt.Sprintf("%s %s → %s", l.name, figureText(l.was, l.unit), figureText(l.now, l.unit)), "%s: %s", name, words)
			}
		}
		for _, s := range r.Better {
			said(s.Text, s.Changes)
		}
		for _, f := range r.Findings {
			said(f.Advice, f.Changes)
		}
		for i := range r.Build.Hands {
			b := r.Budget(i, AfterMonth)
			for k := range b.Rows {
				said(b.Rows[k].Advice, b.Rows[k].Changes)
			}
		}
		assertTakingAllIsSafe(t, name, text)
	})
	assert.Positive(t, named, "a sample in which nothing gets worse shows nothing")
}

// What may be chosen for a part says so too: derived, codes of 45 s are finer than those of
// three minutes.
func TestOptionsSayWhatIsWorse(t *testing.T) {
	text := modeltest.Example("harbour-office")
	r := verdictOf(modeltest.Sound(t, text))
	worse := 0
	for _, path := range []string{"hand.drive.top", "battery.cells", "hand.drive.fixed"} {
		_, _, options := r.Options(model.Builds.Field(path), 0)
		for _, o := range options {
			_, named, _ := strings.Cut(o.Text, "; worse: ")
			for _, l := range losses(t, text, r, o.Changes) {
				worse++
				assert.Contains(t, named, fmt.Sprintf("%s %s → %s", l.name, figureText(l.was, l.unit), figureText(l.now, l.unit)), o.Text)
			}
		}
	}
	assert.Greater(t, worse, 5)
}

// assertTakingAllIsSafe takes over what is offered until nothing is.
func assertTakingAllIsSafe(t *testing.T, name, text string) {
	t.Helper()
	before, _ := verdictOn(text)
	present, d := faultsOf(before.Findings), model.Open(text)
	for range 20 {
		r, problems := verdictOn(d.Text)
		require.Empty(t, modeltest.Messages(problems), name)
		for fault := range faultsOf(r.Findings) {
			assert.Contains(t, present, fault, "%s: all that is offered was taken", name)
		}
		if len(r.Better) == 0 {
			return
		}
		d = d.Make(r.Better[0].Changes)
	}
}

func faultsOf(findings []Finding) map[string]bool {
	faults := map[string]bool{}
	for _, f := range findings {
		if f.Severity == Fault {
			faults[f.ID+" "+f.About] = true
		}
	}
	return faults
}

// TestNoBadBargain: derived, from what the office has: 14.6 months as used, and codes of
// 45 s. A note is not worth half of either.
func TestNoBadBargain(t *testing.T) {
	r, problems := verdictOn(modeltest.Example("harbour-office"))
	require.Empty(t, problems)
	for _, s := range r.Better {
		after := verdictOf(r.Build.Changed(s.Changes))
		assert.GreaterOrEqual(t, after.Plan.Battery.LifeMixed, 0.9*r.Plan.Battery.LifeMixed, s.Text)
		assert.LessOrEqual(t, after.Plan.Hands[0].CodeErrorMax, 1.1*r.Plan.Hands[0].CodeErrorMax, s.Text)
	}
}
