package spread

import (
	"context"
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/calc"
	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

func BenchmarkYield(b *testing.B) {
	for _, file := range []string{"public-1.toml", "public-2.toml", "three-hands.toml", "whole.toml"} {
		b.Run(file, func(b *testing.B) {
			build := modeltest.Sound(b, modeltest.Text(b, file))
			const kits = 100_000
			for b.Loop() {
				_, err := NewYield(context.Background(), build, kits, 1, nil)
				require.NoError(b, err)
			}
			b.ReportMetric(float64(kits*b.N)/b.Elapsed().Seconds(), "kits/s")
		})
	}
}

// yieldOf makes kits of a text without problems.
func yieldOf(t testing.TB, text string, kits int, seed uint64) *Yield {
	t.Helper()
	y, err := NewYield(context.Background(), modeltest.Sound(t, text), kits, seed, nil)
	require.NoError(t, err)
	return y
}

// yieldTexts are builds of every kind: a step-up, none and a regulator; filters at
// the coil, at the stage and none; linear, table and square laws, straightened by
// codes, by the dial and not at all; trimmers that reach, that do not, that are
// left, and none; three hands; cells and none.
func yieldTexts(t *testing.T) map[string]string {
	one, two := modeltest.Text(t, "public-1.toml"), modeltest.Text(t, "public-2.toml")
	hand := "hand." + modeltest.Sound(t, one).Hands[0].Name
	return map[string]string{
		"public 1": one, "public 2": two, "whole": modeltest.Text(t, "whole.toml"),
		"three hands": modeltest.Text(t, "three-hands.toml"), "bare cells": modeltest.Text(t, "bare-cells.toml"),
		"too much":   modeltest.With(t, one, hand+".drive.fixed", "16k ±5 %"),
		"too little": modeltest.With(t, one, hand+".drive.fixed", "11k ±5 %"),
		"left":       modeltest.With(t, one, hand+".drive.setting", "2 kΩ ±5 %", hand+".meter.movement_tempco", "-300 ppm/K ±200 ppm/K"),
		"inside":     modeltest.With(t, one, hand+".meter.internal", "6.8 kΩ ±10 %", hand+".meter.internal_kind", "multiplier", hand+".meter.in_circuit", "yes", hand+".drive.fixed", "8.2 kΩ ±1 %"),
		"shunted":    modeltest.With(t, one, hand+".meter.internal", "3.3 kΩ ±5 %", hand+".meter.internal_kind", "shunt", hand+".meter.in_circuit", "yes"),
		"frequency":  modeltest.With(t, one, "crystal.frequency", "32.768 kHz ±0.002 %"),
		"none":       modeltest.With(t, one, hand+".drive.trimmer", "", hand+".meter.law", "square"),
		"measured":   modeltest.With(t, one, "crystal.measured", "32767.9 Hz", "crystal.room_low", "", "hand.hours.correct", "dial"),
	}
}

// A writtenKit is a kit by an independent way: its parts are written into the text,
// the text is read, and the build evaluated like any other.
type writtenKit struct {
	circuit.Plan
	build *model.Build
	off   float64 // ppm of the crystal
}

func writeKit(t *testing.T, text string, places []float64) writtenKit {
	t.Helper()
	whole, s := modeltest.Sound(t, text), writtenKit{}
	if x := &whole.Crystal; !x.TickCounted.Given() { // at the nominal frequency, the catalogue's words, whatever a kit's is
		tick := float64(x.Prescale) * (math.Pow(2, float64(x.CounterBits)) - float64(x.Reload)) / x.Frequency.Number
		text = modeltest.With(t, text, "crystal.tick_counted", modeltest.ValueText(tick, quantity.Seconds))
	}
	for k, in := range inputs(whole) {
		v := *in.Field.At(whole, in.Index).(*quantity.Value)
		if in.Field.Path == "crystal.tolerance" {
			s.off = places[k] * v.Number
			continue
		}
		text = modeltest.With(t, text, in.Path(whole), modeltest.ValueText(v.Number+places[k]*v.Half(), in.Field.Unit))
	}
	s.build = modeltest.Sound(t, text)
	circuit.Evaluate(s.build, &s.Plan)
	return s
}

// dialError is the catalogue's dial_error instant by instant, in its words.
func (s *writtenKit) dialError(i int) float64 {
	hand, p := &s.build.Hands[i], &s.Hands[i]
	m, d := &hand.Meter, &hand.Drive
	law := map[string]calc.Law{"linear": {}, "square": {Kind: calc.Square}, "table": {Kind: calc.Table, Points: m.Table}}[m.Law]
	minutes := map[string]float64{"12 h": 720, "24 h": 1440, "60 min": 60, "60 s": 1}[hand.Shows]
	n := map[string]int{"12 h": 720, "24 h": 1440, "60 min": 60, "60 s": 60}[hand.Shows]
	fullScale := m.FullScale.Number
	if m.InCircuit == "yes" && m.TerminalFullScale.Given() { // a closed case that was measured
		fullScale = m.TerminalFullScale.Number
	}
	series := s.build.Rail.Voltage.Number*float64(d.Top+d.DutyOffset)/float64(d.Counts)/(p.FullScaleReached*fullScale) - m.Coil.Number
	trimmedAt := s.build.Rail.TrimmedAt.Number
	drives := []float64{1}
	for _, t := range []float64{s.build.Crystal.RoomLow.Number, s.build.Crystal.RoomHigh.Number} {
		if math.IsNaN(t) {
			continue
		}
		delta, c := t-trimmedAt, m.CoilCopper.Number
		pin := d.PinResistance.Number
		warm := (series-pin)*(1+d.ResistorTempco.Number*1e-6*delta) + pin*(1+d.PinTempco.Number*1e-6*delta) + m.Coil.Number*(1-c+c*(234.5+t)/(234.5+trimmedAt))
		tempco := m.MovementTempco.Number
		if math.IsNaN(tempco) {
			tempco = 0
		}
		drives = append(drives, (series+m.Coil.Number)/warm*(1+tempco*1e-6*delta))
	}
	largest := 0.0
	for s := range n {
		y := float64(s) / float64(n)
		x := y
		if hand.Correct == "codes" {
			x = law.Inverse(y)
		}
		code := math.Floor(float64(d.Top)*x + 1e-9)
		if d.Rounding == "nearest" {
			code = math.Floor(float64(d.Top)*x + 0.5 + 1e-9)
		}
		for _, drive := range drives {
			shown := (code + float64(d.DutyOffset)) / float64(d.Top+d.DutyOffset) * p.FullScaleReached * drive
			if hand.Correct != "dial" {
				shown = law.At(shown)
			}
			largest = max(largest, minutes*math.Abs(shown-y))
		}
	}
	return largest
}

// TestYieldAgainstTheText: a few hundred kits by another way give the same
// numbers, kit by kit, and the same counts.
func TestYieldAgainstTheText(t *testing.T) {
	const kits, seed = 60, 7
	for name, text := range yieldTexts(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := newProduction(modeltest.Sound(t, text), kits, seed)
			p.builder()(0)
			places := rand.New(rand.NewPCG(seed, 0)) // the catalogue: PCG of the seed and the block
			trimUp := make([]int, len(p.hands))
			for n := range kits {
				place := make([]float64, len(inputs(p.build)))
				for k := range place {
					place[k] = 2*places.Float64() - 1
				}
				s := writeKit(t, text, place)
				same(t, s.Crystal.Rate+0.0864*s.off, p.rate[n])
				same(t, s.Battery.LifeOn, p.lifeOn[n])
				same(t, s.Battery.LifeMixed, p.lifeMixed[n])
				for i := range p.hands {
					travel := s.Hands[i].TrimmerTravel
					if !math.IsNaN(travel) {
						same(t, travel, p.hands[i].travels[n])
					}
					if math.IsInf(s.Circuit.Hands[i].Shunt, 1) { // the words are of a chain without branches
						same(t, s.dialError(i), p.hands[i].errors[n])
					}
					if 0.02 <= travel && travel <= 0.98 {
						trimUp[i]++
					}
				}
			}
			for i := range p.hands {
				assert.Equal(t, trimUp[i], p.tallies[0].hands[i].trimUp)
			}
		})
	}
}

// same holds two computations of one number together; both may say that there is
// none.
func same(t *testing.T, want, got float64) {
	t.Helper()
	if math.IsNaN(want) {
		assert.True(t, math.IsNaN(got), "%v", got)
		return
	}
	assert.InDelta(t, want, got, 1e-9*max(1, math.Abs(want)))
}

// What kits need that do not trim up, by trying all parts in the text, one after
// the other.
//
// Birthplace: the catalogue's words; the parts by their series.
func TestWhatKitsNeed(t *testing.T) {
	const kits, seed = 40, 3
	for _, name := range []string{"too much", "too little", "none"} {
		text := yieldTexts(t)[name]
		y := yieldOf(t, text, kits, seed)
		want := map[string]map[float64]int{"trimmer": {}, "more": {}, "less": {}}
		more, less := 0, 0
		whole := modeltest.Sound(t, text)
		places := rand.New(rand.NewPCG(seed, 0))
		for range kits {
			place := make([]float64, len(inputs(whole)))
			for k := range place {
				place[k] = 2*places.Float64() - 1
			}
			s := writeKit(t, text, place)
			needed, d := s.Hands[0].SeriesNeeded, &s.build.Hands[0].Drive
			up := func(fixed, trimmer float64) bool { return 0.02*trimmer <= needed-fixed && needed-fixed <= 0.98*trimmer }
			if up(d.Fixed.Number, d.Trimmer.Number) {
				continue
			}
			nominal := &whole.Hands[0].Drive
			off := d.Fixed.Number / nominal.Fixed.Number
			does := []float64{} // fixed resistors, rising
			if up(0, d.Trimmer.Number) {
				does = append(does, 0)
			}
			for r := 10.0; r < 10e6; r = calc.NextPreferred(r, calc.E24, true) {
				if up(r*off, d.Trimmer.Number) {
					does = append(does, r)
				}
			}
			if needed-d.Fixed.Number < 0.02*d.Trimmer.Number {
				less++
				if len(does) > 0 {
					want["less"][does[len(does)-1]]++
				}
				continue
			}
			more++
			if len(does) > 0 {
				want["more"][does[0]]++
			}
			off = 1
			if nominal.Trimmer.Number > 0 {
				off = d.Trimmer.Number / nominal.Trimmer.Number
			}
			trimmer := 10.0
			for !up(d.Fixed.Number, trimmer*off) {
				trimmer = calc.NextPreferred(trimmer, calc.OneTwoFive, true)
			}
			want["trimmer"][trimmer]++
		}
		counts := func(others []Other) map[float64]int {
			m := map[float64]int{}
			for _, o := range others {
				m[o.Value] = o.Kits
			}
			return m
		}
		h := &y.Hands[0]
		require.NotZero(t, more+less, name)
		assert.Equal(t, []int{more, less, kits - more - less}, []int{h.More.Kits, h.Less.Kits, h.TrimUp}, name)
		assert.Equal(t, want["trimmer"], counts(h.More.Trimmers), name)
		assert.Equal(t, want["more"], counts(h.More.Fixed), name)
		assert.Equal(t, want["less"], counts(h.Less.Fixed), name)
	}
}

// exactly takes all tolerances out of a text.
func exactly(t *testing.T, text string) string {
	t.Helper()
	b := modeltest.Sound(t, text)
	for _, in := range inputs(b) {
		v := in.Field.At(b, in.Index).(*quantity.Value)
		if in.Field.Path == "crystal.tolerance" {
			v = &quantity.Value{}
		}
		text = modeltest.With(t, text, in.Path(b), modeltest.ValueText(v.Number, in.Field.Unit))
	}
	require.Empty(t, inputs(modeltest.Sound(t, text)))
	return text
}

// One rectangular input makes a rectangular result where the result is linear in
// it: derived. A share q of n kits lies below the place 2q - 1 to within five times
// √(q(1-q)/n), and the ends are not passed.
func TestOneRectangularInput(t *testing.T) {
	modeltest.Long(t)
	const kits = 100_000
	one := exactly(t, modeltest.Text(t, "public-1.toml"))
	b, p := soundPlan(t, one)
	d, h := &b.Hands[0].Drive, &p.Hands[0]
	hold := func(r *Histogram, value, reach float64) {
		t.Helper()
		for i, q := range Percentiles {
			assert.InDelta(t, value+reach*(2*q-1), r.At[i], 2*reach*5*math.Sqrt(q*(1-q)/kits), "%v", q)
		}
		assert.GreaterOrEqual(t, r.Least, value-reach-1e-9)
		assert.LessOrEqual(t, r.Most, value+reach+1e-9)
	}
	fixed := modeltest.ValueText(d.Fixed.Number, quantity.Ohms)
	y := yieldOf(t, modeltest.With(t, one, "hand.hours.drive.fixed", fixed+" ±2 %"), kits, 1)
	hold(y.Hands[0].Travel, h.TrimmerTravel, d.Fixed.Number*0.02/d.Trimmer.Number)
	assert.Equal(t, kits, y.Hands[0].TrimUp, "a travel of 66 % give or take 5 %")

	y = yieldOf(t, modeltest.With(t, one, "crystal.tolerance", "20 ppm"), kits, 1)
	hold(y.Rate, p.Crystal.Rate, 0.0864*20)

	// With a trimmer of which 98 % are as much as is needed just half of the kits trim up that
	// differ in the fixed resistor alone: derived.
	y = yieldOf(t, modeltest.With(t, one, "hand.hours.drive.fixed", fixed+" ±2 %", "hand.hours.drive.trimmer", modeltest.ValueText(h.TrimmerSetting/0.98, quantity.Ohms)), kits, 1)
	assert.InDelta(t, kits/2, y.Hands[0].TrimUp, 5*math.Sqrt(kits)/2)
	assert.Equal(t, kits-y.Hands[0].TrimUp, y.Hands[0].More.Kits)
}

// The 2.5 % and 97.5 % points against the bands of testdata, which are an
// independent computation by another method: to 3 % of their width.
func TestYieldAgainstTheBands(t *testing.T) {
	for _, file := range []string{"public-1", "public-2"} {
		var bands struct{ Bands map[string][2]float64 }
		require.NoError(t, json.Unmarshal([]byte(modeltest.Text(t, file+".bands.json")), &bands))
		y, held := yieldOf(t, modeltest.Text(t, file+".toml"), 100_000, 1), 0
		for _, r := range y.Results() {
			band, ok := bands.Bands[r.ID]
			if !ok {
				continue
			}
			held++
			width := band[1] - band[0]
			assert.InDelta(t, band[0], r.At[0], 0.03*width, "%s %s", file, r.ID)
			assert.InDelta(t, band[1], r.At[len(r.At)-1], 0.03*width, "%s %s", file, r.ID)
		}
		assert.GreaterOrEqual(t, held, 3, file)
	}
}

// A tolerance halved comes to the same as half the tolerance in the text, with the
// same random numbers; and the first in the list gains most.
func TestTighter(t *testing.T) {
	const kits, seed = 3000, 5
	for name, text := range yieldTexts(t) {
		y := yieldOf(t, text, kits, seed)
		for i, h := range y.Hands {
			assert.Equal(t, h.TrimUp, h.Before.TrimUp, name)
			assert.Equal(t, h.Error.At[5], h.Before.Error95, name)
			for k, tighter := range h.Tighter {
				_, half := tighter.Texts(y.Build)
				other := yieldOf(t, modeltest.With(t, text, tighter.Path(y.Build), half), kits, seed).Hands[i]
				assert.Equal(t, other.TrimUp, tighter.TrimUp, "%s: %s %s", name, h.Name, tighter.Path(y.Build))
				assert.InDelta(t, other.Before.Error95, tighter.Error95, 1e-9*h.Before.Error95, "%s: %s %s", name, h.Name, tighter.Path(y.Build))
				if k > 0 {
					assert.GreaterOrEqual(t, h.Tighter[k-1].TrimUp, tighter.TrimUp, name)
				}
			}
		}
	}
}

// What Tighter leaves out moves nothing: half its tolerance in the text leaves the
// hand as it was.
func TestTighterLeavesNothingOut(t *testing.T) {
	modeltest.Long(t)
	const kits, seed = 1000, 5
	for name, text := range yieldTexts(t) {
		y := yieldOf(t, text, kits, seed)
		for _, in := range inputs(y.Build) {
			_, half := Tighter{Input: in}.Texts(y.Build)
			other := yieldOf(t, modeltest.With(t, text, in.Path(y.Build), half), kits, seed)
			for i, h := range y.Hands {
				moves := false
				for _, tighter := range h.Tighter {
					moves = moves || tighter.Input == in
				}
				if !moves {
					assert.Equal(t, h.Travel, other.Hands[i].Travel, "%s: %s", name, in.Path(y.Build))
					assert.Equal(t, h.Error, other.Hands[i].Error, "%s: %s", name, in.Path(y.Build))
				}
			}
		}
	}
}

// Wider tolerances never raise the yield of a build that trims up as it is by more
// than noise, the random numbers being the same: three times √n/2 kits.
func TestWiderIsNotBetter(t *testing.T) {
	modeltest.Long(t)
	const kits = 20_000
	text := modeltest.Text(t, "public-1.toml")
	for _, fixed := range []string{"12 kΩ", "13 kΩ", "14 kΩ", "15 kΩ", "15.9 kΩ"} {
		last := kits
		for _, percent := range []string{"0.1 %", "1 %", "5 %", "10 %", "20 %"} {
			y := yieldOf(t, modeltest.With(t, text, "hand.hours.drive.fixed", fixed+" ±"+percent, "hand.hours.drive.trimmer", "5 kΩ ±"+percent), kits, 1)
			assert.LessOrEqual(t, y.TrimUp, last+int(1.5*math.Sqrt(kits)), "%s ±%s", fixed, percent)
			last = y.TrimUp
		}
		assert.Less(t, last, kits, "%s: wide tolerances cost kits", fixed)
	}
}

// The same seed makes the same bytes on one core and on two, another one others;
// also where the last block is not full.
func TestYieldDoesNotDependOnTheCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	bytes := func(cores int, seed uint64) string {
		runtime.GOMAXPROCS(cores)
		text, err := yieldOf(t, modeltest.Text(t, "three-hands.toml"), 7_321, seed).JSON()
		require.NoError(t, err)
		return string(text)
	}
	one := bytes(1, 42)
	assert.Equal(t, one, bytes(2, 42))
	assert.Equal(t, one, bytes(3, 42))
	assert.NotEqual(t, one, bytes(2, 43))
}

// Tolerances are halved for the first kits only; all are counted.
func TestComparedAreTheFirstKits(t *testing.T) {
	y := yieldOf(t, modeltest.Text(t, "whole.toml"), MostCompared+1, 1)
	h := &y.Hands[0]
	first := yieldOf(t, modeltest.Text(t, "whole.toml"), MostCompared, 1).Hands[0]
	assert.Equal(t, MostCompared+1, h.TrimUp+h.More.Kits+h.Less.Kits)
	assert.Equal(t, first.Before, h.Before)
	assert.Equal(t, first.Tighter, h.Tighter)
}

// Blocks are not alike: no number of one comes again in another.
func TestBlocksDiffer(t *testing.T) {
	p := newProduction(modeltest.Sound(t, modeltest.Text(t, "public-1.toml")), 3*blockOfKits, 1)
	do := p.builder()
	seen := map[float64]bool{}
	for block := range 3 {
		do(block)
	}
	for _, x := range p.rate {
		assert.False(t, seen[x])
		seen[x] = true
	}
}

func TestYieldOfBuildsWithoutTolerances(t *testing.T) {
	text := exactly(t, modeltest.Text(t, "public-1.toml"))
	y := yieldOf(t, text, 10, 1)
	_, p := soundPlan(t, text)
	assert.Zero(t, y.Inputs)
	assert.Equal(t, 10, y.TrimUp)
	assert.Empty(t, y.Hands[0].Tighter)
	assert.Equal(t, []Bin{{p.Crystal.Rate, p.Crystal.Rate, 10}}, y.Rate.Bins)
	assert.Equal(t, p.Battery.LifeOn, y.LifeOn.At[3])
	y = yieldOf(t, modeltest.With(t, text, "battery.cells", "0", "crystal.load", ""), 10, 1)
	assert.Nil(t, y.LifeOn)
	assert.Nil(t, y.LifeMixed)
	assert.Nil(t, y.Rate)
}

func TestKitsMakeNoGarbage(t *testing.T) {
	for name, text := range yieldTexts(t) {
		p := newProduction(modeltest.Sound(t, text), 1, 1)
		do := p.builder()
		assert.Zero(t, testing.AllocsPerRun(20, func() { do(0) }), name)
	}
}

func TestYieldRefuses(t *testing.T) {
	b := modeltest.Sound(t, modeltest.Text(t, "public-1.toml"))
	for _, kits := range []int{0, -1, 1_000_000_000} {
		_, err := NewYield(context.Background(), b, kits, 1, nil)
		assert.ErrorContains(t, err, "kits: allowed are 1 to 1000000")
	}
	_, err := NewYield(context.Background(), modeltest.Sound(t, strings.Split(modeltest.Text(t, "public-1.toml"), "[[hand]]")[0]), 1, 1, nil)
	assert.ErrorContains(t, err, "no hand")
}

// Interrupted it says how far it came, and gives no half yield.
func TestYieldIsInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancelCause(context.Background())
	enough := errors.New("enough")
	told := 0
	y, err := NewYield(ctx, modeltest.Sound(t, modeltest.Text(t, "public-1.toml")), MostKits, 1, func(done int) {
		assert.Equal(t, told+blockOfKits, done, "one call at a time, in order")
		if told = done; done == 5000 {
			cancel(enough)
		}
	})
	assert.Nil(t, y)
	require.ErrorIs(t, err, enough)
	assert.Regexp(t, `^ended after [5-9]000 of 1000000 kits: enough$`, err.Error())
	assert.Less(t, told, 5000+runtime.GOMAXPROCS(0)*blockOfKits+1)
}

func TestProgressComesToTheEnd(t *testing.T) {
	last := 0
	_, err := NewYield(context.Background(), modeltest.Sound(t, modeltest.Text(t, "public-1.toml")), 2500, 1, func(done int) { last = done })
	require.NoError(t, err)
	assert.Equal(t, 2500, last)
}

// A panic in a worker comes back as an error, with the other workers ended.
func TestAPanicComesBack(t *testing.T) {
	y, err := NewYield(context.Background(), modeltest.Sound(t, modeltest.Text(t, "public-1.toml")), 50_000, 1, func(done int) {
		if done > 3000 {
			panic("the soldering iron fell")
		}
	})
	assert.Nil(t, y)
	assert.ErrorContains(t, err, "the program failed: the soldering iron fell")

	var slots []int
	_, err = inBlocks(context.Background(), 8, func() func(int) { return func(block int) { slots[block]++ } }, nil)
	assert.ErrorContains(t, err, "index out of range")
	_, err = inBlocks(context.Background(), 8, func() func(int) { panic("no bench") }, nil)
	assert.ErrorContains(t, err, "no bench")
}

func TestInBlocks(t *testing.T) {
	for _, n := range []int{1, 2, 7, 100} {
		done := make([]int, n)
		all, err := inBlocks(context.Background(), n, func() func(int) { return func(block int) { done[block]++ } }, nil)
		require.NoError(t, err)
		assert.Equal(t, n, all)
		for _, times := range done {
			assert.Equal(t, 1, times)
		}
	}
}

// TestYieldNamesWhatItLeavesOut: derived from catalogue.md; an error that is not all of it
// says so wherever it is named.
func TestYieldNamesWhatItLeavesOut(t *testing.T) {
	y, err := NewYield(context.Background(), modeltest.Sound(t, modeltest.Example("reading-room")), 100, 1, nil)
	require.NoError(t, err)
	named := 0
	for _, r := range y.Results() {
		if strings.HasSuffix(r.ID, ".dial_error") {
			named++
			assert.Equal(t, "hours: largest dial error without class, drift and friction", r.Label)
		}
	}
	assert.Equal(t, 1, named)
	assert.Contains(t, Tightenings[0].None(), "without class, drift and friction")
}
