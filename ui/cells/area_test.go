package cells

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// frame joins rows as Plain gives them.
func frame(rows ...string) string { return strings.Join(rows, "\n") }

// All frames in this file are drawn by hand from the doc comments.

func TestAreasLieWhereTheyShould(t *testing.T) {
	c := New(8, 5)
	a := c.Area()
	a.Fill(0, '.')
	a.Inset(1, 1).Fill(0, 'i')
	a.Sub(-2, -1, 4, 3).Fill(0, 's')
	a.Sub(6, 3, 99, 99).Fill(0, 'e')
	a.Sub(3, 2, -1, 2).Fill(0, '!')
	a.Rows(2, 1).Fill(0, 'r')
	assert.Equal(t, frame(
		"ss......",
		"ssiiiii.",
		"rrrrrrrr",
		".iiiiiee",
		"......e"), c.Plain())
}

func TestSplit(t *testing.T) {
	c := New(6, 3)
	left, rest := c.Area().SplitLeft(2)
	top, under := rest.SplitTop(1)
	left.Fill(0, 'l')
	top.Fill(0, 't')
	under.Fill(0, 'u')
	assert.Equal(t, frame("lltttt", "lluuuu", "lluuu"), c.Plain())

	all, none := c.Area().SplitLeft(9)
	w, h := all.Size()
	assert.Equal(t, []int{6, 3}, []int{w, h})
	w, _ = none.Size()
	assert.Zero(t, w)
}

func TestBox(t *testing.T) {
	c := New(12, 4)
	c.Area().Sub(0, 0, 11, 4).Box(0, "Meter").Text(0, 0, 0, "1.00 mA ±2 %")
	assert.Equal(t, frame(
		"╭─ Meter ─╮",
		"│1.00 mA …│",
		"│         │",
		"╰─────────╯"), c.Plain())

	c.Clear()
	c.Area().Sub(0, 0, 9, 3).Box(0, "Battery")
	assert.Equal(t, frame(
		"╭─ Ba… ─╮",
		"│       │",
		"╰───────╯",
		""), c.Plain())

	c.Clear()
	c.ASCII = true
	c.Area().Sub(0, 0, 6, 3).Box(0, "no room")
	assert.Equal(t, frame(
		"+----+",
		"|    |",
		"+----+",
		""), c.Plain())
}

func TestLinesAreCut(t *testing.T) {
	c := New(5, 3)
	a := c.Area().Inset(1, 0)
	a.HLine(-2, 1, 4, 0)
	a.VLine(2, 1, 9, 0)
	assert.Equal(t, frame("", " ──│", "   │"), c.Plain())
}

func TestFillShowsWhatItMustNotSend(t *testing.T) {
	for r, want := range map[rune]string{'x': "xx", '界': "��", '\x1b': "␛␛", '\u0301': "��", '\u202e': "��", 'é': "éé", -1: "��"} {
		c := New(2, 2)
		c.Area().Fill(0, r)
		assert.Equal(t, want, strings.Split(c.Plain(), "\n")[0], "%U", r)
	}
}

// Lengths are derived: shares of ten columns, to the half.
func TestBar(t *testing.T) {
	c := New(12, 7)
	for y, share := range []float64{0, 0.001, 0.25, 0.5, 1, 7, math.NaN()} {
		c.Area().Bar(2, y, 0, share)
	}
	assert.Equal(t, frame("", "  ▌", "  ██▌", "  █████", "  ██████████", "  ██████████", ""), c.Plain())

	c = New(12, 1)
	c.ASCII = true
	c.Area().Bar(2, 0, 0, 0.25)
	assert.Equal(t, "  ###", c.Plain())
}
