package calc

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func drawEffects(t *rapid.T) Pack {
	p := drawPack(t)
	some := func(name string, most float64) float64 {
		if !rapid.Bool().Draw(t, "any "+name) {
			return 0
		}
		return rapid.Float64Range(0, most).Draw(t, name)
	}
	p.Supply.Drop = some("drop", 1)
	p.DirectOn = some("direct, awake", 20e-3)
	p.DirectOff = some("direct, asleep", 5e-3)
	p.ResistanceRise = some("rise", 200)
	p.Cutoff = some("cutoff", 5)
	return p
}

// TestLifeAgainstSmallSteps: an independent computation, plain with 400 steps a
// piece, whose own error is up to 1e-6, as more steps show; the share used where
// the clock ends it knows to rounding.
func TestLifeAgainstSmallSteps(t *testing.T) {
	kinds := map[ConverterKind]int{}
	rapid.Check(t, func(t *rapid.T) {
		p := drawEffects(t)
		hoursOn := rapid.SampledFrom([]float64{0, 2, 12, 24}).Draw(t, "hours on")
		want, used := plain{&p}.life(hoursOn, 400)
		got := p.Life(hoursOn)
		assert.InDelta(t, want, got, 2e-6*want+1e-9)
		assert.InDelta(t, used, p.EndUsed(hoursOn), 1e-9)
		if want > 0 {
			kinds[p.Supply.Kind]++
		}
		for _, awake := range []bool{true, false} {
			want := plain{&p}.at(0, awake)
			d, ok := p.DrawFresh(awake)
			assert.Equal(t, want.carried, ok)
			if ok {
				assert.InDelta(t, want.current, d.Current, 1e-9*want.current)
				assert.InDelta(t, want.voltage, d.Voltage, 1e-9)
			}
		}
	})
	for _, kind := range []ConverterKind{NoConverter, Boost, LinearRegulator} {
		assert.Greater(t, kinds[kind], 5, "packs that live, of kind %d", kind)
	}
}

// tired is stepped with all effects: a collapse in the last piece but one.
func tired() Pack {
	p := stepped()
	p.Supply.Drop, p.DirectOn, p.DirectOff, p.Supply.Resistance, p.ResistanceRise = 0.3, 1e-3, 20e-6, 10, 50
	p.Floor, p.Cutoff = 0, 1
	return p
}

// TestLifeOfTiredCells: an independent computation, plain, extrapolated from 300
// and 600 steps to some nine figures: the rule keeps its accuracy where the
// resistance rises into the collapse, and on one long piece.
func TestLifeOfTiredCells(t *testing.T) {
	long := []Charge{{0, 1.6}, {1, 0.9}}
	for name, change := range map[string]func(*Pack){
		"collapse":                        func(*Pack) {},
		"one piece":                       func(p *Pack) { p.Curve = long },
		"one piece, from nothing":         func(p *Pack) { p.Curve, p.Supply.Resistance, p.ResistanceRise = long, 0, 80 },
		"passed through, then stepped up": func(p *Pack) { p.Cells, p.Supply.Resistance = 4, 0 },
		"passed through asleep only": func(p *Pack) {
			p.Cells, p.Supply.Resistance, p.ResistanceRise, p.On, p.Off = 4, 20, 0, 60e-3, 5e-3
		},
		"the cutoff first":                   func(p *Pack) { p.Cutoff = 2.7 },
		"the floor first":                    func(p *Pack) { p.Floor = 2.4 },
		"flat, the resistance alone ends it": func(p *Pack) { p.Curve, p.Floor = []Charge{{0, 1.4}, {1, 1.4}}, 3.5 },
	} {
		for _, hoursOn := range []float64{0, 8, 24} {
			p := tired()
			p.Shelf = math.Inf(1)
			change(&p)
			coarse, _ := plain{&p}.life(hoursOn, 300)
			fine, used := plain{&p}.life(hoursOn, 600)
			assert.InEpsilon(t, (4*fine-coarse)/3, p.Life(hoursOn), 1e-6, "%s, awake %v h", name, hoursOn)
			assert.InDelta(t, used, p.EndUsed(hoursOn), 1e-12, "%s, awake %v h", name, hoursOn)
		}
	}
}

// TestEffectsLaws: derived; all that is lost or taken shortens the life.
func TestEffectsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := drawEffects(t)
		hoursOn := rapid.Float64Range(0, 24).Draw(t, "hours on")
		more := rapid.Float64Range(1e-6, 1).Draw(t, "more")
		life, stranded := p.Life(hoursOn), p.Stranded(hoursOn)
		const hair = 1 + 1e-6
		for name, worsen := range map[string]func(*Pack){
			"a larger drop":          func(q *Pack) { q.Supply.Drop += more },
			"a direct drain, awake":  func(q *Pack) { q.DirectOn += more * 50e-3 },
			"a direct drain, asleep": func(q *Pack) { q.DirectOff += more * 50e-3 },
			"cells that tire more":   func(q *Pack) { q.ResistanceRise += more * 300 },
			"a higher cutoff":        func(q *Pack) { q.Cutoff += more },
			"a higher floor":         func(q *Pack) { q.Floor += more },
		} {
			q := p
			worsen(&q)
			assert.LessOrEqual(t, q.Life(hoursOn), life*hair, name)
			assert.GreaterOrEqual(t, q.Stranded(hoursOn), stranded-1e-12, name)
		}
	})
}

// TestNoEffects: derived; a resistance that rises by next to nothing is solved on
// its own way and comes to the life of one that does not, a cutoff is a floor
// where nothing is dropped, and a direct drain is as good as a converter's own.
func TestNoEffects(t *testing.T) {
	for name, p := range packs() {
		for _, hoursOn := range []float64{0, 0.1, 8, 23, 24} {
			life := p.Life(hoursOn)
			within := 1e-9*life + 1e-12
			q := p
			if name != "floor on a flat piece" { // ends anywhere on it
				q.ResistanceRise = 1e-13
				assert.InDelta(t, life, q.Life(hoursOn), within, "%s, awake %v h", name, hoursOn)
			}
			q = p
			q.Floor, q.Cutoff = 0, p.Floor
			assert.Equal(t, life, q.Life(hoursOn), "%s, awake %v h", name, hoursOn)
			q = p
			q.DirectOn, q.DirectOff, q.Supply.Quiescent = p.Supply.Quiescent, p.Supply.Quiescent, 0
			if p.Supply.Kind != NoConverter {
				assert.InDelta(t, life, q.Life(hoursOn), within, "%s, awake %v h", name, hoursOn)
			}
		}
	}
}

// TestDropByHand: derived. Four cells at 1.5 V through 0.3 V of a diode are 5.7 V:
// above a rail of 5 V, but not above one of 5.8 V, to which 0.1 A is stepped up.
func TestDropByHand(t *testing.T) {
	p := Pack{Supply: Supply{Kind: Boost, Rail: 5, Efficiency: 0.8, Drop: 0.3}, Curve: []Charge{{0, 1.5}, {1, 1}},
		Cells: 4, Floor: 4.1, Capacity: 2, Shelf: math.Inf(1), On: 0.1, DirectOn: 2e-3}
	d, ok := p.DrawFresh(true)
	assert.True(t, ok)
	assert.InDelta(t, 0.102, d.Current, 1e-12)
	assert.InDelta(t, 6, d.Voltage, 1e-12, "of the pack, before the drop")
	p.Supply.Rail = 5.8
	d, _ = p.DrawFresh(true)
	assert.InDelta(t, 5.8*0.1/0.8/5.7+0.002, d.Current, 1e-12)
	// 4.4 V at the pack leave the floor's 4.1 V; a cutoff of 5 V comes before.
	assert.InDelta(t, 4.1, p.InputFloor(), 1e-12)
	assert.InDelta(t, 0.8, p.EndUsed(24), 1e-12)
	assert.InDelta(t, 0.2, p.Stranded(24), 1e-12)
	samples := p.Discharge(24, 4)
	assert.InDelta(t, 4.4, samples[len(samples)-1].Value, 1e-9)
	p.Cutoff = 5
	assert.InDelta(t, 4.7, p.InputFloor(), 1e-12)
	assert.InDelta(t, 0.5, p.Stranded(24), 1e-12)
	// Without a converter the current is the rail's and the direct one alone.
	p.Supply.Kind = NoConverter
	assert.InDelta(t, 2*0.5/0.102, p.Life(24), 1e-12)
	// 1 Ω more at the end: the pack is 6 V - 2 V·u - 0.102 A·u, at 5 V at 1/2.102.
	p.ResistanceRise = 1
	assert.InDelta(t, 1/2.102, p.EndUsed(24), 1e-12)
}

func TestStrandedAtTheEnds(t *testing.T) { // derived
	p := packs()["the curve's end comes first"]
	assert.Zero(t, p.Stranded(24), "used up")
	p.Curve = []Charge{{0, 1.5}, {0.9, 1.2}}
	assert.Zero(t, p.Stranded(24), "used up as far as the curve is known")
	p = packs()["starts below the floor"]
	assert.Equal(t, 1.0, p.Stranded(24), "does not start")
	p = packs()["cannot carry its load"]
	assert.Equal(t, 1.0, p.Stranded(24), "does not start")
	p = stepped()
	whole := p.Stranded(24)
	p.Shelf = 1
	assert.Equal(t, whole, p.Stranded(24), "the shelf is left out")
	p.On = math.NaN()
	assert.True(t, math.IsNaN(p.Stranded(24)), "not known")
}

// TestLifeAllocatesNothing: the dashboard asks at every key.
func TestLifeAllocatesNothing(t *testing.T) {
	for _, p := range []Pack{stepped(), tired()} {
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			p.Life(14)
			p.Stranded(14)
		}))
	}
}

func BenchmarkLifeOfTiredCells(b *testing.B) {
	p := tired()
	b.ReportAllocs()
	for b.Loop() {
		p.Life(14)
	}
}
