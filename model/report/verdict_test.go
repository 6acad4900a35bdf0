package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"example.com/needlewright/model/judge"
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
