package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

func built(t *testing.T, text string) *Bench {
	t.Helper()
	b, problems := model.Read(text)
	require.Empty(t, problems)
	return New(b)
}

// Every row of the test points' table has a name for people, and every input a field.
func TestEveryPointHasALabel(t *testing.T) {
	ids := map[string]bool{}
	for i := range points {
		p := &points[i]
		ids[p.id] = true
		assert.NotEmpty(t, p.label, p.id)
		if p.caution != "" {
			assert.NotNil(t, model.Builds.Field(p.caution), p.caution)
		}
	}
	for _, in := range inputs {
		assert.True(t, ids[in.point], in.point)
		assert.NotNil(t, model.Builds.Field(in.field), in.field)
	}
}

func TestPlainly(t *testing.T) {
	for given, want := range map[string]string{
		"It tells nothing from series_open.":               "It tells a sound clock from series open.",
		"It tells coil_open from other.":                   "It tells coil open from none of these.",
		"It tells pin_stuck_high + cells_weak from other.": "It tells pin stuck high + cells weak from none of these.",
		"Taken before the last repair.":                    "Taken before the last repair.",
	} {
		assert.Equal(t, want, Plainly(given))
	}
}

// Never quite none, never quite sure.
func TestPercent(t *testing.T) {
	for p, want := range map[float64]string{0: "<1 %", 0.004: "<1 %", 0.5: "50 %", 0.985: "98 %", 1: ">99 %"} {
		assert.Equal(t, want, Percent(p))
	}
	assert.Equal(t, "very likely", ChanceOf(SureEnough))
	assert.Equal(t, "hardly", ChanceOf(0))
}

// A trimmer that may end at nothing or between: each way is worked out by itself.
// 8.6 kΩ of the 8.685 kΩ that are needed leave it 85 Ω, give or take the parts' hundred.
func TestEachRegimeHasItsWay(t *testing.T) {
	x := built(t, modeltest.With(t, modeltest.Example("reading-room"), "hand.hours.drive.fixed", "8.6 kΩ ±1 %"))
	regimes := map[regime]bool{}
	for _, a := range x.all {
		seen := map[*way]bool{}
		for _, w := range a.ways {
			assert.False(t, seen[w], "twice")
			seen[w] = true
			regimes[w.setup.regime] = true
		}
	}
	assert.True(t, regimes[atLeast] && regimes[within])
}

// What no number is known of is weighed as telling nothing, and ends.
func TestInvertWhatIsNotKnown(t *testing.T) {
	unknown := mat.NewSymDense(2, nil)
	unknown.SetSym(0, 0, 1)
	unknown.SetSym(1, 1, orNaN())
	inverse, logDet := invert(unknown)
	assert.Less(t, inverse.At(0, 0), 1e-20)
	assert.Greater(t, logDet, 100.0)
}

func orNaN() float64 { zero := 0.0; return zero / zero }
