//go:build unix

package main

import (
	"bytes"
	"os/exec"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// On a terminal a long run says how far it is; ctrl+c ends it, nothing half is
// printed, and the line it was said on is cleared.
func TestALongYieldIsInterrupted(t *testing.T) {
	x := start(t, setting{}, "yield", "--kits", "1000000", manyHands(t))
	x.waitFor("of 1000000 kits; ctrl+c ends it")
	x.typed("\x03")
	assert.Equal(t, 2, x.exit().ExitCode())
	assert.Regexp(t, `^(\^C)? *error: ended after \d+ of 1000000 kits: interrupt`, x.text())
	assert.Contains(t, x.text(), "hint: nothing was printed")
	assert.NotContains(t, x.text(), "trims up")
}

// Without a terminal it says nothing of that, and a signal ends it the same.
func TestAYieldIsInterruptedWithoutATerminal(t *testing.T) {
	path := manyHands(t)
	var out, complaint bytes.Buffer
	var c *exec.Cmd
	early := true                                                                    // the signal came before the program listened
	for pause := 1300 * time.Millisecond; early && pause < time.Minute; pause *= 2 { // 1300 ms: longer than it is silent
		out.Reset()
		complaint.Reset()
		c = exec.Command(program, "yield", "--kits", "1000000", path)
		c.Stdout, c.Stderr = &out, &complaint
		require.NoError(t, c.Start())
		time.Sleep(pause)
		require.NoError(t, c.Process.Signal(unix.SIGTERM))
		require.Error(t, c.Wait())
		early = c.ProcessState.Sys().(syscall.WaitStatus).Signaled()
	}
	assert.Equal(t, 2, c.ProcessState.ExitCode())
	assert.Empty(t, out.String())
	assert.Regexp(t, `^error: ended after \d+ of 1000000 kits: terminated`, complaint.String())
}
