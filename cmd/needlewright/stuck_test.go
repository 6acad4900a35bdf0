//go:build unix

package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

// stuckWithWork is the dashboard on a terminal that reads no more, with unsaved
// work: a coil of 712 Ω.
func stuckWithWork(t *testing.T, usual setting, file string) *screen {
	t.Helper()
	x := start(t, usual, file)
	x.visit("hand.meter.coil")
	x.typed(ctrlU + "712")
	x.waitForResult(coilAtFullScale, "356.0 mV") // derived: 500 µA through 712 Ω
	x.stick()
	return x
}

// waitForCopy waits until a recovery copy in the folder of states holds a text.
func waitForCopy(t testing.TB, folder, text string) {
	t.Helper()
	found := false
	for end := time.Now().Add(patienceOfTests); !found; time.Sleep(10 * time.Millisecond) {
		require.True(t, time.Now().Before(end), "no recovery copy holds %s", text)
		copies, err := filepath.Glob(filepath.Join(folder, "needlewright", "*.recovery.toml")) // whole ones
		require.NoError(t, err)
		for _, path := range copies {
			b, _ := os.ReadFile(path) // one that is replaced meanwhile is read the next time
			found = found || strings.Contains(string(b), text)
		}
	}
}

// Neither keys nor recovery copies wait for a terminal that reads nothing, and it
// shows the newest frame when it reads again.
func TestAStuckTerminalHoldsNothingUp(t *testing.T) {
	t.Parallel()
	state := t.TempDir()
	x := stuckWithWork(t, setting{env: []string{"XDG_STATE_HOME=" + state}}, build(t))
	x.typed(ctrlU + "1k2")
	waitForCopy(t, state, `"1k2 ±1 %"`)
	x.unstick()
	x.waitForResult(coilAtFullScale, "600.0 mV") // derived: 500 µA through 1200 Ω
	shown := x.quiet()
	x.resize(60, 20) // and back: all is painted anew
	x.quiet()
	x.resize(100, 30)
	x.waitUntil("the same, painted anew", func(text string) bool { return text == shown })
}

// A signal ends the program whether its terminal reads or not: work is kept, the
// terminal's settings are as before, and so are its modes once it reads again.
func TestAStuckTerminalDoesNotHoldUpTheEnd(t *testing.T) {
	for name, signal := range map[string]unix.Signal{"terminated": unix.SIGTERM, "hung up": unix.SIGHUP} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			usual := setting{env: []string{"XDG_STATE_HOME=" + t.TempDir()}}
			file := build(t)
			x := stuckWithWork(t, usual, file)
			begun := time.Now()
			require.NoError(t, x.command.Process.Signal(signal))
			select {
			case <-x.gone:
			case <-time.After(patienceOfTests):
				t.Fatal("the program waits for the terminal")
			}
			t.Logf("ended after %v", time.Since(begun).Round(time.Millisecond))
			assert.Equal(t, 0, x.command.ProcessState.ExitCode())
			assert.Equal(t, x.before, x.after, "the terminal's settings")
			x.unstick()
			x.exit()
			if runtime.GOOS == "linux" { // elsewhere what was written before stays in the way
				assertModesAsBefore(t, x.raw())
				assert.False(t, x.alternate())
			}

			x = start(t, usual, file)
			x.waitFor("Unsaved work was found")
		})
	}
}

// Nor does what there is to say about a panic.
func TestAStuckTerminalDoesNotCostTheWorkOfAPanic(t *testing.T) {
	state := t.TempDir()
	usual := setting{env: []string{"XDG_STATE_HOME=" + state}, program: panickingProgram(t)}
	x := stuckWithWork(t, usual, build(t))
	waitForCopy(t, state, `"712`)
	x.typed(ctrlU + "713" + f12) // sooner than the next copy is due
	waitForCopy(t, state, `"713 Ω ±1 %"`)
	x.unstick()
	x.exit()
	assert.Contains(t, x.text(), "kept")
	assert.Equal(t, x.before, x.after, "the terminal's settings")
}

// Told to end, the program does not wait for what it reads, before the first frame
// or later.
func TestWhatIsReadDoesNotHoldUpTheEnd(t *testing.T) {
	ends := make(chan os.Signal, 1)
	ends <- unix.SIGTERM
	err := unlessEnded(ends, func() error { select {} })
	require.ErrorContains(t, err, "ended before the build was read: terminated")
	require.NoError(t, unlessEnded(ends, func() error { return nil }))

	pipe := filepath.Join(t.TempDir(), "pipe.toml")
	require.NoError(t, unix.Mkfifo(pipe, 0o600))
	for _, path := range []string{pipe, "/dev/zero", "/dev/tty"} {
		x := start(t, setting{}, build(t))
		x.waitFor("quit")
		x.typed("\x0f") // ctrl+o
		x.waitFor("or a path")
		x.typed(path + "\r")
		x.quiet()
		require.NoError(t, x.command.Process.Signal(unix.SIGTERM))
		assert.Equal(t, 0, x.exit().ExitCode(), path)
		assert.Equal(t, x.before, x.after, "the terminal's settings")
	}
}

// A terminal without a size, as some serial lines have, gets no frame; the first
// comes with the first size. Typed unseen, nothing is done.
func TestATerminalWithoutASize(t *testing.T) {
	t.Parallel()
	for _, s := range [][2]int{{0, 0}, {0, 24}, {80, 0}, {1, 1}, {2, 1}, {1, 2}} {
		x := start(t, setting{width: s[0], height: s[1], exact: true}, build(t))
		x.waitUntil("it has begun", func(string) bool { return strings.Contains(x.raw(), "\x1b[?1006h") })
		x.typed("123" + tab + f1 + ctrlS)
		time.Sleep(time.Second / 2) // nothing shows when they were read, which takes longer on a busy machine
		x.quiet()
		if s[0] <= 1 && s[1] <= 1 { // the last cell of the last row stays blank
			assert.True(t, strings.HasSuffix(x.raw(), "\x1b[?1006h"), "%v: %q", s, x.raw())
		}
		x.resize(100, 30)
		x.waitFor("Reading-room clock")
		x.waitForResult(coilAtFullScale, "320.0 mV") // derived: 500 µA through 640 Ω
		assert.NotContains(t, x.text(), "unsaved", "%v", s)
		x.resize(s[0], s[1])
		x.quiet()
		assert.True(t, x.alive(), "%v", s)
		x.resize(120, 40)
		x.waitFor(coilAtFullScale)
		x.typed(ctrlQ)
		assert.Equal(t, 0, x.exit().ExitCode())
	}
}
