//go:build unix

package main

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
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
	t.Parallel()
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
	for name, end := range map[string]unix.Signal{"terminated": unix.SIGTERM, "hangup": unix.SIGHUP, "interrupt": unix.SIGINT} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
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
				require.NoError(t, c.Process.Signal(end))
				require.Error(t, c.Wait())
				early = c.ProcessState.Sys().(syscall.WaitStatus).Signaled()
			}
			assert.Equal(t, 2, c.ProcessState.ExitCode())
			assert.Empty(t, out.String())
			assert.Regexp(t, `^error: ended after \d+ of 1000000 kits: `+name, complaint.String())
		})
	}
}

// The built program ends as usual where nobody reads on, however much there is to print.
func TestAReaderThatHasEnoughIsNoFault(t *testing.T) {
	for _, args := range [][]string{{"check", "--json"}, {"sheet"}, {"dial", "--as", "png", "-o", "-"}} {
		read, write, err := os.Pipe()
		require.NoError(t, err)
		require.NoError(t, read.Close())
		var complaint bytes.Buffer
		c := exec.Command(program, append(args, build(t))...)
		c.Stdout, c.Stderr = write, &complaint
		require.NoError(t, c.Run(), "%v", args)
		require.NoError(t, write.Close())
		assert.NotContains(t, complaint.String(), "error", "%v", args)
	}
}

// Started so that a hung-up terminal shall not end it, as nohup does, it goes on.
func TestAYieldOutlivesItsTerminalWhereAsked(t *testing.T) {
	c := exec.Command("sh", "-c", `trap "" HUP; exec "$0" "$@"`, program, "yield", "--kits", "100000", manyHands(t))
	var out bytes.Buffer
	c.Stdout = &out
	require.NoError(t, c.Start())
	time.Sleep(300 * time.Millisecond)
	require.NoError(t, c.Process.Signal(unix.SIGHUP))
	require.NoError(t, c.Wait())
	assert.Contains(t, out.String(), "trims up")
}

// A check is ended by a signal at once, like any tool, and prints nothing half.
func TestACheckIsEndedByASignal(t *testing.T) {
	text := content(t, manyHands(t))
	for i := range 30 {
		text += fmt.Sprintf("\n[[lamp]]\nname = \"l%d\"\nforward = \"2 V ±5 %%\"\nresistor = \"1k ±5 %%\"\npin_resistance = \"60 Ω ±5 %%\"\nlit = \"50 %%\"\n", i)
	}
	path := filepath.Join(t.TempDir(), "many.toml")
	require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	for _, end := range []syscall.Signal{unix.SIGTERM, unix.SIGHUP, unix.SIGINT} {
		var out bytes.Buffer
		c := exec.Command(program, "check", path)
		c.Stdout = &out
		require.NoError(t, c.Start())
		time.Sleep(10 * time.Millisecond) // of the 100 and more that it takes
		require.NoError(t, c.Process.Signal(end))
		require.Error(t, c.Wait())
		assert.Equal(t, end, c.ProcessState.Sys().(syscall.WaitStatus).Signal())
		assert.Empty(t, out.String())
	}
}
