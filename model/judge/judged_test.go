package judge

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// caseText is the build public-1 with a button that costs nothing.
func caseText(t testing.TB) string {
	return modeltest.Text(t, "public-1.toml") + "\n[[button]]\nname = \"set\"\npull = \"10 MΩ\"\nwakes = \"no\"\n"
}

// A judged build is one with what every rule found of it.
type judged struct {
	text     string
	b        *model.Build
	p        *circuit.Plan
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
	j.findings, j.better = Advise(b, p)
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
		if list := model.Builds.Field(r.field).List(); list != "" && strings.HasPrefix(path, list+"."+j.b.NameOf(list, n)+".") {
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
	if _, higher, advised := strings.Cut(f.Advice, "igher rail"); advised {
		require.True(t, strings.HasPrefix(higher, " within the controller's limit"), f.Advice)
	}
	require.Contains(t, []Severity{Note, Warning, Fault}, f.Severity, f.ID)
	_, problem := model.Set(text, f.Field, "1")
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

// Any build without problems gives finite rows, findings fit to read, and the
// same plan whatever the plan held before.
func TestAnyBuild(t *testing.T) {
	used := new(circuit.Plan)
	rapid.Check(t, func(t *rapid.T) {
		text, b := modeltest.SoundOrSkip(t, modeltest.Draw(t))
		var p circuit.Plan
		circuit.Evaluate(b, &p)
		circuit.Evaluate(b, used)
		rows, again := circuit.Outcomes(&p), circuit.Outcomes(used)
		require.Len(t, again, len(rows))
		for i, row := range rows {
			require.False(t, math.IsNaN(row.Value) || math.IsInf(row.Value, 0), row.ID)
			require.Equal(t, row.Value, again[i].Value, row.ID)
			require.NotContains(t, row.Text(), "NaN")
		}
		for _, r := range circuit.Results {
			for i := range r.Of(&p) {
				if v := *r.At(&p, i); math.IsInf(v, 0) && !regexp.MustCompile(`^battery.life_`).MatchString(r.ID) {
					t.Fatalf("%s is infinite", r.ID)
				}
			}
		}
		for _, f := range Findings(b, &p) {
			checkFinding(t, text, f)
		}
		checkWorst(t, b, &p)
	})
}

// checkWorst is the law that what burns the coil stands first, behind what hurts people alone, and says so.
func checkWorst(t require.TestingT, b *model.Build, p *circuit.Plan) {
	found := gradeAll(b, p)
	k := slices.IndexFunc(found, func(g graded) bool { return g.harm != hurts })
	if slices.ContainsFunc(found, func(g graded) bool { return g.harm == burnsCoil }) {
		text := found[k].finding(subject{b, p, found[k].i}).Text
		require.Contains(t, text, "this burns the coil in seconds: ")
	}
}

// A verdict is a solved build with what is found of it.
type verdict struct {
	Build    *model.Build
	Plan     circuit.Plan
	Findings []Finding
	Better   []Suggestion
}

// verdictOf judges a build; what would be better is not looked for.
func verdictOf(b *model.Build) *verdict {
	v := &verdict{Build: b}
	circuit.Evaluate(b, &v.Plan)
	v.Findings = Findings(b, &v.Plan)
	return v
}

// verdictOn judges the text of a build, and looks for what would be better.
func verdictOn(text string) (*verdict, []model.Problem) {
	b, problems := model.Read(text)
	if problems != nil {
		return nil, problems
	}
	v := verdictOf(b)
	v.Findings, v.Better = Advise(b, &v.Plan)
	return v, nil
}

func (v *verdict) Budget(hand int, horizon Horizon) Budget {
	return BudgetOf(v.Build, &v.Plan, hand, horizon)
}

func (v *verdict) Options(f *model.Field, index int) (title, order string, options []Option) {
	return Options(v.Build, &v.Plan, f, index)
}

func (v *verdict) Worst() Severity {
	worst := Sound
	for _, f := range v.Findings {
		worst = max(worst, f.Severity)
	}
	return worst
}

// soundPlan evaluates a text that has no problems.
func soundPlan(t testing.TB, text string) (*model.Build, *circuit.Plan) {
	t.Helper()
	b := modeltest.Sound(t, text)
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return b, p
}
