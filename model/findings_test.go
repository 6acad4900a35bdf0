package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

// caseText is the build public-1 with a button that costs nothing.
func caseText(t testing.TB) string {
	return testdata(t, "public-1.toml") + "\n[[button]]\nname = \"set\"\npull = \"10 MΩ\"\nwakes = \"no\"\n"
}

// text is the build of a case with one of its two values.
func (c *ruleCase) text(t testing.TB, value string) string {
	return with(t, caseText(t), append(slices.Clone(c.more), c.path, value)...)
}

// A judged build is one with what every rule found of it.
type judged struct {
	text     string
	b        *Build
	p        *Plan
	all      []graded
	findings []Finding // of all, in their order
}

// judgedText judges a text; all findings have to be fit to read.
func judgedText(t testing.TB, text string) *judged {
	t.Helper()
	b, p := soundPlan(t, text)
	j := &judged{text, b, p, gradeAll(b, p), Findings(b, p)}
	require.Len(t, j.findings, len(j.all))
	for k, f := range j.findings {
		require.Equal(t, j.all[k].rule.id, f.ID)
		require.Equal(t, j.all[k].severity, f.Severity, f.ID)
		checkFinding(t, text, f)
	}
	return j
}

// grade is what a row says of what a path is of: that hand, lamp or button, or
// else the first, or the whole.
func (j *judged) grade(r *rule, path string) (Severity, float64) {
	i := 0
	for n := range r.count(j.b) {
		if list := fieldTable[r.field].list; list != "" && strings.HasPrefix(path, list+"."+nameOf(j.b, list, n)+".") {
			i = n
		}
	}
	return r.grade(subject{j.b, j.p, i})
}

// A step is a severity that a row can find, on one side of a two-sided one.
type step struct {
	row      int
	severity Severity
	side     int // -1, +1, or 0 of what is judged one way
}

func (s step) String() string {
	r := &rules[s.row]
	return fmt.Sprintf("row %d, %s of %s: %s %s", s.row, r.id, r.field, s.severity, map[int]string{-1: "below", 0: "", 1: "above"}[s.side])
}

// stepsOf are the steps that a row's limits make in a build.
func stepsOf(row int, s subject) []step {
	r, l := &rules[row], rules[row].limits(s)
	var steps []step
	for k, limit := range [...]float64{l.note, l.caution, l.fault} {
		switch severity := Severity(k + 1); {
		case math.IsNaN(limit):
		case r.off == nil || limit < 0: // what lies below 0 is always passed
			steps = append(steps, step{row, severity, 0})
		default:
			steps = append(steps, step{row, severity, -1}, step{row, severity, +1})
		}
	}
	return steps
}

// step is the one a case proves of a row.
func (c *ruleCase) step(row int, j *judged, beyond, inside float64) step {
	s := step{row, c.severity, -1}
	if beyond > inside {
		s.side = +1
	}
	if !slices.Contains(stepsOf(row, subject{j.b, j.p, 0}), s) {
		s.side = 0
	}
	return s
}

// TestRules: every row finds, at every severity that its limits can make, on
// both sides of what is judged both ways, what one case just passes and another
// just does not. The cases say where the edges come from.
func TestRules(t *testing.T) {
	proven := map[step]bool{}
	for k := range ruleCases {
		c := &ruleCases[k]
		name := fmt.Sprintf("%s %s, %s %s", c.id, c.severity, c.path, c.beyond)
		beyond, inside := judgedText(t, c.text(t, c.beyond)), judgedText(t, c.text(t, c.inside))
		var speak []int
		for row := range rules {
			r := &rules[row]
			if r.id != c.id || r.count(beyond.b) == 0 {
				continue
			}
			severity, x := beyond.grade(r, c.path)
			milder, x0 := inside.grade(r, c.path)
			if severity != c.severity || milder >= severity {
				continue
			}
			speak = append(speak, row)
			proven[c.step(row, beyond, x, x0)] = true
			assert.True(t, c.near(beyond.b, inside.b, x, x0), "%s is far from %s: %v and %v", name, c.inside, x, x0)
		}
		assert.Len(t, speak, 1, "%s: rows that speak beyond and not at %s", name, c.inside)
	}
	for row := range rules {
		for _, s := range allSteps(t)[row] {
			assert.True(t, proven[s], "no case proves %s", s)
		}
	}
}

// near says whether the two builds of a case are as near as 1 % of the value
// that is changed or of the figure, where that is a number at all.
func (c *ruleCase) near(beyond, inside *Build, x, x0 float64) bool {
	f, index := c.field(beyond)
	a, b := f.number(beyond, index), f.number(inside, index)
	_, quantities := f.At(beyond, index).(*quantity.Value)
	if f.table {
		return near(x, x0, 0.01)
	}
	return !quantities || math.IsNaN(a) || math.IsNaN(b) || near(a, b, 0.01) || near(x, x0, 0.01)
}

// field is that of a case's path.
func (c *ruleCase) field(b *Build) (*Field, int) {
	for _, f := range Fields() {
		for i := range f.Of(b) {
			if f.PathOf(b, i) == c.path {
				return f, i
			}
		}
	}
	panic(c.path)
}

// steps of every row, as many as are made by the builds of the cases, and by the
// first of them with any one field changed to anything that may be chosen or to an
// end of what is allowed.
var everyStep [][]step

func allSteps(t *testing.T) [][]step {
	if everyStep != nil {
		return everyStep
	}
	everyStep = make([][]step, len(rules))
	for _, text := range probes(t) {
		b, problems := Read(text)
		if len(problems) > 0 {
			continue
		}
		p := new(Plan)
		Evaluate(b, p)
		for row := range rules {
			for i := range rules[row].count(b) {
				for _, s := range stepsOf(row, subject{b, p, i}) {
					if !slices.Contains(everyStep[row], s) {
						everyStep[row] = append(everyStep[row], s)
					}
				}
			}
		}
	}
	for row := range rules {
		require.NotEmpty(t, everyStep[row], "no limit of row %d, %s", row, rules[row].id)
	}
	return everyStep
}

func probes(t *testing.T) []string {
	var texts []string
	for k := range ruleCases {
		c := &ruleCases[k]
		texts = append(texts, c.text(t, c.beyond), c.text(t, c.inside))
	}
	d := Open(caseText(t))
	for _, f := range Fields() {
		for i := range f.Of(d.Build) {
			for _, value := range append([]string{f.Least, f.Most, ""}, f.Choices...) {
				texts = append(texts, d.Set(f, i, value).Text)
			}
		}
	}
	return texts
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

// Birthplace: derived; of public-1 with the changes below each severity is there.
func TestFindingsWorstFirst(t *testing.T) {
	j := judgedText(t, with(t, caseText(t), "battery.cell", "CR2032", "lamp.seconds.forward", "5 V", "lamp.afternoon.forward", "4.9 V",
		"hand.hours.drive.pin_limit", "0.1 mA"))
	for _, s := range []Severity{Note, Caution, Fault} {
		assert.True(t, slices.ContainsFunc(j.findings, func(f Finding) bool { return f.Severity == s }), s)
	}
	row := func(g graded) int {
		return slices.IndexFunc(rules, func(r rule) bool { return r.id == g.rule.id && r.field == g.rule.field })
	}
	assert.True(t, slices.IsSortedFunc(j.all, func(a, b graded) int {
		if a.severity != b.severity {
			return int(b.severity) - int(a.severity)
		}
		return row(a) - row(b)
	}), "%v", j.findings)
	assert.Equal(t, "fault", check(j.b).Worst().String())
	assert.Equal(t, Sound, (&Report{}).Worst())
}

// TestEqualTop: birthplace: common practice, no source, for 240 of 256; the
// others derived by hand.
func TestEqualTop(t *testing.T) {
	for _, c := range []struct{ steps, counts, want int }{
		{720, 256, 240}, {720, 720, 720}, {720, 1023, 720}, {1440, 256, 240}, {60, 256, 240}, {60, 59, 30}, {60, 2, 2}, {720, 719, 360},
	} {
		assert.Equal(t, c.want, equalTop(c.steps, c.counts), c)
	}
}

func TestLimits(t *testing.T) {
	up, down := limits{1, 2, 3, false}, limits{3, 2, 1, true}
	for k, x := range []float64{1, 2, 3, 4} { // a limit itself is not passed
		assert.Equal(t, Severity(k), up.grade(x), x)
		assert.Equal(t, Severity(k), down.grade(4-x), x)
	}
	for _, l := range []limits{up, down} {
		assert.Equal(t, Sound, l.grade(math.NaN()))
	}
	for _, l := range []limits{{never, never, never, false}, {never, never, never, true}} {
		assert.Equal(t, Sound, l.grade(math.Inf(1)))
		assert.Equal(t, Sound, l.grade(math.Inf(-1)))
	}
}
