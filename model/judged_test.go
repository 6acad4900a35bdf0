package model

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// caseText is the build public-1 with a button that costs nothing.
func caseText(t testing.TB) string {
	return testdata(t, "public-1.toml") + "\n[[button]]\nname = \"set\"\npull = \"10 MΩ\"\nwakes = \"no\"\n"
}

// A judged build is one with what every rule found of it.
type judged struct {
	text     string
	b        *Build
	p        *Plan
	all      []graded
	findings []Finding // of all, in their order
	better   []Suggestion
}

// judgedTexts are those that were judged before: it takes its time.
var judgedTexts = map[string]*judged{}

// judgedText judges a text; all findings have to be fit to read.
func judgedText(t testing.TB, text string) *judged {
	t.Helper()
	if j := judgedTexts[text]; j != nil {
		return j
	}
	b, p := soundPlan(t, text)
	j := &judged{text: text, b: b, p: p, all: gradeAll(b, p)}
	j.findings, j.better = advise(b, p)
	require.Len(t, j.findings, len(j.all))
	for k, f := range j.findings {
		require.Equal(t, j.all[k].rule.id, f.ID)
		require.Equal(t, j.all[k].severity, f.Severity, f.ID)
		checkFinding(t, text, f)
	}
	judgedTexts[text] = j
	return j
}

// find is the finding of a rule about something; there is one.
func (j *judged) find(t testing.TB, id, about string) (f Finding, s subject) {
	t.Helper()
	k := slices.IndexFunc(j.findings, func(f Finding) bool { return f.ID == id && f.About == about })
	require.GreaterOrEqual(t, k, 0, "%s is not found of %q", id, about)
	return j.findings[k], subject{j.b, j.p, j.all[k].i}
}

// grade is what a row says of what a path is of: that hand, lamp or button, or
// else the first, or the whole.
func (j *judged) grade(r *rule, path string) (Severity, float64) {
	i := 0
	for n := range r.count(j.b) {
		if list := Builds.Field(r.field).list; list != "" && strings.HasPrefix(path, list+"."+j.b.NameOf(list, n)+".") {
			i = n
		}
	}
	return r.grade(subject{j.b, j.p, i})
}

func checkFinding(t require.TestingT, text string, f Finding) {
	for _, words := range []string{f.Text, f.Advice} {
		require.NotEmpty(t, words, f.ID)
		for _, broken := range []string{"NaN", "Inf", "–", "%!"} {
			require.NotContains(t, words, broken, f.ID)
		}
		require.True(t, strings.HasSuffix(words, "."), "%s: %s", f.ID, words)
	}
	require.Contains(t, []Severity{Note, Caution, Fault}, f.Severity, f.ID)
	_, problem := Set(text, f.Field, "1")
	require.Nil(t, problem, "%s: %s", f.ID, f.Field)
}

// rowOf is where a rule stands in the table.
func rowOf(r *rule) int {
	for row := range rules {
		if &rules[row] == r {
			return row
		}
	}
	return -1
}
