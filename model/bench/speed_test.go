package bench

import (
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

// What a change of the build costs, beside the keys.
func BenchmarkNew(b *testing.B) {
	for _, name := range []string{"reading-room", "station-platform"} {
		text, err := os.ReadFile("../../examples/" + name + ".toml")
		require.NoError(b, err)
		build, _ := model.Read(string(text))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				New(build)
			}
		})
	}
}
