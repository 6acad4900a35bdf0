package circuit

import (
	"math"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/scale"
)

// plans are the solved examples and test builds, by file.
func plans(t testing.TB) map[string]*Plan {
	files, err := filepath.Glob("../../examples/*.toml")
	require.NoError(t, err)
	files = append(files, "../testdata/whole.toml", "../testdata/three-hands.toml", "../testdata/public-1.toml", "../testdata/public-2.toml", "../testdata/bare-cells.toml")
	all := map[string]*Plan{}
	for _, f := range files {
		_, p := soundPlan(t, modeltest.FileText(f))
		all[f] = p
	}
	return all
}

// line is a plot's line of this name.
func line(t *testing.T, plot Plot, name string) []Dot {
	for _, l := range plot.Lines {
		if l.Name == name {
			return l.Points
		}
	}
	require.Fail(t, "no line "+name, "%v", plot.Title)
	return nil
}

// reach is the least and the most of a line.
func reach(dots []Dot) (least, greatest float64) {
	least, greatest = math.Inf(1), math.Inf(-1)
	for _, d := range dots {
		least, greatest = min(least, d.Y), max(greatest, d.Y)
	}
	return least, greatest
}

// drawable holds a plot to what a drawing needs.
func drawable(t *testing.T, where string, plot Plot) {
	assert.NotEmpty(t, plot.Title, where)
	assert.NotEmpty(t, plot.X.Label, where)
	assert.NotEmpty(t, plot.Y.Label, where)
	for _, l := range plot.Lines {
		assert.NotEmpty(t, l.Name, where)
		assert.GreaterOrEqual(t, len(l.Points), 2, "%s: %s", where, l.Name)
		if !l.Apart {
			assert.LessOrEqual(t, len(l.Points), 420, "%s: %s", where, l.Name)
		}
		for k, d := range l.Points {
			require.False(t, math.IsNaN(d.X+d.Y) || math.IsInf(d.X+d.Y, 0), "%s: %s: %v", where, l.Name, d)
			if k > 0 {
				assert.GreaterOrEqual(t, d.X, l.Points[k-1].X, "%s: %s", where, l.Name)
			}
		}
	}
}

// TestDischarge: derived; each line ends with the life of the results, at or
// above the floor.
func TestDischarge(t *testing.T) {
	lines := 0
	for file, p := range plans(t) {
		plot := p.Discharge()
		drawable(t, file, plot)
		if !p.Circuit.Battery.Present {
			assert.Empty(t, plot.Lines, file)
			continue
		}
		floor := line(t, plot, "floor")
		for name, life := range map[string]float64{"always awake": p.Battery.LifeOn, "as used": p.Battery.LifeMixed, "asleep": p.Battery.LifeStandby} {
			dots := line(t, plot, name)
			end := dots[len(dots)-1]
			assert.InEpsilon(t, life, end.X, 1e-6, "%s: %s", file, name)
			least, _ := reach(dots)
			assert.GreaterOrEqual(t, least, floor[0].Y-1e-9, "%s: %s", file, name)
			assert.GreaterOrEqual(t, floor[1].X, end.X)
			lines++
		}
	}
	assert.Greater(t, lines, 8)
}

// TestDischargeBelowTheFloor: derived; a pack that starts below its floor has no
// line at all.
func TestDischargeBelowTheFloor(t *testing.T) {
	_, p := soundPlan(t, modeltest.With(t, modeltest.Example("reading-room"), "battery.cutoff", "1.7 V"))
	require.Zero(t, p.Battery.LifeOn)
	assert.Empty(t, p.Discharge().Lines)
}

// TestRippleWave: derived; as high as the node's ripple of the results, twice the
// same over two periods; without a capacitor the bare pulse by Ohm's law.
func TestRippleWave(t *testing.T) {
	nodes, pulses := 0, 0
	for file, p := range plans(t) {
		for i := range p.Hands {
			plot := p.RippleWave(i)
			drawable(t, file, plot)
			require.Len(t, plot.Lines, 1, file)
			dots := plot.Lines[0].Points
			least, greatest := reach(dots)
			assert.InEpsilon(t, 2/p.Hands[i].PWMFrequency, dots[len(dots)-1].X, 1e-12, file)
			half := len(dots) / 2
			assert.InDelta(t, dots[half/3].Y, dots[half+half/3].Y, 1e-12, file)
			h := &p.Circuit.Hands[i]
			if h.Capacitor > 0 {
				nodes++
				assert.InEpsilon(t, p.Hands[i].RippleVoltageWorst, greatest-least, 1e-3, "%s, hand %d", file, i)
			} else if h.Inductance == 0 {
				pulses++
				assert.InEpsilon(t, p.Hands[i].FullScaleReached*h.FullScale*h.Counts/(h.Top+h.Offset), greatest, 1e-12, file)
				assert.Zero(t, least)
			}
		}
	}
	assert.Greater(t, nodes, 3)
	assert.Greater(t, pulses, 3)
}

// TestStepResponse: derived; the needle comes into its band for good at the
// settling of the results, swings as far past its end as the build's overshoot,
// and is shown for three times as long.
func TestStepResponse(t *testing.T) {
	for file, p := range plans(t) {
		for i := range p.Hands {
			plot := p.StepResponse(i)
			drawable(t, file, plot)
			dots, settling := line(t, plot, "needle"), p.Hands[i].NeedleSettling
			require.Len(t, plot.Lines, 3)
			from, to := plot.Lines[1].Points[0].Y, plot.Lines[2].Points[0].Y
			assert.Equal(t, [2]float64{0.985, 1.015}, [2]float64{from, to})
			assert.InEpsilon(t, 3*settling, dots[len(dots)-1].X, 1e-12)
			for k, d := range dots {
				if k >= len(dots)/3 {
					assert.True(t, from-1e-9 <= d.Y && d.Y <= to+1e-9, "%s, hand %d: %v after it settled", file, i, d)
				}
			}
			edge := dots[len(dots)/3] // a third of the way is the settling itself
			assert.InDelta(t, settling, edge.X, 1e-12)
			assert.InDelta(t, 0.015, math.Abs(edge.Y-1), 1e-9, "%s, hand %d: it comes in here", file, i)
			_, greatest := reach(dots)
			overshoot := 0.0 // Ogata, Modern Control Engineering (from memory)
			if z := p.Hands[i].NeedleDamping; z < 1 {
				overshoot = math.Exp(-math.Pi * z / math.Sqrt(1-z*z))
			}
			assert.InDelta(t, 1+overshoot, max(greatest, 1), 1e-3, "%s, hand %d", file, i)
		}
	}
}

func BenchmarkPlots(b *testing.B) {
	_, p := soundPlan(b, modeltest.Example("reading-room"))
	for name, plot := range map[string]func() Plot{
		"discharge": p.Discharge,
		"ripple":    func() Plot { return p.RippleWave(0) }, "step": func() Plot { return p.StepResponse(0) },
	} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				plot()
			}
		})
	}
}

// The needle swings past zero as far as the results say, jumping, and no farther
// than 1 % of the scale, led down. Birthplace: derived; the tolerances are of the
// drawing's steps in time and of the code's.
func TestWrap(t *testing.T) {
	for file, p := range plans(t) {
		for i := range p.Hands {
			plot := p.Wrap(i)
			drawable(t, file, plot)
			jump, h := line(t, plot, "jump"), &p.Hands[i]
			least, greatest := reach(jump)
			assert.Equal(t, 1.0, greatest, file)
			if h.WrapOvershoot == 0 { // it creeps up to zero, and is still within its band
				assert.True(t, 0 <= least && least < settled, "%s: %v", file, least)
			} else {
				assert.InDelta(t, -h.WrapOvershoot, least, 0.005*h.WrapOvershoot, file)
			}
			if h.RampTime == 0 {
				assert.Len(t, plot.Lines, 2, file)
				continue
			}
			least, _ = reach(line(t, plot, "ramp"))
			assert.InDelta(t, -0.01, least, 0.002, "%s: %s", file, p.ShownText(i, 0))
		}
	}
}

// A measured scale: the law goes through the places seen, from corner to corner; one that is left out stands by itself.
func TestScalePlot(t *testing.T) {
	rows := []scale.Row{{Code: 0, Stands: "0 %"}, {Code: 40, Stands: "17 %"}, {Code: 80, Stands: "33 %"}, {Code: 120, Stands: "60 %"}, {Code: 160, Stands: "67 %"}, {Code: 200, Stands: "83 %"}, {Code: 240, Stands: "100 %"}}
	f := scale.Fit(rows, scale.Hand{Shows: "12 h", Top: 240})
	require.Len(t, f.Outliers, 1)
	lines := map[string][]Dot{}
	for _, l := range ScalePlot(f).Lines {
		lines[l.Name] = l.Points
		assert.Equal(t, l.Name == "seen" || l.Name == "left out", l.Sign != "", l.Name)
	}
	assert.Len(t, lines["seen"], 6)
	assert.Equal(t, []Dot{{0.5, 0.6}}, lines["left out"])
	assert.Equal(t, []Dot{{0, 0}, {1, 1}}, lines["even"])
	assert.InDelta(t, 0.5, lines["law"][50].Y, 0.02, "an even scale but for that")
	none := ScalePlot(scale.Fit(nil, scale.Hand{Shows: "12 h", Top: 240}))
	assert.Len(t, none.Lines, 1, "the even one alone")
}
