//go:build unix

package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
)

// What keys send on an xterm.
const (
	down    = "\x1b[B"
	escape  = "\x1b"
	tab     = "\t"
	f1      = "\x1bOP"
	shiftUp = "\x1b[1;2A"
	ctrlQ   = "\x11"
	ctrlS   = "\x13"
	ctrlU   = "\x15" // empties a field
	end     = "\x1b[F"
	f2      = "\x1bOQ"
	esc     = "\x1b"
)

// visit goes down the form to a field, which its help tells.
func (x *screen) visit(path string) {
	x.t.Helper()
	help := helpOf(x.t, path)
	for range 60 {
		now := x.quiet()
		if strings.Contains(now, "\n "+help) {
			return
		}
		x.typed(down)
		x.waitUntil("another field", func(text string) bool { return text != now })
	}
	x.t.Fatalf("never came to %s; screen:\n%s", path, x.text())
}

// helpOf is the beginning of a field's help, as much as stands on its first
// line in any window.
func helpOf(t testing.TB, path string) string {
	for _, f := range model.Builds.Fields {
		if f.Path == path {
			return string([]rune(f.Help)[:min(24, len([]rune(f.Help)))])
		}
	}
	t.Fatalf("there is no field %s", path)
	return ""
}

// waitForResult waits until a result stands beside its label.
func (x *screen) waitForResult(label, value string) {
	x.t.Helper()
	x.waitUntil(label+" "+value, func(text string) bool { return shows(text, label, value) })
}

// shows says whether a result is on the screen, behind what it was where it was changed.
func shows(text, label, value string) bool {
	return regexp.MustCompile(regexp.QuoteMeta(label) + ` +([^│\n]* → )?` + regexp.QuoteMeta(value)).MatchString(text)
}

const coilAtFullScale = "Coil at full scale"

// It must not ask a terminal that does not answer: Bubble Tea waits 5 s then.
func TestFirstFrameOnAMuteTerminal(t *testing.T) {
	x := start(t, setting{mute: true})
	x.waitFor("Reading-room clock")
	x.waitFor("quit")
	assert.NotContains(t, x.raw(), "\x1b]11;", "it asks for the background's colour")
}

// What the coil takes at full scale is the product of its resistance and the
// current (Ohm's law); wants are worked by hand.
func TestTypingChangesTheResults(t *testing.T) {
	t.Parallel()
	x := start(t, setting{width: 120, height: 40}, build(t))
	x.waitForResult(coilAtFullScale, "320.0 mV") // 640 Ω · 500 µA
	x.visit("hand.meter.coil")
	for _, c := range []struct{ typed, want string }{
		{"4,7k", "2.350 V"}, // 4700 Ω · 500 µA
		{"1k2", "600.0 mV"}, // 1200 Ω · 500 µA
		{"4k7", "2.350 V"},
	} {
		x.typed(ctrlU + c.typed)
		x.waitForResult(coilAtFullScale, c.want)
	}
	x.visit("hand.meter.full_scale")
	x.typed(ctrlU + "1 mA")
	x.waitForResult(coilAtFullScale, "4.700 V") // 4700 Ω · 1 mA
	x.typed(ctrlU + "100")                      // bare: in µA
	x.waitForResult(coilAtFullScale, "470.0 mV")
	assert.Contains(t, x.text(), "unsaved")
}

// What is typed takes the place of what stood there, and escape brings that back.
func TestTypingReplaces(t *testing.T) {
	t.Parallel()
	x := start(t, setting{width: 120, height: 40}, build(t))
	x.waitForResult(coilAtFullScale, "320.0 mV") // 640 Ω · 500 µA
	x.visit("hand.meter.coil")
	x.waitForResult("▸ Coil", "[640 Ω ±1 %]")
	x.typed("1k2")
	x.waitForResult(coilAtFullScale, "600.0 mV") // 1200 Ω · 500 µA
	x.quiet()
	x.typed(escape)
	x.waitForResult(coilAtFullScale, "320.0 mV")
	x.typed(end + "x")
	x.waitForResult("▸!Coil", "640 Ω ±1 %x")
}

func TestBadTextKeepsTheResults(t *testing.T) {
	t.Parallel()
	x := start(t, setting{width: 120, height: 40}, build(t))
	x.waitForResult(coilAtFullScale, "320.0 mV") // 640 Ω · 500 µA
	x.visit("hand.meter.coil")
	x.typed(ctrlU + "abc")
	x.waitFor("not a number")
	x.waitFor("last good results")
	assert.True(t, shows(x.text(), coilAtFullScale, "320.0 mV"), x.text())
	x.typed(ctrlU + "1k2")
	x.waitForResult(coilAtFullScale, "600.0 mV") // 1200 Ω · 500 µA
	assert.NotContains(t, x.quiet(), "not a number")
}

// An hour on, a 12-hour dial's needle stands a twelfth of the scale further.
func TestTheNeedleFollowsTheTime(t *testing.T) {
	x := start(t, setting{width: 120, height: 40}, build(t))
	x.waitFor("Reading-room clock")
	before := x.quiet()
	hour, minute := timeShown(t, before)
	x.typed(shiftUp)
	x.waitUntil("an hour later", func(text string) bool { return text != before })
	after := x.quiet()
	newHour, newMinute := timeShown(t, after)
	assert.Equal(t, (hour+1)%24, newHour)
	assert.Equal(t, minute, newMinute)
	assert.NotEqual(t, needle(before), needle(after), "the needle stands where it stood")
}

// timeShown is the time of day in the frame above the dial.
func timeShown(t *testing.T, text string) (hour, minute int) {
	t.Helper()
	m := regexp.MustCompile(`(\d+:\d\d) shows`).FindStringSubmatch(text)
	require.NotNil(t, m, text)
	_, err := fmt.Sscanf(m[1], "%d:%d", &hour, &minute)
	require.NoError(t, err)
	return hour, minute
}

// needle is the dots of the dial.
func needle(text string) string {
	return regexp.MustCompile(`[^\x{2800}-\x{28ff}\n]`).ReplaceAllString(text, " ")
}

func TestOpensWhatItIsGiven(t *testing.T) {
	t.Run("the example without a file", func(t *testing.T) {
		x := start(t, setting{})
		x.waitFor("Reading-room clock")
		x.waitFor("Nothing is powered yet.") // what to begin with
		x.typed(esc)
		x.waitFor("This is an example.")
		x.typed(ctrlS)
		x.waitFor("Save as")
	})
	t.Run("a file", func(t *testing.T) {
		start(t, setting{}, build(t, "Reading-room clock", "Attic clock")).waitFor("Attic clock")
	})
	t.Run("a file with a problem", func(t *testing.T) {
		x := start(t, setting{}, build(t, "640 Ω ±1 %", "nonsense"))
		x.visit("hand.meter.coil")
		x.waitFor("not a number")
		x.typed(ctrlU + "640")
		x.waitForResult(coilAtFullScale, "320.0 mV") // 640 Ω · 500 µA
	})
	t.Run("a title that would draw", func(t *testing.T) {
		x := start(t, setting{}, build(t, "Reading-room clock", `A\u001b[31mred \u009b31mclock`))
		x.waitFor("A␛[31mred")
		assert.NotContains(t, x.raw(), "\x1b[31m")
		assert.NotContains(t, x.raw(), "\u009b")
	})
}

func TestSaveChangesOnlyTheValue(t *testing.T) {
	path := build(t)
	want := strings.Replace(content(t, path), `"640 Ω ±1 %"`, `"4k7 ±1 %"`, 1)
	x := start(t, setting{}, path)
	x.visit("hand.meter.coil")
	x.typed(ctrlU + "4k7")
	x.waitFor("unsaved")
	x.typed(ctrlS)
	x.waitFor("Saved " + path)
	assert.Equal(t, want, content(t, path))
	assert.NotContains(t, x.text(), "unsaved")
	x.typed(ctrlQ)
	assert.Equal(t, 0, x.exit().ExitCode())
	entries, err := os.ReadDir(filepath.Dir(path))
	require.NoError(t, err)
	assert.Len(t, entries, 1, "nothing is left beside the file")
}

func TestSaveThatFailsKeepsTheWork(t *testing.T) {
	path := build(t)
	x := start(t, setting{}, path)
	x.visit("hand.meter.coil")
	x.typed(ctrlU + "4k7")
	x.waitFor("unsaved")
	require.NoError(t, os.RemoveAll(filepath.Dir(path)))
	x.typed(ctrlS)
	x.waitFor("Not saved to")
	x.typed(down)
	x.waitFor("! Not saved") // it stays when the sentence goes
	require.NoError(t, os.Mkdir(filepath.Dir(path), 0o755))
	x.typed(ctrlS)
	x.waitFor("Saved")
	assert.Contains(t, content(t, path), `coil = "4k7 ±1 %"`)
}

func TestLeavingWithUnsavedWork(t *testing.T) {
	t.Parallel()
	changed := func(t *testing.T) (x *screen, path, before string) {
		path = build(t)
		before = content(t, path)
		x = start(t, setting{}, path)
		x.visit("hand.meter.coil")
		x.typed(ctrlU + "4k7")
		x.waitFor("unsaved")
		x.typed(ctrlQ)
		x.waitFor("not saved")
		require.True(t, x.alive())
		return x, path, before
	}
	t.Run("ctrl+q again leaves", func(t *testing.T) {
		x, path, before := changed(t)
		x.typed(ctrlQ)
		assert.Equal(t, 0, x.exit().ExitCode())
		assert.Equal(t, before, content(t, path))
	})
	t.Run("ctrl+s saves and leaves", func(t *testing.T) {
		x, path, _ := changed(t)
		x.typed(ctrlS)
		assert.Equal(t, 0, x.exit().ExitCode())
		assert.Contains(t, content(t, path), `coil = "4k7 ±1 %"`)
	})
	t.Run("another key stays", func(t *testing.T) {
		x, path, before := changed(t)
		x.typed("x")
		x.waitUntil("the question is gone", func(text string) bool { return !strings.Contains(text, "not saved") })
		x.waitFor("4k7")
		assert.NotContains(t, x.quiet(), "4k7x", "the key is not typed")
		assert.True(t, x.alive())
		assert.Equal(t, before, content(t, path))
	})
}
