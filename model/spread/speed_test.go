package spread

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
)

var sink float64 // keeps the compiler from leaving a floor out

// The floor of making kits: a loop that only draws their random numbers, on as
// many cores.
func BenchmarkKitsToFloor(b *testing.B) {
	for _, file := range []string{"public-1.toml", "three-hands.toml", "whole.toml"} {
		b.Run(file, func(b *testing.B) {
			const kits = 20_000
			build := modeltest.Sound(b, modeltest.Text(b, file))
			inputs := len(newKit(build).inputs)
			modeltest.ToFloor(b, func() {
				_, err := NewYield(context.Background(), build, kits, 1, nil)
				require.NoError(b, err)
			}, func() {
				_, err := inBlocks(context.Background(), kits/blockOfKits, func() func(int) {
					var source rand.PCG
					return func(block int) {
						source.Seed(1, uint64(block))
						random, sum := rand.New(&source), 0.0
						for range blockOfKits * inputs {
							sum += random.Float64()
						}
						if sum < 0 { // it never is
							sink = sum
						}
					}
				}, nil)
				require.NoError(b, err)
			})
		})
	}
}
