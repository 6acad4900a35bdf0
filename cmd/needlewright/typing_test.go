//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// onExample starts the program on a copy of an example.
func onExample(t *testing.T) *screen {
	t.Helper()
	text, err := os.ReadFile("../../examples/reading-room.toml")
	require.NoError(t, err)
	path := filepath.Join(t.TempDir(), "hall.toml")
	require.NoError(t, os.WriteFile(path, text, 0o600))
	x := start(t, setting{}, path)
	x.waitFor("Coil")
	return x
}

// Words that arrive at once are text, though keys are called so.
func TestWordsTypedFast(t *testing.T) {
	t.Parallel()
	x := onExample(t)
	for _, word := range []string{"left", "tab", "up", "ctrl+q", "ctrl+s", "esc", "f2"} {
		x.typed(ctrlU)
		x.quiet()
		x.typed(word)
		x.waitUntil(word+" is typed", func(text string) bool { return shows(text, "!Coil", word) })
	}
	x.typed(ctrlQ)
	x.waitFor("Changes are not saved")
	x.typed("ctrl+q")
	x.waitUntil("it stays", func(text string) bool { return !strings.Contains(text, "Changes are not saved") })
	assert.True(t, x.alive())
}

// At the last letter of a value too, a word is deleted forward.
func TestDeleteWordAtTheEnd(t *testing.T) {
	t.Parallel()
	x := onExample(t)
	x.typed(ctrlU)
	x.quiet()
	x.typed("640")
	x.quiet()
	x.typed("\x1b[D") // left
	x.quiet()
	x.typed("\x1bd") // alt+d
	x.waitUntil("the last letter is gone", func(text string) bool { return shows(text, "Coil", "64 ") })
	assert.True(t, x.alive())
}

// A paste of a megabyte, and one of eight, is refused with a sentence; what stood
// there stands, and the next key is taken.
func TestPasteOfAMegabyte(t *testing.T) {
	t.Parallel()
	x := onExample(t)
	for _, megabytes := range []int{1, 8} {
		x.typed("\x1b[200~" + strings.Repeat("x", megabytes<<20) + "\x1b[201~") // bracketed paste, xterm
		x.waitFor("over 10 000 were given")
		x.waitUntil("the value stands", func(text string) bool { return shows(text, "Coil", "[640 Ω ±1 %]") })
		x.typed("\x1b[1;2C") // shift+right: it leaves the notice
		x.waitUntil("a key is taken", func(text string) bool { return !strings.Contains(text, "were given") })
	}
	x.typed(end + "9")
	x.waitUntil("a digit is taken", func(text string) bool { return shows(text, "!Coil", "640 Ω ±1 %9") })
}
