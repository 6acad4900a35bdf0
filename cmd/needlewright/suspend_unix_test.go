//go:build unix

package main

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"
)

const (
	altZ     = "\x1bz"
	mouseOn  = "\x1b[?1002h"
	mouseOff = "\x1b[?1002l"
)

// shell runs the program as a shell with job control does: once it has stopped
// the shell says so and waits for enter to call it back.
const shell = `set -m
sh -c 'echo pid $$; exec "$0" "$@"' "$0" "$@"
while [ $? -gt 128 ]
do
	echo it has stopped
	read enter
	fg
done
echo it has ended`

// underShell starts the program so, and gives its process.
func underShell(t *testing.T, args ...string) (x *screen, pid int) {
	t.Helper()
	x = start(t, setting{program: "/bin/sh"}, append([]string{"-c", shell, program}, args...)...)
	x.waitFor("Reading-room clock")
	m := regexp.MustCompile(`pid (\d+)`).FindStringSubmatch(x.raw())
	require.NotNil(t, m)
	pid, err := strconv.Atoi(m[1])
	require.NoError(t, err)
	x.quiet()
	return x, pid
}

// assertHandsOver stops the program, looks at the terminal meanwhile, and has it
// called back, in a window of another size.
func assertHandsOver(t *testing.T, x *screen, stop func()) {
	t.Helper()
	stops := strings.Count(x.raw(), "it has stopped")
	stop()
	x.waitUntil("it has stopped", func(string) bool { return strings.Count(x.raw(), "it has stopped") > stops })
	assert.False(t, x.alternate())
	assert.Equal(t, x.before, termios(t, x.keys), "the terminal's settings")
	assertModesAsBefore(t, x.raw())
	x.resize(120, 40)
	x.typed("\n")
	x.waitFor("Reading-room clock")
	x.waitUntil("the new size is used", func(string) bool { return strings.Contains(x.raw(), "\x1b[40;1H") })
	x.quiet()
	assert.True(t, x.alternate())
	assert.NotEqual(t, x.before, termios(t, x.keys), "it reads single keys again")
}

// Whoever stops it, the program hands the terminal over as it was, and takes it
// back whole, with the mouse where it had the mouse.
func TestSuspending(t *testing.T) {
	t.Parallel()
	signal := func(pid int, s unix.Signal) { require.NoError(t, unix.Kill(pid, s)) }
	for name, stop := range map[string]func(x *screen, pid int){
		"alt+z":                      func(x *screen, _ int) { x.typed(altZ) },
		"stopped by another program": func(_ *screen, pid int) { signal(pid, unix.SIGTSTP) },
	} {
		t.Run(name, func(t *testing.T) {
			x, pid := underShell(t, build(t))
			for range 2 {
				assertHandsOver(t, x, func() { stop(x, pid) })
				x.waitUntil("the mouse is on", func(string) bool { return mouseIsOn(x) })
				at := strings.Index(strings.SplitN(x.text(), "\n", 2)[0], "Filter")
				x.typed("\x1b[<0;" + strconv.Itoa(at+2) + ";1M") // a click on it, as an xterm sends it
				x.waitFor("Capacitor")
				x.typed("\x1b[Z") // shift+tab: the form before
				x.waitFor("Full scale")
				x.resize(100, 30)
				x.quiet()
			}
			x.typed(ctrlQ)
			x.waitFor("it has ended")
			assert.Equal(t, 0, x.exit().ExitCode())
			assertModesAsBefore(t, x.raw())
		})
	}
	t.Run("without a mouse", func(t *testing.T) {
		x, _ := underShell(t, "--no-mouse", build(t))
		assertHandsOver(t, x, func() { x.typed(altZ) })
		assert.False(t, mouseIsOn(x))
	})
	t.Run("with the mouse switched off", func(t *testing.T) {
		x, _ := underShell(t, build(t))
		x.typed("\x1bOQ") // F2: the menu
		x.waitFor("Type a few letters")
		x.typed("Mouse off\r")
		x.waitUntil("the mouse is off", func(string) bool { return !mouseIsOn(x) })
		assertHandsOver(t, x, func() { x.typed(altZ) })
		assert.False(t, mouseIsOn(x))
	})
	t.Run("without anyone to call it back", func(t *testing.T) {
		x := start(t, setting{}, build(t))
		x.waitFor("quit")
		x.typed(altZ)
		x.waitFor("nothing to suspend to")
		signal(x.command.Process.Pid, unix.SIGTSTP)
		x.waitUntil("the terminal is handed over", func(string) bool { return !x.alternate() })
		for end := time.Now().Add(patienceOfTests); !mouseIsOn(x); time.Sleep(50 * time.Millisecond) {
			require.True(t, time.Now().Before(end), "it does not go on")
			signal(x.command.Process.Pid, unix.SIGCONT)
		}
		x.waitFor("Reading-room clock")
	})
	t.Run("stopped unasked", func(t *testing.T) { // SIGSTOP cannot be answered; the shell restores what it can
		x, pid := underShell(t, build(t))
		signal(pid, unix.SIGSTOP)
		x.waitUntil("the shell has it", func(string) bool { return strings.Contains(x.raw(), "it has stopped") })
		x.typed("\n\r")
		x.waitUntil("it draws anew", func(string) bool { return strings.Count(x.raw(), "\x1b[?1049h") == 2 })
		x.waitFor("Reading-room clock")
		x.waitUntil("the mouse is on", func(string) bool { return mouseIsOn(x) })
	})
}

// mouseIsOn says whether the terminal was told last to send what the mouse does.
func mouseIsOn(x *screen) bool {
	raw := x.raw()
	return strings.LastIndex(raw, mouseOn) > strings.LastIndex(raw, mouseOff)
}
