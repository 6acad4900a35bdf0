//go:build unix

package main

import (
	"os"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// Keys at which the program that is built to fail does so.
const (
	f10 = "\x1b[21~"
	f11 = "\x1b[23~"
	f12 = "\x1b[24~"
)

// However the program ends without having been told to give work up, the next
// start offers it, and it can be taken up and saved. Whatever ends it but a kill
// leaves the terminal as it was.
func TestUnsavedWorkIsOfferedAgain(t *testing.T) {
	t.Parallel()
	signal := func(s os.Signal) func(*screen, string) {
		return func(x *screen, _ string) { require.NoError(x.t, x.command.Process.Signal(s)) }
	}
	for name, c := range map[string]struct {
		broken bool // in the program that is built to fail
		says   string
		end    func(x *screen, state string)
	}{
		"hung up":             {end: signal(unix.SIGHUP)},
		"terminated":          {end: signal(unix.SIGTERM)},
		"panic":               {true, "kept", func(x *screen, _ string) { x.typed(f12) }},
		"panic while painted": {true, "kept", func(x *screen, _ string) { x.typed(f10 + down) }},
		"terminated while it hangs": {true, "", func(x *screen, state string) {
			waitForCopy(x.t, state, `"712 Ω ±`)
			x.typed(f11)
			x.quiet()
			require.NoError(x.t, x.command.Process.Signal(unix.SIGTERM))
		}},
		"killed": {end: func(x *screen, state string) {
			waitForCopy(x.t, state, `"712 Ω ±`)
			require.NoError(x.t, x.command.Process.Kill())
		}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			state := t.TempDir()
			usual := setting{env: []string{"XDG_STATE_HOME=" + state}}
			file := build(t)
			before := content(t, file)
			if c.broken {
				usual.program = panickingProgram(t)
			}
			x := start(t, usual, file)
			x.visit("hand.meter.coil")
			x.typed(ctrlU + "712")
			x.waitForResult(coilAtFullScale, "356.0 mV") // derived: 500 µA through 712 Ω
			c.end(x, state)
			x.exit()
			assert.Equal(t, before, content(t, file), "the file itself is untouched")
			assert.Contains(t, x.text(), c.says)
			if name != "killed" {
				assert.Equal(t, x.before, x.after, "the terminal's settings")
				assertModesAsBefore(t, x.raw())
			}

			usual.program = ""
			x = start(t, usual, file)
			x.waitFor("Unsaved work was found")
			x.typed("\r")
			x.waitForResult(coilAtFullScale, "356.0 mV")
			x.typed(ctrlS)
			x.waitFor("Saved")
			assert.Contains(t, content(t, file), `coil = "712`)
			x.typed(ctrlQ)
			x.exit()

			x = start(t, usual, file)
			x.waitForResult(coilAtFullScale, "356.0 mV")
			assert.NotContains(t, x.text(), "Unsaved work")
		})
	}
}

// panickingProgram is the program built to fail at some keys.
func panickingProgram(t *testing.T) string {
	t.Helper()
	path, err := builtOtherwise()
	require.NoError(t, err)
	return path
}

// Work that was given up is not offered.
func TestGivenUpWorkIsNotOffered(t *testing.T) {
	t.Parallel()
	usual := setting{env: []string{"XDG_STATE_HOME=" + t.TempDir()}}
	file := build(t)
	x := start(t, usual, file)
	x.visit("hand.meter.coil")
	x.typed(ctrlU + "712")
	x.waitForResult(coilAtFullScale, "356.0 mV") // derived: 500 µA through 712 Ω
	x.typed(ctrlQ)
	x.waitFor("not saved")
	x.typed(ctrlQ)
	x.exit()
	x = start(t, usual, file)
	x.waitFor("quit")
	assert.NotContains(t, x.quiet(), "Unsaved work")
}
