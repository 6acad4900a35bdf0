package cells

import (
	"io"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
)

// rendererFor is lipgloss for a terminal of the profile, whatever the
// environment of the test says.
func rendererFor(profile termenv.Profile) *lipgloss.Renderer {
	r := lipgloss.NewRenderer(io.Discard)
	r.SetColorProfile(profile)
	return r
}

func testPalette() Palette {
	r := rendererFor(termenv.ANSI)
	return NewPalette([]lipgloss.Style{
		r.NewStyle(),
		r.NewStyle().Foreground(lipgloss.Color("1")),
		r.NewStyle().Bold(true),
		r.NewStyle().Underline(true).Background(lipgloss.Color("4")),
	})
}

// ECMA-48, SGR: 31 foreground red, 1 bold, 0 back to normal; written by hand.
func TestStylesChangeOnlyWhereTheyChange(t *testing.T) {
	c := New(6, 3)
	c.Area().Text(0, 0, 1, "ab")
	c.Area().Text(2, 0, 1, "cd")
	c.Area().Text(4, 0, 2, "e")
	c.Area().Text(0, 1, 2, "xxxxxx")
	c.Area().Text(0, 2, 200, "past")
	want := "\x1b[31mabcd\x1b[0m\x1b[1me\x1b[0m \n" +
		"\x1b[1mxxxxxx\x1b[0m\n" +
		"past "
	assert.Equal(t, want, c.String(testPalette()))
}

func TestPaletteObeysAProfileWithoutColour(t *testing.T) {
	s := rendererFor(termenv.Ascii).NewStyle().Foreground(lipgloss.Color("1")).Bold(true)
	c := New(4, 2)
	c.Area().Text(0, 0, 0, "abcd")
	assert.Equal(t, "abcd\n   ", c.String(NewPalette([]lipgloss.Style{s})))
}

// derived: nothing but the colour may be left of a style that is full of
// layout; ECMA-48: 32 is foreground green.
func TestPaletteTakesNoLayout(t *testing.T) {
	s := rendererFor(termenv.ANSI).NewStyle().Foreground(lipgloss.Color("2")).
		Padding(1, 2).Margin(1).Border(lipgloss.NormalBorder()).Width(9).Height(3).MaxWidth(5).MaxHeight(2).
		Align(lipgloss.Center).Transform(func(string) string { return "other" }).SetString("value")
	assert.Equal(t, mark{"\x1b[32m", "\x1b[0m"}, markOf(s))
}
