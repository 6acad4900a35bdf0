//go:build unix

package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A teacher's first run makes the starter file of a kit; a pupil's walk begins with it at the
// survey.
func TestFromATeacherToAPupil(t *testing.T) {
	path := filepath.Join(t.TempDir(), "starter.toml")
	x := start(t, setting{})
	x.waitFor("I teach")
	x.typed("i") // the next that begins so
	x.waitFor("makes the starter file")
	x.typed("\r")
	x.waitFor("The build that is open")
	x.typed("\x1b[B\r")
	x.waitFor("Save the starter file")
	x.typed(ctrlU)
	x.typed(path)
	x.typed("\r")
	x.waitFor("needlewright walk starter.toml")
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Contains(t, string(text), `coil = ""  # measure it`)
	x.typed("x")
	x.waitFor("Full scale")
	x.typed(ctrlQ)
	assert.Zero(t, x.exit().ExitCode())

	x = start(t, setting{}, "walk", path)
	x.waitFor("What is this meter?")
	x.waitFor("stands as is usual, marked ?")
	assert.True(t, x.alive())
}
