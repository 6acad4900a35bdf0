package cells

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/charmbracelet/x/ansi"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// tricky holds pieces that are wide, joining, invisible or broken.
var tricky = []string{
	"plain text", "4.7 kΩ ±5 %", "µA·h", "10⁻³", " ", "界", "カタカナ", "e\u0301", "\u0301", "🕐", "❤\ufe0f", "👨\u200d👩\u200d👧",
	"👍🏽", "🏽", "🇦🇦", "🇦", "🇦\u065f", "ᄀ", "ᅡ", "가", "ᆨ", "क्ष", "का", "क्", "ก็", "กำ", "\u0600", "\u200b", "\u200d", "\u200c", "\ufeff",
	"\u00ad", "\u202e", "\u2066", "\u2028", "\u3164", "\U000e0041", "\t", "\n", "\r\n", "\x1b[31m", "\x1b]0;t\a", "\x9b1m", "\u009b1m",
	"\x00", "\x7f", "\xff", "\xe2\x82", "\xed\xa0\x80", "…", "⠿", "a\u0300\u0301\u0302\u0303\u0304\u0305",
}

func anyText(t *rapid.T) string {
	piece := rapid.OneOf(rapid.SampledFrom(tricky), rapid.String(), rapid.StringN(0, 3, -1),
		rapid.Map(rapid.SliceOfN(rapid.Byte(), 0, 6), func(b []byte) string { return string(b) }))
	return strings.Join(rapid.SliceOfN(piece, 0, 8).Draw(t, "text"), "")
}

// checkFrame asserts the law of String: rows of exactly the canvas's columns,
// but for the last cell, for terminals that know clusters and for those that
// go by runes, and no control byte but the sequences of the palette.
func checkFrame(t require.TestingT, c *Canvas, p Palette) {
	w, h := c.Size()
	frame := c.String(p)
	require.True(t, utf8.ValidString(frame))
	for _, m := range p.marks {
		for _, sequence := range []string{m.prefix, m.suffix} {
			if sequence != "" {
				frame = strings.ReplaceAll(frame, sequence, "")
			}
		}
	}
	if h == 0 {
		require.Empty(t, frame)
		return
	}
	rows := strings.Split(frame, "\n")
	require.Len(t, rows, h)
	for y, row := range rows {
		want := w
		if y == h-1 {
			want = max(w-1, 0)
		}
		require.Equal(t, want, ansi.StringWidth(row), "row %d: %q", y, row)
		require.Equal(t, want, ansi.StringWidthWc(row), "row %d by runes: %q", y, row)
		for _, r := range row {
			require.False(t, r < ' ' || r >= 0x7f && r < 0xa0, "row %d sends %U", y, r)
			require.True(t, !c.ASCII || r < 0x7f, "row %d sends %U in ASCII", y, r)
		}
	}
}

func TestFramesAreExactAndAreasClosed(t *testing.T) {
	p := testPalette()
	rapid.Check(t, func(t *rapid.T) {
		c := New(rapid.IntRange(0, 30).Draw(t, "w"), rapid.IntRange(0, 6).Draw(t, "h"))
		c.ASCII = rapid.Bool().Draw(t, "ascii")
		for range rapid.IntRange(1, 6).Draw(t, "areas") {
			near := rapid.IntRange(-4, 34)
			a := c.Area().Sub(near.Draw(t, "x"), near.Draw(t, "y"), near.Draw(t, "aw"), near.Draw(t, "ah"))
			before := append([]cell(nil), c.cells...)
			drawSomething(t, a)
			for i, was := range before {
				x, y := i%c.w, i/c.w
				inside := x >= a.x && x < a.x+a.w && y >= a.y && y < a.y+a.h
				require.True(t, inside || c.cells[i] == was, "cell %d,%d outside %+v has changed", x, y, a)
			}
			checkFrame(t, c, p)
		}
	})
}

func drawSomething(t *rapid.T, a Area) {
	st := Style(rapid.IntRange(0, 4).Draw(t, "style"))
	at := rapid.IntRange(-5, 31)
	x, y := at.Draw(t, "tx"), at.Draw(t, "ty")/4
	switch rapid.IntRange(0, 6).Draw(t, "what") {
	case 0, 1:
		a.Text(x, y, st, anyText(t))
	case 2:
		a.TextRight(y, st, anyText(t))
	case 3:
		a.Wrap(y, st, anyText(t))
	case 4:
		a.Box(st, anyText(t))
	case 5:
		a.Fill(st, rapid.Rune().Draw(t, "rune"))
	case 6:
		plot := NewPlot(a)
		far := rapid.Float64()
		plot.Line(far.Draw(t, "x0"), far.Draw(t, "y0"), float64(x), float64(y))
		plot.Arc(float64(x), float64(y), 8, 0, 4)
		plot.Draw(st)
	}
}

func FuzzText(f *testing.F) {
	for _, s := range tricky {
		f.Add(s, 2, 1)
	}
	p := testPalette()
	f.Fuzz(func(t *testing.T, s string, x, y int) {
		for _, ascii := range []bool{false, true} {
			c := New(20, 3)
			c.ASCII = ascii
			c.Area().Text(x, y, 2, s)
			c.Area().Sub(10, 1, 7, 2).Text(x%9, 0, 1, s)
			checkFrame(t, c, p)
		}
	})
}

func TestNoSizePanics(t *testing.T) {
	extremes := []int{math.MinInt, -1, 0, 1, 2, 5, 1 << 40, math.MaxInt}
	c := New(-1, 3)
	old := New(7, 4).Area()
	for _, w := range extremes[:6] {
		for _, h := range extremes[:6] {
			c.Resize(w, h)
			for _, n := range extremes {
				for _, a := range []Area{c.Area().Sub(n, w, h, n), c.Area().Sub(w, n, n, h), c.Area().Inset(n, n), old, {}} {
					assert.NotPanics(t, func() { drawEverything(a, n) }, "%d x %d, %d", w, h, n)
				}
			}
			old = c.Area()
			checkFrame(t, c, testPalette())
		}
	}
}

func drawEverything(a Area, n int) {
	a.Text(n, n, 1, "界text")
	a.TextRight(n, 1, "界text")
	a.Wrap(n, 1, "界 text")
	a.HLine(n, 0, n, 1)
	a.VLine(0, n, n, 1)
	a.SplitLeft(n)
	a.SplitTop(n)
	a.Box(255, "title")
	p := NewPlot(a)
	p.Line(0, 0, float64(n), 1)
	p.Arc(0, 0, float64(n), 0, 1)
	p.Draw(9)
}

// derived: of an area of 9 x 4 on what is now 4 x 2, the same corner is left.
func TestAreaOlderThanItsCanvasSize(t *testing.T) {
	c := New(12, 6)
	old := c.Area().Sub(2, 1, 9, 4)
	c.Resize(4, 2)
	old.Fill(0, 'x')
	old.Text(0, 0, 0, "abc")
	old.Text(0, 3, 0, "below")
	assert.Equal(t, []cell{{r: 'a'}, {r: '…'}}, c.cells[6:])
	assert.Equal(t, "\n  a", c.Plain())
}

// Pairs that Unicode joins into one narrower character when they meet must
// not meet, though they were written side by side.
func TestNeighboursDoNotMelt(t *testing.T) {
	for _, pair := range [][2]string{{"क्", "ष"}, {"ᄀ", "ᅡ"}, {"가", "ᆨ"}, {"🇦", "🇦"}, {"🕐\u200d", "🕐"}, {"\u0600", "a"}, {"a", "\u0301"}} {
		c := New(6, 2)
		n := c.Area().Text(0, 0, 0, pair[0])
		c.Area().Text(n, 0, 0, pair[1])
		checkFrame(t, c, Palette{})
	}
}

func TestHugeCanvasIsBounded(t *testing.T) {
	w, h := New(math.MaxInt, 1).Size()
	// derived: the bound named in the comment of New
	assert.Equal(t, []int{2000, 1}, []int{w, h})
}

func TestClearAndResizeBlank(t *testing.T) {
	c := New(5, 2)
	c.Area().Text(0, 0, 1, "e\u0301xyz")
	assert.Equal(t, "e\u0301xyz\n", c.Plain())
	c.Clear()
	assert.Equal(t, "\n", c.Plain())
	assert.Empty(t, c.clusters)
	c.Area().Fill(1, 'x')
	c.Resize(3, 3)
	assert.Equal(t, "\n\n", c.Plain())
}

// derived: the last cell of the last row is never sent, so neither is a wide
// character that reaches into it.
func TestLastCellStaysBlank(t *testing.T) {
	c := New(4, 2)
	c.Area().Fill(0, 'x')
	assert.Equal(t, "xxxx\nxxx", c.String(Palette{}))
	c.Area().Text(0, 1, 0, "ab界")
	assert.Equal(t, "xxxx\nab ", c.String(Palette{}))
	assert.Equal(t, "xxxx\nab", c.Plain())
}

// derived: half of a wide character cannot be shown; its other half is blank.
func TestHalfOverwrittenWideCharacter(t *testing.T) {
	for over, want := range map[int]string{0: "a 界x", 1: " a界x", 2: "界a x", 3: "界 ax"} {
		c := New(5, 2)
		c.Area().Text(0, 0, 0, "界界x")
		c.Area().Text(over, 0, 0, "a")
		assert.Equal(t, want+"\n", c.Plain(), "over column %d", over)
	}
}

func BenchmarkFrame(b *testing.B) {
	c, p := New(120, 40), testPalette()
	b.ReportAllocs()
	for b.Loop() {
		c.Clear()
		drawDashboard(c)
		if len(c.String(p)) == 0 {
			b.Fatal("empty frame")
		}
	}
}

// drawDashboard draws a frame of about the content a dashboard has.
func drawDashboard(c *Canvas) {
	form, view := c.Area().SplitLeft(50)
	for i := range 4 {
		in := form.Rows(i*10, 10).Box(1, "Pane")
		for y := range 8 {
			in.Text(1, y, 2, "Series resistance")
			in.Sub(20, y, 12, 1).TextRight(0, 3, "4.70 kΩ ±5 %")
			in.Text(34, y, Style(y%5), "→ 61.2 µA")
		}
	}
	dial, notes := view.SplitTop(22)
	p := NewPlot(dial.Box(1, "Dial"))
	w, h := p.Size()
	cx, cy, r := float64(w)/2, float64(h), float64(h)*0.9
	p.Arc(cx, cy, r, -0.8, 0.8)
	p.Draw(2)
	tip := OnCircle(cx, cy, r, 0.3)
	p.Line(cx, cy, tip.X, tip.Y)
	p.Draw(4)
	notes.Box(1, "Findings").Wrap(0, 0, strings.Repeat("the needle would stand 4.2 min below the mark ", 12))
}
