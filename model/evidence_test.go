package model

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A law: every field is a choice or evidence, and not both.
func TestEvidenceOrChoice(t *testing.T) {
	for _, f := range Builds.Fields {
		assert.NotEqual(t, slices.Contains(evidence, f.Path), slices.Contains(choices, f.Path), f.Path)
	}
	// common practice, no source: what was measured is no choice
	assert.True(t, Builds.Field("crystal.measured").Evidence)
	assert.False(t, Builds.Field("crystal.tick_counted").Evidence)
}
