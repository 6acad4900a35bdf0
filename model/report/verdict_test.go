package report

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/modeltest"
)

// Derived by hand from lists of findings.
func TestVerdict(t *testing.T) {
	fault, other := judge.Finding{Severity: judge.Fault, About: "hours", Text: "It burns."}, judge.Finding{Severity: judge.Fault, Text: "It stops."}
	caution, note := judge.Finding{Severity: judge.Warning, Text: "It drifts."}, judge.Finding{Severity: judge.Note, Text: "It hums."}
	for want, findings := range map[string][]judge.Finding{
		"Sound.":                                nil,
		"Sound: only 1 note.":                   {note},
		"Sound: only 2 notes.":                  {note, note},
		"1 caution: It drifts.":                 {caution, note},
		"2 faults, 1 caution: hours: It burns.": {fault, other, caution, note},
		"1 fault, 2 cautions: It stops.":        {other, caution, caution},
	} {
		assert.Equal(t, want, (&Report{Findings: findings}).Verdict())
	}
}

// A sound build says how much of it is only assumed, as the text marks it; counted by hand.
func TestVerdictSaysWhatIsAssumed(t *testing.T) {
	for want, r := range map[string]*Report{
		"Sound, 3 values assumed.":         {Assumed: 3},
		"Sound, 1 value assumed: 2 notes.": {Assumed: 1, Findings: []judge.Finding{{Severity: judge.Note, Text: "It hums."}, {Severity: judge.Note, Text: "It ticks."}}},
		"1 caution: It drifts.":            {Assumed: 3, Findings: []judge.Finding{{Severity: judge.Warning, Text: "It drifts."}}},
	} {
		assert.Equal(t, want, r.Verdict())
	}
	text := modeltest.Example("reading-room")
	for mark, n := range map[string]int{"assumed": 1, "± assumed": 1, "suggested": 0, "measured twice": 0} {
		marked := strings.Replace(text, `class = "2.5 %"`, `class = "2.5 %" # `+mark, 1)
		require.NotEqual(t, text, marked)
		r, problems := Check(marked)
		require.Empty(t, problems)
		assert.Equal(t, n, r.Assumed, mark)
	}
}

// Advice on evidence that is only assumed begins with measuring it; on what was measured, and
// on choices, it does not.
func TestAdviceBeginsWithMeasuringWhatIsAssumed(t *testing.T) {
	advice := func(text string) string {
		for _, r := range []*Report{Of(model.Open(text)), Of(model.Open(text)).Advised()} {
			for _, f := range r.Findings {
				if f.ID == "rail_drift" {
					if strings.HasPrefix(f.Advice, "Rail drift is assumed: measure it first. The needle") {
						return "measure"
					}
					assert.True(t, strings.HasPrefix(f.Advice, "The needle"), f.Advice)
				}
				assert.NotContains(t, strings.TrimPrefix(f.Advice, "Rail drift is assumed"), "is assumed", f.ID)
			}
		}
		return ""
	}
	text := modeltest.Example("reading-room")
	assert.Empty(t, advice(text))
	marked := strings.Replace(text, `drift = "2 %"`, `drift = "2 %" # assumed`, 1)
	assert.Equal(t, "measure", advice(marked))
	// what asks for a measurement by itself is left
	r, problems := Check(strings.Replace(text, `class = "2.5 %"`, `class = "2.5 %" # assumed`, 1))
	require.Empty(t, problems)
	i := slices.IndexFunc(r.Findings, func(f judge.Finding) bool { return f.ID == "scale_class" })
	require.GreaterOrEqual(t, i, 0)
	assert.True(t, strings.HasPrefix(r.Findings[i].Advice, "Measure the scale"), r.Findings[i].Advice)
}
