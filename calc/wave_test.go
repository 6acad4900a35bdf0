package calc

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// swing is the largest less the smallest value of a wave.
func swing(wave []Sample) float64 {
	e := extremes{math.Inf(1), math.Inf(-1)}
	for _, s := range wave {
		e.add(s.Value)
	}
	return e.most - e.least
}

// mean is a wave's mean over its time, by trapezia.
func mean(wave []Sample) float64 {
	sum := 0.0
	for i := 1; i < len(wave); i++ {
		sum += (wave[i].Time - wave[i-1].Time) * (wave[i].Value + wave[i-1].Value) / 2
	}
	return sum / (wave[len(wave)-1].Time - wave[0].Time)
}

// TestNodeWaveAgainstMatrixExponential: all wanted numbers are an independent
// computation, stateSpace with gonum's matrix exponential.
func TestNodeWaveAgainstMatrixExponential(t *testing.T) {
	for name, r := range hands() {
		wave := r.NodeWave(8)
		s := newStateSpace(&r)
		if s.node < 0 {
			assert.Nil(t, wave, name)
			continue
		}
		level := r.Rail * r.Duty * r.Chain.After / (r.Chain.Before + r.Chain.After)
		for i, sample := range wave {
			at, from, u := sample.Time, s.high, 1-r.Duty
			if i >= 8 {
				at, from, u = sample.Time-s.on, s.low, -r.Duty
			}
			x := s.after(at, from, u)
			assert.InDelta(t, level+r.Rail*x.AtVec(s.node), sample.Value, 1e-5*r.Node()+1e-9, "%s, sample %d", name, i)
		}
	}
}

// TestWaves: derived; a wave is as high as its peak to peak, has the mean of the
// duty, closes on itself, and is the same just before an edge as just after.
func TestWaves(t *testing.T) {
	for name, r := range hands() {
		through := r.Chain.Before + r.Chain.After
		current := r.CurrentWave(200)
		assert.InEpsilon(t, r.Rail*r.Duty/through, mean(current), 2e-3, "%s: mean current", name)
		assert.Equal(t, r.Period, current[len(current)-1].Time)
		if r.Chain.Capacitor == 0 {
			continue
		}
		wave := r.NodeWave(200)
		require.Len(t, wave, 400)
		assert.InEpsilon(t, r.Node(), swing(wave), 1e-3, "%s: peak to peak", name)
		assert.InEpsilon(t, r.Rail*r.Duty*r.Chain.After/through, mean(wave), 2e-3, "%s: mean", name)
		assert.InDelta(t, wave[0].Value, wave[399].Value, 1e-6*r.Node()+1e-12, "%s: closed", name)
		assert.InDelta(t, wave[199].Value, wave[200].Value, 1e-6*r.Node()+1e-12, "%s: at the edge", name)
		if r.Inductance == 0 {
			assert.InEpsilon(t, r.Node()/r.Chain.After, swing(current), 1e-3, "%s: the coil is on the node", name)
		}
	}
}

// TestPulseWithoutFilter: derived, Ohm's law on each phase.
func TestPulseWithoutFilter(t *testing.T) {
	r := Ripple{Rail: 5, Duty: 0.25, Period: 1e-3, Chain: Chain{Before: 400, After: 600}, FullScale: 5e-3, Movement: Movement{1, 0.5}}
	assert.Equal(t, []Sample{{0, 5e-3}, {0.25e-3, 5e-3}, {0.25e-3, 0}, {1e-3, 0}}, r.CurrentWave(50))
	assert.Nil(t, r.NodeWave(50))
	r.Inductance, r.Period = 1, math.Inf(1)
	assert.Nil(t, r.CurrentWave(50))
	r.Chain.Capacitor = 1e-6
	assert.Nil(t, r.NodeWave(50))
}

// TestDischargeEndsWithLife: derived; the curve falls, but for the jump of a
// boost, and ends when the clock does, at its floor where it is that which ends it.
func TestDischargeEndsWithLife(t *testing.T) {
	curves, atFloor := 0, 0
	for name, p := range packs() {
		for _, hoursOn := range []float64{0, 8, 24} {
			got, life := p.Discharge(hoursOn, 10), p.Life(hoursOn)
			if life == 0 || math.IsInf(life, 1) {
				assert.Empty(t, got, name)
				continue
			}
			curves++
			first, last := got[0], got[len(got)-1]
			assert.Zero(t, first.Time)
			assert.InEpsilon(t, life, last.Time, 1e-6, "%s, awake %v h", name, hoursOn)
			load := p.meets(hoursOn)
			fresh, ok := p.Supply.Draw(p.Fresh()*(1-1e-12), load)
			require.True(t, ok, name)
			assert.InDelta(t, fresh.Voltage, first.Value, 1e-9, name)
			for i := 1; i < len(got); i++ {
				assert.GreaterOrEqual(t, got[i].Time, got[i-1].Time, name)
				if got[i].Time > got[i-1].Time {
					assert.LessOrEqual(t, got[i].Value, got[i-1].Value+1e-9, "%s, awake %v h, %v h", name, hoursOn, got[i].Time)
				}
			}
			if rest := p.Curve[len(p.Curve)-1].Rest * p.Cells; last.Time < p.Shelf && rest < p.Supply.EndsAt(p.Floor, load) && p.Supply.EndsAt(p.Floor, load) > p.Supply.carriesFrom(load)*(1+1e-6) && p.Floor < p.Supply.Rail {
				atFloor++
				assert.InDelta(t, p.Floor, last.Value, 1e-6, "%s, awake %v h", name, hoursOn)
			}
		}
	}
	assert.Greater(t, curves, 50)
	assert.Greater(t, atFloor, 10)
}

// TestDischargeAgainstTime: an independent computation, the clock lived through
// in time with drain's own currents, to the voltage at some hours on the way.
func TestDischargeAgainstTime(t *testing.T) {
	for _, c := range []struct {
		name          string
		hoursOn, step float64
	}{
		{"stepped", 24, 0.01},
		{"passed through when fresh", 12, 0.02},
		{"none, soft cells", 16, 0.02},
	} {
		p := packs()[c.name]
		d := drain{&p}
		curve := p.Discharge(c.hoursOn, 20)
		used, hours := 0.0, 0.0
		for i := 5; i < len(curve)-5; i += 7 {
			for hours < curve[i].Time {
				step := min(c.step, curve[i].Time-hours)
				half := used + d.rateAt(used, c.hoursOn)*step/2
				used += d.rateAt(half, c.hoursOn) * step
				hours += step
			}
			if curve[i].Time == curve[i+1].Time || curve[i].Time == curve[i-1].Time {
				continue // the jump itself
			}
			_, voltage := d.draws(d.rest(used), p.On)
			assert.InDelta(t, voltage, curve[i].Value, 1e-4, "%s, %v h", c.name, hours)
		}
	}
}

// TestDischargeStopsAtTheShelf: derived; cells that outlive their shelf life end
// with it, on the same curve.
func TestDischargeStopsAtTheShelf(t *testing.T) {
	long := stepped()
	long.Off, long.Supply.Quiescent, long.Shelf = 0, 0, math.Inf(1)
	whole := long.Discharge(0, 20)
	short := long
	short.Shelf = 1.9 * HoursAYear
	cut := short.Discharge(0, 20)
	require.Less(t, len(cut), len(whole))
	last := cut[len(cut)-1]
	assert.Equal(t, short.Shelf, last.Time)
	assert.Equal(t, whole[:len(cut)-1], cut[:len(cut)-1])
	after := whole[len(cut)-1]
	assert.True(t, after.Value < last.Value && last.Value < cut[len(cut)-2].Value)

	idle := endless(1, 0, 0)
	idle.Curve = []Charge{{0, 1.5}, {1, 1}}
	assert.Nil(t, idle.Discharge(0, 5), "nothing drawn, nothing lost")
}

// TestDischargeJumps: derived; where four cells have come down to 5 V the boost
// begins to work: just before, the pack stands above the rail, and just after,
// with the converter's losses to carry, at it or below.
func TestDischargeJumps(t *testing.T) {
	p := packs()["passed through when fresh"]
	curve, jumps := p.Discharge(24, 10), 0
	for i := 1; i < len(curve); i++ {
		if a, b := curve[i-1], curve[i]; a.Time == b.Time && a.Value-b.Value > 1e-6 {
			jumps++
			assert.Greater(t, a.Value, p.Supply.Rail)
			assert.InDelta(t, p.Supply.Rail, b.Value, 1e-9)
		}
	}
	assert.Equal(t, 1, jumps)
}
