package judge

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
	"example.com/needlewright/model/quantity"
)

// withoutTolerance are the values of a build that have a tolerance, up to the one that is usual of such
// a part, and the build without each.
func withoutTolerance(b *model.Build, visit func(f *model.Field, i int, less *model.Build)) {
	usual := map[string]float64{
		"rail.voltage": 0.01, "hand.meter.coil": 0.02, "hand.meter.full_scale": 0.02, "hand.meter.internal": 0.01,
		"hand.meter.terminal_resistance": 0.02, "hand.meter.terminal_full_scale": 0.02, "hand.drive.switch_resistance": 0.3,
		"hand.drive.pin_resistance": 0.3, "hand.drive.stage": 0.01, "hand.drive.fixed": 0.01, "hand.drive.trimmer": 0.1,
	}
	for _, f := range model.Builds.Fields {
		for i := range f.Of(b) {
			v, ok := f.At(b, i).(*quantity.Value)
			share, known := usual[f.Path]
			if !ok || v.Tolerance == 0 || known && v.Half() > share*v.Number*(1+1e-12) {
				continue
			}
			visit(f, i, b.Changed([]model.Change{{Field: f, Index: i, Text: quantity.Format(quantity.Value{Number: v.Number}, f.Unit)}}))
		}
	}
}

// assertNotSafer is the law that knowing less never looks safer: with a tolerance left out no row of the table finds
// less, and no overload is smaller.
func assertNotSafer(t require.TestingT, b *model.Build) (judged int) {
	before := verdictOf(b)
	withoutTolerance(b, func(f *model.Field, i int, less *model.Build) {
		after := verdictOf(less)
		for k := range rules {
			if rules[k].id == "terminals_apart" { // two readings of which less is known agree more easily
				continue
			}
			for n := range rules[k].count(b) {
				known, x := rules[k].grade(subject{b, &before.Plan, n})
				unknown, y := rules[k].grade(subject{less, &after.Plan, n})
				assert.GreaterOrEqual(t, unknown, known, "%s of %s: without the tolerance of %s", rules[k].id, b.Title, f.PathOf(b, i))
				if rules[k].id == "overload_worst" {
					assert.GreaterOrEqual(t, y, x*(1-1e-12), "without the tolerance of %s", f.PathOf(b, i))
				}
				judged++
			}
		}
	})
	return judged
}

// TestKnowingLessIsNotSafer: a law, over the tables of fields and of rules. The usual tolerances: common practice, no
// source.
func TestKnowingLessIsNotSafer(t *testing.T) {
	for _, name := range []string{"reading-room", "station-platform", "harbour-office", "school-store"} {
		assert.Positive(t, assertNotSafer(t, modeltest.Sound(t, modeltest.Example(name))), name)
	}
	for _, text := range casesTexts(t) {
		assertNotSafer(t, modeltest.Sound(t, text))
	}
	rapid.Check(t, func(t *rapid.T) {
		_, b := modeltest.SoundOrSkip(t, modeltest.Draw(t))
		assertNotSafer(t, b)
	})
}

// Without any tolerance the worst overload is that with the usual ones, and says so. Derived by hand: 5.05 V over
// 0.98·920 + 0.7·50 + 0.99·(1500 + 13 000) Ω = 15 291.6 Ω and over 0.98·250 µA is 1.348, as with them (public-1.json).
func TestOverloadWithoutTolerances(t *testing.T) {
	text := strings.NewReplacer(" ±1 %", "", " ±2 %", "", " ±30 %", "").Replace(caseText(t))
	f, s := judgedText(t, text).find(t, "overload_worst", "hours")
	assert.InDelta(t, 1.347945597449527, s.overloadWorst(), 1e-9)
	assert.Equal(t, "Pin stuck high, trimmer at zero: 1.35 times full scale, with usual tolerances where none are given.", f.Text)
}
