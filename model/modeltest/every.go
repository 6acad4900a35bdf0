package modeltest

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

// made are those that were made before: a test changes none of them.
var made = map[int]map[string]*model.Build{}

// Every returns builds by a name: the examples, those of testdata, and so many
// random ones, or as many as NEEDLEWRIGHT_BUILDS says.
func Every(t testing.TB, random int) map[string]*model.Build {
	t.Helper()
	if text := os.Getenv("NEEDLEWRIGHT_BUILDS"); text != "" {
		asked, err := strconv.Atoi(text)
		require.NoError(t, err)
		random = asked
	}
	if made[random] != nil {
		return made[random]
	}
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	more, err := filepath.Glob("../testdata/*.toml")
	require.NoError(t, err)
	all := map[string]*model.Build{}
	made[random] = all
	for _, f := range append(files, more...) {
		if b, problems := model.Read(FileText(f)); problems == nil {
			all[f] = b
		}
	}
	require.Greater(t, len(all), 15, "examples and testdata")
	for seed := range random {
		if b, problems := model.Read(AnyBuild(rand.New(rand.NewPCG(uint64(seed), 77)))); problems == nil {
			all["random "+strconv.Itoa(seed)] = b
		}
	}
	return all
}

// Examples are the names of the examples that are builds.
func Examples() (names []string, err error) {
	files, err := filepath.Glob("../../examples/*.toml")
	for _, f := range files {
		names = append(names, strings.TrimSuffix(filepath.Base(f), ".toml"))
	}
	return names, err
}
