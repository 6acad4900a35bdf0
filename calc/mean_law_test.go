package calc

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

func ExampleRipple_LawShift() {
	// An invented moving iron without a filter, at half duty: its torque goes with
	// the square, and the mean of a square is half where the square of the mean is a
	// quarter.
	r := Ripple{Rail: 5, Duty: 0.5, Period: 1e-3, Chain: Chain{Before: 400, After: 600}, FullScale: 5e-3}
	fmt.Printf("without a filter %.2f of the scale\n", r.LawShift(&Law{Kind: Square}))
	r.Chain.Capacitor = 47e-6
	fmt.Printf("with one %.1e\n", r.LawShift(&Law{Kind: Square}))
	// Derived: a triangle of 5 V·600/1000·0.25·1 ms/11.28 ms, its square over 12,
	// over 3 V squared, is 4.1e-5.
	// Output:
	// without a filter 0.25 of the scale
	// with one 4.1e-05
}

// sampledShift is an outside reference for LawShift: stateSpace stepped through
// both phases by one matrix exponential each, each law taken of the current at every
// step, and summed by Simpson's rule.
func sampledShift(r *Ripple, laws ...*Law) []float64 {
	s := newStateSpace(r)
	row, unit := max(s.node, 0), 1.0
	if r.Inductance == 0 {
		unit = r.Rail / (r.Chain.After * r.FullScale)
	} else if s.node >= 0 {
		row = 1
	}
	mean := r.Duty * r.Rail / (r.Chain.Before + r.Chain.After) / r.FullScale
	total, steady := make([]float64, len(laws)), make([]float64, len(laws))
	for l, law := range laws {
		steady[l] = law.At(mean)
	}
	phase := func(x *mat.VecDense, u, length float64) {
		steps := 20000 // and in a long phase 100 or more in a time constant
		if tau := TimeConstant(r.Chain); tau > 0 {
			steps = max(steps, 2*int(50*length/tau))
		}
		h, n := length/float64(steps), x.Len()
		step, forced := mat.NewDense(n, n, nil), s.after(h, mat.NewVecDense(n, nil), u)
		for j := range n {
			one := mat.NewVecDense(n, nil)
			one.SetVec(j, 1)
			step.SetCol(j, s.after(h, one, 0).RawVector().Data)
		}
		now, next := mat.VecDenseCopyOf(x), mat.NewVecDense(n, nil)
		for k := range steps + 1 {
			weight := 2 + 2*float64(k%2)
			if k == 0 || k == steps {
				weight = 1
			}
			share := mean + unit*now.AtVec(row)
			for l, law := range laws {
				total[l] += weight * h / 3 * (law.At(share) - steady[l])
			}
			next.MulVec(step, now)
			next.AddVec(next, forced)
			now, next = next, now
		}
	}
	phase(s.high, 1-s.duty, s.on)
	phase(s.low, -s.duty, s.off)
	for l := range total {
		total[l] /= r.Period
	}
	return total
}

// laws are the laws worth a reference, by name.
func laws() map[string]*Law {
	fine := &Law{Kind: Table}
	for k := range 41 {
		x := float64(k) / 40
		fine.Points = append(fine.Points, Point{x, x * (0.6 + 0.4*x)})
	}
	return map[string]*Law{
		"square":  {Kind: Square},
		"raised":  {Kind: Square, From: 0.3},
		"convex":  {Kind: Table, Points: []Point{{0, 0}, {0.5, 0.4}, {1, 1}}},
		"concave": {Kind: Table, Points: []Point{{0, 0}, {0.49, 0.6}, {1, 1}}},
		"both":    {Kind: Table, Points: []Point{{0, 0}, {0.1, 0.05}, {0.25, 0.4}, {0.505, 0.45}, {0.8, 0.9}, {1, 1}}},
		"fine":    fine,
		"late":    {Kind: Table, From: 0.2, Points: []Point{{0, 0}, {0.5, 0.4}, {1, 1}}},
	}
}

// TestLawShiftAgainstMatrixExponential: all wanted numbers are an independent
// computation, sampledShift with gonum's matrix exponential.
func TestLawShiftAgainstMatrixExponential(t *testing.T) {
	compared, seen := 0, map[Ripple]bool{}
	var kinds []string
	var all []*Law
	for kind, law := range laws() {
		kinds, all = append(kinds, kind), append(all, law)
	}
	for name, r := range hands() {
		r.Movement = Movement{Period: 1, Damping: 0.5} // of no matter
		if seen[r] || r.Chain.Capacitor == 0 && r.Inductance == 0 || name == "tiny inductance" || name == "tiny inductance, no capacitor" {
			continue // a pulse, or steps too coarse for the reference
		}
		seen[r] = true
		for n, want := range sampledShift(&r, all...) {
			if math.Abs(want) > 1e-9 {
				compared++
			}
			assert.InDelta(t, want, r.LawShift(all[n]), 1e-6*math.Abs(want)+1e-12, "%s, %s", name, kinds[n])
		}
	}
	assert.Greater(t, compared, 80, "most of them shift")
}

// square1 is the mean square of a unit pulse behind a filter of the first order, less
// its mean's: derived, d(1-d) less what firstOrder passes, over the periods in
// a time constant tau.
func square1(duty, tau float64) float64 { return duty*(1-duty) - tau*firstOrder(duty, tau) }

// TestSquareShiftFirstOrder: derived, square1, and where it cancels the square of a
// triangle over 12.
func TestSquareShiftFirstOrder(t *testing.T) {
	square := &Law{Kind: Square}
	for _, duty := range []float64{0.01, 0.3, 0.5, 0.9} {
		for _, tau := range []float64{1e-4, 0.02, 0.3, 1, 4} {
			r := unloaded(duty, tau)
			unit := r.Chain.Current(r.Rail) / r.FullScale
			assert.InEpsilon(t, square1(duty, tau), r.LawShift(square)/(unit*unit), 1e-9, "duty %v, %v periods", duty, tau)
		}
		for _, tau := range []float64{1e5, 1e7} {
			r := unloaded(duty, tau)
			unit := r.Chain.Current(r.Rail) / r.FullScale
			triangle := duty * (1 - duty) / tau
			assert.InEpsilon(t, triangle*triangle/12, r.LawShift(square)/(unit*unit), 2e-9, "duty %v, %v periods", duty, tau)
		}
	}
}

// TestLawShiftOfPulse: derived by hand: 1.25 of full scale for 0.4 of the time
// is a mean of 0.5.
func TestLawShiftOfPulse(t *testing.T) {
	r := Ripple{Rail: 5, Duty: 0.4, Period: 1e-3, Chain: Chain{Before: 400, After: 600}, FullScale: 4e-3}
	assert.InDelta(t, 0.4*1.25*1.25-0.25, r.LawShift(&Law{Kind: Square}), 1e-15)
	table := &Law{Kind: Table, Points: []Point{{0, 0}, {0.2, 0.3}, {0.6, 0.4}, {1, 1}}}
	// On, the last line continued: 1 + 0.25·1.5; at 0.5 the middle one: 0.3 + 0.3·0.25.
	assert.InDelta(t, 0.4*1.375-0.375, r.LawShift(table), 1e-15)
	r.Rail = 1 // 0.25 for 0.4 of the time, a mean of 0.1: 0.4·(0.3+0.05·0.25) - 0.15
	assert.InDelta(t, 0.4*0.3125-0.15, r.LawShift(table), 1e-15)
	r.Rail = 0.7 // 0.175 at most: on the first line
	assert.InDelta(t, 0, r.LawShift(table), 1e-18)
}

// TestLawShiftOfPulseFromZero: derived by hand, of a zero suppressed to 0.2: on, 1.25 of full
// scale is (1.05/0.8)²; the mean of 0.5 is (0.3/0.8)²; a mean of 0.1 is nothing.
func TestLawShiftOfPulseFromZero(t *testing.T) {
	r := Ripple{Rail: 5, Duty: 0.4, Period: 1e-3, Chain: Chain{Before: 400, After: 600}, FullScale: 4e-3}
	square := &Law{Kind: Square, From: 0.2}
	assert.InDelta(t, 0.4*1.3125*1.3125-0.375*0.375, r.LawShift(square), 1e-15)
	r.Duty = 0.08
	assert.InDelta(t, 0.08*1.3125*1.3125, r.LawShift(square), 1e-15)
	table := &Law{Kind: Table, From: 0.2, Points: []Point{{0, 0}, {0.5, 0.4}, {1, 1}}} // 0.1; 1.375 past its end
	assert.InDelta(t, 0.08*1.375, r.LawShift(table), 1e-15)
}

// TestLawShiftLaws: derived.
func TestLawShiftLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, law := drawHand(t), drawTable(t)
		r.FullScale = r.Chain.Current(r.Rail) * rapid.Float64Range(0.5, 1).Draw(t, "full scale")
		if rapid.Bool().Draw(t, "no filter") {
			r.Chain.Capacitor = 0
		}
		assert.Zero(t, r.LawShift(&Law{}), "a straight line")
		wave := r.CurrentWave(300)
		swing := swing(wave) / r.FullScale
		square, shift := r.LawShift(&Law{Kind: Square}), r.LawShift(law)
		assert.True(t, square >= 0 && square <= swing*swing/4*(1+1e-6), "no more than ends alone would: %v of %v", square, swing)
		assert.LessOrEqual(t, math.Abs(shift), law.steepest()*swing, "no more than the swing")
		faster := r // the same hand on another clock, rail and coil
		faster.Period, faster.Chain.Capacitor, faster.Inductance = r.Period/2, r.Chain.Capacitor/2, r.Inductance/2
		faster.Rail, faster.FullScale = 3*r.Rail, 3*r.FullScale
		assert.InDelta(t, square, faster.LawShift(&Law{Kind: Square}), 1e-9*square, "only ratios count")
		assert.InDelta(t, shift, faster.LawShift(law), 1e-6*math.Abs(shift)+1e-14, "only ratios count")
		chord := &Law{Kind: Table, Points: []Point{{0, 0}, {0.25, 0.25}, {0.5, 0.5}, {1, 1}}}
		assert.Zero(t, r.LawShift(chord), "points on one straight line")
		for _, duty := range []float64{0, 1} {
			still := r
			still.Duty = duty
			assert.Zero(t, still.LawShift(law), "a pin that never switches")
			assert.Zero(t, still.LawShift(&Law{Kind: Square}), "a pin that never switches")
		}
	})
}

// TestLawShiftBent: derived, a curve that bends upwards has a mean above its value at
// the mean: a law that grows steeper gives more on a ripple over its bend, none on
// one beside it, and a polygon nears its curve.
func TestLawShiftBent(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawHand(t)
		r.FullScale = r.Chain.Current(r.Rail)
		e := extremes{math.Inf(1), math.Inf(-1)}
		for _, s := range r.CurrentWave(300) {
			e.add(s.Value / r.FullScale)
		}
		if e.least < 0.01 || e.most > 0.99 || e.most-e.least < 1e-6 {
			t.Skip("not on the scale, or hardly a ripple")
		}
		bent := func(x float64) *Law { return &Law{Kind: Table, Points: []Point{{0, 0}, {x, x / 2}, {1, 1}}} }
		share := rapid.Float64Range(0.1, 0.9).Draw(t, "where")
		assert.Positive(t, r.LawShift(bent(e.least+share*(e.most-e.least))), "over the bend")
		hair := (e.most - e.least) / 100
		assert.Zero(t, r.LawShift(bent(e.least-min(hair, e.least/2))), "above it")
		assert.Zero(t, r.LawShift(bent(e.most+min(hair, (1-e.most)/2))), "below it")
	})
	r := bench()
	polygon := &Law{Kind: Table}
	for k := range 2001 {
		x := float64(k) / 2000
		polygon.Points = append(polygon.Points, Point{x, x * x})
	}
	// A chord of 1/2000 lies at most 1/2000²/4 above the square.
	assert.InDelta(t, r.LawShift(&Law{Kind: Square}), r.LawShift(polygon), 1.0/2000/2000/4)
}

func TestLawShiftWithoutAnswer(t *testing.T) {
	r := bench()
	r.Period = math.Inf(1)
	for name, law := range laws() {
		assert.True(t, math.IsNaN(r.LawShift(law)), name)
	}
	assert.Zero(t, r.LawShift(&Law{}), "a straight line shifts nothing")
}

// TestLawShiftWhereItRings: the reference again, of a coil that swings some 30
// times in each phase about a kink; coarser, since it takes many steps.
func TestLawShiftWhereItRings(t *testing.T) {
	r := bench()
	r.Chain, r.Inductance, r.Period = Chain{Before: 20000, After: 50, Capacitor: 1e-6}, 1, 0.4
	r.FullScale = r.Chain.Current(r.Rail)
	for _, at := range []float64{0.01, 0.3, 0.5, 0.999} {
		law := &Law{Kind: Table, Points: []Point{{0, 0}, {at, at / 2}, {1, 1}}}
		want := sampledShift(&r, law)[0]
		require.Greater(t, math.Abs(want), 1e-9)
		assert.InEpsilon(t, want, r.LawShift(law), 1e-5, "kink at %v", at)
	}
}

func TestLawShiftAllocatesNothing(t *testing.T) {
	r := bench()
	r.Inductance = 35e-3
	for name, law := range laws() {
		assert.Zero(t, testing.AllocsPerRun(10, func() { r.LawShift(law) }), name)
	}
}

func BenchmarkLawShift(b *testing.B) {
	for _, kind := range []string{"square", "both", "fine"} {
		for _, inductance := range []float64{0, 35e-3} {
			b.Run(fmt.Sprint(kind, ", ", inductance, " H"), func(b *testing.B) {
				r, law := bench(), laws()[kind]
				r.Inductance = inductance
				b.ReportAllocs()
				for b.Loop() {
					r.LawShift(law)
				}
			})
		}
	}
}
