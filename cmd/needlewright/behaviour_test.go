//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/sys/unix"

	"example.com/needlewright/cmd/needlewright/terminal"
)

// Each size is come to from smaller and from larger ones, and must look the same
// each time: a cell left over from another size would differ.
func TestResizeLeavesNothingBehind(t *testing.T) {
	t.Parallel()
	x := start(t, setting{width: 120, height: 40}, build(t))
	x.waitFor("quit")
	seen := map[[2]int]string{{120, 40}: x.quiet()}
	for _, s := range [][2]int{{60, 20}, {200, 60}, {60, 20}, {59, 19}, {120, 40}, {200, 60}, {59, 19}, {120, 40}} {
		before := len(x.raw())
		x.resize(s[0], s[1])
		x.waitUntil("it draws anew", func(string) bool { return len(x.raw()) > before })
		now := x.quiet()
		if was, ok := seen[s]; ok {
			assert.Equal(t, was, now, "at %d x %d", s[0], s[1])
		}
		seen[s] = now
		for y, line := range strings.Split(now, "\n") {
			assert.LessOrEqual(t, len([]rune(line)), s[0], "row %d at %d x %d", y, s[0], s[1])
		}
		assert.True(t, x.alive(), "at %d x %d", s[0], s[1])
	}
	words := strings.Join(strings.Fields(seen[[2]int{59, 19}]), " ") // however it is broken into lines
	assert.Contains(t, words, "60 x 20", "it says what it needs")
	assert.Contains(t, words, "59 x 19", "and what there is")
	assert.Contains(t, seen[[2]int{60, 20}], "Coil")
	assert.Contains(t, seen[[2]int{200, 60}], coilAtFullScale)
}

// However it is ended, the terminal is as it was. A signal is a way to ask for
// the end like a key, and the program obeys: the status says that nothing failed
// (derived from the meaning of 0, 1 and 2; no source).
func TestTheEndRestoresTheTerminal(t *testing.T) {
	key := func(s string) func(x *screen) { return func(x *screen) { x.typed(s) } }
	signal := func(s os.Signal) func(x *screen) {
		return func(x *screen) { require.NoError(x.t, x.command.Process.Signal(s)) }
	}
	for name, end := range map[string]func(x *screen){
		"ctrl+q":     key(ctrlQ),
		"ctrl+c":     key("\x03"),
		"terminated": signal(unix.SIGTERM),
		"hung up":    signal(unix.SIGHUP),
		"interrupt":  signal(unix.SIGINT),
	} {
		t.Run(name, func(t *testing.T) {
			x := start(t, setting{}, build(t))
			x.waitFor("quit")
			require.True(t, x.alternate())
			end(x)
			assert.Equal(t, 0, x.exit().ExitCode())
			assert.Equal(t, x.before, x.after, "the terminal's settings")
			assert.False(t, x.alternate())
			assertModesAsBefore(t, x.raw())
			assert.NotContains(t, x.text(), "quit", "nothing of the dashboard stays on the screen")
		})
	}
}

// assertModesAsBefore holds all private modes but the cursor to be off at last,
// and the cursor to be on.
func assertModesAsBefore(t *testing.T, raw string) {
	t.Helper()
	const cursor = "25"
	last := map[string]string{}
	for _, m := range regexp.MustCompile(`\x1b\[\?([0-9]+)([hl])`).FindAllStringSubmatch(raw, -1) {
		last[m[1]] = m[2]
	}
	require.Contains(t, last, cursor)
	require.Contains(t, last, "1049")
	for mode, state := range last {
		assert.Equal(t, mode == cursor, state == "h", "mode %s ends with %s", mode, state)
	}
}

func TestSplitInputIsNotTyped(t *testing.T) {
	t.Parallel()
	t.Run("a key in two halves", func(t *testing.T) {
		x := startAndSplit(t, "hand.meter.coil", escape, "[B")
		x.waitFor(helpOf(t, "hand.meter.full_scale"))
		assert.NotContains(t, x.quiet(), "[B")
		assert.NotContains(t, x.text(), "unsaved")
	})
	t.Run("a letter in two halves", func(t *testing.T) {
		x := startAndSplit(t, "title", ctrlU+"M\xc3", "\xbcnze")
		x.waitFor("Münze")
	})
	t.Run("escape alone is a key", func(t *testing.T) {
		x := start(t, setting{}, build(t))
		x.visit("hand.meter.coil")
		x.typed(ctrlU + "4k7")
		x.waitFor("unsaved")
		x.typed(escape)
		x.waitUntil("as it was", func(text string) bool { return !strings.Contains(text, "unsaved") })
		x.waitFor("640 Ω ±1 %")
	})
}

// startAndSplit types two halves into a field, with a pause between them that is
// shorter than the program's patience. A machine that made it longer says nothing
// about the program: it is done again.
func startAndSplit(t *testing.T, field, half, rest string) *screen {
	t.Helper()
	for range 50 {
		x := start(t, setting{}, build(t))
		x.visit(field)
		begun := time.Now()
		x.typed(half)
		time.Sleep(5 * time.Millisecond)
		x.typed(rest)
		if time.Since(begun) < terminal.Patience {
			return x
		}
		_ = x.command.Process.Kill()
	}
	t.Skip("the machine is too busy for a pause this short")
	return nil
}

// An idle program writes nothing and hardly wakes: Bubble Tea's clock ticks once a
// second, and one that drew 60 times a second would wake that often. It comes to
// that rest when what starting left to do is done.
func TestIdleDoesNothing(t *testing.T) {
	x := start(t, setting{}, build(t))
	x.waitFor("quit")
	const second, most = time.Second, 20
	wakes, written := 0, 0
	for end := time.Now().Add(patienceOfTests); time.Now().Before(end); {
		wakes, written = wakings(t, x.command.Process.Pid), x.length()
		time.Sleep(second)
		wakes, written = wakings(t, x.command.Process.Pid)-wakes, x.length()-written
		if written == 0 && wakes <= most {
			return
		}
	}
	t.Fatalf("it never rests: in the last second it woke %d times and wrote %d bytes", wakes, written)
}

// wakings is how often a process has gone to sleep of itself so far; 0 where the
// system does not say, and under the race detector, which has work of its own.
func wakings(t *testing.T, pid int) int {
	t.Helper()
	if runtime.GOOS != "linux" || underRace() {
		return 0
	}
	tasks, err := filepath.Glob(fmt.Sprintf("/proc/%d/task/*/status", pid))
	require.NoError(t, err)
	require.NotEmpty(t, tasks)
	all := 0
	for _, task := range tasks {
		status, _ := os.ReadFile(task) // a thread may have ended
		if m := regexp.MustCompile(`(?m)^voluntary_ctxt_switches:\s+(\d+)`).FindSubmatch(status); m != nil {
			n, err := strconv.Atoi(string(m[1]))
			require.NoError(t, err)
			all += n
		}
	}
	return all
}

// length is how many bytes the program has written.
func (x *screen) length() int {
	x.lock.Lock()
	defer x.lock.Unlock()
	return len(x.written)
}

// panes are those of the dashboard: so many tabs go round.
const panes = 7

// browse opens everything there is to see.
func browse(x *screen) {
	x.t.Helper()
	x.waitFor("Reading-room clock")
	for range panes {
		x.typed(tab)
		x.quiet()
	}
	x.typed(f1)
	x.waitFor("Any key closes")
	x.typed(f1)
	x.waitFor("Trimmer travel")
	x.visit("hand.meter.coil")
	x.typed(ctrlU + "abc")
	x.waitFor("not a number")
	x.typed(ctrlS + ctrlQ)
	x.quiet()
}

func TestTheConsoleGetsPlainASCII(t *testing.T) {
	t.Parallel()
	for name, s := range map[string]setting{
		"TERM=linux": {width: 120, height: 40, env: []string{"TERM=linux"}},
		"80 x 24":    {width: 80, height: 24, env: []string{"TERM=linux"}},
	} {
		t.Run(name, func(t *testing.T) {
			x := start(t, s, build(t))
			browse(x)
			for i, b := range []byte(x.raw()) {
				if b >= 0x80 {
					t.Fatalf("a byte beyond ASCII: …%q…", x.raw()[max(0, i-30):min(i+30, len(x.raw()))])
				}
			}
		})
	}
}

// colour is an SGR sequence with a colour in it: ECMA-48 8.3.117 and the 38;2;…
// and 90 to 107 that terminals add.
var colour = regexp.MustCompile(`\x1b\[(?:[0-9:;]*;)?(?:[349][0-7]|10[0-7]|[34]8[;:][0-9:;]+)(?:;[0-9:;]*)?m`)

// Without colours a sign shows which field, and which line of a list, has the keys.
func TestFocusWithoutColours(t *testing.T) {
	t.Parallel()
	for _, env := range [][]string{{"NO_COLOR=1"}, {"TERM=dumb", "COLORTERM="}, {"TERM=vt100", "COLORTERM="}} {
		x := start(t, setting{width: 80, height: 24, env: env}, build(t))
		marked := func(line string) {
			t.Helper()
			x.waitFor("▸" + line)
			assert.Equal(t, 1, strings.Count(x.quiet(), "▸"), env)
		}
		marked(" Coil              [640 Ω ±1 %]")
		x.typed(down)
		marked(" Full scale        [500 µA ±1 %]")
		x.typed(f2)
		marked("New build")
		x.typed(down)
		marked("The walk: this build")
		assert.Empty(t, colour.FindAllString(x.raw(), 3), env)
	}
}

func TestNoColor(t *testing.T) {
	t.Parallel()
	x := start(t, setting{env: []string{"NO_COLOR=1"}}, build(t))
	browse(x)
	assert.Empty(t, colour.FindAllString(x.raw(), 3))

	x = start(t, setting{})
	x.waitFor("Reading-room clock")
	assert.NotEmpty(t, colour.FindAllString(x.raw(), 3), "with colours allowed there are some, or this test sees nothing")
}
