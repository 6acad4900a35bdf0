package cells

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// derived from the doc comment of Text. Widths of the letters: Unicode,
// East Asian Width; the pictures of controls are U+2400 and on.
func TestTextShowsWhatItMustNotSend(t *testing.T) {
	for given, want := range map[string]string{
		"a\x1b[31mb":                      "a␛[31mb",
		"\x00\x07\b\t\n\r":                "␀␇␈␉␊␍",
		"\x7f":                            "␡",
		"a\u0085\u009bb":                  "a��b",    // C1
		"\x9b31m":                         "�31m",    // C1 as a bare byte
		"\xff\xfe":                        "��",      // not UTF-8
		"\xe2\x82":                        "��",      // cut off
		"\xed\xa0\x80":                    "���",     // a surrogate
		"a\u202eb\u2066c":                 "a�b�c",   // direction
		"a\u200bb\u200cc\u200d":           "a�b�c�",  // no width
		"\ufeffa\u00adb":                  "�a�b",    //
		"a\U000e0041\U000e007f":           "a��",     // tags
		"\u0301a":                         "�a",      // a mark without a letter
		"e\u0301":                         "e\u0301", // with one
		"e\u0301\u0301\u0301\u0301\u0301": "e�����",  // piled up
		"界かé":                             "界かé",     //
		"🕐":                               "🕐",       //
		"❤\ufe0f":                         "❤",       // picture selector
		"👨\u200d👩":                        "👨�👩",     // joined
		"👍🏽":                              "👍�",      // a tint
		"🇦🇦🇦":                             "���",     // flags
		"가":                               "가",       //
		"ᄀ":                               "�",       // could melt with a neighbour
		"\u3164":                          "�",       // a letter that is blank
	} {
		c := New(30, 2)
		n := c.Area().Text(0, 0, 0, given)
		assert.Equal(t, want+"\n", c.Plain(), "%q", given)
		assert.Equal(t, n, Width(given), "%q", given)
	}
}

// The short way past the tables must say what the tables say.
func TestSimpleAgreesWithTheTables(t *testing.T) {
	for r := rune(0); r < 0x3000; r++ {
		if simple(r) {
			g, n := nextCluster(string(r), r, utf8.RuneLen(r))
			require.Equal(t, glyph{r: r, width: 1}, g, "%U", r)
			require.Equal(t, utf8.RuneLen(r), n)
		}
	}
}

// derived: counted by hand.
func TestTextIsCutAtTheEdge(t *testing.T) {
	for _, tt := range []struct {
		x    int
		text string
		want string
		n    int
	}{
		{0, "abcdef", "abcdef", 6},
		{0, "abcdefg", "abcde…", 6},
		{2, "abcdef", "  abc…", 4},
		{5, "ab", "     …", 1},
		{6, "a", "", 0},
		{-2, "abcd", "cd", 4},
		{-9, "abcd", "", 4},
		{-1, "界a", " a", 3},
		{0, "ab界界", "ab界界", 6},
		{0, "ab界界x", "ab界 …", 6},
		{0, "abc界界", "abc界…", 6},
		{0, "abcde\u0301f\u0301", "abcde\u0301f\u0301", 6},
		{0, "abcde\u0301f\u0301g", "abcde\u0301…", 6},
	} {
		t.Run(fmt.Sprint(tt.x, tt.text), func(t *testing.T) {
			c := New(8, 2)
			n := c.Area().Sub(0, 0, 6, 1).Text(tt.x, 0, 0, tt.text)
			assert.Equal(t, tt.want+"\n", c.Plain())
			assert.Equal(t, tt.n, n)
		})
	}
	c := New(4, 2)
	c.Area().Fill(0, 'x')
	c.Area().Text(-1, 0, 0, "界a") // half a character leaves a blank
	assert.Equal(t, " axx\nxxx", c.Plain())
	assert.Zero(t, New(8, 2).Area().Text(0, 2, 0, "below"))
	assert.Zero(t, New(8, 2).Area().Text(0, -1, 0, "above"))
}

// derived: counted by hand.
func TestTextRight(t *testing.T) {
	c := New(9, 4)
	col := c.Area().Sub(1, 0, 6, 4)
	assert.Equal(t, 5, col.TextRight(0, 0, "12 kΩ"))
	assert.Equal(t, 6, col.TextRight(1, 0, "much too long"))
	assert.Equal(t, 2, col.TextRight(2, 0, "界"))
	assert.Equal(t, frame("  12 kΩ", " much …", "     界", ""), c.Plain())
}

// derived: broken by hand.
func TestLines(t *testing.T) {
	for _, tt := range []struct {
		text string
		w    int
		want []string
	}{
		{"", 5, nil},
		{"abc", 0, nil},
		{"one two three", 7, []string{"one two", "three"}},
		{"one two three", 8, []string{"one two", "three"}},
		{"one two three", 6, []string{"one", "two", "three"}},
		{"abcdefgh ij", 3, []string{"abc", "def", "gh", "ij"}},
		{"a abcdef", 4, []string{"a", "abcd", "ef"}},
		{"a\n\n  b c  \n", 9, []string{"a", "", "  b c", ""}},
		{"a    b", 3, []string{"a", "b"}},
		{"界界界", 4, []string{"界界", "界"}},
		{"界界", 1, []string{"界", "界"}},
		{"4.7\u00a0kΩ ok", 7, []string{"4.7\u00a0kΩ", "ok"}},
		{"e\u0301e\u0301e\u0301", 2, []string{"e\u0301e\u0301", "e\u0301"}},
	} {
		assert.Equal(t, tt.want, Lines(tt.text, tt.w), "%q in %d", tt.text, tt.w)
	}
}

func TestLinesLoseNothingAndFit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, w := anyText(t), rapid.IntRange(2, 20).Draw(t, "w")
		lines := Lines(s, w)
		solid := strings.NewReplacer(" ", "", "\n", "")
		require.Equal(t, solid.Replace(s), solid.Replace(strings.Join(lines, "")))
		for _, line := range lines {
			require.LessOrEqual(t, Width(line), w, "%q", line)
		}
	})
}

func TestWrap(t *testing.T) {
	c := New(10, 3)
	n := c.Area().Inset(1, 0).Wrap(1, 0, "fit a fixed resistor")
	// derived: 8 columns take "fit a", "fixed" and "resistor"; the third row
	// lies below the canvas.
	assert.Equal(t, 3, n)
	assert.Equal(t, frame("", " fit a", " fixed"), c.Plain())
}

// Drawn by hand; the last cell of the last row is left out.
func ExampleArea_Text() {
	c := New(16, 3)
	in := c.Area().Box(0, "Meter")
	in.Text(0, 0, 0, "full scale 1.00 mA")
	fmt.Println(c.Plain())
	// Output:
	// ╭─ Meter ──────╮
	// │full scale 1.…│
	// ╰──────────────
}

// What is cut at its front keeps its end, in as many columns as there are, or is left whole.
func TestCutFront(t *testing.T) {
	for _, c := range []struct {
		s    string
		w    int
		want string
	}{{"alkaline AAA", 12, "alkaline AAA"}, {"alkaline AAA", 11, "…kaline AAA"}, {"時計AA", 5, "…計AA"}, {"時計AA", 4, "…AA"}, {"", 3, ""}} {
		assert.Equal(t, c.want, CutFront(c.s, c.w))
		assert.LessOrEqual(t, Width(CutFront(c.s, c.w)), c.w)
	}
}
