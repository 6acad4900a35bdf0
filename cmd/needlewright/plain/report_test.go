package plain

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/examples"
	"example.com/needlewright/model"
	"example.com/needlewright/model/caution"
	"example.com/needlewright/model/judge"
	"example.com/needlewright/model/quantity"
	"example.com/needlewright/model/report"
)

// checked is what check prints of a build, in lines.
func checked(t *testing.T, r *report.Report, all, cautions bool) []string {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, (&Report{r, all, cautions}).Print(&out))
	return strings.Split(strings.TrimSuffix(out.String(), "\n"), "\n")
}

// exampleReports are the reports of the built-in examples, by their names.
func exampleReports(t *testing.T) map[string]*report.Report {
	t.Helper()
	names, err := filepath.Glob(filepath.Join("..", "..", "..", "examples", "*.toml"))
	require.NoError(t, err)
	require.NotEmpty(t, names)
	all := map[string]*report.Report{}
	for _, name := range names {
		text, err := examples.Files.ReadFile(filepath.Base(name))
		require.NoError(t, err)
		r, problems := report.Check(string(text))
		require.Empty(t, problems)
		all[filepath.Base(name)] = r
	}
	return all
}

// Without options a sound build of one hand is told in 45 lines of a window of 100 columns,
// and so is one with a single caution.
func TestCheckIsShort(t *testing.T) {
	short := 0
	for name, r := range exampleReports(t) {
		lines, rows := checked(t, r, false, false), 0
		for _, line := range lines {
			rows += max(1, (len([]rune(line))+99)/100)
		}
		assert.Equal(t, len(lines), rows, "%s: a line is too wide", name)
		if r.Worst() < judge.Fault && len(r.Build.Hands) == 1 && len(r.Build.Readings) == 0 { // what readings tell comes on top
			assert.LessOrEqual(t, rows, 45, name)
			short++
		}
	}
	assert.GreaterOrEqual(t, short, 2)
}

// The parts stand in their order, nothing is left out unsaid, and the options show what is.
func TestCheckOrder(t *testing.T) {
	for name, r := range exampleReports(t) {
		text := strings.Join(checked(t, r, false, false), "\n")
		assert.True(t, strings.HasPrefix(text, r.Build.Title+": "), name)
		at := 0
		for _, part := range []string{report.Joined(r.Findings)[0].String()[:40], ": wrong by ", "\nResults, ", "hours.trimmer_travel\n", "\nTake care: ", "\n--all prints all "} {
			next := strings.Index(text[at:], part)
			require.GreaterOrEqual(t, next, 0, "%s: %q", name, part)
			at += next
		}
		whole := strings.Join(checked(t, r, true, true), "\n")
		for _, row := range r.Results {
			id := row.IDOf(r.Build, row.Index)
			assert.Contains(t, whole+"\n", "  "+id+"\n", name)
			assert.Equal(t, row.Answer, strings.Contains(text+"\n", "  "+id+"\n"), "%s: %s", name, id)
		}
		for _, c := range caution.Of(r.Build) {
			assert.Contains(t, unwrapped(whole), unwrapped(c.Text), name)
		}
		assert.Contains(t, text, quantity.Counted(len(caution.Of(r.Build)), "danger"))
		for _, f := range report.Joined(r.Findings) {
			assert.Contains(t, unwrapped(text), unwrapped(f.String()+f.Advice), name)
		}
		for _, s := range r.Better {
			assert.Contains(t, unwrapped(text), unwrapped(s.Text), name)
		}
		budget := r.Budget(0, judge.AfterMonth)
		for _, line := range budget.Lines(r.Build)[1:] {
			assert.Contains(t, unwrapped(whole), unwrapped(line), name)
		}
	}
}

// All that is printed of a build keeps to a hundred columns, whatever is changed against what
// makes it read wrong, and however long a hand's name is.
func TestCheckKeepsToItsColumns(t *testing.T) {
	hand := strings.Repeat("long-", 11) + "names"
	example, err := examples.Files.ReadFile("reading-room.toml")
	require.NoError(t, err)
	named := strings.Replace(string(example), `name = "hours"`, `name = "`+hand+`"`, 1)
	for path, value := range map[string]string{"title": "", "converter.kind": "none", "hand." + hand + ".meter.law": "square"} {
		text, problem := model.Set(named, path, value)
		require.Nil(t, problem)
		r, problems := report.Check(text)
		require.Empty(t, problems)
		for _, line := range checked(t, r, true, true) {
			if strings.Contains(strings.TrimSpace(line), " ") { // what is one word cannot be broken
				assert.LessOrEqual(t, len([]rune(line)), 100, line)
			}
		}
	}
}

// unwrapped is a text without its blanks, wherever it was broken.
func unwrapped(s string) string { return strings.Join(strings.Fields(s), "") }

// A title may be long, have characters that command a terminal, or be missing: the verdict
// stays in its line.
func TestCheckOfAnyTitle(t *testing.T) {
	for _, title := range []string{"", strings.Repeat("long ", 39), "a\x1b[2Jb"} {
		text, err := examples.Files.ReadFile("harbour-office.toml")
		require.NoError(t, err)
		changed, problem := model.Set(string(text), "title", title)
		require.Nil(t, problem)
		r, problems := report.Check(changed)
		require.Empty(t, problems)
		first := checked(t, r, false, false)[0]
		assert.Contains(t, first, "Sound: only 5 notes.")
		assert.NotContains(t, first, "\x1b")
		assert.LessOrEqual(t, len([]rune(first)), 100)
	}
}
