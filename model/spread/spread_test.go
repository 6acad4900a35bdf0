package spread

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// exampleNames are the examples that the program brings.
var exampleNames = []string{"reading-room", "harbour-office", "station-platform", "school-store"}

func banded(t testing.TB, text string) *solved {
	t.Helper()
	return solvedOf(modeltest.Sound(t, text)).Banded()
}

func exampleBanded(t testing.TB, name string) *solved {
	t.Helper()
	return banded(t, modeltest.Example(name))
}

// Birthplace: an independent computation, testdata/README.md, which holds what moves
// by more than a millionth, and asks for 1e-3 of the band's width, simulated ones apart.
func TestPublicBands(t *testing.T) {
	for name, simulated := range map[string][]string{
		// Its value takes each part at its worst end already: no kit is above it.
		"public-1": {"hours.overload_worst"}, "public-2": {"hours.overload_worst", "minutes.overload_worst"},
	} {
		var want struct{ Bands map[string][2]float64 }
		require.NoError(t, json.Unmarshal([]byte(modeltest.Text(t, name+".bands.json")), &want))
		r := banded(t, modeltest.Text(t, name+".toml"))
		var apart []string
		for _, row := range r.Results {
			id := row.IDOf(r.Build, row.Index)
			w, there := want.Bands[id]
			if row.Band.Simulated {
				apart = append(apart, id)
				assert.InDelta(t, row.Value, row.Band.High, 1e-12, id)
				continue
			}
			if there {
				assert.InDeltaSlice(t, w[:], []float64{row.Band.Low, row.Band.High}, 1e-3*(w[1]-w[0]), id)
				delete(want.Bands, id)
			}
		}
		assert.Equal(t, simulated, apart)
		assert.Len(t, want.Bands, len(simulated), "no other band is missing")
	}
}

// untoleranced is a build of which everything is known exactly.
func untoleranced(b *model.Build) *model.Build {
	c := b.Changed(nil)
	for _, f := range model.Builds.Fields {
		for i := range f.Of(c) {
			if v, ok := f.At(c, i).(*quantity.Value); ok {
				v.Tolerance = 0
			}
		}
	}
	c.Crystal.Tolerance.Number = 0
	return c
}

// What nothing moves has its value everywhere, and no shares. Birthplace: catalogue.md.
func TestNothingMoves(t *testing.T) {
	for _, name := range exampleNames {
		r := solvedOf(untoleranced(exampleBanded(t, name).Build)).Banded()
		for _, row := range r.Results {
			v := row.Value
			assert.Equal(t, &Band{Low: v, High: v, WorstLow: v, WorstHigh: v}, row.Band, row.ID)
			assert.Empty(t, row.BandText())
		}
	}
}

// checkBand holds a band to what holds of any: in order, finite, its shares one whole,
// the largest first.
func checkBand(t require.TestingT, row Row) {
	b := row.Band
	for _, x := range []float64{b.Low, b.High, b.WorstLow, b.WorstHigh} {
		require.False(t, math.IsNaN(x) || math.IsInf(x, 0), row.ID)
	}
	require.LessOrEqual(t, b.Low, row.Value, row.ID)
	require.GreaterOrEqual(t, b.High, row.Value, row.ID)
	require.LessOrEqual(t, b.WorstLow, row.Value, row.ID)
	require.GreaterOrEqual(t, b.WorstHigh, row.Value, row.ID)
	if b.Low == b.High {
		return
	}
	require.True(t, b.Moved(), row.ID)
	hair := 1e-3*(b.High-b.Low) + 1e-9*math.Abs(row.Value)
	require.LessOrEqual(t, b.WorstLow, b.Low+hair, row.ID)
	require.GreaterOrEqual(t, b.WorstHigh, b.High-hair, row.ID)
	whole, last := 0.0, 1.0+1e-9
	for _, s := range b.Shares {
		require.LessOrEqual(t, s.Share, last, row.ID)
		whole, last = whole+s.Share, s.Share
	}
	require.InDelta(t, 1, whole, 1e-9, row.ID)
}

func TestAnyBands(t *testing.T) {
	for _, name := range exampleNames {
		for _, row := range exampleBanded(t, name).Results {
			checkBand(t, row)
		}
	}
	builds := rapid.Custom(func(t *rapid.T) *model.Build {
		_, b := modeltest.SoundOrSkip(t, modeltest.Draw(t))
		return b
	})
	for seed := range 8 { // far from any clock, and slow
		for _, row := range solvedOf(builds.Example(seed)).Banded().Results {
			checkBand(t, row)
		}
	}
}

// Kits that last for ever, take any current, or cannot be carried, spoil nothing.
func TestBandsOfKitsAtTheEdge(t *testing.T) {
	for _, changes := range [][]string{
		{"battery.shelf", "", "battery.self_discharge", "0 %/a", "load.controller_off", "1 µA ±100 %", "converter.quiescent", "1 µA ±100 %"},
		{"hand.hours.drive.fixed", "1 Ω ±100 %", "hand.hours.drive.trimmer", "0", "hand.hours.drive.pin_resistance", "1 Ω ±100 %"},
		{"battery.resistance", "9 Ω ±90 %"},
	} {
		r := banded(t, modeltest.With(t, modeltest.Text(t, "public-1.toml"), changes...))
		for _, row := range r.Results {
			checkBand(t, row)
		}
		for _, row := range r.Results {
			_, err := json.Marshal([]float64{row.Band.Low, row.Band.High, row.Band.WorstLow, row.Band.WorstHigh})
			require.NoError(t, err, "no number that JSON cannot hold")
		}
	}
}

// A part bought with twice its tolerance never makes a band narrower. Derived.
func TestBandGrowsWithATolerance(t *testing.T) {
	b := modeltest.Sound(t, modeltest.Text(t, "public-1.toml"))
	before := solvedOf(b).Banded()
	for _, in := range inputs(b) {
		wider, wide := b.Changed(nil), 0
		v := in.Field.At(wider, in.Index).(*quantity.Value)
		if in.offset {
			v.Number *= 2
		}
		v.Tolerance *= 2
		for j, row := range solvedOf(wider).Banded().Results {
			was := before.Results[j].Band
			if row.Band.Simulated || was.Simulated {
				continue
			}
			assert.GreaterOrEqual(t, row.Band.High-row.Band.Low, (was.High-was.Low)*(1-1e-9), "%s by %s", row.ID, in.Path(b))
			if row.Band.High-row.Band.Low > (was.High-was.Low)*(1+1e-9) {
				wide++
			}
		}
		assert.Positive(t, wide, in.Path(b))
	}
}

// The extremes are those of all corners, of results that go one way with each of
// their inputs. Independent: every corner of one hand's parts, evaluated in full.
func TestWorstIsOfAllCorners(t *testing.T) {
	b := modeltest.Sound(t, modeltest.With(t, modeltest.Text(t, "public-1.toml"),
		"lamp.seconds.resistor", "1 kΩ", "lamp.afternoon.resistor", "2.2 kΩ", "crystal.tolerance", "0", "crystal.stray", "4 pF", "crystal.motional", "3 fF",
		"crystal.capacitor_in", "15 pF", "crystal.capacitor_out", "15 pF", "converter.efficiency", "80 %", "load.controller_on", "2 mA"))
	r := solvedOf(b).Banded()
	k := newKit(b)
	require.Len(t, k.inputs, 8)
	least, most := make([]float64, len(r.Results)), make([]float64, len(r.Results))
	var p circuit.Plan
	for corner := range 1 << 8 {
		for i := range k.inputs {
			k.set(i, float64(2*(corner>>i&1)-1))
		}
		circuit.Evaluate(k.build, &p)
		for j, row := range r.Results {
			x := *row.At(&p, row.Index)
			if corner == 0 {
				least[j], most[j] = x, x
			}
			least[j], most[j] = min(least[j], x), max(most[j], x)
		}
	}
	for j, row := range r.Results {
		if row.Band.Simulated { // overload_worst: its value is no corner's
			continue
		}
		hair := 1e-9*math.Abs(row.Value) + 1e-12
		assert.InDelta(t, least[j], row.Band.WorstLow, hair, row.ID)
		assert.InDelta(t, most[j], row.Band.WorstHigh, hair, row.ID)
	}
}

// What is left out for a kit's sake changes nothing, to the last bit.
func TestAssemblyIsEvaluate(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	for _, name := range exampleNames {
		r := exampleBanded(t, name)
		for range 4 {
			a := assembly{kit: newKit(jittered(r.Build, random)), whole: new(circuit.Plan)}
			circuit.Evaluate(a.kit.build, a.whole)
			rows := Rows(a.whole)
			for n := range 20 {
				for i := range a.kit.inputs {
					a.kit.set(i, 2*random.Float64()-1)
				}
				a.only([][]Row{rows, rows[n : n+1], rows[n : n+5], rows[len(rows)-n-1:]}[n%4])
				var p circuit.Plan
				circuit.Evaluate(a.kit.build, &p)
				values := make([]float64, len(a.rows))
				a.solve(values)
				for j, row := range a.rows {
					want := circuit.Finite(*row.At(&p, row.Index))
					if row.Positive && math.IsNaN(want) {
						want = 0
					}
					if !math.IsNaN(want) || !math.IsNaN(values[j]) {
						require.Equal(t, want, values[j], row.ID)
					}
				}
			}
		}
	}
}

// The same build has the same bands, whoever asks and how many at once.
func TestSameBands(t *testing.T) {
	want := exampleBanded(t, "station-platform").Results
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() { assert.Equal(t, bandsOf(want), bandsOf(exampleBanded(t, "station-platform").Results)) })
	}
	all.Wait()
}

func bandsOf(rows []Row) []Band {
	bands := make([]Band, len(rows))
	for i, row := range rows {
		bands[i] = *row.Band
	}
	return bands
}

// The trimmer is held in some kits and not in others: full scale is reached, or not.
func TestHeldTrimmerIsSimulated(t *testing.T) {
	r := banded(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.fixed", "7.6 kΩ ±1 %"))
	for _, row := range r.Results {
		if row.ID == "hand.full_scale_reached" {
			assert.True(t, row.Band.Simulated)
			assert.Greater(t, row.Band.High, 1.001)
		}
	}
	// Every part within its tolerance trims up: nothing to simulate.
	for _, row := range exampleBanded(t, "reading-room").Results {
		if row.ID == "hand.full_scale_reached" {
			assert.Equal(t, Band{Low: 1, High: 1, WorstLow: 1, WorstHigh: 1}, *row.Band)
		}
	}
}

func BenchmarkBanded(b *testing.B) {
	for _, name := range exampleNames {
		b.Run(name, func(b *testing.B) {
			r := solvedOf(modeltest.Sound(b, modeltest.Example(name)))
			b.ReportAllocs()
			for b.Loop() {
				r.Banded()
			}
		})
	}
}

// A crystal that sees the load it is cut for is not off, whatever its motional and
// shunt capacitance: what rounding makes of that is no move. Derived: load_offset is a
// product with motional, and its bracket 0.
func TestRoundingIsNoMove(t *testing.T) {
	text := modeltest.With(t, modeltest.Example("station-platform"),
		"crystal.capacitor_in", "18 pF", "crystal.capacitor_out", "18 pF", "crystal.stray", "3.5 pF", "crystal.tolerance", "0 ppm",
		"crystal.motional", "3 fF ±20 %", "crystal.shunt", "1.2 pF ±20 %")
	r := banded(t, text)
	looked := 0
	for _, row := range r.Results {
		switch row.ID {
		case "crystal.load_offset", "crystal.rate", "crystal.month_drift":
			looked++
			assert.False(t, row.Band.Moved(), row.ID)
			assert.Empty(t, row.BandText(), row.ID)
			for _, s := range r.Sensitivities(row) {
				assert.NotContains(t, []string{"crystal.motional", "crystal.shunt"}, s.Field.Path, row.ID)
			}
		}
	}
	assert.Equal(t, 3, looked)
}

// A solved build, with its bands once they are asked for.
type solved struct {
	Build   *model.Build
	Plan    circuit.Plan
	Results []Row
}

func solvedOf(b *model.Build) *solved {
	s := &solved{Build: b}
	circuit.Evaluate(b, &s.Plan)
	s.Results = Rows(&s.Plan)
	return s
}

func (s *solved) Banded() *solved {
	banded := *s
	banded.Results = Spread(s.Build, &s.Plan)
	return &banded
}

func (s *solved) Sensitivities(row Row) []Sensitivity { return Sensitivities(s.Build, row) }

// soundPlan evaluates a text that has no problems.
func soundPlan(t testing.TB, text string) (*model.Build, *circuit.Plan) {
	t.Helper()
	b := modeltest.Sound(t, text)
	p := new(circuit.Plan)
	circuit.Evaluate(b, p)
	return b, p
}
