package bench

import (
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/bench/faulty"
	"example.com/needlewright/model/modeltest"
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

// What the sound clock alone costs, with the key.
func BenchmarkSound(b *testing.B) {
	for _, name := range []string{"reading-room", "station-platform"} {
		build := modeltest.Sound(b, modeltest.Example(name))
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				Sound(build)
			}
		})
	}
}

// What a reading costs, with the key.
func BenchmarkJudge(b *testing.B) {
	for _, name := range []string{"reading-room", "station-platform"} {
		text, err := os.ReadFile("../../examples/" + name + ".toml")
		require.NoError(b, err)
		build, _ := model.Read(string(text))
		x := New(build)
		c := faulty.Make(build, rand.New(rand.NewPCG(1, 1)), faulty.Fault{ID: "coil_open", About: "hours"})
		var readings []model.Reading
		for _, id := range c.Points() {
			readings = append(readings, model.Reading{At: id, Value: c.Read(id)})
		}
		for _, n := range []int{0, 3, len(readings)} {
			b.Run(name+"/"+strconv.Itoa(n), func(b *testing.B) {
				for b.Loop() {
					x.Judge(readings[:n])
				}
			})
		}
	}
}
