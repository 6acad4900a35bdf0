//go:build unix

package main

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// The survey on a terminal: it begins with a key, what was answered stays when it is left, and
// is there again at the next start; one that stops takes nothing over.
func TestSurveyOnATerminal(t *testing.T) {
	usual := setting{env: []string{"XDG_STATE_HOME=" + t.TempDir()}}
	x := start(t, usual, build(t))
	x.waitFor("[640 Ω")
	x.typed("\x1bs") // alt+s
	x.waitFor("Where does the meter come from?")
	x.typed("vehicle\r")
	x.waitFor("Is it out of its set")
	x.typed("\x1b[21~") // F10 leaves it too
	x.waitUntil("the form is back", func(text string) bool { return shows(text, "Coil", "[640 Ω") })
	x.typed("\x1b[21~")
	x.waitFor("Is it out of its set")
	x.typed("no\r")
	x.waitFor("Stop.")
	x.quiet()
	assert.NotContains(t, x.text(), "Take over")
	x.typed("\x1b[Z") // shift+tab takes the answer back
	x.waitFor("Is it out of its set")
	x.typed("yes\r")
	x.waitFor("painted so that they glow")
	x.typed(ctrlQ)
	x.exit()
	assert.False(t, strings.Contains(x.text(), "not saved"))

	x = start(t, usual, build(t))
	x.waitFor("[640 Ω")
	x.typed("\x1bs")
	x.waitFor("painted so that they glow")
	x.typed(ctrlQ)
	x.exit()
}
