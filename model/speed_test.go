package model

import (
	"context"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
)

// toFloor measures what something takes as a multiple of what a floor takes, in
// turns.
func toFloor(b *testing.B, what, floor func()) {
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

var sink float64 // keeps the compiler from leaving a floor out

// The floor of making kits: a loop that only draws their random numbers, on as
// many cores.
func BenchmarkKitsToFloor(b *testing.B) {
	for _, file := range []string{"public-1.toml", "three-hands.toml", "whole.toml"} {
		b.Run(file, func(b *testing.B) {
			const kits = 20_000
			build := soundBuild(b, testdata(b, file))
			inputs := len(newKit(build).inputs)
			toFloor(b, func() {
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

// The floor of evaluating a build: the formulas that take time, with their numbers
// at hand.
func BenchmarkEvaluateToFloor(b *testing.B) {
	for _, file := range []string{"public-1.toml", "three-hands.toml", "whole.toml"} {
		b.Run(file, func(b *testing.B) {
			build, p := soundPlan(b, testdata(b, file))
			c := p.circuit
			toFloor(b, func() { Evaluate(build, p) }, func() { sink = bareFormulas(&c) })
		})
	}
}

// bareFormulas is what calc has to work out for a circuit, added up.
func bareFormulas(c *Circuit) float64 {
	sum := 0.0
	for i := range c.Hands {
		h := &c.Hands[i]
		chain := h.chain()
		ripple := h.ripple(chain)
		sum += ripple.Node() + ripple.Needle()
		if h.Law.Kind != calc.Linear {
			sum += ripple.LawShift(&h.Law)
		}
		if h.Inductance > 0 {
			sum += ripple.Coil()
		}
		coding := h.coding()
		largest, rms := coding.Errors()
		sum += largest + rms + h.pinBend(chain).Largest()
		sum += h.warmed(chain, h.RoomLow) + h.warmed(chain, h.RoomHigh)
		sum += h.Movement.Settling(settled) + h.Movement.Strike(1, h.Stop) + h.Movement.Strike(h.wakes(), 1+h.Stop-h.wakes())
		if h.Movement.Overshoot() > mostPast {
			sum += h.Movement.ShortestRamp(mostPast)
		}
		if h.Diodes {
			sum += calc.DiodeBend(h.FullScale, h.Coil, h.Fixed)
		}
	}
	sum += c.Crystal.Pulling.Offset(c.Crystal.In, c.Crystal.Load)
	if battery := &c.Battery; battery.Present {
		pack := &battery.Pack
		fresh, _ := pack.DrawFresh(true)
		sum += fresh.Current + pack.Life(24) + pack.Life(0) + pack.Life(battery.HoursOn) + pack.Stranded(24)
	}
	return sum
}
