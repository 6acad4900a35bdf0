package spread

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/model/circuit"
	"example.com/needlewright/model/modeltest"
)

// TestRowsMoveNothing: what was seen of a meter, row by row, is no part of a kit, whatever its
// tolerance. Birthplace: the catalogue: no result depends on it.
func TestRowsMoveNothing(t *testing.T) {
	text := modeltest.Example("reading-room")
	without := modeltest.Sound(t, text)
	with := modeltest.Sound(t, modeltest.With(t, text, "hand.hours.survey.step.1.series", "1 MΩ ±5 %",
		"hand.hours.survey.step.1.source", "1.53 V ±1 %", "hand.hours.scale.1.code", "120", "hand.hours.scale.1.of", "240"))
	require.Equal(t, 1, model.Builds.Field("hand.survey.step.series").Of(with))
	assert.NotEmpty(t, inputs(without))
	assert.Equal(t, inputs(without), inputs(with))
	var p circuit.Plan
	circuit.Evaluate(with, &p)
	for _, row := range Rows(&p) {
		assert.Equal(t, Sensitivities(without, row), Sensitivities(with, row), row.ID)
	}
}
