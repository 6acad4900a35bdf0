package bench

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/modeltest"
)

// A trimmer set near four fifths may be turned either way: its tolerance decides, and both
// are as sound. From public-2: 430 Ω of 500 Ω ±10 %, so the fifth more is past the end
// below 537.5 Ω of it, and within above.
func TestTrimmerTurnedEitherWay(t *testing.T) {
	b := modeltest.Sound(t, modeltest.Text(t, "public-2.toml"))
	x := New(b)
	j := x.spotBy("hours.turn_effect")
	require.GreaterOrEqual(t, j, 0)
	turn := x.sound.turnAt(j)
	require.NotNil(t, turn)
	assert.Positive(t, x.sound.mean[j], "less resistance, as planned")
	assert.Negative(t, turn.mean)
	assert.Greater(t, turn.chance, 0.05)
	for _, given := range []string{"6 %", "-5 %"} {
		r := x.Judge([]model.Reading{{At: "hours.turn_effect", Value: given}})
		assert.Equal(t, Inside, r.Readings[0].Verdict, given)
	}
	told, _ := x.sound.told(j, turn.mean)
	assert.InDelta(t, x.sound.mean[j], told, 1e-12)
}
