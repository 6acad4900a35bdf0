package ui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/form"
	"example.com/needlewright/ui/layout"
	"example.com/needlewright/ui/uitest"
)

// At every size from the smallest to 200 x 60 each frame has exactly its size,
// the last cell of the last row left blank (it would be wiped when the window
// shrinks), and the focused field stands in it with its value and its message.
func TestAllSizes(t *testing.T) {
	t.Parallel()
	a := open(exampleText(t, "station-platform"), 80, 24)
	focusOn(t, a, "hand.hours.drive.resistor_tempco")
	press(a, "ctrl+u", "xyz")
	for w := layout.LeastWidth; w <= 200; w++ {
		for h := layout.LeastHeight; h <= 60; h++ {
			a.Update(windowSize(w, h))
			framed(t, a)
			screen := a.Plain()
			require.Regexp(t, `!Resistor drift +xyz`, screen, "%d x %d", w, h)
			require.Contains(t, screen, `"xyz" is not a`, "%d x %d", w, h)
			require.Contains(t, screen, "ppm/K", "%d x %d: what is allowed", w, h)
		}
	}
}

// Below the smallest size too, in any state, a frame has its size.
func TestSmallFrames(t *testing.T) {
	t.Parallel()
	for _, keys := range [][]string{{}, {"f1"}, {"f2"}, {"f3"}, {"f4"}, {"f5"}, {"ctrl+g"}, {"tab", "f4"}, {"ctrl+f"}, {"f6"}, {"f6", "down"}, {"ctrl+r"}, {"ctrl+r", "pgdown"}, {"ctrl+p", "ctrl+p"}, {"f9"}, {"ctrl+u", "ctrl+q"}} {
		a := open(exampleText(t, "station-platform"), 80, 24)
		press(a, keys...)
		for w := 1; w <= 70; w += 3 {
			for h := 1; h <= 25; h++ {
				a.Update(windowSize(w, h))
				framed(t, a)
			}
		}
	}
}

// framed holds a frame to its size.
func framed(t require.TestingT, a *App) {
	rows := strings.Split(a.View(), "\n")
	require.Len(t, rows, a.screen.height)
	for y, row := range rows {
		want := a.screen.width
		if y == a.screen.height-1 {
			want--
		}
		require.Equal(t, want, ansi.StringWidth(row), "%d x %d, row %d", a.screen.width, a.screen.height, y)
	}
}

// The focused field and its message are always in view.
func TestFocusInView(t *testing.T) {
	for _, size := range uitest.Sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		for range form.Panes {
			for range a.form.Rows(a.form.Pane) {
				r := focusedRow(a)
				if r.Field.Choices == nil && r.Field.Unit.Symbol() != "" {
					press(a, "ctrl+u", "x", "y")
					screen := a.Plain()
					assert.Contains(t, screen, "!"+r.Field.Label, "%v", size)
					assert.Contains(t, screen, `"xy"`, "%v %s", size, r.Field.Path)
					press(a, "esc")
				}
				press(a, "down")
			}
			press(a, "tab")
		}
	}
}

func TestTooSmall(t *testing.T) {
	a := open(exampleText(t, "reading-room"), 59, 24)
	assert.Contains(t, a.Plain(), "60 x 20")
	assert.Contains(t, a.Plain(), "59 x 24")
}

// A name or title with control characters is shown, never sent.
func TestNothingOfTheFileIsSent(t *testing.T) {
	text := strings.Replace(exampleText(t, "reading-room"), `title = "Reading-room clock"`, `title = "a\u001b[31mb\u0007"`, 1)
	a := open(text, 80, 24)
	for _, r := range ansi.Strip(a.View()) {
		require.False(t, r < ' ' && r != '\n', "control character %q on the screen", r)
	}
	assert.NotContains(t, a.View(), "[31mb\a")
	assert.Contains(t, a.Plain(), "a␛[31mb␇")
}
