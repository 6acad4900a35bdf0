package draw

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/lipgloss"
	"github.com/muesli/termenv"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"example.com/needlewright/ui/cells"
)

// shownBy is what switches a style on, on a terminal of a profile.
func shownBy(t *testing.T, profile termenv.Profile, light bool, style cells.Style) string {
	t.Helper()
	was := lipgloss.ColorProfile()
	lipgloss.SetColorProfile(profile)
	defer lipgloss.SetColorProfile(was)
	canvas := cells.New(1, 2)
	canvas.Area().Text(0, 0, style, "x")
	before, _, found := strings.Cut(canvas.String(NewPalette(light)), "x")
	require.True(t, found)
	return before
}

// sgr are the numbers in what switches a style on.
func sgr(t *testing.T, prefix string) []int {
	t.Helper()
	var all []int
	for _, m := range regexp.MustCompile(`[0-9]+`).FindAllString(prefix, -1) {
		n, err := strconv.Atoi(m)
		require.NoError(t, err)
		all = append(all, n)
	}
	return all
}

// inkAndGround are the colours of sixteen, 0 to 15, that a style writes with and on; -1
// where it leaves them alone. ECMA-48, SGR: 30 to 37 and 40 to 47, 7 changes them over;
// 90 to 97 and 100 to 107 are what terminals add for the bright ones.
func inkAndGround(t *testing.T, prefix string) (ink, ground int) {
	ink, ground = -1, -1
	reversed := false
	for _, n := range sgr(t, prefix) {
		switch {
		case n >= 30 && n < 38:
			ink = n - 30
		case n >= 90 && n < 98:
			ink = n - 90 + 8
		case n >= 40 && n < 48:
			ground = n - 40
		case n >= 100 && n < 108:
			ground = n - 100 + 8
		case n == 7:
			reversed = true
		default:
			require.Equal(t, 1, n, "bold")
		}
	}
	if reversed {
		return ground, ink
	}
	return ink, ground
}

// With sixteen colours red is a fault's and the needle's, nothing is written in the
// colour it stands on, and the field that has the keys, the cursor and what is marked
// stand on grounds of their own.
func TestSixteenColours(t *testing.T) {
	const red, brightRed = 1, 9 // ECMA-48, SGR 31; 91 is the bright one
	reds := map[cells.Style]bool{Fault: true, FocusFault: true, Needle: true}
	for _, light := range []bool{false, true} {
		behind := map[bool]int{false: 0, true: 15}[light]
		for style := plain + 1; style < styleCount; style++ {
			ink, ground := inkAndGround(t, shownBy(t, termenv.ANSI, light, style))
			seen := ink == red || ink == brightRed || ground == red || ground == brightRed
			assert.Equal(t, reds[style], seen, "style %d, light %v: %d on %d", style, light, ink, ground)
			if ground < 0 {
				ground = behind
			}
			assert.NotEqual(t, ink, ground, "style %d, light %v", style, light)
			switch style {
			case FocusLabel, FocusValue, FocusDim, FocusFault, CursorCell, Marked, Chosen:
				assert.NotEqual(t, behind, ground, "style %d, light %v", style, light)
			}
		}
		grounds := map[int]bool{}
		for _, style := range []cells.Style{FocusValue, Marked, CursorCell} {
			_, ground := inkAndGround(t, shownBy(t, termenv.ANSI, light, style))
			grounds[ground] = true
		}
		assert.Len(t, grounds, 3, "light %v", light)
	}
}

// With 256 colours a plain value is no pink: its three parts are alike. Of those, 232 to
// 255 are greys (xterm, ctlseqs).
func TestPlainValuesAreGrey(t *testing.T) {
	numbers := sgr(t, shownBy(t, termenv.ANSI256, false, Value))
	require.Equal(t, []int{38, 5}, numbers[:2])
	assert.GreaterOrEqual(t, numbers[2], 232)
}

// Without colours the cursor and what is marked are reversed, and nothing else is.
func TestWithoutColours(t *testing.T) {
	for style := plain; style < styleCount; style++ {
		want := ""
		if style == CursorCell || style == Marked {
			want = "\x1b[7m"
		}
		assert.Equal(t, want, shownBy(t, termenv.Ascii, false, style), "style %d", style)
	}
}
