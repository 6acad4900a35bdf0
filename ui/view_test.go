package ui

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/model"
	"example.com/needlewright/ui/cells"
)

// sizes at which screens are looked at.
var sizes = [][2]int{{60, 20}, {80, 24}, {120, 40}}

// Each frame has exactly its size, whatever the window, and the last cell of
// the last row is left blank (it would be wiped when the window shrinks).
func TestFramesHaveTheirSize(t *testing.T) {
	a := open(exampleText(t, "station-platform"), 80, 24)
	for w := 1; w <= 210; w += 7 {
		for h := 1; h <= 65; h += 3 {
			a.Update(windowSize(w, h))
			rows := strings.Split(a.View(), "\n")
			require.Len(t, rows, h, "%d x %d", w, h)
			for y, row := range rows {
				want := w
				if y == h-1 {
					want--
				}
				require.Equal(t, want, ansi.StringWidth(row), "%d x %d row %d", w, h, y)
			}
		}
	}
}

// Help is never cut: what a field is and how to measure it is read in full.
func TestHelpFits(t *testing.T) {
	for _, size := range sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		for range panes {
			for range a.rows(a.pane) {
				a.draw()
				canvas := cells.New(size[0], 20)
				f := a.focused().field
				a.drawHelp(canvas.Area())
				needs := len(strings.Split(strings.TrimRight(canvas.Plain(), "\n "), "\n"))
				assert.LessOrEqual(t, needs, helpRows(size[0]), "%s at %d columns", f.Path, size[0])
				press(a, "down")
			}
			press(a, "tab")
		}
	}
}

// The focused field and its message are always in view.
func TestFocusInView(t *testing.T) {
	for _, size := range sizes {
		a := open(exampleText(t, "reading-room"), size[0], size[1])
		for range panes {
			for range a.rows(a.pane) {
				r := a.focused()
				if r.field.Choices == nil && r.field.Unit.Symbol() != "" {
					press(a, "ctrl+u", "x", "y")
					screen := a.Plain()
					assert.Contains(t, screen, "!"+r.field.Label, "%v", size)
					assert.Contains(t, screen, `"xy"`, "%v %s", size, r.field.Path)
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

// Labels leave a space before the value, and one for a sign.
func TestLabelsFit(t *testing.T) {
	for _, f := range model.Fields() {
		assert.LessOrEqual(t, cells.Width(f.Label), labelColumns-2, f.Path)
	}
}
