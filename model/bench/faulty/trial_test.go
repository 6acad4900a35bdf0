package faulty

import (
	"fmt"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

func exampleBuild(t testing.TB, name string) *model.Build {
	text, err := os.ReadFile("../../../examples/" + name + ".toml")
	require.NoError(t, err)
	b, problems := model.Read(string(text))
	require.Empty(t, problems)
	return b
}

func TestTrial(t *testing.T) {
	for _, n := range []string{"reading-room"} {
		b := exampleBuild(t, n)
		for _, f := range append(Faults(b), Foreign(b)...) {
			c := Make(b, rand.New(rand.NewPCG(1, 1)), f)
			var s []string
			for _, id := range c.Traces() {
				s = append(s, strings.TrimPrefix(id, "hours.")+"="+c.Read(id))
			}
			fmt.Println(c.Faults()[0], ":", strings.Join(s, ", "))
		}
	}
}
