// Package modeltest has what the tests of several rooms of the model need: texts of
// builds, and builds drawn at random. Nothing but tests imports it.
package modeltest

import (
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"strconv"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/quantity"
)

// What tests work out is soon forgotten: the collector need not run as often.
func init() { debug.SetGCPercent(400) }

// Text returns a file of model's testdata, for a test in a folder beside it.
func Text(t testing.TB, name string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "testdata", name))
	require.NoError(t, err)
	return string(text)
}

// FileText returns a file's text, for what is set up before any test.
func FileText(path string) string {
	text, err := os.ReadFile(path)
	if err != nil {
		panic(err)
	}
	return string(text)
}

// Example returns the text of an example, "reading-room".
func Example(name string) string {
	return FileText(filepath.Join("..", "..", "examples", name+".toml"))
}

// Sound reads a text that has no problems.
func Sound(t testing.TB, text string) *model.Build {
	t.Helper()
	b, problems := model.Read(text)
	require.Empty(t, problems)
	return b
}

// With sets paths of a text: With(t, text, "rail.voltage", "5 V", ...).
func With(t testing.TB, text string, pathsAndValues ...string) string {
	t.Helper()
	for i := 0; i < len(pathsAndValues); i += 2 {
		next, problem := model.Set(text, pathsAndValues[i], pathsAndValues[i+1])
		require.Nil(t, problem)
		text = next
	}
	return text
}

// Near tells whether got is want within a relative difference.
func Near(got, want, relative float64) bool {
	return got == want || math.Abs(got-want) <= relative*math.Abs(want)
}

// Messages returns the problems as check prints them.
func Messages(problems []model.Problem) []string {
	list := make([]string, len(problems))
	for i, p := range problems {
		list[i] = p.String()
	}
	return list
}

// ValueText returns a number in a unit as it could be typed.
func ValueText(x float64, u quantity.Unit) string {
	return quantity.Format(quantity.Value{Number: x}, u)
}

// Texts returns all values of a build by their paths.
func Texts(b *model.Build) map[string]string {
	all := map[string]string{}
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			all[f.PathOf(b, i)] = f.Text(b, i)
		}
	}
	return all
}

// Long skips a test of many numbers in one goroutine under the race detector, for
// which it is nothing.
func Long(t *testing.T) {
	t.Helper()
	info, _ := debug.ReadBuildInfo()
	for _, s := range info.Settings {
		if s.Key == "-race" && s.Value == "true" {
			t.Skip("many numbers in one goroutine")
		}
	}
}

// Sampled is how many random builds a test takes: what it takes of itself, or what
// NEEDLEWRIGHT_BUILDS says, for a long run.
func Sampled(t testing.TB, sample int) int {
	t.Helper()
	if text := os.Getenv("NEEDLEWRIGHT_BUILDS"); text != "" {
		var err error
		sample, err = strconv.Atoi(text)
		require.NoError(t, err)
	}
	return sample
}

// ToFloor measures what something takes as a multiple of what a floor takes, in
// turns.
func ToFloor(b *testing.B, what, floor func()) {
	timeOf := func(do func()) time.Duration {
		begun := time.Now()
		do()
		return time.Since(begun)
	}
	what() // memory that is reused
	var took, least time.Duration
	for b.Loop() {
		took += timeOf(what)
		least += timeOf(floor)
	}
	b.ReportMetric(float64(took.Nanoseconds())/float64(b.N), "ns/op")
	b.ReportMetric(float64(least.Nanoseconds())/float64(b.N), "floor-ns/op")
	b.ReportMetric(float64(took)/float64(least), "x-floor")
}
