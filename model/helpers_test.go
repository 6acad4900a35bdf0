package model

import (
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/quantity"
)

// testdata returns a file of the testdata folder.
func testdata(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	return string(text)
}

// soundBuild reads a text that has no problems.
func soundBuild(t testing.TB, text string) *Build {
	t.Helper()
	b, problems := Read(text)
	require.Empty(t, problems)
	return b
}

// soundPlan evaluates a text that has no problems.
func soundPlan(t testing.TB, text string) (*Build, *Plan) {
	t.Helper()
	b := soundBuild(t, text)
	p := new(Plan)
	Evaluate(b, p)
	return b, p
}

// with sets paths of a text: with(t, text, "rail.voltage", "5 V", ...).
func with(t testing.TB, text string, pathsAndValues ...string) string {
	t.Helper()
	for i := 0; i < len(pathsAndValues); i += 2 {
		next, problem := Set(text, pathsAndValues[i], pathsAndValues[i+1])
		require.Nil(t, problem)
		text = next
	}
	return text
}

// lineOf is the line, from 1, of the first key under the first such header, 0
// where there is none. It reads lines, not TOML, so that it can judge what does.
func lineOf(text, header, key string) int {
	at := ""
	for i, line := range strings.Split(text, "\n") {
		switch word, _, isKey := strings.Cut(line, "="); {
		case strings.HasPrefix(line, "["):
			at = strings.Trim(strings.TrimSpace(line), "[]")
		case isKey && at == header && strings.TrimSpace(word) == key:
			return i + 1
		}
	}
	return 0
}

// byID are the rows of a plan by their ids.
func byID(t testing.TB, b *Build, p *Plan) map[string]Row {
	t.Helper()
	rows := map[string]Row{}
	for _, r := range Rows(p) {
		id := r.IDOf(b, r.Index)
		require.NotContains(t, rows, id, "an id twice")
		rows[id] = r
	}
	return rows
}

// near tells whether got is want within a relative difference.
func near(got, want, relative float64) bool {
	return got == want || math.Abs(got-want) <= relative*math.Abs(want)
}

// messages are the problems as check prints them.
func messages(problems []Problem) []string {
	list := make([]string, len(problems))
	for i, p := range problems {
		list[i] = p.String()
	}
	return list
}

// valueText is a number in a unit as it could be typed.
func valueText(x float64, u quantity.Unit) string {
	return quantity.Format(quantity.Value{Number: x}, u)
}

// texts are all values of a build by their paths.
func texts(b *Build) map[string]string {
	all := map[string]string{}
	for _, f := range Builds.Fields {
		for i := range f.Of(b) {
			all[f.PathOf(b, i)] = f.Text(b, i)
		}
	}
	return all
}

// fileText is a file's text, for what is set up before any test.
func fileText(path string) string {
	text, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	return string(text)
}

// long skips a test of many numbers in one goroutine under the race detector, for
// which it is nothing.
func long(t *testing.T) {
	t.Helper()
	info, _ := debug.ReadBuildInfo()
	for _, s := range info.Settings {
		if s.Key == "-race" && s.Value == "true" {
			t.Skip("many numbers in one goroutine")
		}
	}
}
