package model

import (
	"os"
	"path/filepath"
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
